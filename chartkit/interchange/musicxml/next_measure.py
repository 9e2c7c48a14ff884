"""What stands at the end of a measure and belongs to the next one, or the other way round.

Programs write a sign over a bar line to the measure before it: a segno or a rehearsal mark after
the last note, the start of a repeat on the right bar line, a section's name over its upbeat.
Common practice, no source.
"""

from bisect import bisect_right
from collections.abc import Sequence
from typing import NamedTuple

from chartkit.chart.marks import MARKS, Mark
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure, MeasureDraft


class Carried(NamedTuple):
    """The marks, the section and the start of a repeat or of an ending that a measure gives to the
    next."""

    marks: tuple[Mark, ...] = ()
    section: str = ""
    repeat: bool = False
    endings: tuple[int, ...] = ()

    def give(self, draft: MeasureDraft) -> None:
        """Adds what is carried to the next measure, which may say it too."""
        draft.marks += self.marks
        draft.section = self.section
        left = draft.left
        draft.left = left._replace(
            repeat=left.repeat or self.repeat, endings=left.endings or self.endings
        )


NOTHING = Carried()


def carried_from(draft: MeasureDraft, length: int, is_last: bool) -> Carried:
    """Takes from a measure of some length what belongs to the next, if there is one."""
    section = ""
    if draft.late_section:
        if not is_last and _names_next(draft, length):
            section = draft.late_section
            upbeat = draft.late_section_at
            draft.sung = [one._replace(leads=one.onset >= upbeat) for one in draft.sung]
        else:
            draft.section = f"{draft.section} {draft.late_section}".strip()
    next_edge = draft.repeats_next or bool(draft.endings_next)
    if is_last or not (section or draft.late_signs or next_edge):
        return NOTHING
    jumps = any(MARKS[mark.kind].leads_back for mark in draft.marks)
    late = {
        kind
        for kind, onset in draft.late_signs.items()
        if (kind == "coda" and (jumps or section.lower() == "coda"))
        or (kind == "segno" and onset >= length)
    }
    marks = tuple(mark for mark in draft.marks if mark.kind in late)
    draft.marks = [mark for mark in draft.marks if mark.kind not in late]
    carried = Carried(marks, section, draft.repeats_next, draft.endings_next)
    return carried if any(carried) else NOTHING


_CODA = "coda"
_NAMED = "section-by-words"


def with_codas_to_leave(
    read: Sequence[tuple[Measure, MeasureDraft]], findings: Findings
) -> list[tuple[Measure, MeasureDraft]]:
    """Measures with their drafts, where "Coda" at the end of one means that players leave there:
    a later one begins the coda, and a jump stands between."""
    made = list(read)
    late = [at for at, (_, draft) in enumerate(read) if draft.late_section.lower() == _CODA]
    codas = [at for at, (measure, _) in enumerate(read) if _opens_coda(measure)] if late else []
    jumps = [at for at, (measure, _) in enumerate(read) if _jumps(measure)] if late else []
    for at in late:
        later, jump = bisect_right(codas, at + 1), bisect_right(jumps, at)
        returns = later < len(codas) and jump < len(jumps) and jumps[jump] < codas[later]
        if returns and read[at + 1][0].section.lower() == _CODA:
            made[at], made[at + 1] = _left(*made[at]), _without_coda(*made[at + 1])
            place = f"measure {read[at][0].number}"
            findings.take_back(_NAMED, place)
            findings.guess(
                "coda-to-leave", '"Coda" is read as "to coda": a later place begins the coda', place
            )
            break
    return made


def _left(measure: Measure, draft: MeasureDraft) -> tuple[Measure, MeasureDraft]:
    """A measure at whose end players leave."""
    return measure._replace(marks=(*measure.marks, Mark("to-coda"))), draft


def _without_coda(measure: Measure, draft: MeasureDraft) -> tuple[Measure, MeasureDraft]:
    others = tuple(mark for mark in measure.marks if mark.kind != _CODA)
    return measure._replace(section="", marks=others), draft


def _jumps(measure: Measure) -> bool:
    return any(MARKS[mark.kind].leads_back for mark in measure.marks)


def _opens_coda(measure: Measure) -> bool:
    return measure.section.lower() == _CODA or any(mark.kind == _CODA for mark in measure.marks)


def _names_next(draft: MeasureDraft, length: int) -> bool:
    """Whether a name that stands inside a measure is that of what follows it: at its end, or over
    its upbeat, where no chord is struck any more."""
    at = draft.late_section_at
    return at >= length or (at * 2 > length and all(one.onset < at for one in draft.struck))


def with_early_chords(before: Measure, measure: Measure) -> tuple[Measure, Measure]:
    """Moves chords of the second measure that an offset puts before its start into the first;
    returns both measures."""
    early = tuple(
        one._replace(onset=one.onset + before.length) for one in measure.struck if one.onset < 0
    )
    struck = tuple(one for one in measure.struck if one.onset >= 0)
    there = tuple(sorted((*before.struck, *early), key=lambda one: one.onset))
    return before._replace(struck=there), measure._replace(struck=struck)
