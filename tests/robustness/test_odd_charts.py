"""Charts of odd characters and monstrous sizes, through every command that reads one."""

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from chartkit.cli.main import PROGRAM
from tests.robustness.commands import CHART, READERS, with_file

HEAD = "key: C\nrange: C4-C5\n"
VERSE = ": | la | lo |\n"
GOOD: dict[str, str] = {
    "byte order mark": "\ufeff" + CHART,
    "Windows line ends": CHART.replace("\n", "\r\n"),
    "old line ends": CHART.replace("\n", "\r"),
    "tabs": CHART.replace(" | ", "\t|\t"),
    "right to left": f"title: שלום \u202eabc\n{HEAD}\n== مرحبا\n| C | F |\n: | שלום | م |\n",
    "combining": f"title: e{chr(0x301) * 300}\n{HEAD}\n| C |\n: | a{chr(0x300) * 2000} |\n",
    "emoji": f"title: 🎸👩\u200d👧\n{HEAD}\n== 🎸\n| C |\n: | 👩\u200d🎤 |\n",
    "title of 5,000 letters": CHART.replace("Ferry", "A" * 5_000),
    "title of 1,700 words": CHART.replace("Ferry", "Ab " * 1_700),
    "section name of 5,000 letters": CHART.replace("Verse", "N" * 5_000),
    "word of 5,000 letters": f"{HEAD}| C |\n: | {'w' * 5_000} |\n",
    "1,000 verses": f"{HEAD}| C | F |\n{VERSE * 1_000}",
    "played 396 times": HEAD + "".join(f"== B{i} x99\n|: C | F :|\n" for i in range(4)),
}
"""Charts without mistakes."""

BAD: dict[str, tuple[bytes, str]] = {
    "empty": (b"", "error[no-music]"),
    "blank": (b" \n\t\n\n", "error[no-music]"),
    "a bar line and bars in a comment": (b"|1. # C | F |\n", "error[no-music]"),
    "NUL": (b"key: C\n| C \x00| F |\n", "error[control-character]"),
    "lone surrogate": (b"title: \xed\xa0\x80\n| C |\n", ":1: this is not UTF-8 text"),
    "no UTF-8": (b"key: C\n| C |\n: \xff |\n", ":3: this is not UTF-8 text"),
    "UTF-16": (CHART.encode("utf-16"), ":1: this is not UTF-8 text"),
    "line of 10 MB": (b"| C " + b"x" * 10_000_000, "this is too large to be a chart"),
    "line of 1 MB": (b"| C " + b"x" * 1_000_000, "error[row-too-long]"),
    "a section 10,000 times": (
        b"== A\n" + b"| C | F | G | C |\n" * 2_000 + b"== A\n" * 10_000,
        "error[song-too-long]",
    ),
    "title of 7 MB": (b"title: " + b"x" * 7_000_000, "error[row-too-long]"),
    "100,000 sections": (
        b"".join(b"== S%d\n| C |\n" % i for i in range(100_000)),
        "200,000 rows are too many for a chart",
    ),
    "500,000 bars": (b"| C " * 4_000 * 125, "500,000 bar lines are too many for a chart"),
    "chord of 1,000 letters": (b"key: C\n| C" + b"7" * 1_000 + b" |\n", "error[unknown-quality]"),
    "chord of 330 changes": (b"| C(" + b"b9," * 330 + b"b9) |\n", "error[unknown-quality]"),
    "chord of 500 basses": (b"| C" + b"/E" * 500 + b" |\n", "error["),
    "number of 5,000 digits": (b"capo: " + b"9" * 5_000 + b"\n| C |\n", "error[bad-capo]"),
    "times of 5,000 digits": (b"== A x" + b"9" * 5_000 + b"\n| C |\n", "error["),
    "meter of 5,000 digits": (b"meter: " + b"9" * 5_000 + b"/4\n| C |\n", "error["),
    "range of 5,000 digits": (b"range: C" + b"9" * 5_000 + b"-C5\n| C |\n", "error["),
}
"""Charts with mistakes, and what is reported of each."""


@pytest.fixture
def call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Result]:
    """Calls a command on a chart of these bytes, in a folder of its own."""
    monkeypatch.chdir(tmp_path)

    def called(command: tuple[str, ...], chart: bytes) -> Result:
        Path("odd.chart").write_bytes(chart)
        arguments = with_file(command, "odd.chart")
        return CliRunner().invoke(PROGRAM, arguments)

    return called


def _sound(done: Result) -> None:
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    assert "Traceback" not in done.stderr


MORE_READERS = (*READERS, ("part",), ("export", "--to", "midi", "-o", "out.mid"))

UNDRAWN = ("right to left",)
"""Charts with letters that no font of ours has."""


@pytest.mark.parametrize("kind", GOOD)
def test_odd_charts_go_all_the_way(call: Callable[..., Result], kind: str) -> None:
    """Every command takes charts of any script and line end, and monstrous but right ones; letters
    that no font has are refused by what draws, with their names, and pictures are left out."""
    for command in MORE_READERS:
        done = call(command, GOOD[kind].encode())
        _sound(done)
        if kind in UNDRAWN and command[0] == "engrave":
            assert done.exit_code == 1 and "no-glyph" in done.stderr, command
            continue
        assert done.exit_code == 0, (command, done.stderr[:500])
        if command[0] == "engrave":
            assert ("it is left out in print" in done.stderr) == (kind == "emoji")


@pytest.mark.parametrize("kind", BAD)
def test_hostile_charts_get_a_clear_line(call: Callable[..., Result], kind: str) -> None:
    """Every command tells what is wrong in lines a terminal can hold, and makes nothing."""
    chart, message = BAD[kind]
    for command in MORE_READERS:
        done = call(command, chart)
        _sound(done)
        assert done.exit_code == 1, command
        assert message in done.stderr, (command, done.stderr[:500])
        assert max(map(len, done.stderr.splitlines())) < 6_000
        assert not Path("out.pdf").exists()
    assert Path("odd.chart").read_bytes() == chart
