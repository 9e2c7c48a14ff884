"""Names of sections as every page of a band prints them.

A first chorus is typed "Chorus", the next one "Chorus 2".  Who calls for "Chorus 1" in a rehearsal
must be understood by everybody, so the first one has its number on every page, folded or not, on
road maps and on pages of words.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.arrange.arrangement import ArrangedSection
from chartkit.chart.numbered_names import (
    has_number,
    name_without_number,
    number_of,
    numbered_like,
)

_LETTER = re.compile(r"[A-Z]\d+")
"""A letter of a rehearsal with a number: A2 follows A, which has none."""


def with_first_ones_numbered(
    sections: tuple[ArrangedSection, ...],
) -> tuple[ArrangedSection, ...]:
    """The sections, each first one of a kind with its number if all others of its kind have one."""
    kinds: dict[str, list[str]] = {}
    for section in sections:
        kinds.setdefault(name_without_number(section.name), []).append(section.name)
    first_ones = (one for kind, names in kinds.items() if kind for one in _numbered_first(names))
    new = dict(first_ones)
    known = {old.casefold(): name for old, name in new.items()}
    return tuple(
        replace(
            section,
            name=new.get(section.name, section.name),
            same_as=known.get(section.same_as.casefold(), section.same_as),
        )
        for section in sections
    )


def _numbered_first(names: Sequence[str]) -> list[tuple[str, str]]:
    """The first of the names and the same with its number; nothing where it keeps its own."""
    first, *others = names
    if not others or has_number(first) or not all(map(has_number, others)):
        return []
    if any(number_of(name) == "1" or _LETTER.fullmatch(name) for name in others):
        return []
    return [(first, numbered_like(first, "1", others))]
