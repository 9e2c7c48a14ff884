"""A song's text read: what the set needs to know of it before pages are made.

One call is one piece of work for a worker: plain values in, plain values out.
"""

from dataclasses import dataclass, replace

from chartkit.advise.beside import ComplementWeights, meeting
from chartkit.advise.moving_capo import MovingCapo, with_moving_capo
from chartkit.advise.ranking import Advice, rank_options
from chartkit.advise.register import Moment, part_of
from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes
from chartkit.advise.set_steps import Capos
from chartkit.advise.settings import AdviceSettings
from chartkit.arrange.arrange import printable
from chartkit.arrange.key_areas import song_areas
from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View, target_key
from chartkit.chart.keys import written_key
from chartkit.chart.model import TICKS_PER_BEAT, Chart
from chartkit.chart.playing_order import playing_order
from chartkit.chart.walk import iter_chords
from chartkit.diagnostics import Source, has_errors, shown
from chartkit.fretboard.grip_library import half_steps_below_guitar
from chartkit.fretboard.instrument import Instrument
from chartkit.syntax.reader import read_chart
from chartkit.theory.key import Key
from chartkit.theory.printed import letter_name
from chartkit.theory.transposition import key_moved_by

_USUAL_TEMPO, _FREE_BEATS = 100, 4
"""What is taken for a song without a tempo, and the beats of a bar in free time (assumed)."""


@dataclass(frozen=True, slots=True)
class GuitarAsked:
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
    guitars: tuple[GuitarAsked, ...] = ()
    pairs: tuple[tuple[int, int], ...] = ()


PairRoom = tuple[tuple[Capos, Capos, float], ...]
"""Options of two guitars and how much of the same room they fill, 0 to 1."""


@dataclass(frozen=True, slots=True)
class SongFacts:
    """What a set knows of a song.

    ``key`` is what sounds tonight, ``first`` the first chord that does, ``meter`` the one at the
    start, ``seconds`` how long the song lasts, ``messages`` every mistake as it is shown.
    ``key_problem`` says why it cannot be moved to tonight's key.  ``lacks`` has, for every guitar
    asked about, each option and what its score lacks against the best on any of them, the adviser's
    first choice first; last stands the capo moved inside the song, where the chart moves it.
    ``rooms`` has, for every pair asked about, what their options share.  A ``broken`` song has only
    its name and its messages.
    """

    title: str
    key: Key | None = None
    tempo: int | None = None
    beats: int = 4
    meter: str = "4/4"
    seconds: float = 0.0
    first: str = ""
    broken: bool = False
    messages: tuple[str, ...] = ()
    key_problem: str = ""
    lacks: tuple[tuple[tuple[Capos, float], ...], ...] = ()
    rooms: tuple[PairRoom, ...] = ()


def song_facts(request: SongRequest) -> SongFacts:
    """What a set needs to know of a song; never raises for what the text says."""
    source = Source(request.text, request.name)
    reading = read_chart(source)
    messages = tuple(shown(one, source) for one in reading.diagnostics)
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
    return SongFacts(
        title=title,
        key=song_areas(chart, view)[written_key(chart)].sounding,
        tempo=tempo if isinstance(tempo, int) else None,
        beats=chart.meter.beats,
        meter=str(chart.meter),
        seconds=_seconds(chart),
        first=_first_sounding(chart, view),
        broken=False,
        messages=messages,
        key_problem="",
        lacks=_lacks(played),
        rooms=tuple(_shared_room(played[one], played[other]) for one, other in request.pairs),
    )


def tonight_view(chart: Chart, key: str | None, shift: int) -> View:
    """The view that moves a chart to a key, by half steps, or both.

    Raises ValueError for a key that is none, or whose mode is not the song's.
    """
    if key is None:
        return View(by=shift or None)
    sounding = song_areas(chart, View())[written_key(chart)].sounding
    return View(key=key_moved_by(target_key(key, sounding), shift))


