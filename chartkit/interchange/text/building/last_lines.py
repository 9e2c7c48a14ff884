"""A section that is the last line or two of an earlier one ("Tag: last line of the chorus x3"),
written out with its words.

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import CueRow, MusicRow, Row, Section, WordsRow
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.vocabulary.section_names import remark_in_name

_TWO = r"(?:2|two|zwei|deux|dos|due|duas|twee|två|to)"
_LAST = (
    r"(?:last|final|letzten?|dernières?|últimas?|ultim[ae]|laatste|sista|siste|sidste|"
    r"ostatni\w{0,2})"
)
_LAST_LINES = re.compile(
    rf"(?<!\w)(?:(?P<first>{_TWO})\s+)?{_LAST}\s+(?:(?P<count>{_TWO})\s+)?"
    r"(?:lines?|zeilen?|lignes?|líneas?|linhas?|righe|riga|regels?|raden|raderna|linjer?|linje|"
    r"wersy?|linijk\w)(?!\w)",
    re.IGNORECASE,
)
_LONGEST = 120


def written_as_last_lines(one: Section, above: Sequence[Section], findings: Findings) -> Section:
    """A section with the music of another whose remark says that it is only the last line or two
    of that, with these written out; any other as it is."""
    cues = [remark_in_name(one.name), *(r.text for r in one.rows if isinstance(r, CueRow))]
    said = next((text for text in cues if _LAST_LINES.search(text[:_LONGEST])), "")
    match = _LAST_LINES.search(said) if one.same_as and len(said) <= _LONGEST else None
    if match is None or any(isinstance(row, MusicRow | WordsRow) for row in one.rows):
        return one
    name = one.same_as.casefold()
    homes = (o for o in reversed(above) if o.name.casefold() == name and _starts(o.rows))
    home = next(homes, None)
    starts = _starts(home.rows) if home is not None else []
    count = 2 if match["first"] or match["count"] else 1
    if home is None or len(starts) <= count:
        return one
    findings.guess(
        "last-lines",
        f'"{said}": the end of "{home.name}" is written out as "{one.name}"',
        f"{one.span.start}:1",
    )
    lines = [row for row in home.rows[starts[-count] :] if isinstance(row, MusicRow | WordsRow)]
    return replace(one, same_as="", rows=(*one.rows, *lines))


def _starts(rows: Sequence[Row]) -> list[int]:
    """Where the rows of music stand."""
    return [at for at, row in enumerate(rows) if isinstance(row, MusicRow)]
