"""A capo over some strings on its whole way: chart, page, advice, plan, score, MIDI, data."""

import json
from itertools import pairwise
from pathlib import Path

import mido
import pytest
from pypdf import PdfReader

from tests.cli.test_commands import call

SONG = """title: Tin Roof
key: E
capo: 2 over strings 5-3

== Verse
| E | Aadd9 | C#m7 | Bsus4 |
"""
PLAIN = "title: Other\nkey: G\n\n== Verse\n| G | C | D | G |\n"
SET = """name = "Night"

[[players]]
name = "Ida"
instrument = "guitar"

[[songs]]
chart = "other.chart"

[[songs]]
chart = "roof.chart"
"""
WORDS = "Capo 2 over strings 5 to 3"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a song under a short capo, another, and a set of both."""
    for name, text in (("roof.chart", SONG), ("other.chart", PLAIN), ("night.toml", SET)):
        (tmp_path / name).write_text(text)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_page_says_it(folder: Path) -> None:
    """The first page names fret and strings, and the shapes are those a whole step lower."""
    assert call("check", "roof.chart").exit_code == 0
    assert call("engrave", "roof.chart", "-o", "roof.pdf", "--diagrams").exit_code == 0
    text = PdfReader("roof.pdf").pages[0].extract_text()
    assert WORDS in text
    assert "D major shapes, sounds in E major" in text


def test_a_capo_on_the_command_line(folder: Path) -> None:
    """A short capo may be asked for tonight as in the chart."""
    done = call("engrave", "other.chart", "--capo", "2 over strings 5-1", "-o", "other.pdf")
    assert "Capo 2 over strings 5 to 1, F major shapes" in done.stderr


@pytest.mark.parametrize("form", ["musicxml", "json", "text"])
def test_it_comes_back_from_other_forms(folder: Path, form: str) -> None:
    """A score says it in words, a mail in its head, data as a value; all read back."""
    assert call("export", "roof.chart", "--to", form, "-o", f"roof.{form}").exit_code == 0
    back = call("intake", f"roof.{form}", "--plain").stdout
    assert "capo: 2 over strings 5-3" in back
    assert "| E | Aadd9 | C#m7 | Bsus4 |" in back


def test_a_score_names_no_capo_over_all_strings(folder: Path) -> None:
    """MusicXML's capo lies over all strings (staff-details, MusicXML 4.0), so there is none."""
    done = call("export", "roof.chart", "--to", "musicxml", "-o", "roof.musicxml")
    score = (folder / "roof.musicxml").read_text()
    assert "<capo>" not in score
    assert WORDS in score
    assert "said in words" in done.stderr


def test_open_strings_beside_it_sound_from_the_nut(folder: Path) -> None:
    """E is struck as 000202 over the capo: E2, B2, E3, B3, B3 and G sharp 4, as MIDI numbers."""
    text = "key: E\ncapo: 2 over strings 5-3\nshape: D 000202\n\n== V\n| E |\n"
    (folder / "one.chart").write_text(text)
    assert call("export", "one.chart", "--to", "midi", "-o", "one.mid").exit_code == 0
    (guitar,) = (t for t in mido.MidiFile("one.mid").tracks if t.name == "guitar")
    notes = {m.note for m in guitar if m.type == "note_on" and m.velocity}
    assert notes == {40, 47, 52, 59, 68}


def test_the_plan_keeps_it(folder: Path) -> None:
    """The chart's player puts it where the chart says, in words that say over which strings."""
    lines = call("plan", "night.toml").stdout
    assert "Short capo on fret 2 over strings 5 to 3." in " ".join(lines.split())
    assert "2 (5-3)" in lines


def test_usual_short_capos_are_ranked_when_asked_for(folder: Path) -> None:
    """With --partial three of them stand among the others; a ukulele knows none."""
    answer = json.loads(call("capo", "other.chart", "--partial", "--json").stdout)
    plain = json.loads(call("capo", "other.chart", "--json").stdout)
    assert len(answer["options"]) == len(plain["options"]) + 3
    assert {tuple(option["strings"]) for option in answer["options"]} == {
        (),
        (1, 2, 3, 4, 5),
        (2, 3, 4, 5, 6),
        (3, 4, 5),
    }
    refused = call("capo", "other.chart", "--partial", "--instrument", "ukulele")
    assert refused.exit_code == 2
    assert "six strings" in refused.stderr
    own = call("capo", "roof.chart").stdout
    assert "capo 2 (5-3)" in own
    assert "the others sound from the nut" in " ".join(own.split())


