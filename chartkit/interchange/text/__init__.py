"""Plain text with chords typed above the words, to a chart and back."""
