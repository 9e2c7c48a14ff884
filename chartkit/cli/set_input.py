"""A set file and its charts, read for the commands that work on a whole set."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from chartkit.cli.files import Unusable, read_source
from chartkit.cli.telling import say, wrong_usage
from chartkit.diagnostics import Source, shown

if TYPE_CHECKING:
    from chartkit.book.night import ChartText, Night
    from chartkit.book.set_list import SetList
    from chartkit.book.workshop import Workshop

SetFile = Annotated[
    Path, typer.Argument(metavar="SET", help="The set file, in TOML.", show_default=False)
]
SetKey = Annotated[
    list[str] | None,
    typer.Option(
        "--set-key", metavar="SONG=KEY", show_default=False,
        help="Plays a song in another key tonight. The song is a title or its number.",
    ),
]  # fmt: skip
Shift = Annotated[
    list[str] | None,
    typer.Option(
        "--shift", metavar="SONG=STEPS", show_default=False,
        help="Moves a song by half steps tonight, such as -2 for a whole step down.",
    ),
]  # fmt: skip
Jobs = Annotated[
    int | None,
    typer.Option(
        "--jobs", "-j", min=1, show_default=False,
        help="How many workers; without it as many as there are processors.",
    ),
]  # fmt: skip
NoCache = Annotated[
    bool, typer.Option("--no-cache", help="Makes everything anew and keeps nothing.")
]
_FEW = 6
"""Fewer pieces of work are done quicker here than by workers that have to start first."""


def open_set(path: Path) -> "tuple[SetList, Source]":
    """The set of a file.  Its mistakes are shown and end the run."""
    from chartkit.book.set_file import read_set

    try:
        source = read_source(str(path))
    except Unusable as reason:
        say(f"chartkit: {reason}")
        raise typer.Exit(1) from None
    reading = read_set(source, path.parent)
    for diagnostic in reading.diagnostics:
        say(shown(diagnostic, source))
    if reading.set_list is None:
        raise typer.Exit(1)
    return reading.set_list, source


def chart_texts(set_list: "SetList") -> "list[ChartText]":
    """The text of each song's chart, or why it cannot be read."""
    from chartkit.book.night import ChartText

    found = []
    for song in set_list.songs:
        try:
            found.append(ChartText(read_source(str(song.chart)).text))
        except Unusable as reason:
            found.append(ChartText(None, str(reason)))
    return found


def tonight(
    set_list: "SetList",
    source: Source,
    texts: "list[ChartText]",
    workshop: "Workshop",
    keys: list[str],
    shifts: list[str],
    with_plan: bool,
) -> "Night":
    """The set as it is played tonight, read.  ends the run when a song is not in it."""
    from chartkit.book.night import UnknownSong, moved_tonight, read_night, song_number

    if keys or shifts:
        known = read_night(set_list, source, texts, workshop, False)

        def number_of(name: str) -> int:
            try:
                return song_number(name, known.facts, set_list)
            except UnknownSong as reason:
                raise wrong_usage(str(reason)) from None

        wanted = {number_of(name): key for name, key in _pairs("--set-key", keys)}
        steps = {number_of(name): _steps(text) for name, text in _pairs("--shift", shifts)}
        _check_keys(wanted)
        set_list = moved_tonight(set_list, wanted, steps)
    return read_night(set_list, source, texts, workshop, with_plan)


def _check_keys(keys: dict[int, str]) -> None:
    from chartkit.book.set_rules import is_key

    for text in keys.values():
        if not is_key(text):
            raise wrong_usage(f'--set-key: "{text}" is not a key: write one like B, Eb or F#m')


def _pairs(option: str, texts: list[str]) -> Iterator[tuple[str, str]]:
    for text in texts:
        name, equals, value = text.rpartition("=")
        if not equals or not name.strip() or not value.strip():
            raise wrong_usage(f'{option} "{text}": write the song, =, and where it goes')
        yield name.strip(), value.strip()


def _steps(text: str) -> int:
    plain = text.replace("−", "-")
    if not plain.lstrip("+-").isdecimal() or abs(int(plain[:6])) > 11:
        raise wrong_usage(f'--shift: "{text}" is not a number of half steps from -11 to 11')
    return int(plain)


@contextmanager
def workshop_for(jobs: int | None, pieces: int, no_cache: bool) -> "Iterator[Workshop]":
    """A workshop with workers where they are worth their start, and a progress bar."""
    from chartkit.book.cache import WorkCache, book_cache_folder
    from chartkit.book.workers import pool
    from chartkit.book.workshop import Workshop
    from chartkit.cli.progress import progress_bar

    workers = jobs or os.cpu_count() or 1
    cache = WorkCache(None if no_cache else book_cache_folder())
    with pool(workers if pieces > _FEW else 1) as executor, progress_bar(sys.stderr) as told:
        yield Workshop(cache, executor, told)
    cache.trim()
