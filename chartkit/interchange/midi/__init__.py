"""Charts as Standard MIDI Files, to be heard: the guitar string by string as it is fingered.

The way: chart + voicings → events in playing order (``performance``) → file (``write``).
"""
