"""Bringing in and handing out: what the commands make, beside what it was made from."""

import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from chartkit.cli.main import PROGRAM
from chartkit.desk.export_song import exported_song
from chartkit.desk.import_song import imported_song
from chartkit.desk.requests import ExportRequest
from chartkit.files import Unusable
from chartkit.incoming import incoming_chart
from tests.desk.conftest import ROOT, SONG, Served

MAIL = """\
Harbour Song
Capo 2

Verse
G        D
walking down the old pier
Em       C
counting the boats
"""


def command(*arguments: str) -> None:
    """Runs a command of the program to its end."""
    with pytest.raises(SystemExit) as end:
        PROGRAM(arguments)
    assert not end.value.code


FORMS = (
    ("PDF", ["engrave", "--paper", "letter"], ".pdf"),
    ("MusicXML", ["export", "--to", "musicxml"], ".musicxml"),
    ("text for an email", ["export", "--to", "text"], ".txt"),
    ("MIDI", ["export", "--to", "midi"], ".mid"),
)


def test_what_is_handed_out_is_what_the_command_writes(
    page: Any, served: Served, tmp_path: Path
) -> None:
    """Byte for byte the same file, under the song's name."""
    page.click("#look-door")
    page.locator("#look select").nth(0).select_option("letter")
    page.click("#out-door")
    for form, call, suffix in FORMS:
        with page.expect_download() as download:
            page.click(f"#out button:has-text('{form}')")
        assert download.value.suggested_filename == f"lantern-road{suffix}"
        made = tmp_path / f"made{suffix}"
        command(call[0], str(served.path("lantern-road.chart")), *call[1:], "-o", str(made))
        assert Path(download.value.path()).read_bytes() == made.read_bytes()


@pytest.mark.parametrize(
    ("key", "name"),
    [
        (None, "song.pdf"),
        ("G", "song-in-G.pdf"),
        ("Bb", "song-in-B-flat.pdf"),
        ("F#m", "song-in-F-sharp-minor.pdf"),
    ],
)
def test_keys_handed_out_have_names_of_their_own(key: str | None, name: str) -> None:
    """A song handed out in several keys makes several files; in its own it has its own name."""
    text = SONG.replace("key: Db major", "key: Am") if key == "F#m" else SONG
    answer = exported_song(ExportRequest(text=text, name="band/song.chart", form="pdf", key=key))
    assert answer.headers["content-disposition"].endswith(f"''{name}")


def test_a_copy_in_another_key_is_a_song_of_its_own(page: Any, served: Served) -> None:
    """The song in the key of now becomes another one, named after it, with the first one kept as
    it is."""
    page.click("#key-door")
    page.click(".key[data-name='G major']")
    expect(page.locator("#key-door")).to_have_text("G major")
    page.click("#out-door")
    page.click("text=copy as another song")
    expect(page.locator("#state")).to_contain_text("lantern-road-in-g-major.chart · not saved yet")
    expect(page.locator("#text")).to_have_value(re.compile("^key: G major$", re.MULTILINE))
    page.keyboard.press("Control+s")
    expect(page.locator("#state")).to_have_text("lantern-road-in-g-major.chart · saved")
    assert served.path("lantern-road.chart").read_text() == SONG


def test_a_copy_that_was_not_saved_is_kept(page: Any, served: Served) -> None:
    """A copy of a song with words that were not saved is a text of its own: it is kept beside
    under its own name, and the next window finds both."""
    page.locator("#text").press("Control+Home")
    page.keyboard.type("# low tide\n")
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    page.click("#out-door")
    page.click("text=copy as another song")
    expect(page.locator("#state")).to_have_text(
        "lantern-road-2.chart · not saved yet, a copy is kept"
    )
    listed = page.request.get(f"http://{served.host}/api/files").json()["files"]
    assert {one["name"]: one["unsaved"] for one in listed} == {
        "lantern-road.chart": 1,
        "lantern-road-2.chart": 1,
    }


def test_a_desk_that_has_ended_hands_nothing_out(page: Any) -> None:
    """It is said in a line, as for everything else that the desk is asked for."""
    page.route("**/api/out", lambda route: route.abort())
    page.click("#out-door")
    page.click("#out button:has-text('PDF')")
    expect(page.locator("#out .hush")).to_contain_text("the desk has ended")


def test_a_pdf_is_handed_to_another_player(page: Any, tmp_path: Path) -> None:
    """Beside the PDF it is chosen who reads it, for that file alone: the page stays as it is."""
    page.click("#out-door")
    page.select_option("[aria-label='Who reads the PDF']", "sounding")
    with page.expect_download() as handed:
        page.get_by_role("button", name="PDF", exact=True).click()
    handed.value.save_as(tmp_path / "piano.pdf")
    text = PdfReader(tmp_path / "piano.pdf").pages[0].extract_text()
    assert "Am7" not in text and "B♭m7" in text
    expect(page.locator("#pages text[data-role=shape]").first).to_be_visible()


def test_a_chart_with_mistakes_is_not_handed_out(page: Any) -> None:
    """It is said instead what has to be done first."""
    page.fill("#text", SONG.replace("| Db |", "| Hb |"))
    page.click("#out-door")
    page.click("#out button:has-text('PDF')")
    expect(page.locator("#out .hush")).to_contain_text("the chart has mistakes: correct them first")


