"""The rules a set must keep beyond the form of its file.

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
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from chartkit.arrange.page_look import TRANSPOSING_INSTRUMENTS, PageLook, conflicts, reader_named
from chartkit.book.set_model import SET_PAGE_OPTIONS, PlayerModel, SongModel
from chartkit.book.toml_places import TomlPath
from chartkit.fretboard.instruments import instrument_named
from chartkit.phrases import nearest
from chartkit.syntax.setting_hints import key_hint
from chartkit.theory.capo import Capo
from chartkit.theory.key import parse_key
from chartkit.theory.note import NOTE_NAME, parse_note
from chartkit.theory.pitch import parse_range

SET_SHEET = "set-sheet"
"""The file name of the set sheet; no player may have it."""

_NAMED_NOTE = re.compile(r"([A-Ga-g])[ -]?(flat|sharp|b|#|♭|♯)?(?= |$)", re.IGNORECASE)


class BrokenRule(NamedTuple):
    """A rule of set files that is broken: which, where, in plain words, and what would mend it.

    It becomes a ``Diagnostic`` once its place in the text is known.
    """

    code: str
    path: TomlPath
    message: str
    hint: str = ""


def file_stem(text: str) -> str:
    """The text as part of a file name: lower case letters and digits, joined by hyphens."""
    plain = unicodedata.normalize("NFKC", text).casefold()
    stem = re.sub(r"[^\w]+|_+", "-", plain).strip("-")[:60].rstrip("-") or "untitled"
    return f"{stem}-pages" if _RESERVED.fullmatch(stem) else stem


_RESERVED = re.compile(r"con|prn|aux|nul|(?:com|lpt)\d")
"""Names that Windows takes for a device, whatever follows the dot.  Source: Microsoft, "Naming
Files, Paths, and Namespaces"."""


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
    try:
        return None if named == "C" else reader_named(named)
    except ValueError:
        pitches = ", ".join(TRANSPOSING_INSTRUMENTS)
        raise ValueError(
            f'"{instrument}" is not in a pitch that parts are for: {pitches}'
        ) from None


def _pitch_hint(instrument: str) -> str:
    """How the name of a transposing instrument begins, near to what was written."""
    words = instrument.split()
    written, rest = " ".join(words[:2]), " ".join(words[2:])
    meant = nearest(written, TRANSPOSING_INSTRUMENTS, 0.75)
    if meant and meant.casefold() != written.casefold():
        return f'did you mean "{" ".join(filter(None, (meant, rest)))}"?'
    return 'write, for example, instrument = "B flat trumpet"'


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
    readers = {
        reader.name for reader in parts.players.values() if reader.reads in ("both", "shapes")
    }
    planned = readers - {reader.name for reader in parts.players.values() if reader.part}
    if parts.whole:
        for number, player in parts.players.items():
            yield from _beside(player, ("players", number, "beside"), readers, planned)
    for number, song in parts.songs.items():
        yield from _song(song, ("songs", number), folder)
        if parts.whole and isinstance(song.capo, dict):
            yield from _pinned(song.capo, ("songs", number, "capo"), planned)


def _names(players: dict[int, PlayerModel]) -> Iterator[BrokenRule]:
    used_stems: dict[str, str] = {}
    for number, player in players.items():
        stem, path = file_stem(player.name), ("players", number, "name")
        if stem == SET_SHEET:
            yield BrokenRule(
                "name-taken",
                path,
                f'"{player.name}" is the set sheet\'s own name',
                "give the player another name, such as one with an initial",
            )
        elif stem in used_stems:
            yield BrokenRule(
                "name-taken",
                path,
                f'two players are called "{player.name}"'
                if player.name == used_stems[stem]
                else f'"{player.name}" and "{used_stems[stem]}" would share the file {stem}.pdf',
                "give one of them another name, such as one with an initial",
            )
        used_stems.setdefault(stem, player.name)


