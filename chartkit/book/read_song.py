"""Reads a song's text: what the set needs to know about it before pages are made.

One call is one piece of work for a worker: plain values in, plain values out.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import takewhile
from typing import NamedTuple

from chartkit.advise.beside import ComplementWeights, compare_parts
from chartkit.advise.moving_capo import MovingCapo, with_moving_capo
from chartkit.advise.open_strings import riff_off_open_strings
from chartkit.advise.ranked import RankedOption
from chartkit.advise.ranking import Advice, in_order, price_for_one_song, rank_options
from chartkit.advise.register import Moment, part_of
from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes
from chartkit.advise.set_steps import SongSetup
from chartkit.advise.settings import AdviceSettings
from chartkit.arrange.key_areas import song_areas, sounding_key
from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View, target_key
from chartkit.chart.keys import written_key
from chartkit.chart.model import TICKS_PER_BEAT, Chart, CueRow, MusicRow, WordsRow
from chartkit.chart.playing_order import playing_order
from chartkit.chart.tempi import Pace, paces_of_rows
from chartkit.chart.walk import iter_chords
from chartkit.diagnostics import Source, diagnostic_text, has_errors
from chartkit.fretboard.grip_library import half_steps_below_guitar
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.retuning import SongTuning, song_tuning
from chartkit.layout.quotes import with_typographic_quotes
from chartkit.syntax.reader import read_chart
from chartkit.theory.capo import Capo
from chartkit.theory.chord_parts import PrintedChord, letter_name
from chartkit.theory.key import Key
from chartkit.theory.respelling import printed_chord
from chartkit.theory.transposition import key_moved_by

_USUAL_TEMPO = 100
"""The assumed tempo of a song without one."""
_FREE_BEATS = 4
"""The assumed beats of a bar in free time."""


@dataclass(frozen=True, slots=True)
class GuitarRequest:
    """A guitar whose options a song is asked for, and what its player allows."""

    instrument: Instrument
    settings: AdviceSettings


@dataclass(frozen=True, slots=True)
class SongRequest:
    """A song's text, its name in messages, tonight's key and the guitars to try it on.

    ``pairs`` are guitars, by their place, that are played beside one another.
    """

    text: str
    name: str
    key: str | None = None
    shift: int = 0
    guitars: tuple[GuitarRequest, ...] = ()
    pairs: tuple[tuple[int, int], ...] = ()


class WayCost(NamedTuple):
    """A way to play a song on a guitar, how far its score lies below the best on any guitar asked
    about, and the share of time on open shapes, 0 to 1, None where the capo moves."""

    way: SongSetup
    score_gap: float
    open_share: float | None


PairOverlap = tuple[tuple[SongSetup, SongSetup, float], ...]
"""Ways to play a song on two guitars and how much of the same room they fill, 0 to 1."""


@dataclass(frozen=True, slots=True)
class SongFacts:
    """The facts of a song that its set needs.

    ``key`` is what sounds tonight, ``first`` the first chord that does, ``meter`` the one at the
    start, ``seconds`` how long the song lasts, ``messages`` every mistake as it is shown.
    ``opening`` is the first cue over its first music, which says who begins or how, ``language``
    that of its words.
    ``tuning`` is the instrument that the chart names, where that is no guitar as usual. ``short``
    is the short capo that the chart begins with, ``kept_capo`` that of a chart that is a guitar's
    part, whose grips are for no other, ``own_capo`` the whole capo that the chart names, where it
    is played in its own key.  ``key_problem`` says why it cannot be moved to
    tonight's key.  ``score_gaps`` has, for every guitar asked about, each way to play it with its
    cost, the adviser's first choice first. ``overlaps``
    has, for every pair asked about, what their options share.  A ``broken`` song has only its name
    and its messages.
    """

    title: str
    key: Key | None = None
    tempo: int | None = None
    beats: int = 4
    meter: str = "4/4"
    seconds: float = 0.0
    first: PrintedChord | None = None
    tuning: str = ""
    broken: bool = False
    messages: tuple[str, ...] = ()
    key_problem: str = ""
    short: Capo | None = None
    kept_capo: Capo | None = None
    own_capo: Capo | None = None
    score_gaps: tuple[tuple[WayCost, ...], ...] = ()
    overlaps: tuple[PairOverlap, ...] = ()
    opening: str = ""
    language: str = ""

    @property
    def printed_title(self) -> str:
        """The title with true quotes, as it stands on the song's own page."""
        return self.as_printed(self.title)

    def as_printed(self, text: str) -> str:
        """A text about the song with true quotes, as its pages have them."""
        return with_typographic_quotes(text, self.language)


