"""Features of a fret pattern that do not depend on the fingers: position and sound."""

from collections.abc import Callable
from itertools import pairwise

from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.patterns import Frets
from chartkit.fretboard.tones import Tones

_LOW_REGISTER = 52
"""E3: below it seconds sound muddy (common practice, no source)."""
_SIXTH = 9
_NINTH = 14


def pattern_features(
    instrument: Instrument, tones: Tones, window: int, transposed: int
) -> Callable[[Frets, bool], tuple[float, ...]]:
    """A function from pattern and "is a movable form" to features.

    The features are those of ``weights.FEATURES`` from ``span`` on, in that order.
    ``transposed`` is how many half steps the capo or the tuning moves what sounds.
    """
    opened = instrument.open_pitches
    count = len(opened)
    wanted = tones.allowed
    penalties = dict(tones.optional)
    lowest_bass = min(opened) + (tones.bass - min(opened)) % 12
    counts_bass = instrument.bass_counts
    third = -1 if tones.third is None else tones.third
    fifth = -1 if tones.fifth is None else tones.fifth
    colours = (wanted | {tones.bass}) - {tones.root, third, fifth}

    def idle(frets: Frets, lowest: int, first: int) -> int:
        """Muted strings on which an open or near fret would sound an allowed tone."""
        found = 0
        for string in range(count):
            if frets[string] is not None or instrument.strings[string].drone:
                continue
            below = string < first
            if tones.thin and not below:
                continue
            only_bass = counts_bass and below
            for fret in (0, *range(max(1, lowest), max(1, lowest) + window)):
                tone = (opened[string] + fret) % 12
                if tone == tones.bass if only_bass else tone in wanted:
                    found += 1
                    break
        return found

    def features(frets: Frets, movable: bool) -> tuple[float, ...]:
        fretted = [fret for fret in frets if fret]
        lowest, highest = (min(fretted), max(fretted)) if fretted else (0, 0)
        played = [string for string in range(count) if frets[string] is not None]
        first, last = played[0], played[-1]
        inner = [s for s in range(first + 1, last) if frets[s] is None]
        pitches = sorted(opened[s] + (frets[s] or 0) for s in played)
        classes = [pitch % 12 for pitch in pitches]
        steps = [high - low for low, high in pairwise(pitches)]
        muddy = _LOW_REGISTER - transposed
        return (
            highest - lowest,
            max(0, lowest - 1),
            highest > 4,
            movable,
            len(inner),
            sum(not frets[s - 1] for s in inner),
            first,
            0 if tones.thin else count - 1 - last,
            idle(frets, lowest, first),
            len(played) - len(fretted),
            sum(
                frets[s] == 0 and bool(frets[s - 1]) and bool(frets[s + 1])
                for s in range(1, count - 1)
            ),
            sum(0 < step <= 2 and low < muddy for low, step in zip(pitches, steps, strict=False)),
            steps.count(0),
            max(0, classes.count(third) - 1),
            sum(classes.count(tone) > 1 for tone in colours),
            sum(penalty for tone, penalty in penalties.items() if tone not in classes),
            (pitches[0] - lowest_bass) / 12 if counts_bass else 0.0,
            sum(step > _SIXTH for step in steps),
            len(steps) > 0 and steps[0] > _NINTH,
        )

    return features
