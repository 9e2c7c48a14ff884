"""What stands at the edges of several pages, and at the foot of one: titles that come again, and
numbers of pages."""

import re
from collections import Counter

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.pdf_text.rows import Row, RowReader
from chartkit.interchange.pdf_text.type_faces import text_of
from chartkit.interchange.text.names.headings import heading_of

NEW_BLOCK = 1.9
"""How far apart rows are, in ems, between which an empty line is left."""
_NUMBERED = re.compile(
    r"(?:\b(?:page|seite|pag\.|página|p\.)\s*\d{1,3}(?:\s*(?:of|von|de|/)\s*\d{1,3})?|"
    r"^\W*\d{1,3}\s*/\s*\d{1,3}\W*)$",
    re.IGNORECASE,
)
"""How a line at the foot of a page gives its number (common practice, no source)."""


def _plain(row: Row) -> str:
    """The text of a row with every number as 0, so that page numbers are alike."""
    return re.sub(r"\d+", "0", text_of(row))


def without_running_heads(
    pages: list[list[Row]], read: RowReader, findings: Findings, foot_alone: bool
) -> list[list[Row]]:
    """Pages without what stands first or last on several of them, page numbers aside, and
    without a last line that ends in the number of its page.  Chords, the words right under
    them and sections' names stay."""
    edges = [
        [
            row
            for row in (*rows[: 0 if foot_alone else 1], *rows[1:][-1:])
            if not _is_song(row, rows, read) and not (rows is pages[0] and _is_largest(row, rows))
        ]
        for rows in pages
    ]
    ends = Counter(text for rows in edges for text in {_plain(row) for row in rows})
    heads = {text for text, count in ends.items() if count > 1}
    heads |= {
        _plain(row)
        for rows, edge in zip(pages, edges, strict=True)
        for row in edge
        if row is rows[-1] and row is not rows[0] and _NUMBERED.search(text_of(row))
    }
    if heads:
        as_first = {_plain(row): text_of(row) for rows in reversed(edges) for row in rows}
        said = "; ".join(as_first[head] for head in sorted(heads))[:80]
        findings.leave_out("running-heads", f"what stands at the edge of every page: {said}")
    return [
        [row for row in rows if not (_plain(row) in heads and any(row is e for e in edge))]
        for rows, edge in zip(pages, edges, strict=True)
    ]


def _is_largest(row: Row, rows: list[Row]) -> bool:
    """Whether a row is the first of its page and in larger type than any other, as titles are."""
    largest = max(piece.size for piece in row)
    others = (piece.size for other in rows if other is not row for piece in other)
    return row is rows[0] and largest > max(others, default=0.0)


def _is_song(row: Row, rows: list[Row], read: RowReader) -> bool:
    """Whether a row at the edge of a page is music, sung right under it, or a section's name."""
    if heading_of(text_of(row)) is not None or read.is_music(row):
        return True
    above = rows[-2] if len(rows) > 1 and row is rows[-1] else None
    near = above is not None and above[0].y - row[0].y <= NEW_BLOCK * row[0].size
    return near and above is not None and read.is_music(above)