def _first_sounding(chart: Chart, view: View) -> str:
    first = next(iter_chords(chart.sections), None)
    if first is None:
        return ""
    area = song_areas(chart, view)[written_key(chart)]
    return letter_name(printable(first, area.written, area.to_sounding)).plain()


def _seconds(chart: Chart) -> float:
    """How long the song lasts, repeats and all."""
    ticks = sum(bar.length or _FREE_BEATS * TICKS_PER_BEAT for bar in playing_order(chart).bars)
    tempo = chart.setting("tempo")
    return ticks / TICKS_PER_BEAT * 60 / (tempo if isinstance(tempo, int) else _USUAL_TEMPO)


@dataclass(frozen=True, slots=True)
class _Played:
    """A song on one guitar: the places for a whole song, ranked, and the chart's moves of the
    capo, None where it makes none or for a guitar that the chart is not for."""

    guitar: GuitarAsked
    advice: Advice
    moving: MovingCapo | None


def _played(chart: Chart, view: View, guitars: tuple[GuitarAsked, ...]) -> tuple[_Played, ...]:
    """The song on each guitar."""
    if not guitars:
        return ()
    moved, boards = moved_chart(chart, view), boards_on_disk()
    every = []
    for guitar in guitars:
        instrument, settings = guitar.instrument, guitar.settings
        own = own_shapes(chart) if instrument_of(chart) == instrument else None
        advice = rank_options(moved, instrument, settings, own, boards)
        moving = None
        if _reads_capos(chart, instrument):
            moving = with_moving_capo(chart, advice.song, instrument, settings, own, boards)
        every.append(_Played(guitar, advice, moving))
    return tuple(every)


def _reads_capos(chart: Chart, instrument: Instrument) -> bool:
    """Whether the chart's capos mean this instrument: the chart's own, or one that is as high."""
    own = instrument_of(chart)
    below = half_steps_below_guitar(instrument)
    return instrument == own or (below is not None and below == half_steps_below_guitar(own))


def _lacks(played: tuple[_Played, ...]) -> tuple[tuple[tuple[Capos, float], ...], ...]:
    worths = [_worths_on(one) for one in played]
    best = max((worth for own in worths for _, worth in own), default=0.0)
    return tuple(tuple((capos, round(best - worth, 6)) for capos, worth in own) for own in worths)


def _worths_on(played: _Played) -> tuple[tuple[Capos, float], ...]:
    """Each option on a guitar, the adviser's first choice first, and its worth in playing.

    The price of tuning down that the adviser takes for a single song is given back, since
    the plan charges each retuning by its seconds; floppy strings keep theirs.
    """
    settings, moving = played.guitar.settings, played.moving
    unpriced = replace(settings.prices, floppy=0.0)
    scores: list[tuple[Capos, float]] = [
        ((one.option,), one.score) for one in played.advice.options
    ]
    scores += [(moving.capos, moving.score)] if moving is not None else []
    return tuple(
        (capos, score + unpriced.tuning_down(capos[0].tuned_down, settings.place))
        for capos, score in scores
    )


def _shared_room(one: _Played, other: _Played) -> PairRoom:
    """How much of the same room the options of two guitars fill, overlap and unisons weighed
    as the adviser weighs them beside a first guitar."""
    weights = ComplementWeights()
    their_parts = _parts(other)
    shared = []
    for capos, part in _parts(one):
        for theirs, their_part in their_parts:
            met = meeting(part, their_part)
            taken = weights.overlap * met.overlap + weights.unisons * met.unisons
            shared.append((capos, theirs, round(taken / (weights.overlap + weights.unisons), 6)))
    return tuple(shared)


def _parts(played: _Played) -> list[tuple[Capos, tuple[Moment, ...]]]:
    """What the guitar sounds with each of its options."""
    advice, moving = played.advice, played.moving
    parts: list[tuple[Capos, tuple[Moment, ...]]] = [
        ((o.option,), part_of(advice.song, o, advice.instrument)) for o in advice.options
    ]
    if moving is not None:
        parts.append((moving.capos, moving.part(advice.song, advice.instrument)))
    return parts
