"""How each player reads each song tonight, as requests for their pages."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from chartkit.advise.set_steps import SetStep
from chartkit.book.make_song import PagesRequest, PartAsked
from chartkit.book.night import Night
from chartkit.book.night_plan import NightPlan
from chartkit.book.player_plan import PlayerPlan
from chartkit.book.read_song import SongFacts
from chartkit.book.set_list import Player, SongEntry
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import instrument_named
from chartkit.fretboard.retuning import song_tuning
from chartkit.theory.capo import NO_CAPO, Capo

INTERVAL_NEXT = "then the INTERVAL"
"""The words for a song before the interval, in capitals: nobody must play on past it."""


@dataclass(frozen=True, slots=True)
class PlayerRequests:
    """A player's part in the night: for each song, by its place, what to ask for.

    ``requests`` has None where the player sits the song out or its chart is broken.
    ``plan`` is None for whoever has no guitar to plan, or where charts decide the capo.
    """

    player: Player
    requests: tuple[PagesRequest | None, ...]
    away: tuple[bool, ...]
    plan: PlayerPlan | None


def player_requests(night: Night, plan: NightPlan | None) -> tuple[PlayerRequests, ...]:
    """Every player's part, songs in playing order."""
    order = plan.order if plan is not None else tuple(range(len(night.facts)))
    by_player = (
        {player_plan.player.name: player_plan for player_plan in plan.players}
        if plan is not None
        else {}
    )
    everyone = []
    for player, away in zip(night.set_list.players, night.sat_out, strict=True):
        own = by_player.get(player.name)
        steps = own.steps if own is not None else (None,) * len(order)
        requests = tuple(
            None
            if number in away or night.facts[number].broken
            else replace(
                _request(night, player, order, place, steps[place]),
                part=_part_asked(night, player, by_player, order, place),
            )
            for place, number in enumerate(order)
        )
        everyone.append(
            PlayerRequests(player, requests, tuple(number in away for number in order), own)
        )
    return tuple(everyone)


def _part_asked(
    night: Night,
    player: Player,
    plans: Mapping[str, PlayerPlan],
    order: tuple[int, ...],
    place: int,
) -> PartAsked | None:
    """The part a player plays beside the guitarist named; None for whoever plays none."""
    if player.part is None:
        return None
    numbers = enumerate(night.set_list.players)
    at, first = next((i, other) for i, other in numbers if other.name == player.beside)
    if order[place] in night.sat_out[at]:
        return PartAsked(player.part, player=player.name)
    plan = plans.get(first.name)
    step = plan.steps[place] if plan is not None else None
    if step is not None:
        offer = step.offer
        capo = None if offer.as_written else offer.option
        return PartAsked(
            player.part, _instrument(first, step, night.facts[order[place]]), capo, player.name
        )
    pinned = night.set_list.songs[order[place]].capos.get(first.name)
    return PartAsked(player.part, first.guitars[0].instrument, pinned, player.name)


def _request(
    night: Night, player: Player, order: tuple[int, ...], place: int, step: SetStep | None
) -> PagesRequest:
    entry = night.set_list.songs[order[place]]
    return PagesRequest(
        text=night.texts[order[place]].text or "",
        key=entry.key,
        shift=entry.shift,
        capo=_capo(player, entry, step),
        instrument=_instrument(player, step, night.facts[order[place]]),
        look=player.look,
        notes=_notes(night, player, order, place, step),
        says_no_capo=capo_is_off(player, step),
    )


def _instrument(player: Player, step: SetStep | None, facts: SongFacts) -> Instrument | None:
    """What the song is played on, with the tuning that the chart names where the player retunes
    for it; None for whoever has no guitar."""
    if not player.guitars:
        return None
    own = player.guitars[0 if step is None else step.offer.guitar].instrument
    if step is not None:
        return own if step.offer.song_tuning is None else instrument_named(facts.tuning)
    named = instrument_named(facts.tuning) if facts.tuning else own
    return own if song_tuning(own, named) is None else named


def _capo(player: Player, entry: SongEntry, step: SetStep | None) -> Capo | None:
    """The capo: pinned by hand, else from the plan; None for the chart's own."""
    if not player.takes_capo:
        return NO_CAPO
    if step is not None:
        return None if step.offer.as_written else step.offer.option
    return entry.capos.get(player.name)


def _notes(
    night: Night, player: Player, order: tuple[int, ...], place: int, step: SetStep | None
) -> tuple[str, ...]:
    """Tonight's notes under the title."""
    entry = night.set_list.songs[order[place]]
    notes = [entry.note] if entry.note else []
    if entry.count_in:
        notes.append(f"count-in: {entry.count_in}")
    several = step is not None and len(player.guitars) > 1
    notes += [f"on {player.guitars[step.offer.guitar].name}"] if step and several else []
    before = order[place - 1] if place else None
    if before is not None and night.set_list.songs[before].straight_into_next:
        # Who plays the song before reads it there.
        is_away = before in night.sat_out[night.set_list.players.index(player)]
        notes += [f"straight after {night.facts[before].title}"] if is_away else []
    if entry.straight_into_next and place + 1 < len(order):
        notes.append(f"straight into {night.facts[order[place + 1]].title}")
    if entry.interval_after and place + 1 < len(order):
        notes.append(INTERVAL_NEXT)
    return tuple(notes)


def capo_is_off(player: Player, step: SetStep | None) -> bool:
    """Whether the plan has the player's capo off for a song, which its page has to say in the box
    that holds the capo's fret on other pages."""
    if step is None or not player.highest_capo or step.offer.as_written:
        return False
    return step.offer.option == NO_CAPO and step.offer.song_tuning is None


def onward_of(entry: SongEntry, place: int, count: int) -> tuple[bool, bool, str]:
    """Whether a song runs straight into the next, whether the interval follows, and the words."""
    if place + 1 == count or not (entry.straight_into_next or entry.interval_after):
        return False, False, ""
    words = INTERVAL_NEXT if entry.interval_after else f"straight into {place + 2}"
    return entry.straight_into_next, entry.interval_after, words
