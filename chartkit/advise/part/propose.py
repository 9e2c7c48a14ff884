"""Parts for a second guitar, best first, each with its reasons."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import exp

from chartkit.advise.beside import compare_parts, voice_overlap
from chartkit.advise.part.chord_occurrences import ChordOccurrence, chord_occurrences, sung_bars
from chartkit.advise.part.costs import PartWeights
from chartkit.advise.part.first_rhythm import FirstHand, first_rhythm
from chartkit.advise.part.grips import ChosenGrips, GripChooser, part_moments, upper_part
from chartkit.advise.part.registers import (
    REGISTERS,
    RegisterName,
    RegisterRule,
    within_easy_reach,
)
from chartkit.advise.part.rhythm import (
    PartRhythm,
    SectionFacts,
    SectionRhythm,
    asks_for_quiet,
    section_kind,
    section_rhythms,
)
from chartkit.advise.part.who_plays import Silences, with_silences
from chartkit.advise.part.write_part import part_chart
from chartkit.advise.register import Moment, moments_together
from chartkit.chart.model import Chart, CueRow, Meter
from chartkit.chart.written_order import WrittenBar, written_order
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.partial_grips import PartialGrip, PartialGrips
from chartkit.theory.chord import Chord
from chartkit.theory.pitch import PitchRange

_PLUCKED = 0.04
"""The extra cost of thumb and fingers instead of a pick, if the player did not ask for it
(ours)."""
_UNASKED: tuple[RegisterName, ...] = ("high", "middle", "edges")
"""The registers proposed by default: low is the bass player's."""


@dataclass(frozen=True, slots=True)
class PartMeasures:
    """How a part fits the first: means over the song's time, 0 to 1 unless noted.

    ``overlap`` is the room shared with the first guitar, ``unisons`` the share of notes that both
    sound, ``nearness`` how near the part's notes lie to the first guitar's nearest ones (1 is the
    same notes; leaving notes out does not lower it); ``voice`` the overlap with the sung range.
    ``half_steps_above`` is the distance of the two middles, ``top_step`` the half steps the top
    voice moves at a change, ``strings`` how many sound.
    """

    overlap: float
    unisons: float
    nearness: float
    voice: float
    half_steps_above: float
    top_step: float
    strings: float


@dataclass(frozen=True, slots=True)
class PartProposal:
    """A second guitar's part.

    ``chart`` is the part as a chart of sounding chords; ``grips`` by chord without slash bass;
    ``moments`` its sounding notes; ``cost`` has no unit, lower is better; ``place`` says what it
    plays and where (``three-note chords on the top strings``), ``reason`` also how it fits the
    first, ``section_reasons`` which sections have a figure, and why.
    """

    register: RegisterName
    chart: Chart
    grips: Mapping[Chord, PartialGrip]
    moments: tuple[Moment, ...]
    measures: PartMeasures
    cost: float
    exact: bool
    place: str
    reason: str
    section_reasons: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class PartRequest:
    """The player's wishes; None leaves the choice to the program.  ``player`` is the player's
    name, empty if it is not known: a cue may name who plays."""

    register: RegisterName | None = None
    rhythm: PartRhythm | None = None
    first_hand: FirstHand | None = None
    player: str = ""


def propose_parts(
    chart: Chart,
    first: Sequence[Moment],
    instrument: Instrument,
    request: PartRequest | None = None,
    weights: PartWeights | None = None,
    first_chart: Chart | None = None,
) -> tuple[PartProposal, ...]:
    """Parts for a second guitar, best first; empty if a chord has no grip in any register.

    ``chart`` holds sounding chords, ``first`` what the first guitar sounds in beats from the start
    (``register.part_of``).  ``first_chart`` is the first guitar's own chart, if it has one; its
    rhythm is read there.
    """
    request = request or PartRequest()
    song = chord_occurrences(chart, first)
    if not song:
        return ()
    value = chart.setting("range")
    sung_range = value if isinstance(value, PitchRange) else None
    chooser = GripChooser(song, _neck(instrument), sung_range, weights)
    silences = with_silences(chart, request.player)
    rhythms = _rhythms(silences.chart, first_chart or chart, request)
    for section in silences.sections:
        rhythms.pop(section, None)
    chosen = [choice for rule in _rules(request) if (choice := chooser.choose(rule)) is not None]
    proposals = [_proposal(silences, song, first, sung_range, choice, rhythms) for choice in chosen]
    return tuple(sorted(proposals, key=lambda proposal: round(proposal.cost, 9)))


