"""An order of sections that is typed with one section a line below its label.

Source of the form: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    is_known_name,
    section_key,
)

_LONGEST, _LONGEST_ROW = 60, 200
_FEWEST_STEPS = 3
_MOST_STEPS = 40


def with_form_in_one_line(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines, a label such as "Order" and the names alone below it as one line of form."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    lines = _without_numbers(lines, findings)
    result: list[Line] = []
    at = 0
    while at < len(lines):
        steps = list(_steps(lines, at + 1)) if _is_label(lines[at].text) else []
        if _FEWEST_STEPS <= len(steps) <= _MOST_STEPS:
            parted = (_name_and_remark(lines[step].text) for step in steps)
            names = ", ".join(f"{name} ({said})" if said else name for name, said in parted)
            label = lines[at].text.strip(" :")
            result.append(replace(lines[at], text=f"{label}: {names}", columns=None))
            at = steps[-1] + 1
        else:
            result.append(lines[at])
            at += 1
    return result


_BESIDE_STEPS = " -–•*"
"""What stands around a step of a list."""
_REMARK = re.compile(r"(?<=[\w.)])(?:\s+[-–—]\s+([^\W\d_][^()]{0,40})|\s*\(([^()]{1,40})\))\s*$")
"""What is said to the players behind a name, behind a dash or in parentheses."""


def _name_and_remark(text: str) -> tuple[str, str]:
    """The name in a step of the order, and what is said to the players there; empty if nothing
    is."""
    remark = _REMARK.search(text)
    if remark is None:
        return text.strip(_BESIDE_STEPS), ""
    return text[: remark.start()].strip(_BESIDE_STEPS), remark[1] or remark[2]


def _without_numbers(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines, a numbered list of names that begins with the sections above, each once, without
    these and without its numbers: what is left is played after them."""
    listed = [(at, match) for at, line in enumerate(lines) if (match := _numbered(line.text))]
    numbers = [int(match["number"]) for _, match in listed]
    places = [at for at, _ in listed]
    whole = numbers == [*range(1, len(numbers) + 1)] and len(numbers) >= _FEWEST_STEPS
    if not whole or places != [*range(places[0], places[0] + len(places))]:
        return list(lines)
    above = [section_key(line.text[:end]) for line in lines[: places[0]] if (end := _name(line))]
    keys = [section_key(match["text"][: full_name_at(match["text"], 0)]) for _, match in listed]
    if not above or keys[: len(above)] != above:
        return list(lines)
    result = list(lines)
    for at, match in listed:
        played = at - places[0] < len(above)
        if played:
            text = lines[at].text.strip()
            findings.leave_out("form", f'"{text}" is the section above', lines[at].place())
        result[at] = replace(lines[at], text="" if played else match["text"], columns=None)
    return result


_NUMBERED = re.compile(r"\s*(?P<number>\d{1,2})[.)]\s+(?P<text>[^\W\d_].{0,60})")
_MOST_LINES = 2_000


def _numbered(text: str) -> re.Match[str] | None:
    match = _NUMBERED.fullmatch(text) if len(text) <= _LONGEST else None
    return match if match is not None and full_name_at(match["text"], 0) > 0 else None


def _name(line: Line) -> int:
    return full_name_at(line.text, 0) if len(line.text) <= _LONGEST_ROW else 0


def _is_label(text: str) -> bool:
    """Whether a line says of itself alone that an order of sections follows."""
    bare = text.strip(" :=-–")
    return 0 < len(bare) <= _LONGEST and label_end(f"{bare}: ") == len(bare) + 2


def _steps(lines: Sequence[Line], start: int) -> Iterator[int]:
    """The lines from one on that are the name of a section and no more."""
    for at in range(start, min(len(lines), start + _MOST_STEPS + 1)):
        if len(lines[at].text) > 2 * _LONGEST:
            return
        text, _ = _name_and_remark(lines[at].text)
        if not 0 < len(text) <= _LONGEST:
            return
        heading = heading_of(text)
        known = heading is not None and heading.rest_at is None
        if not known or not (is_known_name(text) or full_name_at(text, 0) > 0):
            return
        yield at
