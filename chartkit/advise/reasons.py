"""The reason for an option's rank in a plain sentence or two, and a verdict on all options."""

from collections.abc import Sequence

from chartkit.advise.harmony import is_closed_harmony, is_open_key, is_power_chords
from chartkit.advise.measures import contributions
from chartkit.advise.ranked import RankedOption
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song
from chartkit.phrases import listed
from chartkit.theory.capo import NO_CAPO, step_words
from chartkit.theory.chord import Chord
from chartkit.theory.naming import key_words
from chartkit.theory.note import pitch_class_of, typographic_name
from chartkit.theory.printed import letter_name

GOOD_OPEN_SHARE = 0.6
GOOD_BARRES = 0.35
"""An option is good with at least this share of time on open shapes, and at most this on barres
(ours)."""

GOOD_EFFORT = 1.1
GOOD_ODDNESS = 0.4
"""An option is good up to this mean effort and oddness (ours): C, F, G and Am at the nut
come to 0.4 and 0.1, E, A, E and a barred B to 1.0 and 0."""
_ALL_OPEN_SHARE, _ALL_OPEN_EFFORT = 0.9, 1.6
"""With this share of time on easy shapes the mean effort may be so high (ours): in drop D E 222100,
A and B7 x21202 come to 1.2, and a beginner learns them all."""

_EASY_OPEN_SHARE = 0.5
_EASY_EFFORT = 0.6
_EASY_BARRES = 0.1
"""With this share of time on open shapes the rest may be small shapes, if hardly any is a barre and
all are easy: C, F, G and a small F (ours)."""

HIGH_CAPO = 6
"""From this fret on, a capo is high up the neck (ours)."""

NEAR = 0.1
"""Scores closer than this count as equal: half the cost of one fret of a capo (ours)."""

_MANY_BARRES = 0.25
"""An option that spares barres for this share of the time is named, good or not (ours)."""
_HOME_MOSTLY_CLOSED = 0.5
"""From this share of the home chord's time on, a closed shape of it is named (ours)."""
_RIVALS = 2
"""How many options after the first it is compared with (ours)."""
_RIVAL_WITHIN = 0.25
"""How far below the first a rival may score (ours)."""
_CLEARLY_MORE = 0.1
"""How much larger a rival's share of time on open shapes is (ours)."""
_PRICES = ("fret", "key", "closed")
"""The parts of a price (``CapoPrices``): the fret or the tuning, an unusual key of shapes, and a
capo on closed chords."""
_MOST_NAMED = 3
"""The most barres that a reason names (ours)."""
_POWER = "5"
"""The quality of a power chord."""
_HALF = 0.5
"""With more than this share of the time on them, a song's closed chords are called power chords
(ours)."""
_LEAST_SHARE_NAMED = 0.005
"""Smaller shares of the time would be printed as 0% (ours)."""

