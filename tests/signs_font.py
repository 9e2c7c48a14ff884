"""The faces of musical signs beside letters: ``python -m tests.signs_font`` draws them anew.

Accidentals of a music font are made for notes: too light beside bold letters, and some reach
below the baseline.  These stand on the baseline and are as high as capitals (714 thousandths of
an em, as in Noto Sans), in a bold and a plain weight.  Our own drawing, under the SIL Open Font
License like the fonts beside it.
"""

import math
from collections.abc import Sequence
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

FONTS = Path(__file__).resolve().parent.parent / "fonts"
CAPITAL, EM = 714, 1000
Point = tuple[float, float]


class Drawn:
    """One glyph: contours of straight lines and quadratic curves, and its advance."""

    def __init__(self, advance: int) -> None:
        self.advance = advance
        self.pen = TTGlyphPen(None)

    def polygon(self, *points: Point) -> "Drawn":
        """A filled polygon, clockwise."""
        self.pen.moveTo(points[0])
        for point in points[1:]:
            self.pen.lineTo(point)
        self.pen.closePath()
        return self

    def path(self, start: Point, *steps: Sequence[Point]) -> "Drawn":
        """A closed contour; a step of one point is a line, of two a curve."""
        self.pen.moveTo(start)
        for step in steps:
            if len(step) == 1:
                self.pen.lineTo(step[0])
            else:
                self.pen.qCurveTo(*step)
        self.pen.closePath()
        return self


def box(left: float, low: float, right: float, high: float) -> tuple[Point, ...]:
    """The corners of an upright rectangle, clockwise."""
    return (left, low), (left, high), (right, high), (right, low)


def flat(stem: int, belly: int, thin: int) -> Drawn:
    """A flat: the thickness of its stem, how far its belly reaches, and the belly's thickness."""
    drawn = Drawn(48 + stem + belly + 36)
    _flat_from(drawn, 48, stem, belly, thin)
    return drawn


def double_flat(stem: int, belly: int, thin: int) -> Drawn:
    """Two flats of which the second stem touches the first belly (common practice, no source)."""
    second = 48 + stem + belly - thin * 0.2
    drawn = Drawn(round(second) + stem + belly + 36)
    for left in (48, second):
        _flat_from(drawn, left, stem, belly, thin)
    return drawn


def _flat_from(drawn: Drawn, left: float, stem: int, belly: int, thin: int) -> None:
    inner, right = left + stem, left + stem + belly
    drawn.path(
        (left, 0), [(left, CAPITAL)], [(inner, CAPITAL)], [(inner, 388)],
        [(inner + 48, 442), (inner + 0.46 * belly, 442)],
        [(inner + 0.72 * belly, 442), (inner + 0.86 * belly, 404)],
        [(right, 366), (right, 306)],
        [(right, 222), (inner + 0.66 * belly, 138)], [(inner + 0.32 * belly, 62), (left + 60, 0)],
    )  # fmt: skip
    inside = belly - thin
    drawn.path(
        (inner, 84 + thin * 0.2), [(inner + 0.3 * inside, 130), (inner + 0.62 * inside, 190)],
        [(inner + inside, 246), (inner + inside, 296)],
        [(inner + inside, 326), (inner + 0.86 * inside, 344)],
        [(inner + 0.72 * inside, 362), (inner + 0.5 * inside, 362)],
        [(inner + 0.2 * inside, 362), (inner, 312)],
    )  # fmt: skip


def sharp(upright: int, beam: int, width: int) -> Drawn:
    """A sharp: the thickness of its uprights and beams, and how wide it is."""
    left, right = 26, 26 + width
    drawn = Drawn(right + 26)
    first, second = left + width * 0.3, left + width * 0.7
    drawn.polygon(*box(first - upright / 2, 0, first + upright / 2, CAPITAL - 40))
    drawn.polygon(*box(second - upright / 2, 40, second + upright / 2, CAPITAL))
    for middle in (225, 489):
        low, rise = middle - beam / 2, 42
        drawn.polygon(
            (left, low - rise), (left, low - rise + beam),
            (right, low + rise + beam), (right, low + rise),
        )  # fmt: skip
    return drawn


