"""Numbers of endings on a line of their own, above the bars that they open ("1.___  2.___").

Source of the way to write them: engraved music has its brackets above the bars; how they are typed
is common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, text_at
from chartkit.interchange.text.rewriting.endings import (
    A_TIME,
    TIME,
    first_of_rows,
    numbers_in,
    repeated_from,
    time_of,
)
from chartkit.interchange.text.tokens import IsChords

_LONGEST, _MOST_BARS, _MOST_ROWS = 240, 24, 16
_NAME = r"(?:(?:ending|end|klammer|haus|casilla|casa|volta|time|fin|final|slot|slut)\.?\s?)?"
_LEFT, _RULE = r"[|\[(/┌╭⌈]", r"[_─—–¯=.-]"
_ITEM = re.compile(
    rf"\s*(?P<open>{_LEFT}{{0,2}})\s?(?P<name>{_NAME})(?P<number>(?P<word>{A_TIME})(?![^\W_])|"
    rf"[1-9](?:\.?\s?[-–,.+&/]\s?[1-9]){{0,6}}(?![^\W_]))(?P<dot>[.):\]]*)"
    rf"(?:\s?(?P<time>{TIME})[.):\]]*)?(?P<rule>\s?{_RULE}{{2,}})?"
    rf"\s?[|\])\\┐╮⌉¬/,;]*(?=\s|$|{_LEFT}|\d)",
    re.IGNORECASE,
)
"""The number of one ending with its bracket."""
_STARTS = tuple(
    re.compile(rf"(?:(?<=\s)|^){_LEFT}{{0,2}}\s?{_NAME}(?:{first})", re.IGNORECASE)
    for first in (r"1|first\b|prim|premi|erst|första", r"2|second|seg|deux|zwei|twee|andra")
)
"""Where the numbers from the first, and from the second ending on, may begin."""
_SECOND_IN_ROW = re.compile(r"\s*\|?\s*[\[(]?2(?:nd)?[.):\]]")
_SAID = re.compile(r"\s*\([^()\d]{2,40}\)\s*")
_GAP = "   "
_BAR_LINE = re.compile(r"(?P<closes>:)?\|{1,2}(?P<opens>:)?\]?")
_SLACK = 2
"""So many columns the number of a later ending may stand before its repeat sign (ours)."""


@dataclass(frozen=True, slots=True)
class _Number:
    """The number of an ending: for which times it is, its column, whether a bracket, an ordinal
    or the word "time" shows that it is one, and whether a dot does."""

    times: tuple[int, ...]
    column: int
    bracketed: bool
    dotted: bool


@dataclass(frozen=True, slots=True)
class _BarLine:
    """A bar line of a row: where it stands in the text, its column, whether a repeat ends or
    begins there, and whether anything stands between it and the next."""

    start: int
    end: int
    column: int
    closes: bool
    opens: bool
    filled: bool


def with_endings_above(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, the numbers of endings that stand above bars in these; each is reported, and so
    are those whose bars are not clear."""
    result = list(lines)
    gone: set[int] = set()
    for at, above in enumerate(lines):
        row = text_at(lines, at + 1)
        if "|" not in row or at in gone or (said := _numbers_of(above)) is None:
            continue
        before, numbers, remark = said
        if not _is_bars(row, is_chords):
            continue
        changed = _placed(result, at, numbers, is_chords)
        if not changed:
            _report_unplaced(above, row, numbers, findings)
            continue
        for place, line in changed.items():
            result[place] = line
        typed = above.text[len(before) :].removesuffix(remark).strip()
        findings.guess(
            "endings-above",
            f'"{typed}" above the bars opens the endings of a repeat',
            above.place(len(before)),
        )
        result[at] = replace(above, text=f"{before.rstrip()} {remark.strip()}".rstrip())
        gone |= {at} if not (before + remark).strip() else set()
        gone |= {at + 2} if at + 3 in changed else set()
    return [line for at, line in enumerate(result) if at not in gone] if gone else result


