"""The hand rules written out a second time, slowly and on their own.

Nothing here uses the program's search, fingering or geometry: frets and fingers are checked
one by one against the rules as they are stated in words, and playability is decided by
trying every assignment of fingers to fretted strings.
"""

from collections.abc import Iterator
from itertools import combinations, permutations, product
from math import sqrt

SCALE, NUT, BRIDGE = 648.0, 36.5, 54.0
LARGEST = {(1, 2): 72, (1, 3): 100, (1, 4): 122, (2, 3): 60, (2, 4): 96, (3, 4): 58}
WIDEST = {1: 6, 2: 2, 3: 4, 4: 2}

Frets = tuple[int | None, ...]


def along(fret: float) -> float:
    """Millimetres from the nut to a place on the neck."""
    return SCALE - SCALE / 2 ** (fret / 12)


def across(fret: float, strings: int) -> float:
    """Millimetres from one string to the next there."""
    return (NUT + (BRIDGE - NUT) * along(fret) / SCALE) / (strings - 1)


def pattern_fault(frets: Frets, window: int = 4) -> str:
    """What is wrong with a pattern regardless of fingers; empty if nothing is."""
    fretted = [fret for fret in frets if fret]
    if fretted and max(fretted) > min(fretted) + window - 1:
        return "the frets are more than a hand apart"
    played = [i for i, fret in enumerate(frets) if fret is not None]
    for i in range(played[0], played[-1] + 1):
        if frets[i] is None:
            beside = [frets[j] for j in (i - 1, i + 1)]
            if not any(fret for fret in beside):
                return f"nothing damps string {i}"
    return ""


def fingers_fault(frets: Frets, fingers: tuple[int, ...], capo: int = 0, reach: float = 1.0) -> str:
    """What is wrong with a finger for each string (0 for none); empty if nothing is."""
    for fret, finger in zip(frets, fingers, strict=True):
        if bool(fret) != bool(finger):
            return "a fretted string needs a finger, and no other string has one"
    held = {}
    for finger in sorted({f for f in fingers if f}):
        strings = [i for i, f in enumerate(fingers) if f == finger]
        places = {frets[i] for i in strings}
        if len(places) > 1:
            return f"finger {finger} lies at two frets"
        fret = places.pop()
        span = range(strings[0], strings[-1] + 1)
        if len(span) > WIDEST[finger]:
            return f"finger {finger} covers too many strings"
        for i in span:
            if frets[i] is not None and frets[i] < fret:
                return f"finger {finger} lies on a string that must sound lower"
            if frets[i] == fret and fingers[i] != finger:
                return f"another finger lies within finger {finger}"
        if len(span) > 1 and 0 in frets[strings[-1] + 1 :]:
            return f"finger {finger} lies flat over an open string"
        held[finger] = (fret, strings[0], strings[-1])
    for one, other in combinations(held, 2):
        fret, first, last = held[one]
        next_fret, next_first, next_last = held[other]
        other_way = next_fret == fret and next_first < first and not turned(held, one, other)
        if next_fret < fret or other_way:
            return f"fingers {one} and {other} cross"
        gap = max(0, next_first - last, first - next_last)
        x = along(capo + next_fret - 0.3) - along(capo + fret - 0.3)
        y = gap * across(capo + next_fret - 0.3, len(frets))
        if sqrt(x * x + y * y) > reach * LARGEST[one, other]:
            return f"fingers {one} and {other} are too far apart"
    return crossing_fault(held)


def turned(held: dict[int, tuple[int, int, int]], one: int, other: int) -> bool:
    """Whether a finger higher up on a lower string turns the hand, so that two single fingers,
    alone in a fret and three strings apart or more, may change places."""
    fret = held[one][0]
    two = (held[one], held[other])
    bass = min(first for _, first, _ in two)
    return (
        all(first == last for _, first, last in two)
        and sum(there == fret for there, _, _ in held.values()) == 2
        and abs(two[0][1] - two[1][1]) >= 3
        and any(there > fret and last < bass for there, _, last in held.values())
    )


def crossing_fault(held: dict[int, tuple[int, int, int]]) -> str:
    """How fingers get in each other's way, from each one's fret, first and last string."""
    frets = [fret for fret, _, _ in held.values()]
    if any(frets.count(fret) == 4 for fret in frets):
        return "four fingers have no room in one fret"
    for fret, first, _ in held.values():
        ends = [end for there, start, end in held.values() if there == fret and start >= first]
        close = frets.count(fret) == len(ends) == 3 and max(ends) <= first + 3
        inside = [at for there, at, _ in held.values() if there > fret and first < at < max(ends)]
        if close and inside:
            return "a finger has no room among three in a fret"
    for flat, (fret, first, last) in held.items():
        if flat == 1 or first == last:
            continue
        if fret == min(frets) and frets.count(fret) > 1:
            return f"finger {flat} lies flat where the index finger would"
        if any(there > fret and first <= a and b <= last for there, a, b in held.values()):
            return f"a finger lies in front of finger {flat}, which lies flat"
        wide = last - first >= 2
        for under in range(1 if wide else 2, flat):
            if under in held and held[under][0] < fret and held[under][1] > last:
                return f"finger {under} reaches under finger {flat}"
    for one, far, between in permutations(held, 3):
        fret, string = held[far][0], held[far][1]
        if held[one][0] == fret < held[between][0] and held[one][1] < held[between][1]:
            beside = {between}
            for _ in held:
                beside |= {
                    other
                    for other, (there, first, last) in held.items()
                    for there_too, start, end in [held[one_of] for one_of in beside]
                    if there == there_too and (first == end + 1 or last == start - 1)
                }
            gap = string - max(held[finger][2] for finger in beside)
            if gap > 0 and not (gap == 1 and min(beside) == far + 1):
                return f"finger {far} reaches around finger {between}"
    return ""


def playable(frets: Frets, capo: int = 0) -> bool:
    """Whether any assignment of fingers to the fretted strings keeps the rules."""
    return any(True for _ in legal_fingers(frets, capo))


def legal_fingers(frets: Frets, capo: int = 0) -> Iterator[tuple[int, ...]]:
    """Every assignment of fingers to the fretted strings that keeps the rules."""
    choices = [(1, 2, 3, 4) if fret else (0,) for fret in frets]
    return (assigned for assigned in product(*choices) if not fingers_fault(frets, assigned, capo))
