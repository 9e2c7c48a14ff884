"""The same sheet typed in other ways becomes the same chart."""

import os
import re
from dataclasses import replace
from functools import cache, lru_cache

import pytest

from tests.interchange import typed_ways
from tests.interchange.typed_sheets import TypedSheet, differences, sheets

_SHEETS_EACH = 12 if os.environ.get("CHARTKIT_EVERY_WAY") else 3
"""Sheets typed in each way: more, if all ways are asked for, take a minute."""
_MAY_DIFFER = 1
"""Of the sheets typed in one way: where a line has another meaning among its neighbours."""


@lru_cache(maxsize=1)
def _shuffled() -> tuple[TypedSheet, ...]:
    """Every sheet that holds music, in an order of no meaning."""
    every = [one for one in sheets("[fms]*") if one.expected.strip() != "REFUSED"]
    return tuple(sorted(every, key=lambda one: _place(one.name)))


def _place(text: str) -> int:
    """A number that depends on nothing but the text."""
    return sum(at * ord(sign) for at, sign in enumerate(text, 7)) % 997


@cache
def _is_right(sheet: TypedSheet) -> bool:
    """Whether a sheet is read rightly as it stands."""
    return not differences(sheet)


def _typed_so(way: typed_ways.Way) -> list[TypedSheet]:
    """The first sheets that the way changes, typed so; only such as are right as they stand."""
    changed = []
    for sheet in _shuffled():
        text = "\n".join(way(sheet.text.split("\n")))
        if text != sheet.text and _is_right(sheet):
            changed.append(replace(sheet, text=text))
        if len(changed) == _SHEETS_EACH:
            break
    return changed


def _evened(part_name: str) -> str:
    """A section's name with its number in figures behind it."""
    words = part_name.casefold()
    for number in range(7, 0, -1):
        spelled = "|".join(
            (
                typed_ways.NUMBERS[number],
                typed_ways.ORDINALS[number],
                typed_ways.ROMAN[number].casefold(),
                f"0{number}",
            )
        )
        words = re.sub(rf"\b(?:{spelled})\b", str(number), words)
    words = re.sub(r"\b(?:no|nr|nº|double)\b", "", words)
    letters = "".join(filter(str.isalpha, words))
    return letters + "".join(filter(str.isdecimal, words))


@pytest.mark.parametrize("name", typed_ways.EVERY)
def test_the_same_sheet_typed_otherwise(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Signs around names, numbers and counts in other forms, other blank lines and settings in
    other words change nothing in the chart."""
    monkeypatch.setattr("tests.interchange.typed_sheets._name", lambda part: _evened(part.name))
    typed = _typed_so(typed_ways.EVERY[name])
    apart = {one.name: found for one in typed if (found := differences(one))}
    assert typed
    assert len(apart) <= _MAY_DIFFER, apart


@pytest.mark.parametrize("names", typed_ways.LANGUAGES, ids=lambda names: " ".join(names.values()))
def test_the_same_sheet_in_other_languages(names: dict[str, str]) -> None:
    """Sections are known by their names in twenty languages."""
    typed = _typed_so(typed_ways.translated(names))
    translated = [
        replace(one, expected=typed_ways.in_language(one.expected, names)) for one in typed
    ]
    apart = {one.name: found for one in translated if (found := differences(one))}
    assert typed
    assert len(apart) <= _MAY_DIFFER, apart
