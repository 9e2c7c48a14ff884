"""Whether the systems of a score, as they are broken on its page, may be the rows of a chart.

Most programs say of every score where its systems break, be it that somebody put a phrase on each
or that as many bars as there was room for stand on one.  Common practice, no source.
"""

from bisect import bisect_right
from collections.abc import Sequence, Set
from itertools import pairwise
from typing import Literal

Systems = Literal["", "may be rows", "are rows"]
"""What the systems of a score say of its rows: a little, perhaps all, or all."""

_LENGTHS = (2, 3, 4, 6, 8)
"""How many bars a system has that somebody has put on it, where no phrase is known (ours)."""
_USUAL = 4
_LONGEST = 8


def systems_fit(
    systems: Sequence[int],
    begins: frozenset[int],
    musts: Sequence[int],
    shown: Set[int],
    total: int,
) -> bool:
    """Whether rows may begin where systems do: at bars with which a phrase ``begins``, or with the
    fifth bar of a long one; where no phrase is known, if all have the same number of bars but the
    last before a bar with which a row ``musts`` begin.  Bars that are ``shown`` have another sign
    that a phrase begins there, and fit in any case.  ``total`` is the number of bars."""
    known = sorted({0, *begins, *musts})
    starts = sorted({*systems, *musts, 0})
    lengths = [two - one for one, two in pairwise((*starts, total))]
    if not systems or max(lengths) > _LONGEST:
        return False
    if begins:
        return all(
            at in shown or (at - known[bisect_right(known, at) - 1]) % _USUAL == 0 for at in starts
        )
    if all(at in shown or at in musts for at in systems if at):
        return True
    whole = {length for at, length in zip(starts[1:], lengths, strict=False) if at not in musts}
    return len(whole) == 1 and whole <= set(_LENGTHS)