def song_facts(request: SongRequest) -> SongFacts:
    """The facts of a song that its set needs; never raises because of the text."""
    source = Source(request.text, request.name)
    reading = read_chart(source)
    messages = tuple(diagnostic_text(one, source) for one in reading.diagnostics)
    chart = reading.chart
    title = chart.text("title") or request.name
    if has_errors(reading.diagnostics):
        return SongFacts(title, broken=True, messages=messages)
    try:
        view = tonight_view(chart, request.key, request.shift)
    except ValueError as reason:
        return SongFacts(title, broken=True, messages=messages, key_problem=str(reason))
    tempo = chart.setting("tempo")
    played = _played(chart, view, request.guitars)
    key = sounding_key(chart, view)
    messages += tuple(diagnostic_text(one, source) for one in riff_off_open_strings(chart, key))
    return SongFacts(
        title=title,
        key=key,
        tempo=tempo if isinstance(tempo, int) else None,
        beats=chart.meter.beats,
        meter=str(chart.meter),
        seconds=_seconds(chart),
        first=_first_sounding(chart, view),
        tuning=chart.text("instrument") if asks_for_tuning(chart) else "",
        broken=False,
        messages=messages,
        key_problem="",
        short=chart.capo if chart.capo.strings else None,
        kept_capo=chart.capo if chart.text("part") and chart.shapes() else None,
        own_capo=_own_capo(chart, key),
        score_gaps=_score_gaps(played),
        overlaps=tuple(
            _shared_register(played[one], played[other]) for one, other in request.pairs
        ),
        opening=_opening(chart),
        language=chart.text("language"),
    )


def _own_capo(chart: Chart, tonight: Key) -> Capo | None:
    """The capo over all strings that the chart names, in its own key: shapes for another one its
    writer has not chosen."""
    named = chart.capo.fret and not chart.capo.strings
    return chart.capo if named and tonight == sounding_key(chart) else None


def _opening(chart: Chart) -> str:
    """The first cue over the song's first music; empty where there is none."""
    rows = chart.sections[0].rows if chart.sections else ()
    before = takewhile(lambda row: not isinstance(row, MusicRow | WordsRow), rows)
    return next((row.text for row in before if isinstance(row, CueRow)), "")


def tonight_view(chart: Chart, key: str | None, shift: int) -> View:
    """The view that moves a chart to a key, by half steps, or both.

    Raises ValueError for what is not a key, and for a key in another mode than the song's.
    """
    if key is None:
        return View(by=shift or None)
    sounding = sounding_key(chart)
    return View(key=key_moved_by(target_key(key, sounding), shift))


def _first_sounding(chart: Chart, view: View) -> PrintedChord | None:
    first = next(iter_chords(chart.sections), None)
    if first is None:
        return None
    area = song_areas(chart, view)[written_key(chart)]
    return letter_name(printed_chord(first, area.written, area.to_sounding))


def _seconds(chart: Chart) -> float:
    """How long the song lasts, repeats and all."""
    paces, none = paces_of_rows(chart), Pace(None, "")
    usual = _USUAL_TEMPO * 4 * chart.meter.beat
    seconds = 0.0
    for bar in playing_order(chart).bars:
        beats = Fraction(bar.length, TICKS_PER_BEAT) or _FREE_BEATS
        pace = paces.get(bar.row_place, none)
        seconds += float(beats * 60 / (pace.beats(bar.meter) or usual / (4 * bar.meter.beat)))
    return seconds


@dataclass(frozen=True, slots=True)
class _Played:
    """A song on one guitar in one tuning: the places for a whole song, ranked, and the chart's
    moves of the capo, None where it makes none or for a guitar that the chart is not for.

    ``song_tuning`` is the chart's tuning, where that is not the guitar's own.
    """

    advice: Advice
    moving: MovingCapo | None
    settings: AdviceSettings
    song_tuning: SongTuning | None = None

    def ways(self) -> list[tuple[SongSetup, float, float | None]]:
        """Each way to play the song with its worth in a night, the adviser's first choice first;
        with the share of time on open shapes, None where the capo moves."""
        ways = list[tuple[SongSetup, float, float | None]]()
        settings = self.settings
        for one in _in_each_tuning(self.advice.options):
            worth = one.score + price_for_one_song(one.option, one.shape_keys, settings)
            setup = SongSetup((one.option,), self.song_tuning)
            ways.append((setup, worth, one.measures.open_share))
        if self.moving is not None:
            capos = self.moving.capos
            worth = self.moving.score + price_for_one_song(capos[0], (), settings)
            ways.append((SongSetup(capos, self.song_tuning), worth, None))
        return ways

    def parts(self) -> list[tuple[SongSetup, tuple[Moment, ...]]]:
        """The guitar's sounding notes for each way to play the song."""
        song, instrument = self.advice.song, self.advice.instrument
        parts = [
            (SongSetup((one.option,), self.song_tuning), part_of(song, one, instrument))
            for one in self.advice.options
        ]
        if self.moving is not None:
            parts.append(
                (SongSetup(self.moving.capos, self.song_tuning), self.moving.part(song, instrument))
            )
        return parts


