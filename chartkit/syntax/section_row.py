"""A ``== Name`` row: what a section is called, how often it is played, whose music it has."""

import re
from collections.abc import Container, Iterable
from typing import Any

from lark import Token

from chartkit.chart.model import MOST_TIMES, Section
from chartkit.diagnostics import Span
from chartkit.phrases import nearest
from chartkit.syntax.report import Report
from chartkit.syntax.words import comment_text

_WORDS_FOR = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8}
_NUMBER = rf"(\d{{1,2}}|{'|'.join(_WORDS_FOR)})"
_TIMES_IN_NAME = re.compile(
    rf"(?:^|\s)\(?(?:x\s*{_NUMBER}|{_NUMBER}\s*(?:x|times)|(twice|thrice))\)?$", re.IGNORECASE
)
_IN_DIGITS = re.compile(r"\(?x\s*\d+\)?|\d+\s*x", re.IGNORECASE)
"""Texts that are surely a number of times; other words might be a name."""
_NO_NAME = re.compile(r"as|x\d+").fullmatch
"""Words that say something else where they stand alone in a section row."""


def read_section(
    parts: list[Any] | None,
    text: str,
    span: Span,
    earlier: Iterable[str],
    with_music: Container[str],
    report: Report,
) -> Section:
    """The section, without its rows, that the grammar's parts make.

    ``earlier`` are the names of the sections so far, ``with_music`` the same without case.
    """
    name, same_as, times, comment, named_at = "", "", 1, "", 0
    for part in parts or ():
        if isinstance(part, Token):
            if part.type == "TIMES":
                times = _times(part, report)
            else:
                comment = comment_text(part)
        elif part[0] == "name":
            name = _bare_name(" ".join(part[1]))
        else:
            same_as = " ".join(part[1])
            named_at = part[1][0].start_pos or 0
    if not name and parts is not None:
        report.add(
            "section-without-name",
            *report.in_row(span),
            "this section has no name",
            "write one after the signs: == Verse 1",
        )
    _check_times_in(name, text, report)
    if same_as and same_as.casefold() not in with_music:
        _report_unknown(same_as, named_at, earlier, report)
        same_as = ""
    return Section(name=name, rows=(), times=times, same_as=same_as, comment=comment, span=span)


def _bare_name(written: str) -> str:
    """The name without signs around it, as in ``== Verse ==``, if a name is left.

    What follows the signs at once and begins with "#" is a comment, and no name.
    """
    if written.startswith("#"):
        return ""
    bare = written.strip("= ")
    words = bare.split()
    return written if words and (words[0][0] == "#" or any(map(_NO_NAME, words))) else bare


def _times(token: Token, report: Report) -> int:
    times = int(token[1:4])
    if len(token) > len("x99") or not times:
        start = token.start_pos or 0
        report.add(
            "bad-times",
            start,
            start + len(token),
            f'a section cannot be played "{token[1:]}" times',
            f"write x2 for twice, up to x{MOST_TIMES}",
        )
    return max(1, times)


def _check_times_in(name: str, text: str, report: Report) -> None:
    match = _TIMES_IN_NAME.search(name)
    if match is not None:
        written = match[0].strip()
        offset = max(0, text.rfind(written))
        before = name[: match.start()].split() or ["Chorus"]
        times = _count(match[1] or match[2] or match[3])
        report.add(
            "times-in-name",
            offset,
            offset + len(written),
            f'"{written}" would be part of the section\'s name',
            "to repeat the section, write the number at the end of the row: "
            f'"{" ".join(["==", *before])} x{times}"',
            severity="error" if _IN_DIGITS.fullmatch(written) else "warning",
        )


def _count(written: str) -> int:
    """The number that is written in digits or as a word."""
    lowered = written.lower()
    if lowered.isdecimal():
        return int(lowered)
    return {"twice": 2, "thrice": 3, **_WORDS_FOR}[lowered]


_MOST_COMPARED, _LONGEST_COMPARED = 100, 40
"""The most earlier sections that are named and compared, and the longest name; no song has more."""


def _report_unknown(name: str, offset: int, earlier: Iterable[str], report: Report) -> None:
    end, name = offset + len(name), name.strip('"“”')
    known = list(dict.fromkeys(filter(None, earlier)))[-_MOST_COMPARED:]
    names = ", ".join(known)
    short = [name for name in known if len(name) <= _LONGEST_COMPARED]
    near = nearest(name.strip("().,"), short)
    meant = (f'did you mean "as {near}"?',) if near else ()
    hint = (
        f"sections so far: {names}"
        if names
        else 'only a section that comes earlier can be named after "as"'
    )
    report.add(
        "unknown-section",
        offset,
        end,
        f'there is no section "{name}" before this',
        *meant,
        hint,
    )
