"""A PDF to a chart: the one that travels inside, or its lines rebuilt and read as a sheet."""

import re
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.bounded import run_in_process
from chartkit.interchange.embedded_chart import attached_chart
from chartkit.interchange.intake_result import (
    ChartReader,
    Findings,
    IntakeResult,
    Refused,
    SymbolReader,
)
from chartkit.interchange.pdf_text.extract import Answerer, Pages, attached_chart_text, pages_of
from chartkit.interchange.pdf_text.lines import lines_of
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.raw_text.mail import unquoted
from chartkit.interchange.text.raw_text.scanned import letters_set_wide, line_as_printed
from chartkit.interchange.text.read import read_lines, without_pages

_CHORD = re.compile(
    r"[A-H][b#♭♯]?(?:maj|min|mi|m|dim|sus|aug|add|[\d+°ø△/()#b♭♯-]|(?<=/)[A-H]){0,12}"
)
_LETTERS_APART = re.compile(r"[^\W\d_](?: {1,3}[^\W\d_]){4,60}")
_WIDE_GAP = 1.8
"""How many times as wide as a gap between letters one between words is at least (ours)."""
_FEWEST_LINES = 4
"""The fewest upright lines on a page that are taken for bar lines (common practice, no source)."""


def read_pdf(
    data: bytes,
    read_symbol: SymbolReader,
    read_chart: ChartReader | None = None,
    apart: Answerer = run_in_process,
) -> IntakeResult:
    """The chart of a PDF.

    ``apart`` does what is done with the file itself, in a process of its own.  Raises Refused
    for a scan, a locked or a damaged file, one that takes too much time or memory, and one with
    neither chords nor words.
    """
    findings = Findings()
    inside = attached_chart_text(data, apart) if read_chart is not None else None
    if inside is not None:
        name, text = inside
        if (own := attached_chart(text, read_chart)) is not None:
            return own
        findings.leave_out(
            "chart-inside",
            f'the file "{name[:60]}" inside this PDF does not read as a chart: its pages are read',
        )
    pages = pages_of(data, findings, apart)
    lines = lines_of(pages, read_symbol, findings)
    findings.know_places({line.number: line.where for line in lines if line.where})
    if not pages.made_here:
        lines = [_as_printed(line, findings) for line in _unquoted(lines, findings)]
        lines = without_pages(lines, findings)
    _report_drawn_signs(pages, lines, findings)
    try:
        return read_lines(lines, read_symbol, findings, "PDF")
    except Refused:
        if any(finding.code == "scale-degrees" for finding in findings.collected):
            raise Refused(
                "this page shows scale degrees, which are not read: engrave it with chord names"
            ) from None
        raise


def _unquoted(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines of a printed mail without the signs of its quotes, each letter in its place."""
    bare = unquoted([(line.number, line.text) for line in lines], findings)
    texts = dict(bare)
    return [replace(line, text=texts[line.number]) for line in lines]


def _as_printed(line: Line, findings: Findings) -> Line:
    """A line without what a scan makes of its letters, each in its place."""
    line = _with_wide_words(line)
    kept = letters_set_wide(line.text)
    if kept is not None:
        places = line.columns
        closed = "".join(line.text[at] for at in kept)
        findings.guess("wide-letters", f'letters set wide are read as "{closed}"', line.where)
        columns = None if places is None else (*(places[at] for at in kept), places[-1])
        return replace(line, text=closed, columns=columns)
    return replace(line, text=line_as_printed(line.text, line.number, findings, line.where))


def _with_wide_words(line: Line) -> Line:
    """A line of letters apart with two blanks where the gaps between them are wide; any other as
    it is."""
    if line.columns is None or _LETTERS_APART.fullmatch(line.text) is None:
        return line
    at = [i for i, letter in enumerate(line.text) if letter != " "]
    gaps = [line.columns[after] - line.columns[before + 1] for before, after in pairwise(at)]
    usual = sorted(gaps)[len(gaps) // 3]
    text, columns = [line.text[at[0]]], [line.columns[at[0]]]
    for i, gap in zip(at[1:], gaps, strict=True):
        blanks = 2 if gap > _WIDE_GAP * usual else 1
        text += [*" " * blanks, line.text[i]]
        columns += [*[line.columns[i - 1]] * blanks, line.columns[i]]
    return replace(line, text="".join(text), columns=(*columns, line.columns[-1]))


def _report_drawn_signs(pages: Pages, lines: Sequence[Line], findings: Findings) -> None:
    """Says that bars are lost where bar lines are drawn: only letters are read."""
    in_bars = any("|" in line.text for line in lines)
    if pages.made_here and in_bars:
        findings.leave_out(
            "drawn",
            "rests, rhythms and other signs that are drawings and not letters; a page engraved "
            "without --no-source gives back its whole chart",
        )
    elif pages.made_here:
        findings.leave_out(
            "drawn",
            "bar lines, repeats, repeated bars (%), rests and rhythms, which are drawings and not "
            "letters: chords stand in free time; a page engraved without --no-source gives back "
            "its whole chart",
        )
    elif _bars_drawn(pages) and not in_bars:
        findings.leave_out(
            "drawn",
            "upright lines drawn on the pages, which may be bar lines: only letters are "
            "read, so that chords stand in free time",
        )


def _bars_drawn(pages: Pages) -> bool:
    """Whether upright lines stand at the height of chords, or on staves; boxes round names and the
    strings of diagrams do not."""
    heights = defaultdict[int, list[float]](list)
    for piece in pages.pieces:
        if _CHORD.fullmatch(piece.text.strip()):
            heights[piece.page].append(piece.y)
    for of_page in heights.values():
        of_page.sort()
    beside = 0
    for line in pages.uprights:
        of_page = heights[line.page]
        at = bisect_left(of_page, line.low)
        beside += line.on_staff or (at < len(of_page) and of_page[at] <= line.high)
    return beside >= _FEWEST_LINES