def test_a_pasted_song_is_brought_in(page: Any, served: Served) -> None:
    """The findings stand beside the original, line to line; each is looked at; what is taken in
    is a new song, written when it is saved."""
    page.click("#bring-in")
    page.fill("#incoming .pasted", MAIL)
    page.click("text=Read it")
    expect(page.locator("#incoming .lines div").nth(1)).to_have_text("Capo 2")
    made = incoming_chart(MAIL.encode())
    assert page.input_value("#incoming .judge textarea") == made.text
    guesses = [one for one in made.findings if one.certainty != "sure"]
    expect(page.locator("#incoming .open")).to_have_count(len(guesses))
    page.click("#incoming .findings li.open >> nth=0 >> button >> nth=0")
    expect(page.locator("#incoming .lines .at")).to_have_count(1)
    page.locator("#incoming .open button:has-text('right')").first.click()
    page.click("text=all of it looks right")
    expect(page.locator("#incoming .ends")).to_contain_text("nothing left to look at")
    page.click("text=Use this chart")
    expect(page.locator("#title")).to_have_text("Harbour Song")
    assert not served.path("harbour-song.chart").exists()
    page.keyboard.press("Control+s")
    expect(page.locator("#state")).to_have_text("harbour-song.chart · saved")
    assert served.path("harbour-song.chart").read_text() == made.text


def test_a_dropped_file_is_read(page: Any, served: Served, tmp_path: Path) -> None:
    """A mail, a score or a PDF chosen from the disk comes in as ``chartkit intake`` reads it."""
    score, pdf = tmp_path / "song.musicxml", tmp_path / "song.pdf"
    name = str(served.path("lantern-road.chart"))
    command("export", name, "--to", "musicxml", "-o", str(score))
    command("engrave", name, "-o", str(pdf))
    for file in (ROOT / "examples" / "low-lamp.txt", score, pdf):
        page.click("#bring-in")
        page.set_input_files("#incoming input[type=file]", str(file))
        page.wait_for_selector("#incoming .judge", timeout=20000)
        text = page.input_value("#incoming .judge textarea")
        assert text == incoming_chart(file.read_bytes()).text
        page.click("#incoming button:has-text('Close')")


def test_what_cannot_be_read_is_reported(page: Any) -> None:
    """What is no song is refused in a line, and the way back is open."""
    page.click("#bring-in")
    page.fill("#incoming .pasted", "%PDF-1.4 broken")
    page.click("text=Read it")
    expect(page.locator("#incoming h2")).to_have_text("What you pasted could not be read")
    expect(page.locator("#incoming p")).to_have_text(re.compile(r"\w+"))
    page.click("#incoming button:has-text('Back')")
    expect(page.locator("#incoming .pasted")).to_be_visible()


def test_findings_keep_their_lines() -> None:
    """Each finding of a text names its line, in order, and what is refused says why."""
    made = imported_song(MAIL.encode(), None)
    assert [f["line"] for f in made["findings"] if f["kind"] == "guess"] == [1, 2]  # type: ignore[attr-defined]
    assert made["original"] == MAIL and not made["mistakes"]
    with pytest.raises(Unusable):
        imported_song(b"\x00\x01", None)


PARTED = """\
From: Ida <ida@band.example>
Subject: Saturday
MIME-Version: 1.0
Content-Type: multipart/mixed; boundary="x"

--x
Content-Type: text/plain; charset=utf-8
Content-Transfer-Encoding: quoted-printable

Here it is, f=C3=BCr dich.
--x
Content-Type: text/plain; name="pier.txt"
Content-Disposition: attachment; filename="pier.txt"

{song}
--x--
"""


@pytest.mark.parametrize(
    "mail",
    [
        f"From: Ida <ida@band.example>\nSubject: Saturday\nContent-Type: text/plain\n\n{MAIL}",
        PARTED.replace("{song}", MAIL),
    ],
)
def test_a_mail_is_shown_as_it_is_read(mail: str) -> None:
    """The text beside the chart is the one whose lines the findings count: not the mail's head
    and codes."""
    made = imported_song(mail.encode(), None)
    lines = str(made["original"]).splitlines()
    title = next(f for f in made["findings"] if "title" in f["message"])  # type: ignore[attr-defined]
    assert (
        lines[title["line"] - 1] == "Harbour Song" and str(made["original"]).strip() == MAIL.strip()
    )


@pytest.mark.parametrize("left_out", ["pier.txt", "my-pier.txt", "other.txt"])
@pytest.mark.parametrize("padding", [0, 70_000], ids=["here", "in another process"])
def test_of_several_attached_texts_the_one_that_was_read_is_shown(
    left_out: str, padding: int
) -> None:
    """The original is the text whose lines the findings count, whatever the files are called."""
    other = f"--x\nContent-Type: text/plain\nContent-Disposition: attachment; filename={left_out}\n"
    notes = "See you at the sound check.\n" * (1 + padding // 28)
    mail = PARTED.replace("{song}", MAIL).replace("--x--", f"{other}\n{notes}\n--x--")
    made = imported_song(mail.encode(), None)
    assert str(made["original"]).strip() == MAIL.strip()
    codes = [finding["code"] for finding in made["findings"]]  # type: ignore[attr-defined]
    assert codes.count("attached") == 1 and "mail-text" in codes


def test_signs_that_no_font_has_are_refused() -> None:
    """A PDF that would lack letters is not handed out, as the command writes none."""
    request = ExportRequest(
        text="title: \u6f22\nkey: C\n\n== A\n| C |\n", name="a.chart", form="pdf"
    )
    with pytest.raises(Unusable, match=r"no font here has \u6f22 \(U\+6F22\)"):
        exported_song(request)
