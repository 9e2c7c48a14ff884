"""``chartkit book`` and ``chartkit plan`` as a player calls them."""

import os
import signal
import subprocess
import sys
import time
from io import BytesIO
from pathlib import Path

import pytest
from click.testing import Result
from pypdf import PdfReader

from tests.book.sets import chart, set_text
from tests.cli.test_commands import call

BROKEN = "title: Split Keel\nkey: Q\n\n| Gmaj77 | C |\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a set of three songs."""
    for name, key in (("one", "C"), ("two", "Bb"), ("three", "Db")):
        (tmp_path / f"{name}.chart").write_text(chart(name.title(), key))
    songs = [f'chart = "{name}.chart"' for name in ("one", "two", "three")]
    (tmp_path / "night.toml").write_text(set_text(songs))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def alone(*arguments: str, given: str | None = None) -> Result:
    """The result of `book` without workers, which take longer to start than these sets take to
    make."""
    return call("book", *arguments, "--jobs", "1", given=given)


def text_of(path: Path) -> str:
    """All text of a PDF."""
    return "\n".join(p.extract_text() for p in PdfReader(BytesIO(path.read_bytes())).pages)


def test_book_makes_every_book(folder: Path) -> None:
    """One call makes the books and the set sheet and says which files it wrote."""
    done = call("book", "night.toml", "-o", "out")
    assert done.exit_code == 0, done.stderr
    made = sorted(path.name for path in (folder / "out").iterdir())
    assert made == ["ada.pdf", "bo.pdf", "cy.pdf", "set-sheet.pdf"]
    assert "4 files written, 0 unchanged" in done.stderr
    assert done.stdout == ""


def test_single_songs_of_an_earlier_run_are_reported(folder: Path) -> None:
    """A single song that no longer belongs to the set stays where it is, and is named."""
    alone("night.toml", "-o", "out", "--per-song")
    text = (folder / "night.toml").read_text().replace("two.chart", "three.chart")
    (folder / "night.toml").write_text(text)
    output = alone("night.toml", "-o", "out", "--per-song").stderr
    assert "out/bo/02-two.pdf: left over from an earlier run, not a song of this set" in output
    assert "02-three.pdf: left" not in output
    assert (folder / "out/bo/02-two.pdf").exists()


def test_a_book_of_a_player_who_left_is_named(folder: Path) -> None:
    """The book of a player who is no longer in the set file stays and is named; other people's PDFs
    are ignored."""
    alone("night.toml", "-o", "out")
    (folder / "out/other.pdf").write_bytes(b"%PDF-1.7 >A Night: Nobody")
    gone = (folder / "night.toml").read_text().replace('name = "Ada"', 'name = "Eve"')
    (folder / "night.toml").write_text(gone)
    output = alone("night.toml", "-o", "out").stderr
    assert "out/ada.pdf: left over from an earlier run: nobody plays from it tonight" in output
    assert output.count("left over") == 1 and (folder / "out/ada.pdf").exists()


def test_a_screen_book_that_is_not_made_again_is_named(folder: Path) -> None:
    """Without --screen the screen books of an earlier run stay as they were, and the run says so:
    a key may have changed since."""
    alone("night.toml", "-o", "out", "--screen")
    output = alone("night.toml", "-o", "out").stderr
    assert "out/ada.html: the screen book of an earlier run, not made again: add --screen" in output
    assert "nobody plays from it" not in output


def test_book_again_changes_nothing(folder: Path) -> None:
    """A second call finds everything as it was, and one that makes everything anew writes the
    same."""
    alone("night.toml", "-o", "out")
    for anew in ((), ("--no-cache",)):
        again = alone("night.toml", "-o", "out", *anew)
        assert "0 files written, 4 unchanged" in again.stderr


def test_moved_for_tonight(folder: Path) -> None:
    """Keys and shifts of the command line reach all books; the set file stays as it is."""
    before = (folder / "night.toml").read_text()
    done = alone("night.toml", "-o", "out", "--set-key", "One=B", "--shift", "3=-2")
    assert done.exit_code == 0, done.stderr
    assert "Key of B major" in text_of(folder / "out/ada.pdf")
    assert "Key of B major, written in D♭ major for B♭" in text_of(folder / "out/cy.pdf")
    assert (folder / "night.toml").read_text() == before


