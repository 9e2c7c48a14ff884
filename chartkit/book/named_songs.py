"""For a set file with mistakes: the facts that tell whether the songs sat out are in the set."""

from pathlib import Path
from typing import Any

from chartkit.book.set_from_model import Places
from chartkit.book.set_list import Player, SetList, SongEntry, Stage
from chartkit.book.set_rules import is_in_folder


def named_songs(values: dict[str, Any], folder: Path, places: Places) -> SetList | None:
    """The songs' charts and what each player sits out, and nothing else.

    None where a song's chart is not known: then any name may be that song's.  A chart
    outside the folder counts as not known, since it is not to be read.
    """
    charts = [song.get("chart") for song in _tables(values, "songs")]
    songs = [
        SongEntry(folder / name, name, span=places.at("songs", number, "chart"))
        for number, name in enumerate(charts)
        if isinstance(name, str) and name.strip() and is_in_folder(folder, name)
    ]
    if not songs or len(songs) < len(charts):
        return None
    players = [
        _player(player, number, places) for number, player in enumerate(_tables(values, "players"))
    ]
    return SetList(
        name="", date="", place="", stage=Stage(), players=tuple(players), songs=tuple(songs)
    )


def _tables(values: dict[str, Any], name: str) -> list[dict[str, Any]]:
    """The tables of that name; an empty one in place of each entry that is not a table."""
    value = values.get(name)
    entries = value if isinstance(value, list) else []
    return [entry if isinstance(entry, dict) else {} for entry in entries]


def _player(values: dict[str, Any], number: int, places: Places) -> Player:
    """The player with the songs sat out; what is no title or number is reported elsewhere."""
    value = values.get("sits_out")
    named = [
        (str(name), places.at("players", number, "sits_out", i))
        for i, name in enumerate(value if isinstance(value, list) else [])
        if type(name) is int or (isinstance(name, str) and name.strip() and name.isprintable())
    ]
    return Player(
        name="",
        sits_out=tuple(name for name, _ in named),
        sits_out_spans=tuple(span for _, span in named),
    )
