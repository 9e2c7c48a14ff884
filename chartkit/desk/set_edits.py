"""Changes to a set file's text that the night's view makes, comments and layout kept.

Values are changed by tomlkit, which keeps what it does not touch; ``book.write_set`` finds and
moves whole tables with the comments over them.
"""

import re
from datetime import date
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array

from chartkit.book.set_rules import NOBODY, SET_SHEET, file_stem, pitch_of
from chartkit.book.write_set import (
    NotWritable,
    SongNumber,
    by_number,
    first_table,
    table_places,
    with_order,
)
from chartkit.desk.pages import Facts
from chartkit.desk.requests import SetEditRequest
from chartkit.files import Unusable
from chartkit.fretboard.instruments import instrument_named
from chartkit.theory.pitch import PitchRange, parse_range

_NAME_LINE = re.compile(r"^[ \t]*name[ \t]*=[^\n]*\n?", re.MULTILINE)
_SETTINGS = {
    "song": ("key", "shift", "note", "count_in", "straight_into_next", "interval_after"),
    "player": ("name", "reads", "paper", "size", "instrument", "range", "beside"),
    "set": ("name", "date", "place"),
}
_ON_STRINGS = ("both", "shapes")
"""Readings that need an instrument to finger shapes on."""
_USUALLY_READ = {"drums": "road-map", "voice": "words"}
"""What is read on an instrument without shapes (ours); on any other, the chords that sound."""
_CHANGED = Unusable("the set file has changed meanwhile", "look at it again")


def edited_set(request: SetEditRequest, song_of: SongNumber = by_number) -> Facts:
    """The set file's text with one change; ``song_of`` tells which songs players sit out.

    Raises Unusable where it cannot be made.
    """
    try:
        document = tomlkit.parse(request.text)
    except TOMLKitError:
        raise Unusable("the set file cannot be read", "correct its mistakes first") from None
    if request.change == "order":
        return {"text": _reordered(request, document.get("songs"))}
    if request.change == "remove":
        return {"text": _without_song(request, document.get("songs"), song_of)}
    if request.change == "add":
        return {"text": _with_song(request)}
    if request.change == "add-player":
        return {"text": _with_player(request, document.get("players", []))}
    if request.change == "set":
        return {"text": _about_the_night(document, request)}
    return {"text": _with_entry_changed(document, request)}


def _with_entry_changed(document: tomlkit.TOMLDocument, request: SetEditRequest) -> str:
    """The set with a setting of one of its songs or players changed, or without a player."""
    entries = document.get("songs" if request.change == "song" else "players")
    if not isinstance(entries, AoT | Array) or request.at >= len(entries):
        raise _CHANGED
    if request.change != "remove-player":
        return _with_setting(document, entries, request)
    if len(entries) == 1:
        raise Unusable("this is the night's only player", "add another one first")
    return _without_player(request.text, entries, request.at)


def _with_setting(
    document: tomlkit.TOMLDocument, entries: AoT | Array, request: SetEditRequest
) -> str:
    """The set with another value for a setting of a song or player."""
    if request.setting not in _SETTINGS[request.change]:
        raise Unusable(f"{request.setting} cannot be changed here")
    if request.setting == "name":
        return _renamed(document, entries, request)
    entry: Any = entries[request.at]
    if request.setting == "beside":
        _play_beside(entry, str(request.value or ""))
    elif request.setting == "range" and request.value:
        _give(entry, request.setting, str(_range(str(request.value))))
    else:
        _give(entry, request.setting, request.value)
    if request.setting == "instrument":
        _read_on_it(entry)
    elif request.setting == "reads":
        _play_what_is_read(entry)
    if request.change == "player":
        free_of_nobody(entries)
    return tomlkit.dumps(document)


def _range(text: str) -> PitchRange:
    try:
        return parse_range(text)
    except ValueError as reason:
        raise Unusable(str(reason), "such as A3-E5") from None


