"""The features of a voicing's price, computed anew from its frets, fingers and pitches."""

from collections import Counter
from itertools import pairwise
from math import inf

import pytest

from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.instruments import GUITAR, UKULELE, instrument_named
from chartkit.fretboard.low_intervals import LOWEST_LOWER_NOTE
from chartkit.fretboard.sounding import SoundFeatures
from chartkit.fretboard.tones import tones_of
from chartkit.fretboard.voicing import Voicing
from chartkit.fretboard.weights import FEATURES, SOUND_FEATURES
from chartkit.syntax.symbol import read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.shape_text import Frets
from tests.each import each

CHORDS = (
    "C",
    "F",
    "Bm",
    "E5",
    "A7",
    "Dm7",
    "Cmaj9",
    "F#m7b5",
    "G13",
    "Bb6/9",
    "D/F#",
    "Csus2",
    "Ebdim7",
    "Am(maj7)",
    "C/D",
    "Gadd9",
    "Esus4",
    "Cm",
    "Eadd9",
    "A6",
)


def chord(symbol: str) -> Chord:
    """The chord of a symbol."""
    parsed = read_symbol(symbol)
    assert isinstance(parsed, Chord)
    return parsed


def voicings(symbol: str, capo: int) -> tuple[Voicing, ...]:
    """Many voicings of a chord, odd ones too."""
    return Fretboard(GUITAR, capo, most=150, cost_margin=inf).voicings(chord(symbol))


def features_of(voicing: Voicing) -> dict[str, float]:
    """The features of a voicing by name."""
    return dict(zip(FEATURES, voicing.features, strict=True))


def hand_by_hand(voicing: Voicing) -> dict[str, float]:
    """The features of the hand, finger by finger."""
    frets, fingers = voicing.frets, voicing.fingers
    held = {f: [s for s, one in enumerate(fingers) if one == f] for f in sorted(set(fingers) - {0})}
    spans = {f: (frets[strings[0]], strings[0], strings[-1]) for f, strings in held.items()}
    flat = {f: (fret, a, b) for f, (fret, a, b) in spans.items() if b > a}
    at = Counter(fret for fret, _, _ in spans.values())
    barre = flat.pop(1, None)
    leaning = (
        barre is not None
        and barre[2] <= barre[1] + ((3 if 0 in frets else 2) if len(held) == 1 else 1)
        and not any(fret is not None for fret in frets[barre[2] + 1 :])
    )
    whole = barre is not None and not leaning
    crowded = any(
        at[fret] > 1 or None in frets[a : b + 1]
        for fret, a, b in (*flat.values(), *([barre] if barre else []))
    )
    return {
        "fingers": len(held),
        "four_fingers": len(held) == 4,
        "little_finger": 4 in held,
        "index_lean": barre[2] - barre[1] if barre and leaning else 0,
        "away_from_nut": away_from_nut_by_hand(frets, held),
        "index_barre": whole,
        "barre_strings": barre[2] - barre[1] + 1 if barre and whole else 0,
        "first_fret_barre": bool(barre and whole and barre[0] == 1)
        or any(fret == 1 for fret, _, _ in flat.values()),
        "part_barre": len(flat),
        "part_barre_strings": sum(b - a + 1 for _, a, b in flat.values()),
        "weak_barre": len(flat.keys() & {2, 4}),
        "crowded_barre": crowded,
    }


def away_from_nut_by_hand(frets: Frets, held: dict[int, list[int]]) -> float:
    """How far the index finger, or where it would be, lies past where an open shape needs it.

    The fret past which that counts is the second, and the first for one finger on one string; under
    a hand turned to the bass side the second counts 0.1.  Where no string is open, every finger
    over a barre of the index finger counts the frets by which it lies past its own.
    """
    places = [(frets[strings[0]] or 0, strings) for strings in held.values()]
    if held and 0 not in frets and len(held.get(1, ())) > 1:
        low = frets[held[1][0]] or 0
        return sum(max(0, (frets[at[0]] or 0) - low - f + 1) for f, at in held.items())
    if not held or 0 not in frets or max(fret for fret, _ in places) > 4:
        return 0
    finger, strings = next(iter(held.items()))
    fret = places[0][0]
    index = max(1, fret - finger + 1)
    if len(held) == len(strings) == 1:
        return index - 1
    turned = any(there > fret and at[-1] < strings[0] for there, at in places)
    return 0.1 if index == 2 and turned else max(0, index - 2)


def place_by_hand(voicing: Voicing, thin: bool) -> dict[str, float]:
    """Where the shape lies and which strings it leaves out or open.

    A known grip pays half of its mutes and three quarters of its way up the neck.
    """
    frets = voicing.frets
    known = bool(features_of(voicing)["known_grip"])
    mutes, way = (0.5, 0.75) if known else (1, 1)
    fretted = [fret for fret in frets if fret]
    played = [s for s, fret in enumerate(frets) if fret is not None]
    inner = [s for s in range(played[0], played[-1]) if frets[s] is None]
    return {
        "span": max(fretted, default=0) - min(fretted, default=0),
        "position": way * max(min(fretted, default=0) - 1, 0),
        "past_fourth": max(fretted, default=0) > 4,
        "inner_mutes": mutes * len(inner),
        "untouched_mutes": mutes * sum(frets[s - 1] in (None, 0) for s in inner),
        "low_mutes": mutes * played[0],
        "high_mutes": 0 if thin else mutes * (5 - played[-1]),
        "open_strings": frets.count(0),
        "open_between": sum(
            frets[s] == 0 and bool(frets[s - 1]) and bool(frets[s + 1]) for s in range(1, 5)
        ),
    }


