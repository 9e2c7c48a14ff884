"""Bar lines that stand among the words of verses stacked under bars ("1. | Slow-ly | turns |"): the
words keep their columns, which show under which bar they fall.

Source of the form, as hymn sheets and spreadsheets have it: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.tokens import IsChords

_BAR = re.compile(r"\|[|:\]]?|(?<=\s):\|")
_NUMBER = re.compile(r"(?P<indent>\s*)(?P<number>\(?\d{1,2}(?P<sign>[.):])?)(?=\s*\|)")
_TWO_LETTERS = re.compile(r"[^\W\d_]{2}")
_LONGEST = 240
_FEWEST_BARS = 2


def without_bars_in_words(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, words stacked under a row of bars without the bar lines among them, and with a
    full stop behind the number of their verse; a single line without such a number keeps its bar
    lines, as its reader knows them.  Where bar lines stand elsewhere than those above, the bars
    and their words are set one under the other."""
    result = list(lines)
    if not any(_has_bars(line.text) for line in lines):
        return result
    for stack in _stacks(lines, is_chords):
        places = [stack[0] - 1, *stack]
        for at, text in zip(places, _aligned([lines[at].text for at in places]), strict=True):
            if text != lines[at].text:
                result[at] = replace(lines[at], text=text, columns=None)
        if len(stack) > 1 or _NUMBER.match(lines[stack[0]].text) is not None:
            for at in stack:
                result[at] = replace(result[at], text=_bare(result[at].text))
    return result


def _has_bars(text: str) -> bool:
    return len(text) <= _LONGEST and text.count("|") >= _FEWEST_BARS


def _stacks(lines: Sequence[Line], is_chords: IsChords) -> Iterator[list[int]]:
    """The places of the lines of words with bar lines right under each row of bars."""
    at = 0
    while at < len(lines):
        at += 1
        if not _has_bars(lines[at - 1].text) or not is_chords(lines[at - 1].text):
            continue
        bars = lines[at - 1].text.count("|")
        stack: list[int] = []
        while at < len(lines) and _is_of_stack(lines[at].text, bars, is_chords):
            stack.append(at)
            at += 1
        if stack:
            yield stack


def _is_of_stack(text: str, bars: int, is_chords: IsChords) -> bool:
    """Whether a line is words among about as many bar lines as the row above has, with nothing but
    a number before them."""
    if not _has_bars(text) or abs(text.count("|") - bars) > 1 or "---" in text:
        return False
    begin, end = text.find("|"), text.rfind("|")
    led = begin == len(text) - len(text.lstrip()) or _NUMBER.match(text) is not None
    sung = _TWO_LETTERS.search(text, begin) is not None
    return led and sung and not is_chords(text) and not is_chords(text[begin : end + 1])


def _aligned(texts: list[str]) -> list[str]:
    """Lines of as many bars each, with their bar lines one under the other; others, and those that
    stand so already, as they are."""
    first, *others = [[one.start() for one in _BAR.finditer(text)] for text in texts]
    if all(len(one) == len(first) and _are_near(one, first) for one in others):
        return texts
    cells = [_cells(text) for text in texts]
    if len({len(one) for one in cells}) > 1:
        return texts
    widths = [max(map(len, column)) + 1 for column in zip(*cells, strict=True)]
    return [
        "".join(cell.ljust(width) for cell, width in zip(one, widths, strict=True)).rstrip()
        for one in cells
    ]


def _are_near(columns: Sequence[int], others: Sequence[int]) -> bool:
    """Whether bar lines stand under others, or one column beside."""
    return all(abs(one - other) <= 1 for one, other in zip(columns, others, strict=True))


def _cells(text: str) -> list[str]:
    """What stands before the first bar line, and each bar with the line that begins it."""
    places = [0, *(bar.start() for bar in _BAR.finditer(text)), len(text)]
    return [text[start:end].rstrip() for start, end in pairwise(places)]


def _bare(text: str) -> str:
    """A line of words without its bar lines, each letter at its column."""
    text = _NUMBER.sub(_with_sign, text, count=1)
    return _BAR.sub(lambda bar: " " * len(bar[0]), text).rstrip()


def _with_sign(match: re.Match[str]) -> str:
    number = match["number"].strip("().:")
    return f"{match['indent']}{number}.".ljust(match.end())
