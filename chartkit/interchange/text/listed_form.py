"""An order of sections that is typed with one section a line below its label.

Source of the form: common practice, no source.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.text.headings import heading_of
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.roadmap import label_end
from chartkit.interchange.text.section_names import full_name_at, is_known_name

_LONGEST = 60
_FEWEST_STEPS = 3
_MOST_STEPS = 40


def with_form_in_one_line(lines: Sequence[Line]) -> list[Line]:
    """The lines, a label such as "Order" and the names alone below it as one line of form."""
    result: list[Line] = []
    at = 0
    while at < len(lines):
        steps = list(_steps(lines, at + 1)) if _is_label(lines[at].text) else []
        if _FEWEST_STEPS <= len(steps) <= _MOST_STEPS:
            names = ", ".join(lines[step].text.strip(" -–•*") for step in steps)
            label = lines[at].text.strip(" :")
            result.append(replace(lines[at], text=f"{label}: {names}", columns=None))
            at = steps[-1] + 1
        else:
            result.append(lines[at])
            at += 1
    return result


def _is_label(text: str) -> bool:
    """Whether a line says of itself alone that an order of sections follows."""
    bare = text.strip(" :=-–")
    return 0 < len(bare) <= _LONGEST and label_end(f"{bare}: ") == len(bare) + 2


def _steps(lines: Sequence[Line], start: int) -> Iterator[int]:
    """The lines from one on that are the name of a section and no more."""
    for at in range(start, min(len(lines), start + _MOST_STEPS + 1)):
        text = lines[at].text.strip(" -–•*")
        if not 0 < len(text) <= _LONGEST:
            return
        heading = heading_of(text)
        known = heading is not None and heading.rest_at is None
        if not known or not (is_known_name(text) or full_name_at(text, 0) > 0):
            return
        yield at
