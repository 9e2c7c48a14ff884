"""Marks of several words typed without their sign, as in D.S. al Coda: reported as one slip."""

import re

from chartkit.syntax.elements import Element

_WORDS = re.compile(r"d\.?[sc]\.? al (?:fine|coda)|to coda", re.IGNORECASE)
_MOST_WORDS = 3


def with_jumps_joined(elements: list[Element]) -> list[Element]:
    """The elements; those that form such a mark together are joined."""
    joined: list[Element] = []
    for element in elements:
        joined.append(element)
        for count in range(2, _MOST_WORDS + 1):
            back = joined[-count:]
            words = " ".join(map(_word, back))
            if len(back) == count and _WORDS.fullmatch(words):
                joined[-count:] = [Element("unknown", back[0].start, element.end, words)]
    return joined


def _word(element: Element) -> str:
    """The element's text if it is a word alone; empty for any other."""
    if element.kind == "unknown":
        return str(element.value)
    if element.kind == "group" and len(element.value) == 1:
        one = element.value[0]
        return one.text or "" if one.end - one.start == len(one.text or "") else ""
    return ""