def sound_by_hand(voicing: Voicing, asked: Chord, capo: int) -> dict[str, float]:
    """The features of the sound: mud, unisons, doublings, omissions, the bass and gaps.

    Mud is judged at the nut, and a known grip is exempt from it and from tensions out of place. Its
    high bass counts twice on the highest four strings past the fourth fret.
    """
    tones = tones_of(asked)
    pitches = sorted(p for p in voicing.pitches if p is not None)
    known = bool(features_of(voicing)["known_grip"])
    thin = known and voicing.frets[:2] == (None, None) and max(f or 0 for f in voicing.frets) > 4
    classes = Counter((p - capo) % 12 for p in pitches)
    steps = [(low, high - low) for low, high in pairwise(pitches)]
    colours = classes.keys() - {tones.root, tones.third, tones.fifth}
    lowest_bass = next(p for p in range(40, 52) if p % 12 == tones.bass) + capo
    return {
        "mud": 0 if known else mud_by_hand([pitch - capo for pitch in pitches]),
        "low_tensions": 0 if known else low_tensions_by_hand(asked, [p - capo for p in pitches]),
        "unisons": sum(step == 0 for _, step in steps),
        "doubled_third": 0 if tones.third is None else max(classes[tones.third] - 1, 0),
        "doubled_colours": sum(classes[tone] > 1 for tone in colours),
        "omitted": sum(missed for tone, missed in tones.optional if tone not in classes),
        "bass_octaves": (4 if thin else 1) * (pitches[0] - lowest_bass) / 12,
        "wide_intervals": sum(step > 9 for _, step in steps),
        "lone_bass": steps[0][1] > 14,
    }


def mud_by_hand(pitches: list[int]) -> int:
    """Half steps below the limits, over all pairs."""
    lowest = 0
    for low in range(len(pitches)):
        for high in range(low + 1, len(pitches)):
            limit = LOWEST_LOWER_NOTE.get(pitches[high] - pitches[low], 0)
            lowest += max(0, limit - pitches[low])
    return lowest


def low_tensions_by_hand(asked: Chord, pitches: list[int]) -> int:
    """Tones a ninth, eleventh or thirteenth over the root that sound below the lowest third."""
    degrees = asked.quality.degrees
    third = 4 if "3" in degrees else 3
    root = asked.root * 7 % 12
    thirds = [pitch for pitch in pitches if (pitch - root) % 12 == third]
    if not thirds or not {"3", "b3"} & set(degrees):
        return 0
    above = {"b9": 1, "9": 2, "#9": 3, "11": 5, "#11": 6, "b13": 8, "13": 9}
    tensions = {above[d] for d in degrees if d in above}
    low_tones = {(pitch - root) % 12 for pitch in pitches if pitch < thirds[0]} & tensions
    return sum(4 if tone == 3 else 1 for tone in low_tones)


@pytest.mark.parametrize("capo", [0, 3])
@pytest.mark.parametrize("symbol", CHORDS)
def test_features_are_counted_as_they_are_documented(symbol: str, capo: int) -> None:
    """Every feature is what its name says, for the hand, the place and the sound."""
    asked = chord(symbol)
    grips = voicings(symbol, capo)
    assert len(grips) > 10
    for voicing in grips:
        features = features_of(voicing)
        expected = hand_by_hand(voicing) | place_by_hand(voicing, tones_of(asked).thin)
        expected |= sound_by_hand(voicing, asked, capo)
        wanted = {name: pytest.approx(float(count)) for name, count in expected.items()}
        assert {name: features[name] for name in wanted} == wanted, str(voicing)


@each("symbol", ["C", "G7", "Am"])
def test_where_no_bass_counts_none_lies_too_high(symbol: str) -> None:
    """On a ukulele no octaves of the bass are charged."""
    for voicing in Fretboard(UKULELE, most=50, cost_margin=inf).voicings(chord(symbol)):
        assert features_of(voicing)["bass_octaves"] == 0


def test_a_chord_of_open_strings_lies_nowhere() -> None:
    """Where no finger is down there is no span, no position and nothing past the fourth fret."""
    open_g = Fretboard(instrument_named("open G"))
    features = features_of(open_g.voicing_of(chord("G/D"), (0,) * 6))
    assert features["open_strings"] == 6
    nowhere = ("fingers", "span", "position", "past_fourth")
    assert [features[name] for name in nowhere] == [0, 0, 0, 0]


def test_features_of_sound_have_a_weight_each() -> None:
    """They go by the same names in the same order."""
    assert SoundFeatures._fields == SOUND_FEATURES
