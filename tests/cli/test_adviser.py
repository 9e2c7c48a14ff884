"""The adviser's commands: tables, JSON, sheets, and the capo that engraving takes."""

import json
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.test_commands import call

SONG = """\
title: Ferry Lights
key: Db major
range: Ab3-F5

| Db | Ab7 | Bbm7 | Gb |
| Db | Ab7 | Gb   | Db |
"""
WANDERING = "key: C\n\n| Cm | C#m | Dm | Ebm | Em | Fm | F#m | Gm | Abm | Am | Bbm | Bm |\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a song in D flat."""
    (tmp_path / "ferry.chart").write_text(SONG)
    (tmp_path / "wandering.chart").write_text(WANDERING)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_capo_ranks_c_shapes_first_in_d_flat(folder: Path) -> None:
    """In D flat C shapes with capo 1 come first, and no capo is in the table too."""
    done = call("capo", "ferry.chart")
    rows = [row.split() for row in done.stdout.splitlines() if row[:1].isdigit()]
    assert done.exit_code == 0
    assert rows[0][:5] == ["1", "capo", "1", "C", "major"]
    assert any(row[1:3] == ["no", "capo"] for row in rows)
    assert "C x32010" in done.stdout


def test_capo_as_json_has_measures_and_fingers(folder: Path) -> None:
    """JSON has every option with its measures and the fingers of its shapes."""
    answer = json.loads(call("capo", "ferry.chart", "--json", "--highest", "5").stdout)
    assert len(answer["options"]) == 6 + 3
    best = answer["options"][0]
    assert (best["capo"], best["shape_key"]) == (1, "C major")
    assert 0 < best["open_share"] <= 1
    assert {"shape": "C", "frets": "x32010"}.items() <= best["shapes"][0].items()
    assert best["shapes"][0]["fingers"] == [0, 3, 2, 0, 1, 0]


def test_a_ukulele_is_played_without_a_capo_unless_one_is_asked_for(folder: Path) -> None:
    """Its players carry none (common practice, no source), and that is said; --highest lists
    places."""
    plain = call("capo", "ferry.chart", "--instrument", "ukulele").stdout
    assert "A ukulele is rarely played with a capo" in plain
    assert not re.search(r"^\d+ +capo \d", plain, re.MULTILINE)
    asked = call("capo", "ferry.chart", "--instrument", "ukulele", "--highest", "5").stdout
    assert "rarely played with a capo" not in asked
    assert re.search(r"^\d+ +capo \d", asked, re.MULTILINE)


def test_no_good_option_is_said_plainly(folder: Path) -> None:
    """For a song that lies openly nowhere the advice says so, and recommends no capo."""
    done = call("capo", "wandering.chart")
    assert "This song is not easy anywhere" in done.stdout


def test_second_guitar_and_spread(folder: Path) -> None:
    """A second guitar is ranked beside a capo or a chart; three are spread out."""
    beside = call("capo", "ferry.chart", "--beside", "1")
    assert beside.exit_code == 0
    rows = [row.split() for row in beside.stdout.splitlines() if row[:1].isdigit()]
    assert rows[0][1:3] != ["capo", "1"]
    (folder / "first.chart").write_text("chords: shapes\ncapo: 1\n" + SONG.replace("Db", "C"))
    assert call("capo", "ferry.chart", "--beside", "first.chart").exit_code == 0
    spread = call("capo", "ferry.chart", "--guitars", "3").stdout
    assert spread.count(" + ") >= 2


@pytest.mark.parametrize(
    ("arguments", "code", "message"),
    [
        (("capo", "ferry.chart", "--beside", "zwölf"), 2, '"zwölf" is not a fret'),
        (("capo", "ferry.chart", "--beside", "gone.chart"), 1, "gone.chart: cannot be read"),
        (("capo", "ferry.chart", "--beside", "1", "--guitars", "2"), 2, "not both"),
        (("capo", "ferry.chart", "--instrument", "theremin"), 2, "not an instrument"),
        (("capo", "ferry.chart", "--sheet", "ferry.chart"), 1, "is the chart itself"),
        (("singer", "ferry.chart"), 2, "--range A3-E5"),
        (("singer", "ferry.chart", "--range", "E5-A3"), 2, "the lowest note comes first"),
        (("singer", "ferry.chart", "--voice", "loud"), 2, '"loud" is not one of soprano'),
        (("singer", "wandering.chart", "--voice", "alto"), 1, "how low and how high the song goes"),
        (("strings", "--a4", "300"), 2, "between 400 and 480"),
    ],
)
def test_wrong_calls_say_why(
    folder: Path, arguments: tuple[str, ...], code: int, message: str
) -> None:
    """Questions without an answer get one line."""
    done = call(*arguments)
    assert (done.exit_code, message in " ".join(done.stderr.split())) == (code, True), done.stderr


def test_singer_ranks_keys_with_their_capo(folder: Path) -> None:
    """The key that fits the voice best leads, each key has a capo, and named voices say
    where they come from."""
    named = call("singer", "ferry.chart", "--voice", "alto")
    assert "from memory" in named.stdout
    keys = json.loads(call("singer", "ferry.chart", "--range", "F3-D5", "--json").stdout)
    assert (keys[0]["key"], keys[0]["semitones"]) == ("Bb major", -3)
    assert len(keys) == 12
    assert all("capo" in key for key in keys)