def test_a_broken_song_is_reported_and_the_rest_is_made(folder: Path) -> None:
    """Mistakes are all reported with their places, every book is made, and the exit code is 1."""
    (folder / "two.chart").write_text(BROKEN)
    done = alone("night.toml", "-o", "out")
    assert done.exit_code == 1
    assert "two.chart:2:6: error[bad-key]" in done.stderr
    assert "error[unknown-quality]" in done.stderr
    assert "1 of 3 songs has mistakes" in done.stderr
    assert "This song could not be engraved" in text_of(folder / "out/bo.pdf")
    done = alone("night.toml", "-o", "out", "--leave-out-broken")
    assert done.exit_code == 1
    assert "could not be engraved" not in text_of(folder / "out/bo.pdf")


def test_a_chart_with_a_slip_in_its_name_is_offered(folder: Path) -> None:
    """If a chart's name is nearly that of an existing one, the message offers it."""
    (folder / "three.chart").rename(folder / "thre.chart")
    output = alone("night.toml", "-o", "out").stderr
    assert 'hint: did you mean "thre.chart"?' in output


def test_a_missing_chart_is_reported_at_its_line(folder: Path) -> None:
    """A chart that is not there is reported where the set names it."""
    (folder / "two.chart").unlink()
    done = alone("night.toml", "-o", "out")
    assert done.exit_code == 1
    assert "error[song-unusable]: two.chart: cannot be read: there is no such file" in done.stderr
    assert "night.toml:" in done.stderr


@pytest.mark.parametrize("kind", ["pipe", "dash", "folder", "long name"])
def test_only_a_file_is_a_chart(folder: Path, kind: str) -> None:
    """A pipe, standard input's sign, a folder or an impossible name in the place of a chart
    costs that song and is reported at its line; nothing is waited for."""
    name = {"dash": "-", "long name": "x" * 600}.get(kind, "two.chart")
    (folder / "two.chart").unlink()
    if kind == "pipe":
        os.mkfifo(folder / "two.chart")
    elif kind == "folder":
        (folder / "two.chart").mkdir()
    (folder / "night.toml").write_text(set_text([f'chart = "{name}"', 'chart = "one.chart"']))
    done = alone("night.toml", "-o", "out", given=chart("Read by mistake"))
    assert done.exit_code == 1
    assert "error[song-unusable]" in done.stderr
    assert "cannot be read" in done.stderr
    assert "Read by mistake" not in text_of(folder / "out/bo.pdf")
    assert "One" in text_of(folder / "out/bo.pdf")


def test_a_song_sat_out_that_is_none_is_reported_at_its_place(folder: Path) -> None:
    """A wrong title among those a player sits out is pointed at, and the nearest is offered."""
    text = (folder / "night.toml").read_text()
    sits_out = 'reads = "words"\nsits_out = ["Two", "Threee", 9]'
    (folder / "night.toml").write_text(text.replace('reads = "words"', sits_out))
    done = alone("night.toml", "-o", "out")
    assert done.exit_code == 1
    line = next(i for i, one in enumerate(text.splitlines(), 2) if one == 'reads = "words"')
    assert f"night.toml:{line}:20: error[unknown-song]" in done.stderr
    assert 'hint: did you mean "Three"?' in done.stderr
    assert f"night.toml:{line}:30: error[unknown-song]" in done.stderr
    assert "hint: its songs are 1 to 3" in done.stderr
    assert not (folder / "out").exists()


def test_a_song_sat_out_that_is_none_is_reported_beside_other_mistakes(folder: Path) -> None:
    """All mistakes of the set file in one run and in the order of the file, then no books."""
    text = (folder / "night.toml").read_text()
    text = text.replace('reads = "words"', 'reads = "words"\nsits_out = ["Two", "Nope"]')
    (folder / "night.toml").write_text(text + "\nencore = 1\n")
    done = alone("night.toml", "-o", "out")
    assert done.exit_code == 1
    codes = [line.partition("error[")[2].partition("]")[0] for line in done.stderr.splitlines()]
    assert [code for code in codes if code] == ["unknown-song", "unknown-setting"]
    assert "Nope" in done.stderr and "Traceback" not in done.stderr
    assert not (folder / "out").exists()


def test_a_song_sat_out_may_be_the_one_whose_chart_is_missing(folder: Path) -> None:
    """A missing chart costs its song alone, even where somebody sits it out by its title."""
    text = (folder / "night.toml").read_text()
    text = text.replace('reads = "words"', 'reads = "words"\nsits_out = ["The Second"]')
    (folder / "night.toml").write_text(text)
    (folder / "two.chart").unlink()
    done = alone("night.toml", "-o", "out")
    assert done.exit_code == 1
    assert "error[song-unusable]" in done.stderr and "error[unknown-song]" not in done.stderr
    assert "warning[unknown-song]: no chart that can be read has this name" in done.stderr
    assert (folder / "out/ada.pdf").exists()


