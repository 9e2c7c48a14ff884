"""The texts of a song as they are set: true quotes, and words that run from right to left in order.

Words in scripts that run from right to left are put into the order in which they are drawn (the
Unicode bidirectional algorithm, UAX 9, by python-bidi).  Letters that join, as those of
Arabic do, need more than that: the typesetter counts them among those that no font has.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from unicodedata import bidirectional

from chartkit.arrange.arrangement import (
    Announcement,
    ArrangedBar,
    ArrangedSection,
    ArrangedSystem,
    Arrangement,
    WordsLine,
)
from chartkit.chart.model import Segment
from chartkit.layout.quotes import with_typographic_quotes


def with_set_texts(arrangement: Arrangement) -> Arrangement:
    """The arrangement with every text of the user's as it is set: its title, writer, feel and
    instrument, names of sections, words, cues and notes."""
    setter = _Setter(arrangement.language)
    return replace(
        arrangement,
        title=setter.text(arrangement.title),
        writer=setter.text(arrangement.writer),
        instrument=setter.text(arrangement.instrument),
        feel=setter.text(arrangement.feel),
        notes=tuple(map(setter.text, arrangement.notes)),
        sections=tuple(map(setter.section, arrangement.sections)),
    )


@dataclass(frozen=True, slots=True)
class _Setter:
    """Sets the texts of a song in one language."""

    language: str

    def text(self, typed: str) -> str:
        return in_visual_order(with_typographic_quotes(typed, self.language))

    def section(self, section: ArrangedSection) -> ArrangedSection:
        systems = tuple(map(self._system, section.systems))
        name, same_as = self.text(section.name), self.text(section.same_as)
        return replace(section, name=name, same_as=same_as, systems=systems)

    def _system(self, system: ArrangedSystem) -> ArrangedSystem:
        return replace(
            system,
            bars=tuple(map(self._bar, system.bars)),
            words=tuple(map(self._words, system.words)),
            above=tuple(map(self._announcement, system.above)),
        )

    def _bar(self, bar: ArrangedBar) -> ArrangedBar:
        if not bar.bar.cues:
            return bar
        cues = tuple(replace(cue, text=self.text(cue.text)) for cue in bar.bar.cues)
        return replace(bar, bar=replace(bar.bar, cues=cues))

    def _words(self, line: WordsLine) -> WordsLine:
        bars = tuple(tuple(map(self._segment, bar)) for bar in line.bars)
        pickup = self._segment(line.pickup)
        if bars == line.bars and pickup == line.pickup:
            return line
        return replace(line, pickup=pickup, bars=bars)

    def _segment(self, segment: Segment) -> Segment:
        text = self.text(segment.text)
        return segment if text == segment.text else replace(segment, text=text)

    def _announcement(self, one: Announcement) -> Announcement:
        return replace(one, text=self.text(one.text)) if one.kind in _TYPED else one


_TYPED = ("cue", "feel")
"""The announcements whose text the user wrote; the program words the others."""


def in_visual_order(text: str) -> str:
    """The text with what runs from right to left turned round, letter by letter."""
    return text if text.isascii() else _turned_round(text)


@lru_cache(maxsize=1024)
def _turned_round(text: str) -> str:
    if not any(bidirectional(c) in ("R", "AL") for c in text):
        return text
    from bidi.algorithm import get_display

    return str(get_display(text))
