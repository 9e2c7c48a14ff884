"""Chord diagrams: a shape as a picture of the neck, seen from the front.

The conventions are those of printed guitar music (common practice, no source): strings stand
upright, the bass side left, the nut (or the capo) on top; a dot where a finger presses, with
the finger's number from 1, the index, to 4, T for the thumb; o over an open string, x over a
muted one.
"""

from dataclasses import dataclass
from typing import NamedTuple

from chartkit.fretboard.hand import THUMB
from chartkit.fretboard.voicing import Voicing
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Dot, Item, Shape, Stroke, moved_item
from chartkit.layout.labels import ChordLabeller
from chartkit.layout.place import PlacedSystem
from chartkit.layout.style import Style
from chartkit.theory.chord_parts import PrintedChord

_STRING_SPACE = 7.2
"""How far strings are apart, in points at scale 1, as are all lengths here."""
_FRET_SPACE = 9.0
"""How far frets are apart."""
_FEWEST_FRETS = 4
"""How many frets a diagram has at least."""
_DOT = 3.3
"""The radius of the dot of a finger."""
_RING = 1.9
"""The radius of the ring of an open string."""
_LEFT = 9.5
"""The room before the first string, which the number of a fret has."""
_NUMBER_GAP = 1.5
"""The gap between that number and the dots."""
_CELL = 50.5
"""A diagram with the number of its fret, and air up to the dots of the one before it; a number
that needs more room before the strings widens both."""
_USUAL = 58.0
"""The distance of few diagrams."""
_NAME_GAP = 4.0
_SMALLEST = 0.9
"""How much smaller than the page's type diagrams are drawn at most, to save a row; ours."""
_NUMBER_SIZE = 0.9
"""The number of a fret beside the style's small type."""
_NAME_ROOM, _MARK_ROOM = 16.0, 8.0


class NamedShape(NamedTuple):
    """A shape of the song: its name, how it is played, and the strings that a short capo leaves
    out, by their place from the bass side."""

    name: PrintedChord
    voicing: Voicing
    beside_capo: tuple[int, ...] = ()