PART_BESIDE = "part beside "
"""What stands before a guitarist's name where a part of its own is chosen."""


def _play_beside(player: Any, chosen: str) -> None:
    """What a second guitarist plays: full chords clear of another, a part beside another, or,
    for an empty text, what the plan makes of it."""
    player.pop("beside", None)
    player.pop("part", None)
    if name := chosen.removeprefix(PART_BESIDE):
        player["beside"] = name
    if chosen.startswith(PART_BESIDE):
        player["part"] = True


def free_of_nobody(players: Any) -> None:
    """Takes out ``beside`` and ``part`` where the guitarist meant is none any more: who has
    nobody to keep clear of plays full chords."""
    readers = [player for player in players if player.get("reads", "both") in _ON_STRINGS]
    planned = {str(player.get("name")) for player in readers if not player.get("part")}
    for player in players:
        others = planned - {player.get("name")} if player in readers else set[str]()
        if player.get("beside") not in (None, NOBODY, *others):
            del player["beside"]
        if player.get("part") and not others:
            del player["part"]


_EITHER = {"key": "shift", "size": "large", "large": "size"}
"""Settings that take the place of each other."""


def _give(entry: Any, setting: str, value: str | bool | None) -> None:
    """Gives a setting its value; none takes it out.  ``large`` is a size of print, too."""
    if setting in _EITHER:
        entry.pop(_EITHER[setting], None)
    if setting == "size" and value == "large":
        entry.pop(setting, None)
        entry["large"] = True
    elif value in (None, "", False):
        entry.pop(setting, None)
    else:
        is_number = setting == "size" and re.fullmatch(r"[0-9]+\.[0-9]+", str(value))
        entry[setting] = float(str(value)) if is_number else value


def _read_on_it(player: Any) -> None:
    """Another instrument: what cannot be read on it is changed for what usually is."""
    named, reads = str(player.get("instrument", "")), player.get("reads", "both")
    if _is_transposing(named):
        wanted = "transposed" if reads in (*_ON_STRINGS, "sounding") else reads
    elif _has_shapes(named):
        wanted = "both" if reads == "transposed" else reads
    elif reads in (*_ON_STRINGS, "transposed"):
        wanted = _USUALLY_READ.get(named, "sounding")
    else:
        wanted = reads
    if wanted != reads:
        player["reads"] = wanted


def _play_what_is_read(player: Any) -> None:
    """Another reading: shapes are fingered on a guitar where nothing else is named.

    Raises Unusable for chords that are transposed for nobody knows what.
    """
    named, reads = str(player.get("instrument", "")), player.get("reads", "both")
    strings = player.get("tuning") or player.get("guitars") or _has_shapes(named)
    if reads in _ON_STRINGS and not strings:
        player["instrument"] = "guitar"
    if reads == "transposed" and not _is_transposing(named):
        raise Unusable(
            f"{player.get('name', 'this player')} plays nothing that is read transposed",
            "choose what is played first, such as a B flat trumpet",
        )


def _has_shapes(instrument: str) -> bool:
    try:
        instrument_named(instrument)
    except ValueError:
        return False
    return True


def _is_transposing(instrument: str) -> bool:
    try:
        return pitch_of(instrument) is not None
    except ValueError:
        return False


def _about_the_night(document: tomlkit.TOMLDocument, request: SetEditRequest) -> str:
    """The set with another name, day or place, each at the top of the file."""
    if request.setting not in _SETTINGS["set"] or not isinstance(request.value, str | None):
        raise Unusable(f"{request.setting} cannot be changed here")
    if request.value:
        value = _day(request.value) if request.setting == "date" else request.value
        if request.setting not in document:
            return _below_the_name(request.text, tomlkit.dumps({request.setting: value}))
        document[request.setting] = value
    elif request.setting == "name":
        raise Unusable("a night needs a name")
    else:
        document.pop(request.setting, None)
    return tomlkit.dumps(document)


