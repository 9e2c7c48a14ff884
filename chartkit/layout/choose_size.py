"""How large the type can be: the size at which the song stands best on its pages.

The song is measured once; then every size is tried by shrinking or widening the paper around
it, which is the same thing.  Fewest sides first: one page, a facing pair, or what the song
takes at the paper's own size, since then the page has to be turned anyway.  Among those the
largest type wins, but a section torn by a page turn, or a row of the writer's cut
in two, outweighs some size.  The weights are ours, set by looking at pages.
"""

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import Again, PaperName
from chartkit.layout.compose import Composer
from chartkit.layout.metrics import Typesetter
from chartkit.layout.paginate import turns
from chartkit.layout.style import PAPERS, Paper, Style

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape

SIZES = (0.85, 0.9, 0.95, 1.0, 1.08, 1.16, 1.25)
"""The sizes tried, as parts of the paper's own: words from 9.8 to 14.4 points on A4.  From a
music stand less cannot be read (common practice, no source)."""
_LEAST_FOR_ONE_PAGE = 0.95
"""Below this part of the middle size a facing pair, which needs no turn either, is as good as
one page."""
_PER_TORN_SECTION, _PER_CUT_ROW = 0.2, 0.25
"""How much of the type's size an unwelcome break is worth."""
_FACING_PAIR = 2


def best_size(
    arrangement: Arrangement,
    paper: PaperName,
    typesetter: Typesetter,
    shapes: "tuple[NamedShape, ...]" = (),
    limits: tuple[float, float] | None = None,
    again: Again = "full",
) -> float:
    """The best size for the song: of ``SIZES``, or of as many between two limits."""
    found = PAPERS[paper]
    sizes = SIZES if limits is None else _between(*limits)
    unit = Style(found, found.scale)
    sections = Composer(arrangement, typesetter, unit, again).sections()
    middle = sizes[len(sizes) // 2]

    @cache
    def badness(size: float) -> tuple[int, float]:
        style = Style(_shrunk(found, size), found.scale)
        composer = Composer(arrangement, typesetter, style, again)
        placed, cut = composer.measured(sections)
        top, blocks = composer.framed(placed, shapes)
        sides, torn = turns(top, blocks, style)
        return sides, _PER_TORN_SECTION * torn + _PER_CUT_ROW * cut - size / middle

    def ranked(size: float) -> tuple[int, float]:
        sides, cost = badness(size)
        if sides > _FACING_PAIR:
            return max(sides, badness(middle)[0]), cost
        return (sides if size >= _LEAST_FOR_ONE_PAGE * middle else _FACING_PAIR), cost

    chosen = next(size for size in sizes if size >= _LEAST_FOR_ONE_PAGE * middle)
    best = ranked(chosen)
    fewest = best[0] if best[0] <= _FACING_PAIR else ranked(sizes[0])[0]
    for size in reversed(sizes):
        if best[0] == fewest and best[1] <= -size / middle:
            break  # What is smaller cannot be better.
        tried = ranked(size)
        if tried < best:
            best, chosen = tried, size
    return chosen


def _between(least: float, largest: float) -> tuple[float, ...]:
    steps = len(SIZES) - 1
    return tuple(least + (largest - least) * i / steps for i in range(steps + 1))


def _shrunk(paper: Paper, size: float) -> Paper:
    """The paper as type of that size sees it: larger type, smaller paper."""
    return replace(
        paper, width=paper.width / size, height=paper.height / size, side=paper.side / size,
        top=paper.top / size, bottom=paper.bottom / size, foot=paper.foot / size,
    )  # fmt: skip
