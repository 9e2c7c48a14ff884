"""Any text at all as a shape, a tuning, a range, a key, a symbol, a chart or a set.

The same claims as the fuzzer's (``tests.fuzz``), by hypothesis, with what was found before.
"""

import json
import random
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from chartkit.interchange.chart_json import chart_json
from tests.charts import DENSE, chart_of
from tests.each import each
from tests.fuzz.readers import READERS

FRIDAY = (Path(__file__).resolve().parents[2] / "examples" / "friday.toml").read_text("utf-8")
PIECES = {
    "shape": ["x", "X", "0", "1", "2", "3", "9", "10", "12", "-", "99", "٣"],
    "tuning": [
        "E2",
        "A2",
        "D3",
        "Gb3",
        "B##",
        "10",
        "drop",
        "open",
        "G",
        "DADGAD",
        ",",
        "-",
        "٣",
        " ",
    ],
    "range": ["A3", "C#4", "Ebb5", "-", "–", "−1", "10", "9", " "],
    "key": ["A", "B", "C#", "Ebb", "m", "maj", "minor", "dorian", "locrian", "H", "♭", " "],
    "symbol": [
        "C",
        "F#",
        "Bb",
        "m",
        "maj",
        "7",
        "9",
        "(b9",
        ",",
        "#11)",
        "/E",
        "sus4",
        "add9",
        "no3",
        "♭",
        "°",
        "ø",
        "△",
        "+",
        "-",
    ],
}


RIGHT = {
    "chart": DENSE,
    "symbol": "F#m7b5/E",
    "shape": "x-10-12-12-11-x",
    "tuning": "DADGAD",
    "range": "A3-C#5",
    "key": "F# dorian",
    "set": FRIDAY,
    "json": json.dumps(chart_json(chart_of(DENSE))),
}


@pytest.mark.parametrize("reader", READERS)
def test_what_is_right_is_taken(reader: str) -> None:
    """No reader refuses everything, which all other tests here would let pass."""
    assert READERS[reader](RIGHT[reader])


@pytest.mark.parametrize("reader", PIECES)
def test_some_pieces_make_a_value(reader: str) -> None:
    """Some of the jumbles of a few pieces are values, so that the test of them tries both ways."""
    chance = random.Random(7)
    texts = {"".join(chance.choices(PIECES[reader], k=chance.randint(1, 6))) for _ in range(4000)}
    assert sum(map(READERS[reader], texts)) >= 5


@pytest.mark.parametrize("reader", READERS)
@given(text=st.text(max_size=40))
@settings(deadline=None)
def test_any_text_is_read_or_refused(reader: str, text: str) -> None:
    """Whatever characters there are, a reader gives a value or plain words."""
    READERS[reader](text)


@pytest.mark.parametrize("reader", PIECES)
@given(data=st.data())
@settings(max_examples=150, deadline=None)
def test_any_pieces_are_read_or_refused(reader: str, data: st.DataObject) -> None:
    """What looks like a value, in any jumble, is one that prints back or is refused."""
    READERS[reader]("".join(data.draw(st.lists(st.sampled_from(PIECES[reader]), max_size=9))))


@given(
    st.integers(0, len(FRIDAY)),
    st.integers(0, 60),
    st.text(alphabet='[]{}"=#\n. 0123abcké\\', max_size=8),
)
@example(0, 0, "")
@settings(max_examples=80, deadline=None)
def test_a_set_file_broken_anywhere_is_reported(at: int, length: int, put: str) -> None:
    """A set with anything cut out or written in anywhere is read, or its mistakes are shown."""
    READERS["set"](FRIDAY[:at] + put + FRIDAY[at + length :])


@each(
    "heading",
    ["==#B a", "===#B", "== =#B", "== =as B", "== A as=", "== =x2", "== A x2=", "== A ==", "== ="],
)
def test_headings_with_signs_around_them_read_back(heading: str) -> None:
    """Found by the fuzzer: a name whose signs are dropped must not turn into something else."""
    READERS["chart"](f"== B\n| C |\n{heading}\n| C |\n")
