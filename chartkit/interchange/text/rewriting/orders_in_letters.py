"""The order of a song that a letter says among other sentences ("so the order is intro, v1, ch.
words below"): on a line of its own.

Source of the words: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.vocabulary.section_names import is_known_name

_LONGEST, _MOST_LINES = 400, 2_000
_ORDER = re.compile(
    r"(?:(?:(?:and|so|ok(?:ay)?|also|und|also|et|y|e|en|och|og)[,\s]+)*)"
    r"(?:(?:the|our|my|die|der|das|l['’]|le|la|el|il|o|de|het)\s*)?"
    r"(?:(?:running|playing|song)\s)?(?:order|form|structure|ablauf|aufbau|reihenfolge|ordre|structure|orden|forma|"
    r"estructura|ordine|struttura|ordem|volgorde|vorm|ordning|rækkefølge|rekkefølge)\s*"
    r"(?:is|goes|:|=|ist|geht|est|es|è|é|är|er)\s*:?\s+",
    re.IGNORECASE,
)
_SENTENCE_ENDS = re.compile(r"[.!?]+(?:\s+|$)")
_STEPS_APART = re.compile(
    r"\s*(?:[,;>/|→]|->|-{1,2}(?=\s)|\s(?:and|then|und|dann|et|puis|y|e|poi|en|dan|och|og)\s)\s*"
)
_COUNT = re.compile(r"[\s(\[]*(?:[x×]\s?\d|\d\s?[x×]|twice|\d)[)\]]*$", re.IGNORECASE)
_FEWEST, _MOSTLY = 4, 0.7


def with_orders_apart(lines: Sequence[Line]) -> list[Line]:
    """The lines, a sentence that gives the order of all sections on a line of its own where others
    stand beside it."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    return [part for line in lines for part in _parted(line)]


def _parted(line: Line) -> Iterator[Line]:
    """A line without the order that it says, and that order; the line where it says none."""
    text = line.text
    match = (
        _ORDER.search(text) if len(text) <= _LONGEST and text.count(",") + text.count("-") else None
    )
    begins = match is not None and (
        match.start() == 0 or text[: match.start()].rstrip()[-1:] in ".!?,:;–—-("
    )
    if match is None or not begins:
        yield line
        return
    end = _SENTENCE_ENDS.search(text, match.end())
    steps = text[match.end() : end.start() if end is not None else len(text)]
    behind = text[end.end() :] if end is not None else ""
    rest = f"{text[: match.start()].rstrip(' ,;:–—-')} {behind}".strip()
    names = [one for one in _STEPS_APART.split(steps) if one.strip()]
    known = sum(is_known_name(_COUNT.sub("", one).strip()) for one in names)
    if not rest or len(names) < _FEWEST or known < _MOSTLY * len(names):
        yield line
        return
    yield replace(line, text=rest, columns=None)
    yield replace(line, text=f"Order: {', '.join(names)}", columns=None)
