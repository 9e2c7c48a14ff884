"""A second guitar beside the first, and several spread over the neck.

A second part looks for room: high when the first is low, low when it is high, out of the singer's
way (common practice).  The formula is ours, unsourced: complement = 1 - (0.6 overlap + 0.15 unisons
+ 0.25 overlap with the voice), and the value by which positions are ranked is the complement less a
little of what the capo or the tuning costs, and of what its shapes ask of the hand.  Positions that
play badly are set apart first, for otherwise the highest capo would always lead.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from chartkit.advise.option import options
from chartkit.advise.play_through import OwnShapes
from chartkit.advise.ranked import RankedOption
from chartkit.advise.ranking import played_option
from chartkit.advise.reasons import HIGH_CAPO, barre_names, shape_key_name
from chartkit.advise.register import (
    Moment,
    PartComparison,
    Register,
    histogram,
    moments_together,
    overlap,
    part_of,
    register_of,
    shared_sound,
    sung_histogram,
)
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.store import BoardStore, shared_boards
from chartkit.theory.capo import Capo, step_words
from chartkit.theory.pitch import PitchRange


@dataclass(frozen=True, slots=True)
class ComplementWeights:
    """The weights of the complement (ours, unsourced)."""

    overlap: float = 0.6
    unisons: float = 0.15
    voice: float = 0.25
    playable_within: float = 1.3
    """An option is playable if it scores at most this much below the easiest, prices aside: in a
    song of plain triads F shapes are not, if G shapes are possible."""
    price: float = 0.1
    """The weight of a point of price against complement: a guitar tuned down on stage must have a
    fifth more room than one in its own tuning."""
    ease: float = 0.1
    """The weight of a point of score against complement: a part a little further away is not better
    if it has shapes that nobody likes."""
    barres: float = 0.2
    """The cost of playing barres all the time: they last the whole song, as the distance between
    the parts does."""

    def complement(self, shared: float, unisons: float, voice: float) -> float:
        """How much of the register a part has to itself, up to 1, from its overlap with the first
        guitar, its unisons with it and its overlap with the voice."""
        return 1 - (self.overlap * shared + self.unisons * unisons + self.voice * voice)

    def effort(self, option: RankedOption) -> float:
        """The cost of hard shapes in the value of a position, without the price of its capo."""
        ease = self.ease * (option.score + option.price)
        return self.barres * option.measures.barres - ease


@dataclass(frozen=True, slots=True)
class BesideOption:
    """An option for a second guitar: how it plays and how it fits the first.

    ``voice`` is its overlap with the sung range, 0 if none was given; ``complement`` goes up to 1,
    which is a register all to itself; ``value`` is the complement minus the cost of the capo or
    tuning and of hard shapes; ``reason`` is one sentence.
    """

    played: RankedOption
    comparison: PartComparison
    voice: float
    complement: float
    playable: bool
    register: Register | None
    value: float
    reason: str


def rank_beside(
    song: Song,
    first: Sequence[Moment],
    *,
    sung: PitchRange | None = None,
    instrument: Instrument = GUITAR,
    settings: AdviceSettings | None = None,
    weights: ComplementWeights | None = None,
    own: OwnShapes | None = None,
    boards: BoardStore | None = None,
) -> tuple[BesideOption, ...]:
    """Options for a second guitar, the playable ones first, each group by value.

    ``first`` is what the first guitar sounds: ``register.part_of`` computes it from a song and an
    option, which may be another chart's.  Equal values go by ease.
    """
    settings, weights = settings or AdviceSettings(), weights or ComplementWeights()
    ranked = [
        _beside(
            song,
            first,
            sung=sung,
            instrument=instrument,
            weights=weights,
            played=played,
            playable=playable,
        )
        for played, playable in _playable(song, instrument, settings, weights, own, boards)
    ]
    ranked.sort(key=lambda o: (not o.playable, -round(o.value, 6), -o.played.score))
    return tuple(ranked)


def _playable(
    song: Song,
    instrument: Instrument,
    settings: AdviceSettings,
    weights: ComplementWeights,
    own: OwnShapes | None,
    boards: BoardStore | None,
) -> list[tuple[RankedOption, bool]]:
    """Every option played through, and whether it plays well, without the capo's price."""
    boards = boards or shared_boards()
    played = [
        played_option(song, option, instrument, settings, own, boards)
        for option in options(settings)
    ]
    boards.save()
    ease = [option.score + option.price for option in played]
    least = max(ease) - weights.playable_within
    return [
        (option, value >= least and not option.measures.unplayable)
        for option, value in zip(played, ease, strict=True)
    ]


def _beside(
    song: Song,
    first: Sequence[Moment],
    *,
    sung: PitchRange | None,
    instrument: Instrument,
    weights: ComplementWeights,
    played: RankedOption,
    playable: bool,
) -> BesideOption:
    part = part_of(song, played, instrument)
    met = compare_parts(first, part)
    voice = 0.0 if sung is None else voice_overlap(part, sung)
    complement = weights.complement(met.overlap, met.unisons, voice)
    value = complement - weights.price * played.price - weights.effort(played)
    reason = _reason(played, met, voice, playable)
    return BesideOption(
        played=played,
        comparison=met,
        voice=voice,
        complement=complement,
        playable=playable,
        register=register_of(part),
        value=value,
        reason=reason,
    )


