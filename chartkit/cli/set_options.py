"""The options that the commands for a whole set share."""

from pathlib import Path
from typing import Annotated, NamedTuple

from chartkit.cli.command import argument, option
from chartkit.cli.options import key_text
from chartkit.typed_values import file_path, whole_number

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
    tuple[str, ...] | None,
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
        help="Does the work on a cluster: the address of a scheduler of the package distributed. "
        "Use only one that you trust.",
    ),
]