def test_strings_beside_it_are_not_pulled_sharp(folder: Path) -> None:
    """They sound as they are tuned, and only those under the capo are pulled."""
    rows = [
        row.split() for row in call("strings", "--capo", "2 over strings 5-3").stdout.split("\n")
    ]
    sounding = {row[0]: row[2] for row in rows if row and row[0] in "123456"}
    assert sounding == {"1": "E4", "2": "B3", "3": "A3", "4": "E3", "5": "B2", "6": "E2"}
    pulled = {row[0] for row in rows if row[-1:] == ["cents"]}
    assert pulled == {"3", "4", "5"}


def test_a_player_may_have_short_capos(folder: Path) -> None:
    """A guitarist's short capo is planned for E songs on D shapes, the others stay as they were."""
    song = "title: Home\nkey: E\n\n== V\n| E | Aadd9 | E | Bsus4 |\n"
    (folder / "home.chart").write_text(song)
    night = SET.replace("roof.chart", "home.chart")
    own = night.replace('"guitar"\n', '"guitar"\nshort_capos = ["2 over strings 5-1"]\n')
    (folder / "own.toml").write_text(own)
    (folder / "plain.toml").write_text(night)
    plain = call("plan", "plain.toml").stdout
    assert "over strings" not in plain
    lines = call("plan", "own.toml").stdout.split("\n")
    assert any("Home" in line and "fret 2 over strings 5 to 1" in line for line in lines)
    assert any("Other" in line and "No capo" in line for line in lines)


def test_a_set_file_pins_a_short_capo(folder: Path) -> None:
    """A short capo in quotes is pinned as a fret is, on the page too, and stays when the plan is
    written into the file."""
    pinned = SET.replace('"other.chart"', '"other.chart"\ncapo = { "Ida" = "2 over strings 5-1" }')
    (folder / "pinned.toml").write_text(pinned)
    lines = call("plan", "pinned.toml", "--write").stdout.split("\n")
    assert any("Other" in line and "fret 2 over strings 5 to 1" in line for line in lines)
    assert any("Tin Roof" in line and "2 over strings 5 to 3" in line for line in lines)
    assert 'capo = { Ida = "2 over strings 5-1" }' in (folder / "pinned.toml").read_text()
    assert call("book", "pinned.toml", "-o", "out", "--jobs", "1").exit_code == 0
    page = "".join(
        p.extract_text() for p in PdfReader(next((folder / "out").glob("ida.pdf"))).pages
    )
    assert "Capo 2 over strings 5 to 1" in page


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('capo = "2 over strings 5-x"', "is not a fret"),
        ('capo = "two"', "takes a whole number"),
        ('capo = "12 over strings 5-3"', "from 1 to 11"),
        ("capo = 12", "out of reach"),
    ],
)
def test_a_short_capo_that_cannot_be(folder: Path, line: str, said: str) -> None:
    """Texts that are not capos are refused in the words of the trade, at their place."""
    (folder / "bad.toml").write_text(SET.replace('"other.chart"', f'"other.chart"\n{line}'))
    done = call("plan", "bad.toml")
    assert done.exit_code != 0
    assert said in " ".join(done.output.split())


def test_places_left_out_of_the_table_leave_dots(folder: Path) -> None:
    """Where the table goes on after places left out, it says so; the whole table has no gap."""
    cut = call("capo", "other.chart", "--partial").stdout
    table = cut[: cut.index("overall:")].splitlines()
    places = [int(line.split()[0]) for line in table if line[:2].strip().isdigit()]
    assert places[:6] == [1, 2, 3, 4, 5, 6]
    skipped = any(two > one + 1 for one, two in pairwise(places))
    assert skipped == any(line.strip() == "…" for line in table)
    assert skipped == ("--all lists them" in cut)
    assert "--all lists them" not in call("capo", "other.chart", "--partial", "--all").stdout
