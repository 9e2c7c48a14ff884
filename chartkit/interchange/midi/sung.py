"""Which words are sung in a bar when it is played for the first, second, third time."""

from chartkit.chart.model import TICKS_PER_BEAT, Bar, Chart, MusicRow, Segment, WordsRow
from chartkit.chart.playing_order import PlayedBar
from chartkit.chart.sung_lines import VersesSung

SungInBar = tuple[tuple[int, str, bool], ...]
"""Onsets in ticks, the words there, and whether the last word goes on."""


class VerseWords:
    """The words of a song, verse after verse as its bars come again."""

    def __init__(self, chart: Chart) -> None:
        self._verses = VersesSung(chart)

    def in_bar(self, bar: PlayedBar) -> SungInBar:
        """The words of a bar that is played now; each call counts as a time it is played."""
        system, lines = self._verses.at(bar)
        if system is None or system.music is None:
            return ()
        sung = (_segments(system.music, system.words[line], bar.bar) for line in lines)
        return next(filter(None, sung), ())


def _segments(music: MusicRow, words: WordsRow, bar: int) -> SungInBar:
    """The segments of one bar with their onsets; the row's pick-up is sung a beat before it."""
    before = not music.free and music.lines[0].kind == "none"
    cell = bar if before or music.free else bar + 1
    if cell >= len(words.cells):
        return ()
    segments = words.cells[cell]
    onsets = _onsets(music.bars[bar])
    sung = list(zip(onsets, segments, strict=False))
    if bar == 0 and cell == 1:
        pickup = words.cells[0]
        sung = [(-TICKS_PER_BEAT, segment) for segment in pickup] + sung
    return tuple((onset, s.text, s.split) for onset, s in sung if _has_words(s))


def _has_words(segment: Segment) -> bool:
    return bool(segment.text) and not segment.held


def _onsets(bar: Bar) -> list[int]:
    """The places for words in a bar: its chords, and a held start before the first."""
    onsets = [strike.onset for strike in bar.strikes]
    return onsets if onsets[:1] == [0] else [0, *onsets]
