"""Known grips for a chord on an instrument, slid along the neck by rule.

Most chords have known grips where the strings lie as a guitar's do, from the sixth to the first: on
a guitar at any pitch, a twelve-string, a baritone, a guitar with more bass strings; and on one with
its lowest string, or both outer strings, a whole step lower. Guitars tuned to an open chord, and
those tuned D A D G A D, have those of their usual chords. Ukuleles, tuned as usual or lower, have
those of their first chords.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from chartkit.fretboard.grip_tables import KnownGrip
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import UKULELE
from chartkit.fretboard.known_grips import known_grips
from chartkit.fretboard.patterns import HIGHEST_FRET, mutes_damped
from chartkit.fretboard.retuned_grips import (
    dadgad_grips,
    double_drop_d_grips,
    drop_d_grips,
    open_chord_grips,
)
from chartkit.fretboard.retuning import TUNED_UP, is_tuned_up
from chartkit.fretboard.tones import Tones, tones_of
from chartkit.fretboard.ukulele_grips import ukulele_grips
from chartkit.theory.shape_text import Frets

NUT_FOR_FINGER = 0.6
"""The strength of a movable grip whose lowest finger is left to the nut (ours)."""

ANOTHER_NAME = 0.75
"""The strength of a grip that is known under another chord's name (ours)."""

_STANDARD = (40, 45, 50, 55, 59, 64)
_DROP_D = (38, 45, 50, 55, 59, 64)
_DOUBLE_DROP_D = (38, 45, 50, 55, 59, 62)
_DADGAD = (38, 45, 50, 55, 57, 62)
_NONE: Mapping[Frets, float] = {}
_FOURTH = 5
"""Half steps from one string to the next, at the usual fourths."""
_FIFTH_STRINGS = 3
"""The strings of a power chord."""


@lru_cache(maxsize=4096)
def grips_for(instrument: Instrument, tones: Tones) -> Mapping[Frets, float]:
    """The known grips of a chord on the instrument, each with its strength, 0 to 1.

    Empty if the strings lie neither as a guitar's nor as a ukulele's, or no grip is known.
    """
    above = _half_steps_above_ukulele(instrument)
    if above is not None:
        return ukulele_grips().get(tones.moved(-above), _NONE)
    if _has_drones(instrument):
        return _in_dadgad().get(tones.moved(_half_steps_below(_DADGAD, instrument) or 0), _NONE)
    chord = _open_chord(instrument)
    if chord is not None:
        return dict(_slid(tones.moved(_half_steps_below(chord, instrument) or 0), chord))
    if not has_known_grips(instrument):
        return _NONE
    strings, below = _as_guitar(instrument) or (_STANDARD, 0)
    as_guitar = tones.moved(below)
    muted = (None,) * (len(instrument.strings) - len(_STANDARD))
    grips: dict[Frets, float] = {}
    beside = instrument.beside_capo
    for frets, strength in _slid(as_guitar, strings):
        key = (*muted, *frets)
        if all(key[string] != 0 for string in beside):
            grips[key] = max(strength, grips.get(key, 0.0))
    if muted and instrument.open_pitches[-7] + _FOURTH == instrument.open_pitches[-6]:
        grips |= _low_fifths(as_guitar, len(muted))
    return grips | _over_low_d(instrument, tones)


def _half_steps_above_ukulele(instrument: Instrument) -> int | None:
    """How far the notes of four strings lie above a ukulele's, octaves aside; None otherwise.

    This holds for a baritone ukulele and for a ukulele with a low G.
    """
    opened, usual = instrument.sounds_open, UKULELE.open_pitches
    if instrument.bass_counts or len(opened) != len(usual):
        return None
    apart = {(ours - theirs) % 12 for ours, theirs in zip(opened, usual, strict=True)}
    return apart.pop() if len(apart) == 1 else None


