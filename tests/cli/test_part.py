"""``chartkit part``: proposals, the chart it writes, the picture, and what it refuses."""

import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.test_commands import call

SONG = """\
title: Ferry Lights
key: Db major
capo: 1
range: Ab3-F5

== Verse
| Db | Ab7 | Bbm7 | Gb |
: | low | tide |  | home |
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a song in D flat."""
    (tmp_path / "ferry.chart").write_text(SONG)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_written_part_is_read_by_every_other_command(folder: Path) -> None:
    """The part checks clean, is tidy, moves to another key and is engraved with its diagrams."""
    assert call("part", "ferry.chart", "-o", "part.chart").exit_code == 0
    assert "0 errors, 0 warnings" in call("check", "part.chart").stderr
    assert call("tidy", "--check", "part.chart").exit_code == 0
    assert "key: B major" in call("transpose", "part.chart", "--key", "B").stdout
    assert call("engrave", "part.chart", "--diagrams", "-o", "part.pdf").exit_code == 0
    assert "shape: Db" in (folder / "part.chart").read_text()
    assert "capo:" not in (folder / "part.chart").read_text()


def test_chords_that_share_a_grip_are_named(folder: Path) -> None:
    """A grip of two strings may serve two chords: the answer names them, each as often as its JSON
    has the grip, and says what tells them apart."""
    song = "title: Low Bell\nkey: G\n\n== Verse\n| G | D | Em | C |\n| D | C | G | Em |\n"
    (folder / "bell.chart").write_text(song)
    counts = set()
    for capo in ("0", "1", "2"):
        asked = ("part", "bell.chart", "--beside", capo)
        said, shared = " ".join(call(*asked).stdout.split()), 0
        for part in json.loads(call(*asked, "--json").stdout)["parts"]:
            chords: dict[str, list[str]] = {}
            for grip in part["grips"]:
                chords.setdefault(grip["frets"], []).append(grip["chord"])
            names = [" and ".join(one) for one in chords.values() if len(one) > 1]
            assert all(f"for {one}" in said for one in names)
            shared += bool(names)
        assert said.count("one grip for") == shared
        counts.add(shared)
    assert len(counts) > 1, "every answer has as many"


def test_beside_a_capo_or_a_chart_is_the_same(folder: Path) -> None:
    """The first guitar by its capo and by its chart gives the same part."""
    by_capo = call("part", "ferry.chart", "--beside", "1", "-o", "-").stdout
    assert by_capo == call("part", "ferry.chart", "--beside", "ferry.chart", "-o", "-").stdout
    assert by_capo == call("part", "ferry.chart", "-o", "-").stdout
    assert by_capo != call("part", "ferry.chart", "--beside", "9", "-o", "-").stdout


def test_json_holds_grips_measures_and_chart(folder: Path) -> None:
    """JSON has every proposal with its measures, its grips with fingers, and its chart."""
    answer = json.loads(call("part", "ferry.chart", "--register", "high", "--json").stdout)
    (part,) = answer["parts"]
    assert part["register"] == "high"
    assert 0 <= part["overlap"] <= 1
    assert {grip["chord"] for grip in part["grips"]} == {"Db", "Ab7", "Bbm7", "Gb"}
    assert all(len(grip["frets"].split("-")) in (1, 6) for grip in part["grips"])
    assert part["chart"].startswith("title: Ferry Lights")


def test_the_sheet_shows_all_three(folder: Path) -> None:
    """The picture names both guitars and the voice."""
    call("part", "ferry.chart", "--sheet", "who.pdf")
    text = PdfReader("who.pdf").pages[0].extract_text()
    for words in ("first guitar", "second guitar", "voice A♭3–F5", "Verse"):
        assert words in text


def test_nothing_of_somebody_else_is_replaced(folder: Path) -> None:
    """The song and other charts stay, and a part made before, which may have been changed since;
    --replace replaces it."""
    (folder / "other.chart").write_text("title: Mine\n\n== V\n| C |\n")
    for name in ("ferry.chart", "other.chart"):
        before = (folder / name).read_text()
        assert call("part", "ferry.chart", "-o", name).exit_code == 1
        assert (folder / name).read_text() == before
    assert call("part", "ferry.chart", "-o", "part.chart").exit_code == 0
    again = ("part", "ferry.chart", "-o", "part.chart", "--register", "low")
    assert call(*again).exit_code == 1
    assert call(*again, "--replace").exit_code == 0


def test_a_song_without_chords_has_no_part(folder: Path) -> None:
    """A chart without chords gets a line and exit code 1."""
    (folder / "silent.chart").write_text("key: C\n\n== V\n| N.C. |\n")
    done = call("part", "silent.chart")
    assert done.exit_code == 1
    assert "no part fits" in done.stderr


def test_the_capo_command_names_the_part(folder: Path) -> None:
    """Beside a guitar, the best capo for full chords is compared with a part of few strings."""
    said = " ".join(call("capo", "ferry.chart", "--beside", "1").stdout.split())
    assert "note chords on the top strings: " in said
    assert "chartkit part writes it" in said
