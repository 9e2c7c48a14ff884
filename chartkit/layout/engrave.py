"""Layout from end to end: collect, break into lines, place, break into pages, fill them."""

from typing import TYPE_CHECKING

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.annotate import Annotator
from chartkit.layout.boxes import Line, SectionBox
from chartkit.layout.break_lines import common_indent, fitted_rows, section_lines, typical_bars
from chartkit.layout.choose_size import best_size
from chartkit.layout.collect import Collector
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import heading
from chartkit.layout.frames import Document
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.paginate import Block, pages
from chartkit.layout.place import PlacedSystem, Placer
from chartkit.layout.style import PaperName, style_for
from chartkit.layout.top import TopSetter, told_in_full
from chartkit.layout.words_only import words_laid_out

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape


def laid_out(
    arrangement: Arrangement,
    paper: PaperName,
    metrics: Metrics,
    size: float | None = None,
    shapes: "tuple[NamedShape, ...]" = (),
    with_foot: bool = True,
) -> Document:
    """The arrangement as finished pages, at a size or at the best one for the song.

    ``shapes`` are drawn as diagrams under the title.  Pages that go into a book get their
    foot lines there, so they can be made without.
    """
    typesetter = Typesetter(metrics)
    if not arrangement.lines:
        return words_laid_out(arrangement, paper, typesetter, size, with_foot)
    style = style_for(paper, size or best_size(arrangement, paper, typesetter, shapes))
    fitter = Fitter(typesetter)
    collector = Collector(typesetter, style, arrangement.lines)
    sections = collector.sections(arrangement)
    indent = common_indent(sections, style)
    fitted = [fitted_rows(section, collector, style, indent) for section in sections]
    typical = typical_bars(fitted)
    lines = [section_lines(rows, style, typical, indent) for rows in fitted]
    systems = _systems(lines, Placer(Annotator(typesetter, style), style, arrangement.lines))
    blocks = _blocks(sections, systems, [heading(s, fitter, style) for s in sections])
    top = TopSetter(fitter, style).top(arrangement, shapes)
    made = pages(arrangement, fitter, top, blocks, style, with_foot)
    return Document(
        arrangement.title, arrangement.writer, arrangement.language, told_in_full(arrangement),
        made, frozenset(typesetter.missing),
    )  # fmt: skip


def _systems(by_section: list[list[Line]], placer: Placer) -> list[tuple[PlacedSystem, ...]]:
    barred = [line for lines in by_section for line in lines if line.row.bars]
    last = barred[-1] if barred else None
    return [tuple(placer.system(line, line is last) for line in lines) for lines in by_section]


def _blocks(
    sections: tuple[SectionBox, ...],
    systems: list[tuple[PlacedSystem, ...]],
    headings: list[PlacedSystem | None],
) -> list[Block]:
    return [
        Block(section.name, head, placed)
        for section, head, placed in zip(sections, headings, systems, strict=True)
    ]
