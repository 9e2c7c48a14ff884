"""Likely slips: words without their colon, chords lost in a comment."""

import re
from collections.abc import Iterator

from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report
from chartkit.syntax.setting_row import SECTION_WORD, setting_named
from chartkit.syntax.symbol import chord_or_none, likely_meaning
from chartkit.syntax.unexpected import likely_word_meaning


def check_comment(comment: str, start: int, report: Report) -> None:
    """Reports a comment that was probably meant to be played or sung."""
    if comment[1:2].strip():
        word = comment.split()[0]
        report.add(
            "sharp-or-comment",
            start,
            start + len(word),
            f'"{word}" after a blank begins a comment, and the row ends here',
            'a chord has no blanks in it: "C7#9"; in words write "\\#"; '
            'a comment has a blank after its "#"',
        )
    elif "|" in comment:
        report.warn(
            "bars-in-comment",
            start,
            start + len(comment.rstrip()),
            'there are bar lines in this comment, which begins at "#"',
            "if they are to be played, take the # out",
        )


def is_remark(text: str) -> bool:
    """Whether a row is words in parentheses alone, as cues are typed elsewhere."""
    match = _REMARK.fullmatch(text)
    return match is not None and not any(map(chord_or_none, match[1].split()))


def is_prose(elements: list[Element]) -> bool:
    """Whether a row looks like words that lack their colon."""
    kinds = [element.kind for element in elements]
    unknown = kinds.count("unknown")
    few = "line" in kinds and "group" in kinds and unknown < 4
    if unknown < 2 or unknown <= kinds.count("group") or few:
        return False
    explain = likely_word_meaning if "line" in kinds else likely_meaning
    hints = [h for e in elements if e.kind == "unknown" for h in explain(e.value).hints]
    return len(hints) * 2 < unknown


_REMARK = re.compile(r"\s*\(([a-z][a-z']+(?: [a-z']+)*)\)\s*", re.IGNORECASE)
_QUOTED = re.compile(r'"[^"]*"')
"""Cues; chords inside them are remarks, not chords typed among words."""
_BRACKETED = re.compile(r"\[([A-G][^\]\[\s|]{0,20})\]")


def has_chords_among_words(text: str) -> bool:
    """Whether chords stand in square brackets among words."""
    chords = [chord_or_none(match[1]) for match in _BRACKETED.finditer(_QUOTED.sub("", text))]
    return any(chords) and "|" not in text


def report_sheet(start: int, end: int, report: Report) -> None:
    """Reports words under a row of chords, or with chords among them."""
    report.add(
        "sheet-not-chart",
        start,
        end,
        "this looks like a sheet with chords over words, not like a chart",
        "chartkit intake FILE -o song.chart makes a chart of it",
        'in a chart a row of words begins with ":", and chords stand between bar lines above it',
    )


SHEET, PROSE = "sheet-not-chart", "words-without-colon"


def report_sheet_once(report: Report, has_sections: bool) -> None:
    """Keeps only the first such mistake of a text that is a sheet throughout.  Without a section
    of a chart anywhere it is the only mistake: all others come of reading a sheet as a chart."""
    sheet = [one for one in report.diagnostics if one.code == SHEET]
    if len(sheet) > 1:
        others = (SHEET, PROSE)
        report.diagnostics[:] = [
            one
            for one in report.diagnostics
            if one is sheet[0] or (has_sections and one.code not in others)
        ]


def report_prose(start: int, end: int, text: str, report: Report) -> None:
    """Reports such a row once, rather than word by word."""
    report.add(
        "words-without-colon",
        start,
        end,
        "this row looks like words, not like chords",
        *_prose_hints(text.strip()),
    )


_SAME = re.compile(r"(?:same |play |repeat )?(?:as|like|same as) ([\w ]{1,30})", re.IGNORECASE)


def _prose_hints(text: str) -> Iterator[str]:
    """What a row that looks like words was probably meant to be."""
    name, equals, value = text.partition("=")
    plain = text.strip("[](){}<>*=-_:. ")
    if equals and setting_named(name.strip()):
        yield f'a setting has a colon: "{name.strip()}: {value.strip()}"'
    elif (same := _SAME.fullmatch(plain)) is not None:
        yield f'to play the music of an earlier section: "== Name as {same[1]}"'
    elif is_remark(text):
        yield f'a cue stands in quotes: "{plain}"'
        return
    elif SECTION_WORD.match(plain):
        yield f'a section row begins with two equals signs: "== {plain}"'
    yield 'begin a row of words with ":", a cue stands in quotes, a comment begins with "#"'
