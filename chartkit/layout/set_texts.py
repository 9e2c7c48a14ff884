"""The texts of a song as they are set: true quotes, and words that run from right to left in order.

Words in scripts that run from right to left are put into the order in which they are drawn (the
Unicode bidirectional algorithm, UAX 9, by python-bidi).  Letters that join, as those of
Arabic do, need more than that: the typesetter counts them among those that no font has.
"""

from dataclasses import replace
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
from chartkit.layout.quotes import typographic


def with_set_texts(arrangement: Arrangement) -> Arrangement:
    """The arrangement with its words, cues and notes as they are set."""
    language = arrangement.language

    def text(typed: str) -> str:
        return in_drawn_order(typographic(typed, language))

    def segment(one: Segment) -> Segment:
        shown = text(one.text)
        return one if shown == one.text else replace(one, text=shown)

    def words(line: WordsLine) -> WordsLine:
        bars = tuple(tuple(map(segment, bar)) for bar in line.bars)
        pickup = segment(line.pickup)
        if bars == line.bars and pickup == line.pickup:
            return line
        return replace(line, pickup=pickup, bars=bars)

    def bar(one: ArrangedBar) -> ArrangedBar:
        if not one.bar.cues:
            return one
        cues = tuple(replace(cue, text=text(cue.text)) for cue in one.bar.cues)
        return replace(one, bar=replace(one.bar, cues=cues))

    def said(one: Announcement) -> Announcement:
        return replace(one, text=text(one.text)) if one.kind == "cue" else one

    def system(one: ArrangedSystem) -> ArrangedSystem:
        return replace(
            one,
            bars=tuple(map(bar, one.bars)),
            words=tuple(map(words, one.words)),
            above=tuple(map(said, one.above)),
        )

    def section(one: ArrangedSection) -> ArrangedSection:
        name = in_drawn_order(one.name)
        return replace(one, name=name, systems=tuple(map(system, one.systems)))

    return replace(
        arrangement,
        title=in_drawn_order(arrangement.title),
        writer=in_drawn_order(arrangement.writer),
        notes=tuple(map(text, arrangement.notes)),
        sections=tuple(map(section, arrangement.sections)),
    )


@lru_cache(maxsize=4096)
def in_drawn_order(text: str) -> str:
    """The text with what runs from right to left turned round, letter by letter."""
    if text.isascii() or not any(bidirectional(c) in ("R", "AL") for c in text):
        return text
    from bidi.algorithm import get_display

    return str(get_display(text))
