"""Writes choices into a set file: order, keys and capos, with comments and layout kept.

tomlkit keeps comments inside a table; a comment above a song's heading belongs to that song, so
the order of songs is changed in the text itself, block by block.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import tomlkit

from chartkit.book.night import Night
from chartkit.book.night_plan import NightPlan, planned_capos
from chartkit.book.set_file import read_set
from chartkit.book.set_list import SetList
from chartkit.diagnostics import Source
from chartkit.theory.capo import Capo

_SONG = re.compile(r"^[ \t]*\[\[[ \t]*(?:songs|\"songs\"|'songs')[ \t]*\]\]", re.MULTILINE)
_HEADING = re.compile(r"^[ \t]*\[", re.MULTILINE)
_ABOVE = re.compile(r"(?:^[ \t]*#[^\n]*\n)+\Z", re.MULTILINE)


class NotWritable(Exception):
    """A set file whose layout cannot be edited, in plain words."""


def with_order(text: str, order: Sequence[int]) -> str:
    """The set file's text with its songs in another order, by their numbers from 0.

    Numbers of songs in ``sits_out`` follow.  Raises NotWritable where songs do not stand under
    headings of their own.
    """
    if list(order) == list(range(len(order))):
        return text
    blocks, before, after = _song_blocks(text)
    if len(blocks) != len(order):
        raise NotWritable("songs are reordered only where each stands under a line [[songs]]")
    blocks = [block.rstrip("\n") + "\n\n" for block in blocks]
    moved = "".join(blocks[number] for number in order)
    tail = after if after.strip() else ""
    text = before + moved.rstrip("\n") + "\n" + ("\n" + tail if tail else "")
    return _with_numbers(text, {old + 1: new + 1 for new, old in enumerate(order)})


def _song_blocks(text: str) -> tuple[list[str], str, str]:
    """The text of each song with the comments right above it, what stands before the first, and
    what stands behind the last."""
    starts = [_with_comments(text, match.start()) for match in _SONG.finditer(text)]
    if not starts:
        return [], text, ""
    ends = [*starts[1:], _end_of_last(text, starts[-1])]
    if any(_holds_other_heading(text[start:end]) for start, end in zip(starts, ends, strict=True)):
        raise NotWritable("songs are reordered only where they stand one after another")
    blocks = [text[start:end] for start, end in zip(starts, ends, strict=True)]
    return blocks, text[: starts[0]], text[ends[-1] :]


def _with_comments(text: str, start: int) -> int:
    """Where the comment lines right above a heading begin."""
    above = _ABOVE.search(text[:start])
    return start if above is None else above.start()


def _end_of_last(text: str, start: int) -> int:
    """Where the last song's block ends: at the next heading of anything else, or at the end."""
    first = _SONG.search(text, start)
    at = start if first is None else first.end()
    for match in _HEADING.finditer(text, at):
        if not text[match.start() :].lstrip().startswith("[songs."):
            return _with_comments(text, match.start())
    return len(text)


def _holds_other_heading(block: str) -> bool:
    """Whether a block holds the heading of anything but a song."""
    song = _SONG.search(block)
    rest = block if song is None else block[song.end() :]
    return any(
        not rest[match.start() :].lstrip().startswith("[songs.")
        for match in _HEADING.finditer(rest)
    )


def _with_numbers(text: str, numbers: Mapping[int, int]) -> str:
    """The text with the numbers of songs that players sit out moved along."""
    document = tomlkit.parse(text)
    for player in document.get("players", ()):
        away = player.get("sits_out")
        for at, name in enumerate(away or ()):
            plain = str(name).strip()
            if plain.isdecimal() and int(plain) in numbers:
                moved = numbers[int(plain)]
                away[at] = moved if isinstance(name, int) else str(moved)
    return tomlkit.dumps(document)


def with_keys(text: str, keys: Mapping[int, str]) -> str:
    """The text with tonight's key written for songs, by their number from 0; a shift goes, since
    the key says all."""
    document = tomlkit.parse(text)
    songs = _songs(document)
    for number, key in keys.items():
        songs[number]["key"] = key
        songs[number].pop("shift", None)
    return tomlkit.dumps(document)


def with_capos(text: str, capos: Mapping[int, Mapping[str, Capo]]) -> str:
    """The text with each player's capo written for songs, by their number from 0."""
    document = tomlkit.parse(text)
    songs = _songs(document)
    for number, by_player in capos.items():
        if not by_player:
            continue
        own = tomlkit.inline_table()
        own.update(
            {
                name: capo.written if capo.strings else capo.raised
                for name, capo in by_player.items()
            }
        )
        songs[number]["capo"] = own
    return tomlkit.dumps(document)


def _songs(document: tomlkit.TOMLDocument) -> Any:
    songs = document.get("songs")
    if songs is None:
        raise NotWritable("the set has no songs")
    return songs


def checked_text(text: str, name: str, folder: Path, expected: SetList) -> str:
    """The edited text, if it says what was meant: the same songs, keys and capos in order.

    Raises NotWritable otherwise, so that an unforeseen layout does no damage.
    """
    reading = read_set(Source(text, name), folder)
    if reading.set_list is None or _comparable(reading.set_list) != _comparable(expected):
        raise NotWritable("its layout is one that cannot be edited in place")
    return text


def _comparable(set_list: SetList) -> list[object]:
    return [
        (
            song.name,
            song.key,
            song.shift,
            song.capos,
            song.note,
            song.count_in,
            song.straight_into_next,
        )
        for song in set_list.songs
    ]


def planned_text(
    source: Source, folder: Path, written: SetList, night: Night, plan: NightPlan
) -> str:
    """The set file with the plan in it: tonight's keys, each guitarist's capo, the order.

    ``written`` is the set as the file has it, ``night`` as it is played tonight.  Raises
    NotWritable.
    """
    keys = {
        number: str(facts.key)
        for number, (was, now, facts) in enumerate(
            zip(written.songs, night.set_list.songs, night.facts, strict=True)
        )
        if (was.key, was.shift) != (now.key, now.shift) and facts.key is not None
    }
    capos = planned_capos(plan)
    songs = [
        replace(
            song,
            key=keys.get(number, song.key),
            shift=0 if number in keys else song.shift,
            capos=capos.get(number) or song.capos,
        )
        for number, song in enumerate(written.songs)
    ]
    expected = replace(written, songs=tuple(songs[number] for number in plan.order))
    text = with_order(with_capos(with_keys(source.text, keys), capos), plan.order)
    return checked_text(text, source.name, folder, expected)


def keyed_text(source: Source, folder: Path, written: SetList, keys: Mapping[int, str]) -> str:
    """The set file with keys for songs, by their number from 0.  Raises NotWritable."""
    songs = tuple(
        replace(song, key=keys[number], shift=0) if number in keys else song
        for number, song in enumerate(written.songs)
    )
    text = with_keys(source.text, keys)
    return checked_text(text, source.name, folder, replace(written, songs=songs))
