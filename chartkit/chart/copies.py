"""What a section that shares another's music takes over of it.

A copy carries no navigation: two segnos would leave open where D.S. leads, and two signs to the
coda which of them is meant (common practice, no source).  Only what leaves the music, To Coda
and Fine, comes along where a segno stands between the music and its copy: whoever starts again
there meets the copy alone.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from chartkit.chart.marks import Mark
from chartkit.chart.model import Bar, Chart, MusicRow, Section

_LEAVING = ("to-coda", "fine")


def kept_marks(chart: Chart, where_written: Sequence[int | None]) -> tuple[tuple[str, ...], ...]:
    """For each section that shares another one's music, the kinds of marks that it takes over;
    ``where_written`` is what ``music_sections`` gives."""
    kept: list[tuple[str, ...]] = []
    last_segno = -1
    for number, (section, written_in) in enumerate(zip(chart.sections, where_written, strict=True)):
        if _has_segno(section):
            last_segno = number
        between = written_in is not None and written_in < last_segno
        kept.append(_LEAVING if between else ())
    return tuple(kept)


def copied_bar(bar: Bar, kinds: tuple[str, ...]) -> Bar:
    """The bar as it stands in a copy, which keeps marks of these kinds and those over a beat."""
    if not bar.marks:
        return bar
    return replace(bar, marks=_of_kinds(bar.marks, kinds))


def copied_row(row: MusicRow, kinds: tuple[str, ...]) -> MusicRow:
    """The row as it stands in a copy, with marks as ``copied_bar`` keeps them."""
    if not any(bar.marks for bar in row.bars):
        return row
    return replace(row, bars=tuple(copied_bar(bar, kinds) for bar in row.bars))


def _of_kinds(marks: Iterable[Mark], kinds: tuple[str, ...]) -> tuple[Mark, ...]:
    return tuple(mark for mark in marks if mark.kind in kinds or mark.place == "beat")


def _has_segno(section: Section) -> bool:
    rows = (row for row in section.rows if isinstance(row, MusicRow))
    return any(mark.kind == "segno" for row in rows for bar in row.bars for mark in bar.marks)
