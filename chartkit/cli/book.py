"""``chartkit book``: a whole set, a book for every player."""

import errno
import os
import time
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import click

from chartkit.cli.command import option
from chartkit.cli.options import Replace
from chartkit.cli.reporting import say, say_unusable, wrong_usage
from chartkit.cli.set_files import chart_texts, open_set
from chartkit.cli.set_options import (
    Cluster,
    Jobs,
    NoCache,
    RunningOrder,
    SetFile,
    SetKey,
    Shift,
    Without,
)
from chartkit.cli.set_tonight import ChangesTonight, read_tonight
from chartkit.cli.set_workshop import workshop_for
from chartkit.files import Unusable, is_made_by_chartkit
from chartkit.typed_values import file_path

if TYPE_CHECKING:
    from chartkit.book.books import MadeNight
    from chartkit.book.last_run import Call
    from chartkit.book.night import Night
    from chartkit.book.set_list import SetList
    from chartkit.book.staging import Writer
    from chartkit.book.workshop import Workshop

Folder = Annotated[
    Path,
    option(
        "--output",
        "-o",
        metavar="FOLDER",
        read=file_path,
        help="The folder for the books. It is created if needed.",
    ),
]
PerSong = Annotated[
    bool, option("--per-song", help="Also makes a PDF of each song, in a folder for each player.")
]
LeaveOut = Annotated[
    bool,
    option(
        "--leave-out-broken",
        help="Leaves out songs whose charts have mistakes, instead of marking their place.",
    ),
]
Screen = Annotated[
    bool,
    option(
        "--screen",
        help="Also makes a book for a tablet's screen for each player: one HTML file that needs no "
        "network. A tap or a foot pedal turns the page.",
    ),
]


def book(
    set_file: SetFile,
    output: Folder,
    per_song: PerSong = False,
    leave_out_broken: LeaveOut = False,
    screen: Screen = False,
    keys: SetKey = None,
    shifts: Shift = None,
    order: RunningOrder = None,
    without: Without = None,
    jobs: Jobs = None,
    cluster: Cluster = None,
    no_cache: NoCache = False,
    replace_file: Replace = False,
) -> None:
    """Makes a book for every player of a set, and a set sheet.

    Each book shows what its player reads, and all of them are in tonight's keys. The set sheet is
    for the stage floor. Songs that have not changed since the last time are taken from the cache.
    """
    options = _that_change_books(locals())
    from chartkit.book.last_run import Call, digests_of

    _check_folder(output)
    started = time.monotonic()
    call = None if no_cache or cluster is not None else Call(set_file, output, options)
    if call is not None and _is_unchanged(call, started):
        return
    made_of = digests_of([set_file])
    set_list, source = open_set(set_file, without)
    made_of |= digests_of(_files_of(set_list))
    texts = chart_texts(set_list)
    pieces = len(texts) * len(set_list.players)
    with workshop_for(jobs, pieces, no_cache, cluster) as workshop, _no_room_reported():
        night = read_tonight(set_list, source, texts, workshop, ChangesTonight(keys, shifts, order))
        said, made, results = _made(night, workshop, per_song, leave_out_broken, screen)
    for message in said:
        say(message)
    if (written := _write(made, results, output, started, replace_file)) and call is not None:
        _keep(call, made_of, written, said)


_BOOKS_STAY = frozenset({"set_file", "output", "jobs", "cluster", "no_cache", "replace_file"})
"""Parameters of ``book`` that leave the books the same, or that the record of a run names."""


def _that_change_books(given: Mapping[str, object]) -> tuple[tuple[str, object], ...]:
    """The names and values of a call's parameters with which other books are made."""
    return tuple((name, value) for name, value in given.items() if name not in _BOOKS_STAY)


def _made(
    night: "Night", workshop: "Workshop", per_song: bool, leave_out_broken: bool, screen: bool
) -> "tuple[tuple[str, ...], MadeNight, tuple[tuple[str, Writer], ...]]":
    """What there is to say, the night made, and every file with what writes it."""
    from chartkit.book.books import BookOptions, made_night, output_files
    from chartkit.book.night import planned_night
    from chartkit.book.plan_text import reordered_lines
    from chartkit.book.screen.books import screen_books

    plan = planned_night(night) if night.set_list.is_planned else None
    made = made_night(night, plan, workshop)
    for_screens = tuple(screen_books(night, plan, workshop)) if screen else ()
    said = (*night.messages, *made.messages, *reordered_lines(night, plan))
    results = (*output_files(made, BookOptions(per_song, leave_out_broken)), *for_screens)
    return said, made, results


def _is_unchanged(call: "Call", started: float) -> bool:
    """Whether all books of this call stand there as they would be made; says so."""
    from chartkit.book.cache import book_cache_folder, work_cache
    from chartkit.book.last_run import last_run

    if (run := last_run(work_cache(book_cache_folder()), call)) is None:
        return False
    for message in run.messages:
        say(message)
    say(f"0 files written, {run.files} unchanged; {time.monotonic() - started:.1f} s")
    return True


