"""A song that is moved to another key keeps its shapes where the capo can go along."""

import pytest

from chartkit.arrange.kept_shapes import moves_from_its_capo, with_shapes_kept
from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.diagnostics import Source
from chartkit.syntax.reader import read_chart
from chartkit.theory.capo import Capo
from chartkit.theory.key import parse_key

SOUNDING = "key: Db major\ncapo: 1\n\n== Verse\n| Db | Gb | Ab7 | Db |\n"
SHAPES = "key: C major\ncapo: 3\nchords: shapes\n\n== Verse\n| C | F | G7 | C |\n"


def chart(text: str) -> Chart:
    """The chart of a text without mistakes."""
    reading = read_chart(Source(text))
    assert not reading.diagnostics
    return reading.chart


@pytest.mark.parametrize(
    ("text", "key", "capo"),
    [
        (SOUNDING, "D major", 2),
        (SOUNDING, "C major", 0),
        (SOUNDING, "F major", 5),
        (SHAPES, "D major", 2),
        (SHAPES, "F major", 5),
    ],
)
def test_the_capo_moves_with_the_key(text: str, key: str, capo: int) -> None:
    """From the third fret in E flat to the second in D: C shapes under both (common practice, no
    source)."""
    view = with_shapes_kept(chart(text), View(key=parse_key(key)))
    assert view.capo == Capo(capo)
    moved = rewritten_chart(chart(text), view, as_shapes=True)
    assert moved.text("key") == "C major"


@pytest.mark.parametrize(
    ("text", "view"),
    [
        (SOUNDING, View(key=parse_key("B major"))),  # the capo would be at fret 11
        (SOUNDING, View(key=parse_key("Db major"))),  # the song stays
        (SOUNDING, View(by=12)),
        (SOUNDING, View(by=1, capo=Capo(1))),  # the player says where the capo is
        (SOUNDING.replace("capo: 1\n", ""), View(by=1)),
        (SOUNDING.replace("capo: 1", "capo: -1"), View(by=1)),
        (SOUNDING.replace("capo: 1", "capo: 1 over strings 5-3"), View(by=1)),
        (SOUNDING + "\ncapo: 2\n| Db / Ab ! |\n".replace(" !", ""), View(by=1)),
    ],
)
def test_what_else_is_left_as_it_is(text: str, view: View) -> None:
    """No capo, one that the player asks for, a lower tuning, a short capo, and one that is moved
    inside the song stay; so does one that would lie beyond fret 5."""
    reading = read_chart(Source(text)).chart
    assert with_shapes_kept(reading, view) == view
    assert moves_from_its_capo(reading, view) == (view == View(key=parse_key("B major")))
