"""A song's sections as blocks for the pages, placed in full or only measured."""

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from math import inf
from typing import TYPE_CHECKING, NamedTuple

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import PageLook
from chartkit.layout.annotate import Annotator
from chartkit.layout.bars_played import bars_written
from chartkit.layout.boxes import RowBox, SectionBox, SpacedRow
from chartkit.layout.choices import Choices
from chartkit.layout.collect import Collector
from chartkit.layout.fit import Fitter
from chartkit.layout.fit_rows import fitted_sections
from chartkit.layout.frame_lines import heading, words_again
from chartkit.layout.frames import moved_item
from chartkit.layout.grids import grids_in, indent_for, song_lines, typical_bars
from chartkit.layout.gutter import (
    NUMBER_CLEAR,
    WIDEST,
    SectionLabel,
    is_squeezed,
    label_room,
    section_label,
)
from chartkit.layout.labels import has_stack
from chartkit.layout.metrics import Typesetter
from chartkit.layout.next_section_note import next_section_notes, with_next_section_note
from chartkit.layout.paginate import Block
from chartkit.layout.place import PlacedSystem, Placer
from chartkit.layout.row_numbers import number_column, with_bar_numbers, with_number_column
from chartkit.layout.shared_rows import SharedRows
from chartkit.layout.song_form import SongForm, song_end
from chartkit.layout.strike_marks import MarkName, used_marks
from chartkit.layout.style import TITLE, Style, column_style, page_room
from chartkit.layout.top import fitting_top
from chartkit.layout.words_alone import broken_part

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape


_MOST_DIAGRAMS, _MOST_DIAGRAM_ROWS = 0.35, 2
"""The largest part of the first page that diagrams may take, and in how many rows."""
_LARGEST_TOP, _LARGEST_TITLE = 1.37, 1.15
"""The largest type of the first page's head and of its title, in sizes of the paper's own type: in
large print what the hands need to know is large, and the rest of the page is for the song."""
_WIDEST_INDENT = 0.2
"""The largest part of a line that pick-ups may indent every system by."""
_PER_CUT_ROW, _ALL_CUT, _ALL_ALONE = 0.2, 0.38, 0.4
_ALL_CROWDED, _CROWDED_FROM, _PER_TORN_BAR = 0.4, 0.94, 1.0
"""The costs, as parts of the type's size, of one of the writer's rows cut in two, of all of them,
and of all of them cut into single bars; of crowded rows, with the part of the line from which a row
is crowded; and of a torn bar."""
_PER_UNEVEN_ROW, _ALL_UNEVEN = 0.15, 0.3
"""The cost of a row cut so that a part of it, other than the last, has fewer bars than another, and
of all of them: bars then stand under others of their phrase by chance."""
_ALL_BROKEN = 0.9
"""The cost, as a part of the type's size, of breaking every line of words without music in two."""
_PER_GRID = 0.06
"""The cost, as a part of the type's size, of one more grid of bar lines."""


class SetLines(NamedTuple):
    """The rows of a song fitted to one size: the lines of every section, its name for the gutter or
    None, the cost of cut and crowded rows, torn bars and grids, and how often a bar is torn."""

    labels: list[SectionLabel | None]
    lines: list[list[SpacedRow]]
    flaws: float
    torn: int


