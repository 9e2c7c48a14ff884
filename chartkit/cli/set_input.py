"""A set file and its charts, read for the commands that work on a whole set."""

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import click

from chartkit.cli.command import argument, option
from chartkit.cli.options import key_text
from chartkit.cli.reporting import say, say_unusable, wrong_usage
from chartkit.cli.streams import BROKEN_OFF
from chartkit.diagnostics import Diagnostic, Source, diagnostic_text
from chartkit.files import STANDARD_INPUT, Unusable, read_source, write_whole
from chartkit.typed_values import file_path, whole_number

if TYPE_CHECKING:
    from chartkit.book.night import ChartText, Night
    from chartkit.book.set_list import SetList
    from chartkit.book.workshop import Workshop

SetFile = Annotated[
    Path,
    argument(metavar="SET", read=file_path, help="The set file, in TOML."),
]


class SongMove(NamedTuple):
    """A song's title or number, and the key or the half steps it moves to tonight."""

    song: str
    where: str


def _move(text: str, where: str, such_as: str) -> SongMove:
    song, equals, moved = (part.strip() for part in text.rpartition("="))
    if not moved or not equals:
        title = (song or moved or "harbour")[:40]
        raise ValueError(f'"{text}" has no {where}: write "{title}={such_as}"')
    if not song:
        raise ValueError(f'"{text}" names no song: write "harbour={moved[:40]}"')
    return SongMove(song, moved)


def _to_key(text: str) -> SongMove:
    move = _move(text, "key", "Bb")
    key_text(move.where)
    return move


def _by_steps(text: str) -> SongMove:
    move = _move(text, "half steps", "-2")
    return move._replace(where=str(whole_number(-11, 11)(move.where)))


SetKey = Annotated[
    list[SongMove] | None,
    option(
        "--set-key",
        metavar="SONG=KEY",
        read=_to_key,
        help="Plays a song in another key tonight. Name the song by its title, by a part of it "
        "that no other song has, or by its number.",
    ),
]
Shift = Annotated[
    list[SongMove] | None,
    option(
        "--shift",
        metavar="SONG=STEPS",
        read=_by_steps,
        help="Transposes a song by half steps tonight, such as -2 for a whole step down.",
    ),
]


def _songs(text: str) -> tuple[str, ...]:
    songs = tuple(part.strip() for part in text.split(","))
    if not all(songs):
        raise ValueError(f'"{text}" has a comma with no song beside it: write 1,4,2')
    return songs


RunningOrder = Annotated[
    Any,
    option(
        "--running-order",
        metavar="SONG,SONG,...",
        read=_songs,
        help="Plays only these songs tonight, in this order: numbers, titles or parts of them.",
    ),
]
Without = Annotated[
    list[str] | None,
    option(
        "--without",
        metavar="PLAYER",
        help="Plays tonight without that player. Whoever played a part beside a guitarist who is "
        "missing plays it beside another, or else plays full chords.",
    ),
]
Jobs = Annotated[
    int | None,
    option(
        "--jobs",
        "-j",
        metavar="NUMBER",
        read=whole_number(1, 64),
        help="How many processes work at once, 1 to 64. Without it, one for each processor.",
    ),
]
NoCache = Annotated[
    bool, option("--no-cache", help="Makes everything again and keeps nothing in the cache.")
]
Cluster = Annotated[
    str | None,
    option(
        "--cluster",
        metavar="ADDRESS",
        help="Does the work on a cluster: the address of a scheduler that you trust, of the "
        "package distributed.",
    ),
]
_FEW = 6
"""With fewer pieces of work, this process is quicker than workers that have to start first."""


