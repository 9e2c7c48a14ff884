"""A song's sections as blocks for the pages, placed in full or only measured."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import Again
from chartkit.layout.annotate import Annotator
from chartkit.layout.boxes import Line, SectionBox
from chartkit.layout.collect import Collector
from chartkit.layout.fit import Fitter
from chartkit.layout.fit_rows import fitted_sections
from chartkit.layout.frame_lines import heading, words_again
from chartkit.layout.metrics import Typesetter
from chartkit.layout.paginate import Block
from chartkit.layout.place import PlacedSystem, Placer
from chartkit.layout.share_widths import common_indent, section_lines, typical_bars
from chartkit.layout.style import Style, page_room
from chartkit.layout.top import fitting_top

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape


_MOST_DIAGRAMS = 0.35
"""The largest part of the first page that diagrams may take."""


class Composer:
    """Makes the blocks of one arrangement in one style."""

    def __init__(
        self,
        arrangement: Arrangement,
        typesetter: Typesetter,
        style: Style,
        again: Again = "full",
    ) -> None:
        lines, strong = arrangement.lines, arrangement.strong
        self._arrangement = arrangement
        self._style = style
        self._again: Again = again
        self._collector = Collector(typesetter, style, lines, strong)
        self._placer = Placer(Annotator(typesetter, style), style, lines, strong)
        self._fitter = Fitter(typesetter)

    def sections(self) -> tuple[SectionBox, ...]:
        """Every section measured."""
        return self._collector.sections(self._arrangement, self._again)

    def blocks(self, sections: tuple[SectionBox, ...]) -> tuple[list[Block], int]:
        """The sections placed, and how many of the writer's rows had to be cut."""
        lines, cut = self._lines(sections)
        barred = [line for section in lines for line in section if line.row.bars]
        last = barred[-1] if barred else None
        return self._made(
            sections, lines, lambda line: self._placer.system(line, line is last)
        ), cut

    def measured(self, sections: tuple[SectionBox, ...]) -> tuple[list[Block], int]:
        """The same with heights alone, for trying out a size."""
        lines, cut = self._lines(sections)
        return self._made(sections, lines, self._placer.measured), cut

    def framed(
        self, blocks: list[Block], shapes: "tuple[NamedShape, ...]"
    ) -> tuple[PlacedSystem, list[Block]]:
        """The top of the first page, and the blocks.

        Diagrams of the shapes stand under the title where they leave the page to the song,
        else after it.
        """
        setter = fitting_top(self._arrangement, self._fitter, self._style)
        if not shapes:
            return setter.top(self._arrangement), blocks
        # Fretboards are loaded only where diagrams are drawn.
        from chartkit.layout.diagram import DiagramSetter

        rows = DiagramSetter(self._fitter, self._style).rows(shapes)
        if sum(row.height for row in rows) <= page_room(self._style) * _MOST_DIAGRAMS:
            return setter.top(self._arrangement, rows), blocks
        title = heading(SectionBox("Shapes", 1, ()), self._fitter, self._style)
        return setter.top(self._arrangement), [*blocks, Block("Shapes", title, rows)]

    def _lines(self, sections: tuple[SectionBox, ...]) -> tuple[list[list[Line]], int]:
        indent = common_indent(sections, self._style)
        fitted = fitted_sections(sections, self._collector, self._style, indent)
        typical = typical_bars(fitted)
        cut = sum(1 for rows in fitted for row in rows if row.cut)
        return [section_lines(rows, self._style, typical, indent) for rows in fitted], cut

    def _made(
        self,
        sections: tuple[SectionBox, ...],
        lines: list[list[Line]],
        system: Callable[[Line], PlacedSystem],
    ) -> list[Block]:
        return [
            Block(
                section.name,
                heading(section, self._fitter, self._style),
                (*map(system, own), *words_again(section, self._fitter, self._style)),
            )
            for section, own in zip(sections, lines, strict=True)
        ]