def _pages(player: PlayerModel, path: TomlPath) -> Iterator[BrokenRule]:
    """Page options of one player that have no effect beside others."""
    given = {o.name: v for o in SET_PAGE_OPTIONS if (v := getattr(player, o.name)) is not None}
    for message, hint in conflicts(PageLook(**given)):
        yield BrokenRule("bad-value", (*path, "size"), message.replace("--", ""), hint)


def _voice(player: PlayerModel, path: TomlPath) -> Iterator[BrokenRule]:
    """A singer's range or keys that cannot be read."""
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
                _key_hint(key),
            )


def _key_hint(text: str) -> str:
    """How a key is written that is written otherwise here: in German, in syllables, small."""
    return key_hint(text) or "write a tonic such as B or Eb, or a key such as F#m"


def _player(player: PlayerModel, path: TomlPath) -> Iterator[BrokenRule]:
    yield from _pages(player, path)
    yield from _voice(player, path)
    if player.reads == "transposed":
        yield from _transposing(player, path)
    if player.reads in ("both", "shapes"):
        yield from _fingered(player, path)


def _transposing(player: PlayerModel, path: TomlPath) -> Iterator[BrokenRule]:
    """An instrument whose name does not say how it transposes."""
    try:
        pitch_of(player.instrument)
    except ValueError as reason:
        yield BrokenRule(
            "no-instrument",
            (*path, "instrument" if player.instrument else "reads"),
            f"{player.name}: {reason}",
            _pitch_hint(player.instrument),
        )


def _fingered(player: PlayerModel, path: TomlPath) -> Iterator[BrokenRule]:
    """Instruments of a reader of shapes that are missing or unknown, or share a name."""
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
            if where[-1] == "tuning":
                message = message.replace("an instrument with strings", "a tuning")
            elif player.reads == "both" and "did you mean" not in hint:
                hint = f'{hint}; a player without strings reads "sounding", "words" or "road-map"'
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
    own = [(("guitars", i, "tuning"), guitar.tuning) for i, guitar in enumerate(player.guitars)]
    yield from ((path, text) for path, text in own if text)
    if not own or any(not text for _, text in own):
        yield ("tuning" if player.tuning else "instrument",), own_tuning(player)


def own_tuning(player: PlayerModel) -> str:
    """The tuning of a player's guitar that has none of its own."""
    return player.tuning or player.instrument or "guitar"


def _song(song: SongModel, path: TomlPath, folder: Path) -> Iterator[BrokenRule]:
    if not is_in_folder(folder, song.chart):
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
            _key_hint(song.key),
        )
    if song.straight_into_next and song.interval_after:
        yield BrokenRule(
            "interval-without-pause",
            (*path, "interval_after"),
            "a song runs straight into the next, and the interval stands between the two",
            "leave out straight_into_next or interval_after",
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
            f"take out part{' and beside' if player.beside else ''}, and {player.name} plays full "
            "chords; for one night leave the missing guitarist in the file and say --without NAME",
        )
        return
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
        hint = f'shapes are read by {known}; or write "{NOBODY}"' if known else "take the line out"
        meant = nearest(player.beside or "", sorted(others))
        yield BrokenRule(
            "unknown-player",
            path,
            f'"{player.beside}" is not another player who reads shapes',
            f'did you mean "{meant}"?' if meant else hint,
        )


def _pinned(capo: dict[str, int | Capo], path: TomlPath, readers: set[str]) -> Iterator[BrokenRule]:
    known = ", ".join(sorted(readers)) or "nobody"
    for name in capo:
        meant = nearest(name, sorted(readers))
        if name not in readers:
            yield BrokenRule(
                "unknown-player",
                (*path, name),
                f'"{name}" is not a player who reads shapes',
                f'did you mean "{meant}"?' if meant else f"shapes are read by {known}",
            )


def is_in_folder(folder: Path, chart: str) -> bool:
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
