"""Features of a fret pattern that do not depend on the fingers: position and sound."""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from chartkit.fretboard.hand import OPEN_POSITION
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.low_intervals import mud
from chartkit.fretboard.tones import Tones
from chartkit.theory.shape_text import Frets

_SIXTH, _NINTH = 9, 14
"""A major sixth and a major ninth in half steps."""
_KNOWN_MUTES = 0.5
"""The share of the cost of mutes that a known grip pays (ours)."""
_KNOWN_POSITION = 0.75
"""The share of the cost of its place on the neck that it pays: the hand knows the grip anywhere
(ours)."""

_TREBLE_STRINGS = 4
_THIN_UP_THE_NECK = 4
"""How often the octaves of the bass count in a known grip on the highest four strings past the
fourth fret: it sounds thin behind a singer (ours)."""


class SoundFeatures(NamedTuple):
    """The features of a pattern that do not depend on the fingers, as ``weights.Weights`` says what
    each counts: the names of ``weights.SOUND_FEATURES``, in their order."""

    span: float
    position: float
    past_fourth: float
    movable_form: float
    known_grip: float
    unfamiliar: float
    inner_mutes: float
    untouched_mutes: float
    low_mutes: float
    high_mutes: float
    idle_strings: float
    open_strings: float
    open_between: float
    mud: float
    low_tensions: float
    unisons: float
    doubled_third: float
    doubled_colours: float
    omitted: float
    bass_octaves: float
    wide_intervals: float
    lone_bass: float


