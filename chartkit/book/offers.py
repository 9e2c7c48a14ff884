"""Every way in which a guitarist may play each song of a night, with its cost."""

from collections.abc import Sequence

from chartkit.advise.beside import ComplementWeights
from chartkit.advise.set_steps import Guitarist, Offer
from chartkit.advise.settings import CapoPrices
from chartkit.advise.stage import GuitarSetup
from chartkit.book.guitar_requests import all_guitars_asked, guitars_asked
from chartkit.book.read_song import SongFacts
from chartkit.book.set_list import Player, SetList
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import instrument_named
from chartkit.theory.capo import Capo

_BESIDE = ComplementWeights()
OVERLAP_COST = (_BESIDE.overlap + _BESIDE.unisons) / _BESIDE.price
"""The cost of two guitarists filling exactly the same register in a song, in the adviser's score:
the same as when it ranks a capo beside a first guitar."""

RETUNED_COST = 0.6
"""The cost of a song for each half step that a guitar is tuned below or above how it was brought,
in the adviser's score: its player chose strings and set-up for that pitch, and a half step more is
12 % more pull on the neck (ours, unsourced).  With no such price one retuning would make a whole
night of slack strings free, while every capo has its own; and whoever brings a guitar tuned down
would have to tune it up for the night, only to spare a capo one fret, where players put the capo
on (common practice, no source)."""

_OWN_CAPO, _EASIER = 0.1, 0.2
"""What the chart's own capo costs at most, which is less than a move of it, and by how much more of
the time its shapes have to be open than those of the best place (ours)."""


def guitarist(
    set_list: SetList, player: Player, facts: Sequence[SongFacts], away: frozenset[int]
) -> Guitarist:
    """A player's data for the planner; ``away`` numbers the songs that the player sits out."""
    asked = all_guitars_asked(set_list)
    places = [asked.index(request) for request in guitars_asked(player, set_list)]
    offers = tuple(
        ()
        if number in away or song.broken
        else _offers(player, song, places, pinned=set_list.songs[number].capos.get(player.name))
        for number, song in enumerate(facts)
    )
    return Guitarist(
        tuple(len(guitar.instrument.strings) for guitar in player.guitars),
        tuple(GuitarSetup(guitar.tuned_down) for guitar in player.guitars),
        offers,
    )


def _offers(
    player: Player, facts: SongFacts, places: Sequence[int], pinned: Capo | None
) -> tuple[Offer, ...]:
    """Every way to play a song on every guitar, which stand at ``places`` among all guitars asked
    about; a capo pinned by hand, or that of a written part, leaves only itself.

    Where the chart names a tuning, moves the capo inside the song or has a short one, its player
    does so; a guitarist who keeps clear of another may do otherwise.
    """
    pinned = facts.kept_capo if pinned is None else pinned
    shorts = (facts.short, pinned, *player.short_capos)
    every = tuple(
        Offer(
            guitar=guitar,
            option=way.capos[0],
            score_gap=gap + _retuned(player, guitar, way.capos[0]),
            moves=way.capos[1:],
            song_tuning=way.song_tuning,
            charted=way.capos[0] == facts.short,
            open_share=open_share,
        )
        for guitar, place in enumerate(places)
        for way, gap, open_share in facts.score_gaps[place]
        if not way.capos[0].strings or way.capos[0] in shorts
    )
    every = _hard_ones_dear(every) if player.beside else _own_capo_near(every, facts.own_capo)
    if facts.tuning and not player.beside:
        every = _in_tuning(player, every, instrument_named(facts.tuning)) or every
    if pinned is not None:
        kept = tuple(offer for offer in every if _is_pinned(player, offer, pinned))
        return kept or tuple(Offer(g, pinned, 0.0) for g in range(len(player.guitars)))
    welcome = tuple(offer for offer in every if _is_welcome(player, offer))
    moving = tuple(offer for offer in welcome if offer.as_written)
    if moving and not player.beside:
        return moving
    return welcome or tuple(
        Offer(number, Capo(0, guitar.tuned_down), 0.0)
        for number, guitar in enumerate(player.guitars)
    )


