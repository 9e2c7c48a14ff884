"""The facts at the head of a sheet: capo, key, meter, tempo."""

import re
from dataclasses import dataclass
from typing import Literal

from chartkit.chart.model import HIGHEST_CAPO, LOWEST_CAPO, SettingValue
from chartkit.interchange.sheet.counts import meter_of
from chartkit.theory.key import parse_key

_LONGEST_LINE = 120
"""What is longer is no line of facts."""
_SAYS_ONE = re.compile(r"\d|key|ton|capo|sound|tune", re.IGNORECASE)
"""A figure or one of a few words, without which there is no fact; most lines have none."""
_FACTS_APART = re.compile(r"\s*[,;|•·]\s*|\s{3,}|\t|\s+[/–—-]\s+")
FactName = Literal["capo", "key", "meter", "tempo"]


@dataclass(frozen=True, slots=True)
class Fact:
    """A setting that a line of the heading gives."""

    name: FactName
    value: SettingValue


_CAPO = re.compile(
    r"\(?capo(?:daster)?\.?\s*(?:at|on|in|im|:|=)?\s*(?:the\s+)?(?:fret\s*|bund\s*)?"
    r"(\d{1,2}|none|no|[ivx]{1,4})"
    r"(?:st|nd|rd|th|\.)?\s*(?:fret|bund)?\)?(?P<more>\s*\([^()]*\))?",
    re.IGNORECASE,
)
_ROMAN = {"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8, "ix": 9}
_KEY = re.compile(
    r"(?:original\s+)?(?:key|tonart|tonalité|tonalidad)\s*(?:of\s+|:\s*|=\s*|\s)\s*(\S+(?:\s+\S+)?)",
    re.IGNORECASE,
)
_KEY_SOUNDS = re.compile(r"(?:sounds|sounding)(?: in)?\s+(\S+(?: \S+)?)", re.IGNORECASE)
_SHAPES = re.compile(r"(?:key:\s*)?[A-H]\S*(?: \w+)? shapes", re.IGNORECASE)
"""The key of the shapes, which follows from the capo and what sounds."""
_DOWN = {
    "a half step": 1, "half a step": 1, "1/2 step": 1, "a whole step": 2, "a step and a half": 3,
    "two whole steps": 4,
}  # fmt: skip
_TUNED_DOWN = re.compile(
    r"(?:(?:guitar )?tuned? down|tuning:? down) "
    rf"(?P<how>{'|'.join(_DOWN)}|(?P<steps>\d) half steps?)",
    re.IGNORECASE,
)
_METER = re.compile(r"(?:(?:time|meter|takt)(?:\s+signature)?\s*:?\s*)?(\d{1,2}/\d{1,2})",
                    re.IGNORECASE)  # fmt: skip
_TEMPO = re.compile(
    r"(?:tempo|bpm|♩\s?[.·]?)\s*[:=]?\s*(?:ca\.?\s*|about\s+)?(\d{2,3})(?:\s*bpm)?|(\d{2,3})\s*bpm",
    re.IGNORECASE,
)


def facts_of(text: str) -> tuple[Fact, ...]:
    """The settings on a line of the heading; none unless all of the line is settings."""
    found, rest = facts_and_rest(text)
    return () if rest else found


def facts_and_rest(text: str) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    """The settings on a line, and what else is said between them."""
    if len(text) > _LONGEST_LINE or _SAYS_ONE.search(text) is None:
        return (), (text,) if text.strip() else ()
    found: list[Fact] = []
    rest: list[str] = []
    for part in _FACTS_APART.split(text.strip()):
        if not part or _SHAPES.fullmatch(part):
            continue
        fact = _fact(part.strip())
        if fact is not None:
            found.append(fact)
        else:
            rest.append(part.strip())
    return tuple(found), tuple(rest)


def _fact(text: str) -> Fact | None:
    if (capo := _CAPO.fullmatch(text)) is not None:
        fret = _ROMAN.get(capo[1].lower(), 0) if not capo[1].isdigit() else int(capo[1])
        return Fact("capo", fret) if fret <= HIGHEST_CAPO else None
    if (down := _TUNED_DOWN.fullmatch(text)) is not None:
        steps = int(down["steps"] or _DOWN.get(down["how"].lower(), 0))
        return Fact("capo", -steps) if 0 < steps <= -LOWEST_CAPO else None
    if (key := _KEY.fullmatch(text) or _KEY_SOUNDS.fullmatch(text)) is not None:
        try:
            return Fact("key", parse_key(key[1]))
        except ValueError:
            return None
    if (written := _METER.fullmatch(text)) is not None:
        meter = meter_of(written[1])
        return Fact("meter", meter) if meter is not None else None
    if (tempo := _TEMPO.fullmatch(text)) is not None:
        beats = int(tempo[1] or tempo[2])
        return Fact("tempo", beats) if 10 <= beats <= 400 else None
    return None
