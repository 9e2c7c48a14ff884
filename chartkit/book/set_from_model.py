"""The set as values, made from a set file without mistakes."""

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from chartkit.advise.settings import USUAL_HIGHEST_CAPO, USUALLY_DOWN
from chartkit.advise.stage import StageCosts
from chartkit.arrange.page_look import PageLook
from chartkit.book.set_list import Player, SetList, SongEntry, Stage, StageGuitar
from chartkit.book.set_model import SET_PAGE_OPTIONS, PagesModel, PlayerModel, SetModel, SongModel
from chartkit.book.set_rules import NOBODY, own_tuning, pitch_of
from chartkit.book.toml_places import TomlPath
from chartkit.book.tonights_band import Band, tonights_band
from chartkit.diagnostics import Span
from chartkit.fretboard.instruments import instrument_named
from chartkit.theory.capo import Capo
from chartkit.theory.pitch import parse_range

_A_SECOND_OF_STUDIO = 0.1
"""In the studio a second of waiting weighs a tenth of what it does on stage (ours)."""


@dataclass(frozen=True, slots=True)
class Places:
    """Gives the place in the file of a value by its path."""

    spans: dict[TomlPath, Span]

    def at(self, *path: str | int) -> Span:
        """The place of a value, or the nearest place above it."""
        while path and path not in self.spans:
            path = path[:-1]
        return self.spans.get(path, Span(0, 0))


def set_from(model: SetModel, folder: Path, places: Places, band: Band | None = None) -> SetList:
    """The set as values; the model has no mistakes.  ``band`` is tonight's, if not the whole."""
    band = band or tonights_band(model)
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
        _made_player(player_model, i, model, folder, places)
        for i, player_model in band.players.items()
    )
    readers = tuple(player.name for player in players if player.takes_capo)
    players = tuple(replace(player, beside=_neighbour(player, players)) for player in players)
    songs = tuple(
        _made_song(song, i, folder, readers, places) for i, song in enumerate(band.songs(model))
    )
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

    A guitarist of whom the first one keeps clear keeps clear of nobody. Nor do players of a
    ukulele, mandolin or banjo, which sound higher anyway, unless the file says so.  A part is
    played beside one of these only if there is no guitarist.
    """
    if player.beside:
        return "" if player.beside == NOBODY else player.beside
    with_strings = [guitarist for guitarist in players if guitarist.guitars]
    firsts = [guitarist for guitarist in with_strings if _on_guitars(guitarist)]
    if player.part and not firsts:
        firsts = with_strings
    if not firsts or firsts[0] == player or player.name == firsts[0].beside:
        return ""
    return firsts[0].name if player.part or (player.guitars and _on_guitars(player)) else ""


def _on_guitars(player: Player) -> bool:
    """Whether a player has guitars and nothing smaller."""
    return all(guitar.instrument.bass_counts for guitar in player.guitars)


def _date_words(given: date | str) -> str:
    """A date in words: 27 November 2026; a text is unchanged."""
    return given if isinstance(given, str) else f"{given.day} {given:%B %Y}"


def _usual_capo(guitars: tuple[StageGuitar, ...]) -> int:
    """The highest capo if the file does not say: none on a ukulele or mandolin, whose players carry
    none (common practice, no source)."""
    carried = not guitars or any(guitar.instrument.has_capo for guitar in guitars)
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
                guitar.name,
                instrument_named(guitar.tuning or own_tuning(player)),
                guitar.tuned_down,
            )
            for guitar in player.guitars
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
        interval_after=song.interval_after,
        span=places.at("songs", number, "chart"),
        key_span=places.at("songs", number, "key"),
    )
