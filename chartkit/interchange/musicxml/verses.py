"""Syllables to the words under a bar: one segment for each chord."""

from collections.abc import Iterable, Sequence

from chartkit.chart.model import Segment
from chartkit.interchange.musicxml.events import Measure, Sung

Cell = tuple[Segment, ...]
EMPTY: Cell = (Segment(),)


def verse_numbers(measures: Iterable[Measure]) -> dict[str, int]:
    """The number of each verse: its own where it has one, else the next that is free."""
    names = sorted({s.verse for m in measures for s in m.sung}, key=_verse_order)
    found = {name: int(name) for name in names if name.isdecimal() and 0 < int(name) < 1000}
    last = max(found.values(), default=0)
    for name in names:
        if name not in found:
            last += 1
            found[name] = last
    return {name: found[name] for name in names}


def _verse_order(name: str) -> tuple[int, int, str]:
    digits = name if name.isdecimal() else name.partition(",")[0].partition(" ")[0]
    plain = digits.isdecimal() and len(digits) < 6
    return (not plain, int(digits) if plain else 0, name)


def cell_of(sung: Sequence[Sung], starts: Sequence[int]) -> Cell:
    """The words of one verse in a bar; ``starts`` is where each segment begins, in units."""
    if not sung:
        return EMPTY
    if len(starts) == 1 and sung[0].onset >= starts[0]:
        return (_segment(sung),)
    ends = [*starts[1:], None]
    segments = [
        _segment([s for s in sung if start <= s.onset and (end is None or s.onset < end)])
        for start, end in zip(starts, ends, strict=True)
    ]
    while len(segments) > 1 and segments[-1] == Segment():
        segments.pop()
    return tuple(segments)


def _segment(sung: Sequence[Sung]) -> Segment:
    words = [one for one in sung if not one.held]
    if not words:
        return Segment(held=bool(sung))
    text = "".join([one.text if one.goes_on else f"{one.text} " for one in words])
    return Segment(text.strip(), words[-1].goes_on)


def sung_in(measure: Measure) -> dict[str, tuple[Sung, ...]]:
    """The syllables of a measure, each verse's by themselves."""
    found: dict[str, list[Sung]] = {}
    for sung in measure.sung:
        found.setdefault(sung.verse, []).append(sung)
    return {verse: tuple(syllables) for verse, syllables in found.items()}
