"""What people type beside a chord in one text: "C (let ring)", "C or Am", "Chord: C", "C //".

Common practice, no source.
"""

import re
from collections.abc import Callable

from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.score.events import Measure, PlayerInstruction

_MAY_BE = re.compile(r"[(:/]|\s(?:or|oder|ou|of)\s")
_LABEL = CompiledLater(r"(?:chords?|akkorde?|accords?|acordes?|accordi)\s*:\s*(?P<chords>.+)")
_REMARK = CompiledLater(r"(?P<chords>[^()\s].{0,38}?)\s+\((?P<said>[^()]{2,40})\)")
"""A remark; what is closed up to a chord may be an alteration that nobody can read."""
_OTHER = CompiledLater(r"(?P<chords>\S{1,12})\s+(?P<said>(?:or|oder|ou|of)\s+(?P<other>\S{1,12}))")
_STROKES = CompiledLater(r"(?P<chords>.{0,38}[^\s/])\s*(?:/\s?){1,8}")
"""Strokes behind a chord, one for each beat on which it goes on."""


def with_chords_apart(measure: Measure, are_chords: Callable[[str], bool]) -> Measure:
    """The measure with each chord that is typed beside something else as words of its own, and
    what is said beside it as others."""
    if not any(_MAY_BE.search(one.text) for one in measure.instructions):
        return measure
    apart: list[PlayerInstruction] = []
    for one in measure.instructions:
        chords, said = _parted(one.text, are_chords)
        apart += [one._replace(text=text) for text in (chords, said) if text]
    if len(apart) == len(measure.instructions) and tuple(apart) == measure.instructions:
        return measure
    return measure._replace(instructions=tuple(apart))


def _parted(text: str, are_chords: Callable[[str], bool]) -> tuple[str, str]:
    """The chords in a text and what is said beside them; other texts as they are."""
    if _MAY_BE.search(text) is None or are_chords(text):
        return text, ""
    for pattern in (_LABEL, _STROKES, _REMARK, _OTHER):
        found = pattern.fullmatch(text)
        if found is not None and are_chords(found["chords"]):
            said = found.groupdict().get("said") or ""
            if "other" not in found.groupdict() or are_chords(found["other"]):
                return found["chords"], said
    return text, ""
