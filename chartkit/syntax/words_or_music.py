"""Tells a row of music from a row of words where both begin with a colon.

A row that begins ``:|`` may be words without a pick-up, or music that begins with the sign that
closes a repeat.  Chord names tell: nobody sings "Bb" or "G7".
"""

import re
from dataclasses import replace

from chartkit.chart.model import BarLine, MusicRow, Row
from chartkit.syntax.cells import cells_of, joined_lines
from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report
from chartkit.syntax.symbol import chord_or_none

_BEGINS = re.compile(r":\|:?(?!\|)")
_SIGN_ALONE = re.compile(r":\|(?:\s*(?:[xX×]\d+|\d+[xX×]))?\s*(?:#(?!\S).*|# .*)?")
_UNSUNG = re.compile(r'"[^"]*"|(?:^|\s)#.*')
"""Cues and the comment."""
_NAME = re.compile(r"[^\s|]+")
_SIGNS = frozenset(["/", "%", "%%", ":", "_", "N.C.", "NC"])
_CHORD_LIKE = re.compile(r"[A-G]\S{0,19}")
_SPOKEN = re.compile(r"[^\W\d_]*[aeiouy][a-z]*", re.IGNORECASE)
"""Letters with a vowel among them: a chord so named may be a word, as "A", "Am" and "Do" are."""
_LEAD = re.compile(r"\s*[0-9]{0,3}:\s*\|?:?\s*")


def is_music(text: str) -> bool:
    """Whether a row that begins ``:|`` is music: the sign stands alone, or chords follow it."""
    if not text.startswith(":|"):
        return False
    if _SIGN_ALONE.fullmatch(text):
        return True
    return _BEGINS.match(text) is not None and are_chord_names(text)


def are_chord_names(text: str) -> bool:
    """Whether what stands in a row is for the greater part chord names, and not words that are
    spelled as a chord is."""
    names = [n for n in _NAME.findall(_UNSUNG.sub("", _LEAD.sub("", text))) if n not in _SIGNS]
    like = [name for name in names if _CHORD_LIKE.fullmatch(name)]
    if len(like) * 2 <= len(names):
        return False
    chords = {name for name in like if chord_or_none(name) is not None}
    sure = sum(name in chords for name in names)
    if sure * 2 <= len(names):
        return False
    return any(not _SPOKEN.fullmatch(name) for name in chords) or (
        sure == len(names) and len(chords) > 1
    )


def report_chord_names(text: str, fits: bool, report: Report) -> None:
    """Reports a row of words that holds chord names: an error where it does not fit the music
    above it either."""
    start, end = len(text) - len(text.lstrip()), len(text.rstrip())
    meant = _LEAD.sub("", text).strip()
    report.add(
        "chords-as-words",
        start,
        end,
        "this row begins as words do, so its chord names would be sung",
        f'a row of music begins with its bar line: "| {meant}"',
        severity="warning" if fits else "error",
    )


def opened_without_close(
    row: MusicRow | None, elements: list[Element], rows: list[Row], report: Report
) -> MusicRow | None:
    """The row, with the sign that closes a repeat taken from its beginning to the end of the music
    row above it, where it belongs.

    ``rows`` are those of the section so far.  A row of bar lines alone, which ``row`` None tells,
    closes the row above as well; with no bars above it is reported.
    """
    if row is None:
        written = [e for e in elements if e.kind != "comment"]
        if written and {e.kind for e in written} <= {"line", "played"}:
            _, line = cells_of(written, written[-1].end, Report(offset=report.offset))
            if line.kind != "single":
                _close_above(rows, line, report)
        return None
    if row.free or row.lines[0].kind not in ("repeat-end", "repeat-both") or row.lines[0].endings:
        return row
    first = row.lines[0]
    _close_above(rows, replace(first, kind="repeat-end"), report)
    opening = replace(first, kind="single" if first.kind == "repeat-end" else "repeat-start")
    return replace(row, lines=(replace(opening, times=0), *row.lines[1:]))


def _close_above(rows: list[Row], line: BarLine, report: Report) -> None:
    """Puts a bar line at the end of the last music row; reports it where there is none."""
    last = next((i for i in reversed(range(len(rows))) if isinstance(rows[i], MusicRow)), None)
    above = None if last is None else rows[last]
    opens = line.kind in ("repeat-start", "repeat-both") or line.endings
    if last is not None and isinstance(above, MusicRow) and not above.free and not opens:
        closing = joined_lines(above.lines[-1], line)
        rows[last] = replace(above, lines=(*above.lines[:-1], closing))
        return
    report.add(
        "bar-line-alone",
        *report.in_row(line.span),
        "this bar line has no bar to open" if opens else "this section has no bar to close here",
        "write it in the row of the bar that it belongs to: |: F | G :|",
    )