def _below_the_name(text: str, line: str) -> str:
    """The text with a line under that of the night's name, else before everything."""
    table = first_table(text)
    name = _NAME_LINE.search(text, 0, len(text) if table is None else table)
    offset = name.end() if name is not None else 0
    head = text[:offset]
    return f"{head}{line}{text[offset:]}" if not head or head.endswith("\n") else f"{head}\n{line}"


def _day(text: str) -> date | str:
    """A date where it is one; any other words as they are."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return text


def _reordered(request: SetEditRequest, songs: object) -> str:
    if not isinstance(songs, AoT | Array) or sorted(request.order) != list(range(len(songs))):
        raise _CHANGED
    return _in_order(request.text, request.order, by_number)


def _without_song(request: SetEditRequest, songs: object, song_of: SongNumber) -> str:
    """The set without a song, which nobody sits out any more."""
    if not isinstance(songs, AoT | Array) or request.at >= len(songs):
        raise _CHANGED
    if len(songs) == 1:
        raise Unusable("this is the night's only song", "add another one first")
    return _in_order(request.text, [i for i in range(len(songs)) if i != request.at], song_of)


def _in_order(text: str, order: list[int], song_of: SongNumber) -> str:
    try:
        return with_order(text, order, song_of)
    except NotWritable as reason:
        raise Unusable(str(reason), "order them in the text") from None


def _is_free(name: str, others: Any) -> None:
    """Raises Unusable where another player's book, or the set sheet, would have that name."""
    stem = file_stem(name)
    taken = next((other for other in others if file_stem(str(other.get("name", ""))) == stem), None)
    if taken is not None:
        raise Unusable(f"{taken['name']} plays already", "write another name, such as an initial")
    if stem == SET_SHEET:
        raise Unusable(f"{name} is the set sheet's own name", "write another one")


def _with_player(request: SetEditRequest, others: Any) -> str:
    """The set with a guitarist after the last player, or before everything else."""
    if not isinstance(request.value, str) or not request.value:
        raise Unusable("no player was named")
    _is_free(request.value, others)
    table = tomlkit.table()
    table.update({"name": request.value, "reads": "both", "instrument": "guitar"})
    made = "[[players]]\n" + tomlkit.dumps(table)
    players = table_places(request.text, "players")
    offset = players[-1][1] if players else first_table(request.text)
    if offset is None:
        return request.text.rstrip("\n") + "\n\n" + made
    before, after = request.text[:offset].rstrip("\n"), request.text[offset:].lstrip("\n")
    return "\n\n".join(filter(None, (before, made.rstrip("\n"), after))).rstrip("\n") + "\n"


def _renamed(document: tomlkit.TOMLDocument, players: Any, request: SetEditRequest) -> str:
    """The set with another name for a player, also where others keep clear of that one."""
    before = players[request.at]["name"]
    if not isinstance(request.value, str) or not request.value:
        raise Unusable("a player needs a name")
    _is_free(request.value, [player for i, player in enumerate(players) if i != request.at])
    players[request.at]["name"] = request.value
    for player in players:
        if player.get("beside") == before:
            player["beside"] = request.value
    return tomlkit.dumps(document)


def _without_player(text: str, players: Any, number: int) -> str:
    """The set without a player, whom nobody keeps clear of any more."""
    if isinstance(players, Array):
        document: Any = tomlkit.parse(text)
        del document["players"][number]
    else:
        places = table_places(text, "players")
        if len(places) != len(players):
            raise Unusable("this player cannot be taken out here", "do it in the text")
        start, end = places[number]
        document = tomlkit.parse(text[:start] + text[end:])
    free_of_nobody(document.get("players", []))
    return tomlkit.dumps(document)


def _with_song(request: SetEditRequest) -> str:
    """The set with a chart at its end."""
    if not isinstance(request.value, str) or not request.value:
        raise Unusable("no chart was named")
    table = tomlkit.table()
    table["chart"] = request.value
    return request.text.rstrip("\n") + "\n\n[[songs]]\n" + tomlkit.dumps(table)
