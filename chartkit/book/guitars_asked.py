"""The guitars on which each song is tried, and the pairs of guitarists who keep clear of each
other."""

from chartkit.advise.settings import AdviceSettings
from chartkit.book.read_song import GuitarAsked
from chartkit.book.set_list import Player, SetList


def guitars_asked(player: Player, set_list: SetList) -> tuple[GuitarAsked, ...]:
    """The question to the adviser for each guitar of a player: everything that is allowed or
    pinned."""
    pinned = [song.capos[player.name] for song in set_list.songs if player.name in song.capos]
    come_down = max((guitar.tuned_down for guitar in player.guitars), default=0)
    settings = AdviceSettings(
        highest_capo=max([player.highest_capo, *(capo.fret for capo in pinned)]),
        most_down=max([player.most_down, come_down, *(capo.tuned_down for capo in pinned)]),
        capo_when_down=come_down > 0,
        place=set_list.stage.place,
        short_capos=tuple(
            dict.fromkeys([*player.short_capos, *(capo for capo in pinned if capo.strings)])
        ),
    )
    return tuple(GuitarAsked(guitar.instrument, settings) for guitar in player.guitars)


def all_guitars_asked(set_list: SetList) -> tuple[GuitarAsked, ...]:
    """The same for the whole band, each question once."""
    asked = (one for player in set_list.players for one in guitars_asked(player, set_list))
    return tuple(dict.fromkeys(asked))


def leaders_first(set_list: SetList) -> tuple[tuple[Player, Player | None], ...]:
    """Every guitarist with the one to keep clear of, who stands earlier in the list.

    Guitarists who all keep clear of one another in a circle begin with the first of the file,
    who then plays as if alone.
    """
    waiting = {player.name: player for player in set_list.players if player.guitars}
    ordered = list[tuple[Player, Player | None]]()
    by_name = dict(waiting)
    while waiting:
        free = (one for one in waiting.values() if one.beside not in waiting)
        player = next(free, next(iter(waiting.values())))
        del waiting[player.name]
        leader = by_name.get(player.beside)
        ordered.append((player, leader if leader and leader.name not in waiting else None))
    return tuple(ordered)


def pairs_asked(set_list: SetList) -> tuple[tuple[int, int], ...]:
    """The guitars, by their place among ``all_guitars_asked``, that are played side by side:
    first that of the player who is kept clear of."""
    asked = all_guitars_asked(set_list)
    pairs = (
        (asked.index(theirs), asked.index(own))
        for player, leader in leaders_first(set_list)
        if leader is not None
        for theirs in guitars_asked(leader, set_list)
        for own in guitars_asked(player, set_list)
    )
    return tuple(dict.fromkeys(pairs))
