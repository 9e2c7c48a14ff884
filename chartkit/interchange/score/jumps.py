"""Where jumps lead, by what the score holds before and behind them.

"D.S." alone goes to the coda where "To Coda" stands before it and a coda behind it, and ends at a
Fine that it comes to.  Common practice, no source.
"""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.chart.marks import MARKS, Mark, MarkKind, Until, printed_mark
from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure
from chartkit.interchange.score.said_jumps import with_said_jumps

_SEGNO = CompiledLater(r"[(\[]?(?:[%℅‰]|[.·•]?S[.·•]?|(?:the\s+)?sign)[)\]]?")
"""What is typed for the segno, and may say something else."""
_END = CompiledLater(r"(?:the\s+)?end[.!]?|al\s+fine|fin|fim|ende|slut|einde|koniec|konec")
"""What is typed for the Fine, and may be no more than the last word."""
_LEADS = re.compile(
    r"(?<![^\W_])(?:[dD]\.\s?[csCS]\.|(?:D[CS]|[dD]a [cC]apo|[dD]al [sS]egno|Fine|FINE)(?!\w))"
    r"|(?i:(?<!\w)(?:to|al)\s+coda(?!\w))"
)
"""What is in words that may lead through the piece."""


def with_jumps(measures: Sequence[Measure], findings: Findings) -> tuple[Measure, ...]:
    """The measures with what their jumps need: a segno or a Fine that is typed in other words, a
    place to leave for the coda, and where each jump ends."""
    made = with_said_jumps(measures, findings)
    if any(measure.marks for measure in made):
        _take_first_coda(made, findings)
        _take_typed(made, findings)
        _mark_named_codas(made)
        _end_jumps(made, findings)
        _report_missing(made, findings)
    _report_words(made, findings)
    return tuple(made)


def _has(measure: Measure, kind: MarkKind) -> bool:
    return any(mark.kind == kind for mark in measure.marks)


def _where(measures: Sequence[Measure], kind: MarkKind) -> list[int]:
    return [at for at, measure in enumerate(measures) if _has(measure, kind)]


def _begins_coda(measure: Measure) -> bool:
    return _has(measure, "coda") or measure.section.lower().startswith("coda")


def _place(measure: Measure) -> str:
    return f"measure {measure.number}"


def _take_first_coda(made: list[Measure], findings: Findings) -> None:
    """If there are two coda signs and none says "to coda", the first is where players leave."""
    codas = _where(made, "coda")
    if len(codas) < 2 or _where(made, "to-coda"):
        return
    first = made[codas[0]]
    marks = tuple(Mark("to-coda") if mark.kind == "coda" else mark for mark in first.marks)
    section = "" if first.section.lower() == "coda" else first.section
    made[codas[0]] = first._replace(marks=marks, section=section)
    findings.guess("first-coda", 'the first of two coda signs is read as "to coda"', _place(first))


def _mark_named_codas(made: list[Measure]) -> None:
    """Marks the coda where only a section's name says that it begins, if players leave for it."""
    leaving = _where(made, "to-coda")
    if not leaving or _where(made, "coda"):
        return
    for at in range(leaving[0] + 1, len(made)):
        if _begins_coda(made[at]):
            made[at] = made[at]._replace(marks=(*made[at].marks, Mark("coda")))


# ---- signs in other words
def _take_typed(made: list[Measure], findings: Findings) -> None:
    """Marks a segno and a Fine that jumps lead to and that are typed in other words."""
    jumps = _where(made, "D.S.")
    if jumps and not _where(made, "segno"):
        at = _typed_segno(made[: jumps[-1] + 1])
        if at is not None:
            _mark_typed(made, at, _SEGNO, "segno", findings)
    ends = [at for at, one in enumerate(made) if any(m.until == "fine" for m in one.marks)]
    if ends and not _where(made, "fine"):
        typed = [at for at in range(ends[-1] + 1) if _says(made[at], _END)]
        if typed:
            _mark_typed(made, typed[0], _END, "fine", findings)


def _says(measure: Measure, pattern: CompiledLater) -> bool:
    return any(pattern.fullmatch(said.text) for said in measure.instructions)


def _typed_segno(measures: Sequence[Measure]) -> int | None:
    """The measure over which a segno is typed, by a sign that may also stand for a bar played
    again; None where that cannot be told.  A bar with a chord of its own plays no other again, nor
    does one with a melody where no other has the sign."""
    typed = [at for at, measure in enumerate(measures) if _says(measure, _SEGNO)]
    sure = [at for at in typed if not at or measures[at].struck or measures[at].section]
    alone = [at for at in typed if len(typed) == 1 and measures[at].first_note is not None]
    return next(iter(sure or alone), None)


