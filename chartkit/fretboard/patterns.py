"""Every fret pattern that sounds a chord: the exhaustive search, without fingers.

A pattern is legal when every required tone sounds and nothing else does; the lowest string
played is the bass; at least four strings sound (three on small instruments and for a fifth
chord, one for a chord of one note); fretted notes lie in a window of four frets; and a muted
string between played ones has a fretted neighbour whose finger damps it.  These rules are
assumptions about the hand and common practice, no source.
"""

from collections.abc import Sequence
from functools import lru_cache

from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.tones import Tones
from chartkit.theory.shape_text import Frets

HIGHEST_FRET = 12
"""No pattern goes above this fret over the capo: beyond it the shapes repeat."""


def highest_fret(instrument: Instrument, capo: int = 0) -> int:
    """The highest fret over the capo that patterns reach."""
    return min(HIGHEST_FRET, instrument.frets - capo)


def chord_patterns(
    instrument: Instrument, tones: Tones, capo: int = 0, window: int = 4
) -> list[Frets]:
    """Every legal pattern of the chord, frets counted from the capo.

    ``tones`` are those of the shape, as if the capo were the nut.
    """
    highest = highest_fret(instrument, capo)
    patterns: list[Frets] = []
    for lowest in range(highest + 1):
        patterns += window_patterns(instrument, tones, lowest, highest, window)
    return patterns


def window_patterns(
    instrument: Instrument, tones: Tones, lowest: int, highest: int = HIGHEST_FRET, window: int = 4
) -> list[Frets]:
    """The legal patterns up to a fret with the lowest finger at ``lowest``, 0 for no finger."""
    places = _places(instrument, tones, highest)
    choices = [
        [f for f in string if f == 0 or (lowest and lowest <= f < lowest + window)]
        for string in places
    ]
    if lowest and not any(lowest in string for string in choices):
        return []
    return _filled(instrument, tones, choices, lowest)


@lru_cache(maxsize=256)
def _places(instrument: Instrument, tones: Tones, highest: int) -> list[list[int]]:
    """For each string the frets that sound an allowed tone or the bass."""
    wanted = tones.allowed | {tones.bass}
    places = []
    for string in instrument.strings:
        top = 0 if string.drone else highest
        places.append([fret for fret in range(top + 1) if string.sounding(fret) % 12 in wanted])
    return places


def _filled(
    instrument: Instrument, tones: Tones, choices: list[list[int]], lowest: int
) -> list[Frets]:
    """Every filling of the strings whose lowest fretted note is at ``lowest``.

    Strings are filled from the bass side.  Sets of pitch classes are bit masks, bit 0 for C; a
    branch ends where the strings left cannot sound what is missing.  This is one function because
    the inner one runs for every branch and uses its variables.
    """
    count = len(instrument.strings)
    fewest = min(instrument.fewest_strings, tones.fewest_strings)
    masks = [
        [(fret, 1 << string.sounding(fret) % 12) for fret in frets]
        for string, frets in zip(instrument.strings, choices, strict=True)
    ]
    reachable = _reachable_after(masks)
    bass = 1 << tones.bass if instrument.bass_counts else 0
    above_bass = ~bass if tones.foreign_bass else -1
    chosen: list[int | None] = [None] * count
    patterns: list[Frets] = []

    def fill(string: int, sounded: int, missing: int) -> None:
        if string == count:
            if not missing and _lowest_fretted(chosen) == lowest and mutes_damped(chosen):
                patterns.append(tuple(chosen))
            return
        if missing & ~reachable[string]:
            return
        if sounded + count - string > fewest:
            chosen[string] = None
            fill(string + 1, sounded, missing)
        for fret, mask in masks[string]:
            if mask & above_bass if sounded else mask == bass or not bass:
                chosen[string] = fret
                fill(string + 1, sounded + 1, missing & ~mask)

    fill(0, 0, sum(1 << tone for tone in tones.required | {tones.bass}))
    return patterns


def _reachable_after(masks: list[list[tuple[int, int]]]) -> list[int]:
    """For each string the tones that it and the strings after it can sound."""
    after = [0]
    for string in reversed(masks):
        reachable = after[-1]
        for _, mask in string:
            reachable |= mask
        after.append(reachable)
    return after[::-1]


def _lowest_fretted(frets: list[int | None]) -> int:
    return min((fret for fret in frets if fret), default=0)


def mutes_damped(frets: Sequence[int | None]) -> bool:
    """Whether each muted string between played ones lies beside a fretted one."""
    if None not in frets:
        return True
    played = [string for string, fret in enumerate(frets) if fret is not None]
    for string in range(played[0] + 1, played[-1]):
        if frets[string] is None and not (frets[string - 1] or frets[string + 1]):
            return False
    return True
