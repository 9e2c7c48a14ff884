"""The rules of how fingers may lie beside one another, whatever their reach.

Fingers are already in order: along the frets, and within one fret from bass to treble. These rules
also keep them from crossing.  Common practice; no published source.
"""

from functools import lru_cache

Press = tuple[int, int, int]
"""Fret, first string and last string under one finger."""

_INDEX = 1
_MOST_IN_A_FRET = 3
"""The most fingers in one fret, and only low on the neck (common practice, no source)."""
_WIDE = 2
"""Strings past the first that make a part barre too flat to clear those beyond it (ours)."""


@lru_cache(maxsize=65536)
def fingers_are_uncrossed(presses: tuple[Press, ...], fingers: tuple[int, ...]) -> bool:
    """Whether no finger crosses another; presses are in order of fret and string.

    One fret takes three fingers, not four, and three close together no other between them; a
    part barre by another finger than the index shares the lowest fret with nobody, and nothing
    is pressed in front of it; no finger reaches under another's part barre or
    around a finger between them.
    """
    frets = [press[0] for press in presses]
    if any(frets.count(fret) > _MOST_IN_A_FRET for fret in frets):
        return False
    return not (
        _barre_beside_lowest(presses, fingers)
        or _under_a_barre(presses, fingers)
        or _in_front_of_a_barre(presses, fingers)
        or _among_three(presses)
        or _around_a_finger(presses, fingers)
    )


def _barre_beside_lowest(presses: tuple[Press, ...], fingers: tuple[int, ...]) -> bool:
    """Whether a part barre by another finger shares the lowest fret.

    There the index finger would lie flat; where it does not, it is in the way.
    """
    beside = [
        pressed for pressed in zip(presses, fingers, strict=True) if pressed[0][0] == presses[0][0]
    ]
    flat = [finger for (_, first, last), finger in beside if last > first]
    return len(beside) > 1 and any(finger != _INDEX for finger in flat)


def _under_a_barre(presses: tuple[Press, ...], fingers: tuple[int, ...]) -> bool:
    """Whether a finger has to reach under a part barre of a higher-numbered finger.

    A flat finger lies across every string on its treble side.  Over two strings it may bend
    back so far that the index finger presses one there, over more it does not.
    """
    for place, (fret, first, last) in enumerate(presses):
        if last == first:
            continue
        wide = last - first >= _WIDE
        for (other_fret, other_first, _), finger in zip(presses, fingers, strict=True):
            if (
                (wide or finger > _INDEX)
                and finger < fingers[place]
                and other_fret < fret
                and other_first > last
            ):
                return True
    return False


def _in_front_of_a_barre(presses: tuple[Press, ...], fingers: tuple[int, ...]) -> bool:
    """Whether a finger lies higher up on a string under a part barre of another than the index."""
    flat = [
        press
        for press, finger in zip(presses, fingers, strict=True)
        if press[2] > press[1] and finger != _INDEX
    ]
    return any(
        other > fret and first <= start and end <= last
        for fret, first, last in flat
        for other, start, end in presses
    )


def _among_three(presses: tuple[Press, ...]) -> bool:
    """Whether a finger lies higher up between three fingers in a fret that are close together.

    They take four neighbouring strings at most, and a barre would take them: 1-1-2-1 in xx1121.
    """
    for fret in {press[0] for press in presses}:
        beside = [press for press in presses if press[0] == fret]
        first, last = beside[0][1], max(press[2] for press in beside)
        close = len(beside) == _MOST_IN_A_FRET and last - first <= _MOST_IN_A_FRET
        if close and any(other > fret and first < start < last for other, start, _ in presses):
            return True
    return False


def _around_a_finger(presses: tuple[Press, ...], fingers: tuple[int, ...]) -> bool:
    """Whether a finger out of its order lies higher up between two that share a fret. Only the next
    fingers, up to the next string, lie there comfortably: the third in D xx0232, the third and
    fourth in Fmaj7 1x2210.
    """
    for place, (fret, first, _) in enumerate(presses):
        lower = [i for i in range(place) if presses[i][0] < fret]
        for i in lower:
            end, lowest = _side_by_side(presses, fingers, place)
            beyond = presses[i][1] - end
            shares = any(presses[j][0] == presses[i][0] and presses[j][1] < first for j in lower)
            if shares and beyond > 0 and (beyond > 1 or lowest > fingers[i] + 1):
                return True
    return False


def _side_by_side(
    presses: tuple[Press, ...], fingers: tuple[int, ...], place: int
) -> tuple[int, int]:
    """Of fingers on neighbouring strings of one fret, the last string and the lowest finger."""
    fret, first, last = presses[place]
    lowest = fingers[place]
    for other, start, end in presses:
        if other == fret and start == last + 1:
            last = end
    for (other, start, end), finger in reversed(list(zip(presses, fingers, strict=True))):
        if other == fret and end == first - 1:
            first, lowest = start, finger
    return last, lowest
