"""The contents of each measure of a part: the values between XML and bars.

Time is counted in units from the start of the measure; a score has one number of units to a
quarter note throughout, whatever its divisions.  Chords, keys and pitches are sounding.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from operator import attrgetter
from typing import Literal, NamedTuple, TypeVar

from chartkit.chart.marks import Mark, MarkKind
from chartkit.chart.model import GivenShape, Meter
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key
from chartkit.theory.pitch import Pitch

REST_OF_MEASURE = -1
"""The length of chords after which no note follows."""


class StruckChord(NamedTuple):
    """A chord symbol, None for N.C., at its place.

    ``tied`` says that its note is tied over; ``bass_only`` that root and kind are hidden.
    ``over`` is the length of the one note that it shares with other chords written at the same
    place, 0 for a chord that has its place to itself.
    """

    onset: int
    chord: Chord | None
    pushed: bool = False
    tied: bool = False
    stopped: bool = False
    ringing: bool = False
    optional: bool = False
    bass_only: bool = False
    over: int = 0


class SungSyllable(NamedTuple):
    """A syllable of a verse at its place.

    ``goes_on`` says that the word goes on with the next syllable; a Sung that is ``held``
    has no text and goes on with the syllable before.  ``named`` is a syllable of a verse that
    is called one, ``ends_line`` the last of its line of words; ``leads`` says that it is sung
    before the first bar of the next row, ``after_rest`` that a rest is before it.
    """

    onset: int
    verse: str
    text: str
    goes_on: bool = False
    held: bool = False
    named: bool = False
    ends_line: bool = False
    leads: bool = False
    after_rest: bool = False


StrumSign = Literal["slash", "silence", "mute"]


class Strum(NamedTuple):
    """A note of written rhythm at its place: a slash, which is ``held`` where it is tied to what
    is before it, a rest of some ``length``, or a muted stroke."""

    onset: int
    held: bool = False
    sign: StrumSign = "slash"
    length: int = 0


class PlayerInstruction(NamedTuple):
    """Words to the players at their place."""

    onset: int
    text: str


MOST_SIMILE = 2
"""The most bars for which charts have a sign that says they are played again."""


class Edge(NamedTuple):
    """One side of a measure: what its bar line says on that side.  ``closes`` says that an ending
    ends."""

    repeat: bool = False
    times: int = 0
    endings: tuple[int, ...] = ()
    double: bool = False
    closes: bool = False

    def __bool__(self) -> bool:
        """Whether the bar line says anything."""
        return self.repeat or self.double or bool(self.endings)


NO_EDGE = Edge()


class Measure(NamedTuple):
    """A measure of one part.

    ``length`` is how much of it is filled.  ``key``, ``meter``, ``tempo`` (in quarter notes
    a minute), ``capo`` and ``section`` are what changes at its start, None or empty where nothing
    does; ``free`` says that no meter holds in it.  ``simile`` is how many measures before
    are written as played again, ``rests`` how many measures of rest begin with it, and
    ``first_note`` where its melody begins, None where it has none.  ``heard`` are tempos that
    nothing but sounds give, ``hidden`` chords that are not printed.
    """

    number: str
    length: int
    implicit: bool = False
    struck: tuple[StruckChord, ...] = ()
    sung: tuple[SungSyllable, ...] = ()
    instructions: tuple[PlayerInstruction, ...] = ()
    marks: tuple[Mark, ...] = ()
    key: Key | None = None
    meter: Meter | None = None
    free: bool = False
    tempo: float | None = None
    feel: str = ""
    section: str = ""
    left: Edge = Edge()
    right: Edge = Edge()
    simile: int = 0
    slashes: bool = False
    new_row: bool = False
    strums: tuple[Strum, ...] = ()
    rests: int = 0
    capo: int | None = None
    first_note: int | None = None
    heard: tuple[float, ...] = ()
    hidden: tuple[StruckChord, ...] = ()


def split_measure(measure: Measure, cuts: Sequence[tuple[int, Edge, Edge]]) -> list[Measure]:
    """The parts of a measure that repeats in its middle cut: each cut is a place in units, what
    the bar line says to the part before it, and to the part after it."""
    parts: list[Measure] = []
    for at, before, after in sorted(cuts, key=lambda one: one[0]):
        shift = sum(part.length for part in parts)
        if shift < at < shift + measure.length:
            one, measure = _halves(measure, at - shift)
            parts.append(one._replace(right=before))
            measure = measure._replace(left=after)
    return [*parts, measure]


def _halves(measure: Measure, at: int) -> tuple[Measure, Measure]:
    def begins(mark: Mark) -> bool:
        return mark.place == "start" or (mark.place == "beat" and mark.onset < at)

    closing = (mark for mark in measure.marks if not begins(mark))
    first = measure._replace(
        length=at,
        struck=tuple(one for one in measure.struck if one.onset < at),
        hidden=tuple(one for one in measure.hidden if one.onset < at),
        sung=tuple(one for one in measure.sung if one.onset < at),
        instructions=tuple(one for one in measure.instructions if one.onset < at),
        strums=tuple(one for one in measure.strums if one.onset < at),
        marks=tuple(filter(begins, measure.marks)),
        right=NO_EDGE,
    )
    second = Measure(
        measure.number,
        measure.length - at,
        implicit=True,
        struck=tuple(o._replace(onset=o.onset - at) for o in measure.struck if o.onset >= at),
        hidden=tuple(o._replace(onset=o.onset - at) for o in measure.hidden if o.onset >= at),
        sung=tuple(o._replace(onset=o.onset - at) for o in measure.sung if o.onset >= at),
        instructions=tuple(
            o._replace(onset=o.onset - at) for o in measure.instructions if o.onset >= at
        ),
        strums=tuple(o._replace(onset=o.onset - at) for o in measure.strums if o.onset >= at),
        marks=tuple(
            replace(mark, onset=mark.onset - at) if mark.place == "beat" else mark
            for mark in closing
        ),
        right=measure.right,
        slashes=measure.slashes,
    )
    return first, second


class Melody(NamedTuple):
    """The facts about a part's notes that a chart needs.

    ``weights`` is how long each pitch class sounds, C first, in units; ``lowest`` and
    ``highest`` are those of the sung notes, or of all where nothing is sung.
    """

    weights: tuple[int, ...] = (0,) * 12
    lowest: Pitch | None = None
    highest: Pitch | None = None
    sung: bool = False


class Part(NamedTuple):
    """A part: its names, its measures, its melody, its capo in staff details or in words.

    ``interval`` is the place on the line of fifths of what brings it to sounding pitch, ``shapes``
    are those of its chord diagrams.
    """

    id: str
    name: str
    measures: tuple[Measure, ...]
    melody: Melody
    capo: int = 0
    capo_words: str = ""
    interval: int = 0
    shapes: tuple[GivenShape, ...] = ()

    @property
    def chords(self) -> int:
        """How many chord symbols it has."""
        return sum(len(measure.struck) for measure in self.measures)

    @property
    def syllables(self) -> int:
        """How many syllables are sung in it."""
        return sum(not sung.held for measure in self.measures for sung in measure.sung)


Placed = TypeVar("Placed", StruckChord, SungSyllable, PlayerInstruction)

_ONSET = attrgetter("onset")


def _in_time(placed: list[Placed]) -> tuple[Placed, ...]:
    """The contents of a measure in the order of time."""
    return tuple(sorted(placed, key=_ONSET) if len(placed) > 1 else placed)


@dataclass(slots=True)
class MeasureDraft:
    """A measure while it is being read.

    ``cuts`` are the repeats in its middle, ``before`` is what its first bar line says of the
    measure before it.  ``late_signs`` are signs that stand after its start, by their places;
    ``late_section`` is a name that does, ``repeats_next`` a repeat and ``endings_next`` an ending
    that begin at its end.
    """

    number: str
    implicit: bool
    struck: list[StruckChord] = field(default_factory=list)
    hidden: list[StruckChord] = field(default_factory=list)
    sung: list[SungSyllable] = field(default_factory=list)
    instructions: list[PlayerInstruction] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    key: Key | None = None
    meter: Meter | None = None
    tempo: float | None = None
    feel: str = ""
    section: str = ""
    left: Edge = Edge()
    right: Edge = Edge()
    new_row: bool = False
    strums: list[Strum] = field(default_factory=list)
    whole_rest: bool = False
    capo: int | None = None
    first_note: int | None = None
    cuts: list[tuple[int, Edge, Edge]] = field(default_factory=list)
    before: Edge = NO_EDGE
    late_signs: dict[MarkKind, int] = field(default_factory=dict)
    late_section: str = ""
    late_section_at: int = 0
    repeats_next: bool = False
    endings_next: tuple[int, ...] = ()
    heard: list[float] = field(default_factory=list)

    def finished(self, length: int, free: bool, simile: int, slashes: bool, rests: int) -> Measure:
        """The measure as a value, everything in the order of time."""
        return Measure(
            number=self.number,
            length=length,
            implicit=self.implicit,
            struck=_in_time(self.struck),
            sung=_in_time(self.sung),
            instructions=_in_time(self.instructions),
            marks=tuple(self.marks),
            key=self.key,
            meter=self.meter,
            free=free,
            tempo=self.tempo,
            feel=self.feel,
            section=self.section,
            left=self.left,
            right=self.right,
            simile=simile,
            slashes=slashes,
            new_row=self.new_row,
            strums=tuple(sorted(self.strums)),
            rests=rests,
            capo=self.capo,
            first_note=self.first_note,
            heard=tuple(self.heard),
            hidden=_in_time(self.hidden),
        )
