"""Writes choices into a set file: order, keys and capos, with comments and layout kept.

tomlkit keeps comments inside a table; a comment above a song's heading belongs to that song, so
the order of songs is changed in the text itself, block by block.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.items import AoT, Array

from chartkit.book.night import Night
from chartkit.book.night_plan import NightPlan, planned_capos
from chartkit.book.set_file import read_set
from chartkit.book.set_list import SetList
from chartkit.diagnostics import Source
from chartkit.theory.capo import Capo

_HEADING = re.compile(r"^[ \t]*\[\[?[^\]\n]*\]\]?[ \t]*(?:#.*)?$", re.MULTILINE)

SongNumber = Callable[[str], int | None]
"""The number, from 0, of the song that an entry of ``sits_out`` means; None for no song."""


class NotWritable(Exception):
    """A set file whose layout cannot be edited, in plain words."""


def by_number(name: str) -> int | None:
    """The song that a number means; None for a name, whose song only its chart's title tells."""
    plain = name.strip()
    return int(plain) - 1 if plain.isdecimal() else None


def with_order(text: str, order: Sequence[int], song_of: SongNumber = by_number) -> str:
    """The set file's text with only the songs of the order, by their numbers from 0, in it.

    Numbers of songs in ``sits_out`` follow; what is said there of a song that is left out goes.
    Raises NotWritable where songs stand neither one after another under headings of their own nor
    in one row.
    """
    songs = tomlkit.parse(text).get("songs")
    if not isinstance(songs, AoT | Array):
        raise NotWritable("the set has no songs")
    if list(order) == list(range(len(songs))):
        return text
    moved = (
        _row_in_order(text, order) if isinstance(songs, Array) else _in_order(text, songs, order)
    )
    places = {old: new for new, old in enumerate(order)}
    return _with_numbers(moved, {old: places.get(old) for old in range(len(songs))}, song_of)


def _row_in_order(text: str, order: Sequence[int]) -> str:
    """The songs of a row, ``songs = [{ … }, { … }]``, in another order."""
    document: Any = tomlkit.parse(text)
    songs = document["songs"]
    if "#" in re.sub(r"\"[^\"\n]*\"|'[^'\n]*'", "", songs.as_string()):
        raise NotWritable("comments stand between the songs of a row")
    moved = [songs[number] for number in order]
    songs.clear()
    songs.extend(moved)
    return tomlkit.dumps(document)


def _in_order(text: str, songs: Sequence[object], order: Sequence[int]) -> str:
    """The songs under headings of their own in another order."""
    places = table_places(text, "songs")
    if len(places) != len(songs):
        raise NotWritable("songs are reordered only where each stands under a line [[songs]]")
    if any(text[one[1] : other[0]].strip() for one, other in pairwise(places)):
        raise NotWritable("songs are reordered only where they stand one after another")
    blocks = [text[start:end].rstrip("\n") for start, end in places]
    after = text[places[-1][1] :]
    moved = text[: places[0][0]] + "\n\n".join(blocks[number] for number in order) + "\n"
    return moved + (f"\n{after}" if after.strip() else "")


def table_places(text: str, name: str) -> list[tuple[int, int]]:
    """Where each table ``[[name]]`` begins and ends, with the comment lines right above it and
    the tables inside it."""
    headings = list(_HEADING.finditer(text))
    starts = [_with_comments(text, heading.start()) for heading in headings]
    named = rf"(?:{name}|\"{name}\"|'{name}')[ \t]*"
    first = re.compile(rf"[ \t]*\[\[[ \t]*{named}\]\]")
    inside = re.compile(rf"[ \t]*\[\[?[ \t]*{named}\.")
    places = list[tuple[int, int]]()
    for heading, start, end in zip(headings, starts, [*starts, len(text)][1:], strict=True):
        if first.match(heading[0]):
            places.append((start, end))
        elif places and inside.match(heading[0]):
            places[-1] = (places[-1][0], end)
    return places


def first_table(text: str) -> int | None:
    """Where the first table begins, with the comment lines right above it; None without one."""
    heading = _HEADING.search(text)
    return None if heading is None else _with_comments(text, heading.start())


def _with_comments(text: str, start: int) -> int:
    """Where the comment lines right above a heading begin."""
    while start:
        before = text.rfind("\n", 0, start - 1) + 1
        if not text[before:start].lstrip().startswith("#"):
            break
        start = before
    return start


def _with_numbers(text: str, places: Mapping[int, int | None], song_of: SongNumber) -> str:
    """The text with the numbers of songs that players sit out moved along, and without those that
    are gone.  ``places`` gives each song's new number, from 0, None for none."""
    document = tomlkit.parse(text)
    for away in songs_away(document):
        for i, name in reversed(list(enumerate(away))):
            number = song_of(str(name))
            if number is None or number not in places:
                continue
            place = places[number]
            if place is None:
                del away[i]
            elif by_number(str(name)) is not None:
                away[i] = place + 1 if isinstance(name, int) else str(place + 1)
    return tomlkit.dumps(document)


def songs_away(document: tomlkit.TOMLDocument) -> Iterator[Any]:
    """The list of songs that each player sits out, to be changed in place."""
    players = document.get("players")
    for player in players if isinstance(players, AoT | Array) else ():
        away = player.get("sits_out") if isinstance(player, dict) else None
        if isinstance(away, Array):
            yield away


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
        songs[number]["capo"] = _inline(
            {
                name: capo.written if capo.strings else capo.setting
                for name, capo in by_player.items()
            }
        )
    return tomlkit.dumps(document)


def _inline(values: Mapping[str, object]) -> Any:
    """A table on one line, with the blanks inside its braces that set files are written with."""
    table = tomlkit.inline_table()
    table.update(values)
    inside = table.as_string().removeprefix("{").removesuffix("}")
    return tomlkit.parse(f"table = {{ {inside} }}")["table"]


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
            {name: capo.setting for name, capo in song.capos.items()},
            song.note,
            song.count_in,
            song.straight_into_next,
            song.interval_after,
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
