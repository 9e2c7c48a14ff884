"""Chord symbols that are drawn a little before the note or the beat that they belong to.

Programs write where a symbol stands on the page, and a hand may set it somewhat to the left.  Where
a note begins with it, or it is earlier than that, the chord is struck there.  Common practice, no
source.
"""

from collections.abc import Callable, Iterator
from xml.etree.ElementTree import Element

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import MeasureDraft

_DRAWN = 4
"""A symbol is drawn before its place by no more than this part of a quarter note (ours)."""


def put_on_notes(
    draft: MeasureDraft,
    measure: Element,
    quarter: int,
    units_of: Callable[[str | None], int],
    findings: Findings,
) -> None:
    """Moves each chord of a measure that no note begins with and that stands right before a note, a
    quarter note's beat or the end of the measure there; ``quarter`` are the units of a quarter
    note, ``units_of`` those of a duration."""
    begins = set(_begins(measure, units_of))
    for i, struck in enumerate(draft.struck):
        if struck.onset in begins or struck.onset % quarter == 0:
            continue
        beat = (struck.onset // quarter + 1) * quarter
        near = (at for at in (*begins, beat) if 0 < at - struck.onset <= quarter // _DRAWN)
        to = min(near, default=None)
        if to is not None and all(other.onset != to for other in draft.struck):
            draft.struck[i] = struck._replace(onset=to)
            findings.guess(
                "chord-moved",
                "a chord drawn right before a note or a beat is written there",
                f"measure {draft.number}",
            )


def _begins(measure: Element, units_of: Callable[[str | None], int]) -> Iterator[int]:
    """Where notes and rests of a measure begin, in units."""
    clock = 0
    for child in measure:
        if child.tag in ("backup", "forward"):
            units = units_of(child.findtext("duration"))
            clock = max(0, clock - units) if child.tag == "backup" else clock + units
        elif child.tag == "note" and child.find("chord") is None and child.find("grace") is None:
            yield clock
            clock += units_of(child.findtext("duration"))
