"""An instrument with frets: its strings, its lengths, and a tuning given as notes.

Conventions: strings are counted from the player's bass side, 0 first, as a shape text
``x32010`` reads.  A string's fret 0 is its open note; frets on a string under a capo are
counted from the capo, which then acts as the nut.
"""

from dataclasses import dataclass, replace

from chartkit.theory.capo import Capo
from chartkit.theory.pitch import Pitch, parse_pitch


@dataclass(frozen=True, slots=True)
class String:
    """One string, or one course of two.

    ``pitch`` is its open note; ``paired`` the second string of a course where that sounds
    another pitch; ``drone`` marks a short string that is never fretted.  ``beside_capo`` is how
    many half steps lower the open string sounds than with the capo on it: the fret of a short capo
    that leaves this string out, 0 otherwise.
    """

    pitch: Pitch
    paired: Pitch | None = None
    drone: bool = False
    beside_capo: int = 0

    def sounding(self, fret: int) -> int:
        """The MIDI number at a fret counted from the capo, as if the capo were the nut."""
        return self.pitch.midi + (fret or -self.beside_capo)


@dataclass(frozen=True, slots=True)
class Instrument:
    """A fretted instrument.

    ``scale_mm`` is the speaking length of an open string, ``nut_spread_mm`` and
    ``bridge_spread_mm`` the distance from the first string to the last at either end.
    ``bass_counts`` says that the lowest string played must be the chord's bass. This holds for
    guitars, but not for instruments with four strings or whose first string is not the lowest.
    """

    name: str
    strings: tuple[String, ...]
    scale_mm: float = 648.0
    nut_spread_mm: float = 36.5
    bridge_spread_mm: float = 54.0
    frets: int = 20
    bass_counts: bool = True

    @property
    def tuning(self) -> str:
        """The open notes as text, ``E2 A2 D3 G3 B3 E4``."""
        return " ".join(str(string.pitch) for string in self.strings)

    @property
    def open_pitches(self) -> tuple[int, ...]:
        """The open strings as MIDI numbers, as if a short capo left none out."""
        return tuple(string.pitch.midi for string in self.strings)

    @property
    def sounds_open(self) -> tuple[int, ...]:
        """The sounding open strings as MIDI numbers; those beside a short capo are lower."""
        return tuple(string.sounding(0) for string in self.strings)

    @property
    def beside_capo(self) -> tuple[int, ...]:
        """The strings that a short capo leaves out, counted from the bass side."""
        return tuple(place for place, string in enumerate(self.strings) if string.beside_capo)

    @property
    def has_capo(self) -> bool:
        """Whether its players carry a capo: those of guitars and of a banjo with a drone do, those
        of a ukulele or mandolin do not (common practice, no source)."""
        return self.bass_counts or any(string.drone for string in self.strings)

    @property
    def fewest_strings(self) -> int:
        """How many strings a chord must sound on: four, or all where there are fewer."""
        return min(4, len(self.strings))


def under_capo(instrument: Instrument, capo: Capo) -> Instrument:
    """The instrument with the nuts that a capo gives its strings.

    Itself under a capo over all strings; under a short one the strings beside it sound lower
    when they are open.  Frets are counted from the capo on every string, and none is fretted
    after it.
    """
    if not capo.strings:
        return instrument
    count = len(instrument.strings)
    strings = tuple(
        string if capo.covers(count - place) else replace(string, beside_capo=capo.fret)
        for place, string in enumerate(instrument.strings)
    )
    return replace(instrument, strings=strings)


def without_short_capo(instrument: Instrument) -> Instrument:
    """A copy of the instrument with no string left out by a short capo."""
    strings = tuple(replace(string, beside_capo=0) for string in instrument.strings)
    return replace(instrument, strings=strings)


def strings_tuned(tuning: str) -> tuple[String, ...]:
    """The strings of a tuning written as notes, bass side first: ``D2 A2 D3 G3 B3 E4``.

    Raises ValueError in plain words when a note is misspelt or there are not 3 to 12.
    """
    words = tuning.replace(",", " ").split()
    if not 3 <= len(words) <= 12:
        raise ValueError(
            f"a tuning names 3 to 12 strings, and this one has {len(words)}: "
            "write it from the bass side, such as D2 A2 D3 G3 B3 E4"
        )
    return tuple(String(parse_pitch(word)) for word in words)
