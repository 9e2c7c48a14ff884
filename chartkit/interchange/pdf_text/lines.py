"""From pieces of text to lines in reading order: columns one after another, without running
heads."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from itertools import groupby

from chartkit.interchange.column_ends import report_columns, whole_columns
from chartkit.interchange.columns import Run
from chartkit.interchange.intake_result import Findings, SymbolReader
from chartkit.interchange.pdf_text.bar_lines import BarLines
from chartkit.interchange.pdf_text.bass_notes import with_bass_notes_joined
from chartkit.interchange.pdf_text.chords_in_lines import with_chords_above
from chartkit.interchange.pdf_text.drawn_diagrams import without_diagrams
from chartkit.interchange.pdf_text.drawn_endings import with_endings
from chartkit.interchange.pdf_text.extract import Pages
from chartkit.interchange.pdf_text.names_beside import with_names_above
from chartkit.interchange.pdf_text.our_bars import with_bars
from chartkit.interchange.pdf_text.our_columns import columns_under_one_another
from chartkit.interchange.pdf_text.our_names import NAME, names_apart, with_names
from chartkit.interchange.pdf_text.our_pages import as_a_sheet, remarks_set
from chartkit.interchange.pdf_text.over_bars import (
    is_right_over,
    with_bar_signs,
    with_letters_named,
    with_own_signs,
    with_signs_placed,
    without_bar_signs,
)
from chartkit.interchange.pdf_text.over_title import without_rows_over_title
from chartkit.interchange.pdf_text.page_edges import NEW_BLOCK, without_running_heads
from chartkit.interchange.pdf_text.page_text import RepeatDot, TextRun, Upright
from chartkit.interchange.pdf_text.raised_type import with_raised_type
from chartkit.interchange.pdf_text.remarks_beside import with_remarks_beside
from chartkit.interchange.pdf_text.rows import WIDE, Row, RowReader, line_of_row
from chartkit.interchange.pdf_text.slashed_beats import with_beats
from chartkit.interchange.pdf_text.small_capitals import with_small_letters
from chartkit.interchange.pdf_text.split_chords import with_chords_closed_up
from chartkit.interchange.pdf_text.staff_strokes import SLASH
from chartkit.interchange.pdf_text.staggered_columns import staggered_columns
from chartkit.interchange.pdf_text.staves import METER
from chartkit.interchange.pdf_text.type_faces import (
    is_remark_by_type,
    names_part,
    signs_for_type,
    text_of,
)
from chartkit.interchange.pdf_text.typed_dots import with_typed_dots
from chartkit.interchange.pdf_text.verse_rows import numbered, with_hyphen_close
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of

_SAME_LINE = 0.35
"""How far apart, in ems, the baselines of one line may lie."""
_LEAST_SIZE = 4.0
"""Type is taken to be at least so large, in points, where its baselines are compared."""
_LINE = 1.2
"""The usual distance of baselines in ems."""
_LARGER = 1.5
"""How many times as large type is that, beside a wide gap, is a line of its own: a title."""
_MOST_ROWS = 4
"""The most rows above a system that are looked at for what stands over it."""


def lines_of(read_pages: Pages, read_symbol: SymbolReader, findings: Findings) -> list[Line]:
    """The lines of all pages, with an empty one between blocks.  Columns of a line are tenths
    of a point."""
    names: list[TextRun] = []
    pieces: Sequence[TextRun] = [one for one in read_pages.pieces if one.mark not in (METER, SLASH)]
    slashes = [one for one in read_pages.pieces if one.mark == SLASH]
    meter = next((one for one in read_pages.pieces if one.mark == METER), None)
    dots = list(read_pages.dots)
    if read_pages.made_here:
        pieces, names = names_apart(columns_under_one_another(pieces))
        pieces = remarks_set(pieces)
    else:
        pieces, typed = with_typed_dots(pieces, read_pages.uprights)
        dots = sorted([*dots, *typed], key=lambda dot: dot.page)
    by_page = [list(page) for _, page in groupby(pieces, key=lambda piece: piece.page)]
    if not read_pages.made_here:
        by_page = [with_chords_above(with_small_letters(page)) for page in by_page]
        by_page = [with_raised_type(page) for page in by_page]
    pages = [with_names(_rows(page), names) for page in by_page]
    read = RowReader(read_symbol, pages)
    if not read_pages.made_here:
        pages = [[with_chords_closed_up(row, read.is_music) for row in rows] for rows in pages]
        pages[:1] = [without_rows_over_title(one, read.is_music, findings) for one in pages[:1]]
    pages = without_running_heads(pages, read, findings, foot_alone=read_pages.made_here)
    beats = int(meter.text.partition("/")[0]) if meter is not None else 4
    bars = _BarsOfPages(read_pages.uprights, dots, slashes, beats)
    if read_pages.made_here:
        pages = with_bars(as_a_sheet(pages, read, findings), read_pages, read, findings)
    else:
        pages = [column for rows in pages for column in _of_others(rows, bars, read, findings)]
    lines = _lines_of_columns(signs_for_type(pages, read.is_music), meter, bars, read)
    return lines if read_pages.made_here else with_bass_notes_joined(lines)


def _of_others(
    rows: list[Row], bars: "_BarsOfPages", read: RowReader, findings: Findings
) -> list[list[Row]]:
    """The rows of a page of other people, in its columns."""
    rows = bars.without_diagrams(with_remarks_beside(rows), read, findings)
    rows = bars.parted(bars.with_names_above(rows, read), read, findings)
    return _columns(rows, findings)


def _lines_of_columns(
    columns: Sequence[list[Row]], meter: TextRun | None, bars: "_BarsOfPages", read: RowReader
) -> list[Line]:
    """The lines of columns, with the meter before the first that has music."""
    lines: list[Line] = []
    on_page = Counter[int]()
    for rows in columns:
        if meter is not None and any(map(read.is_music, rows)):
            lines.append(Line(len(lines) + 1, f"Meter: {meter.text}"))
            meter = None
        page = rows[0][0].page if rows else 0
        lines += _column_lines(rows, len(lines), on_page[page], bars)
        on_page[page] += len(rows)
        lines.append(Line(len(lines) + 1, ""))
    return lines


class _BarsOfPages:
    """The bar lines that are drawn on each page."""

    def __init__(
        self,
        uprights: Sequence[Upright],
        dots: Sequence[RepeatDot],
        slashes: Sequence[TextRun],
        beats: int,
    ) -> None:
        self._beats = beats
        lows = groupby((one for one in uprights if one.on_staff), key=lambda one: one.page)
        self._lows = {page: sorted({one.low for one in own}) for page, own in lows}
        self._slashes = {page: [*own] for page, own in groupby(slashes, key=lambda one: one.page)}
        of_page = {page: [*own] for page, own in groupby(dots, key=lambda dot: dot.page)}
        by_page = {page: [*own] for page, own in groupby(uprights, key=lambda line: line.page)}
        self._pages = {
            page: BarLines(lines, of_page.get(page, ())) for page, lines in by_page.items()
        }
        self._uprights = {
            page: [line for line in lines if not line.is_tall] for page, lines in by_page.items()
        }

    def without_diagrams(self, rows: list[Row], read: RowReader, findings: Findings) -> list[Row]:
        """The rows of a page without the names of chord diagrams."""
        uprights = self._uprights.get(rows[0][0].page, []) if rows else []
        return without_diagrams(rows, uprights, read, findings)

    def with_names_above(self, rows: list[Row], read: RowReader) -> list[Row]:
        """Moves sections' names into rows above what they stand left of; returns the rows of a
        page."""
        uprights = self._uprights.get(rows[0][0].page, []) if rows else []
        return with_names_above(rows, uprights, read.is_music)

    def parted(self, rows: list[Row], read: RowReader, findings: Findings) -> list[Row]:
        """The rows of a page with bar lines among the chords, which is reported; as they are
        where bar lines are typed."""
        bars = self._pages.get(rows[0][0].page) if rows else None
        if bars is None or any("|" in piece.text for row in rows for piece in row):
            return rows
        bars.keep_plain_grids(rows)
        rows, signs = without_bar_signs(rows)
        put = [
            None if text_of(row).startswith("==") else bars.parted(row, read.is_music, own)
            for row, own in zip(rows, signs, strict=True)
        ]
        rows = [
            row if own is not None else with_own_signs(row, left)
            for row, own, left in zip(rows, put, signs, strict=True)
        ]
        rows, put = with_letters_named(rows, put)
        slashes = self._slashes.get(rows[0][0].page, [])
        put = [
            row and with_bar_signs(with_beats(row, slashes, self._beats), own)
            for row, own in zip(put, signs, strict=True)
        ]
        rows, put = with_signs_placed(rows, put, lambda at: self._verses(rows, put, at, read))
        _report_bars(rows, put, read, findings)
        for at, row in enumerate(put):
            verses = [] if row is None else self._verses(rows, put, at, read)
            for below in verses:
                rows[below] = [*map(with_hyphen_close, rows[below])]
            for number, below in enumerate(verses if len(verses) > 1 else (), 1):
                rows[below] = numbered(rows[below], number)
        return with_endings(rows, put)

    def _verses(
        self, rows: Sequence[Row], put: Sequence[Row | None], at: int, read: RowReader
    ) -> list[int]:
        """The rows of words right under the staff below a row of chords."""
        verses: list[int] = []
        for below in range(at + 1, len(rows)):
            above, here = rows[below - 1][0], rows[below][0]
            near = not _begins_block(above, here, self)
            under = near if verses else self.between(above, here)
            high = self._low_of_staff(above, here) if not verses else above.y
            if any(
                own and is_right_over(rows[below], own) and here.y - own[0].y < high - here.y
                for own in put[below + 1 :][:_MOST_ROWS]
            ):
                break
            if not under or read.is_music(rows[below]) or heading_of(text_of(rows[below])):
                break
            verses.append(below)
        return verses

    def _low_of_staff(self, above: TextRun, below: TextRun) -> float:
        """The height of the lowest line of the staff between two rows; that of the upper row where
        there is none."""
        lows = self._lows.get(above.page, [])
        at = bisect_right(lows, below.y)
        low = lows[at] if at < len(lows) and lows[at] < above.y else above.y
        return low + above.size

    def between(self, above: TextRun, below: TextRun) -> bool:
        """Whether a staff with bar lines stands between two rows of one page."""
        bars = self._pages.get(above.page)
        return bars is not None and above.page == below.page and bars.between(above.y, below.y)


def _report_bars(
    rows: Sequence[Row], put: Sequence[Row | None], read: RowReader, findings: Findings
) -> None:
    """Tells that lines drawn on a page are read as bar lines, and of rows without any."""
    page = f"page {rows[0][0].page}"
    if not any(put):
        return
    findings.guess(
        "bars-drawn",
        "upright lines drawn between the chords are read as bar lines, and two dots beside them as "
        "repeats; rests and rhythms that are drawn are not read",
        page,
    )
    music = sum(read.is_music(row) and not names_part(row) for row in rows)
    if music > sum(map(bool, put)):
        findings.leave_out(
            "drawn",
            "the bars of some rows, whose bar lines are not plain to see: their chords stand in "
            "free time",
            page,
        )


def _rows(pieces: list[TextRun]) -> list[Row]:
    """Pieces of one page gathered on their baselines, from the top."""
    rows: list[Row] = []
    largest = 0.0
    for piece in sorted(pieces, key=lambda p: (-p.y, p.x)):
        size = max(_LEAST_SIZE, piece.size, largest)
        if rows and abs(rows[-1][0].y - piece.y) <= _SAME_LINE * size:
            rows[-1].append(piece)
            largest = max(largest, piece.size)
        else:
            rows.append([piece])
            largest = piece.size
    ordered = [sorted(row, key=lambda piece: piece.x) for row in rows]
    return [part for row in ordered for part in _by_size(row)]


def _by_size(row: Row) -> list[Row]:
    """A row; or several, where a title and small type after a wide gap share a baseline."""
    parts: list[Row] = []
    largest = 0.0
    for group in _groups(row):
        size = max(piece.size for piece in group)
        small, large = sorted((largest, size))
        if parts and not (
            large >= _LARGER * small and group[0].x - parts[-1][-1].end > WIDE * large
        ):
            parts[-1] += group
        else:
            parts.append(list(group))
        largest = size
    return parts


def _columns(rows: list[Row], findings: Findings) -> list[list[Row]]:
    """The rows of a page in its columns: rows over all columns stand with the first, and rows
    below them come last."""
    groups = [_groups(row) for row in rows]
    runs = [[_run(group) for group in row] for row in groups]
    columns = whole_columns(runs, _places(rows))
    if columns is None:
        return staggered_columns(rows, findings) or [rows]
    at = rows[columns.first][0]
    report_columns(columns, runs, findings, f"page {at.page}, line {columns.first + 1}")
    parts = [rows[: columns.first], *([] for _ in columns.starts), rows[columns.end :]]
    for row, of_row in zip(
        groups[columns.first : columns.end], runs[columns.first : columns.end], strict=True
    ):
        for column, (first, end) in enumerate(columns.parted(of_row)):
            if first < end:
                parts[column].append([piece for group in row[first:end] for piece in group])
    return [part for part in parts if part]


def _places(rows: list[Row]) -> list[float]:
    """How many lines below the first each row stands, by the usual size of type."""
    sizes = sorted(piece.size for row in rows for piece in row)
    line = _LINE * sizes[len(sizes) // 2] if sizes else 1.0
    return [(rows[0][0].y - row[0].y) / line for row in rows]


def _groups(row: Row) -> list[Row]:
    """The pieces of a row, those together that stand close."""
    groups: list[Row] = []
    for piece in row:
        if groups and piece.x - groups[-1][-1].end < WIDE * piece.size:
            groups[-1].append(piece)
        else:
            groups.append([piece])
    return groups


def _run(group: Row) -> Run:
    text = line_of_row(group, 0, 0).text
    return Run(group[0].x, group[-1].end, text, heading_of(text) is not None)


def _begins_block(above: TextRun, below: TextRun, bars: _BarsOfPages) -> bool:
    """Whether a row stands so far below another that it begins a block of its own."""
    apart = above.y - below.y > NEW_BLOCK * max(above.size, below.size)
    return apart and not bars.between(above, below)


def _column_lines(rows: list[Row], before: int, above: int, bars: _BarsOfPages) -> list[Line]:
    """The lines of a column, behind so many lines, with so many rows of its page above."""
    lines: list[Line] = []
    last: TextRun | None = None
    for on_page, row in enumerate(rows, above + 1):
        parted = last is not None and (
            is_remark_by_type(row) or row[0].mark == NAME or _begins_block(last, row[0], bars)
        )
        if parted:
            lines.append(Line(before + len(lines) + 1, ""))
        lines.append(line_of_row(row, before + len(lines) + 1, on_page))
        last = row[0]
    return lines
