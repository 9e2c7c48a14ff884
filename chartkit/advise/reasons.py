"""The reason for an option's rank in a plain sentence or two."""

from collections.abc import Sequence

from chartkit.advise.good_places import is_good
from chartkit.advise.harmony import is_open_key
from chartkit.advise.measures import contributions
from chartkit.advise.ranked import RankedOption, ShapeUse
from chartkit.advise.settings import AdviceSettings
from chartkit.phrases import listed
from chartkit.theory.capo import NO_CAPO, step_words
from chartkit.theory.chord import Chord
from chartkit.theory.chord_parts import letter_name
from chartkit.theory.note import pitch_class_of, typographic_name

HIGH_CAPO = 6
"""From this fret on, a capo is high up the neck (ours)."""

NEAR = 0.1
"""Scores closer than this count as equal: half the cost of one fret of a capo (ours)."""

_MANY_BARRES = 0.25
"""From this share of the time on, barres are named with a price that they do not earn (ours)."""
_HOME_MOSTLY_CLOSED = 0.5
"""From this share of the home chord's time on, a closed shape of it is named (ours)."""
_RIVALS = 2
"""How many options after the first it is compared with (ours)."""
_RIVAL_WITHIN = 0.25
"""How far below the first a rival may score (ours)."""
_CLEARLY_MORE = 0.1
"""How much larger a rival's share of time on open shapes is (ours)."""
PRICES = ("fret", "key", "closed")
"""The parts of a price (``CapoPrices``): the fret or the tuning, an unusual key of shapes, and a
capo on closed chords."""
_MOST_NAMED = 3
"""The most barres that a reason names (ours)."""
_POWER = "5"
"""The quality of a power chord."""
_HALF = 0.5
"""With more than this share of the time on them, a song's closed chords are called power chords
(ours)."""
LEAST_SHARE_NAMED = 0.005
"""Smaller shares of the time would be printed as 0% (ours)."""

_LOSSES = {
    "ring": "fewer strings ring open",
    "kept": "fewer open strings keep ringing when chords change",
    "held": "fewer fingers stay where they are",
    "mutes": "more strings have to stay silent",
    "effort": "the shapes are harder for the hand",
    "movement": "the hand moves farther between shapes",
    "oddness": "some shapes are unusual",
    "second_shapes": "some chords need a second shape",
    "unplayable": "some chords have no fingering ({unplayable:.0%} of the time)",
}


def reasons_for(ranked: Sequence[RankedOption], settings: AdviceSettings) -> list[str]:
    """The reason for the rank of every option, the first one's compared with its nearest rivals."""
    best = ranked[0]
    others = [reason_for(option, best, settings) for option in ranked[1:]]
    return [f"{_praise(best)}{_against_rival(ranked, settings)}", *others]


def reason_for(option: RankedOption, best: RankedOption, settings: AdviceSettings) -> str:
    """One sentence: the strengths of the best option, or what holds another one back most."""
    if option.option == best.option:
        return _praise(option)
    losses = losses_against(option, best, settings)
    most = losses[0][1]
    if losses[0][0] in PRICES and losses[1][1] <= most / 2 and is_good(option):
        return f"{shape_key_name(option)} shapes play well, {_but(losses[0][0], option)}."
    named = [name for name, loss in losses[:2] if loss > losses[0][1] / 2]
    if set(named) <= set(PRICES):
        named += [name for name, loss in losses if name not in PRICES and loss >= NEAR][:1]
        if set(named) <= set(PRICES) and option.measures.barres >= _MANY_BARRES:
            named.append("barres")
    if _none_open(option) and "home_closed" in named:
        named = [name for name in named if name != "open_share"]
        named[named.index("home_closed")] = "open_share"
    *others, last = [loss_text(name, option) for name in named]
    reasons = f"{', '.join(others)}, and {last}" if others else last
    return f"{shape_key_name(option)} shapes, not as good as {best.option}: {reasons}."


def _praise(option: RankedOption) -> str:
    measures = option.measures
    strings = len(option.voicings[0].frets) if option.voicings[0] is not None else 6
    time = (
        "none of them open" if _none_open(option) else f"{measures.open_share:.0%} of the time open"
    )
    parts = [f"{shape_key_name(option)} shapes, {time}"]
    if measures.ring >= 1 / strings:
        parts.append(f"{measures.ring * strings:.1f} strings ring open on average")
    if measures.barres:
        parts.append(barre_names(option))
    elif measures.home_closed >= _HOME_MOSTLY_CLOSED and not _none_open(option):
        parts.append(f"but {_home_text(option)}")
    return f"{', '.join(parts)}."


def _none_open(option: RankedOption) -> bool:
    return option.measures.open_share < LEAST_SHARE_NAMED


def open_text(option: RankedOption) -> str:
    """How long the shapes are open: ``open shapes take 50% of the time``."""
    if _none_open(option):
        return "no shape is open"
    return f"open shapes take {option.measures.open_share:.0%} of the time"


def _against_rival(ranked: Sequence[RankedOption], settings: AdviceSettings) -> str:
    """Why a place that is open more of the time comes after the first; empty if none is near."""
    best, near = ranked[0], list(ranked[1 : 1 + _RIVALS])
    more_open = best.measures.open_share + _CLEARLY_MORE
    near = [option for option in near if best.score - option.score < _RIVAL_WITHIN]
    rival = next((option for option in near if option.measures.open_share >= more_open), None)
    if rival is None:
        return ""
    losses = [name for name, loss in losses_against(rival, best, settings) if loss > 0]
    named = losses[:1]
    if rival.score > best.score and "barres" in losses[1:]:
        named.append("barres")
    but = " and ".join(loss_text(name, rival) for name in named)
    return f" {str(rival.option).capitalize()} is open more of the time, but {but}."


