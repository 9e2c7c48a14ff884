"""Notes, keys, chord qualities and transposition: pure arithmetic on the line of fifths."""
