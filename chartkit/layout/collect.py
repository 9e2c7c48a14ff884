"""From an arrangement to measured boxes."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from chartkit.arrange.arrangement import (
    Announcement,
    ArrangedSection,
    ArrangedSystem,
)
from chartkit.arrange.page_look import Form
from chartkit.arrange.view import LineName
from chartkit.chart.model import BarLine
from chartkit.chart.numbered_names import name_without_number
from chartkit.layout.boxes import (
    LineAlone,
    RowBox,
    SectionBox,
)
from chartkit.layout.fit import Fitter
from chartkit.layout.measure_bars import BarMeasurer
from chartkit.layout.metrics import Typesetter
from chartkit.layout.shared_rows import SharedRows
from chartkit.layout.style import Style, page_room
from chartkit.layout.sung_again import (
    announcements_of,
    line_numbers,
    new_announcements,
    stanza_texts,
    sung_again,
)

_LINES_A_VERSE = 1.17
"""The height of a verse in lines of its own size."""
_OVER_WORDS = 14
"""How many such lines stand above the verses of a row at most."""
_OVER_CHORDS = 2
"""How many stand over the chords where nothing is said."""
_EACH_SAID = 3
"""How many each thing that is said may take."""
_FOR_TITLE = 4
"""The title may take one part in so many of a page."""


class Collector:
    """Measures an arrangement for one style."""

    def __init__(
        self,
        typesetter: Typesetter,
        style: Style,
        lines: tuple[LineName, ...],
        strong: LineName,
        shared: SharedRows | None = None,
    ) -> None:
        self.fitter = Fitter(typesetter)
        self.bars = BarMeasurer(typesetter, style, lines, strong)
        self._shared = shared
        self._style = style
        self._chord_lines = len(lines)

    def sections(
        self, sections: Sequence[ArrangedSection], form: Form = "full"
    ) -> tuple[SectionBox, ...]:
        """Every section with its rows measured; those that come again as ``form`` says."""
        sung: dict[str, tuple[str, ...]] = {}
        said: dict[str, tuple[Announcement, ...]] = {}
        boxes = []
        for section in sections:
            words = sung_again(section) if form in ("words", "line") else ()
            box = self._section(section, form, words, sung)
            if not box.rows:
                box = replace(
                    box, said=new_announcements(section, said.get(section.same_as.casefold(), ()))
                )
            boxes.append(box)
            sung[section.name.casefold()] = words or sung.get(section.same_as.casefold(), ())
            said.setdefault(section.name.casefold(), announcements_of(section))
        return tuple(boxes)

    def _section(
        self,
        section: ArrangedSection,
        form: Form,
        words: tuple[str, ...],
        sung: dict[str, tuple[str, ...]],
    ) -> SectionBox:
        if section.same_as and form in ("words", "line"):
            alike = form == "words" and name_without_number(section.name) == name_without_number(
                section.same_as
            )
            before = sung.get(section.same_as.casefold(), ()) if alike else ()
            again_words = () if section.whole and form == "line" else words
            return SectionBox(
                name=section.name,
                times=section.times,
                rows=(),
                same_as=section.same_as,
                left_out=True,
                words=again_words or before,
                source=section.span,
            )
        rows = tuple(row for system in section.systems for row in self._rows(system))
        return SectionBox(
            section.name, section.times, rows, source=section.span, same_as=section.same_as
        )

    def _rows(self, system: ArrangedSystem) -> Iterable[RowBox]:
        if system.words and not system.bars:
            return (self._words_alone(system),)
        stacks = self._short_stacks(system)
        shared, widest = self._shared, self.bars.widest_name
        rows = (
            self._row(stack) if shared is None else shared.row(stack, widest, self._row)
            for stack in stacks
        )
        return (replace(row, restacked=True) if i else row for i, row in enumerate(rows))

    @staticmethod
    def _words_alone(system: ArrangedSystem) -> RowBox:
        """A stanza of words without music."""
        texts = zip(stanza_texts(system), system.words, strict=True)
        lines = tuple(LineAlone(text, 0.0, words.pickup.span) for text, words in texts)
        return RowBox(bars=(), pickups=(), verses=0, above=system.above, alone=lines)

    def _short_stacks(self, system: ArrangedSystem) -> Iterator[ArrangedSystem]:
        """The system, its music printed again where its verses would not fit a page."""
        if len(system.words) <= 1:
            yield system
            return
        noted = any(one.bar.marks or one.bar.cues for one in system.bars)
        over = _OVER_CHORDS + self._chord_lines + _EACH_SAID * (len(system.above) + noted)
        lines = int(page_room(self._style) / self._style.words / _LINES_A_VERSE)
        # On a tall page the first stack shares the page with the title.
        most = max(1, lines - min(_OVER_WORDS, max(over, lines // _FOR_TITLE)))
        if len(system.words) <= most:
            yield system
            return
        numbered = zip(system.words, line_numbers(system.words), strict=True)
        words = tuple(replace(line, number=number) for line, number in numbered)
        for start in range(0, len(words), most):
            above = () if start else system.above
            yield replace(system, words=words[start : start + most], above=above)

    def _row(self, system: ArrangedSystem) -> RowBox:
        free = not system.bar_lines
        lines = system.bar_lines or (BarLine("none"),) * (len(system.bars) + 1)
        bars = tuple(
            self.bars.bar(bar, lines[i], lines[i + 1], tuple(w.bars[i] for w in system.words), free)
            for i, bar in enumerate(system.bars)
        )
        pickups = tuple(
            self.bars.words.sung(words.pickup) if words.pickup.text else None
            for words in system.words
        )
        numbers = tuple(
            self.bars.words.word(f"{number}.") if number else None
            for number in line_numbers(system.words)
        )
        return RowBox(
            bars=bars,
            pickups=pickups,
            verses=len(system.words),
            above=system.above,
            free=free,
            cut=0,
            numbers=numbers,
            goes_on=system.goes_on,
        )
