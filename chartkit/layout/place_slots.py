"""Where the slots of a bar stand: by their beats, each with the room it needs.

Every slot keeps a stretch in proportion to how long it lasts, or the room of what stands in it
where that is more, and all stretches are of one scale, the largest with which the bar holds
them.  Where slots share beats, each keeps its room and what is left over is shared in that
proportion, so that short notes are not crowded beside long ones.
"""

from chartkit.layout.boxes import BarBox

_HALVINGS = 18
"""Steps to the scale: a bar of a page's width is then exact to a five-hundredth of a point."""


def slot_places(box: BarBox, width: float, edge: float) -> list[float]:
    """Where each slot of a bar stands whose left edge is at ``edge``, in points."""
    inner = width - box.left_pad - box.right_pad
    low, high = 0.0, inner
    if _spaced(box, high)[-1] > inner:
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            fits = _spaced(box, middle)[-1] <= inner
            low, high = (middle, high) if fits else (low, middle)
        high = low
    start = edge + box.left_pad
    places = [start + place for place in _spaced(box, high)[:-1]]
    return _with_even_slashes(box, places, start + inner)


def _spaced(box: BarBox, scale: float) -> list[float]:
    """The places of the slots and of the end, where a whole bar would be ``scale`` long."""
    shares = [slot.share for slot in box.slots] + [1.0]
    places = [0.0] * len(shares)
    if box.slots:
        places[0] = max(box.slots[0].lead, shares[0] * scale)
    for i, wants in enumerate(box.needs):
        lasts = (shares[i + 1] - shares[i]) * scale
        places[i + 1] = max(places[i + 1], places[i] + lasts)
        for later, room in wants:
            shared = (shares[later] - shares[i]) * scale if box.groups else 0.0
            places[later] = max(places[later], places[i] + room + shared)
    return places


def _with_even_slashes(box: BarBox, places: list[float], end: float) -> list[float]:
    """The places with each run of slashes spread evenly up to the next chord."""
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
        following = spread[last] - box.slots[last].lead if last < len(spread) else end
        step = (following - spread[i]) / (last - i)
        for k in range(i + 1, last):
            spread[k] = spread[i] + step * (k - i)
        i = last
    return spread
