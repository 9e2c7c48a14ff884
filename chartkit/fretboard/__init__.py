"""Instruments, the hand in millimetres, and every way to finger a chord.

- ``instruments.instrument_named(text)`` takes a name or a tuning given as notes.
- ``store.BoardStore(folder)`` hands out fretboards, one for each instrument, capo and
  tuning; with ``voicing_cache.cache_folder()`` as folder it keeps voicings between runs.
- ``Fretboard.voicings(chord)`` answers with the cheapest ways to play a shape chord.
- ``own_shape.shape_problems`` says what is wrong with a player's own shape,
  ``own_shape.why_unusable`` why it is passed over, and ``Fretboard.voicing_of`` makes a
  voicing of it; ``shape_text`` reads and prints shapes.
- ``known_grips.known_grips()`` are the grips that players know, ``low_intervals`` the limits
  below which an interval is mud.

Everything is plain Python: exact fingering, not enumeration, is what takes the time, and
importing NumPy would cost more than it saves.
"""
