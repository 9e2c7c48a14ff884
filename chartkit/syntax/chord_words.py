"""Chords written as they are spoken: A flat minor 9."""

import re

from chartkit.syntax.elements import Element
from chartkit.syntax.quality_hints import SPOKEN_PARTS
from chartkit.syntax.report import Report
from chartkit.syntax.symbol import chord_or_none

_NUMBER = re.compile(r"[0-9]{1,2}")


def chords_in_words(elements: list[Element], report: Report) -> frozenset[int]:
    """Reports each chord of a bar that is written in words, once.

    Returns the starts of the words that were reported.
    """
    reported: set[int] = set()
    for i, element in enumerate(elements):
        after = elements[i + 1] if i + 1 < len(elements) else None
        if after is None or after.kind != "unknown" or element.kind != "group":
            continue
        if (
            after.value not in SPOKEN_PARTS
            or len(element.value) > 1
            or len(element.value[0].text) > 2
        ):
            continue
        words = _words_after(elements[i + 1 :])
        symbol = element.value[0].text + "".join(SPOKEN_PARTS.get(word, word) for word in words)
        if chord_or_none(symbol) is None:
            continue
        last = elements[i + len(words)]
        report.add(
            "chord-in-words",
            element.start,
            last.end,
            "this chord is written in words",
            f'write it in signs: "{symbol}"',
        )
        reported.update(word.start for word in elements[i + 1 : i + 1 + len(words)])
    return frozenset(reported)


def _words_after(elements: list[Element]) -> list[str]:
    words: list[str] = []
    for element in elements:
        known = element.kind == "unknown" and (
            element.value in SPOKEN_PARTS or _NUMBER.fullmatch(element.value)
        )
        if not known:
            break
        words.append(element.value)
    return words
