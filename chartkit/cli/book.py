"""``chartkit book``: a whole set, a book for every player."""

import errno
import os
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import click

from chartkit.cli.command import option
from chartkit.cli.options import Replace
from chartkit.cli.reporting import say, say_unusable, wrong_usage
from chartkit.cli.set_input import (
    Cluster,
    Jobs,
    NoCache,
    RunningOrder,
    SetFile,
    SetKey,
    Shift,
    chart_texts,
    open_set,
    tonight,
    workshop_for,
)
from chartkit.files import Unusable, made_here
from chartkit.typed_values import file_path

if TYPE_CHECKING:
    from chartkit.book.books import MadeNight
    from chartkit.book.staging import Writer

Folder = Annotated[
    Path,
    option(
        "--output",
        "-o",
        metavar="FOLDER",
        read=file_path,
        help="Where the books go; the folder is made if need be.",
    ),
]
PerSong = Annotated[
    bool, option("--per-song", help="Also a PDF of each song, in a folder for each player.")
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
        help="Also a book for a tablet's screen for each player: one HTML file that needs no "
        "network. A tap or a foot pedal turns the page.",
    ),
]


def book(
    set_file: SetFile,
    output: Folder,
    per_song: PerSong = False,
    leave_out_broken: LeaveOut = False,
    screen: Screen = False,
    set_key: SetKey = None,
    shift: Shift = None,
    order: RunningOrder = None,
    jobs: Jobs = None,
    cluster: Cluster = None,
    no_cache: NoCache = False,
    replace_file: Replace = False,
) -> None:
    """Makes a book for every player of a set, and a set sheet.

    Everybody's pages agree on tonight's keys and show what that player reads; the set sheet is for
    the stage floor. Songs made before are taken from the cache.
    """
    from chartkit.book.books import BookOptions, files, made_night
    from chartkit.book.night import planned_night
    from chartkit.book.plan_text import reordered_lines
    from chartkit.book.screen.books import screen_books

    _check_folder(output)
    started = time.monotonic()
    set_list, source = open_set(set_file)
    texts = chart_texts(set_list)
    pieces = len(texts) * len(set_list.players)
    with workshop_for(jobs, pieces, no_cache, cluster) as workshop, _no_room_reported():
        moves = set_key or [], shift or []
        night = tonight(set_list, source, texts, workshop, *moves, set_list.is_planned, order)
        plan = planned_night(night) if set_list.is_planned else None
        made = made_night(night, plan, workshop)
        for_screens = tuple(screen_books(night, plan, workshop)) if screen else ()
    for message in (*night.messages, *made.messages, *reordered_lines(night, plan)):
        say(message)
    results = (*files(made, BookOptions(per_song, leave_out_broken)), *for_screens)
    _write(made, results, output, started, replace_file)


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
        above = next(one for one in (output, *output.absolute().parents) if one.exists())
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
    return made_here(content) and title in content


def _write(
    made: "MadeNight",
    results: "Iterable[tuple[str, Writer]]",
    output: Path,
    started: float,
    replace_file: bool,
) -> None:
    """Writes every file aside, then moves all of them into place; ends the run with 1 where songs
    have failed."""
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
    for path in _left_over(output, written):
        say(f"{path}: left over from an earlier run, not a song of this set")
    for path in _old_books(output, written, made.night.set_list.name):
        if path.with_suffix(".pdf") in written:
            say(f"{path}: the screen book of an earlier run, not made again: add --screen")
        else:
            say(f"{path}: left over from an earlier run, nobody's book in this set")
    broken = sum(one.broken for one in made.night.facts)
    summary = f"{len(staging.changed)} files written, {len(staging.unchanged)} unchanged"
    if broken:
        have = "has" if broken == 1 else "have"
        summary += f"; {broken} of {len(made.order)} songs {have} mistakes"
    say(f"{summary}; {time.monotonic() - started:.1f} s")
    if made.night.failed or made.failed:
        raise click.exceptions.Exit(1)
