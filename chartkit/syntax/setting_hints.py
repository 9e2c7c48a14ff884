"""Hints at what the value of a setting was probably meant to be."""

import re
from collections.abc import Callable, Iterator

from chartkit.chart.model import SettingName
from chartkit.syntax.symbol import likely_meaning
from chartkit.theory.key import UnknownMode, parse_key
from chartkit.theory.naming import note_from_german

_GERMAN_KEY = re.compile(r"([A-Ha-h])(is|es|s)?(?:[\s-]*(dur|moll))?", re.IGNORECASE)
_NUMBERS = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_METERS = {
    "c": "4/4",
    "common": "4/4",
    "common time": "4/4",
    "cut": "2/2",
    "cut time": "2/2",
    "c|": "2/2",
    "¢": "2/2",
    "alla breve": "2/2",
    "waltz": "3/4",
}
"""Names and signs of meters (common practice, no source)."""


def value_hints(name: SettingName, text: str, reason: ValueError) -> tuple[str, ...]:
    """Hints for a value that the setting cannot have; none if nothing is likely."""
    reader = _HINTS.get(name)
    return tuple(reader(text, reason)) if reader is not None else ()


def _key(text: str, reason: ValueError) -> Iterator[str]:
    if isinstance(reason, UnknownMode) and reason.suggestion:
        yield f'did you mean "{reason.suggestion}"?'
    elif german := german_key(text):
        yield f'"{text}" is written "{german}" here'
    else:
        yield from likely_meaning(text.split()[0]).hints


def german_key(text: str) -> str:
    """The key that a German name such as Es-Dur or fis-Moll means; empty where it is none."""
    match = _GERMAN_KEY.fullmatch(text)
    if match is None or not (match[2] or match[3]):
        return ""
    letter, sign, mode = match[1].upper(), (match[2] or "").lower(), (match[3] or "").lower()
    small = match[1].islower() and not mode
    written = f"{note_from_german(letter, sign)} {'minor' if mode == 'moll' or small else 'major'}"
    try:
        return written if parse_key(written) else ""
    except ValueError:
        return ""


def _tempo(text: str, reason: ValueError) -> Iterator[str]:
    numbers = _NUMBERS.findall(text)
    if len(numbers) == 1:
        whole = int(re.split("[.,]", numbers[0])[0][:6])
        if 10 <= whole <= 400:
            yield (
                f'write the number alone: "{whole}"'
                if numbers[0].isdecimal()
                else f'write a whole number: "{whole}"'
            )


def _meter(text: str, reason: ValueError) -> Iterator[str]:
    meant = _METERS.get(text.lower(), "")
    apart = re.fullmatch(r"(\d{1,2})\s*[-:.|\\]\s*(\d{1,2})", text)
    if apart is not None:
        meant = f"{apart[1]}/{apart[2]}"
    if meant:
        yield f'write it in numbers: "{meant}"'


def _capo(text: str, reason: ValueError) -> Iterator[str]:
    if text.lower() in ("none", "no", "no capo", "off", "open", "without"):
        yield 'without a capo: "0"'
    numbers = re.findall(r"\d+", text)
    if len(numbers) in (2, 3) and not text.startswith("-"):
        strings = "-".join(numbers[1:])
        yield f'over some strings: "{numbers[0]} over string{"s" * (len(numbers) > 2)} {strings}"'
    if len(numbers) == 1 and int(numbers[0][:3]) <= 11 and text != numbers[0]:
        yield f'write the fret alone: "{numbers[0]}"'


_HINTS: dict[SettingName, Callable[[str, ValueError], Iterator[str]]] = {
    "key": _key,
    "tempo": _tempo,
    "meter": _meter,
    "capo": _capo,
}