@lru_cache(maxsize=4)
def _neck(instrument: Instrument) -> PartialGrips:
    """The partial grips of an instrument, whose fingerings all songs share."""
    return PartialGrips(instrument)


def _rules(request: PartRequest) -> list[RegisterRule]:
    if request.register is not None:
        return [rule for rule in REGISTERS if rule.name == request.register]
    return [within_easy_reach(rule) for rule in REGISTERS if rule.name in _UNASKED]


def _proposal(
    silences: Silences,
    song: tuple[ChordOccurrence, ...],
    first: Sequence[Moment],
    sung_range: PitchRange | None,
    chosen: ChosenGrips,
    rhythms: Mapping[int, SectionRhythm],
) -> PartProposal:
    moments = tuple(part_moments(song, chosen.grips))
    measures = _measures(song, first, moments, chosen.grips, sung_range)
    chart = silences.chart
    reason = _reason(chosen, measures)
    words = f"second guitar: {_place(chosen, measures)}"
    written = part_chart(chart, chosen.grips, rhythms, sung_bars(chart), words)
    return PartProposal(
        register=chosen.register.name,
        chart=written,
        grips=chosen.grips,
        moments=moments,
        measures=measures,
        cost=chosen.cost + _PLUCKED * chosen.register.spread,
        exact=chosen.exact,
        place=_place(chosen, measures),
        reason=reason,
        section_reasons=(*_section_reasons(chart, rhythms), *_silent_reasons(silences)),
    )


# ---- rhythm


def _rhythms(chart: Chart, first_chart: Chart, request: PartRequest) -> dict[int, SectionRhythm]:
    sung = {bar.section for bar in sung_bars(chart)}
    homes = {bar.written_in for bar in sung_bars(chart)}
    first_bars = _bars_by_section(first_chart)
    facts = {}
    for section, bars in _bars_by_section(chart).items():
        meter = _usual_meter(bars)
        name = chart.sections[section].name
        theirs = [bar.written for bar in first_bars.get(section, bars)]
        hand = first_rhythm(theirs, meter, request.first_hand)
        kind = section_kind(name, section in sung | homes)
        cues = [row.text for row in chart.sections[section].rows if isinstance(row, CueRow)]
        quiet = asks_for_quiet((name, *cues))
        facts[section] = SectionFacts(meter, kind, hand, chart.text("feel"), quiet)
    tempo = chart.setting("tempo")
    pace = tempo if isinstance(tempo, int) else None
    return section_rhythms(facts, request.rhythm, pace, _homes_in_order(chart))


def _homes_in_order(chart: Chart) -> list[int]:
    """The section whose bars each section of the song plays, in the written order."""
    homes = {bar.section: bar.written_in for bar in written_order(chart) if bar.length}
    return list(homes.values())


def _bars_by_section(chart: Chart) -> dict[int, list[WrittenBar]]:
    """The bars of each section that holds music of its own."""
    bars: dict[int, list[WrittenBar]] = {}
    for bar in written_order(chart):
        if bar.section == bar.written_in and bar.length:
            bars.setdefault(bar.section, []).append(bar)
    return bars


def _usual_meter(bars: Sequence[WrittenBar]) -> Meter:
    meters = [bar.meter for bar in bars]
    return max(dict.fromkeys(meters), key=meters.count)


def _section_reasons(
    chart: Chart, rhythms: Mapping[int, SectionRhythm]
) -> tuple[tuple[str, str], ...]:
    """The sections of each figure with the reason, in the order of the song."""
    named: dict[str, list[str]] = {}
    for section, rhythm in rhythms.items():
        named.setdefault(rhythm.reason, []).append(chart.sections[section].name or "the song")
    return tuple((", ".join(dict.fromkeys(names)), why) for why, names in named.items())