def _numbers_of(line: Line, due: int = 1) -> tuple[str, list[_Number], str] | None:
    """What stands before the numbers of endings on a line, a name perhaps, the numbers, and what
    stands in parentheses behind; None where the line has no such numbers or anything else."""
    text = line.text
    first = _STARTS[due - 1].search(text) if 0 < len(text) <= _LONGEST else None
    if first is None or (text[: first.start()].strip() and _GAP not in text[: first.start()][-3:]):
        return None
    numbers: list[_Number] = []
    at = first.start()
    while text[at:].strip() and not (numbers and _SAID.fullmatch(text, at)):
        item = _ITEM.match(text, at)
        number = _number(line, item, due) if item is not None else None
        if item is None or number is None:
            return None
        numbers.append(number)
        at, due = item.end(), number.times[-1] + 1
    return text[: first.start()], numbers, text[at:]


def _number(line: Line, item: re.Match[str], due: int) -> _Number | None:
    """The ending that a number names; None where it is not the one that is due."""
    word = item["word"] or ""
    if word.isalpha() and not item["time"]:
        return None  # "first" alone is a word
    times = (time_of(word, due),) if word else numbers_in(item["number"])
    if times[:1] != (due,):
        return None
    first = next(part for part in ("open", "name", "number") if item[part])
    column = line.column(item.start(first))
    bracketed = first != "number" or bool(word or item["rule"] or item["time"])
    return _Number(times, column, bracketed, bool(item["dot"]))


def _is_bars(text: str, is_chords: IsChords) -> bool:
    """Whether a line is a row of bars, with a name before it or not."""
    return 0 < len(text) <= _LONGEST and text.count("|") > 1 and is_chords(text[text.find("|") :])


def _placed(
    lines: Sequence[Line], at: int, numbers: Sequence[_Number], is_chords: IsChords
) -> dict[int, Line]:
    """The rows that change when numbers on a line open their endings in the row below it, by
    their places; none where it is not clear which bars these open."""
    row = lines[at + 1]
    bars = _bar_lines(row)
    first = _bar_under(bars, numbers[0])
    begins = first_of_rows(lines, at)
    if bars[first].opens or (first == 0 and begins == at and not _is_open(lines, at)):
        return {}  # an ending is not the whole of what is repeated
    opened = _opened(bars, first, numbers)
    if opened is not None:
        return {at + 1: _with_numbers(row, bars, opened, numbers)}
    closing = next((i for i in range(first + 1, len(bars)) if bars[i].closes), None)
    if closing is not None:
        ends = closing == len(bars) - 1 and not bars[closing].filled and len(numbers) == 1
        return _over_two_rows(lines, at, first, numbers[0], is_chords) if ends else {}
    opened = [_bar_under(bars, number) for number in numbers]
    apart = all(before < behind for before, behind in pairwise(opened))
    if len(numbers) < 2 or not apart or not all(number.bracketed for number in numbers):
        return {}
    row = _with_numbers(row, bars, opened, numbers, closed=True)
    if begins == at:
        return {at + 1: repeated_from(row)}
    return {begins: repeated_from(lines[begins]), at + 1: row}


def _bar_lines(line: Line) -> list[_BarLine]:
    """The bar lines of a row."""
    matches = list(_BAR_LINE.finditer(line.text))[:_MOST_BARS]
    ends = [*(match.start() for match in matches[1:]), len(line.text)]
    return [
        _BarLine(
            match.start(),
            match.end(),
            line.column(match.start()),
            match["closes"] is not None,
            match["opens"] is not None,
            bool(line.text[match.end() : end].strip()),
        )
        for match, end in zip(matches, ends, strict=True)
    ]


def _bar_under(bars: Sequence[_BarLine], number: _Number) -> int:
    """The bar under a number: that of the last bar line before it, or right behind it."""
    before = [i for i, bar in enumerate(bars) if bar.filled and bar.column <= number.column + 1]
    return before[-1] if before else 0


