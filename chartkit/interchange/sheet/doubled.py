"""Shapes over sounding chords in a sheet that names no capo where it can be read."""

from collections.abc import Sequence

from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.sheet.token import Token, roots_of

_HIGHEST_FRET = 7
"""Beyond it the upper row is rather what sounds, and the lower the shapes."""
_FEWEST_PAIRS = 2


def doubled_capo(lines: Sequence[Line], kinds: Sequence[tuple[Token, ...] | None]) -> int:
    """The fret of a capo where every row of chords has the same row right under it, raised by
    that many half steps; 0 for any other sheet.

    ``kinds`` has the tokens of each line, None where it is no row of chords.  Only pairs right
    above words are counted: a tune without words may well go up a step.
    """
    capo = pairs = at = 0
    while at < len(kinds):
        roots = _roots(kinds[at])
        if not roots:
            at += 1
            continue
        raised = _raised(roots, _roots(kinds[at + 1]) if at + 1 < len(kinds) else [])
        if not 0 < raised <= _HIGHEST_FRET or capo not in (0, raised):
            return 0
        capo, at = raised, at + 2
        pairs += at < len(lines) and kinds[at] is None and bool(lines[at].text.strip())
    return capo if pairs >= _FEWEST_PAIRS else 0


def _roots(tokens: Sequence[Token] | None) -> list[int | None]:
    """The roots of a row; none where nothing in it can be raised."""
    found = roots_of(tokens) if tokens is not None else []
    return found if any(root is not None for root in found) else []


def _raised(shapes: Sequence[int | None], sounding: Sequence[int | None]) -> int:
    """By how many half steps all roots of a row stand over those of another; 0 where they
    differ."""
    if len(shapes) != len(sounding):
        return 0
    steps = {
        0 if above is None or below is None else (below - above) % 12
        for above, below in zip(shapes, sounding, strict=True)
        if above is not None or below is not None  # N.C. over N.C. tells nothing
    }
    return steps.pop() if len(steps) == 1 else 0
