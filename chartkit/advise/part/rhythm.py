"""The rhythm of a part: a figure for each section, and answers in the bars where nobody sings.

The rules are common practice, no source: plain against busy and busy against plain, strokes between
those of the first guitar, room for the voice in a verse, a fuller chorus, the last one fullest, a
last bar that leads on, answers in the gaps.  The numbers are ours.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from chartkit.advise.part.figures import Figure, FigureName, figure_in, playable_at
from chartkit.advise.part.first_rhythm import FirstRhythm
from chartkit.chart.model import TICKS_PER_BEAT, Meter
from chartkit.chart.section_words import kind_of_section

PartRhythm = Literal["plain", "busy", "as-written"]
SectionKind = Literal["chorus", "verse", "bridge", "instrumental"]

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
_BUSY_FROM = 1.1
"""A first part is busy from so many strokes per beat on."""
_PLAIN_TO = 0.8
"""It is plain up to so many."""


_OPPOSITE: dict[SectionKind, SectionKind] = {"chorus": "verse", "verse": "chorus"}
"""The kinds of section that are kept apart."""


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
    the song's feel in the writer's words, and whether the section is to be played quietly."""

    meter: Meter
    kind: SectionKind
    first: FirstRhythm
    feel: str = ""
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class SectionRhythm:
    """The figure of a section and the reason in a player's words; without a figure the bars stay as
    written.  ``last_bar`` names the figure of its last bar where that leads on to the next."""

    figure: Figure | None
    reason: str
    last_bar: FigureName | None = None


def section_kind(name: str, sung: bool) -> SectionKind:
    """The kind of a section, by its name and whether it has words."""
    if not sung:
        return "instrumental"
    kind = kind_of_section(name)
    if kind in ("chorus", "hook"):
        return "chorus"
    return "bridge" if kind == "bridge" else "verse"


def section_rhythms(
    sections: Mapping[int, SectionFacts],
    wanted: PartRhythm | None,
    tempo: int | None,
    order: Sequence[int] = (),
) -> dict[int, SectionRhythm]:
    """A figure for each section, by its number.

    ``wanted`` narrows the choice; "as-written" leaves every bar alone.  ``order`` holds the
    numbers as they follow one another in the song, repeats included.
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
            opposite = _OPPOSITE.get(facts.kind)
            apart = None
            if any(other_section.kind == opposite for other_section in sections.values()):
                other = None if opposite is None else by_kind.get(opposite)
                apart = _Apart(None if other is None else other.figure)
            chosen[section] = _best(facts, wanted, tempo or USUAL_TEMPO, last, apart)
            by_kind.setdefault(facts.kind, chosen[section])
        figure = chosen[section].figure
        last = None if figure is None else figure.name
    chosen |= _climax(sections, chosen, wanted, tempo or USUAL_TEMPO)
    return {
        section: _leading_on(rhythm, sections[section], _next_of(section, order, chosen))
        for section, rhythm in chosen.items()
    }


_ASKING_FOR_LESS = (
    "quiet quietly soft softly gentle gently sparse sparsely breakdown pp leise ruhig sachte "
    "sanft doucement dolce suave"
)
_QUIET = frozenset(_ASKING_FOR_LESS.split())
"""Words of a heading or cue that ask for less than usual (common practice, no source)."""


def asks_for_quiet(texts: Iterable[str]) -> bool:
    """Whether a section's name or a cue in it asks for less than usual: ``Chorus (softly)``."""
    return any(_QUIET.intersection(_words(text)) for text in texts)


_FULLER: tuple[FigureName, ...] = ("let ring", "halves", "quarters", "eighths")
"""Figures from the sparsest to the fullest, as a song builds up."""


def _climax(
    sections: Mapping[int, SectionFacts],
    chosen: Mapping[int, SectionRhythm],
    wanted: PartRhythm | None,
    tempo: int,
) -> dict[int, SectionRhythm]:
    """The last chorus that has music of its own, one step fuller than those before; empty where
    there is none, it is to be quiet, a feel names the figure, or no fuller one can be played."""
    choruses = [section for section, facts in sections.items() if facts.kind == "chorus"]
    last = choruses[-1] if len(choruses) > 1 else None
    before = None if last is None else chosen[choruses[0]].figure
    if last is None or before is None or sections[last].quiet:
        return {}
    facts = sections[last]
    if wanted == "as-written" or _named_by_feel(facts.feel):
        return {}
    beats = facts.meter.beats
    for name in _FULLER[: -1 if wanted == "plain" else None]:
        figure = figure_in(name, facts.meter)
        if (
            figure is not None
            and _fullness(figure, beats) > _fullness(before, beats)
            and playable_at(figure, beats, tempo)
        ):
            words = figure_words(name)
            return {
                last: SectionRhythm(figure, f"{words}: the last chorus is fuller than the first")
            }
    return {}


def _fullness(figure: Figure, beats: int) -> tuple[float, bool]:
    """How full a figure sounds, to compare: by its strokes, and strummed over picked."""
    return figure.strokes_a_beat(beats), figure.name != "picked eighths"


def _next_of(
    section: int, order: Sequence[int], chosen: Mapping[int, SectionRhythm]
) -> Figure | None:
    """The figure of the section that follows first; None at the end, or before the same section."""
    following = [after for here, after in pairwise(order) if here == section]
    rhythm = chosen.get(following[0]) if following else None
    return None if rhythm is None else rhythm.figure