def test_a_chart_named_without_its_ending_is_offered_with_it(folder: Path) -> None:
    """If a missing chart exists with its ending added, the hint says so."""
    text = (folder / "night.toml").read_text()
    (folder / "night.toml").write_text(text.replace('"two.chart"', '"two"'))
    done = alone("night.toml", "-o", "out")
    assert done.exit_code == 1
    assert 'hint: did you mean "two.chart"?' in done.stderr


def test_missing_charts_are_reported_beside_other_mistakes(folder: Path) -> None:
    """A set file with mistakes tells of its missing charts in the same run, at their places."""
    text = (folder / "night.toml").read_text()
    text = text.replace('"two.chart"', '"twoo.chart"').replace('reads = "words"', 'reads = "word"')
    (folder / "night.toml").write_text(text)
    done = alone("night.toml", "-o", "out")
    assert done.exit_code == 1
    assert "error[bad-value]: reads cannot be" in done.stderr
    assert "error[song-unusable]: twoo.chart: cannot be read" in done.stderr
    assert 'did you mean "two.chart"?' in done.stderr
    assert not (folder / "out").exists()


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("book", "night.toml", "-o", "one.chart"), "one.chart is not a folder"),
        (("book", "night.toml", "-o", "out", "--set-key", "Nine=B"), 'is called "Nine"'),
        (
            ("book", "night.toml", "-o", "out", "--set-key", "One"),
            '"One" has no key: write "One=Bb"',
        ),
        (("book", "night.toml", "-o", "out", "--set-key", "One=H"), '"H" is not a key'),
        (("book", "night.toml", "-o", "out", "--shift", "One=12"), "12 is out of reach"),
        (("book", "night.toml", "-o", "out", "--shift", "One=--2"), "write one from -11 to 11"),
        (("book", "night.toml", "-o", "out", "--shift", "One=²"), "write one from -11 to 11"),
        (
            ("book", "night.toml", "-o", "out", "--shift", "One=1", "--shift", "1=2"),
            "song 1, One, is moved twice",
        ),
        (("book", "night.toml", "-o", "out", "--set-key", "Onee=B"), 'did you mean "One"?'),
        (("book", "night.toml", "-o", "out", "--set-key", "99=B"), "its songs are 1 to 3"),
        (("book", "night.toml", "-o", "out", "--set-key", "One=Am"), "One: the song is in C major"),
        (("book", "night.toml", "-o", "out", "--jobs", "0"), "0 is out of reach"),
        (("book", "night.toml"), "book: --output is missing"),
        (("plan", "night.toml", "--order", "mine"), '"mine" is not one of set or free'),
    ],
)
def test_wrong_usage(
    folder: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], message: str
) -> None:
    """A call that makes no sense says why and exits with 2, and nothing is written."""
    monkeypatch.setattr(os, "cpu_count", lambda: 1)  # no workers, which take longer to start
    done = call(*arguments)
    assert done.exit_code == 2
    assert message in " ".join(done.stderr.replace("│", " ").split())
    assert not (folder / "out").exists()


def test_all_mistakes_in_names_are_reported_in_one_run(folder: Path) -> None:
    """Every song that is not in the set, or is named twice, is told in the same run, and every
    player who is not."""
    moved = ("--set-key", "Nine=B", "--shift", "Ten=1", "--running-order", "2,zebra,1,1,99")
    done = alone("night.toml", "-o", "out", *moved)
    assert done.exit_code == 2
    wrong = [line for line in done.stderr.splitlines() if line.startswith("chartkit:")]
    assert [line.split(":")[1].strip() for line in wrong] == [
        "--set-key",
        "--shift",
        *["--running-order"] * 3,
    ]
    assert [
        word in line for word, line in zip(("zebra", "twice", "99"), wrong[2:], strict=True)
    ] == [True] * 3
    gone = alone("night.toml", "-o", "out", "--without", "Zed", "--without", "Yan")
    assert [name in gone.stderr for name in ('"Zed"', '"Yan"')] == [True, True]
    assert not (folder / "out").exists()


def test_a_bad_set_file_is_reported_like_a_chart(folder: Path) -> None:
    """A mistake in the set has its place, a caret and a hint, and nothing is made."""
    (folder / "night.toml").write_text(
        'name = "N"\n[[players]]\nname = "Bo"\nreads = "shapes"\n[[songs]]\nchart = "one.chart"\n'
    )
    done = alone("night.toml", "-o", "out")
    assert done.exit_code == 1
    assert done.stderr.splitlines() == [
        "night.toml:4:9: error[no-instrument]: Bo reads shapes but has no instrument to finger "
        "them on",
        '  4 | reads = "shapes"',
        "    |         ^^^^^^^^",
        '  hint: write instrument = "guitar", or reads = "sounding"',
    ]
    assert call("plan", "none.toml").exit_code == 1