class PatternFeatures:
    """Computes the features of the patterns of one chord on one instrument."""

    def __init__(self, instrument: Instrument, tones: Tones, window: int, known: bool) -> None:
        """``window`` is how many frets lie in reach; ``known`` says that grips are known here.

        If none are, players' shapes with low thirds would be charged for mud, so only seconds
        count.
        """
        self._mud = mud if known else _low_seconds
        self.any_known = False
        """Whether grips are known of this chord."""
        self._opened = instrument.open_pitches
        self._sounds_open = instrument.sounds_open
        self._drones = [string.drone for string in instrument.strings]
        self._tones = tones
        self._wanted = tones.allowed
        self._window = window
        lowest = min(self._sounds_open)
        self._lowest_bass = lowest + (tones.bass - lowest) % 12
        self._bass_counts = instrument.bass_counts
        self._third = -1 if tones.third is None else tones.third
        plain = {tones.root, tones.third, tones.fifth}
        self._colours = tuple((self._wanted | {tones.bass}) - plain)
        self._in_reach: dict[tuple[int, int, bool], bool] = {}

    def __call__(
        self, frets: Frets, *, movable: bool = False, strength: float = 0.0
    ) -> SoundFeatures:
        """The features of a pattern that is an open form slid up, if it is ``movable``, and a
        grip that players know, of the ``strength`` 0 to 1; 0 for any other."""
        fretted = [fret for fret in frets if fret]
        lowest, highest = min(fretted, default=0), max(fretted, default=0)
        played = [string for string, fret in enumerate(frets) if fret is not None]
        pitches = sorted([self._pitch(string, frets[string] or 0) for string in played])
        classes = [pitch % 12 for pitch in pitches]
        steps = [high - low for low, high in pairwise(pitches)]
        mutes = self._mutes(frets, played, lowest)
        # A known grip pays a part of its mutes, since players damp these strings by habit.
        inner, untouched, low, high, idle = (
            [_KNOWN_MUTES * mute for mute in mutes] if strength else mutes
        )
        return SoundFeatures(
            span=highest - lowest,
            position=max(0, lowest - 1) * (_KNOWN_POSITION if strength else 1),
            past_fourth=highest > OPEN_POSITION,
            movable_form=movable,
            known_grip=strength,
            unfamiliar=self.any_known and not strength,
            inner_mutes=inner,
            untouched_mutes=untouched,
            low_mutes=low,
            high_mutes=high,
            idle_strings=idle,
            open_strings=len(played) - len(fretted),
            open_between=_open_between(frets),
            mud=0 if strength else self._mud(pitches),
            low_tensions=0 if strength else self._low_tensions(classes),
            unisons=steps.count(0),
            doubled_third=max(0, classes.count(self._third) - 1),
            doubled_colours=len([tone for tone in self._colours if classes.count(tone) > 1]),
            omitted=sum([cost for tone, cost in self._tones.optional if tone not in classes]),
            bass_octaves=self._thin(played[0], highest, strength) * self._octaves_up(pitches[0]),
            wide_intervals=len([step for step in steps if step > _SIXTH]),
            lone_bass=bool(steps) and steps[0] > _NINTH,
        )

    def _octaves_up(self, bass: int) -> float:
        """By how many octaves the bass lies above the lowest place for it."""
        return (bass - self._lowest_bass) / 12 if self._bass_counts else 0.0

    def _thin(self, first: int, highest: int, strength: float) -> int:
        """How often the octaves of the bass count."""
        treble = len(self._opened) - first <= _TREBLE_STRINGS
        return _THIN_UP_THE_NECK if strength and treble and highest > OPEN_POSITION else 1

    def _pitch(self, string: int, fret: int) -> int:
        return self._opened[string] + fret if fret else self._sounds_open[string]

    def _mutes(self, frets: Frets, played: list[int], lowest: int) -> tuple[int, ...]:
        """Inner, untouched, low and high mutes, and idle strings."""
        if len(played) == len(frets):
            return (0, 0, 0, 0, 0)
        first, last = played[0], played[-1]
        inner = [s for s in range(first + 1, last) if frets[s] is None]
        untouched = len([s for s in inner if not frets[s - 1]])
        high = 0 if self._tones.thin else len(frets) - 1 - last
        return len(inner), untouched, first, high, self._idle(frets, lowest, first)

    def _idle(self, frets: Frets, lowest: int, first: int) -> int:
        """Muted strings on which an open or near fret would sound an allowed tone.

        Below the bass only the bass itself counts, on an open string: pressing it there as well
        takes another finger or a barre. A fifth chord is meant to be thin above.
        """
        count = 0
        for string, fret in enumerate(frets):
            below = string < first
            if fret is not None or self._drones[string] or (self._tones.thin and not below):
                continue
            key = (string, lowest, below)
            idle = self._in_reach.get(key)
            if idle is None:
                idle = self._in_reach[key] = self._could_sound(*key)
            count += idle
        return count

    def _could_sound(self, string: int, lowest: int, below: bool) -> bool:
        from_fret = max(1, lowest)
        near = (0, *range(from_fret, from_fret + self._window))
        reached = {self._pitch(string, fret) % 12 for fret in near}
        if below and self._bass_counts:
            return self._tones.bass == self._sounds_open[string] % 12
        return bool(reached & self._wanted)

    def _low_tensions(self, classes: list[int]) -> int:
        """Tensions that sound below the lowest third, by their weights."""
        if not self._tones.tensions or self._third not in classes:
            return 0
        below = classes[: classes.index(self._third)]
        return sum(weight for tone, weight in self._tones.tensions if tone in below)


_LOW_REGISTER = 52
"""E3: below it seconds sound muddy (common practice, no source)."""
_SECOND_AS_MUD = 4
"""The weight of one such second, in half steps below a limit (ours)."""


def _low_seconds(pitches: Sequence[int]) -> int:
    """Neighbouring tones two half steps or less apart in the low register, as mud."""
    steps = pairwise(pitches)
    return _SECOND_AS_MUD * sum(low < _LOW_REGISTER and 0 < high - low <= 2 for low, high in steps)


def _open_between(frets: Frets) -> int:
    """Open strings between two fretted ones."""
    count = 0
    for string in range(1, len(frets) - 1):
        if frets[string] == 0 and frets[string - 1] and frets[string + 1]:
            count += 1
    return count
