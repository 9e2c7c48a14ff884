"""A song's sections as blocks for the pages, placed in full or only measured."""

from collections.abc import Callable

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.annotate import Annotator
from chartkit.layout.boxes import Line, SectionBox
from chartkit.layout.break_lines import common_indent, fitted_rows, section_lines, typical_bars
from chartkit.layout.collect import Collector
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import heading, words_again
from chartkit.layout.metrics import Typesetter
from chartkit.layout.paginate import Block
from chartkit.layout.place import PlacedSystem, Placer
from chartkit.layout.style import Again, Style


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

    def _lines(self, sections: tuple[SectionBox, ...]) -> tuple[list[list[Line]], int]:
        indent = common_indent(sections, self._style)
        fitted = [fitted_rows(s, self._collector, self._style, indent) for s in sections]
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
