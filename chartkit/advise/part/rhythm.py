"""The rhythm of a part: a figure for each section, and answers in the bars where nobody sings.

The rules are common practice, no source: plain against busy and busy against plain, strokes between
those of the first guitar, room for the voice in a verse, an open chorus, answers in the gaps.  The
numbers are ours.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from chartkit.advise.part.figures import Figure, FigureName, figure_in, playable_at
from chartkit.advise.part.first_rhythm import FirstRhythm
from chartkit.chart.model import TICKS_PER_BEAT, Meter

PartRhythm = Literal["plain", "busy", "as-written"]
SectionKind = Literal["chorus", "verse", "instrumental"]

_PLAIN: tuple[FigureName, ...] = ("halves", "let ring", "quarters", "two and four")
_BUSY: tuple[FigureName, ...] = ("picked eighths", "off-beats", "quarters")
_ALL: tuple[FigureName, ...] = (
    "let ring",
    "halves",
    "two and four",
    "picked eighths",
    "quarters",
)
"""Off-beats are used only with a feel that asks for them, or a busy rhythm."""
USUAL_TEMPO = 100
"""Beats per minute if the chart gives no tempo (assumption)."""
_BUSY_FROM, _PLAIN_TO = 1.1, 0.8
"""A first part is busy from the first number of strokes per beat, and plain up to the second."""


@dataclass(frozen=True, slots=True)
class FigureWeights:
    """The costs of a figure; no unit.

    Strokes together on beat one and on the back beats tie a band together, so they count less
    than others.
    """

    together: float = 1.0
    on_one: float = 0.25
    on_back_beats: float = 0.5
    density: float = 0.7
    chorus_short: float = 0.5
    """Short chops in a chorus that should open up."""
    verse_busy: float = 0.35
    """Each stroke per beat past one, under a voice."""
    again: float = 0.3
    """The figure of the section before, in a section of another kind."""


@dataclass(frozen=True, slots=True)
class SectionFacts:
    """The facts that decide the figure of a section: its meter, its kind, the first guitar's hand,
    and the song's feel in the writer's words."""

    meter: Meter
    kind: SectionKind
    first: FirstRhythm
    feel: str = ""


@dataclass(frozen=True, slots=True)
class SectionRhythm:
    """The figure of a section and the reason in a player's words; without a figure the bars stay as
    written."""

    figure: Figure | None
    reason: str


def kind_of(name: str, sung: bool) -> SectionKind:
    """The kind of a section, by its name and whether it has words."""
    if not sung:
        return "instrumental"
    plain = name.casefold()
    opens = ("chorus", "refrain", "hook", "estribillo", "ritornello", "refrän")
    before = plain.startswith(("pre", "pre-"))
    return "chorus" if any(word in plain for word in opens) and not before else "verse"


def section_rhythms(
    sections: Mapping[int, SectionFacts], wanted: PartRhythm | None, tempo: int | None
) -> dict[int, SectionRhythm]:
    """A figure for each section, by its number.

    ``wanted`` narrows the choice; "as-written" leaves every bar alone.
    """
    chosen: dict[int, SectionRhythm] = {}
    by_kind: dict[SectionKind, SectionRhythm] = {}
    last: FigureName | None = None
    for section, facts in sections.items():
        if wanted == "as-written":
            chosen[section] = SectionRhythm(None, "the rhythm as the chart writes it")
            continue
        known = by_kind.get(facts.kind)
        if known is not None and _fits(known, facts.meter):
            chosen[section] = known
        else:
            chosen[section] = _best(facts, wanted, tempo or USUAL_TEMPO, last)
            by_kind.setdefault(facts.kind, chosen[section])
        figure = chosen[section].figure
        last = None if figure is None else figure.name
    return chosen


def _fits(known: SectionRhythm, meter: Meter) -> bool:
    return known.figure is not None and figure_in(known.figure.name, meter) == known.figure


def _best(
    facts: SectionFacts, wanted: PartRhythm | None, tempo: int, last: FigureName | None
) -> SectionRhythm:
    names = _named_by_feel(facts.feel) or {"plain": _PLAIN, "busy": _BUSY}.get(wanted or "", _ALL)
    figures = [figure for name in names if (figure := figure_in(name, facts.meter)) is not None]
    playable = [one for one in figures if playable_at(one, facts.meter.beats, tempo)] or figures[:1]
    if not playable:
        return SectionRhythm(None, "the rhythm as the chart writes it")
    best = min(playable, key=lambda figure: round(_cost(figure, facts, last), 9))
    return SectionRhythm(best, _reason(best, facts, last))


_FEELS: tuple[tuple[FigureName, tuple[str, ...]], ...] = (
    ("off-beats", ("reggae", "ska", "off beat", "off beats", "offbeat", "calypso")),
    ("two and four", ("two and four", "2 and 4", "back beat", "backbeat", "chops")),
)
"""Words in a feel that name the second guitar's figure (common practice, no source)."""


