"""The words by which a player who reads none of the others knows a section, as on a road map."""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.arrange.arrangement import ArrangedSection, WordsLine
from chartkit.chart.model import Segment
from chartkit.chart.whole_words import whole_words

_FIRST_WORDS = 4
"""How many words are quoted."""


def first_words(section: ArrangedSection, bars: int) -> tuple[WordsLine, ...]:
    """The first words of each verse that a section sings, with its number, to stand under so many
    bars; none where it sings nothing."""
    rows = (_sung(system.words) for system in section.systems)
    return tuple(_line(line, _quote(line), bars) for line in next(filter(None, rows), []))


def whole_lines(words: Sequence[WordsLine], bars: int) -> tuple[WordsLine, ...]:
    """All words of each verse as one text, to stand under so many bars."""
    return tuple(_line(line, text_of(line), bars) for line in _sung(words))


def text_of(line: WordsLine) -> str:
    """The words of a line as one text, with syllables joined."""
    text, joined = "", True
    for segment in (line.pickup, *(segment for bar in line.bars for segment in bar)):
        if segment.text:
            text += segment.text if joined else f" {segment.text}"
            joined = segment.split
    return whole_words(text)


def _sung(words: Sequence[WordsLine]) -> list[WordsLine]:
    return [line for line in words if text_of(line)]


def _quote(line: WordsLine) -> str:
    words = text_of(line).split()
    return " ".join(words[:_FIRST_WORDS]) + (" …" if len(words) > _FIRST_WORDS else "")


def _line(line: WordsLine, text: str, bars: int) -> WordsLine:
    """A text in place of a line: under the first of so many bars, or without music.  One verse of
    several keeps its number where it stands alone."""
    number = line.number or ("" if line.verse is None else str(line.verse))
    if not bars:
        return replace(line, number=number, pickup=Segment(text), bars=())
    under = ((Segment(text),), *((),) * (bars - 1))
    return replace(line, number=number, pickup=Segment(), bars=under)
