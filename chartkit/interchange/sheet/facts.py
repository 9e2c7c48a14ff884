"""The facts at the head of a sheet: capo, key, meter, tempo."""

import re
from dataclasses import dataclass
from typing import Literal

from chartkit.chart.model import SettingValue
from chartkit.interchange.capo_words import capo_of_words
from chartkit.interchange.sheet.counts import meter_of
from chartkit.interchange.sheet.key_names import key_of

_LONGEST_LINE = 120
"""What is longer is no line of facts."""
_SAYS_ONE = re.compile(r"\d|key|ton|[ck]apo|sound|tune|shape|ohne|sin", re.IGNORECASE)
"""A figure or one of a few words, without which there is no fact; most lines have none."""
_FACTS_APART = re.compile(r"\s*[,;|•·\[\]]\s*|\s{3,}|\t|\s+[/–—-]\s+|\s*(?:[-=]>|→)\s*")
_NAMES_ONE = re.compile(
    r"[\s(\[]*(?P<name>(?:original\s+)?(?:key|tonart|tonalité|tonalidad|tono|[ck]apo(?:daster)?|"
    r"cejilla|tempo|bpm|tim(?:e|ing)|met(?:er|re)|takt|compás))\b\s*(?P<sign>[:=@]|[–—-](?=\s))?",
    re.IGNORECASE,
)
FactName = Literal["capo", "key", "meter", "tempo", "shapes"]


@dataclass(frozen=True, slots=True)
class Fact:
    """A setting that a line of the heading gives, and whether its words say ``more``; the key of
    the ``shapes`` is none of its own."""

    name: FactName
    value: SettingValue
    more: bool = False


_KEY = re.compile(
    r"(?:in\s+)?(?:the\s+)?(?:original\s+)?(?:key|tonart|tonalité|tonalidad|tono)"
    r"\s*(?:of\s+|:\s*|=\s*|\s)\s*(\S+(?:\s+\S+){0,2})",
    re.IGNORECASE,
)
_KEY_SOUNDS = re.compile(r"(?:sounds|sounding)(?: in)?\s+(\S+(?: \S+)?)", re.IGNORECASE)
_SHAPES = re.compile(
    r"(?:key:?\s*(?:of\s+)?)?(?P<before>[A-H]\S*(?: \w+)?) shapes|"
    r"shapes?(?: in| of|:)? (?P<behind>[A-H]\S*(?: \w+)?)",
    re.IGNORECASE,
)
_PLAYED = re.compile(
    r"(?:we\s+)?play(?:ed|ing)?(?: it)?(?: in)? (?P<behind>[A-H]\S*(?: m\w+)?)(?: shapes)?"
)
"""How the key of the shapes is said (common practice, no source)."""
_METER = re.compile(
    r"(?:(?:tim(?:e|ing)|met(?:er|re)|takt|compás)(?:\s+signature)?\s*:?\s*)?(\d{1,2}/\d{1,2})",
    re.IGNORECASE,
)
_TEMPO = re.compile(
    r"(?:tempo|bpm|♩\s?[.·]?)\s*[:=]?\s*(?:♩\s?=\s?)?(?:ca\.?\s*|about\s+)?(\d{2,3})"
    r"(?P<more>\s?[-–]\s?\d{2,3})?(?:\s*bpm)?|(?:about\s+|ca\.?\s*)?(\d{2,3})\s*bpm",
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
    named = _NAMES_ONE.match(text)
    if named is not None and named["sign"] in ("-", "–", "—"):
        text = f"{named['name']}: {text[named.end() :].strip()}"
    found, rest = _parted(text)
    if "(" in text:
        inside = _parted(text.replace("(", ", ").replace(")", ","))
        found, rest = inside if len(inside[0]) > len(found) else (found, rest)
    return found, rest


def names_a_fact(text: str) -> bool:
    """Whether a line begins with a setting by its name and a sign, whatever stands behind."""
    named = _NAMES_ONE.match(text) if len(text) <= _LONGEST_LINE else None
    if named is None or not named["sign"]:
        return False
    found, rest = facts_and_rest(text)
    return bool(found) and not (rest and text.strip(" ([").startswith(rest[0]))


def _parted(text: str) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    found: list[Fact] = []
    rest: list[str] = []
    parts = [part.strip() for part in _FACTS_APART.split(text.strip()) if part.strip()]
    for part in parts:
        shapes = _SHAPES.fullmatch(part) or (_PLAYED.fullmatch(part) if len(parts) > 1 else None)
        fact = _shapes_key(shapes) if shapes is not None else _fact(part)
        if fact is not None:
            found.append(fact)
        elif shapes is None:
            rest.append(part)
    return tuple(found), tuple(rest)


def _shapes_key(found: re.Match[str]) -> Fact | None:
    said = found.groupdict()
    key = key_of(said.get("before") or said["behind"] or "")
    return Fact("shapes", key) if key is not None else None


def _fact(text: str) -> Fact | None:
    if (capo := capo_of_words(text)) is not None:
        return Fact("capo", capo)
    if (key := _KEY.fullmatch(text) or _KEY_SOUNDS.fullmatch(text)) is not None:
        value = key_of(key[1])
        return Fact("key", value) if value is not None else None
    if (written := _METER.fullmatch(text)) is not None:
        meter = meter_of(written[1])
        return Fact("meter", meter) if meter is not None else None
    if (tempo := _TEMPO.fullmatch(text)) is not None:
        beats = int(tempo[1] or tempo[3])
        return Fact("tempo", beats, bool(tempo["more"])) if 10 <= beats <= 400 else None
    return None
