"""Known grips for a chord on an instrument, slid along the neck by rule.

Only an instrument whose strings lie as a guitar's do, from the sixth to the first, has known
grips: a guitar at any pitch, a twelve-string, a baritone, a guitar with more bass strings; and one
with its lowest string tuned down to D.
"""

from collections.abc import Iterator, Mapping
from functools import cache, lru_cache

from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.known_grips import KnownGrip, drop_d_grips, known_grips
from chartkit.fretboard.patterns import HIGHEST_FRET, mutes_damped
from chartkit.fretboard.tones import Tones, tones_of
from chartkit.theory.shape_text import Frets

NUT_FOR_FINGER = 0.6
"""What a movable grip counts whose lowest finger is left to the nut (ours)."""

_STANDARD = (40, 45, 50, 55, 59, 64)
_DROP_D = (38, 45, 50, 55, 59, 64)
_NONE: Mapping[Frets, float] = {}


@lru_cache(maxsize=4096)
def grips_for(instrument: Instrument, tones: Tones) -> Mapping[Frets, float]:
    """The known grips of a chord on the instrument, each with its strength, 0 to 1.

    Empty where the strings do not lie as a guitar's, and where nobody knows a grip.
    """
    lower = half_steps_below_guitar(instrument)
    drop_d = instrument.open_pitches == _DROP_D
    if lower is None and not drop_d:
        return _NONE
    as_guitar = tones.moved(lower or 0)
    muted = (None,) * (len(instrument.strings) - len(_STANDARD))
    grips: dict[Frets, float] = {}
    for frets, strength in _on_guitar(as_guitar, drop_d):
        key = (*muted, *frets)
        grips[key] = max(strength, grips.get(key, 0.0))
    return grips


def half_steps_below_guitar(instrument: Instrument) -> int | None:
    """How far the six highest strings lie below a guitar's; None where they lie otherwise."""
    opened = instrument.open_pitches[-len(_STANDARD) :]
    apart = {ours - theirs for ours, theirs in zip(_STANDARD, opened, strict=False)}
    if len(opened) < len(_STANDARD) or len(apart) > 1 or not instrument.bass_counts:
        return None
    return apart.pop()


def has_known_grips(instrument: Instrument) -> bool:
    """Whether any grips are known on the instrument."""
    below = half_steps_below_guitar(instrument)
    return below is not None or instrument.open_pitches == _DROP_D


def tuning_note(instrument: Instrument) -> str:
    """What a player of this tuning should know of its shapes; empty where grips are known."""
    if has_known_grips(instrument) or not instrument.bass_counts:
        return ""
    return (
        "In this tuning chartkit knows whole chords only: players often let open strings drone "
        "over them and leave thirds out."
    )


def _on_guitar(tones: Tones, drop_d: bool) -> Iterator[tuple[Frets, float]]:
    """The grips of a chord on a guitar, with their strengths."""
    at_the_nut, movable = _by_tones(drop_d)
    for grip in at_the_nut.get(tones, ()):
        yield grip.frets, grip.strength
    for grip in movable.get(tones.moved(-tones.bass), ()):
        up = (tones.bass - tones_of(grip.chord).bass + 1) % 12 - 1
        frets = tuple(None if fret is None else fret + up for fret in grip.frets)
        if max(fret or 0 for fret in frets) <= HIGHEST_FRET and mutes_damped(frets):
            yield frets, grip.strength * (NUT_FOR_FINGER if up < 0 else 1.0)


@cache
def _by_tones(drop_d: bool) -> tuple[dict[Tones, list[KnownGrip]], dict[Tones, list[KnownGrip]]]:
    """The grips at the nut by what they sound, the movable ones by that above their bass."""
    at_the_nut: dict[Tones, list[KnownGrip]] = {}
    movable: dict[Tones, list[KnownGrip]] = {}
    for grip in drop_d_grips() if drop_d else known_grips():
        tones = tones_of(grip.chord)
        if grip.movable:
            movable.setdefault(tones.moved(-tones.bass), []).append(grip)
        else:
            at_the_nut.setdefault(tones, []).append(grip)
    return at_the_nut, movable