def _own_capo_near(offers: tuple[Offer, ...], own: Capo | None) -> tuple[Offer, ...]:
    """The offers; the chart's own capo costs less than a move where it is clearly easier to play
    than the best place.

    Closed harmony has a price for a capo because players of such songs rarely use one; the
    writer of this chart does, so the plan does not take the capo off only to put it on again.
    """
    best = min(offers, key=lambda offer: offer.score_gap, default=None)
    if own is None or best is None or best.open_share is None:
        return offers
    easy = best.open_share + _EASIER
    return tuple(
        offer._replace(score_gap=min(offer.score_gap, _OWN_CAPO))
        if offer.setup.capos == (own,) and (offer.open_share or 0.0) >= easy
        else offer
        for offer in offers
    )


def _hard_ones_dear(offers: tuple[Offer, ...]) -> tuple[Offer, ...]:
    """The offers; those whose shapes nobody likes cost as much as filling the same register,
    because a part does not get better by keeping clear in hard shapes. The price of the capo does
    not count, as when the adviser ranks a capo beside a first guitar.
    """
    prices = CapoPrices()
    hardness = [offer.score_gap - prices.capo(offer.option.fret) for offer in offers]
    most = min(hardness, default=0.0) + _BESIDE.playable_within
    return tuple(
        offer._replace(score_gap=offer.score_gap + OVERLAP_COST) if hard > most else offer
        for offer, hard in zip(offers, hardness, strict=True)
    )


def _in_tuning(player: Player, offers: tuple[Offer, ...], wanted: Instrument) -> tuple[Offer, ...]:
    """The offers in a tuning: on guitars that have it, else on those that are retuned."""
    have = tuple(
        offer
        for offer in offers
        if player.guitars[offer.guitar].instrument.open_pitches == wanted.open_pitches
    )
    return have or tuple(offer for offer in offers if offer.song_tuning is not None)


def _is_pinned(player: Player, offer: Offer, pinned: Capo) -> bool:
    """Whether an offer is the capo pinned by hand: on a guitar that comes tuned down also the fret
    at which the same shapes sound, since a number stands for shapes and not for a tuning."""
    capos, own = offer.setup.capos, player.guitars[offer.guitar].tuned_down
    if capos == (pinned,):
        return True
    whole = len(capos) == 1 and not (pinned.strings or capos[0].strings)
    return whole and (capos[0].tuned_down, capos[0].raised) == (own, pinned.raised)


def _is_welcome(player: Player, offer: Offer) -> bool:
    """Whether the player accepts the capo and the tuning: a guitar may stay tuned down as it comes,
    even if tuning on stage is not wanted."""
    down = max(player.most_down, player.guitars[offer.guitar].tuned_down)
    frets = (capo.fret for capo in offer.setup.capos)
    return max(frets) <= player.highest_capo and offer.option.tuned_down <= down


def _retuned(player: Player, guitar: int, capo: Capo) -> float:
    """The cost of a song on strings slacker or tighter than the guitar was brought with."""
    return RETUNED_COST * abs(capo.tuned_down - player.guitars[guitar].tuned_down)


def first_choice(offers: tuple[Offer, ...], start: tuple[GuitarSetup, ...]) -> Offer | None:
    """The best offer for a song by itself: of each guitar's first choice the one with the least
    score gap, on the first guitar that has it.

    ``start`` is how the guitars are brought.  The adviser lists the best of a guitar first; its
    first choice is looked for in the tuning that the guitar comes in, so long as there is one.
    """
    firsts = dict[int, Offer]()
    for offer in offers:
        kept = firsts.setdefault(offer.guitar, offer)
        own = start[offer.guitar].tuned_down
        if offer.option.tuned_down == own != kept.option.tuned_down:
            firsts[offer.guitar] = offer
    return min(firsts.values(), key=lambda offer: (offer.score_gap, offer.guitar), default=None)
