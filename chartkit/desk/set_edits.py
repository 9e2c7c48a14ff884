"""Changes to a set file's text that the night's view makes, comments and layout kept.

Values are changed by tomlkit, which keeps what it does not touch.  A new order of ``[[songs]]``
tables is a new order of stretches of the text, since tomlkit cannot move a table together with
the comment that stands over it.
"""

import re
from datetime import date
from itertools import pairwise
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array

from chartkit.book.set_rules import NOBODY, SET_SHEET, file_stem, pitch_of
from chartkit.desk.pages import Facts
from chartkit.desk.wishes import SetEditWish
from chartkit.files import Unusable
from chartkit.fretboard.instruments import instrument_named
from chartkit.theory.pitch import PitchRange, parse_range

_HEADER = re.compile(r"^[ \t]*\[\[?[^\]\n]*\]\]?[ \t]*(#.*)?$", re.MULTILINE)
_SONG_HEADER = re.compile(r"[ \t]*\[\[[ \t]*songs[ \t]*\]\]")
_PLAYER_HEADER = re.compile(r"[ \t]*\[\[?[ \t]*players\b")
"""A player's table, or one inside it."""
_NAME_LINE = re.compile(r"^[ \t]*name[ \t]*=[^\n]*\n?", re.MULTILINE)
_PLAYER = re.compile(r"[ \t]*\[\[[ \t]*players[ \t]*\]\]")
_SETTINGS = {
    "song": ("key", "shift", "note", "count_in", "straight_into_next"),
    "player": ("name", "reads", "paper", "size", "instrument", "range", "beside"),
    "set": ("name", "date", "place"),
}
_ON_STRINGS = ("both", "shapes")
"""Readings that need an instrument to finger shapes on."""
_USUALLY_READ = {"drums": "road-map", "voice": "words"}
"""What is read on an instrument without shapes (ours); on any other, the chords that sound."""


def edited_set(wish: SetEditWish) -> Facts:
    """The set file's text with one change.  Raises Unusable where it cannot be made."""
    try:
        document = tomlkit.parse(wish.text)
    except TOMLKitError:
        raise Unusable("the set file cannot be read", "mend its mistakes first") from None
    if wish.change == "order":
        return {"text": _reordered(wish, document.get("songs"))}
    if wish.change == "add":
        return {"text": _with_song(wish)}
    if wish.change == "add-player":
        return {"text": _with_player(wish, document.get("players", []))}
    if wish.change == "set":
        return {"text": _about_the_night(document, wish)}
    return {"text": _with_entry_changed(document, wish)}


def _with_entry_changed(document: tomlkit.TOMLDocument, wish: SetEditWish) -> str:
    """The set with one of its songs or players changed or taken out."""
    what = "song" if wish.change in ("song", "remove") else "player"
    entries = document.get(f"{what}s")
    if not isinstance(entries, AoT | Array) or wish.at >= len(entries):
        raise Unusable("the set file has changed meanwhile", "look at it again")
    if wish.change not in ("remove", "remove-player"):
        return _with_setting(document, entries, wish)
    if len(entries) == 1:
        raise Unusable(f"this is the night's only {what}", "add another one first")
    if what == "song":
        keep = [i for i in range(len(entries)) if i != wish.at]
        return _arranged(wish.text, entries, keep)
    return _without_player(wish.text, entries, wish.at)


def _with_setting(document: tomlkit.TOMLDocument, entries: AoT | Array, wish: SetEditWish) -> str:
    """The set with another value for a setting of a song or player."""
    if wish.setting not in _SETTINGS[wish.change]:
        raise Unusable(f"{wish.setting}: this is not changed here")
    if wish.setting == "name":
        return _renamed(document, entries, wish)
    entry: Any = entries[wish.at]
    if wish.setting == "beside":
        _play_beside(entry, str(wish.value or ""))
    elif wish.setting == "range" and wish.value:
        _give(entry, wish.setting, str(_range(str(wish.value))))
    else:
        _give(entry, wish.setting, wish.value)
    if wish.setting == "instrument":
        _read_on_it(entry)
    elif wish.setting == "reads":
        _play_what_is_read(entry)
    if wish.change == "player":
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
    readers = [one for one in players if one.get("reads", "both") in _ON_STRINGS]
    planned = {str(one.get("name")) for one in readers if not one.get("part")}
    for one in players:
        others = planned - {one.get("name")} if one in readers else set[str]()
        if one.get("beside") not in (None, NOBODY, *others):
            del one["beside"]
        if one.get("part") and not others:
            del one["part"]


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


def _about_the_night(document: tomlkit.TOMLDocument, wish: SetEditWish) -> str:
    """The set with another name, day or place, each at the top of the file."""
    if wish.setting not in _SETTINGS["set"] or not isinstance(wish.value, str | None):
        raise Unusable(f"{wish.setting}: this is not changed here")
    if wish.value:
        value = _day(wish.value) if wish.setting == "date" else wish.value
        if wish.setting not in document:
            return _below_the_name(wish.text, tomlkit.dumps({wish.setting: value}))
        document[wish.setting] = value
    elif wish.setting == "name":
        raise Unusable("a night needs a name")
    else:
        document.pop(wish.setting, None)
    return tomlkit.dumps(document)


def _below_the_name(text: str, line: str) -> str:
    """The text with a line under that of the night's name, else before everything."""
    table = _HEADER.search(text)
    name = _NAME_LINE.search(text, 0, len(text) if table is None else table.start())
    at = name.end() if name is not None else 0
    head = text[:at]
    return f"{head}{line}{text[at:]}" if not head or head.endswith("\n") else f"{head}\n{line}"


