"""Instruments, the hand in millimetres, and every way to finger a chord.

The way in is ``Fretboard`` (``chartkit.fretboard.board``): an instrument with a capo or
tuned down, which answers ``voicings(chord)``.  Instruments come from
``instrument_named(text)``, which takes a name or a tuning given as notes.
"""
