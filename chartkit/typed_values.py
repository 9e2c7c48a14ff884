"""How the values of options are read: choices, numbers, paths.

A reader takes the text that was given, and raises ValueError in plain words for a wrong one.
"""

import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from chartkit.phrases import listed, nearest

_WHOLE = re.compile(r"[+-]?[0-9]+", re.ASCII)
_DECIMAL = re.compile(r"\+?[0-9]{1,6}(\.[0-9]{1,9})?", re.ASCII)
_MOST_DIGITS = 9


class Advised(ValueError):
    """A wrong value, in plain words, with a hint at what was probably meant (empty for none)."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


CHORDS = ("both", "shapes", "sounding")
"""The choices of ``--show`` that show chords."""


_OTHER_CHOICES = {
    "lyrics": "words",
    "text": "words",
    "drums": "road-map",
    "form": "road-map",
    "degrees": "numbers",
    "concert": "sounding",
    "capo": "shapes",
    "everything": "both",
    "treble": "high",
    "bass": "low",
}
"""Other names for what is shown or chosen (common practice, no source)."""


def meant_choice(text: str, choices: Sequence[str]) -> str:
    """The choice that a wrong one probably meant; empty if none is likely."""
    other = _OTHER_CHOICES.get(text.casefold(), "")
    return other if other in choices else nearest(text, choices)


def one_of(choices: Sequence[Any]) -> Callable[[str], Any]:
    """A reader of one of the choices, which raises ValueError for any other text.

    Capitals count only where choices differ by them.
    """

    def read(text: str) -> Any:
        if text in choices:
            return text
        folded = [choice for choice in choices if choice.casefold() == text.casefold()]
        if len(folded) == 1:
            return folded[0]
        near = meant_choice(text, choices)
        meant = f'; did you mean "{near}"?' if near else ""
        if text.casefold() in ("chord", "chords") and {*CHORDS} <= {*choices}:
            meant = f"; a page with chords is {listed(CHORDS, 'or')}"
        if text.casefold() == "pdf" and "musicxml" in choices:
            meant = "; chartkit engrave writes PDFs"
        raise ValueError(f'"{text}" is not one of {listed(choices, "or")}{meant}')

    return read


def whole_number(least: int, most: int | None = None) -> Callable[[str], int]:
    """A reader of a whole number within limits, which raises ValueError for any other text."""
    limits = f"from {least} to {most}" if most is not None else f"from {least} up"

    def read(text: str) -> int:
        plain = text.strip().replace("−", "-")
        if _WHOLE.fullmatch(plain) is None:
            raise ValueError(f'"{text}" is not a whole number in digits: write one {limits}')
        number = int(plain) if len(plain) <= _MOST_DIGITS else None
        if number is None or number < least or (most is not None and number > most):
            raise ValueError(f"{text} is out of reach: it goes {limits}")
        return number

    return read


def decimal_number(text: str) -> float:
    """A number of ordinary size, such as ``1.2``. Raises ValueError."""
    plain = text.strip()
    if _DECIMAL.fullmatch(plain) is None:
        point = f"; write {plain.replace(',', '.')}" if re.fullmatch(r"\d+,\d+", plain) else ""
        raise ValueError(f'"{text}" is not a number{point}')
    return float(plain)


def file_path(text: str) -> Path:
    """A path. Raises ValueError if no system accepts it."""
    if "\0" in text:
        raise ValueError("no file has a null character in its name")
    return Path(text)
