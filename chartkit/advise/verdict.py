"""The verdict on all options of a song in plain words."""

from collections.abc import Sequence

from chartkit.advise.good_places import (
    GOOD_EFFORT,
    GOOD_ODDNESS,
    GOOD_OPEN_SHARE,
    is_good,
    is_light,
)
from chartkit.advise.harmony import is_closed_harmony, is_power_chords
from chartkit.advise.ranked import RankedOption
from chartkit.advise.reasons import (
    HIGH_CAPO,
    LEAST_SHARE_NAMED,
    NEAR,
    PRICES,
    barre_names,
    chord_name,
    loss_text,
    losses_against,
    open_text,
    shape_key_name,
)
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song
from chartkit.phrases import listed
from chartkit.theory.capo import NO_CAPO
from chartkit.theory.naming import key_words

_MANY_BARRES = 0.25
"""An option that spares barres for this share of the time is named, good or not (ours)."""


def verdict_on(
    ranked: Sequence[RankedOption],
    song: Song,
    settings: AdviceSettings,
    dead: Sequence[str] = (),
) -> tuple[str, bool]:
    """The verdict on the options in plain words, and whether the best is good.

    ``dead`` are sentences on the keys that go dead under the best option and on what helps.
    """
    best = ranked[0]
    good = is_good(best)
    if best.measures.unplayable:
        verdict = _without_shapes(best)
    elif good:
        verdict = f"{str(best.option).capitalize()}: {best.reason}{_nearly_as_good(ranked)}"
    elif is_power_chords(song) and best.option == NO_CAPO:
        verdict = "No capo: power chords are one grip that can be played anywhere on the neck."
        good = True
    elif len(song.keys) > 1 and max(best.open_shares) >= GOOD_OPEN_SHARE:
        verdict, dead = _wandering(best, song), dead[1:]
    else:
        verdict = f"{_not_easy(ranked, song)}{_easier(ranked, settings)}"
    return " ".join(filter(None, (verdict, *dead))), good


def _without_shapes(best: RankedOption) -> str:
    """The chords that the instrument cannot sound, and for how long."""
    names = [chord_name(use.shape) for use in best.shapes if use.voicing is None]
    share = best.measures.unplayable
    time = "less than 1%" if share < LEAST_SHARE_NAMED else f"{share:.0%}"
    have = "has no shape" if len(names) == 1 else "have no shape"
    return f"{listed(names)} {have} on this instrument, {time} of the time."


def _not_easy(ranked: Sequence[RankedOption], song: Song) -> str:
    """What the best place is like if it is not good.

    That a song is easy nowhere is said only if no place at all is light on the hand.
    """
    best = ranked[0]
    place = "without a capo" if best.option == NO_CAPO else f"with {best.option}"
    barres = barre_names(best) if best.measures.barres else "there are no barres"
    figures = f"{open_text(best)}, {barres}{_hardship(best)}"
    if is_closed_harmony(song):
        return (
            "A capo gains little here: these closed chords can be played anywhere on the neck. "
            f"{place.capitalize()} {figures}."
        )
    if any(map(is_light, ranked)):
        return f"This song plays best {place}: {figures}."
    return f"This song is not easy anywhere. It plays best {place}: {figures}."


def _hardship(best: RankedOption) -> str:
    """What else keeps the best option from being good."""
    faults = []
    if best.measures.effort > GOOD_EFFORT:
        faults.append("hard for the hand")
    if best.measures.oddness > GOOD_ODDNESS:
        faults.append("unusual")
    return f", and many shapes are {' and '.join(faults)}" if faults else ""


def _easier(ranked: Sequence[RankedOption], settings: AdviceSettings) -> str:
    """The first option that plays well, is light on the hand or spares many barres, and the price
    that lowered its rank."""
    best, others = ranked[0], ranked[1:]
    spare = best.measures.barres - _MANY_BARRES
    easier = next(filter(is_good, others), None)
    if easier is None and not is_light(best):
        sparing = (option for option in others if option.measures.barres <= spare)
        easier = next(filter(is_light, others), None) or next(sparing, None)
    if easier is None:
        return ""
    named = f"{easier.option} ({shape_key_name(easier)} shapes)"
    if not is_good(easier):
        barres = easier.measures.barres
        left = f"barres {barres:.0%} of the time" if barres >= LEAST_SHARE_NAMED else "no barre"
        named += f", with {left}"
    losses = losses_against(easier, best, settings)
    price = next((name for name, loss in losses if name in PRICES and loss > 0), None)
    if price in (None, "closed"):  # of closed chords the verdict speaks first
        return f" Easier on the hand: {named}."
    against = loss_text(price, easier)
    if price == "fret" and not easier.option.tuned_down:  # the place is named already
        against = "that is high up the neck" if easier.option.fret >= HIGH_CAPO else ""
    return f" Easier on the hand: {', but '.join(filter(None, (named, against)))}."


def _nearly_as_good(ranked: Sequence[RankedOption]) -> str:
    close = [o for o in ranked[1:] if ranked[0].score - o.score < NEAR]
    if not close:
        return ""
    named = listed([f"{o.option} ({shape_key_name(o)} shapes)" for o in close])
    return f" Nearly as good: {named}."


def _wandering(best: RankedOption, song: Song) -> str:
    words = [f"{song.area_words(area)} {share:.0%}" for area, share in enumerate(best.open_shares)]
    words[0] = f"{key_words(song.keys[0])} is on open shapes {best.open_shares[0]:.0%} of the time"
    return (
        f"No one capo suits this song, because it changes key: with {best.option} {listed(words)}."
    )
