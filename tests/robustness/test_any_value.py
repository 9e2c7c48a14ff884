"""Any text at all as a shape, a tuning, a range, a key, a symbol, a chart or a set.

The same claims as the fuzzer's (``tests.fuzz``), by hypothesis, with what was found before.
"""

from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

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


@pytest.mark.parametrize(
    "heading",
    ["==#B a", "===#B", "== =#B", "== =as B", "== A as=", "== =x2", "== A x2=", "== A ==", "== ="],
)
def test_headings_with_signs_around_them_read_back(heading: str) -> None:
    """Found by the fuzzer: a name whose signs are dropped must not turn into something else."""
    READERS["chart"](f"== B\n| C |\n{heading}\n| C |\n")