_LOSSES = {
    "ring": "fewer strings ring open",
    "kept": "fewer open strings ring on across the changes",
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
    losses = _losses_against(option, best, settings)
    most = losses[0][1]
    if losses[0][0] in _PRICES and losses[1][1] <= most / 2 and is_good(option):
        return f"{shape_key_name(option)} shapes play well, but {_loss_text(losses[0][0], option)}."
    named = [name for name, loss in losses[:2] if loss > losses[0][1] / 2]
    if set(named) <= set(_PRICES):
        named += [name for name, loss in losses if name not in _PRICES and loss >= NEAR][:1]
    if _none_open(option) and "home_closed" in named:
        named = [name for name in named if name != "open_share"]
        named[named.index("home_closed")] = "open_share"
    *others, last = [_loss_text(name, option) for name in named]
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
    return option.measures.open_share < _LEAST_SHARE_NAMED


def _open_text(option: RankedOption) -> str:
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
    losses = [name for name, loss in _losses_against(rival, best, settings) if loss > 0]
    named = losses[:1]
    if rival.score > best.score and "barres" in losses[1:]:
        named.append("barres")
    but = " and ".join(_loss_text(name, rival) for name in named)
    return f" {str(rival.option).capitalize()} is open more of the time, but {but}."


def _home_text(option: RankedOption) -> str:
    """The home chord with its closed shape: ``the home chord F xx3211 is not an open shape``."""
    tonic = pitch_class_of(option.shape_keys[0].tonic)
    closed = [
        use
        for use in option.shapes
        if use.voicing is not None
        and not use.voicing.in_open_position
        and pitch_class_of(use.shape.root) == tonic
    ]
    if not closed:
        return "the home chord is not an open shape"
    longest = max(closed, key=lambda use: use.share)
    return f"the home chord {chord_name(longest.shape)} {longest.voicing} is not an open shape"


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


def _losses_against(
    option: RankedOption, best: RankedOption, settings: AdviceSettings
) -> list[tuple[str, float]]:
    """What the option loses against the best one, by measure or price, greatest loss first."""
    own = contributions(option.measures, settings.score)
    others = contributions(best.measures, settings.score)
    losses = {name: others[name] - own[name] for name in own}
    prices, best_prices = _prices(option, settings), _prices(best, settings)
    losses |= {name: prices[name] - best_prices[name] for name in _PRICES}
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


def _loss_text(name: str, option: RankedOption) -> str:
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
        return _open_text(option).replace("take", "take only")
    values = {field: getattr(option.measures, field) for field in _LOSSES}
    return _LOSSES[name].format(**values)


def is_good(option: RankedOption) -> bool:
    """Whether an option is on open shapes, with few barres, and easy and usual enough.

    Barres of one finger alone count as open shapes: guitars tuned to a chord are played with them.
    """
    measures = option.measures
    one_finger = _one_finger_share(option)
    open_share = measures.open_share + one_finger
    barres = measures.barres - one_finger
    easy = measures.effort <= _EASY_EFFORT and barres <= _EASY_BARRES
    effort = _ALL_OPEN_EFFORT if open_share >= _ALL_OPEN_SHARE else GOOD_EFFORT
    return (
        open_share >= (_EASY_OPEN_SHARE if easy else GOOD_OPEN_SHARE)
        and barres <= GOOD_BARRES
        and measures.effort <= effort
        and measures.oddness <= GOOD_ODDNESS
        and not measures.unplayable
    )


def _one_finger_share(option: RankedOption) -> float:
    """The share of time, 0 to 1, on barres of one finger alone."""
    return sum(
        use.share
        for use in option.shapes
        if use.voicing is not None and use.voicing.is_one_finger_barre
    )


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
        verdict = f"{_not_easy(best, song)}{_easier(ranked, settings)}"
    return " ".join(filter(None, (verdict, *dead))), good


def _without_shapes(best: RankedOption) -> str:
    """The chords that the instrument cannot sound, and for how long."""
    names = [chord_name(use.shape) for use in best.shapes if use.voicing is None]
    share = best.measures.unplayable
    time = "less than 1%" if share < _LEAST_SHARE_NAMED else f"{share:.0%}"
    have = "has no shape" if len(names) == 1 else "have no shape"
    return f"{listed(names)} {have} on this instrument, {time} of the time."


def _not_easy(best: RankedOption, song: Song) -> str:
    place = "without a capo" if best.option == NO_CAPO else f"with {best.option}"
    barres = barre_names(best) if best.measures.barres else "there are no barres"
    figures = f"{_open_text(best)}, {barres}{_hardship(best)}"
    if is_closed_harmony(song):
        return (
            "A capo gains little here: these closed chords can be played anywhere on the neck. "
            f"{place.capitalize()} {figures}."
        )
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
    """The first option that plays well or spares many barres, and the price that lowered its
    rank."""
    best = ranked[0]
    spare = best.measures.barres - _MANY_BARRES
    easier = next((option for option in ranked[1:] if is_good(option)), None) or next(
        (option for option in ranked[1:] if option.measures.barres <= spare), None
    )
    if easier is None:
        return ""
    named = f"{easier.option} ({shape_key_name(easier)} shapes)"
    if not is_good(easier):
        barres = easier.measures.barres
        left = f"barres {barres:.0%} of the time" if barres >= _LEAST_SHARE_NAMED else "no barre"
        named += f", with {left}"
    losses = _losses_against(easier, best, settings)
    price = next((name for name, loss in losses if name in _PRICES and loss > 0), None)
    if price in (None, "closed"):  # of closed chords the verdict speaks first
        return f" Easier on the hand: {named}."
    against = _loss_text(price, easier)
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
