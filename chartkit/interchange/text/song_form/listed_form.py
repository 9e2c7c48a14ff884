"""Numbers before the names in an order of sections that is typed with one section a line.

Source of the form: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_form.roadmap import is_label_alone
from chartkit.interchange.text.vocabulary.section_names import full_name_at, section_key
from chartkit.interchange.text.vocabulary.times_played import times_of

_LONGEST, _LONGEST_ROW = 60, 200
_FEWEST_STEPS = 3


def without_numbers_of_steps(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines, the steps of an order without their numbers: below a label such as "Order", and in
    a list that begins with the sections above."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result = list(lines)
    for at, line in enumerate(lines):
        if is_label_alone(line.text):
            _number_off(result, at + 1)
    return _without_numbers(result, findings)


def _number_off(lines: list[Line], start: int) -> None:
    """Takes the numbers off the items of a list that begins at a line, or behind a blank one."""
    start += not any(one.text.strip() for one in lines[start : start + 1])
    items: list[re.Match[str]] = []
    while start + len(items) < len(lines):
        text = lines[start + len(items)].text
        item = _ITEM.fullmatch(text) if 0 < len(text) <= _LONGEST_ROW else None
        if item is None or int(item["number"]) != len(items) + 1:
            break
        items.append(item)
    for at, item in enumerate(items if len(items) >= _FEWEST_STEPS else []):
        lines[start + at] = replace(lines[start + at], text=item["text"], columns=None)


_ITEM = re.compile(r"\s*\(?(?P<number>\d{1,2})[.):]\s+(?P<text>\S.*)")


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
    if not above or keys[: len(above)] != above or any(map(_says_more, listed[: len(above)])):
        return list(lines)
    result = list(lines)
    for at, match in listed:
        played = at - places[0] < len(above)
        if played:
            text = lines[at].text.strip()
            findings.leave_out("form", f'"{text}" is the section above', lines[at].place())
        result[at] = replace(lines[at], text="" if played else match["text"], columns=None)
    return result


def _says_more(item: tuple[int, re.Match[str]]) -> bool:
    """Whether more than a name and a count stands behind the number of an item."""
    text = item[1]["text"]
    said = text[full_name_at(text, 0) :].strip(" .:,;-–—()[]")
    return bool(said) and not times_of(said)


_NUMBERED = re.compile(r"\s*(?P<number>\d{1,2})[.)]\s+(?P<text>[^\W\d_].{0,60})")
_MOST_LINES = 2_000


def _numbered(text: str) -> re.Match[str] | None:
    match = _NUMBERED.fullmatch(text) if len(text) <= _LONGEST else None
    return match if match is not None and full_name_at(match["text"], 0) > 0 else None


def _name(line: Line) -> int:
    return full_name_at(line.text, 0) if len(line.text) <= _LONGEST_ROW else 0