def _low_fifths(as_guitar: Tones, extra: int) -> dict[Frets, float]:
    """Power chords from the string below a guitar's sixth: the same grips a string lower."""
    muted = (None,) * (extra - 1)
    lower = _slid(as_guitar.moved(_FOURTH), _STANDARD)
    return {
        (*muted, *frets, None): strength
        for frets, strength in lower
        if frets[0] is not None and set(frets[_FIFTH_STRINGS:]) == {None}
    }


def _over_low_d(instrument: Instrument, tones: Tones) -> dict[Frets, float]:
    """Drop D's grips on its open low string, where a capo leaves that string a whole step lower."""
    if instrument.beside_capo != (0,) or instrument.sounds_open != _DROP_D:
        return {}
    return {frets: strength for frets, strength in _slid(tones, _DROP_D) if frets[0] == 0}


def half_steps_below_guitar(instrument: Instrument) -> int | None:
    """How far the six highest strings lie below a guitar's; None where they lie otherwise."""
    return _half_steps_below(_STANDARD, instrument)


def _as_guitar(instrument: Instrument) -> tuple[tuple[int, ...], int] | None:
    """The strings whose grips the instrument has, a guitar's, drop D's or double drop D's, and how
    many half steps lower it lies; None where they lie otherwise."""
    whole = len(instrument.strings) == len(_STANDARD)
    for strings in (_STANDARD, _DROP_D, _DOUBLE_DROP_D) if whole else (_STANDARD,):
        below = _half_steps_below(strings, instrument)
        if below is not None:
            return strings, below
    return None


def _half_steps_below(strings: tuple[int, ...], instrument: Instrument) -> int | None:
    """How far the highest strings lie below those given; None where they lie otherwise."""
    opened = instrument.open_pitches[-len(strings) :]
    apart = {ours - theirs for ours, theirs in zip(strings, opened, strict=False)}
    if len(opened) < len(strings) or len(apart) > 1 or not instrument.bass_counts:
        return None
    return apart.pop()


def _has_drones(instrument: Instrument) -> bool:
    """Whether the strings lie as in D A D G A D, at any pitch, and no short capo parts them."""
    below = _half_steps_below(_DADGAD, instrument)
    whole = len(instrument.strings) == len(_DADGAD) and not instrument.beside_capo
    return whole and below is not None


def _open_chord(instrument: Instrument) -> tuple[int, ...] | None:
    """The strings of the open chord to which the instrument is tuned, at any pitch; None if none.

    A short capo parts them.
    """
    if len(instrument.strings) != len(_STANDARD) or instrument.beside_capo:
        return None
    tunings = open_chord_grips()
    return next(
        (tuning for tuning in tunings if _half_steps_below(tuning, instrument) is not None), None
    )


@cache
def _in_dadgad() -> Mapping[Tones, Mapping[Frets, float]]:
    """The grips of each chord in D A D G A D."""
    grips: dict[Tones, dict[Frets, float]] = {}
    for entry in dadgad_grips():
        grips.setdefault(tones_of(entry.chord), {})[entry.frets] = entry.strength
    return grips


def has_known_grips(instrument: Instrument) -> bool:
    """Whether grips are known on the instrument as on a guitar, for most kinds of chord.

    Beside a short capo only where it leaves no more than the lowest string out: over other strings
    few shapes stay.
    """
    if instrument.beside_capo not in ((), (0,)):
        return False
    return _as_guitar(instrument) is not None


def tuning_note(instrument: Instrument) -> str:
    """A remark for players of this tuning about its shapes, and a caution where a string is tuned
    up; empty if grips are known and none is."""
    caution = TUNED_UP if is_tuned_up(instrument) else ""
    return " ".join(filter(None, (_shapes_note(instrument), caution)))