def _silent_reasons(silences: Silences) -> tuple[tuple[str, str], ...]:
    """The sections in which the part is silent, by the cue that says so."""
    named: dict[str, list[str]] = {}
    for section, cue in silences.sections.items():
        name = silences.chart.sections[section].name or "the song"
        named.setdefault(f'silent, since the chart says "{cue}"', []).append(name)
    return tuple((", ".join(dict.fromkeys(names)), why) for why, names in named.items())


# ---- how it lies


def _measures(
    song: Sequence[ChordOccurrence],
    first: Sequence[Moment],
    moments: Sequence[Moment],
    grips: Mapping[Chord, PartialGrip],
    sung_range: PitchRange | None,
) -> PartMeasures:
    met = compare_parts(first, moments)
    played = [(grips[upper_part(occurrence.chord)], occurrence.beats) for occurrence in song]
    steps = [abs(a.top - b.top) for (a, _), (b, _) in pairwise(played) if a != b]
    beats = sum(b for _, b in played) or 1.0
    return PartMeasures(
        overlap=met.overlap,
        unisons=met.unisons,
        nearness=_nearness(first, moments),
        voice=0.0 if sung_range is None else voice_overlap(moments, sung_range),
        half_steps_above=met.half_steps_above,
        top_step=sum(steps) / len(steps) if steps else 0.0,
        strings=sum(len(grip.pitches) * b for grip, b in played) / beats,
    )


_NEAR_HALF_STEPS = 1.5
"""The width in half steps within which a note is near another, that of ``register``'s bell curves
(ours)."""


def _nearness(first: Sequence[Moment], moments: Sequence[Moment]) -> float:
    """The mean over the part's notes of exp(-(d / 1.5)² / 2), d half steps to the nearest note
    of the first guitar."""
    total = beats = 0.0
    for length, theirs, ours in moments_together(first, moments):
        if theirs and ours:
            near = [min(abs(pitch - other) for other in theirs) for pitch in ours]
            total += length * sum(exp(-((d / _NEAR_HALF_STEPS) ** 2) / 2) for d in near) / len(near)
            beats += length
    return total / beats if beats else 0.0


_PLACES: dict[RegisterName, str] = {
    "high": "on the top strings",
    "middle": "on the inner strings",
    "edges": "with one low string and the top strings, thumb and fingers",
    "low": "on the low strings",
}
_NUMBERS = {2: "two", 3: "three", 4: "four"}
_OFTEN = 0.25
"""The least share of grips from which on their number of notes counts as usual (ours)."""
_HEARD = 0.01
"""The least share of the singer's room that is named."""


def _place(chosen: ChosenGrips, measures: PartMeasures) -> str:
    usual = min(4, max(2, round(measures.strings)))
    sizes = [len(grip.pitches) for grip in chosen.grips.values()]
    often = [size for size in _NUMBERS if sizes.count(size) >= _OFTEN * len(sizes)]
    fewest, most = min((usual, *often)), max((usual, *often))
    fewer = {0: "", 1: f"{_NUMBERS[fewest]}- and "}.get(most - fewest, f"{_NUMBERS[fewest]}- to ")
    rest = [_NUMBERS[size] for size in sorted(set(sizes)) if not fewest <= size <= most]
    some = f", some of {' or '.join(rest)} notes," if rest else ""
    return f"{fewer}{_NUMBERS[most]}-note chords{some} {_PLACES[chosen.register.name]}"


def _reason(chosen: ChosenGrips, measures: PartMeasures) -> str:
    voice = f" and {measures.voice:.0%} where the voice is" if measures.voice >= _HEARD else ""
    return (
        f"{_place(chosen, measures)}, {_height(measures.half_steps_above)} the first guitar; "
        f"{measures.overlap:.0%} of it lies where that guitar plays{voice}"
    )


def _height(half_steps_above: float) -> str:
    """How far a part lies above or below: ``11 half steps above``."""
    distance = round(abs(half_steps_above))
    if not distance:
        return "level with"
    steps = "half step" if distance == 1 else "half steps"
    return f"{distance} {steps} {'above' if half_steps_above > 0 else 'below'}"
