"""Sets apart a list of songs above the one that is written out.

A set list is copied with its new song below, counted from one on.  Source: common practice, no
source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.head_words.titles import could_be_title, has_facts
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import full_name_at, is_known_name
from chartkit.interchange.wording import counted, one_line

_COUNTED = re.compile(r"\s*(?P<number>\d{1,2})\s*[.):–-]\s*(?P<title>[^\W_].*)")
_FEWEST = 3
_LONGEST, _LONGEST_TITLE = 90, 60
_NUMBER_BEFORE = re.compile(
    r"\s*(?:song|tune|track|number|no\.?|nr\.?|titel|lied)\s*#?\d{1,2}\s*[.):–-]\s*", re.IGNORECASE
)
_MOST_LINES = 80
"""A set list stands at the head of a sheet, and has not more songs than an evening."""


def without_set_list(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines without a list of songs above the title of the one that is written out, and
    without what stands over that list; both are reported."""
    head = lines[:_MOST_LINES]
    music = next((at for at, one in enumerate(head) if _begins_music(one.text, is_chords)), 0)
    start, end = _longest_list([line.text for line in lines[:music]])
    below = [line.text for line in lines[end:music]]
    if end - start < _FEWEST or any(map(_counts, below)):
        return list(lines)
    titled = any(map(_is_title, below))
    if not titled and not (music and _is_counted(lines[end - 1].text)):
        return list(lines)
    last = lines[end - 1]
    end -= not titled  # the song that is written out is the last of the list
    first = next(at for at, line in enumerate(lines) if line.text.strip())
    if any(map(has_facts, (line.text for line in lines[first:start]))):
        first = start
    said = "; ".join(one_line(line.text) for line in lines[first:end] if line.text.strip())
    findings.leave_out(
        "set-list",
        f"a list of {counted(end - start, 'song')} above the one that is written out: {said}",
        lines[start].place(),
    )
    bare = _COUNTED.fullmatch(last.text)
    return [
        replace(line, text="", columns=None)
        if first <= at < end
        else replace(line, text=bare["title"], columns=None)
        if line is last and bare is not None
        else line
        for at, line in enumerate(lines)
    ]


def _begins_music(text: str, is_chords: IsChords) -> bool:
    """Whether a line is a row of chords or a section's name, which no list of songs has."""
    return (
        bool(text.strip())
        and _COUNTED.match(text) is None
        and (heading_of(text) is not None or is_chords(text))
    )


def _longest_list(texts: Sequence[str]) -> tuple[int, int]:
    """Where the longest run of lines begins and ends that count songs from one on."""
    runs = [(0, 0)]
    for at, text in enumerate(texts):
        start, end = runs[-1]
        number = _number(text)
        goes_on = at == end and end > start and number == end - start + 1
        if goes_on:
            runs[-1] = (start, at + 1)
        elif number == 1:
            runs.append((at, at + 1))
    return max(runs, key=lambda run: run[1] - run[0])


def _number(text: str) -> int:
    """The number before a title that stands in a list; 0 for any other line."""
    match = _COUNTED.fullmatch(text) if len(text) <= _LONGEST else None
    if match is None or is_known_name(match["title"]) or full_name_at(match["title"], 0):
        return 0
    return 0 if has_facts(match["title"]) else int(match["number"])


def _is_counted(text: str) -> bool:
    """Whether a line of the list can be the title of the song below it."""
    match = _COUNTED.fullmatch(text)
    return match is not None and _is_title(match["title"])


def _counts(text: str) -> bool:
    """Whether a line below the list goes on counting, as numbered words do."""
    match = _COUNTED.match(text)
    return match is not None and int(match["number"]) > _FEWEST


def _is_title(text: str) -> bool:
    """Whether a line can be the title of the song that is written out."""
    bare = _NUMBER_BEFORE.sub("", text, count=1).strip()
    return 0 < len(bare) <= _LONGEST_TITLE and could_be_title(bare)
