"""The values a chart is made of.

Conventions
-----------
Every value is frozen and every sequence a tuple.  ``span`` is the place in the source text
and takes no part in comparison: two charts are equal when they say the same.  Time inside a
bar is counted in ticks, ``TICKS_PER_BEAT`` to a beat; a beat is the dotted one in compound
meters.
"""

from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from typing import Literal, get_args

from chartkit.chart.marks import Mark
from chartkit.diagnostics import Span
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key
from chartkit.theory.pitch import PitchRange
from chartkit.theory.shape_text import Frets, shape_text

TICKS_PER_BEAT = 12
"""Divisible by 2, 3, 4 and 6, the parts that a beat may be split into."""

MOST_TIMES = 99
"""The most times that a section or a repeat is played."""

LONGEST_REST = 500
"""The longest rest in bars; far more than anybody counts."""

NOWHERE = Span(0, 0)


def _span() -> Span:
    return field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Meter:
    """A time signature."""

    count: int
    unit: int

    @property
    def compound(self) -> bool:
        """Whether beats are dotted: 6/8, 9/8, 12/8 and their like."""
        return self.unit >= 8 and self.count % 3 == 0 and self.count > 3

    @property
    def beats(self) -> int:
        """The beats a bar has: two in 6/8, four in 12/8, the upper number otherwise."""
        return self.count // 3 if self.compound else self.count

    @property
    def beat(self) -> Fraction:
        """A beat as part of a whole note: 1/4 in 4/4, 3/8 in 6/8."""
        return _part_of_whole(3 if self.compound else 1, self.unit)

    def __str__(self) -> str:
        return f"{self.count}/{self.unit}"


@lru_cache(maxsize=256)
def _part_of_whole(count: int, unit: int) -> Fraction:
    """So many notes of a value; kept, since every bar asks for its beat and songs have few."""
    return Fraction(count, unit)


@dataclass(frozen=True, slots=True)
class Strike:
    """A chord struck in a bar.

    ``onset`` and ``length`` are in ticks (0 in free time).  ``chord`` is None for N.C.
    ``bass_only`` says that the writer gave just a new bass under the chord before; the
    chord here is whole all the same.
    """

    chord: Chord | None
    onset: int = 0
    length: int = 0
    bass_only: bool = False
    pushed: bool = False
    stopped: bool = False
    ringing: bool = False
    optional: bool = False
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class Cue:
    """A remark to the players inside a bar, ``onset`` ticks after its start."""

    text: str
    onset: int = 0
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar.

    ``length`` is in ticks, 0 in free time.  ``beats_written`` says that the writer marked
    the beats with slashes.  ``simile`` is how many bars before are played again: 0, 1 or 2;
    a bar with simile 2 stands for two bars.  ``pickup`` marks chords before the first bar
    line of a section.  ``rest`` is how many bars of rest it stands for, 0 where there is
    something to play.  ``meter`` is a time signature written at its start.

    ``holds`` are the onsets of written holds: nothing is struck there, what sounds goes on.
    ``slashes`` are onsets inside beats that are split, at which the chord is struck again;
    those on whole beats follow from the strikes.  ``silences`` are the onsets of rests that are
    parts of the bar, ``mutes`` those of strokes on damped strings: nothing sounds after either,
    and the chord is the one before when it is struck again.
    """

    strikes: tuple[Strike, ...] = ()
    length: int = 0
    beats_written: bool = False
    simile: int = 0
    pickup: bool = False
    cues: tuple[Cue, ...] = ()
    marks: tuple[Mark, ...] = ()
    rest: int = 0
    meter: Meter | None = None
    holds: tuple[int, ...] = ()
    slashes: tuple[int, ...] = ()
    silences: tuple[int, ...] = ()
    mutes: tuple[int, ...] = ()
    span: Span = _span()

    @property
    def lasts(self) -> int:
        """How many bars it stands for: more than one for ``%%`` and for long rests."""
        return max(1, self.simile, self.rest)


BarLineKind = Literal["none", "single", "double", "repeat-start", "repeat-end", "repeat-both"]


@dataclass(frozen=True, slots=True)
class BarLine:
    """A bar line and the numbers of the ending that starts at it.

    The kind "none" stands where a row begins without one.  ``times`` is how often the repeat that
    ends at it is played in all, 0 where that is not said.
    """

    kind: BarLineKind = "single"
    endings: tuple[int, ...] = ()
    times: int = 0
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class MusicRow:
    """A row of bars.

    ``lines`` has one more entry than ``bars``: ``lines[i]`` stands before ``bars[i]``.  A
    row in free time has one bar and no lines.
    """

    bars: tuple[Bar, ...]
    lines: tuple[BarLine, ...] = ()
    comment: str = ""
    span: Span = _span()

    @property
    def free(self) -> bool:
        """Whether the row is in free time."""
        return not self.lines


@dataclass(frozen=True, slots=True)
class Segment:
    """The words sung from one strike to the next.

    ``split`` says that the last word goes on in the next segment, ``held`` that the
    syllable before is held here (written ``_``).
    """

    text: str = ""
    split: bool = False
    held: bool = False
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class WordsRow:
    """A row of words: one tuple of segments for each place between its bar lines.

    Under a row that begins with a bar line the first cell is the pick-up, sung before the
    first bar.  ``verse`` is the number the row begins with, None for a bare colon.
    """

    cells: tuple[tuple[Segment, ...], ...]
    verse: int | None = None
    comment: str = ""
    span: Span = _span()


SettingName = Literal[
    "title",
    "writer",
    "part",
    "key",
    "meter",
    "tempo",
    "feel",
    "range",
    "capo",
    "chords",
    "instrument",
    "language",
    "note",
    "shape",
]
SETTING_NAMES: tuple[SettingName, ...] = get_args(SettingName)
"""The settings in the order in which charts are written."""
REPEATABLE: tuple[SettingName, ...] = ("note", "shape")
"""The settings that may be given more than once."""
BEST_CAPO = "best"
"""The value of ``capo`` if the program is to choose it."""


@dataclass(frozen=True, slots=True)
class GivenShape:
    """A player's own fingering: the chord as fingered, and its frets from the bass side."""

    chord: Chord
    frets: Frets

    def __str__(self) -> str:
        return f"{self.chord} {shape_text(self.frets)}"


