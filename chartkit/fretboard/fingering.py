"""Which finger goes where: every legal fingering of a fret pattern, and the cheapest.

A press is one finger on one or more neighbouring strings of a fret.  Fingers follow the
frets: a finger with a higher number never lies behind a lower one, and within one fret
they go from the bass side to the treble.  Only where the hand reaches back to the bass side
with a higher finger does it turn so far that two fingers far apart in one fret go the other way,
3-2 and 1 in Gmaj7 320002.  A press on several strings covers no string that
must sound lower, and leaves none open on its treble side, since a flat finger lies across
them all.  Two fingers are never further apart than the hand reaches, and none
crosses another (``hand_rules``).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations, pairwise, product
from math import hypot, inf

from chartkit.fretboard.hand import (
    FINGERS,
    THUMB,
    Hand,
    fret_places_mm,
    fret_widths_mm,
    string_gaps_mm,
)
from chartkit.fretboard.hand_rules import Press, fingers_are_uncrossed
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.weights import FINGERING_FEATURES
from chartkit.theory.shape_text import Frets

_FAR_APART = 3
"""Strings between two fingers that may change places in a fret (ours)."""
_WIDEST_LEAN = 3
_LEAN_OVER_OPEN_BASS = 4
"""Strings that the index finger takes by leaning over, where it is alone, and where an open string
sounds below, as in A6 x02222 (ours)."""
_NUT_POSITION = 4
"""The highest fret of a hand at the nut (common practice, no source)."""
_USUAL_HOME = 2
"""The fret where the index finger may lie beside open strings without being out of place
(ours)."""
_TURNED = 0.1
"""The weight of such a fret under a hand turned to the bass side (ours)."""
_THIRD_FRET = 3
"""The fret at which a movable grip is fingered first: frets there are neither wide nor narrow
(ours)."""
_WEAK = (2, 4)
"""The fingers that lie flat only with difficulty (common practice, no source)."""
_STRAIN = FINGERING_FEATURES.index("strain")
_THUMB = FINGERING_FEATURES.index("thumb")


@dataclass(frozen=True, slots=True)
class Fingering:
    """Presses and the finger of each, in the same order, with the fingering's features.

    ``features`` are in the order of ``weights.FINGERING_FEATURES``.
    """

    presses: tuple[Press, ...]
    fingers: tuple[int, ...]
    features: tuple[float, ...]
    cost: float


def fingers_on_strings(frets: Frets, fingering: Fingering) -> tuple[int, ...]:
    """The finger on each string, 0 for none."""
    fingers = [0] * len(frets)
    for (fret, first, last), finger in zip(fingering.presses, fingering.fingers, strict=True):
        for string in range(first, last + 1):
            if frets[string] == fret:
                fingers[string] = finger
    return tuple(fingers)


def partitions(frets: Frets) -> Iterator[tuple[Press, ...]]:
    """Every way to press the pattern with at most four fingers, sorted by fret and string."""
    at: dict[int, list[int]] = {}
    for string, fret in enumerate(frets):
        if fret:
            at.setdefault(fret, []).append(string)
    by_fret = [list(_groupings(frets, fret, at[fret])) for fret in sorted(at)]
    for chosen in product(*by_fret):
        presses = tuple(press for grouping in chosen for press in grouping)
        if len(presses) <= len(FINGERS):
            yield presses
            yield from _turned(presses)


def _turned(presses: tuple[Press, ...]) -> Iterator[tuple[Press, ...]]:
    """The presses with two far apart in one fret in the order of a hand turned to the bass side.

    The hand turns like this if another finger lies higher up on a lower string than both.
    """
    for place, (one, other) in enumerate(pairwise(presses)):
        two_tips = one[0] == other[0] and one[1] == one[2] and other[1] == other[2]
        alone = sum(press[0] == one[0] for press in presses) == 2
        turned = any(fret > one[0] and last < one[1] for fret, _, last in presses)
        if two_tips and alone and turned and other[1] - one[2] >= _FAR_APART:
            yield (*presses[:place], other, one, *presses[place + 2 :])


def _groupings(frets: Frets, fret: int, strings: list[int]) -> Iterator[tuple[Press, ...]]:
    """Every way to part the strings of one fret into fingers."""
    joinable = [
        all(between is None or between >= fret for between in frets[low + 1 : high])
        and 0 not in frets[high + 1 :]
        for low, high in pairwise(strings)
    ]
    for joins in product(*((False, True) if can else (False,) for can in joinable)):
        presses = []
        first = strings[0]
        for string, after, join in zip(strings, strings[1:], joins, strict=False):
            if not join:
                presses.append((fret, first, string))
                first = after
        yield (*presses, (fret, first, strings[-1]))


@cache
def _finger_choices(count: int) -> tuple[tuple[int, ...], ...]:
    return tuple(combinations(FINGERS, count))


@cache
def _pairs(count: int) -> tuple[tuple[int, int], ...]:
    return tuple(combinations(range(count), 2))


class Fingerer:
    """Finds fingerings on one instrument with the capo at one fret."""

    def __init__(
        self, instrument: Instrument, capo: int, hand: Hand, weights: Sequence[float]
    ) -> None:
        """``weights`` are those of ``weights.FINGERING_FEATURES``, in that order."""
        self._places = fret_places_mm(instrument, capo)
        self._widths = fret_widths_mm(instrument, capo)
        self._gaps = string_gaps_mm(instrument, capo)
        self._hand = hand
        self._weights = tuple(weights)
        self._strain_weight = self._weights[_STRAIN]
        self._prunable = min(self._weights) >= 0
        self._at_third_fret: dict[Frets, Fingering | None] = {}
        self._strains: dict[tuple[int, int, int, int, int], float] = {}

    def fingerings(self, frets: Frets) -> Iterator[Fingering]:
        """Every legal fingering of the pattern."""
        return self._fingerings(frets, [inf])

    def _fingerings(self, frets: Frets, bound: list[float]) -> Iterator[Fingering]:
        """The legal fingerings whose strain alone costs less than the current ``bound[0]``."""
        for presses in partitions(frets):
            for fingers in _finger_choices(len(presses)):
                strain = self._strain(presses, fingers)
                if strain * self._strain_weight < bound[0] and fingers_are_uncrossed(
                    presses, fingers
                ):
                    yield self._fingering(frets, presses, fingers, strain)

    def _fingering(
        self, frets: Frets, presses: tuple[Press, ...], fingers: tuple[int, ...], strain: float
    ) -> Fingering:
        features = self._features(frets, presses, fingers, strain)
        cost = sum([w * f for w, f in zip(self._weights, features, strict=True)])
        return Fingering(presses, fingers, features, cost)

    def cheapest(self, frets: Frets, barred: bool = False) -> Fingering | None:
        """The legal fingering that costs least, None where the hand cannot play it.

        ``barred`` asks for the index finger on every string of the lowest fret.  Of equal
        ones the first wins, which has the lowest fingers.

        A movable grip keeps the fingers that are cheapest at the third fret, if a hand can reach
        them.
        """
        if not barred and self._slides(frets):
            kept = self._as_at_third_fret(frets)
            if kept is not None:
                return kept
        return self._cheapest_here(frets, barred)

    @staticmethod
    def _slides(frets: Frets) -> bool:
        fretted = [fret for fret in frets if fret]
        return bool(fretted) and 0 not in frets and min(fretted) != _THIRD_FRET

    def _as_at_third_fret(self, frets: Frets) -> Fingering | None:
        """The pattern with the fingers it has at the third fret, None where they do not reach."""
        up = min(fret for fret in frets if fret) - _THIRD_FRET
        there = tuple(None if fret is None else fret - up for fret in frets)
        if there not in self._at_third_fret:
            self._at_third_fret[there] = self._cheapest_here(there, barred=False)
        there_fingered = self._at_third_fret[there]
        if there_fingered is None:
            return None
        presses = tuple((fret + up, first, last) for fret, first, last in there_fingered.presses)
        strain = self._strain(presses, there_fingered.fingers)
        return (
            None
            if strain == inf
            else self._fingering(frets, presses, there_fingered.fingers, strain)
        )

    def _cheapest_here(self, frets: Frets, barred: bool) -> Fingering | None:
        best, bound = None, [inf]
        for fingering in self._fingerings(frets, bound):
            if fingering.cost < (inf if best is None else best.cost) and (
                not barred or _index_takes_lowest(fingering)
            ):
                best = fingering
                if self._prunable:
                    bound[0] = best.cost
        return best

    def over_the_neck(self, frets: Frets) -> Fingering | None:
        """The cheapest fingering with the thumb on the lowest string; None where it cannot be.

        The thumb lies within a fret of the lowest finger, and the fingers play the rest without
        covering its string (common practice, no source).
        """
        thumb = frets[0]
        others = [fret for fret in frets[1:] if fret]
        if not thumb or (others and not min(others) - 1 <= thumb <= min(others) + 1):
            return None
        rest = self.cheapest((None, *frets[1:]))
        if rest is None:
            return None
        features = (*rest.features[:_THUMB], 1.0)
        return Fingering(
            (*rest.presses, (thumb, 0, 0)),
            (*rest.fingers, THUMB),
            features,
            rest.cost + self._weights[_THUMB],
        )

    def _strain(self, presses: tuple[Press, ...], fingers: tuple[int, ...]) -> float:
        """The strain over all finger pairs; infinite when one is out of reach."""
        widest = self._hand.widest
        for (_, first, last), finger in zip(presses, fingers, strict=True):
            if last - first >= widest[finger - 1]:
                return inf
        total = 0.0
        for one, other in _pairs(len(presses)):
            total += self._pair_strain(presses[one], presses[other], fingers[one], fingers[other])
        return total

    def _pair_strain(self, one: Press, other: Press, finger: int, next_finger: int) -> float:
        strings = max(0, other[1] - one[2], one[1] - other[2])
        key = (one[0], other[0], strings, finger, next_finger)
        strain = self._strains.get(key)
        if strain is None:
            strain = self._strains[key] = self._measured_strain(*key)
        return strain

    def _measured_strain(
        self, fret: int, other_fret: int, strings: int, finger: int, next_finger: int
    ) -> float:
        """((d - comfortable) / (largest - comfortable))², infinite past the largest reach."""
        along = self._places[other_fret] - self._places[fret]
        distance = hypot(along, strings * self._gaps[other_fret])
        comfortable, largest = self._hand.reach(finger, next_finger)
        if distance > largest:
            return inf
        return (max(0.0, distance - comfortable) / (largest - comfortable)) ** 2

    def _features(
        self, frets: Frets, presses: tuple[Press, ...], fingers: tuple[int, ...], strain: float
    ) -> tuple[float, ...]:
        count = len(presses)
        barre = count > 0 and fingers[0] == 1 and presses[0][2] > presses[0][1]
        leans = barre and _leans_over(frets, presses)
        strings = presses[0][2] - presses[0][1] + 1 if barre else 0
        covered = 0 if leans else strings
        flat = zip(presses, fingers, strict=True)
        weak = [finger in _WEAK for (_, first, last), finger in flat if last > first]
        parts = [last - first + 1 for _, first, last in presses[barre:] if last > first]
        return (
            count,
            count == 4,
            count > 0 and fingers[-1] == 4,
            strain,
            self._overfill_mm(presses) if count > 2 else 0.0,
            _away_from_nut(frets, presses, fingers),
            strings - 1 if leans else 0,
            covered > 0,
            covered,
            any(
                fret == 1 and last > first and not (leans and place == 0)
                for place, (fret, first, last) in enumerate(presses)
            ),
            len(parts),
            sum(parts),
            sum(weak),
            (barre or bool(parts)) and _crowded(frets, presses),
            False,
        )

    def _overfill_mm(self, presses: tuple[Press, ...]) -> float:
        """How many millimetres of room three or more fingertips in one fret lack."""
        overfill = 0.0
        for fret in {press[0] for press in presses}:
            tips = sum(press[0] == fret for press in presses)
            if tips > 2:
                needed = tips * self._hand.finger_width_mm - self._widths[fret]
                overfill += max(0.0, needed)
        return overfill


def _index_takes_lowest(fingering: Fingering) -> bool:
    """Whether the index finger alone holds the lowest fret."""
    presses = fingering.presses
    alone = len(presses) < 2 or presses[1][0] > presses[0][0]
    return fingering.fingers[:1] == (1,) and alone


def _leans_over(frets: Frets, presses: tuple[Press, ...]) -> bool:
    """Whether the first press takes two strings and nothing sounds on their treble side.

    There the index finger leans over; anywhere else it must lie as flat as in a barre, and
    clear of the strings beyond.  It leans over three where no other finger is in its way, over four
    if an open string has the bass.
    """
    _, first, last = presses[0]
    beyond = all(fret is None for fret in frets[last + 1 :])
    widest = _LEAN_OVER_OPEN_BASS if 0 in frets[:first] else _WIDEST_LEAN
    return beyond and last - first < (widest if len(presses) == 1 else 2)


def _away_from_nut(frets: Frets, presses: tuple[Press, ...], fingers: tuple[int, ...]) -> float:
    """Frets by which the hand of an open shape lies higher than necessary.

    At the nut each finger belongs to one fret, so a single finger is the one of its fret: the third
    in a ukulele's C 0003. Several fingers may lie one fret higher, 1-2 in Em, but no further: 2-3-4
    in 300033, which leaves the index finger free for the next chord.  A hand turned to the bass
    side rather keeps its place, 3-2 in Cmaj7 x32000.
    """
    if not presses:
        return 0.0
    if 0 not in frets:
        return _past_its_fret(presses, fingers)
    if presses[-1][0] > _NUT_POSITION:
        return 0.0
    lowest, first, last = presses[0]
    home = max(1, lowest - fingers[0] + 1)
    if len(presses) == 1 and first == last:
        return home - 1
    turned = any(fret > lowest and end < first for fret, _, end in presses)
    return max(0.0, home - _USUAL_HOME, _TURNED if turned and home == _USUAL_HOME else 0.0)


def _past_its_fret(presses: tuple[Press, ...], fingers: tuple[int, ...]) -> float:
    """Frets by which the other fingers lie past their own over a barre of the index finger.

    Over a barre, too, each finger belongs to one fret: in a ukulele's D flat 1114 the little finger
    lies three frets up, although the third could reach it on short frets.
    """
    lowest, first, last = presses[0]
    if fingers[0] != 1 or last == first:
        return 0.0
    others = zip(presses[1:], fingers[1:], strict=True)
    return sum(max(0.0, fret - lowest - (finger - 1)) for (fret, _, _), finger in others)


def _crowded(frets: Frets, presses: tuple[Press, ...]) -> bool:
    """Whether a barre shares its fret with another finger or lies on a muted string."""
    for fret, first, last in presses:
        if last > first and (
            sum(press[0] == fret for press in presses) > 1 or None in frets[first : last + 1]
        ):
            return True
    return False
