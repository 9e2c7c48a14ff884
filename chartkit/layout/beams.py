"""Stems and beams over chords and slashes that share a beat, and ties to held notes.

A beam stands over the first line of chords, its stems reach down to the chord or slash that
is struck (how rhythms over slashes are written: common practice, no source).
"""

from dataclasses import dataclass
from math import cos, pi, sin

from chartkit.layout.bar_signs import DOT
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Dot, Item, Shape, Stroke
from chartkit.layout.rhythm import Group
from chartkit.layout.style import Style

_BEAM, _NEXT_BEAM, _STEM, _STUB = 1.9, 3.2, 0.9, 4.5
"""Thickness of a beam, from one to the next, thickness of a stem, length of a lone beam."""
BEAM_ROOM, TUPLET_ROOM = 10.5, 7.5
"""The height that beams, and a number over them, add to a system."""
_NEXT_FLAG, _FLAG_POINTS = 3.2, 5
"""From one flag to the next, and the steps in which each of its edges is drawn."""
_TIE_POINTS = 12
_TIE_DEPTH, _TIE_BODY = 2.4, 1.0
"""How far a tie hangs down, and how thick it is in its middle."""


@dataclass(frozen=True, slots=True)
class BeamNote:
    """Where a note's stem stands and how far down it goes, and where a dot would stand."""

    x: float
    foot: float
    dot_x: float
    dot_y: float


def beam_items(
    group: Group, notes: list[BeamNote], top: float, style: Style, fitter: Fitter
) -> list[Item]:
    """The stems, beams, dots and number of one beat, its beam's upper edge at ``top``."""
    pt = style.pt
    items: list[Item] = []
    for run in _runs(group):
        items += _run(group, notes, run, top, style)
    for value, rest, note in zip(group.values, group.rests, notes, strict=True):
        if value.dotted and not rest:
            items.append(Dot(note.dot_x, note.dot_y, pt(DOT)))
    if group.tuplet:
        items += _tuplet(group, notes, top, style, fitter)
    return items


def _runs(group: Group) -> list[list[int]]:
    """The notes of a group in runs that one beam joins: rests and notes without flags part
    them."""
    runs: list[list[int]] = []
    joins = False
    for i, (value, rest) in enumerate(zip(group.values, group.rests, strict=True)):
        if rest:
            joins = False
            continue
        if joins and value.flags:
            runs[-1].append(i)
        else:
            runs.append([i])
        joins = value.flags > 0
    return runs


def _run(
    group: Group, notes: list[BeamNote], run: list[int], top: float, style: Style
) -> list[Item]:
    """The stems of a run with its beams, or with flags where it is a note alone."""
    pt = style.pt
    xs, flags = [notes[i].x for i in run], [group.values[i].flags for i in run]
    items: list[Item] = [Stroke(notes[i].x, top, notes[i].x, notes[i].foot, pt(_STEM)) for i in run]
    if len(run) == 1:
        return [*items, *_flags(xs[0], flags[0], top, style)]
    for level in range(max(flags)):
        y = top + pt(_BEAM / 2 + level * _NEXT_BEAM)
        items += [Stroke(a, y, b, y, pt(_BEAM)) for a, b in _beams(flags, xs, level, pt(_STUB))]
    return items


def _tuplet(
    group: Group, notes: list[BeamNote], top: float, style: Style, fitter: Fitter
) -> list[Item]:
    """The number over a tuplet, in a bracket where no beam joins its notes."""
    pt = style.pt
    number = fitter.text(str(group.tuplet), 0, top - pt(1.6), "strong", style.small, role="tuplet")
    left, right = notes[0].x, notes[-1].x
    number = number._replace(x=(left + right - number.width) / 2)
    if group.beamed:
        return [number]
    y, hook = number.y - style.small * 0.36, pt(2.4)
    left, right = left - pt(1), right + pt(3.6)
    return [
        number,
        Stroke(left, y + hook, left, y, pt(0.7)),
        Stroke(left, y, number.x - pt(1.5), y, pt(0.7)),
        Stroke(number.x + number.width + pt(1.5), y, right, y, pt(0.7)),
        Stroke(right, y, right, y + hook, pt(0.7)),
    ]


def _beams(flags: list[int], xs: list[float], level: int, stub: float) -> list[tuple[float, float]]:
    """The stretches of the beam of one level: between neighbours that have it, else a stub
    towards the rest of the beat."""
    has = [count > level for count in flags]
    spans = []
    for i, x in enumerate(xs):
        if not has[i]:
            continue
        if i + 1 < len(xs) and has[i + 1]:
            spans.append((x, xs[i + 1]))
        elif not (i and has[i - 1]):
            spans.append((x - stub, x) if i else (x, x + stub))
    return spans


def _flags(x: float, flags: int, top: float, style: Style) -> list[Item]:
    """The flags of a note that no beam joins to another."""
    pt = style.pt
    return [_flag(x, top + pt(_NEXT_FLAG * flag), pt(1)) for flag in range(flags)]


def _flag(x: float, y: float, unit: float) -> Shape:
    """One curved flag that hangs from the right of a stem's upper end."""
    outer = _curve(((0, 0), (0.4, 3.2), (7.2, 3.6), (4.6, 9.2)))
    inner = _curve(((4.6, 9.2), (5.6, 5.6), (1.6, 4.6), (0, 4.2)))
    return Shape(tuple((x + dx * unit, y + dy * unit) for dx, dy in (*outer, *inner)))


def _curve(points: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    """Places along a cubic curve, from its start to its end."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = points
    places = []
    for i in range(_FLAG_POINTS + 1):
        t = i / _FLAG_POINTS
        a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
        places.append((a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3))
    return places


def tie(start: float, end: float, y: float, style: Style) -> Shape:
    """A tie between two places under the things it joins, thin at its ends."""
    depth, body = style.pt(_TIE_DEPTH), style.pt(_TIE_BODY)
    turns = [pi * i / _TIE_POINTS for i in range(_TIE_POINTS + 1)]
    middle, half = (start + end) / 2, (end - start) / 2
    under = [(middle - half * cos(turn), y + depth * sin(turn)) for turn in turns]
    over = [
        (x, max(y, below - body * sin(turn))) for (x, below), turn in zip(under, turns, strict=True)
    ]
    return Shape((*under, *reversed(over[1:-1])))
