"""Takes cues out of a section, so that they can stand elsewhere."""

from collections.abc import Collection, Sequence

from chartkit.chart.model import BlankRow, MusicRow, Row, WordsRow


def without_cues(rows: Sequence[Row], gone: Collection[Row]) -> tuple[Row, ...]:
    """The rows without some cues; a blank row where one parted words alone from the music or the
    words above, to which they would belong otherwise."""
    result: list[Row] = []
    parted = False
    for row in rows:
        if row in gone:
            parted = True
            continue
        above = result[-1] if result else None
        if parted and isinstance(row, WordsRow) and isinstance(above, (MusicRow, WordsRow)):
            result.append(BlankRow())
        parted = False
        result.append(row)
    return tuple(result)
