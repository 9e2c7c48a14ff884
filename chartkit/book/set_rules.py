"""What a set must keep to beyond the form of its file, and the values it becomes.

- a player who reads shapes, alone or over sounding chords, names an instrument we know, or
  its tuning: without strings there are no shapes;
- a player who reads transposed chords names an instrument by the note it is in;
- players' names differ, also as file names, and none is that of the set sheet;
- a player's guitars have names of their own;
- a guitarist plays beside another one who is there, or beside nobody;
- a chart lies in the folder of the set file, or below it; a link out of it counts as outside;
- capos are pinned for players who are there and read shapes.
"""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import NamedTuple

from chartkit.advise.settings import USUAL_HIGHEST_CAPO, USUALLY_DOWN
from chartkit.advise.stage import StageCosts
from chartkit.arrange.page_look import PageLook, conflicts, reader_named
from chartkit.book.set_list import Player, SetList, SongEntry, Stage, StageGuitar
from chartkit.book.set_model import SET_PAGE_OPTIONS, PagesModel, PlayerModel, SetModel, SongModel
from chartkit.book.toml_places import Path as TomlPath
from chartkit.diagnostics import Span
from chartkit.fretboard.instruments import instrument_named
from chartkit.theory.capo import Capo
from chartkit.theory.key import parse_key
from chartkit.theory.note import NOTE_NAME, parse_note
from chartkit.theory.pitch import parse_range

SET_SHEET = "set-sheet"
"""The file name of the set sheet; no player may have it."""

_A_SECOND_OF_STUDIO = 0.1
"""In the studio a second of waiting weighs a tenth of what it does on stage (ours)."""
_NAMED_NOTE = re.compile(r"([A-Ga-g])[ -]?(flat|sharp|b|#|♭|♯)?(?= |$)", re.IGNORECASE)


class BrokenRule(NamedTuple):
    """A rule of set files that is broken: which, where, in plain words, and what would mend it.

    It becomes a ``Diagnostic`` once its place in the text is known.
    """

    code: str
    path: TomlPath
    message: str
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Places:
    """Gives the place in the file of a value by its path."""

    spans: dict[TomlPath, Span]

    def at(self, *path: str | int) -> Span:
        """Where it stands, or the nearest place above it."""
        while path and path not in self.spans:
            path = path[:-1]
        return self.spans.get(path, Span(0, 0))


def file_stem(text: str) -> str:
    """The text as part of a file name: lower case letters and digits, joined by hyphens."""
    plain = unicodedata.normalize("NFKC", text).casefold()
    stem = re.sub(r"[^\w]+|_+", "-", plain).strip("-")[:60].rstrip("-") or "untitled"
    return f"{stem}-pages" if _RESERVED.fullmatch(stem) else stem


_RESERVED = re.compile(r"con|prn|aux|nul|(?:com|lpt)\d")
"""What Windows takes for a device whatever follows the dot.  Source: Microsoft, "Naming Files,
Paths, and Namespaces"."""


def pitch_of(instrument: str) -> str | None:
    """The pitch that a transposing instrument is named by: ``B flat`` of a B flat trumpet.

    None for one in C, which reads what sounds.  Raises ValueError when the name begins with
    no note, or one that no usual instrument stands in.
    """
    match = _NAMED_NOTE.match(instrument.strip())
    if match is None:
        raise ValueError("a transposing instrument begins with its note, as in B flat trumpet")
    flat = (match[2] or "").lower() in ("flat", "b", "♭")
    named = match[1].upper() + (" flat" if flat else f" {match[2]}" if match[2] else "")
    return None if named == "C" else reader_named(named)


@dataclass(frozen=True, slots=True)
class SetParts:
    """Players and songs, by their number from 0; ``whole`` says that none is left out."""

    players: dict[int, PlayerModel]
    songs: dict[int, SongModel]
    whole: bool = True


