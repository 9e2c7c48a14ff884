"""What is done to a guitar so that its shapes sound elsewhere: a capo, a lower tuning, or both."""

import re
from dataclasses import dataclass

HIGHEST_CAPO, MOST_TUNED_DOWN = 11, 5
"""The highest fret for a capo and the most half steps down that the program works with."""

_NUMBER = re.compile(r"[+-]?[0-9]{1,3}", re.ASCII)


@dataclass(frozen=True, slots=True, order=True)
class Capo:
    """A capo at ``fret`` (0 for none) on a guitar tuned ``tuned_down`` half steps.

    ``strings`` are the strings the capo covers, counted from 1 at the treble side; None is all.
    """

    fret: int = 0
    tuned_down: int = 0
    strings: tuple[int, ...] | None = None

    @classmethod
    def from_number(cls, number: int) -> "Capo":
        """The capo that one number stands for: a fret, or with a minus half steps down."""
        return cls(max(0, number), max(0, -number))

    @property
    def raised(self) -> int:
        """How many half steps what sounds lies above the shapes; negative is below.

        This is also the number that stands for the capo in charts, in set files and on the
        command line.
        """
        return self.fret - self.tuned_down

    def __str__(self) -> str:
        """``capo 3``, ``tuned down 1``, ``tuned down 1, capo 3`` or ``no capo``."""
        tuning = f"tuned down {self.tuned_down}" if self.tuned_down else ""
        capo = f"capo {self.fret}" if self.fret else ""
        return ", ".join(filter(None, (tuning, capo))) or "no capo"


NO_CAPO = Capo()
"""A guitar in its own tuning, without a capo."""


def parse_capo(text: str) -> Capo:
    """The capo that ``3``, ``-1`` or ``0`` stands for.  Raises ValueError in plain words."""
    plain = text.replace("−", "-")
    if _NUMBER.fullmatch(plain) is None:
        raise ValueError(f'"{text}" is not a fret: give a number such as 2, or -1 for tuned down')
    number = int(plain)
    if not -MOST_TUNED_DOWN <= number <= HIGHEST_CAPO:
        raise ValueError(
            f"capo {number} is out of reach: from {-MOST_TUNED_DOWN} to {HIGHEST_CAPO}"
        )
    return Capo.from_number(number)
