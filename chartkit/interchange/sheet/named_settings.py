"""Settings that a head names outright: feel, instrument, sung range, language of the words."""

import re

from chartkit.chart.model import SettingName, SettingValue
from chartkit.theory.pitch import parse_range

_APART = re.compile(r"\s{3,}")
_NAMED = re.compile(r"(feel|instrument|range|language)\s*:\s*(.+)", re.IGNORECASE)
_TAG = re.compile(r"[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")
_NAMES: dict[str, SettingName] = {
    "feel": "feel", "instrument": "instrument", "range": "range", "language": "language",
}  # fmt: skip
_LONGEST = 400


def named_settings(text: str) -> dict[SettingName, SettingValue]:
    """The settings on a line that holds nothing else, several of them wide apart; else none."""
    if ":" not in text or len(text) > _LONGEST:
        return {}
    found: dict[SettingName, SettingValue] = {}
    for part in _APART.split(text.strip()):
        named = _NAMED.fullmatch(part)
        value = None if named is None else _value(named[1].lower(), named[2].strip())
        if named is None or value is None:
            return {}
        found[_NAMES[named[1].lower()]] = value
    return found


def _value(name: str, text: str) -> SettingValue | None:
    """What is named; None for a range or a language that is none."""
    if name == "range":
        try:
            return parse_range(text)
        except ValueError:
            return None
    return None if name == "language" and _TAG.fullmatch(text) is None else text
