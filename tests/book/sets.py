"""Small sets for the tests: a folder with charts and a set file."""

from collections.abc import Iterable
from io import BytesIO
from pathlib import Path

from chartkit.book.books import BookOptions, MadeNight, made_night, output_files
from chartkit.book.cache import book_cache_folder, work_cache
from chartkit.book.night import ChartText, Night, planned_night, read_night
from chartkit.book.set_file import read_set
from chartkit.book.workshop import Workshop
from chartkit.diagnostics import Source

PLAYERS = """
[[players]]
name = "Ada"
reads = "words"

[[players]]
name = "Bo"
reads = "both"
instrument = "guitar"

[[players]]
name = "Cy"
reads = "transposed"
instrument = "B flat trumpet"
paper = "tablet"
"""


def chart(title: str, key: str = "C", rows: int = 4) -> str:
    """A song of some rows, each in one section of its own with other chords than the rest, so that
    pages break anywhere and nothing folds."""
    head = f"title: {title}\nkey: {key}\ntempo: 100\n"
    tonic = key.removesuffix("m")
    words = ": | low | tide | comes | in |\n"

    def part(number: int) -> str:
        chords = [tonic, *"DEFGAB"]
        one, other = chords[(number - 1) % 7], chords[(number - 1) // 7 % 7]
        return f"\n== Part {number}\n| {tonic} | {one} | {other} | {tonic} |\n{words}"

    return head + "".join(map(part, range(1, rows + 1)))


def set_text(songs: Iterable[str], players: str = PLAYERS, stage: str = "") -> str:
    """The text of a set file; each song is the lines of its table."""
    tables = "".join(f"\n[[songs]]\n{song}\n" for song in songs)
    return f'name = "A Night"\nplace = "The Loft"\n{stage}\n{players}{tables}'


def kept_workshop() -> Workshop:
    """A workshop that keeps what it makes for the tests that come after, as users' do."""
    return Workshop(work_cache(book_cache_folder()))


def night_of(
    texts: dict[str, str], set_file: str, workshop: Workshop | None = None, plan: bool = True
) -> Night:
    """A set read, its charts given by file name; a name not among them is a missing chart."""
    source = Source(set_file, "night.toml")
    set_list = read_set(source, Path("/nowhere")).set_list
    assert set_list is not None
    texts_read = [
        ChartText(texts.get(song.name), "" if song.name in texts else f"{song.name}: missing")
        for song in set_list.songs
    ]
    return read_night(set_list, source, texts_read, workshop or kept_workshop(), with_plan=plan)


def made_of(texts: dict[str, str], set_file: str, workshop: Workshop | None = None) -> MadeNight:
    """The same with every song made, capos planned."""
    workshop = workshop or kept_workshop()
    night = night_of(texts, set_file, workshop)
    return made_night(night, planned_night(night), workshop)


def simple_set(count: int, **more: str) -> tuple[dict[str, str], str]:
    """Charts of one short page each and their set; ``more`` are lines of songs by name."""
    texts = {f"song{i}.chart": chart(f"Song {i}") for i in range(1, count + 1)}
    songs = [f'chart = "{name}"\n{more.get(name[:-6], "")}' for name in texts]
    return texts, set_text(songs)


def files_of(made: MadeNight, options: BookOptions | None = None) -> dict[str, bytes]:
    """The content of every file by its name."""
    contents = {}
    for name, write in output_files(made, options or BookOptions()):
        out = BytesIO()
        write(out)
        contents[name] = out.getvalue()
    return contents