def _in_each_tuning(options: Sequence[RankedOption]) -> Iterator[RankedOption]:
    """The options of one tuning of all strings after those of another, the adviser's first choice
    first, each tuning in the order that suits a guitar that comes so."""
    for down in dict.fromkeys(one.option.tuned_down for one in options):
        yield from in_order((one for one in options if one.option.tuned_down == down), down)


_Ways = tuple[_Played, ...]
"""A song on one guitar: in its own tuning, and where the chart names another one, in that."""


def _played(chart: Chart, view: View, guitars: tuple[GuitarRequest, ...]) -> tuple[_Ways, ...]:
    """The song on each guitar."""
    if not guitars:
        return ()
    moved, named = moved_chart(chart, view), instrument_of(chart)
    every = []
    for guitar in guitars:
        ways = [_played_on(chart, moved, guitar.instrument, guitar.settings, None)]
        other = song_tuning(guitar.instrument, named) if asks_for_tuning(chart) else None
        if other is not None:
            ways.append(_played_on(chart, moved, named, guitar.settings, other))
        every.append(tuple(ways))
    return tuple(every)


def _played_on(
    chart: Chart,
    moved: Chart,
    instrument: Instrument,
    settings: AdviceSettings,
    other: SongTuning | None,
) -> _Played:
    boards = boards_on_disk()
    own = own_shapes(chart) if instrument_of(chart) == instrument else None
    advice = rank_options(moved, instrument, settings, own, boards)
    moving = None
    if _reads_capos(chart, instrument):
        moving = with_moving_capo(chart, advice.song, instrument, settings, own, boards)
    return _Played(advice, moving, settings, other)


def asks_for_tuning(chart: Chart) -> bool:
    """Whether the chart names an instrument that is no guitar in its usual tuning."""
    return bool(chart.text("instrument")) and instrument_of(chart) != GUITAR


def _reads_capos(chart: Chart, instrument: Instrument) -> bool:
    """Whether the chart's capos apply to this instrument: the chart's own, or one as high."""
    own = instrument_of(chart)
    below = half_steps_below_guitar(instrument)
    return instrument == own or (below is not None and below == half_steps_below_guitar(own))


def _score_gaps(played: tuple[_Ways, ...]) -> tuple[tuple[WayCost, ...], ...]:
    worths = [[worth for one in ways for worth in _worths(one)] for ways in played]
    best = max((worth for own in worths for _, worth, _ in own), default=0.0)
    return tuple(
        tuple(WayCost(way, round(best - worth, 6), share) for way, worth, share in own)
        for own in worths
    )


_LESS = 0.01
"""How much less an option is worth at least than the one ranked before it."""
_NONE_OPEN = 0.05
"""Up to this share of its time on open shapes a song has none (ours)."""
_MOSTLY_OPEN = 0.6
"""From this share on it is mostly on them (ours)."""
_LEFT_WITHOUT_OPEN = 3.0
"""What it costs besides to play a song without an open shape that lies mostly on them elsewhere:
as much as a capo in a song on closed grips, so that a song is not spoilt to spare a change in the
one beside it (ours)."""


def _worths(played: _Played) -> Iterator[tuple[SongSetup, float, float | None]]:
    """Each way to play the song, its worth in playing, and its share of time on open shapes.

    Prices that the adviser takes for a single song are given back (``price_for_one_song``), since
    the plan charges each change by its seconds.  A song that lies mostly on open shapes is not
    left without any to spare a change; only a change for which there is no time costs more.  The
    adviser ranks fewer barres before a slightly better score, so of places in one tuning each is
    worth less than those ranked before it: if nothing has to be changed, the plan takes the
    adviser's first.
    """
    most = dict[int, float]()
    first = played.advice.best
    mostly_open = 0.0 if first is None else first.measures.open_share
    for way, worth, share in played.ways():
        down = way.capos[0].tuned_down
        if share is not None and share <= _NONE_OPEN and mostly_open >= _MOSTLY_OPEN:
            worth -= _LEFT_WITHOUT_OPEN
        if len(way.capos) == 1:
            worth = min(worth, most.get(down, worth + _LESS) - _LESS)
            most[down] = worth
        yield way, worth, share


def _shared_register(one: _Ways, other: _Ways) -> PairOverlap:
    """How much of the same room two guitars fill each way, overlap and unisons weighed as the
    adviser weighs them beside a first guitar."""
    weights = ComplementWeights()
    theirs = [part for played in other for part in played.parts()]
    shared = []
    for way, part in (part for played in one for part in played.parts()):
        for their_way, their_part in theirs:
            met = compare_parts(part, their_part)
            taken = weights.overlap * met.overlap + weights.unisons * met.unisons
            shared.append((way, their_way, round(taken / (weights.overlap + weights.unisons), 6)))
    return tuple(shared)
