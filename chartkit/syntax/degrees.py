"""Rows of scale degrees where chords belong: 1 4 5, or I IV V."""

import re

from chartkit.chart.model import Row, SettingRow
from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report
from chartkit.theory.key import Key, parse_key
from chartkit.theory.note import note_name

_ROMAN = ("i", "ii", "iii", "iv", "v", "vi", "vii")
_DEGREE = re.compile(
    r"([b#♭♯]?)(?:([1-7])|(VII|VI|V|IV|III|II|I|vii|vi|v|iv|iii|ii|i))((?![\d.])[-m°oø+]?|-?7|maj7|m7)"
)
_WITH_CHORDS = ("group", "played", "rest", "silence", "mute")
"""The kinds of elements beside which a number is not a degree, but a count or a slip."""
_LONGEST_ROW = 38
"""The longest row that a hint quotes whole (``report.py`` cuts longer quotations)."""


def are_degrees(elements: list[Element]) -> bool:
    """Whether a row has scale degrees and no chord."""
    unknown = [element for element in elements if element.kind == "unknown"]
    chords = any(element.kind in _WITH_CHORDS for element in elements)
    return bool(unknown) and not chords and all(_DEGREE.fullmatch(e.value) for e in unknown)


def report_degrees(elements: list[Element], text: str, rows: list[Row], report: Report) -> None:
    """Reports such a row once, with the chords that its degrees are in the key.

    ``rows`` are those before it, with the key among them; without one, C major is the example.
    """
    degrees = [element for element in elements if element.kind == "unknown"]
    keys = [row.value for row in rows if isinstance(row, SettingRow) and row.name == "key"]
    known = keys[-1] if keys and isinstance(keys[-1], Key) else None
    key = known or parse_key("C")
    named = text
    for element in reversed(degrees):
        named = named[: element.start] + _chord(element.value, key) + named[element.end :]
    if len(named.strip()) > _LONGEST_ROW or known is None:
        chords = dict.fromkeys(f"{e.value} is {_chord(e.value, key)}" for e in degrees)
        named = ", ".join(list(chords)[:7])
    else:
        named = f'"{named.strip()}"'
    report.add(
        "degrees-as-chords",
        degrees[0].start,
        degrees[-1].end,
        "these are scale degrees, and a chart names its chords",
        f"in {key}: {named}",
        "pages can print degrees: chartkit engrave --show numbers",
    )


def _chord(degree: str, key: Key) -> str:
    """The chord on a degree of the key, as it is typed.  A minus or a small Roman numeral makes
    it minor."""
    match = _DEGREE.fullmatch(degree)
    if match is None:
        return degree
    sign, figure, roman, quality = match.groups()
    step = int(figure) - 1 if figure else _ROMAN.index(roman.lower())
    note = key.scale[step] + {"": 0, "b": -7, "♭": -7, "#": 7, "♯": 7}[sign]
    small = roman is not None and roman.islower() and not quality.startswith(("m", "°", "o", "ø"))
    return note_name(note) + "m" * small + quality.replace("-", "m")
