"""Places the slots of a bar by their beats, each with the room it needs.

Every slot keeps a stretch by how long it lasts, or the room of what stands in it where that is
more, and all stretches are of one scale, the largest with which the bar holds them.  In a bar of
exact notes a note twice as long gets about half as much room again, as handbooks of engraving ask
(E. Gould, *Behind Bars*, 2011; T. Ross, *The Art of Music Engraving*, 1970; both from memory).
"""

from itertools import pairwise

from chartkit.layout.boxes import BarBox

SPACING_POWER = 0.6
"""The power of its duration by which a note gets room: twice as long, 1.5 times the room."""
_HALVINGS = 18
"""Steps to the scale: a bar of a page's width is then exact to a five-hundredth of a point."""


def slot_places(box: BarBox, width: float, edge: float) -> list[float]:
    """Where each slot of a bar stands whose left edge is at ``edge``, in points."""
    inner = width - box.left_pad - box.right_pad
    low, high, due = 0.0, inner, stretches(box)
    if _spaced(box, due, high)[-1] > inner:
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            fits = _spaced(box, due, middle)[-1] <= inner
            low, high = (middle, high) if fits else (low, middle)
        high = low
    start = edge + box.left_pad
    places = [start + place for place in _spaced(box, due, high)[:-1]]
    return places if box.groups else _with_even_slashes(box, places, start + inner)


def stretches(box: BarBox) -> list[float]:
    """How much of a bar's room each slot is due by its duration; together they are 1."""
    shares = [slot.share for slot in box.slots] + [1.0]
    lasts = [after - at for at, after in pairwise(shares)]
    if not box.groups:
        return lasts
    by_duration = [max(0.0, one) ** SPACING_POWER for one in lasts]
    whole = sum(by_duration) / max(1e-6, 1.0 - shares[0])
    return [one / whole for one in by_duration]


def _spaced(box: BarBox, due: list[float], scale: float) -> list[float]:
    """The places of the slots and of the end, where a whole bar would be ``scale`` long."""
    places = [0.0] * (len(box.slots) + 1)
    if box.slots:
        places[0] = box.slots[0].share * scale
    for i, wants in enumerate(box.needs):
        here = places[i]
        if here + due[i] * scale > places[i + 1]:
            places[i + 1] = here + due[i] * scale
        for later, room in wants:
            if here + room > places[later]:
                places[later] = here + room
    return places


def _with_even_slashes(box: BarBox, places: list[float], end: float) -> list[float]:
    """The places with each run of slashes spread evenly between the chords around it, as far as the
    name of the first leaves room."""
    spread = list(places)
    i = 0
    while i < len(spread):
        if not box.slots[i].sign:
            i += 1
            continue
        last = i
        while last < len(spread) and box.slots[last].sign and not box.slots[last].words_begin:
            last += 1
        last = max(last, i + 1)
        following = spread[last] if last < len(spread) else end
        if i and not box.slots[i].words_begin:  # as far from the chord as from one another
            before = spread[i - 1]
            spread[i] = max(spread[i], before + (following - before) / (last - i + 1))
        step = (following - spread[i]) / (last - i)
        for k in range(i + 1, last):
            spread[k] = spread[i] + step * (k - i)
        i = last
    return spread
