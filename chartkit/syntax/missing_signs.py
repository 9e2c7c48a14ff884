"""Rows that lack the sign that says what they are: section names, settings at the top."""

import re
from typing import NamedTuple

from chartkit.diagnostics import Span
from chartkit.syntax.report import Report
from chartkit.syntax.setting_row import SECTION_WORD, setting_named
from chartkit.syntax.settings import setting_value

_LEAD = r"(?:(?:last|final|first|second|third|double|half|guitar|post)[\s-]*)?"
_SECTION = re.compile(
    rf"({_LEAD}{SECTION_WORD.pattern}(?:\s+(?:\d{{1,2}}|[A-Za-z]))?)(?:\s+(x\d{{1,2}}))?",
    re.IGNORECASE,
)
_LETTER = re.compile(r"\[\s*([A-Z][0-9]?)\s*\]")
_TIMES = re.compile(r"\(?(?:x\s?(\d{1,2})|(\d{1,2})\s?x)\)?\s*$", re.IGNORECASE)
_AROUND = "[](){}<>*=-–—_.:; "
_AGAIN = re.compile(
    r"^(?:repeat|play|back to)\s+(?:the\s+)?(?=[a-z])|\s+(?:again|once more)$", re.IGNORECASE
)
"""Words that ask for a section again; its heading alone does that."""
_SETTING = re.compile(
    r"(\s*([a-z]+))(?:\s|(?=\s*[=：;]))(\s*(?:[=：;]|[-–—](?=\s))?\s*)([^\s=:：;].*)", re.IGNORECASE
)
"""A setting with another sign than a colon after its name: a blank, "=", ";", a wide colon, or a
dash between blanks."""


class BareSection(NamedTuple):
    """A row that is only the name of a section: its place, the name, and the row that was meant.

    ``letter`` says that it is one letter in brackets, which may also be a chord.
    """

    span: Span
    name: str
    corrected_row: str
    letter: bool


def bare_section(text: str) -> BareSection | None:
    """The section that a row without ``==`` names, if it holds nothing else."""
    kept = re.split(r"\s#", text, maxsplit=1)[0]
    span = Span(len(kept) - len(kept.lstrip()), len(kept.rstrip()))
    letter = _LETTER.fullmatch(kept.strip())
    if letter is not None:
        return BareSection(span, letter[1], f"== {letter[1]}", letter=True)
    plain = _TIMES.sub(lambda match: f"x{match[1] or match[2]}", kept.strip(_AROUND))
    if "(" in kept and (times := _TIMES.search(kept)) is not None:
        plain = f"{kept[: times.start()].strip(_AROUND)} x{times[1] or times[2]}"
    match = _SECTION.fullmatch(plain)
    if match is None and "|" not in plain:
        match = _SECTION.fullmatch(_AGAIN.sub("", plain))
    if match is None:
        return None
    plain = match[0]
    return BareSection(span, match[1], " ".join(f"== {plain}".split()), letter=False)


def report_bare_section(bare: BareSection, report: Report) -> None:
    """Reports it, with the row as it is written."""
    chord = f'; a chord stands between bar lines: "| {bare.name} |"' if bare.letter else ""
    report.add(
        "words-without-colon",
        *bare.span,
        f'"{bare.name}" looks like the name of a section',
        f'a section row begins with two equals signs: "{bare.corrected_row}"{chord}',
    )


_IN_SECTIONS = ("key", "meter", "tempo", "capo")
"""The settings inside a section that a row without a colon may be: their values are checked, while
any words may follow ``feel``."""


def with_colon(text: str, in_section: bool, report: Report) -> str | None:
    """A setting whose colon is missing, reported, with a colon in place of the blank.

    None when the row is no setting with a value that it can have.
    """
    match = _SETTING.fullmatch(text.rstrip())
    name = setting_named(match[2]) if match is not None else None
    if match is None or name is None or "|" in text:
        return None
    if in_section and name not in _IN_SECTIONS:
        return None
    value = re.split(r"\s#", match[4], maxsplit=1)[0].strip()
    try:
        setting_value(name, value)
    except ValueError:
        return None
    report.add(
        "setting-without-colon",
        match.start(2),
        len(text.rstrip()),
        f'"{name}" has no colon after it',
        f'write "{name}: {value}"',
        'if these are words to be sung, begin the row with ":"',
    )
    return f"{match[1]}:{' ' * (match.start(4) - match.end(2) - 1)}{match[4]}"