def _mark_typed(
    made: list[Measure], at: int, pattern: CompiledLater, kind: MarkKind, findings: Findings
) -> None:
    """Puts a mark in the place of words; a sign behind the last note is that of the next bar."""
    measure = made[at]
    said = next(one for one in measure.instructions if pattern.fullmatch(one.text))
    others = tuple(one for one in measure.instructions if one is not said)
    made[at] = measure._replace(instructions=others)
    behind = MARKS[kind].place == "start" and said.onset >= measure.length > 0
    to = at + 1 if behind and at + 1 < len(made) else at
    made[to] = made[to]._replace(marks=(*made[to].marks, Mark(kind)))
    findings.guess(
        f"typed-{kind}",
        f'the words "{said.text}" are read as the {MARKS[kind].printed}',
        _place(measure),
    )


# ---- where jumps end
def _end_jumps(made: list[Measure], findings: Findings) -> None:
    """Gives each jump that does not say where it ends its end."""
    codas = [at for at, measure in enumerate(made) if _begins_coda(measure)]
    leaving, ending, signs = (_where(made, kind) for kind in ("to-coda", "fine", "segno"))
    for at, measure in enumerate(made):
        jump = next((mark for mark in measure.marks if MARKS[mark.kind].leads_back), None)
        if jump is None:
            continue
        sign = signs[max(0, bisect_right(signs, at) - 1)] if signs else 0
        start = sign if jump.kind == "D.S." else 0
        leaves = _any_in(leaving, start, at)
        follows = bool(codas) and codas[-1] > at
        if not codas and at + 1 < len(made) and (leaves or jump.until == "coda"):
            codas, follows = [at + 1], True
            made[at + 1] = made[at + 1]._replace(marks=(*made[at + 1].marks, Mark("coda")))
            findings.guess(
                "coda-behind-jump",
                "no coda is marked: it is what follows the jump",
                _place(made[at + 1]),
            )
        until: Until = ""
        if leaves and follows:
            until = "coda"
        elif _any_in(ending, start, at - 1):
            until = "fine"
        if until and not jump.until:
            _end_jump(made, at, jump, until, findings)


def _any_in(places: Sequence[int], first: int, last: int) -> bool:
    """Whether one of some places in order is from the first to the last."""
    at = bisect_left(places, first)
    return at < len(places) and places[at] <= last


_REASONS: dict[Until, str] = {
    "coda": '"To Coda" stands before it, and the coda behind it',
    "fine": "it comes to a Fine",
}


def _end_jump(made: list[Measure], at: int, jump: Mark, until: Until, findings: Findings) -> None:
    whole = replace(jump, until=until)
    marks = tuple(whole if mark is jump else mark for mark in made[at].marks)
    made[at] = made[at]._replace(marks=marks)
    findings.guess(
        "end-of-jump",
        f"{printed_mark(jump)} is read as {printed_mark(whole)}: {_REASONS[until]}",
        _place(made[at]),
    )


def _report_missing(measures: Sequence[Measure], findings: Findings) -> None:
    """Reports each kind of mark that leads to another which the score does not have, once."""
    there = {mark.kind for measure in measures for mark in measure.marks}
    reported: set[MarkKind] = set()
    for measure in measures:
        for mark in measure.marks:
            for kind in _needs(mark):
                if kind not in there | reported:
                    reported.add(kind)
                    findings.guess(
                        f"no-{kind}",
                        f"{printed_mark(mark)} needs {MARKS[kind].printed}, and the score has none",
                        _place(measure),
                    )


def _needs(mark: Mark) -> Iterator[MarkKind]:
    """The marks that another one leads to."""
    if mark.kind == "D.S.":
        yield "segno"
    if mark.kind == "to-coda":
        yield "coda"
    if mark.until == "coda":
        yield "to-coda"
    if mark.until == "fine":
        yield "fine"


def _report_words(measures: Sequence[Measure], findings: Findings) -> None:
    """Reports words that may lead through the piece and stay words."""
    for measure in measures:
        for said in measure.instructions:
            beside = any(mark.place != "beat" for mark in measure.marks)
            if not beside and _LEADS.search(said.text):
                findings.guess(
                    "jump-among-words",
                    f'the words "{said.text}" may lead elsewhere in the song: kept as a cue',
                    _place(measure),
                )