class Composer:
    """Makes the blocks of one arrangement in one form and style."""

    def __init__(
        self,
        arrangement: Arrangement,
        printed: SongForm,
        typesetter: Typesetter,
        style: Style,
        *,
        look: PageLook,
        choices: Choices,
        known: "_Known | None" = None,
        shared: SharedRows | None = None,
    ) -> None:
        lines, strong = arrangement.chord_lines, arrangement.strong
        self._page_style, self._choices = style, choices
        style = column_style(style, choices.columns)
        self._arrangement = arrangement
        self._printed = printed
        self._typesetter = typesetter
        self._style = style
        self._look = look
        self._collector = Collector(typesetter, style, lines, strong, shared)
        self._known = known or _known(arrangement, printed)
        annotator = Annotator(typesetter, style)
        self._placer = Placer(annotator, style, lines, strong, self._known.stacks)
        self._fitter = Fitter(typesetter)

    def in_style(self, style: Style, size: float) -> "Composer":
        """A composer of the same form in another style; ``size`` is its type as a multiple of the
        paper's own."""
        return Composer(
            self._arrangement,
            self._printed,
            self._typesetter,
            style,
            look=self._look,
            choices=replace(self._choices, size=size),
            known=self._known,
        )

    def sections(self) -> tuple[SectionBox, ...]:
        """Every printed section measured."""
        return self._collector.sections(self._printed.sections, self._look.form)

    def blocks(self, sections: tuple[SectionBox, ...]) -> list[Block]:
        """The sections placed."""
        set_lines = self.lines(sections)
        barred = [line for section in set_lines.lines for line in section if line.row.bars]
        last = barred[-1] if barred else None
        end, bar = song_end(self._printed, set_lines.lines)
        return self._made(
            sections,
            set_lines,
            lambda line: self._placer.system(
                line, bar if line is end else -1, line is last or line is end
            ),
        )

    def measured(self, sections: tuple[SectionBox, ...], lines: "SetLines") -> list[Block]:
        """The blocks with their heights alone, to try a size."""
        return self._made(sections, lines, self._placer.measured)

    def framed(
        self, blocks: list[Block], shapes: "tuple[NamedShape, ...]"
    ) -> tuple[PlacedSystem, list[Block]]:
        """The top of the first page, where it stands from the top margin on, and the blocks."""
        top, blocks = self._framed(blocks, shapes)
        up = self._page_style.paper.raised
        items = tuple(moved_item(item, 0, -up) for item in top.items) if up else top.items
        return top._replace(items=items, height=top.height - up), blocks

    def _framed(
        self, blocks: list[Block], shapes: "tuple[NamedShape, ...]"
    ) -> tuple[PlacedSystem, list[Block]]:
        """The top of the first page, and the blocks.

        Diagrams of the shapes stand under the title where they leave the page to the song,
        else after it, where their heading says whose they are.
        """
        page_style = self._page_style
        largest = min(self._choices.size, _LARGEST_TOP)
        scale = page_style.scale * largest / self._choices.size
        title_size = TITLE * min(1.0, _LARGEST_TITLE / largest)
        top_style = replace(page_style, scale=scale, title_size=title_size)
        if not shapes:
            return self._top(top_style), blocks
        # Fretboards are loaded only where diagrams are drawn.
        from chartkit.layout.diagram import DiagramSetter

        rows = DiagramSetter(self._fitter, page_style).rows(shapes)
        alone = "second" not in self._arrangement.chord_lines
        few = len(rows) <= _MOST_DIAGRAM_ROWS
        few = few and sum(row.height for row in rows) <= page_room(page_style) * _MOST_DIAGRAMS
        if alone and few:
            return self._top(top_style, rows), blocks
        whose = "Shapes" if alone else "Shapes of the first guitar"
        rows = DiagramSetter(self._fitter, self._style).rows(shapes)
        title = heading(SectionBox(whose, 1, ()), self._fitter, self._style)
        return self._top(top_style), [*blocks, Block("Shapes", title, rows)]

    def _top(self, style: Style, rows: tuple[PlacedSystem, ...] = ()) -> PlacedSystem:
        entries, marks = self._printed.entries, self._known.marks
        return fitting_top(self._arrangement, self._fitter, style, entries, rows, marks)

    # ---- rows
    def lines(self, sections: tuple[SectionBox, ...], measuring: bool = False) -> "SetLines":
        """The rows as lines that fit; while ``measuring`` without what makes none higher."""
        style = self._style
        bar_numbers = self._number_room(sections)
        pickups, column = _common_indent(sections, style, bar_numbers)
        labels = [self._label(section, pickups) for section in sections]
        beside = max((label_room(label, style) for label in labels if label), default=0.0)
        indent = max(pickups, beside, bar_numbers)
        if any(label and is_squeezed(label, style) for label in labels):
            # A gutter that is wide for one name has room for the others.
            labels = [self._label(section, indent) for section in sections]
        fitted = fitted_sections(sections, self._collector, style, indent, self._choices, measuring)
        if self._look.bar_numbers and not measuring:
            fitted = with_bar_numbers(fitted, self._printed.first_bars)
        if column and not measuring:
            fitted = with_number_column(fitted, column)
        barred = [row for section in fitted for row in section if row.bars]
        flaws = _flaws(barred, style, indent)
        flaws += _ALL_BROKEN * broken_part([row for section in fitted for row in section])
        if self._choices.columns > 1 and _too_wide(barred, style, indent):
            flaws = inf
        lines = song_lines(fitted, style, typical_bars(fitted), indent)
        flaws += _PER_GRID * (grids_in(lines) - 1)
        return SetLines(labels, lines, flaws, _torn_bars(barred))

    def _number_room(self, sections: tuple[SectionBox, ...]) -> float:
        """The room for the numbers of bars, where there are any."""
        rows = sum(not row.free for section in sections for row in section.rows)
        if not self._look.bar_numbers or rows < 2:
            return 0.0
        last = str(self._printed.first_bars[-1] + bars_written(self._printed.sections[-1]))
        width = self._fitter.width(last, "plain", self._style.bar_number)
        return width + self._style.pt(NUMBER_CLEAR)

    def _label(self, section: SectionBox, pickups: float) -> SectionLabel | None:
        """The section's name for the gutter; None where it has none or stands over its row, as all
        do where lines are narrow."""
        if not section.rows or not section.rows[0].bars or not _full_name(section):
            return None
        if self._style.is_narrow:
            return None
        lines = 1 if section.rows[0].sounds_as_fingered else self._placer.lines
        if not any(any((*row.pickups, *row.numbers)) or row.free for row in section.rows):
            lines += min(row.verses for row in section.rows)
        name, most, tight = _full_name(section), max(1, min(lines, 3)), self._choices.columns > 1
        label = section_label(name, pickups, most, self._fitter, self._style, tight)
        return label and label.anchored_at(section.source)

    def _made(
        self,
        sections: tuple[SectionBox, ...],
        lines: "SetLines",
        system: Callable[[SpacedRow], PlacedSystem],
    ) -> list[Block]:
        counted = Counter(entry.printed for entry in self._printed.entries)
        return [
            Block(
                section.name,
                None if label else heading(section, self._fitter, self._style),
                with_next_section_note(
                    (*map(system, own), *words_again(section, self._fitter, self._style)),
                    follows,
                    self._fitter,
                    self._style,
                ),
                label,
                counted[number] > 1,
            )
            for number, (section, label, own, follows) in enumerate(
                zip(sections, lines.labels, lines.lines, self._known.follows, strict=True)
            )
        ]


