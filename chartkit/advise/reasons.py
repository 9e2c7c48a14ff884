"""Why an option stands where it stands, in one plain sentence, and what to make of them all."""

from collections.abc import Sequence

from chartkit.advise.measures import contributions, is_wide_barre
from chartkit.advise.ranked import RankedOption
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song
from chartkit.theory.chord import Chord
from chartkit.theory.note import signed_name

GOOD_OPEN_SHARE = 0.6
GOOD_BARRES = 0.35
"""From so much time on open shapes, and up to so much on barres, an option is good (ours)."""

GOOD_EFFORT = 1.0
GOOD_ODDNESS = 0.4
"""Up to so much mean effort and oddness an option is good (ours): C, F, G and Am at the nut
come to 0.4 and 0.1, twelve hard jazz chords to 1.05."""

HIGH_CAPO = 6
"""From this fret on a capo is high up the neck (ours)."""

NEAR = 0.1
"""Scores closer than this are as good as even: half of what one fret of a capo costs (ours)."""

_MOST_NAMED = 3

_LOSSES = {
    "open_share": "fewer shapes are open ({open_share:.0%} of the time)",
    "ring": "fewer strings ring open",
    "kept": "fewer open strings ring on across the changes",
    "held": "fewer fingers stay where they are",
    "mutes": "more strings have to stay silent",
    "effort": "the shapes are harder for the hand",
    "movement": "the ways from shape to shape are longer",
    "oddness": "some shapes are unusual",
    "unplayable": "some chords have no fingering ({unplayable:.0%} of the time)",
}


def reason_for(option: RankedOption, best: RankedOption, settings: AdviceSettings) -> str:
    """One sentence: what carries the best option, or what holds another one back most."""
    if option.option == best.option:
        return _praise(option)
    losses = _losses_against(option, best, settings)
    if losses[0][0] == "price" and losses[1][1] <= losses[0][1] / 2 and is_good(option):
        return f"{shape_key_name(option)} shapes, good, but {_price_text(option)}."
    named = [_loss_text(name, option) for name, loss in losses[:2] if loss > losses[0][1] / 2]
    return f"{shape_key_name(option)} shapes, less good than {best.option}: {', and '.join(named)}."


def _praise(option: RankedOption) -> str:
    measures = option.measures
    strings = len(option.voicings[0].frets) if option.voicings[0] is not None else 6
    parts = [f"{shape_key_name(option)} shapes, {measures.open_share:.0%} of the time open"]
    if measures.ring >= 1 / strings:
        parts.append(f"{measures.ring * strings:.1f} strings ring open on average")
    if measures.barres:
        parts.append(barre_names(option))
    return f"{', '.join(parts)}."


def barre_names(option: RankedOption) -> str:
    """Which shapes are barres and how long: ``F and B♭ are barres 50% of the time``."""
    shares: dict[str, float] = {}
    for use in option.shapes:
        if use.voicing is not None and is_wide_barre(use.voicing):
            name = _chord_name(use.shape)
            shares[name] = shares.get(name, 0.0) + use.share
    names = sorted(shares, key=lambda name: -round(shares[name], 9))
    more = len(names) - _MOST_NAMED
    if more > 1:
        names = [*names[:_MOST_NAMED], f"{more} more"]
    joined = " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
    are = "is a barre" if len(names) == 1 else "are barres"
    return f"{joined} {are} {sum(shares.values()):.0%} of the time"


def _chord_name(chord: Chord) -> str:
    """A chord with its signs, as keys are named: ``B♭m7``, ``D/F♯``."""
    bass = "" if chord.bass is None else f"/{signed_name(chord.bass)}"
    return f"{signed_name(chord.root)}{chord.quality.text}{bass}"


def shape_key_name(option: RankedOption) -> str:
    """The key of the shapes where the song starts, ``G`` or ``Em``."""
    key = option.shape_keys[0]
    return signed_name(key.tonic) + {"major": "", "minor": "m"}.get(key.mode, f" {key.mode}")


def _losses_against(
    option: RankedOption, best: RankedOption, settings: AdviceSettings
) -> list[tuple[str, float]]:
    """What the option loses to the best one, by measure or price, greatest loss first."""
    own = contributions(option.measures, settings.score)
    others = contributions(best.measures, settings.score)
    losses = {name: others[name] - own[name] for name in own}
    losses["price"] = option.price - best.price
    return sorted(losses.items(), key=lambda loss: -loss[1])


def _price_text(option: RankedOption) -> str:
    capo, down = option.option.fret, option.option.tuned_down
    if down:
        return f"every string is tuned down {down} and back"
    high = ", high up the neck" if capo >= HIGH_CAPO else ""
    return f"the capo sits at fret {capo}{high}"


def _loss_text(name: str, option: RankedOption) -> str:
    if name == "price":
        return _price_text(option)
    if name == "barres":
        return barre_names(option)
    values = {field: getattr(option.measures, field) for field in _LOSSES}
    return _LOSSES[name].format(**values)


def is_good(option: RankedOption) -> bool:
    """Whether an option is on open shapes, with few barres, and easy and usual enough."""
    measures = option.measures
    return (
        measures.open_share >= GOOD_OPEN_SHARE
        and measures.barres <= GOOD_BARRES
        and measures.effort <= GOOD_EFFORT
        and measures.oddness <= GOOD_ODDNESS
        and not measures.unplayable
    )


def verdict_on(ranked: Sequence[RankedOption], song: Song) -> tuple[str, bool]:
    """What to make of the options, best first, in plain words, and whether the best is good."""
    best = ranked[0]
    measures = best.measures
    if measures.unplayable:
        return (
            f"No option fingers every chord: {measures.unplayable:.0%} of the time there is "
            "no shape on this instrument.",
            False,
        )
    if is_good(best):
        return f"{str(best.option).capitalize()}: {best.reason}{_nearly_as_good(ranked)}", True
    if len(song.keys) > 1 and max(best.open_shares) >= GOOD_OPEN_SHARE:
        return _wandering(best, song), False
    return (
        f"No capo makes this song easy: the best option, {best.option}, is on open shapes "
        f"{measures.open_share:.0%} of the time and on barres {measures.barres:.0%}"
        f"{_hardship(best)}.{_easier(ranked)}",
        False,
    )


def _hardship(best: RankedOption) -> str:
    """What else keeps the best option from being good."""
    told = []
    if best.measures.effort > GOOD_EFFORT:
        told.append("hard for the hand")
    if best.measures.oddness > GOOD_ODDNESS:
        told.append("unusual")
    return f", and many of its shapes are {' and '.join(told)}" if told else ""


def _easier(ranked: Sequence[RankedOption]) -> str:
    """The first option that plays well, though its price put it further down."""
    good = next((option for option in ranked if is_good(option)), None)
    if good is None:
        return ""
    return f" Easier on the hand, at a price: {good.option} ({shape_key_name(good)} shapes)."


def _nearly_as_good(ranked: Sequence[RankedOption]) -> str:
    close = [o for o in ranked[1:] if ranked[0].score - o.score < NEAR]
    if not close:
        return ""
    named = " and ".join(f"{o.option} ({shape_key_name(o)} shapes)" for o in close)
    return f" Nearly as good: {named}."


def _wandering(best: RankedOption, song: Song) -> str:
    told = ", ".join(
        f"{key} {share:.0%}" for key, share in zip(song.keys, best.open_shares, strict=True)
    )
    return (
        f"No one capo suits this song, because it changes key: with {best.option} the time on "
        f"open shapes is {told}."
    )