def test_plan_prints_timeline_savings_and_changes(folder: Path) -> None:
    """The plan shows a lane with a column a song, what it saves, and what to do for each song."""
    done = call("plan", "night.toml", "--sheet", "plan.pdf")
    assert done.exit_code == 0, done.stderr
    lines = done.stdout.splitlines()
    assert lines[0] == "A Night: 3 songs"
    (lane,) = [line.split() for line in lines if line.split()[:1] == ["guitar"]]
    assert len(lane) == 4
    assert "Every song is played where it lies best." in done.stdout
    assert "Capo on fret 1." in done.stdout
    assert "Two" in text_of(folder / "plan.pdf")


def test_plan_keeps_pinned_capos(folder: Path) -> None:
    """A capo given in the set file is kept whatever it costs."""
    text = (folder / "night.toml").read_text()
    (folder / "night.toml").write_text(text.replace('two.chart"', 'two.chart"\ncapo = { Bo = 5 }'))
    assert "2. Two" in (out := call("plan", "night.toml").stdout)
    assert "Capo on fret 5." in out


def test_plan_needs_somebody_who_reads_shapes(folder: Path) -> None:
    """A band without readers of shapes has nothing to plan, and a message says so."""
    singer = '[[players]]\nname = "Ada"\nreads = "words"\n'
    (folder / "night.toml").write_text(set_text(['chart = "one.chart"'], singer))
    done = call("plan", "night.toml")
    assert done.exit_code == 2
    assert "nobody in this set reads shapes" in done.stderr


def test_free_order_ends_stay(folder: Path) -> None:
    """A free order keeps the first and the last song; a set too long for it is refused, with the
    limit."""
    done = call("plan", "night.toml", "--order", "free")
    assert done.exit_code == 0
    numbered = [line.split()[:2] for line in done.stdout.splitlines() if ". " in line[:6]]
    assert numbered[0][1] == "One"
    assert numbered[-1][1] == "Three"
    assert "The order stays as it is." in done.stderr  # three songs, and the ends stay
    (folder / "night.toml").write_text(set_text(['chart = "one.chart"'] * 15))
    done = call("plan", "night.toml", "--order", "free")
    assert done.exit_code == 2
    assert "up to 14 songs" in done.stderr


def test_without_a_home_everything_works(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With no home and no cache folder the books are made all the same."""
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.delenv("HOME", raising=False)
    assert alone("night.toml", "-o", "out").exit_code == 0


def test_a_folder_that_cannot_be_written_is_reported(folder: Path) -> None:
    """If the folder cannot be made there is one line, and exit code 1."""
    (folder / "file").write_text("")
    done = alone("night.toml", "-o", "file/out")
    assert done.exit_code == 1
    assert "file/out: cannot be written: not a directory" in done.stderr
    done = alone("night.toml", "-o", "x" * 300)
    assert done.exit_code == 1
    assert "cannot be written: file name too long" in done.stderr


def wait_for_workers(process: int) -> None:
    """Waits until a process has started its workers; a third child keeps track of them."""
    deadline = time.monotonic() + 60
    children = Path(f"/proc/{process}/task/{process}/children")
    while len(children.read_text().split()) < 2 and time.monotonic() < deadline:
        time.sleep(0.01)


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="needs /proc")
@pytest.mark.parametrize("seconds", [0.0, 1.5])
def test_broken_off_by_hand_nothing_is_left(folder: Path, seconds: float) -> None:
    """Ctrl-C ends the run with all its workers, without a traceback and with exit code 130, be
    they still starting or at work, and writes nothing."""
    songs = ['chart = "one.chart"'] * 600
    texts = [f'{song}\nnote = "{number}"' for number, song in enumerate(songs)]
    (folder / "night.toml").write_text(set_text(texts, stage='[stage]\ncapos = "chart"'))
    code = "from chartkit.cli.start import run; run()"
    running = subprocess.Popen(
        [
            sys.executable,
            "-c",
            code,
            "book",
            "night.toml",
            "-o",
            "out",
            "--jobs",
            "2",
            "--no-cache",
        ],
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        # A shell starts what runs in the background deaf to Ctrl-C.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )
    wait_for_workers(running.pid)
    time.sleep(seconds)
    os.killpg(running.pid, signal.SIGINT)
    _, output = running.communicate(timeout=90)
    assert "Traceback" not in output
    assert running.returncode == 130, output
    assert not list(folder.glob("out/*"))
