"""The instruments the program knows by name, and any other given by its tuning.

Tunings are common practice.  Scale lengths and string spreads are usual makers' figures,
from memory, no source: 648 mm (25.5 in) guitar, 686 mm (27 in) baritone, 380 mm concert
ukulele, 510 mm baritone ukulele, 350 mm mandolin, 670 mm banjo.
"""

import re
from dataclasses import replace

from chartkit.fretboard.instrument import Instrument, String, strings_tuned
from chartkit.phrases import nearest
from chartkit.theory.pitch import parse_pitch

GUITAR = Instrument("guitar", strings_tuned("E2 A2 D3 G3 B3 E4"))
"""The six-string guitar in standard tuning, against which the hand model was fitted."""


def _guitar(name: str, tuning: str) -> Instrument:
    return replace(GUITAR, name=name, strings=strings_tuned(tuning))


def _paired(pitch: str, octave_up: str = "") -> String:
    return String(parse_pitch(pitch), parse_pitch(octave_up) if octave_up else None)


TWELVE_STRING = replace(
    GUITAR,
    name="twelve-string",
    strings=(
        _paired("E2", "E3"),
        _paired("A2", "A3"),
        _paired("D3", "D4"),
        _paired("G3", "G4"),
        _paired("B3"),
        _paired("E4"),
    ),
    nut_spread_mm=41.0,
    bridge_spread_mm=56.0,
)

UKULELE = Instrument(
    "ukulele",
    strings_tuned("G4 C4 E4 A4"),
    scale_mm=380.0,
    nut_spread_mm=28.0,
    bridge_spread_mm=42.0,
    frets=15,
    bass_counts=False,
)

BARITONE_UKULELE = replace(
    UKULELE,
    name="baritone ukulele",
    strings=strings_tuned("D3 G3 B3 E4"),
    scale_mm=510.0,
    nut_spread_mm=29.0,
    frets=18,
)
"""Tuned as a guitar's four highest strings."""

MANDOLIN = Instrument(
    "mandolin",
    strings_tuned("G3 D4 A4 E5"),
    scale_mm=350.0,
    nut_spread_mm=22.5,
    bridge_spread_mm=38.0,
    frets=20,
    bass_counts=False,
)

BANJO = Instrument(
    "banjo",
    (String(parse_pitch("G4"), drone=True), *strings_tuned("D3 G3 B3 D4")),
    scale_mm=670.0,
    nut_spread_mm=34.0,
    bridge_spread_mm=42.0,
    frets=22,
    bass_counts=False,
)
"""Five strings, open G; a capo on the neck is taken to move the short string's pitch too."""

KNOWN: tuple[Instrument, ...] = (
    GUITAR,
    _guitar("drop D", "D2 A2 D3 G3 B3 E4"),
    _guitar("double drop D", "D2 A2 D3 G3 B3 D4"),
    _guitar("open G", "D2 G2 D3 G3 B3 D4"),
    _guitar("open D", "D2 A2 D3 F#3 A3 D4"),
    _guitar("DADGAD", "D2 A2 D3 G3 A3 D4"),
    replace(
        _guitar("baritone", "B1 E2 A2 D3 F#3 B3"),
        scale_mm=686.0,
        nut_spread_mm=38.0,
        bridge_spread_mm=56.0,
    ),
    TWELVE_STRING,
    UKULELE,
    BARITONE_UKULELE,
    MANDOLIN,
    BANJO,
)
"""Every instrument with a name."""

_OTHER_NAMES = {
    "standard": "guitar",
    "six-string": "guitar",
    **{f"{kind} guitar": "guitar" for kind in ("acoustic", "electric", "classical", "six-string")},
    **dict.fromkeys(("steel-string guitar", "nylon-string guitar", "6-string guitar"), "guitar"),
    **dict.fromkeys(("12-string", "12-string guitar", "twelve-string guitar"), "twelve-string"),
    "baritone guitar": "baritone",
    "uke": "ukulele",
    **{f"{size} ukulele": "ukulele" for size in ("soprano", "concert", "tenor")},
}
"""Other names of instruments, in small letters (common practice, no source).  The three sizes of
ukulele are tuned alike."""


def _tuned_to(text: str) -> str:
    """The name of the guitar's tuning whose notes a text gives without octaves, as ``DADGBE``;
    empty if there is none."""
    letters = "".join(text.split()).casefold()
    tunings = ((known.name, re.sub(r"[\d ]", "", known.tuning).casefold()) for known in KNOWN)
    return next((name for name, notes in tunings if notes == letters), "")


_SAID_TUNING = re.compile(
    r"\b(?P<always>(?:double )?drop(?:ped)?[ -]d|d ?a ?d ?g ?a ?d)\b|"
    r"\b(?:in|tuned to|tuning:?) (?P<behind>open[ -][dg])\b|\b(?P<before>open[ -][dg])[ -]tuning\b|"
    r"\A\W*(?P<alone>open[ -][dg])\W*\Z",
    re.IGNORECASE,
)
"""How a remark says a tuning (common practice, no source).  "Let the open D ring" is one string."""
_LONGEST_SAID = 200


def said_tuning(text: str) -> str:
    """The name of the guitar's tuning that a remark asks for, as ``drop D`` in "drop D!! watch the
    riff"; empty if it asks for none."""
    said = _SAID_TUNING.search(text[:_LONGEST_SAID])
    if said is None:
        return ""
    asked = next(filter(None, said.groups())).casefold().replace("dropped", "drop")
    letters = asked.replace("-", "").replace(" ", "")
    return next(known.name for known in KNOWN if known.name.casefold().replace(" ", "") == letters)


def is_known(text: str) -> bool:
    """Whether a text names an instrument or gives a tuning."""
    try:
        return bool(instrument_named(text))
    except ValueError:
        return False


def chosen_instrument(text: str) -> Instrument:
    """The instrument of that name or tuning; a guitar if the name is unknown."""
    try:
        return instrument_named(text)
    except ValueError:
        return GUITAR


def instrument_named(text: str) -> Instrument:
    """The instrument of that name, case aside, or a guitar in a tuning given as notes.

    Fewer than six notes make an instrument where the bass rule does not count.  Raises
    ValueError in plain words for anything else.
    """
    name = " ".join(text.split()).casefold()
    name = _OTHER_NAMES.get(name, name)
    for instrument in KNOWN:
        if instrument.name.casefold() == name:
            return instrument
    if not any(character.isdigit() for character in text):
        names = [instrument.name for instrument in KNOWN]
        meant = _tuned_to(text) or nearest(name, names, 0.7)
        others = f"write {', '.join(names)}, or a tuning such as D2 A2 D3 G3 B3 E4"
        raise ValueError(
            f'"{text}" is not an instrument with strings that chartkit knows: '
            + (f'did you mean "{meant}"?' if meant else others)
        )
    strings = strings_tuned(text)
    return replace(
        GUITAR,
        name="own tuning",
        strings=strings,
        nut_spread_mm=GUITAR.nut_spread_mm * (len(strings) - 1) / 5,
        bridge_spread_mm=GUITAR.bridge_spread_mm * (len(strings) - 1) / 5,
        bass_counts=len(strings) >= 6,
    )