def double_sharp(line: int, end: int, width: int) -> Drawn:
    """A double sharp: two strokes that cross, with a square at each of their ends; how thick the
    strokes are, how large the squares, and how wide it is."""
    left, right = 36, 36 + width
    drawn = Drawn(right + 36)
    for x in (left, right - end):
        for y in (0, CAPITAL - end):
            drawn.polygon(*box(x, y, x + end, y + end))
    near, far = left + end / 2, right - end / 2
    low, high = end / 2, CAPITAL - end / 2
    across = line / 2 * math.hypot(far - near, high - low) / (high - low)
    drawn.polygon(
        (near - across, low), (far - across, high), (far + across, high), (near + across, low)
    )
    drawn.polygon(
        (near - across, high), (near + across, high), (far + across, low), (far - across, low)
    )
    return drawn


def natural(upright: int, beam: int, width: int) -> Drawn:
    """A natural, as a sharp is drawn."""
    left, right = 40, 40 + width
    drawn = Drawn(right + 40)
    drawn.polygon(*box(left, 165, left + upright, CAPITAL))
    drawn.polygon(*box(right - upright, 0, right, CAPITAL - 165))
    for middle in (225, 489):
        low, rise = middle - beam / 2, 34
        drawn.polygon(
            (left, low - rise), (left, low - rise + beam),
            (right, low + rise + beam), (right, low + rise),
        )  # fmt: skip
    return drawn


def triangle(line: int) -> Drawn:
    """The triangle of a major seventh."""
    width, height = 640, CAPITAL - 20
    drawn = Drawn(width + 40)
    drawn.polygon((20, 0), (20 + width / 2, height), (20 + width, 0))
    aside, above = line * 1.62, line * 2.25
    drawn.polygon((20 + aside, line), (20 + width - aside, line), (20 + width / 2, height - above))
    return drawn


def minus(line: int) -> Drawn:
    """A minus, which stands on the line of letters at half the height of capitals."""
    return Drawn(520).polygon(*box(50, 357 - line / 2, 470, 357 + line / 2))


def parenthesis(line: int, opening: bool) -> Drawn:
    """A tall parenthesis, an em high from the baseline, for signs one over the other."""
    points: list[Point] = [(210, -10), (60, 200), (60, 500), (60, 800), (210, 1010)]
    tip, waist = 210 + line * 0.4, 60 + line
    inner: list[Point] = [(tip, 1010), (waist, 780), (waist, 500), (waist, 220), (tip, -10)]
    if not opening:
        points, inner = ([(270 - x, y) for x, y in part] for part in (points, inner))
        points, inner = points[::-1], inner[::-1]
    drawn = Drawn(270)
    return drawn.path(
        points[0], points[1:3], points[3:5], [inner[0]], inner[1:3], inner[3:5]
    )  # fmt: skip


_HEAD = (60, 4, 410, 268)
"""The box of a note's head: a little larger than the quarter note of our music font is printed,
since a hole has to be seen in it."""
_STEM, _STEM_TOP, _NOTE = 62, 860, 487
"""The thickness of a stem, how high it reaches, and the advance of a note."""


def head(hollow: bool, wider: float = 1.0) -> Drawn:
    """The head of a note: an oval that leans to the right, filled or hollow."""
    left, low, right, high = _HEAD
    across, up = (right - left) / 2 * wider, (high - low) / 2
    x, y = left + across, low + up
    drawn = Drawn(round(x + across + _NOTE - right))
    _oval(drawn, x, y, across, up, lean=0.35)
    if hollow:
        _oval(drawn, x, y, across * 0.78, up * 0.5, lean=0.75 if wider == 1 else -0.3, inside=True)
    return drawn