def _named_by_feel(feel: str) -> tuple[FigureName, ...]:
    said = re.findall(r"[^\W_]+", feel.casefold())
    plain = f" {' '.join(said)} "
    return tuple(name for name, words in _FEELS if any(f" {word} " in plain for word in words))[:1]


def _cost(figure: Figure, facts: SectionFacts, last: FigureName | None) -> float:
    w = FigureWeights()
    beats = facts.meter.beats
    together = sum(
        facts.first.strikes.get(onset, 0.0) * _counts(onset, w) for onset in figure.onsets
    )
    density = figure.strokes_a_beat(beats)
    cost = w.together * together / len(figure.onsets)
    cost += w.density * abs(density - _wanted_density(facts))
    cost += w.chorus_short * (facts.kind == "chorus" and figure.short)
    cost += w.verse_busy * (facts.kind == "verse") * max(0.0, density - 1)
    return cost + w.again * (figure.name == last)


def _counts(onset: int, weights: FigureWeights) -> float:
    beat, inside = divmod(onset, TICKS_PER_BEAT)
    if inside:
        return 1.0
    return weights.on_one if beat == 0 else weights.on_back_beats if beat % 2 else 1.0


def _wanted_density(facts: SectionFacts) -> float:
    """The strokes per beat that leave room: few beside a busy first part, more beside a plain one;
    a little more if nobody sings, and few in a chorus that opens."""
    strokes = facts.first.strokes_a_beat
    wanted = 0.4 if strokes >= _BUSY_FROM else 1.5 if strokes <= _PLAIN_TO else 0.75
    by_kind: dict[SectionKind, float] = {"chorus": 0.6, "verse": 1.0, "instrumental": 1.4}
    return wanted * by_kind[facts.kind]


A_GUESS = "a guess"
"""The remark about a first guitar whose chart has no written rhythm."""

_WORDS: dict[FigureName, str] = {
    "let ring": "each chord once, left to ring",
    "halves": "two strokes a bar",
    "quarters": "a stroke on each beat",
    "two and four": "short chops on the back beats",
    "off-beats": "short strokes between the beats",
    "picked eighths": "picked eighths",
    "answer": "an answer in the second half of the bar",
}


def figure_words(name: FigureName) -> str:
    """A figure in a player's words."""
    return _WORDS[name]


def _reason(figure: Figure, facts: SectionFacts, last: FigureName | None) -> str:
    strokes = facts.first.strokes_a_beat
    first = "is busy" if strokes >= _BUSY_FROM else "is plain" if strokes <= _PLAIN_TO else "moves"
    guess = "" if facts.first.written else f" ({A_GUESS})"
    opens = "" if figure.short or figure.name == last else "; the chorus opens"
    room = {"chorus": opens, "verse": "", "instrumental": "; nobody sings"}
    return f"{figure_words(figure.name)}: the first guitar {first}{guess}{room[facts.kind]}"


def answered_bars(sung: Sequence[bool]) -> tuple[int, ...]:
    """The bars without words, after a sung one, in a section that is sung: room for an answer."""
    return tuple(place for place in range(1, len(sung)) if not sung[place] and sung[place - 1])