def _opened(bars: Sequence[_BarLine], first: int, numbers: Sequence[_Number]) -> list[int] | None:
    """The bar that each of several numbers opens, those behind the first right behind a repeat
    sign; None where the signs do not stand so."""
    closing = [i for i in range(first + 1, len(bars)) if bars[i].closes]
    opened = [first, *closing[: len(numbers) - 1]]
    left = closing[len(numbers) - 1 :]
    if len(numbers) < 2 or len(opened) < len(numbers) or any(bars[i].filled for i in left):
        return None
    limits = [bars[i].column for i in closing] + [10**6] * 2
    stand_right = all(
        bars[i].filled
        and bars[i].column <= number.column + _SLACK
        and number.column < limits[k + 1]
        for k, (i, number) in enumerate(zip(opened[1:], numbers[1:], strict=True))
    )
    return opened if stand_right and numbers[0].column < limits[0] else None


def _over_two_rows(
    lines: Sequence[Line], at: int, first: int, number: _Number, is_chords: IsChords
) -> dict[int, Line]:
    """The two rows that change when the first ending ends a row and the second begins the next
    one, under its number or behind it; none where they do not stand so."""
    row = lines[at + 1]
    numbered = {at + 1: _with_numbers(row, _bar_lines(row), [first], [number])}
    if _SECOND_IN_ROW.match(text_at(lines, at + 2)) and "|" in lines[at + 2].text:
        return numbered
    if at + 3 >= len(lines) or not _is_bars(lines[at + 3].text, is_chords):
        return {}
    due = number.times[-1] + 1
    said = _numbers_of(lines[at + 2], due) if due == 2 else None
    below = lines[at + 3]
    bars = _bar_lines(below)
    if (
        said is None
        or (said[0] + said[2]).strip()
        or len(said[1]) > 1
        or _bar_under(bars, said[1][0]) > 0
    ):
        return {}
    if bars[0].start > 0:  # no bar line opens the row
        return {}
    return {**numbered, at + 3: _with_numbers(below, bars, [0], said[1])}


def _is_open(lines: Sequence[Line], at: int) -> bool:
    """Whether a repeat has begun above a line and not ended."""
    for above in range(at - 1, max(-1, at - _MOST_ROWS), -1):
        text = lines[above].text[:_LONGEST]
        if "|:" in text or ":|" in text:
            return text.rfind("|:") > text.rfind(":|")
    return False


def _with_numbers(
    row: Line,
    bars: Sequence[_BarLine],
    opened: Sequence[int],
    numbers: Sequence[_Number],
    closed: bool = False,
) -> Line:
    """A row with numbers behind the bar lines of the bars that these open, and with repeat signs
    before all but the first, if none are typed."""
    for place, number in reversed(list(zip(opened, numbers, strict=True))):
        text = "".join(f"{time}." for time in number.times)
        blank = "" if row.text[bars[place].end :][:1] == " " else " "
        row = _with_text(row, bars[place].end, text + blank)
        if closed and place != opened[0]:
            row = _with_text(row, bars[place].start, ":")
    return row


def _with_text(line: Line, at: int, text: str) -> Line:
    """A line with more text at a place, in the column of what stood there."""
    columns = line.columns or tuple(range(len(line.text) + 1))
    more = (columns[at],) * len(text)
    return replace(
        line,
        text=line.text[:at] + text + line.text[at:],
        columns=(*columns[:at], *more, *columns[at:]),
    )


def _report_unplaced(above: Line, row: str, numbers: Sequence[_Number], findings: Findings) -> None:
    """Reports numbers of endings whose bars are not clear."""
    if ":|" in row and len(numbers) > 1 and all(n.bracketed or n.dotted for n in numbers):
        findings.guess(
            "endings-above",
            f'"{above.text.strip()}" above a repeat may be its endings: which bars these are is '
            "not clear",
            above.place(),
        )