def _home_text(option: RankedOption) -> str:
    """The home chord with its closed shape: ``the home chord F xx3211 is not an open shape``.

    Where the chord itself is open, its form that is not: ``the home chord is not always an open
    shape (A/C♯ x4222x)``.
    """
    tonic = pitch_class_of(option.shape_keys[0].tonic)
    home = [
        use
        for use in option.shapes
        if use.voicing is not None and pitch_class_of(use.shape.root) == tonic
    ]
    closed = [use for use in home if use.voicing and not use.voicing.in_open_position]
    if not closed:
        return "the home chord is not an open shape"
    longest = max(closed, key=_share)
    named = f"{chord_name(longest.shape)} {longest.voicing}"
    if longest is max((use for use in home if use.shape.bass is None), default=None, key=_share):
        return f"the home chord {named} is not an open shape"
    return f"the home chord is not always an open shape ({named})"


def _share(use: ShapeUse) -> float:
    return use.share


def barre_names(option: RankedOption) -> str:
    """How long barres take and which they are: ``barres take 50% of the time (F and B♭)``.

    A chord with two spellings has the first one.
    """
    shares: dict[str, float] = {}
    name_of: dict[tuple[object, ...], str] = {}
    one_finger = True
    for use in option.shapes:
        if use.voicing is not None and use.voicing.has_wide_barre:
            one_finger = one_finger and use.voicing.is_one_finger_barre
            bass = None if use.shape.bass is None else pitch_class_of(use.shape.bass)
            sounds = (pitch_class_of(use.shape.root), use.shape.quality, bass)
            name = name_of.setdefault(sounds, chord_name(use.shape))
            shares[name] = shares.get(name, 0.0) + use.share
    names = sorted(shares, key=lambda name: -round(shares[name], 9))
    more = len(names) - _MOST_NAMED
    if more > 1:
        names = [*names[:_MOST_NAMED], f"{more} more"]
    barres, take = ("a barre", "takes") if len(names) == 1 else ("barres", "take")
    with_one = " of one finger" if one_finger else ""
    time = f"{sum(shares.values()):.0%} of the time"
    return f"{barres}{with_one} {take} {time} ({listed(names)})"


def chord_name(chord: Chord) -> str:
    """A chord as it is printed, on one line: ``B♭m7``, ``D/F♯``, ``C13(♭9)``."""
    return letter_name(chord).plain()


def shape_key_name(option: RankedOption) -> str:
    """The key of the shapes where the song starts, ``G`` or ``Em``."""
    key = option.shape_keys[0]
    return typographic_name(key.tonic) + {"major": "", "minor": "m"}.get(key.mode, f" {key.mode}")


def losses_against(
    option: RankedOption, best: RankedOption, settings: AdviceSettings
) -> list[tuple[str, float]]:
    """The losses of the option against the best one, by measure or price, greatest loss first."""
    own = contributions(option.measures, settings.score)
    others = contributions(best.measures, settings.score)
    losses = {name: others[name] - own[name] for name in own}
    prices, best_prices = _prices(option, settings), _prices(best, settings)
    losses |= {name: prices[name] - best_prices[name] for name in PRICES}
    return sorted(losses.items(), key=lambda loss: -loss[1])


def _prices(option: RankedOption, settings: AdviceSettings) -> dict[str, float]:
    """The cost of an option, part by part; the parts add up to its price."""
    prices, capo = settings.prices, option.option
    fret = prices.capo(capo.fret) + prices.tuning_down(capo.tuned_down, settings.place)
    strange = bool(option.shape_keys) and not is_open_key(option.shape_keys[0])
    key = prices.unusual_key * (strange and capo != NO_CAPO)
    return {"fret": fret, "key": key, "closed": option.price - fret - key}


def _fret_text(option: RankedOption) -> str:
    capo, down = option.option.fret, option.option.tuned_down
    if down:
        return f"every string has to go down {step_words(down)} and back"
    high = ", high up the neck" if capo >= HIGH_CAPO else ""
    return f"the capo sits at fret {capo}{high}"


def _but(price: str, option: RankedOption) -> str:
    """What a price holds against a place that plays well."""
    capo = option.option
    if price == "fret" and not capo.tuned_down and capo.fret < HIGH_CAPO:
        return f"but need a capo at fret {capo.fret}"
    return f"but {loss_text(price, option)}"


def loss_text(name: str, option: RankedOption) -> str:
    """The loss of an option against the best one in words, by measure or part of the price."""
    if name == "fret":
        return _fret_text(option)
    if name == "key":
        return f"few players put a capo on for {shape_key_name(option)} shapes"
    if name == "closed":
        power = sum(use.share for use in option.shapes if use.shape.quality.text == _POWER)
        chords = "power chords" if power > _HALF else "closed chords like these"
        return f"{chords} are played without a capo"
    if name == "barres":
        return barre_names(option)
    if name == "home_closed":
        return _home_text(option)
    if name == "open_share":
        return open_text(option).replace("take", "take only")
    values = {field: getattr(option.measures, field) for field in _LOSSES}
    return _LOSSES[name].format(**values)
