"""The values of a made-up song.  Times are in quarter notes from the start of a bar; pitches and
roots are places on the line of fifths (C is 0, G is 1, F is -1)."""

from dataclasses import dataclass, field
from fractions import Fraction

Q = Fraction


@dataclass(frozen=True)
class Symbol:
    """A chord symbol: root, quality by its name in ``symbols.QUALITIES``, perhaps a bass."""

    root: int
    quality: str
    bass: int | None = None


@dataclass(frozen=True)
class Placed:
    """A chord where it is struck; no symbol is N.C."""

    at: Fraction
    symbol: Symbol | None


@dataclass(frozen=True)
class Syllable:
    """A syllable; ``goes_on`` within its word, ``again`` one that goes on with a word.  ``second``
    is a syllable of the next word that is sung on the same note."""

    text: str
    goes_on: bool = False
    again: bool = False
    second: str = ""


@dataclass
class Note:
    """A note, or a rest without a step; ``sung`` are the syllables by verse, ``holds`` says that
    the one before is sung on.  ``tied`` leads to the next note; an ``upbeat`` belongs to the
    phrase that follows."""

    at: Fraction
    length: Fraction
    step: int | None
    octave: int = 4
    sung: dict[int, Syllable] = field(default_factory=dict)
    holds: bool = False
    tied: bool = False
    tied_from: bool = False
    triplet: bool = False
    upbeat: bool = False


@dataclass
class Bar:
    """A bar as it is written: ``length`` is less than its meter in a pick-up and before a repeat.

    One that is ``cut`` is written as two measures, the second with the upbeat alone.
    ``phrase`` says that a phrase begins with it, ``opens`` that something else does with which a
    row may begin.  ``closes`` ends an ending.  ``marks`` are named as charts name them.
    """

    length: Fraction
    meter: tuple[int, int]
    chords: list[Placed] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    section: str = ""
    starts: bool = False
    ends: bool = False
    times: int = 0
    endings: tuple[int, ...] = ()
    closes: bool = False
    marks: list[str] = field(default_factory=list)
    until: str = ""
    said: list[tuple[Fraction, str]] = field(default_factory=list)
    phrase: bool = False
    opens: bool = False
    middle: bool = False
    double: bool = False
    pickup: bool = False
    cut: bool = False
    silent: bool = False
    fermata: Fraction | None = None
    key: int | None = None
    tempo: int = 0


@dataclass
class Song:
    """A song: ``fifths`` are the signs of its key, ``minor`` its mode.  ``home`` says that it ends
    on its tonic."""

    title: str
    composer: str
    lyricist: str
    tempo: int
    fifths: int
    minor: bool
    home: bool
    meter: tuple[int, int]
    bars: list[Bar] = field(default_factory=list)
    language: str = "en"
    feel: str = ""

    @property
    def verses(self) -> list[int]:
        """The numbers of the verses that are sung anywhere."""
        return sorted({v for bar in self.bars for note in bar.notes for v in note.sung})


def full(meter: tuple[int, int]) -> Fraction:
    """The length of a full bar."""
    return Q(4 * meter[0], meter[1])


def beat_of(meter: tuple[int, int]) -> Fraction:
    """The length of a beat, the dotted one in compound meters."""
    compound = meter[1] >= 8 and meter[0] % 3 == 0 and meter[0] > 3
    return Q(12, meter[1]) if compound else Q(4, meter[1])