def mistakes_in(parts: SetParts, folder: Path) -> Iterator[BrokenRule]:
    """Every rule the set breaks."""
    yield from _names(parts.players)
    for number, player in parts.players.items():
        yield from _player(player, ("players", number))
    readers = {one.name for one in parts.players.values() if one.reads in ("both", "shapes")}
    planned = readers - {one.name for one in parts.players.values() if one.part}
    if parts.whole:
        for number, player in parts.players.items():
            yield from _beside(player, ("players", number, "beside"), readers, planned)
    for number, song in parts.songs.items():
        yield from _song(song, ("songs", number), folder)
        if parts.whole and isinstance(song.capo, dict):
            yield from _pinned(song.capo, ("songs", number, "capo"), planned)


def _names(players: dict[int, PlayerModel]) -> Iterator[BrokenRule]:
    taken: dict[str, str] = {}
    for number, player in players.items():
        stem, path = file_stem(player.name), ("players", number, "name")
        if stem == SET_SHEET:
            yield BrokenRule(
                "name-taken",
                path,
                f'"{player.name}" is the set sheet\'s own name',
                "give the player another name, such as one with an initial",
            )
        elif stem in taken:
            yield BrokenRule(
                "name-taken",
                path,
                f'"{player.name}" and "{taken[stem]}" would share the file {stem}.pdf',
                "give one of them another name, such as one with an initial",
            )
        taken.setdefault(stem, player.name)


def _pages(player: PlayerModel, path: TomlPath) -> Iterator[BrokenRule]:
    """Page options of one player that are without effect beside others."""
    given = {o.name: v for o in SET_PAGE_OPTIONS if (v := getattr(player, o.name)) is not None}
    for message, hint in conflicts(PageLook(**given)):
        yield BrokenRule("bad-value", (*path, "size"), message.replace("--", ""), hint)


def _voice(player: PlayerModel, path: TomlPath) -> Iterator[BrokenRule]:
    """A singer's range that is none, and keys that are none."""
    if player.range:
        try:
            parse_range(player.range)
        except ValueError as reason:
            message, _, hint = str(reason).partition(": ")
            yield BrokenRule("bad-value", (*path, "range"), message, hint or "write A3-E5")
    for song, key in player.sat_well.items():
        if not is_key(key):
            yield BrokenRule(
                "bad-key",
                (*path, "sat_well", song),
                f'"{key}" is not a key',
                "write a tonic such as B or Eb, or a key such as F#m",
            )


def _player(player: PlayerModel, path: TomlPath) -> Iterator[BrokenRule]:
    yield from _pages(player, path)
    yield from _voice(player, path)
    if player.reads == "transposed":
        try:
            pitch_of(player.instrument)
        except ValueError as reason:
            yield BrokenRule(
                "no-instrument",
                (*path, "reads"),
                f"{player.name}: {reason}",
                'write, for example, instrument = "B flat trumpet"',
            )
    if player.reads not in ("both", "shapes"):
        return
    if not (player.instrument or player.tuning or player.guitars):
        yield BrokenRule(
            "no-instrument",
            (*path, "reads"),
            f"{player.name} reads shapes but has no instrument to finger them on",
            'write instrument = "guitar", or reads = "sounding"',
        )
        return
    for where, text in _tunings(player):
        try:
            instrument_named(text)
        except ValueError as reason:
            message, _, hint = str(reason).partition(": ")
            yield BrokenRule("bad-instrument", (*path, *where), message, hint)
    names = [guitar.name.casefold() for guitar in player.guitars]
    for number, name in enumerate(names):
        if name in names[:number]:
            yield BrokenRule(
                "name-taken",
                (*path, "guitars", number),
                f'{player.name} has two guitars called "{name}"',
                "give one of them another name",
            )


def _tunings(player: PlayerModel) -> Iterator[tuple[TomlPath, str]]:
    """Every text of a player that must be an instrument we know, and where it stands."""
    own = [(("guitars", i, "tuning"), one.tuning) for i, one in enumerate(player.guitars)]
    yield from ((path, text) for path, text in own if text)
    if not own or any(not text for _, text in own):
        yield ("tuning" if player.tuning else "instrument",), own_tuning(player)


def own_tuning(player: PlayerModel) -> str:
    """What a player's guitar is that says nothing of itself."""
    return player.tuning or player.instrument or "guitar"


