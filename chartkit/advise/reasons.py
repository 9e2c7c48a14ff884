"""Why an option stands where it stands, in one plain sentence, and what to make of them all."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from chartkit.advise.measures import contributions
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song
from chartkit.theory.note import signed_name

if TYPE_CHECKING:
    from chartkit.advise.ranking import RankedOption

GOOD_OPEN_SHARE = 0.6
GOOD_BARRES = 0.35
"""From so much time on open shapes, and up to so much on barres, an option is good (ours)."""

NEAR = 0.1
"""Scores closer than this are as good as even: half of what one fret of a capo costs (ours)."""

_LOSSES = {
    "open_share": "fewer open shapes ({open_share:.0%} of the time)",
    "ring": "fewer strings ring open",
    "kept": "fewer open strings ring on across the changes",
    "held": "fewer fingers stay where they are",
    "barres": "barres {barres:.0%} of the time",
    "mutes": "strings to damp inside the shapes",
    "effort": "harder shapes for the hand",
    "movement": "longer ways from shape to shape",
    "oddness": "unusual shapes",
    "unplayable": "no fingering for some chords ({unplayable:.0%} of the time)",
}


def reason_for(option: "RankedOption", best: "RankedOption", settings: AdviceSettings) -> str:
    """One sentence: what carries the best option, or what holds another one back most."""
    if option.option == best.option:
        return _praise(option)
    losses = _losses_against(option, best, settings)
    named = [_loss_text(name, option) for name, loss in losses[:2] if loss > losses[0][1] / 2]
    return f"{shape_key_name(option)} shapes, less good than {best.option}: {' and '.join(named)}."


def _praise(option: "RankedOption") -> str:
    measures = option.measures
    strings = len(option.voicings[0].frets) if option.voicings[0] is not None else 6
    parts = [f"{shape_key_name(option)} shapes, {measures.open_share:.0%} of the time open"]
    if measures.ring >= 1 / strings:
        parts.append(f"{measures.ring * strings:.1f} strings ring open on average")
    if measures.barres:
        parts.append(f"barres {measures.barres:.0%} of the time")
    return f"{', '.join(parts)}."


def shape_key_name(option: "RankedOption") -> str:
    """The key of the shapes where the song starts, ``G`` or ``Em``."""
    key = option.shape_keys[0]
    return signed_name(key.tonic) + {"major": "", "minor": "m"}.get(key.mode, f" {key.mode}")


def _losses_against(
    option: "RankedOption", best: "RankedOption", settings: AdviceSettings
) -> list[tuple[str, float]]:
    """What the option loses to the best one, by measure or price, greatest loss first."""
    own = contributions(option.measures, settings.score)
    others = contributions(best.measures, settings.score)
    losses = {name: others[name] - own[name] for name in own}
    losses["price"] = option.price - best.price
    return sorted(losses.items(), key=lambda loss: -loss[1])


def _loss_text(name: str, option: "RankedOption") -> str:
    if name == "price":
        if option.option.down:
            return f"every string tuned down {option.option.down} and back"
        return f"the capo sits as high as fret {option.option.capo}"
    values = {field: getattr(option.measures, field) for field in _LOSSES}
    return _LOSSES[name].format(**values)


def verdict_on(ranked: Sequence["RankedOption"], song: Song) -> tuple[str, bool]:
    """What to make of the options, best first, in plain words, and whether the best is good."""
    best = ranked[0]
    measures = best.measures
    if measures.unplayable:
        return (
            f"No option fingers every chord: {measures.unplayable:.0%} of the time there is "
            "no shape on this instrument.",
            False,
        )
    good = measures.open_share >= GOOD_OPEN_SHARE and measures.barres <= GOOD_BARRES
    if good:
        return f"{str(best.option).capitalize()}: {best.reason}{_nearly_as_good(ranked)}", True
    if len(song.keys) > 1 and max(best.open_shares) >= GOOD_OPEN_SHARE:
        return _wandering(best, song), False
    return (
        f"No capo makes this song easy: the best option, {best.option}, is on open shapes "
        f"{measures.open_share:.0%} of the time and on barres {measures.barres:.0%}.",
        False,
    )


def _nearly_as_good(ranked: Sequence["RankedOption"]) -> str:
    close = [o for o in ranked[1:] if ranked[0].score - o.score < NEAR]
    if not close:
        return ""
    named = " and ".join(f"{o.option} ({shape_key_name(o)} shapes)" for o in close)
    return f" Nearly as good: {named}."


def _wandering(best: "RankedOption", song: Song) -> str:
    told = ", ".join(
        f"{key} {share:.0%}" for key, share in zip(song.keys, best.open_shares, strict=True)
    )
    return (
        f"No one capo suits this song, because it changes key: with {best.option} the time on "
        f"open shapes is {told}."
    )
