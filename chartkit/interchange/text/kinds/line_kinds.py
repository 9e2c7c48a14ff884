"""What a line of a sheet can be: a value for each kind."""

from dataclasses import dataclass

from chartkit.chart.marks import Mark
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_form.roadmap import Stop
from chartkit.interchange.text.tokens import Token
from chartkit.interchange.text.vocabulary.facts import Fact


@dataclass(frozen=True, slots=True)
class Blank:
    """Nothing, or signs that only rule a line."""


@dataclass(frozen=True, slots=True)
class SectionStart:
    """A section's heading, or a step of the form; ``remarks`` are said of it, ``like`` is the
    section whose music it has.  ``with_chords`` says that its chords stand on the same line."""

    name: str
    times: int = 1
    like: str = ""
    remarks: tuple[str, ...] = ()
    guessed: bool = False
    with_chords: bool = False


@dataclass(frozen=True, slots=True)
class Chords:
    """A row of chords; ``behind_name`` says that a section's name stands before it."""

    tokens: tuple[Token, ...]
    behind_name: bool = False


@dataclass(frozen=True, slots=True)
class Silence:
    """Bars of rest, counted in words."""


@dataclass(frozen=True, slots=True)
class Tablature:
    """A string of tablature."""


@dataclass(frozen=True, slots=True)
class Settings:
    """Settings and nothing else."""

    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Remark:
    """A word to the players; ``in_parentheses`` it may be sung where chords stand above,
    ``beside_words`` it stood on one line with words, ``who_sings`` it says whose the words below
    are."""

    text: str
    in_parentheses: bool = False
    beside_words: bool = False
    who_sings: bool = False


@dataclass(frozen=True, slots=True)
class Marks:
    """Marks such as "D.S. al Coda", alone on a line."""

    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Shapes:
    """Chords with their frets."""


@dataclass(frozen=True, slots=True)
class Note:
    """What is said of the whole song: a tuning, the chords used, the form."""


@dataclass(frozen=True, slots=True)
class Roadmap:
    """The order in which all sections are played, each of which is written once."""

    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True)
class Letter:
    """What is said to the reader of a mail."""


@dataclass(frozen=True, slots=True)
class ChordsWithin:
    """Words with chords in parentheses among them."""

    words: Line
    tokens: tuple[Token, ...]


@dataclass(frozen=True, slots=True)
class ChordsBehind:
    """Words with chords behind them."""

    words: Line
    tokens: tuple[Token, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """Words to be sung; ``may_be_said`` they are said to the players as likely as not."""

    may_be_said: bool = False


LineKind = (
    Blank
    | SectionStart
    | Chords
    | Silence
    | Tablature
    | Settings
    | Remark
    | Marks
    | Shapes
    | Note
    | Roadmap
    | Letter
    | ChordsWithin
    | ChordsBehind
    | Words
)


SUNG = (Words, ChordsWithin, ChordsBehind)
"""The kinds of lines of words."""
MUSIC = (SectionStart, Chords, ChordsWithin, ChordsBehind)
"""The kinds of lines of which the song consists, but for words without chords."""


@dataclass(frozen=True, slots=True)
class KnownLine:
    """A line and what it is."""

    line: Line
    kind: LineKind

    @property
    def words(self) -> Line:
        """The line without the chords that stand in it or behind it."""
        return self.kind.words if isinstance(self.kind, ChordsWithin | ChordsBehind) else self.line

    @property
    def can_be_sung(self) -> bool:
        """Whether it can stand under chords as words."""
        if isinstance(self.kind, Remark):
            return self.kind.in_parentheses
        return isinstance(self.kind, SUNG)
