"""A chord symbol in the signs of its grammar, and what the changes in it mean over its base."""

import re

from chartkit.theory.note import NOTE_NAME
from chartkit.theory.quality import BOTH_SEVENTHS, BY_SPELLING, MAJOR_FOR_MINOR, names_seventh

_RAISED = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁽⁾₀₁₂₃₄₅₆₇₈₉", "0123456789+-()0123456789", strict=True))
_USUAL = str.maketrans({**dict.fromkeys("−–‐‑‒﹣－", "-"), "∅": "ø", **_RAISED})
"""Lookalikes of the language's signs: a minus, an en dash, hyphens that do not break, the empty
set, raised and lowered figures."""
_BLANKS = re.compile(r" *[ ,/] *(?=[^()]*\))")
"""Separators between changes in parentheses, a comma, a slash or blanks: C7(b9 b13)."""
_TRIANGLE = re.compile(r"\^(?=\d)")
"""The triangle of a major seventh as a keyboard has it (common practice, no source)."""
_SIXTH_AND_NINTH = re.compile(rf"{NOTE_NAME.pattern}(?:m|mi|min|Mi|-|M|ma|maj|Ma|Maj)?6-9")
"""A sixth with a ninth, most likely, and not with a flat one: C6-9."""
_WORDS = re.compile(r"(?<=[A-G#b♯♭/(])(?:[Mm]ajor|[Mm]inor)|(?<=inor)/?(?:[Mm]ajor)")


def _in_short(word: re.Match[str]) -> str:
    """Major or minor as the table has it: "major7" is maj7, "minor/major7" m/maj7."""
    return word[0].lower().replace("major", "maj").replace("minor", "m")


def in_usual_signs(symbol: str) -> str:
    """The symbol in the signs of the grammar; empty for one that may be either of two chords."""
    usual = _BLANKS.sub(",", _WORDS.sub(_in_short, symbol.translate(_USUAL)))
    return "" if _SIXTH_AND_NINTH.match(usual) is not None else _TRIANGLE.sub("△", usual)


NATURAL = "="
"""Before a plain number whose meaning depends on its base."""


def as_meant(base: str, changes: tuple[str, ...]) -> tuple[str, ...] | None:
    """The changes as they are meant over a base quality as written; None if they say nothing sure.

    A fourth over a seventh chord takes the place of its third, C7(4), unless "m" names that; a
    sixth is added to it; a seventh comes to chords without one, Csus4(7).  A major seventh takes
    the place of one that is only implied: Cm9(maj7).
    """
    tones = BY_SPELLING[base].degrees
    seventh = not {"7", "b7", "bb7"}.isdisjoint(tones) or f"{NATURAL}7" in changes
    meant = []
    for change in changes:
        number = change.removeprefix(NATURAL)
        if change == BOTH_SEVENTHS and not names_seventh(base) and f"{NATURAL}7" not in changes:
            meant.append(MAJOR_FOR_MINOR)
        elif number == change:
            meant.append(change)
        elif number == "7":
            if not {"7", "b7", "6", "b5"}.isdisjoint(tones):
                return None
            meant.append("b7")
        elif not seventh or (number == "4" and "b3" in tones):
            return None
        else:
            meant.append({"4": "sus4", "6": "add6"}[number])
    return tuple(meant)
