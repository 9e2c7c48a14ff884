"""A chart as JSON is the chart that it says, or is refused with the path of what is wrong."""

import json
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.chart.model import Chart
from chartkit.incoming import incoming_chart
from chartkit.interchange.chart_json import chart_json
from chartkit.interchange.intake_result import Refused
from chartkit.syntax.write import chart_text
from tests.charts import DENSE, SMALL, chart_of
from tests.each import each
from tests.fuzz.readers import data_chart
from tests.interchange.mutated_json import mutated, seeds
from tests.strategies import charts

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.chart"))
SEEDS = seeds()


def as_json(chart: Chart) -> bytes:
    """What ``export --to json`` writes."""
    return json.dumps(chart_json(chart)).encode()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_come_back_exactly(path: Path) -> None:
    """An example out as JSON and in again is the same text as when it is tidied."""
    chart = chart_of(path.read_text())
    assert incoming_chart(as_json(chart)).text == chart_text(chart)


@settings(max_examples=12, deadline=None)
@given(charts(rhythm=True, fine=True))
def test_any_chart_comes_back_exactly(chart: Chart) -> None:
    """So is every chart that can be written."""
    try:
        assert incoming_chart(as_json(chart)).text == chart_text(chart)
    except Refused as reason:
        assert "no music" in str(reason)


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(range(len(SEEDS))), st.integers(0, 2**32))
def test_a_changed_chart_is_that_chart_or_refused(which: int, seed: int) -> None:
    """One or two changes anywhere: nothing raises, and what is written says all that was
    given."""
    data_chart(mutated(SEEDS[which], Random(seed)).decode())


def changed(change: Callable[[Any], None], text: str = SMALL) -> bytes:
    """The JSON of a chart with one thing changed."""
    tree = chart_json(chart_of(text))
    change(tree)
    return json.dumps(tree).encode()


def _music(tree: Any) -> Any:
    return tree["sections"][0]["rows"][0]


def _strike(tree: Any) -> Any:
    return _music(tree)["bars"][0]["strikes"][0]


WRONG: dict[str, tuple[Callable[[Any], None], str]] = {
    "a name with a count": (
        lambda tree: tree["sections"][0].update(name="Verse x2"),
        "sections.0.name: ",
    ),
    "degrees of another quality": (
        lambda tree: _strike(tree)["chord"]["quality"].update(degrees=["1", "b3", "5"]),
        'strikes.0.chord: "" is not the chord quality of',
    ),
    "a length past the bar": (lambda tree: _strike(tree).update(length=999), "strikes.0.length: "),
    "a bar without end": (
        lambda tree: _music(tree)["bars"][1].update(length=10**30, beats_written=True),
        "rows.0.bars.1: a bar has at most 100 beats",
    ),
    "a rest without end": (
        lambda tree: _music(tree)["bars"][1].update(rest=10**30),
        "rows.0.bars.1: a rest lasts at most 500 bars",
    ),
    "a bar that repeats a thousand": (
        lambda tree: _music(tree)["bars"][1].update(simile=1000),
        "rows.0.bars.1: a bar repeats one bar or two",
    ),
    "too few bar lines": (lambda tree: _music(tree)["lines"].pop(), "2 bars stand between 3"),
    "a name that no chart has": (
        lambda tree: tree["sections"][0].update(tempo=3),
        "sections.0.tempo: 3 does not belong",
    ),
    "a number as text": (
        lambda tree: _strike(tree).update(length="48"),
        "does not belong there|whole number",
    ),
    "a note far away": (
        lambda tree: _strike(tree)["chord"].update(root=10**30),
        "too large|at most two",
    ),
    "a mode of its own": (
        lambda tree: tree["top"][1]["value"].update(mode="sad"),
        '"sad" is not a mode',
    ),
    "a line end in a title": (lambda tree: tree["top"][0].update(value="a\nb"), "top"),
    "no bars": (lambda tree: _music(tree).pop("bars"), "rows.0"),
}


@each("name", sorted(WRONG))
def test_what_the_language_cannot_say_is_refused_with_its_path(name: str) -> None:
    """Each is refused in one line that names the place."""
    change, reason = WRONG[name]
    with pytest.raises(Refused, match=reason) as refused:
        incoming_chart(changed(change))
    assert "\n" not in str(refused.value)


def test_one_name_twice_is_refused() -> None:
    """Of two values under one name neither is taken for the other."""
    data = as_json(chart_of(SMALL)).replace(b'"times": 1', b'"times": 1, "times": 2')
    with pytest.raises(Refused, match='twice in one object: "times"'):
        incoming_chart(data)


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b'{"sections": [' + b"{}," * 200_000 + b"{}]}", "more values than a chart"),
        (b'{"sections": [' + b"0," * 600_000 + b"0]}", "more values than a chart"),
        (b'{"sections": "' + b"a" * 9_000_000 + b'"}', "too large for a chart"),
        (b'{"sections": ' + b"[" * 300_000 + b"]" * 300_000 + b"}", "nested too deep"),
        (b'{"sections": [{"name": "a", "times": NaN}]}', "NaN is not a JSON number"),
    ],
)
def test_large_and_deep_json_is_refused_at_once(data: bytes, reason: str) -> None:
    """What holds more than a song is refused before it is taken apart."""
    with pytest.raises(Refused, match=reason):
        incoming_chart(data)


def test_a_long_song_is_taken() -> None:
    """The longest chart of the tests is far within the limits."""
    assert incoming_chart(as_json(chart_of(DENSE))).text
