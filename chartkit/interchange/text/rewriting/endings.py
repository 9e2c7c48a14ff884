"""Reads rows of bars for one time through ("1. | D | D |" over "2. | D | G |") as numbered endings.

Source of the way to write them: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line

_WORDS = {
    1: "1st first 1a 1ª 1ère 1er 1re prima primera primeira première erstes erste eerste första",
    2: "2nd second 2a 2ª 2ème 2e seconda segunda deuxième zweites zweite tweede andra",
    3: "3rd third 3a 3ª 3ème 3e terza tercera terceira troisième drittes dritte derde tredje",
    4: "4th fourth last 4a 4ème 4e quarta cuarta quatrième viertes vierte vierde letztes laatste",
}
_TIME_OF = {word: time for time, words in _WORDS.items() for word in words.split()}
A_TIME = "|".join(re.escape(word) for word in sorted(_TIME_OF, key=len, reverse=True))
"""The words and figures that say for which time an ending is."""
TIME = r"(?:time|ending|end|x|mal|vez|volta|fois|keer|gången|gang)(?![^\W\d_])\s*(?:only)?"
"""What stands behind such a word."""
_ENDING = re.compile(
    rf"\s*[\[(]?(?:(?P<word>{A_TIME})\s*(?:{TIME}\s*)?[.):\]]*|"
    r"(?P<numbers>[1-9](?:\s*\.?\s*[-–,.+&/]\s*[1-9]){0,6})\s*[.):\]]+"
    rf"(?:\s*{TIME}\s*:?)?)\s*(?P<bars>\|[^:]*?(?P<back>:)?\|)\s*",
    re.IGNORECASE,
)
_BARS = re.compile(r"\s*\|(?![|])(?P<bars>.*?)\|\s*")
_LONGEST = 400


def with_numbered_endings(lines: Sequence[Line]) -> list[Line]:
    """The lines, those of bars for the first, the second or a later time as endings of a repeat
    that begins where the bars above do."""
    lines = _with_usual_numbers(lines)
    result = list(lines)
    at = 0
    while at < len(lines):
        if "|" not in lines[at].text:
            at += 1
            continue
        endings = _endings_from(lines, at)
        start = first_of_rows(result, at) if len(endings) > 1 else at
        if start < at:
            result[start] = repeated_from(result[start])
            for i, (numbers, bars, back) in enumerate(endings):
                last = i == len(endings) - 1
                end = ":|" if back or not last else "|"
                text = f"|{''.join(f'{number}.' for number in numbers)}{bars}{end}"
                result[at + i] = _retyped(lines[at + i], text)
        at += max(1, len(endings))
    return result


_FIRST, _SECOND = (
    rf"(?:(?<=\|){n}(?=\s)|[\[(]\s?{n}(?:{which})?\.?(?:\s{TIME})?\s?[.:)\]]*|{n}(?:{which})?\s?[.:)]+|"
    rf"{n}(?:{which})(?:\s{TIME})?[.:)]*(?=\s))\s*"
    for n, which in (("1", "st|ª|a|er|ère|re|:a"), ("2", "nd|ª|a|e|ème|:a"))
)
_A_BAR = r"(?=\(?[A-H%N/|])"
_BOTH_IN_ROW = re.compile(
    rf"(?P<before>.*?\|)\s*{_FIRST}{_A_BAR}(?P<first>[^:]+:\|{{1,2}})\s*{_SECOND}{_A_BAR}(?P<second>.*)",
    re.IGNORECASE,
)
_FIRST_IN_ROW = re.compile(
    rf"(?P<before>.*?\|)\s*{_FIRST}{_A_BAR}(?P<first>[^:]+:\|{{1,2}})\s*", re.IGNORECASE
)
_SECOND_IN_ROW = re.compile(rf"\s*\|?\s*{_SECOND}{_A_BAR}(?P<second>.*)", re.IGNORECASE)


def _with_usual_numbers(lines: Sequence[Line]) -> list[Line]:
    """The lines, the numbers of two endings within a row, or within a row and at the start of the
    next one, right behind their bar lines ("| 1. C :| (2) G |")."""
    result = list(lines)
    for at, line in enumerate(lines):
        text = line.text
        if ":|" not in text or "1" not in text or len(text) > _LONGEST:
            continue
        if (both := _BOTH_IN_ROW.fullmatch(text)) is not None:
            text = f"{both['before']}1. {both['first']}2. {both['second']}"
            result[at] = _retyped(line, text)
        elif (first := _FIRST_IN_ROW.fullmatch(text)) is not None and at + 1 < len(lines):
            below = lines[at + 1].text[:_LONGEST]
            if (second := _SECOND_IN_ROW.fullmatch(below)) is not None and "|" in below:
                result[at] = _retyped(line, f"{first['before']}1. {first['first']}")
                result[at + 1] = _retyped(lines[at + 1], f"|2. {second['second']}")
    return result


def _endings_from(lines: Sequence[Line], at: int) -> list[tuple[tuple[int, ...], str, bool]]:
    """The endings on the lines from one on, in their order: for which times each is, its bars,
    and whether a repeat sign ends it."""
    endings: list[tuple[tuple[int, ...], str, bool]] = []
    for i in range(at, len(lines)):  # a slice would copy them all
        text = lines[i].text
        match = _ENDING.fullmatch(text) if "|" in text and len(text) <= _LONGEST else None
        if match is None:
            break
        due = endings[-1][0][-1] + 1 if endings else 1
        word = match["word"]
        numbers = (time_of(word, due),) if word else numbers_in(match["numbers"])
        if numbers[:1] != (due,) or (due == 1 and "last" in match[0].casefold()):
            break
        bars = match["bars"][1:-1].removesuffix(":")
        endings.append((numbers, bars, match["back"] is not None))
    return endings


def time_of(word: str, due: int) -> int:
    """The time through that a word or a figure says; the one that is due for the last."""
    last = word.casefold() in ("last", "letztes", "laatste")
    return due if last else _TIME_OF[word.casefold()]


def numbers_in(text: str) -> tuple[int, ...]:
    """The times that "1", "1, 2" or "1-3" names, in their order."""
    figures = [int(one) for one in re.findall(r"\d", text)]
    if "-" in text or "–" in text:
        figures = list(range(figures[0], figures[-1] + 1))
    return tuple(sorted(set(figures)))


def first_of_rows(lines: Sequence[Line], at: int) -> int:
    """The first of the rows of bars right above a line, a row that begins a repeat at the
    farthest; the line where there is none."""
    while at > 0 and (row := _BARS.fullmatch(lines[at - 1].text[:_LONGEST])) is not None:
        if row["bars"].rstrip().endswith(":"):
            break
        at -= 1
        if row["bars"].startswith(":"):
            break
    return at


def repeated_from(line: Line) -> Line:
    """A row of bars with the sign at its start that a repeat begins there."""
    before, bar, behind = line.text.partition("|")
    return line if behind.startswith(":") else _retyped(line, f"{before}{bar}:{behind}")


def _retyped(line: Line, text: str) -> Line:
    return replace(line, text=text, columns=None)
