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
from chartkit.layout.annotate import Annotator
from chartkit.layout.boxes import SectionBox
from chartkit.layout.break_lines import common_indent, fitted_rows, section_lines, typical_bars
from chartkit.layout.collect import Collector
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import heading
from chartkit.layout.metrics import Typesetter
from chartkit.layout.paginate import Block, turns
from chartkit.layout.place import PlacedSystem, Placer
from chartkit.layout.style import PAPERS, Paper, PaperName, Style
from chartkit.layout.top import TopSetter

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape

SIZES = (0.85, 0.9, 0.95, 1.0, 1.08, 1.16, 1.25)
"""The sizes tried, as parts of the paper's own: words from 9.8 to 14.4 points on A4.  From a
music stand less cannot be read (common practice, no source)."""
_LEAST_FOR_ONE_PAGE = 0.95
"""Below this size a facing pair, which needs no turn either, is as good as one page."""
_PER_TORN_SECTION, _PER_CUT_ROW = 0.2, 0.15
"""How much of the type's size an unwelcome break is worth."""
_FACING_PAIR = 2


def best_size(
    arrangement: Arrangement,
    paper: PaperName,
    typesetter: Typesetter,
    shapes: "tuple[NamedShape, ...]" = (),
) -> float:
    """The best of ``SIZES`` for the song."""
    found = PAPERS[paper]
    unit = Style(found, found.scale)
    sections = Collector(typesetter, unit, arrangement.lines).sections(arrangement)

    @cache
    def badness(size: float) -> tuple[int, float]:
        style = Style(_shrunk(found, size), found.scale)
        top = TopSetter(Fitter(typesetter), style).top(arrangement, shapes)
        return _badness(arrangement, sections, top, style, typesetter, size)

    own_sides = badness(1.0)[0]

    def ranked(size: float) -> tuple[int, float]:
        sides, cost = badness(size)
        if sides > _FACING_PAIR:
            return max(sides, own_sides), cost
        return (sides if size >= _LEAST_FOR_ONE_PAGE else _FACING_PAIR), cost

    best, chosen = ranked(SIZES[0]), SIZES[0]
    fewest = min(best[0], ranked(_LEAST_FOR_ONE_PAGE)[0])
    for size in reversed(SIZES[1:]):
        if best[0] == fewest and best[1] <= -size:
            break  # What is smaller cannot be better.
        tried = ranked(size)
        if tried < best:
            best, chosen = tried, size
    return chosen


def _shrunk(paper: Paper, size: float) -> Paper:
    """The paper as type of that size sees it: larger type, smaller paper."""
    return replace(
        paper, width=paper.width / size, height=paper.height / size, side=paper.side / size,
        top=paper.top / size, bottom=paper.bottom / size,
    )  # fmt: skip


def _badness(
    arrangement: Arrangement,
    sections: tuple[SectionBox, ...],
    top: PlacedSystem,
    style: Style,
    typesetter: Typesetter,
    size: float,
) -> tuple[int, float]:
    fitter = Fitter(typesetter)
    collector = Collector(typesetter, style, arrangement.lines)
    indent = common_indent(sections, style)
    fitted = [fitted_rows(section, collector, style, indent) for section in sections]
    typical = typical_bars(fitted)
    placer = Placer(Annotator(typesetter, style), style, arrangement.lines)
    blocks = []
    for section, rows in zip(sections, fitted, strict=True):
        lines = section_lines(rows, style, typical, indent)
        systems = tuple(placer.measured(line) for line in lines)
        blocks.append(Block(section.name, heading(section, fitter, style), systems))
    sides, torn = turns(top, blocks, style)
    cut = sum(1 for rows in fitted for row in rows if row.cut)
    return sides, _PER_TORN_SECTION * torn + _PER_CUT_ROW * cut - size
