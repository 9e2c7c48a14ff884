"""Scale-degree numbers: a chord's root as its degree in the key.

The degrees are those of the key's own scale: in A minor, C is 3 and F is 6; in A major, C
is a flat 3.  Numbering a minor song from its own first degree, rather than from the
relative major's, is one of the two common practices (no source); it keeps a tune's numbers
the same whichever mode name the writer used for its tonic.
"""

from chartkit.theory.key import Key
from chartkit.theory.note import accidentals_of, letter_of

_LETTER_ORDER = "CDEFGAB"


def scale_degree(note: int, key: Key) -> tuple[int, int]:
    """The degree number 1 to 7 and its alteration in half steps against the key's scale.

    ``scale_degree(Gb, C major)`` is ``(5, -1)``.  The note counts as it is spelled: B double flat
    is the flat six of D flat major, A its sharp five.
    """
    steps = _LETTER_ORDER.index(letter_of(note)) - _LETTER_ORDER.index(letter_of(key.tonic))
    degree = steps % 7
    in_scale = next(n for n in key.scale if letter_of(n) == letter_of(note))
    return degree + 1, accidentals_of(note) - accidentals_of(in_scale)
