"""Foreign text made fit to stand in a chart.

The chart language gives a meaning to some signs in names and cues; a name taken from
another source must not be read as one of them.
"""

import re
import unicodedata

_LONGEST_NAME = 80
_LONGEST_CUE = 400
_TIMES = re.compile(r"\bx(?=\d+(?!\S))")


def one_line(text: str | None) -> str:
    """The text on one line: white space becomes single blanks, what cannot be printed goes."""
    if not text:
        return ""
    if text.isprintable():
        return " ".join(text.split())
    kept = "".join(c if _printable(c) else " " if c.isspace() else "" for c in text)
    return " ".join(kept.split())


def _printable(character: str) -> bool:
    if character.isascii():
        return " " <= character < "\x7f"
    return unicodedata.category(character) not in ("Cc", "Cs", "Zl", "Zp", "Cn") and (
        character != "\ufeff"
    )


def section_name(text: str) -> str:
    """A section's name: ``as`` and ``x2`` lose the meaning they have in a section row."""
    name = one_line(text).strip("= ")[:_LONGEST_NAME].strip("= ").replace("#", "♯")
    words = ["As" if word == "as" else word for word in name.split()]
    return _TIMES.sub("×", " ".join(words))


def cue_text(text: str) -> str:
    """A cue: quotes become typographic ones, for plain ones end it."""
    return one_line(text)[:_LONGEST_CUE].replace('"', "”").strip()


def setting_text(text: str) -> str:
    """The value of a setting that holds plain text."""
    return one_line(text)[:_LONGEST_CUE].strip()


def counted(number: int, noun: str) -> str:
    """A number with its noun: 1 bar, 2 bars."""
    return f"{number:,} {noun}{'' if number == 1 else 's'}"


def sung_text(text: str) -> str:
    """Words to be sung, on one line."""
    return one_line(text)
