"""Recognises how a head says that the guitar is tuned otherwise.

Source of the words: common practice, no source.
"""

import re

from chartkit.fretboard.instruments import KNOWN

_TUNING = re.compile(
    r"(?:guitar\s+)?(?:tuning|tuned(?: to)?|stimmung|accordage|afinación|afinação|accordatura|"
    r"stemming)\s*:?\s+(?P<name>[^\d]{3,20}?)[.!?]*|"
    r"(?:guitars? )?(?:in )?(?P<alone>drop(?:ped)?[ -]d|open[ -][dg]|dadgad)"
    r"(?: tuning| tuned| please| tonight)*[.!?]*",
    re.IGNORECASE,
)


def tuning_of(text: str) -> str:
    """The name of a tuning that a text gives, as the language writes it; empty for the standard
    one and for one of no name."""
    label = _TUNING.fullmatch(text.strip("*_ "))
    if label is None:
        return ""
    said = (label["name"] or label["alone"]).casefold().replace("tuning", "")
    name = " ".join(re.split(r"[\s-]+", said.replace("dropped", "drop"))).strip()
    return next((one.name for one in KNOWN[1:] if one.name.casefold() == name), "")