def test_a_song_without_a_range_invents_none(folder: Path) -> None:
    """Where only a key that sat well is known, the table has no column of sung notes, names that
    key in the song's mode, and the data hold null."""
    done = call("singer", "wandering.chart", "--sat-well", "A")
    text = " ".join(done.stdout.split())
    assert "ranked by their distance from A major" in text
    assert "below" not in text
    keys = json.loads(call("singer", "wandering.chart", "--sat-well", "A", "--json").stdout)
    assert {(key["sung"], key["margin_below"], key["margin_above"]) for key in keys} == {
        (None, None, None)
    }


def test_short_capos_that_were_asked_for_are_shown(folder: Path) -> None:
    """The first of them stands in the table, however far down."""
    usual = call("capo", "ferry.chart").stdout
    assert "(5-" not in usual
    assert "capo 2 (" in call("capo", "ferry.chart", "--partial").stdout


_ASCII_NOTE = re.compile(r"\b[A-G][#b]+(?=\d|\b)")


@pytest.mark.parametrize(
    "arguments",
    [
        ("singer", "ferry.chart", "--voice", "alto"),
        ("capo", "ferry.chart"),
        ("capo", "ferry.chart", "--beside", "1"),
        ("part", "ferry.chart"),
        ("strings", "--capo", "1", "--down", "1"),
    ],
)
def test_tables_spell_notes_with_true_signs(folder: Path, arguments: tuple[str, ...]) -> None:
    """Tables print ♭ and ♯; only texts to be typed have b and #."""
    text = call(*arguments).stdout
    assert _ASCII_NOTE.search(re.sub(r"add range: \S+", "", text)) is None


@pytest.mark.parametrize(
    ("arguments", "legend"),
    [
        (("singer", "ferry.chart", "--voice", "alto"), "this column decides, and lower is better"),
        (("capo", "ferry.chart"), "the highest is best"),
    ],
)
def test_a_legend_says_which_column_decides(
    folder: Path, arguments: tuple[str, ...], legend: str
) -> None:
    """Every heading of a table of figures is explained below it, the deciding one first."""
    text = " ".join(call(*arguments).stdout.split())
    assert legend in text


def test_strings_tell_pitch_and_cautions(folder: Path) -> None:
    """Each string's note, frequency, tension and cents are shown, with cautions."""
    done = call("strings", "--capo", "3", "--down", "1")
    rows = [row.split() for row in done.stdout.splitlines()]
    assert next(r for r in rows if r[:1] == ["6"])[:5] == ["6", "E♭2", "F♯2", "92.50", "-10.9%"]
    assert "assuming" in done.stdout
    assert "tune again with the capo on" in done.stdout
    assert "slack" in call("strings", "--down", "3").stdout


def test_sheet_is_one_page_with_every_option(folder: Path) -> None:
    """The sheet is a page with the options drawn, reasons in words, and the voice."""
    assert call("capo", "ferry.chart", "--sheet", "sheet.pdf").exit_code == 0
    reader = PdfReader("sheet.pdf")
    text = reader.pages[0].extract_text()
    assert len(reader.pages) == 1
    for label in ("Capo 1", "No capo", "C major shapes", "voice A♭3–F5"):
        assert label in text


def test_engraving_takes_the_best_capo(folder: Path) -> None:
    """``--capo best`` and ``capo: best`` use the adviser's first choice and say so."""
    done = call("engrave", "ferry.chart", "--capo", "best", "-o", "a.pdf")
    assert (
        "Capo 1, C major shapes, sounds in D♭ major; by the fingerings this capo is best"
        in done.stderr
    )
    (folder / "leaves.chart").write_text("capo: best\n" + SONG)
    done = call("engrave", "leaves.chart", "-o", "b.pdf")
    assert "Capo 1, C major shapes" in done.stderr
    assert "D♭" in PdfReader("b.pdf").pages[0].extract_text()


def test_diagrams_show_the_shapes(folder: Path) -> None:
    """With diagrams, the page names each shape once more under the title, with its fingers."""
    call("engrave", "ferry.chart", "--capo", "1", "-o", "plain.pdf")
    call("engrave", "ferry.chart", "--capo", "1", "--diagrams", "-o", "drawn.pdf")
    plain, drawn = (PdfReader(p).pages[0].extract_text() for p in ("plain.pdf", "drawn.pdf"))
    assert drawn.split().count("Am7") == plain.split().count("Am7") + 1


def test_own_shape_is_respected(folder: Path) -> None:
    """A shape given in the chart is the one played, and one that sounds else is reported."""
    (folder / "own.chart").write_text("shape: G7 353433\n" + SONG)
    answer = json.loads(call("capo", "own.chart", "--json").stdout)
    c_shapes = next(o for o in answer["options"] if o["capo"] == 1)
    assert {"shape": "G7", "frets": "353433"}.items() <= next(
        s for s in c_shapes["shapes"] if s["shape"] == "G7"
    ).items()
    (folder / "wrong.chart").write_text("shape: G7 353434\n" + SONG)
    assert "shape-sounds-else" in call("check", "wrong.chart").stderr
