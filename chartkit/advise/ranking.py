"""Every option for a song, best first, with the measures behind the order."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from chartkit.advise.difficulty import Difficulty, difficulty_of
from chartkit.advise.harmony import is_on_low_e, is_open_key, is_riff_on_open_string, lies_anywhere
from chartkit.advise.measures import contributions
from chartkit.advise.modulations import Modulations, modulations_of
from chartkit.advise.option import options
from chartkit.advise.play_through import OwnShapes, PlayThrough, play_through
from chartkit.advise.ranked import RankedOption, ShapeUse
from chartkit.advise.reasons import reasons_for
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song, moved_song, song_of
from chartkit.advise.verdict import verdict_on
from chartkit.chart.model import Chart
from chartkit.fretboard.grip_library import half_steps_below_guitar
from chartkit.fretboard.instrument import Instrument, under_capo
from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.store import BoardStore, shared_boards
from chartkit.fretboard.voicing import Voicing
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.chord import Chord, simple_chord
from chartkit.theory.key import Key
from chartkit.theory.respelling import printed_chord


@dataclass(frozen=True, slots=True)
class Advice:
    """The options of a song, best first, a verdict on them, and how hard the song is.

    ``good`` is false if no option puts the song on open shapes; ``verdict`` says so.
    ``modulations`` is the effect of key changes on the first option, None if no key goes dead;
    ``knows`` are the chords the player knows, None for a beginner's.
    """

    song: Song
    instrument: Instrument
    options: tuple[RankedOption, ...]
    verdict: str
    good: bool
    difficulty: Difficulty | None
    modulations: Modulations | None = None
    knows: tuple[Chord, ...] | None = None

    @property
    def best(self) -> RankedOption | None:
        """The first option; None for a chart without chords."""
        return self.options[0] if self.options else None

    @property
    def no_capo(self) -> RankedOption | None:
        """The option without a capo, always among them."""
        return next((o for o in self.options if o.option == Capo()), None)


def rank_options(
    chart: Chart,
    instrument: Instrument = GUITAR,
    settings: AdviceSettings | None = None,
    own: OwnShapes | None = None,
    boards: BoardStore | None = None,
) -> Advice:
    """Every option for a chart, best first.

    ``own`` holds the player's own shapes: chords as fingered above the capo and their frets.
    ``boards`` finds and keeps voicings; without it they are kept for this run only.
    """
    settings = settings or AdviceSettings()
    return rank_song(song_of(chart, settings.free_beats), instrument, settings, own, boards)


def rank_song(
    song: Song,
    instrument: Instrument = GUITAR,
    settings: AdviceSettings | None = None,
    own: OwnShapes | None = None,
    boards: BoardStore | None = None,
) -> Advice:
    """Ranks a song whose chords are already in playing order."""
    settings = settings or AdviceSettings()
    boards = boards or shared_boards()
    if not song.held_chords:
        return _no_advice(song, instrument)

    def ranker(part: Song) -> list[RankedOption]:
        return in_order(
            played_option(part, option, instrument, settings, own, boards)
            for option in options(settings)
        )

    ranked = ranker(song)
    explained = tuple(
        replace(option, reason=reason)
        for option, reason in zip(ranked, reasons_for(ranked, settings), strict=True)
    )
    boards.save()
    modulations = modulations_of(song, explained, ranker)
    dead = () if modulations is None else (modulations.dead_text, modulations.helps)
    verdict, good = verdict_on(explained, song, settings, dead)
    return Advice(
        song=song,
        instrument=instrument,
        options=explained,
        verdict=verdict,
        good=good,
        difficulty=difficulty_of(song, ranked[0], settings.knows),
        modulations=modulations,
        knows=settings.knows,
    )


def _no_advice(song: Song, instrument: Instrument) -> Advice:
    """The advice on a chart without chords."""
    return Advice(
        song=song,
        instrument=instrument,
        options=(),
        verdict="There are no chords in this chart.",
        good=False,
        difficulty=None,
    )


FEWER_BARRES_WITHIN = 0.25
"""An option with fewer barres comes first if it scores at most this much below the highest
(ours)."""
BARRES_COUNT_UP_TO = 5
"""The highest fret of a capo for which this holds (ours)."""
_FEWER = 0.1
"""The least share of the time on barres that it must save (ours)."""


def in_order(options: Iterable[RankedOption], tuned_down: int = 0) -> list[RankedOption]:
    """The options best first: by score, but of those nearly as good the one with the fewest barres
    comes first, on a guitar that comes tuned so many half steps down.

    Players choose like this between places that are almost equal: E, A, B and C sharp minor are
    played as D shapes at 2, not with two barres (ours, confirmed on songs kept apart). Only for
    places up to a low capo, and only if at least a tenth of the time is spared.
    """
    ranked = sorted(options, key=_rank)
    top = ranked[0]
    near = [
        option
        for option in ranked
        if option.score >= top.score - FEWER_BARRES_WITHIN
        and option.option.fret <= BARRES_COUNT_UP_TO
        and option.option.tuned_down == tuned_down
    ]
    least = min(near, key=lambda option: round(option.measures.barres, 9), default=top)
    if top not in near or least.measures.barres > top.measures.barres - _FEWER:
        return ranked
    return [least, *(option for option in ranked if option is not least)]


def played_option(
    song: Song,
    option: Capo,
    instrument: Instrument = GUITAR,
    settings: AdviceSettings | None = None,
    own: OwnShapes | None = None,
    boards: BoardStore | None = None,
) -> RankedOption:
    """One option of a song played through, without a reason for its place.

    Shapes have the names that a guitarist's hand knows, also on a baritone, which sounds lower.
    """
    settings = settings or AdviceSettings()
    shapes = moved_song(song, -option.raised)
    under = under_capo(instrument, option)
    board = (boards or shared_boards()).board(under, option.fret, option.tuned_down)
    played = play_through(shapes, board, settings, own)
    below = half_steps_below_guitar(instrument)
    named = moved_song(song, below - option.raised) if below else shapes
    price = option_price(option, song, named.keys, settings)
    total = sum(contributions(played.measures, settings.score).values())
    return RankedOption(
        option=option,
        shape_keys=named.keys,
        sounding_keys=song.keys,
        shapes=_uses(song, named.keys, played),
        voicings=played.voicings,
        measures=played.measures,
        open_shares=_open_shares(song, played.voicings),
        drones=_drones(played.voicings),
        price=price,
        score=total - price,
    )


def option_price(
    option: Capo, song: Song, shape_keys: Sequence[Key], settings: AdviceSettings
) -> float:
    """The cost of the capo and the tuning in this song, played with the shapes of those keys."""
    prices = settings.prices
    price = price_for_one_song(option, shape_keys, settings) + prices.capo(option.fret)
    price += prices.floppy * max(0, option.tuned_down - prices.floppy_from)
    if option != NO_CAPO:
        home = shape_keys[0] if shape_keys else None
        riff = option.tuned_down and home is not None and is_riff_on_open_string(song, home)
        price += 0.0 if riff else prices.closed * lies_anywhere(song)
    return price


def price_for_one_song(option: Capo, shape_keys: Sequence[Key], settings: AdviceSettings) -> float:
    """The part of an option's price that it has as the place for one song alone.

    That is what it costs to tune the guitar down, floppy strings aside, and to put a capo on for a
    key of shapes that few players do that for.  In a night the guitar may stand so already, and a
    plan charges changes by their seconds.
    """
    prices, home = settings.prices, shape_keys[0] if shape_keys else None
    price = replace(prices, floppy=0.0).tuning_down(option.tuned_down, settings.place)
    if option != NO_CAPO and home is not None:
        price += prices.unusual_key * (not is_open_key(home))
        price -= prices.half_step_to_e * (option == Capo(0, 1) and is_on_low_e(home))
    return price


def _uses(song: Song, shape_keys: Sequence[Key], played: PlayThrough) -> tuple[ShapeUse, ...]:
    """Every shape that is played, named as on the page in the keys of the shapes."""
    moves = [there.tonic - here.tonic for there, here in zip(shape_keys, song.keys, strict=True)]
    shares: dict[tuple[Chord, int, Voicing | None], float] = {}
    for sounds, voicing in zip(song.held_chords, played.voicings, strict=True):
        use = sounds.chord, sounds.area, voicing
        shares[use] = shares.get(use, 0.0) + sounds.beats / song.beats
    named: dict[tuple[Chord, Chord, Voicing | None], float] = {}
    for (chord, area, voicing), share in shares.items():
        name = printed_chord(chord, song.keys[area], moves[area])
        use_named = simple_chord(name), simple_chord(chord), voicing
        named[use_named] = named.get(use_named, 0.0) + share
    return tuple(ShapeUse(*use, share) for use, share in named.items())


def _open_shares(song: Song, voicings: Sequence[Voicing | None]) -> tuple[float, ...]:
    opened = [0.0] * len(song.keys)
    for held, voicing in zip(song.held_chords, voicings, strict=True):
        if voicing is not None and voicing.in_open_position:
            opened[held.area] += held.beats
    return tuple(beats / (song.area_beats(area) or 1.0) for area, beats in enumerate(opened))


def _drones(voicings: Sequence[Voicing | None]) -> int:
    """How many strings ring open in every shape of the song."""
    if not voicings:
        return 0
    common = [frozenset() if v is None else v.open_strings for v in voicings]
    return len(frozenset.intersection(*common))


def _rank(ranked: RankedOption) -> tuple[float, int, int]:
    """The sort key: the best first; at equal scores the guitar that is retuned less, then the lower
    capo."""
    return -round(ranked.score, 9), ranked.option.tuned_down, ranked.option.fret
