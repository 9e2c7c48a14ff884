"""``chartkit intake`` as a player calls it."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from chartkit.cli.main import PROGRAM
from tests.interchange.reading import LEAD_SHEETS, SUITE

SHEET = str(LEAD_SHEETS / "fosterBrownHair.mxl")


def run(*arguments: str, given: bytes | None = None) -> Result:
    """Runs the program with arguments."""
    return CliRunner().invoke(PROGRAM, list(arguments), input=given)


def call(*arguments: str, given: bytes | None = None) -> Result:
    """Runs the program with arguments."""
    return run("intake", *arguments, given=given)


def test_a_sheet_becomes_a_chart_and_a_page(tmp_path: Path) -> None:
    """A compressed lead sheet becomes a chart file that checks and engraves."""
    chart = tmp_path / "song.chart"
    done = call(SHEET, "-o", str(chart))
    assert (done.exit_code, done.stdout) == (0, "")
    assert f"{chart}: a chart, from MusicXML" in done.stderr
    assert run("check", str(chart)).exit_code == 0
    page = tmp_path / "song.pdf"
    assert run("engrave", str(chart), "--capo", "1", "-o", str(page)).exit_code == 0
    assert page.read_bytes().startswith(b"%PDF-")


def test_the_chart_goes_to_standard_output_and_findings_to_error() -> None:
    """Without -o the chart is printed; what was sure and guessed is said apart from it."""
    done = call(SHEET)
    assert "\ntitle: Jeanie With The Light Brown Hair\n" in done.stdout
    assert "# guess: the signature says C major" in done.stdout
    assert call(SHEET, "--plain").stdout.startswith("title: Jeanie With The Light Brown Hair\n")
    assert f"{SHEET}: sure[range]: the sung range is C4-F5" in done.stderr
    assert "guessed[key-by-last-chord]" in done.stderr


def test_the_content_decides_not_the_name(tmp_path: Path) -> None:
    """A score by any other name is a score, also on standard input."""
    odd = tmp_path / "holiday.jpg"
    odd.write_bytes(Path(SHEET).read_bytes())
    assert call(str(odd)).stdout == call(SHEET).stdout
    assert call("-", given=Path(SHEET).read_bytes()).stdout == call(SHEET).stdout


def test_sections_stand_apart() -> None:
    """A blank row parts the settings from the song and each section from the next."""
    done = call("-", "--plain", given=b"Moth\n\nVerse\nC   G\nlow tide\n\nChorus\nF\nhome\n")
    assert done.stdout == (
        "title: Moth\n\n== Verse\n  C     G\n: low / tide\n\n== Chorus\n  F\n: home\n"
    )


_GUESSED = b"Moth\n\nVerse\nC   G\nlow tide\n\nVerse 2, soft\n\nSee you at load-in, 5pm\n"


def test_what_was_guessed_stands_beside_its_row() -> None:
    """A comment says what was guessed, with the original line; the chart checks, and it is the
    same chart without comments."""
    chart = call("-", given=_GUESSED).stdout
    assert '== Verse 2 as Verse\n# guess: "Verse 2, soft" is taken to say' in chart
    assert "\n# line 7: Verse 2, soft\n" in chart
    left_out = '# left out: a greeting or note, not part of the song: "See you at load-in, 5pm"\n'
    assert left_out + "# line 9: See you" in chart
    plain = call("-", "--plain", given=_GUESSED).stdout
    assert plain == "".join(row for row in chart.splitlines(True) if not row.startswith("#"))
    assert run("check", "-", given=chart.encode()).exit_code == 0
    assert run("tidy", "--check", "-", given=chart.encode()).exit_code == 0


def test_findings_as_json() -> None:
    """Every finding has its kind, its line with the source's text, and its row in the chart."""
    data = json.loads(call("-", "--json", "--plain", given=_GUESSED).stdout)
    kinds = {(one["kind"], one["code"], one["line"]) for one in data["findings"]}
    assert {("guess", "form", 7), ("left-out", "letter", 9)} <= kinds
    (form,) = (one for one in data["findings"] if one["code"] == "form")
    assert form["source"] == "Verse 2, soft"
    assert form["chart"] == {"line": 7, "section": "Verse 2"}
    assert data["chart"].splitlines()[6] == "== Verse 2 as Verse"
    assert [one["line"] or 0 for one in data["findings"]] == sorted(
        one["line"] or 0 for one in data["findings"]
    )


def test_places_of_one_finding_are_reported_in_a_line() -> None:
    """A finding for several measures is one line that names them."""
    done = call(str(SUITE / "46f-IncompleteMeasures.xml"))
    assert done.stderr.count("own-meter") == 1
    assert "measure 3: guessed[own-meter]: a measure does not fill 4/4" in done.stderr


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"MThd\x00\x00\x00\x06", "this is a MIDI file, which holds notes but no chord symbols"),
        (b"\x89PNG\r\n\x1a\n", "this is a picture (PNG): type what it shows as text"),
        (b"\xff\xd8\xff\xe0", "this is a picture (JPEG)"),
        (b"<!DOCTYPE html><html><body>Am</body></html>", "this is a web page"),
        (b"{\\rtf1 Am}", "this is an RTF document"),
        (b"  \n\n", "the file is empty"),
        (bytes(range(256)) * 4, "cannot read this kind of file"),
        (b"<score-partwise><part>", ":1:23: the XML is not well formed"),
    ],
)
def test_other_formats_are_named(tmp_path: Path, content: bytes, said: str) -> None:
    """A file that cannot be read is named in one line, and the exit code is 1."""
    file = tmp_path / "sheet"
    file.write_bytes(content)
    done = call(str(file))
    assert done.exit_code == 1
    assert said in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_wrong_calls_and_missing_files(tmp_path: Path) -> None:
    """A missing file, a folder, a wrong part and an overwriting call get a line each."""
    assert "there is no such file" in call(str(tmp_path / "none")).stderr
    assert "it is a folder" in call(str(tmp_path)).stderr
    assert 'there is no part "Tuba"' in call(SHEET, "--part", "Tuba").stderr
    own = tmp_path / "song.xml"
    own.write_bytes(b"<score-partwise/>")
    done = call(str(own), "-o", str(own))
    assert (done.exit_code, own.read_bytes()) == (2, b"<score-partwise/>")


CHART = "# our own words\ntitle: Low Tide\ncapo: 2\n\n== Verse\n| C | G |\n: low | tide |\n"


def test_a_page_of_ours_gives_back_its_chart(tmp_path: Path) -> None:
    """The chart that travels inside an engraved page comes back letter by letter, and that is
    reported as sure."""
    chart, page = tmp_path / "song.chart", tmp_path / "song.pdf"
    chart.write_text(CHART, encoding="utf-8")
    assert run("engrave", str(chart), "-o", str(page)).exit_code == 0
    done = call(str(page))
    assert done.stdout == CHART
    assert "sure[chart-inside]: this is the chart that travels inside this PDF" in done.stderr


def test_a_chart_is_passed_on_as_it_is(tmp_path: Path) -> None:
    """A file that is a chart already is written unchanged, and said to be one in one line."""
    out = tmp_path / "out.chart"
    done = call("-", "-o", str(out), given=CHART.encode())
    assert done.exit_code == 0
    assert out.read_text(encoding="utf-8") == CHART
    assert "sure[already-a-chart]: this is already a chart" in done.stderr
    sheet = call("-", given=b"Capo: 2\n\n| C | G |\n")
    assert "already" not in sheet.stderr
    assert "chords: shapes" in sheet.stdout
    rows = call("-", given=b"capo: 2\n\nC G\n")
    assert "already" not in rows.stderr
