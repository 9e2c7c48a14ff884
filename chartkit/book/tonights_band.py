"""The band as it plays tonight, without players who cannot come."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from chartkit.book.set_model import PlayerModel, SetModel, SongModel
from chartkit.book.set_rules import own_tuning
from chartkit.fretboard.instruments import instrument_named
from chartkit.phrases import listed, nearest


class UnknownPlayer(ValueError):
    """No player of the set has that name, or nobody would be left; ``hint`` says what helps.

    ``others`` are the same for further names.
    """

    def __init__(self, message: str, hint: str, others: "tuple[UnknownPlayer, ...]" = ()) -> None:
        """A message and a hint."""
        super().__init__(message)
        self.hint = hint
        self.others = others


@dataclass(frozen=True, slots=True)
class Band:
    """Tonight's players by their number in the file, from 0, and what some of them play otherwise.

    ``missing`` are the names of those who cannot come.
    """

    players: dict[int, PlayerModel]
    missing: frozenset[str] = frozenset()
    said: tuple[str, ...] = ()

    def songs(self, model: SetModel) -> Iterator[SongModel]:
        """The songs, without the capos of players who cannot come."""
        for song in model.songs:
            if isinstance(song.capo, dict) and not self.missing.isdisjoint(song.capo):
                kept = {name: capo for name, capo in song.capo.items() if name not in self.missing}
                song = song.model_copy(update={"capo": kept})
            yield song


def tonights_band(model: SetModel, without: Sequence[str] = ()) -> Band:
    """The band without the players of those names, upper and lower case alike.

    Whoever keeps clear of one of them, or plays a part beside one, does so beside another
    guitarist, the first of the file; if none is left, a player of a part plays full chords: a
    ukulele, mandolin or banjo alone leaves the chords of a band thin (common practice, no source).
    Raises UnknownPlayer.
    """
    missing = _players_named(without, model)
    here = {i: player for i, player in enumerate(model.players) if player.name not in missing}
    if not here:
        raise UnknownPlayer("nobody is left to play", "leave out fewer players")
    chords = [player for player in model.players if _plays_chords(player)]
    every = [player.name for player in chords if _on_guitars(player)]
    leaders = [name for name in every if name not in missing]
    usual = next(iter([*every, *(player.name for player in chords)]), "")
    players, said = dict[int, PlayerModel](), list[str]()
    for number, player in here.items():
        update: dict[str, object] = {"beside": ""} if player.beside in missing else {}
        first = player.beside or usual
        if player.part and first in missing and leaders:
            said.append(f"{player.name} plays a part beside {leaders[0]} tonight")
        elif player.part and first in missing:
            gone = [name for name in every if name in missing] or [first]
            said.append(f"{player.name} plays full chords tonight, since {_not_here(gone)}")
            update = {"beside": "", "part": False}
        players[number] = player.model_copy(update=update) if update else player
    return Band(players, missing, tuple(said))


def _players_named(names: Sequence[str], model: SetModel) -> frozenset[str]:
    """The names in the file.  Raises UnknownPlayer with all that are not there."""
    missing, wrong = set[str](), list[UnknownPlayer]()
    for name in names:
        try:
            missing.add(_player_named(name, model))
        except UnknownPlayer as reason:
            wrong.append(reason)
    if wrong:
        raise UnknownPlayer(str(wrong[0]), wrong[0].hint, tuple(wrong[1:]))
    return frozenset(missing)


def _player_named(name: str, model: SetModel) -> str:
    """The name in the file. Raises UnknownPlayer."""
    names = {player.name.casefold(): player.name for player in model.players}
    plain = " ".join(name.split()).casefold()
    if plain in names:
        return names[plain]
    near = nearest(plain, names)
    hint = f"the players are {listed(list(names.values()))}"
    raise UnknownPlayer(
        f'nobody in the set is called "{name}"',
        f'did you mean "{names[near]}"?' if near else hint,
    )


def _plays_chords(player: PlayerModel) -> bool:
    """Whether a part can be played beside the player."""
    return player.reads in ("both", "shapes") and not player.part


def _on_guitars(player: PlayerModel) -> bool:
    """Whether a player has guitars and nothing smaller."""
    tunings = [guitar.tuning or own_tuning(player) for guitar in player.guitars] or [
        own_tuning(player)
    ]
    return all(instrument_named(tuning).bass_counts for tuning in tunings)


def _not_here(missing: Sequence[str]) -> str:
    verb = "is" if len(missing) == 1 else "are"
    return f"{listed(missing)} {verb} not there"