SettingValue = Key | Meter | PitchRange | GivenShape | Capo | int | str


@dataclass(frozen=True, slots=True)
class SettingRow:
    """A ``name: value`` row, at the top of the chart or where something changes."""

    name: SettingName
    value: SettingValue
    comment: str = ""
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class CueRow:
    """A remark to the players on a row of its own."""

    text: str
    comment: str = ""
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class CommentRow:
    """A row that holds only a comment."""

    comment: str
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class BlankRow:
    """An empty row, or several."""

    span: Span = _span()


TopRow = SettingRow | CommentRow | BlankRow
Row = MusicRow | WordsRow | CueRow | SettingRow | CommentRow | BlankRow


@dataclass(frozen=True, slots=True)
class Section:
    """A section: its name, how often it is played, and its rows.

    ``same_as`` names the section whose music this one shares; its rows then hold words.
    A section without a name holds what stands before the first heading.  ``as_typed`` is the
    section as the text has it, where that is less: one that comes again in another key or meter
    (``moved_sections.py``).
    """

    name: str
    rows: tuple[Row, ...] = ()
    times: int = 1
    same_as: str = ""
    comment: str = ""
    span: Span = _span()
    as_typed: "Section | None" = None


@dataclass(frozen=True, slots=True)
class Chart:
    """A whole chart: the rows above the first section, then the sections."""

    top: tuple[TopRow, ...] = ()
    sections: tuple[Section, ...] = ()

    def setting(self, name: SettingName) -> SettingValue | None:
        """The value of a setting at the top of the chart; None where it is not given."""
        for row in self.top:
            if isinstance(row, SettingRow) and row.name == name:
                return row.value
        return None

    def text(self, name: SettingName) -> str:
        """A setting that is plain text, empty where it is not given."""
        value = self.setting(name)
        return "" if value is None else str(value)

    def notes(self) -> tuple[str, ...]:
        """Every ``note`` at the top, in order."""
        return tuple(
            str(row.value) for row in self.top if isinstance(row, SettingRow) and row.name == "note"
        )

    def shapes(self) -> tuple[SettingRow, ...]:
        """The rows that give the player's own shapes."""
        return tuple(
            row
            for row in self.top
            if isinstance(row, SettingRow) and isinstance(row.value, GivenShape)
        )

    @property
    def meter(self) -> Meter:
        """The meter at the start; 4/4 where none is given."""
        value = self.setting("meter")
        return value if isinstance(value, Meter) else Meter(4, 4)

    @property
    def key(self) -> Key | None:
        """The key at the start, of the chords as written; None where none is given."""
        value = self.setting("key")
        return value if isinstance(value, Key) else None

    @property
    def capo(self) -> Capo:
        """The capo the chart asks for; no capo if it asks for none or leaves the choice open."""
        value = self.setting("capo")
        if isinstance(value, Capo):
            return value
        return Capo.from_number(value) if isinstance(value, int) else NO_CAPO

    @property
    def wants_best_capo(self) -> bool:
        """Whether the chart leaves the choice of the capo to the program."""
        return self.setting("capo") == BEST_CAPO

    @property
    def written_as_shapes(self) -> bool:
        """Whether the written chords are shapes rather than what sounds."""
        return self.setting("chords") == "shapes"
