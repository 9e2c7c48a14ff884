"""The capo: a fret, a lower tuning, or both, and how charts write it."""

import re
from dataclasses import dataclass

HIGHEST_CAPO, MOST_TUNED_DOWN = 11, 5
"""The highest fret for a capo and the most half steps down that the program works with
(ours)."""

_STEPS = {1: "a half step", 2: "a whole step", 3: "a step and a half", 4: "two whole steps"}

_NUMBER = re.compile(r"[+-]?[0-9]{1,3}", re.ASCII)
_OVER_STRINGS = re.compile(
    r"(?P<fret>\S+)\s+(?:over|on)\s+strings?\s+"
    r"(?P<one>[0-9]{1,2})(?:\s*(?:[-–]|to)\s*(?P<other>[0-9]{1,2}))?",
    re.ASCII | re.IGNORECASE,
)
MOST_STRINGS = 12
"""The most strings of an instrument, and so of a short capo (a twelve-string guitar's)."""


def step_words(half_steps: int) -> str:
    """How far strings are tuned, in a player's words: ``a whole step``, ``5 half steps``."""
    return _STEPS.get(half_steps, f"{half_steps} half steps")


@dataclass(frozen=True, slots=True, order=True)
class Capo:
    """A capo at ``fret`` (0 for none) on a guitar tuned ``tuned_down`` half steps.

    ``strings`` are the neighbouring strings that a short capo covers, counted from 1 at the
    treble side, lowest number first; empty where it covers all.  The others sound from the nut;
    shapes are counted from the capo on every string.
    """

    fret: int = 0
    tuned_down: int = 0
    strings: tuple[int, ...] = ()

    @classmethod
    def from_number(cls, number: int) -> "Capo":
        """The capo for one number: a fret, or a negative number of half steps down."""
        return cls(max(0, number), max(0, -number))

    @property
    def raised(self) -> int:
        """How many half steps the sounding chords lie above the shapes; negative is below.

        This is also the number that stands for a capo over all strings in charts, in set files and
        on the command line.
        """
        return self.fret - self.tuned_down

    @property
    def setting(self) -> "int | Capo":
        """The capo as a chart's setting: its number, or the capo itself if it is a short one."""
        return self if self.strings else self.raised

    @property
    def written(self) -> str:
        """The capo as a chart's row says it: ``2``, ``-1``, ``2 over strings 5-3``."""
        return f"{self.raised}{self._over('-')}"

    @property
    def place(self) -> str:
        """Where the capo sits, for a sentence: ``2``, ``2 over strings 5 to 3``, ``off``."""
        return f"{self.fret}{self._over(' to ')}" if self.fret else "off"

    @property
    def brief(self) -> str:
        """The capo in few letters, for a table: ``capo 2 (5-3)``, else as ``str`` says it."""
        if not self.strings:
            return str(self)
        over = "-".join(map(str, dict.fromkeys((self.strings[-1], self.strings[0]))))
        return f"capo {self.fret} ({over})"

    def covers(self, string: int) -> bool:
        """Whether the capo covers a string, counted from 1 at the treble side."""
        return bool(self.fret) and (not self.strings or string in self.strings)

    def _over(self, to: str) -> str:
        if not self.strings:
            return ""
        if len(self.strings) == 1:
            return f" over string {self.strings[0]}"
        return f" over strings {self.strings[-1]}{to}{self.strings[0]}"

    def __str__(self) -> str:
        """``capo 3``, ``tuned down 1``, ``capo 2 over strings 5 to 3`` or ``no capo``."""
        tuning = f"tuned down {self.tuned_down}" if self.tuned_down else ""
        capo = f"capo {self.place}" if self.fret else ""
        return ", ".join(filter(None, (tuning, capo))) or "no capo"


NO_CAPO = Capo()
"""A guitar in its own tuning, without a capo."""


def parse_capo(text: str, least: int = -MOST_TUNED_DOWN) -> Capo:
    """The capo that ``3``, ``-1``, ``0`` or ``2 over strings 5-3`` stands for; ``least`` is the
    lowest number that may be given.

    Raises ValueError in plain words.
    """
    plain = text.replace("−", "-").replace("–", "-")
    if (short := _OVER_STRINGS.fullmatch(plain)) is not None:
        return _short_capo(short)
    if _NUMBER.fullmatch(plain) is None:
        raise ValueError(f'"{text}" is not a fret: give a number such as 2, or -1 for tuned down')
    number = int(plain)
    if not least <= number <= HIGHEST_CAPO:
        lower = f", or {least} to -1 for tuned down" if least < 0 else ""
        raise ValueError(f"capo {number} is out of reach: give a fret up to {HIGHEST_CAPO}{lower}")
    return Capo.from_number(number)


def _short_capo(short: re.Match[str]) -> Capo:
    fret = short["fret"]
    if _NUMBER.fullmatch(fret) is None or not 0 < int(fret) <= HIGHEST_CAPO:
        raise ValueError(f"a short capo sits at a fret from 1 to {HIGHEST_CAPO}, not at {fret}")
    one, other = int(short["one"]), int(short["other"] or short["one"])
    first, last = min(one, other), max(one, other)
    if not 0 < first <= last <= MOST_STRINGS:
        raise ValueError(f"strings are counted from 1, the highest, to {MOST_STRINGS} at most")
    return Capo(int(fret), 0, tuple(range(first, last + 1)))