def _leading_on(
    rhythm: SectionRhythm, facts: SectionFacts, following: Figure | None
) -> SectionRhythm:
    """The rhythm with a last bar that lifts into a fuller section, or rings out before a sparser
    one."""
    figure = rhythm.figure
    if figure is None or following is None or figure.name == following.name:
        return rhythm
    beats = facts.meter.beats
    fuller = following.strokes_a_beat(beats) - figure.strokes_a_beat(beats)
    if not fuller or (fuller < 0 and figure.name == "let ring"):
        return rhythm
    last_bar: FigureName = "lift" if fuller > 0 else "let ring"
    leads = "lifts into the next section" if fuller > 0 else "rings out"
    return replace(rhythm, last_bar=last_bar, reason=f"{rhythm.reason}; the last bar {leads}")


def _fits(known: SectionRhythm, meter: Meter) -> bool:
    return known.figure is not None and figure_in(known.figure.name, meter) == known.figure


def _best(
    facts: SectionFacts,
    wanted: PartRhythm | None,
    tempo: int,
    last: FigureName | None,
    apart: "_Apart | None",
) -> SectionRhythm:
    """The figure that costs least; ``apart`` in a verse or chorus of a song that has both."""
    names = _named_by_feel(facts.feel) or {"plain": _PLAIN, "busy": _BUSY}.get(wanted or "", _ALL)
    figures = [figure for name in names if (figure := figure_in(name, facts.meter)) is not None]
    playable = [
        candidate for candidate in figures if playable_at(candidate, facts.meter.beats, tempo)
    ] or figures[:1]
    if not playable:
        return SectionRhythm(None, "the rhythm as the chart writes it")
    if apart is not None:
        playable = apart.keeps(playable, facts) or playable
    best = min(playable, key=lambda figure: round(_cost(figure, facts, last), 9))
    return SectionRhythm(best, _reason(best, facts, last))


@dataclass(frozen=True, slots=True)
class _Apart:
    """Keeps a chorus fuller than the verse, whichever of the two comes first.

    ``other`` is the figure of the one that has come before, None if neither has.
    """

    other: Figure | None

    def keeps(self, figures: Sequence[Figure], facts: SectionFacts) -> list[Figure]:
        """For a chorus the figures with more strokes than the verse's, for a verse those with fewer
        than the chorus's.  For whichever comes first, figures that leave one to the other."""
        sign = 1 if facts.kind == "chorus" else -1
        beats = facts.meter.beats
        strokes = [sign * figure.strokes_a_beat(beats) for figure in figures]
        over = min(strokes) if self.other is None else sign * self.other.strokes_a_beat(beats)
        return [figure for figure, many in zip(figures, strokes, strict=True) if many > over]


_FEELS: tuple[tuple[FigureName, tuple[str, ...]], ...] = (
    ("off-beats", ("reggae", "ska", "off beat", "off beats", "offbeat", "calypso")),
    ("two and four", ("two and four", "2 and 4", "back beat", "backbeat", "chops")),
)
"""Words in a feel that name the second guitar's figure (common practice, no source)."""


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text.casefold())


def _named_by_feel(feel: str) -> tuple[FigureName, ...]:
    plain = f" {' '.join(_words(feel))} "
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


_UNDER_WORDS = 0.7
"""The share of those strokes that a verse has."""
_MORE_IN_CHORUS = 0.5
"""Strokes per beat more in a chorus."""
_MORE_ELSEWHERE = 0.2
"""Strokes per beat more in a bridge or where nobody sings."""


def _wanted_density(facts: SectionFacts) -> float:
    """The strokes per beat that leave room: few beside a busy first part, more beside a plain one;
    fewer under the words of a verse, a little more if nobody sings, most in a chorus."""
    strokes = facts.first.strokes_a_beat
    wanted = 0.4 if strokes >= _BUSY_FROM else 1.5 if strokes <= _PLAIN_TO else 0.75
    if facts.kind == "verse":
        return wanted * _UNDER_WORDS
    return wanted + (_MORE_IN_CHORUS if facts.kind == "chorus" else _MORE_ELSEWHERE)


A_GUESS = "a guess"
"""The remark about a first guitar whose rhythm is neither written nor said."""

_WORDS: dict[FigureName, str] = {
    "let ring": "one stroke a bar and at each change, left to ring",
    "halves": "two strokes a bar",
    "quarters": "a stroke on each beat",
    "two and four": "short chops on the back beats",
    "off-beats": "short strokes between the beats",
    "picked eighths": "picked eighths",
    "eighths": "strummed eighths",
    "lift": "strokes in the second half of the bar that lead on",
    "answer": "an answer in the second half of the bar",
}


def figure_words(name: FigureName) -> str:
    """A figure in a player's words."""
    return _WORDS[name]


def _reason(figure: Figure, facts: SectionFacts, last: FigureName | None) -> str:
    strokes = facts.first.strokes_a_beat
    first = "is busy" if strokes >= _BUSY_FROM else "is plain" if strokes <= _PLAIN_TO else "moves"
    guess = "" if facts.first.known else f" ({A_GUESS})"
    opens = "" if figure.short or figure.name == last else "; the chorus is fuller"
    room = {"chorus": opens, "verse": "", "bridge": "", "instrumental": "; nobody sings"}
    return f"{figure_words(figure.name)}: the first guitar {first}{guess}{room[facts.kind]}"


def answered_bars(sung: Sequence[bool]) -> tuple[int, ...]:
    """The bars without words, after a sung one, in a section that is sung: room for an answer."""
    return tuple(place for place in range(1, len(sung)) if not sung[place] and sung[place - 1])