def _song(song: SongModel, path: TomlPath, folder: Path) -> Iterator[BrokenRule]:
    if not inside(folder, song.chart):
        yield BrokenRule(
            "outside-folder",
            (*path, "chart"),
            f'"{song.chart}" lies outside the folder of the set',
            "copy the chart beside the set file, so that the folder is the whole set",
        )
    if song.key is not None and not is_key(song.key):
        yield BrokenRule(
            "bad-key",
            (*path, "key"),
            f'"{song.key}" is not a key',
            "write a tonic such as B or Eb, or a key such as F#m",
        )


NOBODY = "nobody"
"""What ``beside`` says for a guitarist who plays as if alone."""


def _beside(
    player: PlayerModel, path: TomlPath, readers: set[str], planned: set[str]
) -> Iterator[BrokenRule]:
    """``readers`` read shapes; ``planned`` are those of them who have no part of their own."""
    others = planned - {player.name}
    if player.part and (player.beside == NOBODY or not others):
        yield BrokenRule(
            "no-guitar",
            (*path[:-1], "part"),
            f"{player.name} has nobody to play a part beside",
            "a part is played beside a guitarist who reads shapes",
        )
    if not player.beside or player.beside == NOBODY:
        return
    if player.name not in readers:
        yield BrokenRule(
            "no-guitar",
            path,
            f"{player.name} reads no shapes, and only guitarists play beside one another",
            "take the line out",
        )
    elif player.beside not in others:
        known = ", ".join(sorted(others))
        yield BrokenRule(
            "unknown-player",
            path,
            f'"{player.beside}" is not another player who reads shapes',
            f'shapes are read by {known}; or write "{NOBODY}"' if known else "take the line out",
        )


def _pinned(capo: dict[str, int | Capo], path: TomlPath, readers: set[str]) -> Iterator[BrokenRule]:
    known = ", ".join(sorted(readers)) or "nobody"
    for name in capo:
        if name not in readers:
            yield BrokenRule(
                "unknown-player",
                (*path, name),
                f'"{name}" is not a player who reads shapes',
                f"shapes are read by {known}",
            )


def inside(folder: Path, chart: str) -> bool:
    """Whether a chart lies in the folder of the set or below it, links followed."""
    try:
        return (folder / chart).resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):
        return False


def is_key(text: str) -> bool:
    """Whether the text is a tonic or a key."""
    try:
        parse_key(text) if NOTE_NAME.fullmatch(text.strip()) is None else parse_note(text.strip())
    except ValueError:
        return False
    return True


def set_from(model: SetModel, folder: Path, places: Places) -> SetList:
    """The set as values; the model has no mistakes."""
    stage = model.stage
    worth = StageCosts().score_a_second
    costs = StageCosts(
        capo_move_seconds=stage.capo_move_seconds,
        retune_seconds=stage.retune_seconds,
        check_seconds=stage.check_seconds,
        swap_seconds=stage.swap_seconds,
        score_a_second=worth if stage.place == "live" else worth * _A_SECOND_OF_STUDIO,
        helper=stage.helper,
    )
    players = tuple(
        _made_player(one, i, model, folder, places) for i, one in enumerate(model.players)
    )
    readers = tuple(player.name for player in players if player.takes_capo)
    players = tuple(replace(one, beside=_neighbour(one, players)) for one in players)
    songs = tuple(_made_song(one, i, folder, readers, places) for i, one in enumerate(model.songs))
    stage_value = Stage(stage.place, costs, stage.capos)
    return SetList(
        name=model.name,
        date=_date_words(model.date),
        place=model.place,
        stage=stage_value,
        players=players,
        songs=songs,
    )


def _neighbour(player: Player, players: tuple[Player, ...]) -> str:
    """The guitarist a player keeps clear of: the one named, else the first of the file.

    A guitarist whom that first one keeps clear of keeps clear of nobody, nor does, unless the file
    says so, whoever plays a ukulele, mandolin or banjo, which sound higher anyway.
    """
    if player.beside:
        return "" if player.beside == NOBODY else player.beside
    firsts = [one for one in players if one.guitars and (player.part or _on_guitars(one))]
    if not firsts or firsts[0] == player or player.name == firsts[0].beside:
        return ""
    return firsts[0].name if player.part or (player.guitars and _on_guitars(player)) else ""


