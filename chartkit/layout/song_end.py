"""Where the music of a song ends on the page: there stands the final bar line.

A page that is not read to its foot, because a section comes again or a jump leads back to Fine,
ends with a thin double line (common practice, no source).
"""

from collections.abc import Sequence

from chartkit.layout.boxes import SpacedRow
from chartkit.layout.song_form import SongForm

_TO_FINE = "al Fine"


def song_end(
    form: SongForm, sections: Sequence[Sequence[SpacedRow]]
) -> tuple[SpacedRow | None, int]:
    """The line and the number of the bar in it with which the song ends; None where the last
    section has no bars of its own on the page."""
    played = [
        entry
        for entry in form.entries
        if any(system.bars for system in form.sections[entry.printed].systems)
    ]
    if not played:
        return None, -1
    if played[-1].jump.endswith(_TO_FINE):
        lines = [line for section in sections for line in section]
        return next(filter(None, map(_fine, lines)), (None, -1))
    own = [line for line in sections[played[-1].printed] if line.row.bars]
    return (own[-1], len(own[-1].row.bars) - 1) if own else (None, -1)


def _fine(line: SpacedRow) -> tuple[SpacedRow, int] | None:
    for number, box in enumerate(line.row.bars):
        if not box.broken and any(mark.kind == "fine" for mark in box.bar.marks):
            return line, number
    return None