@dataclass(slots=True)
class DiagramSetter:
    """Draws diagrams in one style, names in the style's chord type.

    ``scale`` is how large the pictures are beside the style's own measures, ``cell`` the room that
    each has from left to right, as part of that, ``left`` the room before its strings.
    """

    fitter: Fitter
    style: Style
    scale: float = 1.0
    cell: float = _CELL
    left: float = _LEFT

    def rows(self, shapes: tuple[NamedShape, ...]) -> tuple[PlacedSystem, ...]:
        """Every shape once, in as few rows as hold them, all of much the same length."""
        line, left = self.style.line_width, self._left_of(shapes)
        cell = _CELL + left - _LEFT
        most = max(1, int(line // (self.style.pt(cell) * _SMALLEST)))
        count = -(-len(shapes) // -(-len(shapes) // most)) if shapes else 1
        # Few shapes keep the usual distance; others fill the line.
        room = max(line / max(count, int(line // self.style.pt(max(_USUAL, cell)))), 1.0)
        scale = min(1.0, room / self.style.pt(cell))
        setter = DiagramSetter(self.fitter, self.style, scale, room / self.style.pt(scale), left)
        height = setter._height(shapes) if shapes else 0.0
        placed = []
        for start in range(0, len(shapes), count):
            items: list[Item] = []
            for column, shape in enumerate(shapes[start : start + count]):
                items += (moved_item(item, column * room, 0) for item in setter.diagram(shape))
            placed.append(PlacedSystem(tuple(items), height))
        return tuple(placed)

    def _left_of(self, shapes: tuple[NamedShape, ...]) -> float:
        """The room before the strings that the widest number of a fret needs."""
        firsts = {_frets_shown(shape.voicing)[0] for shape in shapes} - {1}
        size = self.style.small * _NUMBER_SIZE
        widths = [self.fitter.width(str(first), "plain", size) for first in firsts]
        return max(_LEFT, max(widths, default=0.0) / self.style.pt(1) + _DOT + _NUMBER_GAP)

    def _pt(self, length: float) -> float:
        return self.style.pt(length) * self.scale

    def _height(self, shapes: tuple[NamedShape, ...]) -> float:
        frets = max(_frets_shown(shape.voicing)[1] for shape in shapes)
        return self._pt(_NAME_ROOM + _MARK_ROOM + frets * _FRET_SPACE + 2)

    def diagram(self, shape: NamedShape) -> list[Item]:
        """One diagram, its grid beginning a little right of the origin."""
        pt, voicing = self._pt, shape.voicing
        size = self.style.strong * 0.86 * self.scale
        labeller = ChordLabeller(self.fitter.typesetter, "strong", size, pt(self.cell - _NAME_GAP))
        label = labeller.label(shape.name)
        left, top = pt(self.left), pt(_NAME_ROOM + _MARK_ROOM)
        width = (len(voicing.frets) - 1) * pt(_STRING_SPACE)
        x = max(0.0, left + width / 2 - label.width / 2)
        name = self.fitter.text("", x, pt(11), "strong", size, role="diagram")
        items: list[Item] = [name._replace(pieces=label.pieces, width=label.width)]
        first, count = _frets_shown(voicing)
        items += self._grid(left, top, width, len(voicing.frets), first, count)
        items += self._top_bar(left, top, width, shape.beside_capo, first)
        items += self._marks(voicing, left, top)
        items += self._fingers(voicing, left, top, first)
        return items

    def _grid(
        self, left: float, top: float, width: float, strings: int, first: int, count: int
    ) -> list[Item]:
        pt = self._pt
        space, fret = pt(_STRING_SPACE), pt(_FRET_SPACE)
        items: list[Item] = [
            Stroke(left, top + i * fret, left + width, top + i * fret, pt(0.5))
            for i in range(count + 1)
        ]
        items += [
            Stroke(left + i * space, top, left + i * space, top + count * fret, pt(0.5))
            for i in range(strings)
        ]
        if first > 1:
            size = self.style.small * self.scale * _NUMBER_SIZE
            number = self.fitter.width(str(first), "plain", size)
            x, y = left - number - pt(_DOT + _NUMBER_GAP), top + fret * 0.5 + size * 0.36
            items.append(self.fitter.text(str(first), x, y, "plain", size, role="fret"))
        return items

    def _top_bar(
        self, left: float, top: float, width: float, beside: tuple[int, ...], first: int
    ) -> list[Item]:
        """The nut or the capo, where the picture begins there; a short capo only over its strings,
        and as a bar with round ends also over a picture further up."""
        pt, space = self._pt, self._pt(_STRING_SPACE)
        if not beside:
            nut = Stroke(left - pt(0.3), top, left + width + pt(0.3), top, pt(2.2))
            return [nut] if first == 1 else []
        strings = round(width / space) + 1
        covered = [place for place in range(strings) if place not in beside]
        if not covered:
            return []
        y = top if first == 1 else top - pt(1.4)
        ends = left + covered[0] * space, left + covered[-1] * space
        reach = pt(1.6)
        return [
            Stroke(ends[0] - reach, y, ends[1] + reach, y, pt(3.2)),
            *(Dot(x, y, pt(1.6)) for x in (ends[0] - reach, ends[1] + reach)),
        ]

    def _marks(self, voicing: Voicing, left: float, top: float) -> list[Item]:
        """Over the nut: a ring for each open string, a cross for each muted one."""
        pt, items = self._pt, list[Item]()
        y, reach = top - pt(4.4), pt(1.7)
        for i, fret in enumerate(voicing.frets):
            x = left + i * pt(_STRING_SPACE)
            if fret is None:
                items.append(Stroke(x - reach, y - reach, x + reach, y + reach, pt(0.8)))
                items.append(Stroke(x - reach, y + reach, x + reach, y - reach, pt(0.8)))
            elif fret == 0:
                items += [Dot(x, y, pt(_RING)), Dot(x, y, pt(_RING - 0.7), 0.0)]
        return items

    def _fingers(self, voicing: Voicing, left: float, top: float, first: int) -> list[Item]:
        pt, items = self._pt, list[Item]()
        size = self.style.small * self.scale * 0.72
        for finger, strings in _pressed(voicing).items():
            fret = voicing.frets[strings[0]] or 0
            y = top + (fret - first + 0.5) * pt(_FRET_SPACE)
            xs = [left + string * pt(_STRING_SPACE) for string in (strings[0], strings[-1])]
            if len(strings) > 1:
                half = pt(_DOT) * 0.62
                items.append(
                    Shape(
                        ((xs[0], y - half), (xs[1], y - half), (xs[1], y + half), (xs[0], y + half))
                    )
                )
            for x in dict.fromkeys(xs):
                items.append(Dot(x, y, pt(_DOT)))
                sign = "T" if finger == THUMB else str(finger)
                width = self.fitter.width(sign, "strong", size)
                place = x - width / 2, y + size * 0.36
                items.append(self.fitter.text(sign, *place, "strong", size, role="finger", ink=0.0))
        return items


def _frets_shown(voicing: Voicing) -> tuple[int, int]:
    """The first fret of the picture and how many it has: from the nut where the shape fits."""
    pressed = [fret for fret in voicing.frets if fret]
    highest = max(pressed, default=0)
    if highest <= _FEWEST_FRETS:
        return 1, _FEWEST_FRETS
    first = min(pressed)
    return first, max(_FEWEST_FRETS, highest - first + 1)


def _pressed(voicing: Voicing) -> dict[int, list[int]]:
    """The strings under each finger, bass side first."""
    strings_of: dict[int, list[int]] = {}
    for string, finger in enumerate(voicing.fingers):
        if finger:
            strings_of.setdefault(finger, []).append(string)
    return strings_of
