"""Rows of chords and the words under them: from letters to tokens, beats, bars and syllables."""