def _oval(
    drawn: Drawn, x: float, y: float, across: float, up: float, lean: float, inside: bool = False
) -> None:
    """An oval of eight curves; ``lean`` raises its right and lowers its left side, in heights."""
    turns = [k * math.pi / 8 for k in range(16)]
    turns = turns if inside else turns[::-1]
    points = []
    for i, turn in enumerate(turns):
        # Points between two that are on the curve stand where their tangents meet.
        reach = 1 / math.cos(math.pi / 8) if i % 2 else 1.0
        dx, dy = reach * math.cos(turn), reach * math.sin(turn)
        points.append((x + across * dx, y + up * (dy * (1 - abs(lean) / 2) + lean * dx)))
    steps = [(points[i], points[(i + 1) % 16]) for i in range(1, 16, 2)]
    drawn.path(points[0], *steps)


def stem() -> Drawn:
    """The stem of the note before it; a character that takes no room of its own."""
    right = _HEAD[2] - _NOTE
    return Drawn(0).polygon(*box(right - _STEM, 150, right, _STEM_TOP))


def glyphs(bold: bool) -> dict[str, Drawn]:
    """Every sign of a weight, by its character."""
    if bold:
        return {
            "♭": flat(116, 258, 118), "♯": sharp(76, 120, 420), "♮": natural(84, 112, 310),
            "𝄫": double_flat(116, 258, 118), "𝄪": double_sharp(84, 230, 600),
            "△": triangle(92), "−": minus(112), "(": parenthesis(112, True),
            ")": parenthesis(112, False),
        }  # fmt: skip
    return {
        "♭": flat(58, 238, 70), "♯": sharp(44, 76, 380), "♮": natural(46, 72, 280),
        "𝄫": double_flat(58, 238, 70), "𝄪": double_sharp(54, 176, 540),
        "△": triangle(60), "−": minus(76), "(": parenthesis(62, True), ")": parenthesis(62, False),
        "\U0001d157": head(hollow=True), "\U0001d15d": head(hollow=True, wider=1.25),
        "\U0001d165": stem(),
    }  # fmt: skip


def built(bold: bool) -> FontBuilder:
    """The font of a weight."""
    drawn = glyphs(bold)
    names = {c: f"{'uni' if ord(c) < 0x10000 else 'u'}{ord(c):04X}" for c in drawn}
    builder = FontBuilder(EM, isTTF=True)
    builder.setupGlyphOrder([".notdef", "space", *names.values()])
    builder.setupCharacterMap({0x20: "space", **{ord(c): name for c, name in names.items()}})
    empty = TTGlyphPen(None).glyph()
    outlines = {names[c]: one.pen.glyph() for c, one in drawn.items()}
    builder.setupGlyf({".notdef": empty, "space": empty, **outlines})
    widths = {names[c]: (round(one.advance), 0) for c, one in drawn.items()}
    builder.setupHorizontalMetrics({".notdef": (500, 0), "space": (250, 0), **widths})
    for name in names.values():
        glyph = builder.font["glyf"][name]
        builder.font["hmtx"][name] = (builder.font["hmtx"][name][0], glyph.xMin)
    builder.setupHorizontalHeader(ascent=1010, descent=-240)
    weight = "Bold" if bold else "Regular"
    builder.setupNameTable({
        "familyName": "Chartkit Signs", "styleName": weight,
        "psName": f"ChartkitSigns-{weight}", "fullName": f"Chartkit Signs {weight}",
        "licenseDescription": "SIL Open Font License 1.1",
    })  # fmt: skip
    builder.setupOS2(sTypoAscender=1010, sTypoDescender=-240, sCapHeight=CAPITAL, sxHeight=536,
                     usWeightClass=700 if bold else 400)  # fmt: skip
    builder.setupPost()
    builder.updateHead(created=0, modified=0)
    builder.font.recalcTimestamp = False
    return builder


def file_name(bold: bool) -> str:
    """The name of the file of a weight."""
    return f"ChartkitSigns-{'Bold' if bold else 'Regular'}.ttf"


if __name__ == "__main__":
    for bold in (True, False):
        built(bold).save(FONTS / file_name(bold))
        print(FONTS / file_name(bold))