def _keep(
    call: "Call", made_of: dict[str, str], written: list[Path], said: tuple[str, ...]
) -> None:
    """Keeps the record of a run, for the next one."""
    from chartkit.book.cache import book_cache_folder, work_cache
    from chartkit.book.last_run import keep_run

    keep_run(work_cache(book_cache_folder()), call, made_of, written, said)


def _files_of(set_list: "SetList") -> Iterator[Path]:
    """The charts and fonts that a set names."""
    yield from (song.chart for song in set_list.songs)
    yield from (player.look.font for player in set_list.players if player.look.font is not None)


@contextmanager
def _no_room_reported() -> Iterator[None]:
    """Ends the run if the pages of songs cannot be stored until they are bound."""
    try:
        yield
    except Unusable as reason:
        say_unusable(reason)
        raise click.exceptions.Exit(1) from None


def _check_folder(output: Path) -> None:
    """Ends the run before any work is done if the books cannot be written there."""
    try:
        if output.exists() and not output.is_dir():
            raise wrong_usage(f"--output: {output} is not a folder", "give one: -o friday/")
        above = next(folder for folder in (output, *output.absolute().parents) if folder.exists())
        if above.is_dir() and not os.access(above, os.W_OK | os.X_OK):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    except OSError as reason:
        raise _cannot_be_written(output, reason) from None


def _cannot_be_written(output: Path, reason: OSError) -> click.exceptions.Exit:
    """Reports why the output cannot be written; raise the result."""
    words = (reason.strerror or "unknown reason").lower()
    say(f"chartkit: {output}: cannot be written: {words}")
    return click.exceptions.Exit(1)


def _left_over(output: Path, made: "list[Path]") -> "list[Path]":
    """Single songs of an earlier run, which a player could mistake for tonight's."""
    folders = {path.parent for path in made} - {output}
    there = {path for folder in folders for path in folder.glob("[0-9][0-9]*-*.pdf")}
    return sorted(there - set(made))


_TITLE_WITHIN = 1 << 16
"""How many bytes at each end of a book are searched for its title."""


def _old_books(output: Path, made: "list[Path]", name: str) -> "list[Path]":
    """Books of an earlier run for players who are no more in the set."""
    there = {*output.glob("*.pdf"), *output.glob("*.html")} - set(made)
    return sorted(path for path in there if _is_book_of(path, name))


def _is_book_of(path: Path, name: str) -> bool:
    """Whether a file is a player's book, by its title: plain text near the beginning of an HTML
    file and near the end of a PDF."""
    title = f">{escape(name)}: ".encode("utf-8", "replace")
    try:
        with path.open("rb") as file:
            content = file.read(_TITLE_WITHIN)
            file.seek(max(_TITLE_WITHIN, path.stat().st_size - _TITLE_WITHIN))
            content += file.read(_TITLE_WITHIN)
    except OSError:
        return False
    return is_made_by_chartkit(content) and title in content


def _write(
    made: "MadeNight",
    results: "Iterable[tuple[str, Writer]]",
    output: Path,
    started: float,
    replace_file: bool,
) -> list[Path]:
    """Writes every file aside, then moves all of them into place; ends the run with 1 where songs
    have failed.  Returns the files, none where something else may be taken for one of them."""
    from chartkit.book.staging import Staging

    try:
        with Staging(output, replace_file) as staging:
            for name, write in results:
                staging.add(name, write)
            staging.commit()
    except OSError as reason:
        raise _cannot_be_written(output, reason) from None
    except Unusable as reason:
        say_unusable(reason)
        raise click.exceptions.Exit(1) from None
    for path in staging.changed:
        say(f"{path}")
    written = [*staging.changed, *staging.unchanged]
    stray = _strays_reported(output, written, made.night.set_list.name)
    broken = sum(song.broken for song in made.night.facts)
    summary = f"{len(staging.changed)} files written, {len(staging.unchanged)} unchanged"
    if broken:
        have = "has" if broken == 1 else "have"
        summary += f"; {broken} of {len(made.order)} songs {have} mistakes"
    say(f"{summary}; {time.monotonic() - started:.1f} s")
    if made.night.failed or made.failed:
        raise click.exceptions.Exit(1)
    return [] if stray else written


def _strays_reported(output: Path, written: list[Path], name: str) -> bool:
    """Names songs and books of earlier runs beside those written; returns whether there are any."""
    songs, books = _left_over(output, written), _old_books(output, written, name)
    for path in songs:
        say(f"{path}: left over from an earlier run, not a song of this set")
    for path in books:
        if path.with_suffix(".pdf") in written:
            say(f"{path}: the screen book of an earlier run, not made again: add --screen")
        else:
            say(f"{path}: left over from an earlier run: nobody plays from it tonight")
    return bool(songs or books)