class _Known(NamedTuple):
    """Facts that hold in every style: whether alterations are stacked anywhere, what follows each
    printed section, and what signs stand over beats."""

    stacks: bool
    follows: tuple[str, ...]
    marks: tuple[MarkName, ...]


def _known(arrangement: Arrangement, printed: SongForm) -> _Known:
    strikes = list(arrangement.strikes())
    names = {name for strike in strikes for name in strike.names}
    return _Known(any(map(has_stack, names)), next_section_notes(printed), used_marks(strikes))


def _flaws(rows: list[RowBox], style: Style, indent: float) -> float:
    """The total cost of cut and crowded rows and torn bars."""
    cut = sum(bool(row.cut) and not row.goes_on for row in rows)
    room = style.line_width - indent
    crowded = sum([row.least_width > _CROWDED_FROM * room for row in rows])
    alone = sum([row.cut == 1 and not row.free for row in rows])
    uneven = sum([len(row.bars) < row.cut for row, after in pairwise(rows) if after.goes_on])
    torn = _torn_bars(rows)
    return (
        min(_ALL_CUT, _PER_CUT_ROW * cut)
        + (_ALL_CROWDED * crowded + _ALL_ALONE * alone) / len(rows or [0])
        + min(_ALL_UNEVEN, _PER_UNEVEN_ROW * uneven)
        + _PER_TORN_BAR * torn
    )


def _torn_bars(rows: list[RowBox]) -> int:
    """How often bars are torn; a row in free time has none, and is cut between chords."""
    return sum([bar.broken for row in rows if not row.free for bar in row.bars])


def _too_wide(rows: list[RowBox], style: Style, indent: float) -> bool:
    """Whether a name that cannot be cut is wider than its column."""
    return any(row.widest_bar > style.line_width - indent for row in rows)


def _full_name(section: SectionBox) -> str:
    """The name with how often the section is played."""
    times = f"× {section.times}" if section.times > 1 else ""
    return f"{section.name} {times}".strip()


def _common_indent(
    sections: tuple[SectionBox, ...], style: Style, bar_numbers: float
) -> tuple[float, float]:
    """How far the first bar line of every system stands from the margin for its pick-ups, and where
    the numbers of verses end before it; in a narrow line each system has its own indent."""
    if style.is_narrow:
        return 0.0, 0.0
    most = style.line_width * max(_WIDEST_INDENT, WIDEST)
    rows = [row for section in sections for row in section.rows if not row.free]
    rows = [row for row in rows if indent_for(row, style) <= most]
    column = number_column(rows, bar_numbers)
    widest = max((row.widest_number for row in rows), default=0.0)
    beside_numbers = column + widest + style.pt(5) if column else 0.0
    return max([beside_numbers, *(indent_for(row, style) for row in rows)]), column
