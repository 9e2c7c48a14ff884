"""Which words are sung in a bar when it is played for the first, second, third time."""

from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, Chart, MusicRow, Segment, WordsRow
from chartkit.chart.playing_order import PlayedBar
from chartkit.chart.systems import placed_systems
from chartkit.chart.verses import TimesThrough, line_of_time, rows_in_order, turns_of

SungInBar = tuple[tuple[int, str, bool], ...]
"""Onsets in ticks, the words there, and whether the last word goes on."""


class VerseWords:
    """The words of a song, verse after verse as its bars come again."""

    def __init__(self, chart: Chart) -> None:
        self._systems = {
            (section, written_in, row): (system.music, system.words)
            for section, systems in enumerate(placed_systems(chart))
            for written_in, row, system in systems
            if system.music is not None and system.words
        }
        self._through = TimesThrough()
        self._rows = rows_in_order(chart)
        self._turns = turns_of(chart)
        self._stacked = {place[0] for place, (_, words) in self._systems.items() if len(words) > 1}

    def in_bar(self, bar: PlayedBar) -> SungInBar:
        """The words of a bar that is played now; each call counts as a time it is played."""
        played = bar.row_place
        place = (self._turns[bar.section], self._rows[played], bar.bar)
        system = self._systems.get(played)
        lines = system[0].lines[bar.bar : bar.bar + 2] if system else ()
        opening, closing = lines if len(lines) > 1 else (BarLine(), BarLine())
        time = self._through.at(*place, opening, closing)
        if system is None:
            return ()
        music, verses = system
        numbers = [words.verse for words in verses]
        # Notation programs write the words of a second ending into the first verse.
        for count in dict.fromkeys((time, self._through.visits(*place))):
            line = line_of_time(numbers, count, bar.section in self._stacked)
            if line is not None and (sung := _segments(music, verses[line], bar.bar)):
                return sung
        return ()


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
    return tuple((at, s.text, s.split) for at, s in sung if _has_words(s))


def _has_words(segment: Segment) -> bool:
    return bool(segment.text) and not segment.held


def _onsets(bar: Bar) -> list[int]:
    """The places for words in a bar: its chords, and a held start before the first."""
    onsets = [strike.onset for strike in bar.strikes]
    return onsets if onsets[:1] == [0] else [0, *onsets]
