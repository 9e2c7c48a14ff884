"""Values out of XML elements: numbers that cannot surprise, texts, notes."""

import re
from fractions import Fraction
from xml.etree.ElementTree import Element

from chartkit.theory.note import LETTERS

_NUMBER = re.compile(r"\s*([+-]?\d{1,9})(?:\.(\d{1,9}))?\d*\s*")
_SHORT = 10
_MOST_ALTERATIONS = 2


def text_of(element: Element, path: str) -> str:
    """The text of a child, without white space around it; empty where there is none."""
    return (element.findtext(path) or "").strip()


def number(text: str | None, default: Fraction | int = 0) -> Fraction:
    """The number a text holds, exactly; the default for anything else, however long."""
    found = _NUMBER.fullmatch(text or "")
    if found is None:
        return Fraction(default)
    whole, part = found[1], found[2] or ""
    return Fraction(int(whole + part), 10 ** len(part)) if part else Fraction(int(whole))


def whole_number(text: str | None, default: int = 0) -> int:
    """The number rounded to a whole one."""
    if text is not None and len(text) < _SHORT and text.removeprefix("-").isdecimal():
        return int(text)
    return round(number(text, default))


def is_plain_alteration(text: str) -> bool:
    """Whether an alteration is a whole number of half steps that a chart can write."""
    half_steps = number(text, _MOST_ALTERATIONS + 1)
    return half_steps.denominator == 1 and abs(half_steps) <= _MOST_ALTERATIONS


def note_of(step: str, alter: str | None) -> int | None:
    """The place on the line of fifths of a step and its alteration in half steps.

    None for what is no step.  Quarter tones go to the nearest half step, and more than two
    alterations count as two.
    """
    if len(step) != 1 or step not in LETTERS:
        return None
    signs = max(-_MOST_ALTERATIONS, min(_MOST_ALTERATIONS, whole_number(alter)))
    return LETTERS.index(step) - 1 + 7 * signs
