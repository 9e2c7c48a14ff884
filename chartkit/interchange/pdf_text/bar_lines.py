"""Puts bar lines that are drawn on other people's pages into the rows of chords.

Upright lines are taken for bar lines only where they plainly are (common practice, no source):
several of one height, through a row of chords or on the staff right below it, the last of them
after the last chord, none of them through a chord's name, and no three of them where a bar has
room for none.  Stems and boxes are not so; rows over them stay in free time.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise, takewhile

from chartkit.interchange.pdf_text.page_text import RepeatDot, TextRun, Upright
from chartkit.interchange.pdf_text.rows import Row

_SAME_HEIGHT = 1.5
"""By how many points the ends of the bar lines of one system may differ."""
_DOUBLE = 6.0
"""Lines this near, in points, are one double bar line or the thin and thick one of a repeat."""
_THICK = 1.8
"""How thick the one line of a repeat is at least, in points (ours)."""
_DOTS_BESIDE, _OFF_THE_MIDDLE = 12.0, 1.5
"""How far, in points, the dots of a repeat stand from its lines at most, and their middle from
that of these (ours)."""
_DOTS_CLOSE = 6.5
"""How far from a single line they stand at most; dots of notes end further from it on a staff
(ours)."""
_NARROWEST = 18.0
"""The least width of a bar, in points."""
_FEWEST = 2
_MOST_A_CHORD = 3
"""The most bars of a row for each of its chords; more lines are stems."""
_FEWEST_OPEN, _MOST_OPEN, _UNEVEN, _BEHIND = 3, 40, 0.1, 1.2
"""Bars drawn by their left sides alone: the fewest and the most of a row, by what share their
widths differ at most, and how many ems behind the line each chord begins (ours)."""
_FEWEST_BARS, _WIDEST_BAR, _MOST_IN_A_BAR = 3, 140.0, 2
"""Bars between lines through many rows: the fewest of a row, how wide they are at most, in points,
and how many chords they have at most, one with another (ours)."""
_MOST_GRIDS = 200
"""The most grids and rows of grids of a page that are looked at."""
_WIDEST_CLEF = 0.5
"""How wide clef and signatures are at most, beside the usual bar of their system (ours)."""
_MIDDLE, _OFF_MIDDLE = 0.35, 0.8
"""Lines through a row have their middle near that of its letters, in ems above the baseline."""
_STAFF_BELOW = 4.0
"""How many ems above a staff its chords stand at most: notes with leger lines come between."""


@dataclass(frozen=True, slots=True)
class System:
    """The places of the bar lines of one system, from the left, how high they reach, and what they
    are where they are more than a ``|``."""

    low: float
    high: float
    places: tuple[float, ...]
    on_staff: bool
    tall: bool = False
    of_grid: bool = False
    signs: dict[float, str] = field(default_factory=dict)


class BarLines:
    """The bar lines of one page, with the dots beside them: ``parted`` puts them into a row of
    chords."""

    def __init__(self, uprights: Iterable[Upright], dots: Sequence[RepeatDot] = ()) -> None:
        self._systems = systems_of(uprights, dots)
        self._staves: list[System] = []

    def keep_plain_grids(self, rows: Sequence[Row]) -> None:
        """Forgets the lines of grids that go through what is written on the page: columns of
        something else."""
        pieces = sorted((piece for row in rows for piece in row), key=lambda piece: piece.y)
        grids = [one for one in self._systems if one.of_grid]
        crossed = {_columns(one) for one in grids[:_MOST_GRIDS] if _is_crossed(one, pieces)}
        crossed.update(map(_columns, grids[_MOST_GRIDS:]))
        self._systems = [
            one for one in self._systems if not one.of_grid or _columns(one) not in crossed
        ]

    def parted(self, row: Row, is_music: Callable[[Row], bool], signs: Row) -> Row | None:
        """The row with a ``|`` at each bar line; None where it is no row of chords or has no
        plain bar lines.  ``signs`` say what bars without chords are."""
        if not self._systems or not is_music(row):
            return None
        belong = (_closed(one, row) for one in self._systems if _belongs(one, row))
        near = (one for one in belong if _are_plain(one, row))
        system = max(near, key=lambda one: _fitness(one, row), default=None)
        if system is None:
            return None
        if not system.tall:
            self._staves.append(system)
        return with_lines(row, _without_clef(system, [*row, *signs]), system.signs)

    def between(self, above: float, below: float) -> bool:
        """Whether a staff whose bar lines were used stands between two baselines."""
        return any(below < one.high and one.low < above for one in self._staves)


def systems_of(uprights: Iterable[Upright], dots: Sequence[RepeatDot]) -> list[System]:
    """The upright lines of one page by system, with the dots beside them."""
    groups: list[list[Upright]] = []
    for line in sorted(uprights, key=lambda one: (-one.high, -one.low)):
        near = takewhile(lambda group: group[0].high - line.high <= _SAME_HEIGHT, reversed(groups))  # noqa: B023
        group = next((one for one in near if _as_high(one[0], line)), None)
        if group is None:
            groups.append([line])
        else:
            group.append(line)
    systems = []
    for group in groups:
        lines = _apart(group)
        if len(lines) < _FEWEST:
            continue
        low, high = group[0].low, group[0].high
        across = sorted((dot.x, dot.y) for dot in dots if low <= dot.y <= high)
        signs = {one[0].x: _sign(one, across, (low + high) / 2) for one in lines}
        places = tuple(one[0].x for one in lines)
        tall, of_grid = group[0].is_tall, any(line.is_of_grid for line in group)
        systems.append(
            System(low, high, places, group[0].on_staff and not tall, tall, of_grid, signs)
        )
    return systems


def _columns(system: System) -> tuple[int, ...]:
    """The places of lines, alike for all rows of one grid."""
    return tuple(map(round, system.places))


def _is_crossed(system: System, pieces: Sequence[TextRun]) -> bool:
    """Whether a piece of text stands on both sides of a line; ``pieces`` from the bottom."""
    first = bisect_left(pieces, system.low, key=lambda piece: piece.y)
    within = takewhile(lambda piece: piece.y <= system.high, pieces[first:])
    return any(
        bisect_left(system.places, piece.x + piece.size / 4)
        < bisect_left(system.places, piece.end - piece.size / 4)
        for piece in within
    )


def _as_high(one: Upright, other: Upright) -> bool:
    highs, lows = abs(one.high - other.high), abs(one.low - other.low)
    return highs <= _SAME_HEIGHT and lows <= _SAME_HEIGHT and one.on_staff == other.on_staff


def _apart(group: Sequence[Upright]) -> list[list[Upright]]:
    """The lines from the left, those of a double line together."""
    apart: list[list[Upright]] = []
    for line in sorted(group, key=lambda one: one.x):
        if apart and line.x - apart[-1][0].x <= _DOUBLE:
            apart[-1].append(line)
        else:
            apart.append([line])
    return apart


def _sign(lines: Sequence[Upright], dots: Sequence[tuple[float, float]], middle: float) -> str:
    """What one bar line is: a repeat where it has two dots beside it, one above the other about its
    middle (common practice, no source)."""
    single = len(lines) < 2 and lines[0].thick < _THICK
    far = _DOTS_CLOSE if single else _DOTS_BESIDE
    left, right = lines[0].x, lines[-1].x
    first = bisect_left(dots, (left - far, 0.0))
    near = list(takewhile(lambda dot: dot[0] <= right + far, dots[first:]))
    ends = _are_a_repeat([dot for dot in near if dot[0] < left], middle)
    starts = _are_a_repeat([dot for dot in near if dot[0] > right], middle)
    return f"{':' * ends}|{':' * starts}"


def _are_a_repeat(dots: Sequence[tuple[float, float]], middle: float) -> bool:
    if len(dots) != 2:
        return False
    (x, y), (other_x, other_y) = dots
    about = abs((y + other_y) / 2 - middle) <= _OFF_THE_MIDDLE
    return about and abs(x - other_x) <= _OFF_THE_MIDDLE and abs(y - other_y) > _OFF_THE_MIDDLE


def _without_clef(system: System, row: Row) -> tuple[float, ...]:
    """The places of bar lines without the first, where before the next one only a clef and
    signatures stand on a staff, as at the start of a repeat, or the name of a section in a grid."""
    places = system.places
    widths = sorted(after - before for before, after in pairwise(places[1:]))
    if (not system.on_staff and not system.tall) or not widths:
        return places
    empty = all(not places[0] <= start < places[1] for piece in row for start, _ in _words(piece))
    narrow = places[1] - places[0] <= _WIDEST_CLEF * widths[len(widths) // 2]
    in_cells = system.low <= row[0].y <= system.high
    return places[1:] if empty and (narrow or in_cells) else places


def _belongs(system: System, row: Row) -> bool:
    """Whether bar lines go through a row, or stand on a staff right below it."""
    size = max(piece.size for piece in row)
    baseline = row[0].y
    over = system.on_staff and not system.of_grid
    if over and 0 <= baseline - system.high <= _STAFF_BELOW * size:
        return True
    middle = baseline + _MIDDLE * size
    if not (system.low <= baseline and baseline + size / 2 <= system.high):
        return False
    cell = system.on_staff or system.tall
    return cell or abs((system.low + system.high) / 2 - middle) <= _OFF_MIDDLE * size


def _closed(system: System, row: Row) -> System:
    """A system with a line where its last bar ends, if only the left sides of bars are drawn: all
    equally wide, with a chord right behind each line; else as it is."""
    places = system.places
    starts = [piece.x for piece in row]
    if not _FEWEST_OPEN <= len(places) <= _MOST_OPEN or not starts or starts[-1] <= places[-1]:
        return system
    widths = [after - before for before, after in pairwise(places)]
    even = max(widths) - min(widths) <= _UNEVEN * min(widths)
    near = _BEHIND * row[0].size
    begun = all(any(0 <= start - place <= near for start in starts) for place in places)
    wide = sum(widths) / len(widths)
    if not even or not begun or row[-1].end > places[-1] + wide:
        return system
    return replace(system, places=(*places, places[-1] + wide))


def _fitness(system: System, row: Row) -> tuple[bool, float, float]:
    """How well bar lines fit a row: those it stands among, else the nearest below it; of several
    the widest, and those of one system before lines through many rows."""
    below = max(0.0, row[0].y - system.high)
    return not system.tall, -round(below / _SAME_HEIGHT), system.places[-1] - system.places[0]


def _are_plain(system: System, row: Row) -> bool:
    """Whether upright lines are the bar lines of a row of chords."""
    *others, last = (piece for piece in row if piece.text.strip())
    starts = [start for piece in (*others, last) for start, _ in _words(piece)]
    few = len(system.places) <= _MOST_A_CHORD * len(starts) + 1
    wide = few and all(after - before >= _NARROWEST for before, after in pairwise(system.places))
    closed = system.places[-1] > starts[-1] and sum(
        place > starts[0] for place in system.places
    ) >= min(_FEWEST, len(starts))
    clear = not any(
        start + piece.size / 4 < place < end - piece.size / 4
        for piece in row
        for start, end in _words(piece)
        for place in system.places
    )
    return wide and closed and clear and (not system.tall or _are_bars(system, len(starts)))


def _are_bars(system: System, chords: int) -> bool:
    """Whether what stands between lines through many rows is as narrow as bars, and holds as few
    chords; columns of a page are wider and hold more."""
    widths = [after - before for before, after in pairwise(system.places)]
    few = _MOST_IN_A_BAR * len(widths) >= chords
    return few and len(widths) >= _FEWEST_BARS and max(widths) <= _WIDEST_BAR


def _words(piece: TextRun) -> list[tuple[float, float]]:
    """Where each word of a piece begins and ends."""
    words: list[tuple[float, float]] = []
    ends = list(accumulate(piece.advances, initial=piece.x))
    for at, character in enumerate(piece.text):
        if character.isspace():
            continue
        if at and not piece.text[at - 1].isspace():
            words[-1] = (words[-1][0], ends[at + 1])
        else:
            words.append((ends[at], ends[at + 1]))
    return words


def with_lines(row: Row, places: Sequence[float], signs: Mapping[float, str]) -> Row:
    """A row with a bar line at each of the places, or the sign that stands there."""
    size, page, y = row[0].size, row[0].page, row[0].y
    parts = [part for piece in row for part in _cut(piece, places)]
    first = min(parts[0].x, places[0])
    lines = [
        TextRun(page=page, x=place, y=y, size=size, text=sign, advances=(0.0,) * len(sign))
        for place in places
        if place >= first
        for sign in (signs.get(place, "|"),)
    ]
    if places[0] > parts[0].x:
        lines.insert(
            0,
            TextRun(page=page, x=parts[0].x - size / 2, y=y, size=size, text="|", advances=(0.0,)),
        )
    return sorted([*parts, *lines], key=lambda piece: piece.x)


def _cut(piece: TextRun, places: Sequence[float]) -> list[TextRun]:
    """A piece as several, cut at the blanks at which a bar line stands."""
    words = _words(piece)
    ends = list(accumulate(piece.advances, initial=piece.x))
    cuts = [0]
    for (_, before), (after, _) in pairwise(words):
        if any(before - piece.size / 4 <= place <= after + piece.size / 4 for place in places):
            cuts.append(next(at for at, x in enumerate(ends) if x >= after))
    parts = []
    for start, end in pairwise([*cuts, len(piece.text)]):
        text = piece.text[start:end]
        parts.append(
            TextRun(
                page=piece.page,
                x=ends[start],
                y=piece.y,
                size=piece.size,
                text=text,
                advances=piece.advances[start:end],
                leans=piece.leans,
                bold=piece.bold,
                pale=piece.pale,
            )
        )
    return parts