def _on_guitars(player: Player) -> bool:
    """Whether a player has guitars and nothing smaller."""
    return all(guitar.instrument.bass_counts for guitar in player.guitars)


def _date_words(given: date | str) -> str:
    """A date as it is said: 27 November 2026; a text stays as it is."""
    return given if isinstance(given, str) else f"{given.day} {given:%B %Y}"


def _usual_capo(guitars: tuple[StageGuitar, ...]) -> int:
    """How high a capo may go where the file does not say: nowhere on a ukulele or mandolin, whose
    players carry none (common practice, no source)."""
    strings = [guitar.instrument for guitar in guitars]
    has_drone = any(string.drone for one in strings for string in one.strings)
    carried = not strings or has_drone or any(one.bass_counts for one in strings)
    return USUAL_HIGHEST_CAPO if carried else 0


def _made_player(
    player: PlayerModel, number: int, model: SetModel, folder: Path, places: Places
) -> Player:
    spans = (places.at("players", number, "sits_out", i) for i in range(len(player.sits_out)))
    guitars, highest = _guitars(player), player.highest_capo
    return Player(
        name=player.name,
        instrument=player.instrument,
        guitars=guitars,
        highest_capo=_usual_capo(guitars) if highest is None else highest,
        short_capos=tuple(dict.fromkeys(player.short_capos)),
        most_down=USUALLY_DOWN[model.stage.place] if player.tune_down is None else player.tune_down,
        look=_look(player, model.pages, folder),
        sung_range=parse_range(player.range) if player.range else None,
        sat_well=tuple(player.sat_well.items()),
        beside=player.beside,
        part=instrument_named(own_tuning(player)) if player.part else None,
        sits_out=tuple(map(str, player.sits_out)),
        sits_out_spans=tuple(spans),
    )


def _look(player: PlayerModel, pages: PagesModel, folder: Path) -> PageLook:
    """The player's own page options, else those for everybody, else the usual ones."""
    own = {o.name: getattr(player, o.name) for o in SET_PAGE_OPTIONS}
    shared = {o.name: getattr(pages, o.name) for o in SET_PAGE_OPTIONS}
    for one, other in (("size", "large"), ("large", "size")):
        if own[one]:
            shared[other] = None
    values = {name: shared[name] if value is None else value for name, value in own.items()}
    given = {name: value for name, value in values.items() if value is not None}
    if player.part:
        given.setdefault("diagrams", True)
    if isinstance(given.get("font"), Path):
        given["font"] = folder / given["font"]
    return PageLook(
        show="sounding" if player.reads == "transposed" else player.reads,
        reads=pitch_of(player.instrument) if player.reads == "transposed" else None,
        **given,
    )


def _guitars(player: PlayerModel) -> tuple[StageGuitar, ...]:
    if player.part or player.reads not in ("both", "shapes"):
        return ()
    if player.guitars:
        return tuple(
            StageGuitar(
                one.name, instrument_named(one.tuning or own_tuning(player)), one.tuned_down
            )
            for one in player.guitars
        )
    instrument = instrument_named(own_tuning(player))
    return (StageGuitar(player.instrument or instrument.name, instrument),)


def _made_song(
    song: SongModel, number: int, folder: Path, readers: tuple[str, ...], places: Places
) -> SongEntry:
    pinned = song.capo if isinstance(song.capo, dict) else dict.fromkeys(readers, song.capo)
    capos = {
        name: capo if isinstance(capo, Capo) else Capo.from_number(capo)
        for name, capo in pinned.items()
    }
    return SongEntry(
        chart=folder / song.chart,
        name=song.chart,
        key=song.key,
        shift=song.shift,
        capos=capos,
        note=song.note,
        count_in=song.count_in,
        straight_into_next=song.straight_into_next,
        span=places.at("songs", number, "chart"),
        key_span=places.at("songs", number, "key"),
    )
