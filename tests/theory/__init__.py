"""Notes, keys, qualities, chords and transposition."""
