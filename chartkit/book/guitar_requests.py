"""The guitars on which each song is tried, and the pairs of guitarists who keep clear of each
other."""

from itertools import product

from chartkit.advise.settings import AdviceSettings
from chartkit.book.read_song import GuitarRequest
from chartkit.book.set_list import Player, SetList


def guitars_asked(player: Player, set_list: SetList) -> tuple[GuitarRequest, ...]:
    """The question to the adviser for each guitar of a player: everything that is allowed or
    pinned."""
    pinned = [song.capos[player.name] for song in set_list.songs if player.name in song.capos]
    come_down = max((guitar.tuned_down for guitar in player.guitars), default=0)
    settings = AdviceSettings(
        highest_capo=max([player.highest_capo, *(capo.raised + come_down for capo in pinned)]),
        most_down=max([player.most_down, come_down, *(capo.tuned_down for capo in pinned)]),
        capo_when_down=come_down > 0,
        place=set_list.stage.place,
        short_capos=tuple(
            dict.fromkeys([*player.short_capos, *(capo for capo in pinned if capo.strings)])
        ),
    )
    return tuple(GuitarRequest(guitar.instrument, settings) for guitar in player.guitars)


def all_guitars_asked(set_list: SetList) -> tuple[GuitarRequest, ...]:
    """The requests of the whole band, each once."""
    asked = (request for player in set_list.players for request in guitars_asked(player, set_list))
    return tuple(dict.fromkeys(asked))


def leaders_first(set_list: SetList) -> tuple[tuple[Player, tuple[Player, ...]], ...]:
    """Every guitarist with those to keep clear of, who stand earlier in the list: the one named,
    and whoever keeps clear of that one too.

    Guitarists who all keep clear of one another in a circle begin with the first of the file,
    who then plays as if alone.
    """
    waiting = {player.name: player for player in set_list.players if player.guitars}
    ordered = list[tuple[Player, tuple[Player, ...]]]()
    by_name = dict(waiting)
    while waiting:
        free = (player for player in waiting.values() if player.beside not in waiting)
        player = next(free, next(iter(waiting.values())))
        del waiting[player.name]
        leader = by_name.get(player.beside)
        others = tuple[Player, ...]()
        if leader is not None and leader.name not in waiting:
            mates = (player for player, minded in ordered if minded and minded[0] == leader)
            others = (leader, *mates)
        ordered.append((player, others))
    return tuple(ordered)


def pairs_asked(set_list: SetList) -> tuple[tuple[int, int], ...]:
    """The guitars, by their place among ``all_guitars_asked``, that are played side by side:
    first that of the player who is kept clear of."""
    places = {request: place for place, request in enumerate(all_guitars_asked(set_list))}
    guitars = {
        player.name: [places[request] for request in guitars_asked(player, set_list)]
        for player in set_list.players
    }
    pairs = (
        pair
        for player, others in leaders_first(set_list)
        for other in others
        for pair in product(guitars[other.name], guitars[player.name])
    )
    return tuple(dict.fromkeys(pairs))
