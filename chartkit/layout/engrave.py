"""Layout from end to end: collect, break into lines, place, fill pages."""

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.annotate import Annotator
from chartkit.layout.break_lines import (
    common_indent,
    fitted_rows,
    section_lines,
    typical_bars,
)
from chartkit.layout.collect import Collector
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import heading
from chartkit.layout.frames import Document
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.paginate import Block, pages
from chartkit.layout.place import Placer
from chartkit.layout.style import Style
from chartkit.layout.top import TopSetter, told_in_full


def laid_out(arrangement: Arrangement, style: Style, metrics: Metrics) -> Document:
    """The arrangement as finished pages of the style's paper."""
    typesetter = Typesetter(metrics)
    fitter = Fitter(typesetter)
    blocks = _blocks(arrangement, style, typesetter, fitter)
    made = pages(arrangement, fitter, TopSetter(fitter, style).top(arrangement), blocks, style)
    return Document(
        arrangement.title, arrangement.writer, arrangement.language, told_in_full(arrangement),
        made, frozenset(typesetter.missing),
    )  # fmt: skip


def _blocks(
    arrangement: Arrangement, style: Style, typesetter: Typesetter, fitter: Fitter
) -> list[Block]:
    """The song as blocks for the pages: headings and systems in order."""
    collector = Collector(typesetter, style, arrangement.lines)
    placer = Placer(Annotator(typesetter, style), style, arrangement.lines)
    sections = collector.sections(arrangement)
    indent = common_indent(sections, style)
    fitted = [fitted_rows(section, collector, style, indent) for section in sections]
    typical = typical_bars(fitted)
    by_section = [section_lines(section, style, typical, indent) for section in fitted]
    barred = [line for lines in by_section for line in lines if line.row.bars]
    blocks = []
    for section, lines in zip(sections, by_section, strict=True):
        systems = tuple(placer.system(line, bool(barred) and line is barred[-1]) for line in lines)
        blocks.append(Block(section.name, heading(section, fitter, style), systems))
    return blocks