def open_set(path: Path, without: list[str] | None = None) -> "tuple[SetList, Source]":
    """Reads a set file.  Its mistakes are shown and end the run.

    It is played ``without`` some players tonight; what others play instead is said.
    """
    from chartkit.book.set_file import read_set
    from chartkit.book.tonights_band import UnknownPlayer

    if path.suffix == ".chart":
        raise wrong_usage(
            f"SET: {path} is a chart, not a set file", "a set file names charts, in TOML"
        )
    try:
        source = read_source(str(path))
    except Unusable as reason:
        say_unusable(reason)
        raise click.exceptions.Exit(1) from None
    try:
        reading = read_set(source, path.parent, without or [])
    except UnknownPlayer as reason:
        every = (reason, *reason.others)
        raise _ended([(f"--without: {one}", one.hint) for one in every]) from None
    for sentence in reading.said:
        say(sentence)
    if reading.set_list is not None:
        return reading.set_list, source
    wrong = () if reading.named is None else _chart_messages(reading.named, source)
    for diagnostic in sorted(
        (*reading.diagnostics, *wrong), key=lambda mistake: mistake.span.start
    ):
        say(diagnostic_text(diagnostic, source))
    raise click.exceptions.Exit(1)


def _chart_messages(named: "SetList", source: Source) -> tuple[Diagnostic, ...]:
    """Charts that cannot be read and sat-out songs that are not in the set, for a set file with
    mistakes; mistakes in charts are left out."""
    from chartkit.book.night import read_night, unread_charts

    texts = chart_texts(named)
    unread = unread_charts(texts, named)
    if unread or not any(player.sits_out for player in named.players):
        return unread
    with workshop_for(1, 0, no_cache=True) as workshop:
        return read_night(named, source, texts, workshop, False).wrong


def chart_texts(set_list: "SetList") -> "list[ChartText]":
    """The text of each song's chart, or why it cannot be read."""
    from chartkit.book.night import ChartText

    texts = []
    for song in set_list.songs:
        try:
            texts.append(ChartText(_chart_text(song.chart)))
        except Unusable as reason:
            texts.append(ChartText(None, str(reason), reason.hint))
    return texts


def _chart_text(path: Path) -> str:
    """The text of a chart.  It must be a file, since a pipe may never end.  Raises Unusable."""
    try:
        mode = path.stat().st_mode
        if not (S_ISREG(mode) or S_ISDIR(mode)):
            raise Unusable(f"{path}: cannot be read: it is not a file")
    except (OSError, ValueError):
        pass  # opening it reports the reason
    name = str(path)
    return read_source(f"./{name}" if name == STANDARD_INPUT else name).text


def tonight(
    set_list: "SetList",
    source: Source,
    texts: "list[ChartText]",
    workshop: "Workshop",
    keys: list[SongMove] | None,
    shifts: list[SongMove] | None,
    with_plan: bool,
    order: tuple[str, ...] | None = None,
) -> "Night":
    """The set as it is played tonight, read, in a running order of tonight's if one is given.

    Ends the run when a song that is moved, ordered or sat out is not in it.
    """
    from chartkit.book.night import moved_night, order_of, read_night

    night = before = read_night(set_list, source, texts, workshop, with_plan)
    wrong = list[tuple[str, str]]()
    wanted = _by_song("--set-key", keys or [], night, wrong)
    by_steps = _by_song("--shift", shifts or [], night, wrong)
    steps = {number: int(value) for number, value in by_steps.items()}
    _check_keys(wanted, night, wrong)
    numbers, unknown = order_of(night, order or ())
    wrong += ((f"--running-order: {reason}", reason.hint) for reason in unknown)
    if wrong:
        raise _ended(wrong)
    if wanted or steps:
        night = moved_night(night, source, wanted, steps, workshop, with_plan)
    if night.wrong:
        for message in night.messages:
            say(message)
        raise click.exceptions.Exit(1)
    if order is None:
        return night
    return _in_order(night, numbers, before if with_plan else None, {*wanted, *steps})


def _ended(wrong: list[tuple[str, str]]) -> click.exceptions.Exit:
    """Reports all that is wrong with a call, each mistake with its hint; raise the result."""
    return [wrong_usage(message, hint) for message, hint in wrong][-1]


def _in_order(
    night: "Night", numbers: tuple[int, ...], before: "Night | None", moved: set[int]
) -> "Night":
    """The night in tonight's running order, planned as ``before`` any song was moved, where capos
    are planned at all."""
    from chartkit.book.night import in_running_order, left_out_lines, planned_in_order

    if before is not None:
        ordered = planned_in_order(night, numbers, before, moved)
    else:
        ordered = in_running_order(night, numbers)
    for message in left_out_lines(night, numbers):
        say(message)
    return ordered


