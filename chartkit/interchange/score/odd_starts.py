"""Starts of phrases that the length of their section speaks against.

A phrase has two bars or more, and sections of eight or twelve bars have phrases of four (common
practice, no source).  So a name with a capital, a breath or a last "Ah." does not part such a
section at an odd bar by itself.
"""

from collections.abc import Sequence
from itertools import pairwise

_FEWEST = 2
_USUAL = 4


def fitting_starts(
    starts: frozenset[int], musts: Sequence[int], lengths: Sequence[int]
) -> set[int]:
    """The starts of phrases that may be ones; ``musts`` are the bars with which rows begin in any
    case, ``lengths`` what each bar adds to its row.

    None is one bar before the end of its section, nor alone at an odd bar of a section whose
    phrases of four come out even, unless another section of this length has one there too.
    """
    spans = [*pairwise((*musts, len(lengths)))]
    inside = {span: _inside(starts, span) for span in spans}
    odd = [_odd_alone(inside[span], span, lengths) for span in spans]
    return {
        start
        for span, alone in zip(spans, odd, strict=True)
        for start in inside[span]
        if alone is None or odd.count(alone) > 1
    } | (starts & set(musts))


def last_bars(musts: Sequence[int], total: int) -> set[int]:
    """The last bars of sections that have others before: no phrase begins with one."""
    return {end - 1 for begin, end in pairwise((*musts, total)) if end - 1 > begin}


def _inside(starts: frozenset[int], span: tuple[int, int]) -> list[int]:
    begin, end = span
    return [start for start in range(begin + 1, end + 1 - _FEWEST) if start in starts]


def _odd_alone(
    inside: Sequence[int], span: tuple[int, int], lengths: Sequence[int]
) -> tuple[int, int] | None:
    """The place of the only start in a section, at an odd bar of it, and the bars of the section,
    where these are a number of usual phrases; else None."""
    begin, end = span
    bars = sum(lengths[begin:end])
    if len(inside) != 1 or bars % _USUAL:
        return None
    place = sum(lengths[begin : inside[0]])
    return (place, bars) if place % _FEWEST else None
