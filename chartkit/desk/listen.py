"""Prepares a song for listening: the guitars as they are fingered, in seconds.

What is played is what ``chartkit export --to midi`` plays; here moments become seconds, so that a
browser can sound them.
"""

from bisect import bisect_right
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View
from chartkit.chart.model import Chart, MusicRow
from chartkit.chart.playing_order import PlayedBar, playing_order
from chartkit.desk.pages import Facts, song_of_text, view_of
from chartkit.desk.requests import PageRequest
from chartkit.diagnostics import Span, has_errors
from chartkit.files import Unusable
from chartkit.interchange.midi.performance import Performance, StringNote, TimedBar, performance
from chartkit.interchange.midi.write import STRUM_MS, MidiTrack, midi_bytes

_LOUDNESS = {"down": 1.0, "up": 0.8, "muted": 0.45}
"""How loud a stroke is, as parts of a down stroke (the ratios of the MIDI file's velocities)."""
_MOST_NOTES = 60_000
"""The notes of the longest song that is sounded."""


def midi_of(chart: Chart, view: View) -> tuple[bytes, tuple[str, ...]]:
    """The file that ``chartkit export --to midi`` writes, and what it leaves out.

    Raises Unusable for a chart without bars.
    """
    title, played = chart.text("title") or "Untitled", _played(chart, view)
    cut = f"what comes after {len(played.bars):,} bars"
    return midi_bytes(title, [MidiTrack("guitar", played)]), (cut,) if played.cut_short else ()


def playback(request: PageRequest) -> Facts:
    """The music to play: ``guitars`` as lists of notes (start, end, pitch, loudness), a list for
    each; ``bars`` (start, beats, seconds a beat), ``sections`` (name, start), and where the ``end``
    is. ``places`` says for each bar where it stands in the text, from where to where, and where the
    heading of the section that is played begins.

    Times are seconds from the first bar, pitches numbers of MIDI.  Raises Unusable for a chart
    with mistakes or without bars, ValueError for what is not a key.
    """
    song = song_of_text(request.text)
    if has_errors(song.reading.diagnostics):
        raise Unusable("the chart has mistakes", "correct them first")
    view = view_of(request, song.chart)
    views = [view, *([View(view.second_capo, view.key)] if view.second_capo is not None else [])]
    guitars = [_played(song.chart, played_view) for played_view in views]
    first, clock = guitars[0], _Clock(guitars[0])
    return {
        "guitars": [[_note(note, clock) for note in played.notes] for played in guitars],
        "bars": [_bar(bar, clock) for bar in first.bars],
        "places": _places(song.chart),
        "sections": _sections(song.chart, first, clock),
        "end": round(clock.seconds(first.end), 4),
        "cut_short": first.cut_short,
    }


def _played(chart: Chart, view: View) -> Performance:
    played = performance(moved_chart(chart, view), view.capo)
    if not played.bars:
        raise Unusable("there is nothing to play in this chart")
    if len(played.notes) > _MOST_NOTES:
        raise Unusable("this song is too long to be sounded here")
    return played


def _beat(bar: TimedBar) -> tuple[float, float]:
    """How long a beat of the bar is, in quarter notes and in seconds."""
    return float(4 * bar.meter.beat), float(60 / bar.tempo)


@dataclass(frozen=True, slots=True)
class _Start:
    """Where a tempo begins: in quarter notes, in seconds, and the seconds of a quarter note."""

    quarters: float
    seconds: float
    a_quarter: float


class _Clock:
    """Quarter notes to seconds; asked in any order."""

    def __init__(self, lead: Performance) -> None:
        self._starts: list[_Start] = []
        seconds = 0.0
        for bar, after in pairwise((*lead.bars, None)):
            assert bar is not None
            quarters, beat_seconds = _beat(bar)
            start = _Start(float(bar.start), seconds, beat_seconds / quarters)
            if not self._starts or self._starts[-1].a_quarter != start.a_quarter:
                self._starts.append(start)
            end = lead.end if after is None else after.start
            seconds += float(end - bar.start) * start.a_quarter

    def seconds(self, moment: Fraction) -> float:
        """Seconds from the first bar."""
        quarters = float(moment)
        place = bisect_right(self._starts, quarters, key=lambda start: start.quarters)
        start = self._starts[max(0, place - 1)]
        return start.seconds + (quarters - start.quarters) * start.a_quarter


def _note(note: StringNote, clock: _Clock) -> list[float]:
    start, end = clock.seconds(note.start), clock.seconds(note.end)
    start += min(note.place * STRUM_MS / 1000, (end - start) / 2)
    return [round(start, 4), round(end, 4), note.pitch, _LOUDNESS[note.stroke]]


def _bar(bar: TimedBar, clock: _Clock) -> list[float]:
    return [round(clock.seconds(bar.start), 4), bar.meter.beats, round(_beat(bar)[1], 5)]


def _places(chart: Chart) -> list[tuple[int, int, int]]:
    return [
        (*_place(chart, bar), chart.sections[bar.section].span.start)
        for bar in playing_order(chart).bars
    ]


def _place(chart: Chart, played: PlayedBar) -> Span:
    """From the bar line before a bar to the one after it, or from its first chord to its last."""
    row = chart.sections[played.written_in].rows[played.row]
    if not isinstance(row, MusicRow) or played.bar >= len(row.bars):
        return Span(0, 0)
    spans = [strike.span for strike in row.bars[played.bar].strikes]
    lines = [line.span for line in row.lines[played.bar : played.bar + 2]]
    before, after = (*lines, Span(0, 0), Span(0, 0))[:2]
    start = before.end or min((span.start for span in spans), default=0)
    end = after.start or max((span.end for span in spans), default=0)
    return Span(start, max(start, end))


def _sections(chart: Chart, played: Performance, clock: _Clock) -> list[list[object]]:
    """Each section as it comes, with where it starts."""
    starts: list[list[object]] = []
    last = -1
    for played_bar, bar in zip(playing_order(chart).bars, played.bars, strict=False):
        if played_bar.section != last:
            name = chart.sections[played_bar.section].name or "from the top"
            starts.append([name, round(clock.seconds(bar.start), 4)])
        last = played_bar.section
    return starts