def compare_parts(first: Sequence[Moment], second: Sequence[Moment]) -> PartComparison:
    """How the second part lies against the first; all 0 where they never sound together."""
    beats = shared = unisons = above = 0.0
    for length, one, other in moments_together(first, second):
        if not one or not other:
            continue
        beats += length
        shared += length * shared_sound(one, other)
        unisons += length * sum(pitch in one for pitch in other) / len(other)
        above += length * (sum(other) / len(other) - sum(one) / len(one))
    if not beats:
        return PartComparison(0.0, 0.0, 0.0)
    return PartComparison(shared / beats, unisons / beats, above / beats)


def voice_overlap(part: Sequence[Moment], sung: PitchRange) -> float:
    """How far a part fills the register of a sung range, 0 to 1, as a mean over time."""
    voice = sung_histogram(sung)
    beats = sum(m.end - m.start for m in part if m.pitches) or 1.0
    shared = sum(
        (m.end - m.start) * overlap(histogram(m.pitches), voice) for m in part if m.pitches
    )
    return shared / beats


@dataclass(frozen=True, slots=True)
class GuitarPositions:
    """Positions for several guitars, lowest register first.

    ``apart`` is the mean over all pairs of 1 - (overlap and unisons in their ratio), 0 to 1. They
    are ranked by ``value``: ``apart`` minus the cost of hard positions and barres.
    """

    guitars: tuple[RankedOption, ...]
    registers: tuple[Register | None, ...]
    apart: float
    value: float


def spread_guitars(
    song: Song,
    guitars: int = 3,
    instrument: Instrument = GUITAR,
    settings: AdviceSettings | None = None,
    weights: ComplementWeights | None = None,
    boards: BoardStore | None = None,
) -> tuple[GuitarPositions, ...]:
    """Every choice of different playable positions for 2 to 4 guitars, best first.

    Guitars stay in their tuning: only capos are considered.  Raises ValueError for another
    number of guitars; empty where fewer positions play well.
    """
    if not 2 <= guitars <= 4:
        raise ValueError(f"positions are spread over 2 to 4 guitars, not {guitars}")
    settings, weights = settings or AdviceSettings(), weights or ComplementWeights()
    judged = _playable(song, instrument, settings, weights, None, boards)
    playable = [option for option, well in judged if well and not option.option.tuned_down]
    parts = {option.option: part_of(song, option, instrument) for option in playable}
    apart = _apart(parts, weights)
    spreads = [_spread(chosen, parts, apart, weights) for chosen in combinations(playable, guitars)]
    return tuple(sorted(spreads, key=lambda spread: -round(spread.value, 9)))


Parts = dict[Capo, tuple[Moment, ...]]


def _apart(parts: Parts, weights: ComplementWeights) -> dict[frozenset[Capo], float]:
    """For each pair of positions how far apart they lie, 0 to 1."""
    total = weights.overlap + weights.unisons
    apart = {}
    for one, other in combinations(parts, 2):
        met = compare_parts(parts[one], parts[other])
        taken = weights.overlap * met.overlap + weights.unisons * met.unisons
        apart[frozenset((one, other))] = 1 - taken / total
    return apart


def _spread(
    chosen: tuple[RankedOption, ...],
    parts: Parts,
    apart: dict[frozenset[Capo], float],
    weights: ComplementWeights,
) -> GuitarPositions:
    pairs = [frozenset((a.option, b.option)) for a, b in combinations(chosen, 2)]
    mean = sum(apart[pair] for pair in pairs) / len(pairs)
    effort = sum(weights.effort(option) for option in chosen) / len(chosen)
    price = sum(option.price for option in chosen) / len(chosen)
    registers = {option.option: register_of(parts[option.option]) for option in chosen}
    ordered = sorted(chosen, key=lambda o: _middle(registers[o.option]))
    return GuitarPositions(
        tuple(ordered),
        tuple(registers[option.option] for option in ordered),
        mean,
        mean - weights.price * price - effort,
    )


def _middle(register: Register | None) -> float:
    return 0.0 if register is None else register.middle


# ---- the reason, in one plain sentence
_HALF_STEPS_APART = 3
"""The fewest half steps between the middles of two parts that lie apart (ours)."""
_MANY_BARRES = 0.35
"""From this share of the time on, barres are named as a cost (ours)."""


def _reason(played: RankedOption, met: PartComparison, voice: float, playable: bool) -> str:
    """Where the part lies, what room it shares, and what it costs to play."""
    if not played.voicings:
        return "There are no chords to play beside the first guitar."
    lies = f"{met.overlap:.0%} of what they sound lies where that guitar plays"
    if voice:
        lies += f" and {voice:.0%} where the voice is"
    praise = f"{shape_key_name(played)} shapes {_where(met)}; {lies}"
    costs = _named_costs(played, playable)
    return f"{praise}, but {', and '.join(costs)}." if costs else f"{praise}."


def _where(met: PartComparison) -> str:
    steps = round(met.half_steps_above)
    if abs(steps) < _HALF_STEPS_APART:
        return "in the register of the first guitar"
    return f"{abs(steps)} half steps {'above' if steps > 0 else 'below'} the first guitar"


def _named_costs(played: RankedOption, playable: bool) -> list[str]:
    costs_named = []
    if played.option.tuned_down:
        costs_named.append(f"every string goes down {step_words(played.option.tuned_down)}")
    if played.option.fret >= HIGH_CAPO:
        costs_named.append(f"the capo sits at fret {played.option.fret}")
    if played.measures.unplayable:
        costs_named.append("some chords have no fingering")
    elif played.measures.barres > _MANY_BARRES:
        costs_named.append(barre_names(played))
    elif not playable:
        costs_named.append("it is harder to play than the others")
    return costs_named