def _day(text: str) -> date | str:
    """A date where it is one; any other words as they are."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return text


def _reordered(wish: SetEditWish, songs: object) -> str:
    if not isinstance(songs, AoT | Array) or sorted(wish.order) != list(range(len(songs))):
        raise Unusable("the set file has changed meanwhile", "look at it again")
    return _arranged(wish.text, songs, wish.order)


def _arranged(text: str, songs: AoT | Array, order: list[int]) -> str:
    """The text with only the songs of the order, in that order."""
    if isinstance(songs, Array):
        document = tomlkit.parse(text)
        entries: Any = document["songs"]
        items = [entries[i] for i in order]
        entries.clear()
        entries.extend(items)
        return tomlkit.dumps(document)
    stretches = _stretches(text, _SONG_HEADER)
    if len(stretches) != len(songs):
        raise Unusable("the songs of this set file cannot be moved", "order them in the text")
    between = [text[a[1] : b[0]] for a, b in pairwise(stretches)]
    if any(part.strip() for part in between):
        raise Unusable("other tables stand between the songs", "order them in the text")
    parts = [text[start:end].rstrip("\n") for start, end in stretches]
    first, last = stretches[0][0], stretches[-1][1]
    songs_text = "\n\n".join(parts[i] for i in order)
    return text[:first] + songs_text + "\n" + text[last:].lstrip("\n" if order else "")


def _stretches(text: str, wanted: re.Pattern[str]) -> list[tuple[int, int]]:
    """Where each table with such a header stands, with the comment lines right above it."""
    headers = [(match.start(), match[0]) for match in _HEADER.finditer(text)]
    starts = [_above(text, start) for start, _ in headers]
    ends = [*starts, len(text)][1:]
    return [
        (start, end)
        for (_, header), start, end in zip(headers, starts, ends, strict=True)
        if wanted.match(header)
    ]


def _above(text: str, start: int) -> int:
    """The start of the comment lines that stand right above a place."""
    while start:
        before = text.rfind("\n", 0, start - 1) + 1
        if not text[before:start].lstrip().startswith("#"):
            break
        start = before
    return start


def _is_free(name: str, others: Any) -> None:
    """Raises Unusable where another player's book, or the set sheet, would have that name."""
    stem = file_stem(name)
    taken = next((one for one in others if file_stem(str(one.get("name", ""))) == stem), None)
    if taken is not None:
        raise Unusable(f"{taken['name']} plays already", "write another name, such as an initial")
    if stem == SET_SHEET:
        raise Unusable(f"{name} is the set sheet's own name", "write another one")


def _with_player(wish: SetEditWish, others: Any) -> str:
    """The set with a guitarist behind the last player, or before everything else."""
    if not isinstance(wish.value, str) or not wish.value:
        raise Unusable("no player was named")
    _is_free(wish.value, others)
    table = tomlkit.table()
    table.update({"name": wish.value, "reads": "both", "instrument": "guitar"})
    made = "[[players]]\n" + tomlkit.dumps(table)
    players = _stretches(wish.text, _PLAYER_HEADER)
    tables = [_above(wish.text, one.start()) for one in _HEADER.finditer(wish.text)]
    at = players[-1][1] if players else min(tables, default=None)
    if at is None:
        return wish.text.rstrip("\n") + "\n\n" + made
    before, after = wish.text[:at].rstrip("\n"), wish.text[at:].lstrip("\n")
    return "\n\n".join(filter(None, (before, made.rstrip("\n"), after))).rstrip("\n") + "\n"


def _renamed(document: tomlkit.TOMLDocument, players: Any, wish: SetEditWish) -> str:
    """The set with another name for a player, also where others keep clear of that one."""
    before = players[wish.at]["name"]
    if not isinstance(wish.value, str) or not wish.value:
        raise Unusable("a player needs a name")
    _is_free(wish.value, [one for i, one in enumerate(players) if i != wish.at])
    players[wish.at]["name"] = wish.value
    for one in players:
        if one.get("beside") == before:
            one["beside"] = wish.value
    return tomlkit.dumps(document)


def _without_player(text: str, players: Any, at: int) -> str:
    """The set without a player, whom nobody keeps clear of any more."""
    if isinstance(players, Array):
        document: Any = tomlkit.parse(text)
        del document["players"][at]
    else:
        stretches = _tables_of_players(text)
        if len(stretches) != len(players):
            raise Unusable("this player cannot be taken out here", "do it in the text")
        start, end = stretches[at]
        document = tomlkit.parse(text[:start] + text[end:])
    free_of_nobody(document.get("players", []))
    return tomlkit.dumps(document)


def _tables_of_players(text: str) -> list[tuple[int, int]]:
    """Where each player's table stands, with the tables inside it."""
    inside = _stretches(text, _PLAYER_HEADER)
    firsts = _stretches(text, _PLAYER)
    starts = [start for start, _ in firsts]
    ends = [
        max(end for start, end in inside if start >= first and start < after)
        for first, after in pairwise([*starts, len(text)])
    ]
    return list(zip(starts, ends, strict=True))


def _with_song(wish: SetEditWish) -> str:
    """The set with a chart at its end."""
    if not isinstance(wish.value, str) or not wish.value:
        raise Unusable("no chart was named")
    table = tomlkit.table()
    table["chart"] = wish.value
    return wish.text.rstrip("\n") + "\n\n[[songs]]\n" + tomlkit.dumps(table)
