"""What stands in small type over the title of a page: the date of a print, its number, a series.

Titles are in the largest type of their page (common practice, no source).
"""

import re
from collections.abc import Callable
from itertools import takewhile

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.pdf_text.rows import Row
from chartkit.interchange.pdf_text.type_faces import text_of
from chartkit.interchange.text.names.headings import heading_of

_LARGER = 1.25
"""How many times as large as what is above it a title is at least (ours)."""
_MOST_ABOVE = 4
_DATES = re.compile(r"[\W\d]*\d[\W\d]*(?:[AP]M)?[\W\d]*")
_SERVICE = re.compile(r"[^|·•]{1,24}(?:\s[|·•]\s[^|·•]{1,24}){2,8}")
"""Words between strokes or dots, as pages of the web have their ways to other pages."""


def without_rows_over_title(
    rows: list[Row], is_music: Callable[[Row], bool], findings: Findings
) -> list[Row]:
    """The rows of the first page without dates, numbers and the like over its title, which are
    reported; what else stands there stays."""
    head = list(takewhile(lambda row: not is_music(row) and not _names(row), rows))
    sizes = [max(piece.size for piece in row) for row in head[: _MOST_ABOVE + 1]]
    if len(sizes) < 2:
        return rows
    at = max(range(len(sizes)), key=lambda i: sizes[i])
    if at == 0 or sizes[at] < _LARGER * max(sizes[:at]):
        return rows
    gone = [row for row in rows[:at] if _says_nothing(text_of(row))]
    if gone:
        said = "; ".join(map(text_of, gone))[:80]
        findings.leave_out("running-heads", f"what stands over the title: {said}")
    return [row for row in rows[:at] if row not in gone] + rows[at:]


def _names(row: Row) -> bool:
    return heading_of(text_of(row)) is not None


def _says_nothing(text: str) -> bool:
    """Whether a text is a date, a number, or a way to other pages."""
    return bool(_DATES.fullmatch(text) or _SERVICE.fullmatch(text))