def _by_song(
    option: str, moves: list[SongMove], known: "Night", wrong: list[tuple[str, str]]
) -> dict[int, str]:
    """The value an option gives for each song, by the song's number from 0; adds what is wrong."""
    from chartkit.book.night import UnknownSong, song_number

    values = dict[int, str]()
    for name, value in moves:
        try:
            number = song_number(name, known.facts, known.set_list)
        except UnknownSong as reason:
            wrong.append((f"{option}: {reason}", reason.hint))
            continue
        if number in values:
            title = known.facts[number].title
            wrong.append((f"{option}: song {number + 1}, {title}, is moved twice", ""))
        values[number] = value
    return values


def _check_keys(keys: dict[int, str], known: "Night", wrong: list[tuple[str, str]]) -> None:
    """Adds what is wrong with keys that songs cannot be moved to."""
    from chartkit.arrange.view import target_key

    for number, text in keys.items():
        key, title = known.facts[number].key, known.facts[number].title
        try:
            target_key(text, key) if key is not None else None
        except ValueError as reason:
            wrong.append((f"--set-key: {title}: {reason}", ""))


def write_set_file(path: Path, before: str, edited: Callable[[], str], what: str) -> None:
    """Writes the edited text of a set file and says ``what`` is in it now.

    Ends the run if its layout cannot be edited in place, or the file cannot be written.
    """
    from chartkit.book.write_set import NotWritable

    try:
        text = edited()
        if text == before:
            say(f"{path}: unchanged")
            return
        write_whole(path, text.encode())
    except NotWritable as reason:
        say(f"{path}: not written: {reason}")
        raise click.exceptions.Exit(1) from None
    except Unusable as reason:
        say_unusable(reason)
        raise click.exceptions.Exit(1) from None
    say(f"{path}: written, with {what}")


@contextmanager
def workshop_for(
    jobs: int | None, pieces: int, no_cache: bool, cluster: str | None = None
) -> "Iterator[Workshop]":
    """A workshop with a progress bar, and with workers if starting them pays.

    Ends the run if the work is interrupted, or workers are lost or cannot be reached.
    """
    from chartkit.book.cache import book_cache_folder, work_cache
    from chartkit.book.cluster import NoCluster
    from chartkit.book.workshop import WorkersLost
    from chartkit.cli.progress import progress_bar

    cache = work_cache(None if no_cache else book_cache_folder())
    try:
        with progress_bar(sys.stderr) as progress, _workshop(jobs, pieces, cluster) as workshop:
            workshop.cache, workshop.progress = cache, progress
            yield workshop
    except NoCluster as reason:
        raise wrong_usage(f"--cluster: {reason}", reason.hint) from None
    except WorkersLost as reason:
        say(f"chartkit: {reason}; nothing has been written")
        raise click.exceptions.Exit(1) from None
    except KeyboardInterrupt:
        say("chartkit: stopped; nothing has been written")
        raise click.exceptions.Exit(BROKEN_OFF) from None
    cache.trim()


@contextmanager
def _workshop(jobs: int | None, pieces: int, cluster: str | None) -> "Iterator[Workshop]":
    """The executor of a workshop: a cluster's workers, this machine's, or this process."""
    from chartkit.book.cache import work_cache
    from chartkit.book.workshop import Workshop

    if cluster is not None:
        from chartkit.book.cluster import LARGEST_BATCH, cluster_at, lost_workers

        with cluster_at(cluster) as executor:
            yield Workshop(
                work_cache(None),
                executor,
                most_waiting=executor.most_waiting,
                lost_by=lost_workers(),
                largest_batch=LARGEST_BATCH,
            )
        return
    from chartkit.book.workers import pool

    workers = min(jobs or os.cpu_count() or 1, max(1, pieces))
    with pool(workers if pieces > _FEW else 1) as executor:
        yield Workshop(work_cache(None), executor, starts_slowly=True)
