"""Likely slips: words without their colon, chords lost in a comment."""

import re
from collections.abc import Iterator
from dataclasses import replace

from chartkit.chart.model import Chart, CommentRow
from chartkit.syntax.elements import Element
from chartkit.syntax.missing_signs import bare_section
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


def check_heading_comments(chart: Chart, report: Report) -> None:
    """Warns of comments that are names of sections, in a chart whose sections have no name."""
    if any(section.name for section in chart.sections):
        return
    rows = (*chart.top, *(row for section in chart.sections for row in section.rows))
    for row in rows:
        name = row.comment.strip("# ") if isinstance(row, CommentRow) else ""
        bare = bare_section(name) if name else None
        if bare is not None and not bare.letter:
            report.warn(
                "heading-as-comment",
                *row.span,
                'a row that begins with "#" is a comment, and this one looks like a heading',
                f'a section row begins with two equals signs: "{bare.corrected_row}"',
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


_TABLATURE = re.compile(
    r"\s*[A-Ga-g]?[b#]?\s*[|:]{1,2}(?=\S*(?:--|-\d))[-|0-9hpbrstx/\\~()^<>.* ]+"
)


def is_tablature(text: str) -> bool:
    """Whether a row is a string of tablature: dashes and frets after a bar line."""
    return "-" in text and _TABLATURE.fullmatch(text.rstrip()) is not None


def report_tablature(start: int, end: int, report: Report) -> None:
    """Reports tablature, at its first row."""
    report.add(
        "strings-not-chords",
        start,
        end,
        "this is tablature, and a chart has no strings and frets",
        'say in a cue what is played: "riff on the low strings"',
        "the fingering of a chord stands at the top: shape: G 320003",
    )


SHEET, PROSE = "sheet-not-chart", "words-without-colon"


def report_sheet_once(report: Report, has_sections: bool) -> None:
    """Keeps only the first such mistake of a text that is a sheet throughout.  Without a section
    of a chart anywhere it is the only mistake: all others come of reading a sheet as a chart."""
    _report_words_once(report, has_sections)
    sheet = [diagnostic for diagnostic in report.diagnostics if diagnostic.code == SHEET]
    if len(sheet) > 1:
        others = (SHEET, PROSE)
        report.diagnostics[:] = [
            diagnostic
            for diagnostic in report.diagnostics
            if diagnostic is sheet[0] or (has_sections and diagnostic.code not in others)
        ]


def _report_words_once(report: Report, has_sections: bool) -> None:
    """Keeps one mistake of a text that has words alone, without a sign of a chart."""
    reported = report.diagnostics
    if (
        len(reported) > 1
        and not has_sections
        and all(diagnostic.message == _PROSE for diagnostic in reported)
    ):
        hints = ('begin each row of words with ":"', _INTAKE)
        reported[:] = [replace(reported[0], message=_PROSE_THROUGHOUT, hints=hints)]


_PROSE = "this row looks like words, not like chords"
_PROSE_THROUGHOUT = "these rows look like words, not like chords"
_INTAKE = "chartkit intake FILE -o song.chart makes a chart of a typed song"


def report_prose(start: int, end: int, text: str, report: Report) -> None:
    """Reports such a row once, rather than word by word."""
    report.add(
        "words-without-colon",
        start,
        end,
        _PROSE,
        *_prose_hints(text.strip()),
    )


_NUMBERED = re.compile(r"(\d{1,2})\s*[.)]\s*(\S.*)")
_SAME = re.compile(r"(?:same |play |repeat )?(?:as|like|same as) ([\w ]{1,30})", re.IGNORECASE)


def _prose_hints(text: str) -> Iterator[str]:
    """What a row that looks like words was probably meant to be."""
    name, equals, value = text.partition("=")
    plain = text.strip("[](){}<>*=-_:. ")
    first, _, others = plain.partition(" ")
    if others and setting_named(first) == "feel":
        yield f'a setting has a colon: "feel: {others}"'
    elif equals and setting_named(name.strip()):
        yield f'a setting has a colon: "{name.strip()}: {value.strip()}"'
    elif (same := _SAME.fullmatch(plain)) is not None:
        yield f'to play the music of an earlier section: "== Name as {same[1]}"'
    elif (numbered := _NUMBERED.fullmatch(text)) is not None:
        yield f'the number of a verse has a colon: "{numbered[1]}: {numbered[2]}"'
        return
    elif is_remark(text):
        yield f'a cue stands in quotes: "{plain}"'
        return
    elif SECTION_WORD.match(plain):
        yield f'a section row begins with two equals signs: "== {plain}"'
    yield 'begin a row of words with ":", a cue stands in quotes, a comment begins with "#"'
