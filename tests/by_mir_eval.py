"""Chords as mir_eval reads them."""

from typing import Any


def encoded(label: str) -> tuple[int, Any, int]:
    """The root, the bitmap of semitones above it and the bass of a label in the syntax of
    C. Harte's thesis (2010).

    The library is loaded when it is asked: it brings the whole of SciPy, which takes longer than
    the tests, and most workers never ask.
    """
    import mir_eval

    root, bitmap, bass = mir_eval.chord.encode(label, reduce_extended_chords=True)
    return root, bitmap, bass