def _shapes_note(instrument: Instrument) -> str:
    if has_known_grips(instrument) or not instrument.bass_counts:
        return ""
    if _has_drones(instrument):
        return (
            "In this tuning the usual chords (in D A D G A D those of the keys D, G and A) are "
            "grips over droning open strings: thirds may be missing, and drones may sound notes "
            "that are not in the chord. Other chords are full ones that chartkit computed, and "
            "few players know them."
        )
    if _open_chord(instrument) is not None:
        return (
            "In this tuning the usual chords are barres and the shapes of the open chord's key. "
            "Other chords are full ones that chartkit computed, and few players know them."
        )
    return (
        "In this tuning chartkit knows full chords only: players often let open strings drone "
        "over them and leave thirds out."
    )


@dataclass(frozen=True, slots=True)
class _Sounding:
    """A known grip, the chord it is listed under, and the pitch classes that it sounds.

    For a movable grip both are counted from its lowest note.
    """

    grip: KnownGrip
    listed: Tones
    classes: frozenset[int]

    def sounds(self, tones: Tones) -> bool:
        """Whether the grip sounds all that a chord needs, and nothing else."""
        return tones.required <= self.classes <= tones.allowed | {tones.bass}


def _slid(tones: Tones, opened: tuple[int, ...]) -> Iterator[tuple[Frets, float]]:
    """The grips of a chord on a guitar with these strings, with their strengths.

    If none is listed under its name, those of other chords with the same tones: A/F sharp is played
    as F sharp minor 7, D minor 7 over F as F6. A second choice does not slide to the nut, since
    players know it only with all its fingers pressed. No grip slides to the nut if one is listed
    for this root: players take that one.
    """
    kind = tones.moved(-tones.bass)
    at_the_nut, movable = _by_bass(opened)
    here = at_the_nut.get(tones.bass, ())
    grips = [entry for entry in here if entry.listed == tones]
    grips += movable.get(kind, ())
    named = bool(grips)
    if not named:
        grips = [entry for entry in here if entry.sounds(tones)]
        grips += [entry for others in movable.values() for entry in others if entry.sounds(kind)]
    own = any(entry.grip.strength == 1 and not entry.grip.movable for entry in grips)
    for entry in grips:
        strength = entry.grip.strength * (1.0 if named else ANOTHER_NAME)
        if not entry.grip.movable:
            yield entry.grip.frets, strength
            continue
        up = (tones.bass - tones_of(entry.grip.chord).bass + 1) % 12 - 1
        if up < 0 and (own or entry.grip.strength < 1):
            continue
        frets = tuple(None if fret is None else fret + up for fret in entry.grip.frets)
        if max(fret or 0 for fret in frets) <= HIGHEST_FRET and mutes_damped(frets):
            yield frets, strength * (NUT_FOR_FINGER if up < 0 else 1.0)


def _table(opened: tuple[int, ...]) -> tuple[KnownGrip, ...]:
    """Every entry for a guitar with these strings."""
    tables = {
        _STANDARD: known_grips,
        _DROP_D: drop_d_grips,
        _DOUBLE_DROP_D: double_drop_d_grips,
    }
    return tables[opened]() if opened in tables else open_chord_grips()[opened]


@cache
def _by_bass(
    opened: tuple[int, ...],
) -> tuple[dict[int, list[_Sounding]], dict[Tones, list[_Sounding]]]:
    """The grips at the nut by their lowest pitch class, and the movable ones by the tones that they
    are listed under."""
    at_the_nut: dict[int, list[_Sounding]] = {}
    movable: dict[Tones, list[_Sounding]] = {}
    for grip in _table(opened):
        tones = tones_of(grip.chord)
        moved = -tones.bass if grip.movable else 0
        pitches = (o + f for o, f in zip(opened, grip.frets, strict=True) if f is not None)
        sounding = _Sounding(
            grip, tones.moved(moved), frozenset((pitch + moved) % 12 for pitch in pitches)
        )
        if grip.movable:
            movable.setdefault(sounding.listed, []).append(sounding)
        else:
            at_the_nut.setdefault(tones.bass, []).append(sounding)
    return at_the_nut, movable
