"""``chartkit export`` as a player calls it, and the way back through ``chartkit intake``."""

import json
from pathlib import Path

import mido
import pytest
from click.testing import CliRunner, Result

from chartkit.cli.main import PROGRAM
from tests.charts import SMALL
from tests.interchange.schema import schema_errors


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a chart."""
    (tmp_path / "small.chart").write_text(SMALL)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def call(*arguments: str) -> Result:
    """Runs the program with arguments."""
    return CliRunner().invoke(PROGRAM, list(arguments))


@pytest.mark.parametrize("to", ["musicxml", "text", "json"])
def test_there_and_back(folder: Path, to: str) -> None:
    """What is exported is taken back in, with its music and words."""
    assert call("export", "small.chart", "--to", to, "-o", "song.out").exit_code == 0
    done = call("intake", "song.out")
    assert done.exit_code == 0
    assert "| Db  | Gb     Ab   |" in done.stdout
    assert ": O | low | lan- / tern |" in done.stdout


def test_musicxml_is_valid(folder: Path) -> None:
    """The document on standard output is MusicXML 4.0, with the capo in the staff details."""
    document = call("export", "small.chart", "--to", "musicxml").stdout_bytes
    assert schema_errors(document) == []
    assert b"<capo>1</capo>" in document


def test_what_is_lost_is_reported(folder: Path) -> None:
    """What MusicXML cannot hold of a chart is reported; if it holds everything, nothing is."""
    Path("lossy.chart").write_text(
        "key: C major\n\n== A x2\n| C |  # softly\n\n== B\n| <F || G |\n: | a | b |\n: | d | e |\n"
    )
    lines = call("export", "lossy.chart", "--to", "musicxml").stderr.splitlines()
    assert [line.partition("hold: ")[2][:22] for line in lines] == [
        "comments",
        "a section played sever",
        "chords pushed across a",
        "verses without numbers",
        "rhythms that come back",
    ]
    Path("whole.chart").write_text("key: C major\n\n== A\n| C | F |\n: | low | tide |\n")
    assert call("export", "whole.chart", "--to", "musicxml").stderr == ""


def test_text_has_shapes_over_sounding_chords(folder: Path) -> None:
    """The text has both rows of chords, for any key and capo."""
    lines = call("export", "small.chart", "--to", "text", "--key", "Eb", "--capo", "3").stdout
    assert "| C   | F    G    |" in lines
    assert "| Eb  | Ab   Bb   |" in lines


def test_json_has_the_form_of_the_schema(folder: Path) -> None:
    """JSON holds what the schema requires."""
    data = json.loads(call("export", "small.chart", "--to", "json").stdout)
    schema = json.loads(call("schema").stdout)
    assert set(data) == set(schema["properties"])


def test_json_that_the_language_cannot_say(folder: Path) -> None:
    """A chart as data with a chord off its beat is reported, and no chart is written."""
    data = json.loads(call("export", "small.chart", "--to", "json").stdout)
    data["sections"][0]["rows"][0]["bars"][1]["strikes"].append(
        data["sections"][0]["rows"][0]["bars"][1]["strikes"][0]
    )
    Path("odd.json").write_text(json.dumps(data))
    done = call("intake", "odd.json", "-o", "odd.chart")
    assert done.exit_code == 1
    assert "odd.json: sections.0.rows.0.bars.1.strikes.0.length: the chart language" in done.stderr
    assert not Path("odd.chart").exists()


def test_wrong_calls(folder: Path) -> None:
    """A missing --to, options that do not go together, and overwriting are wrong calls."""
    assert call("export", "small.chart").exit_code == 2
    assert call("export", "small.chart", "--to", "json", "--key", "B").exit_code == 2
    done = call("export", "small.chart", "--to", "text", "-o", "small.chart")
    assert (done.exit_code, Path("small.chart").read_text()) == (2, SMALL)


@pytest.mark.parametrize(("to", "suffix"), [("musicxml", "musicxml"), ("text", "txt")])
def test_several_charts_go_into_a_folder(folder: Path, to: str, suffix: str) -> None:
    """Each chart becomes a file of its own in a folder that is made; one with mistakes keeps
    none of the others back."""
    Path("other.chart").write_text("key: C\n\n| C |\n")
    Path("wrong.chart").write_text("key: C\n\n| Cx |\n")
    done = call("export", "small.chart", "wrong.chart", "other.chart", "--to", to, "-o", "out/")
    assert done.exit_code == 1
    assert sorted(p.name for p in Path("out").iterdir()) == [f"other.{suffix}", f"small.{suffix}"]
    alone = call("export", "other.chart", "--to", to, "-o", "out").exit_code
    printed = call("export", "other.chart", "--to", to).stdout_bytes
    assert (alone, Path(f"out/other.{suffix}").read_bytes()) == (0, printed)


def test_several_charts_need_a_folder(folder: Path) -> None:
    """Without a folder, or with two charts of one name, the call is wrong and nothing is
    written."""
    Path("b").mkdir()
    Path("b/small.chart").write_text(SMALL)
    before = sorted(folder.rglob("*"))
    for output in ((), ("-o", "-"), ("-o", "song.txt"), ("-o", "out/")):
        done = call("export", "small.chart", "b/small.chart", "--to", "text", *output)
        assert done.exit_code == 2, output
    assert sorted(folder.rglob("*")) == before


def test_midi_holds_the_song_and_the_part_beside_it(tmp_path: Path) -> None:
    """A part written by ``part`` is heard beside the song, on a track of its own."""
    song = tmp_path / "song.chart"
    song.write_text("title: Song\nkey: C\n\n== V\n| C | F | G | C |\n")
    part, out = tmp_path / "part.chart", tmp_path / "song.mid"
    assert call("part", str(song), "-o", str(part)).exit_code == 0
    done = call("export", "--to", "midi", str(song), "--beside", str(part), "-o", str(out))
    assert done.exit_code == 0
    names = [track.name for track in mido.MidiFile(out).tracks]
    assert names == ["Song", "words", "guitar", "part", "click"]


def test_midi_options_go_with_midi(tmp_path: Path) -> None:
    """``--beside`` with another format is wrong usage; a song without bars is said in a line."""
    song = tmp_path / "song.chart"
    song.write_text("title: Song\nkey: C\n\n== V\n: only words\n")
    assert call("export", "--to", "text", str(song), "--no-click").exit_code == 2
    done = call("export", "--to", "midi", str(song), "-o", str(tmp_path / "song.mid"))
    assert done.exit_code == 1
    assert "nothing to play" in done.stderr
