"""The text of one page as pypdf gives it: runs of letters with their places, turned as the page is
shown, without watermarks."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from math import atan2, degrees, hypot
from typing import Any

from chartkit.interchange.intake_result import Findings, Refused
from chartkit.interchange.pdf_text.font_widths import FontWidths
from chartkit.interchange.pdf_text.forms import Forms
from chartkit.interchange.pdf_text.grid_lines import GridLines
from chartkit.interchange.pdf_text.ink import Ink
from chartkit.interchange.pdf_text.music_signs import SAID, SIGN, is_sign
from chartkit.interchange.pdf_text.word_places import part_texts

_APART = re.compile(r"\S+(?:\s{1,2}\S+)*")
"""What stands together in a piece; more blanks than two part it, as in typed columns."""
_LEVEL = 3.0
"""By how many degrees a line of text may rise and still lie."""
_ENDS_OF_CHORDS = frozenset("♭♯0123456789)")
"""Behind these a capital begins another chord."""
_HAIR = 0.08
"""How far apart, in ems, a text lies that is shown twice to look bold (ours)."""
_HUGE = 3.0
"""How many times as large as the usual type of its page a pale watermark is at least."""
_TALL = 120.0
"""How high the bar line of one system is at most, in points."""
_LEVEL_LINE = 60.0
"""How long a line of a staff is at least, in points."""
_FONT_DOTS = {"\ue043": (0.375, 0.625), "\ue044": (0.0,)}
"""Dots of repeats in music fonts, by how many ems they stand above their baseline.  Source: SMuFL
1.4, repeats; from memory."""
_LIGATURES = {"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "ﬅ": "st", "ﬆ": "st"}
_BULLET = {"\x7f": "•"}
"""What a code of no letter is in the usual encoding (ISO 32000-1, Annex D.2)."""
_SAID = {**_LIGATURES, **SAID, **_BULLET}
Matrix = Sequence[float]


@dataclass(frozen=True, slots=True)
class TextRun:
    """A run of text: its page from 1, the place of its first letter in points (from the left
    and from the bottom), its size, the advance of each letter in points, whether it leans, is
    bold, or in a pale colour, its structure type where the file says one, and its font."""

    page: int
    x: float
    y: float
    size: float
    text: str
    advances: tuple[float, ...]
    leans: bool = False
    bold: bool = False
    pale: bool = False
    mark: str = ""
    font: str = ""

    @property
    def end(self) -> float:
        """Where its last letter ends, in points from the left."""
        return self.x + sum(self.advances)


@dataclass(frozen=True, slots=True)
class Upright:
    """An upright line drawn on a page: the page from 1, its place from the left, its lower and
    its upper end, in points, and whether it reaches just from one level line to another, as bar
    lines do from the lowest line of a staff to the highest; how thick it is, in points."""

    page: int
    x: float
    low: float
    high: float
    on_staff: bool = False
    thick: float = 1.0
    cut: bool = False

    @property
    def is_tall(self) -> bool:
        """Whether it is higher than the bar lines of one system are."""
        return self.high - self.low > _TALL

    @property
    def is_of_grid(self) -> bool:
        """Whether it, or the line that it is a part of, goes through several rows."""
        return self.cut or self.is_tall


@dataclass(frozen=True, slots=True)
class RepeatDot:
    """A small round spot drawn on a page, as a repeat has two: the page from 1, its middle in
    points from the left and from the bottom."""

    page: int
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class DrawnShape:
    """The box around a path that is drawn on a page: the page from 1, its left, lower, right and
    upper end, in points; of how many parts it is, none for a single straight line."""

    page: int
    left: float
    low: float
    right: float
    high: float
    parts: int


@dataclass(slots=True)
class TextAllowance:
    """How many more pieces and letters the pages of a document may hold."""

    pieces: int
    letters: int

    def take(self, letters: int) -> None:
        """Counts a piece.  Raises Refused where there is no more room."""
        self.pieces -= 1
        self.letters -= letters
        if self.pieces < 0 or self.letters < 0:
            raise Refused("this PDF holds more text than a lead sheet can")


class Gathered:
    """Takes the pieces of one page, which is shown turned clockwise by some degrees.

    pypdf says of each where its line was begun: one that goes on after another has the
    other's place.
    """

    def __init__(
        self, page: Any, number: int, turned: int, room: TextAllowance, widths: FontWidths
    ) -> None:
        self.number, self.turned, self.room = number, turned, room
        self.wide, self.high = float(page.mediabox.width), float(page.mediabox.height)
        self.pieces: list[TextRun] = []
        self.aslant: list[tuple[int, str]] = []
        self.begun: tuple[float, float] | None = None
        self.pen = 0.0
        self.ink = Ink()
        self.forms = Forms(page)
        self.widths = widths
        self._spacing = (0.0, 0.0, 1.0)
        self._goes_on = False
        self._struck: dict[str, tuple[float, float]] = {}

    @classmethod
    def of(
        cls, page: Any, number: int, turned: int, room: TextAllowance, widths: FontWidths
    ) -> "Gathered":
        """All that is on a page; ``widths`` are those of the document's fonts."""
        gathered = cls(page, number, turned, room, widths)
        part_texts(page)
        page.extract_text(
            visitor_text=gathered.visit,
            visitor_operand_before=gathered.before,
            visitor_operand_after=gathered.forms.after,
        )
        return gathered

    def before(self, operator: bytes, operands: list[Any], outer: Matrix, inner: Matrix) -> None:
        """Takes an operator, before it is carried out."""
        if operator == b"BT":
            self._goes_on = bool(operands)
        self.forms.before(operator, operands, outer)
        self.ink.before(operator, operands, self.forms.placed(outer), inner)

    @property
    def strokes(self) -> list[tuple[float, float, float, float, float]]:
        """The straight lines that are drawn on the page: their ends, and how thick they are."""
        return [(*self._as_shown(*a), *self._as_shown(*b), thick) for a, b, thick in self.ink.lines]

    @property
    def dots(self) -> list[RepeatDot]:
        """The dots that are drawn on the page, and those of a music font."""
        drawn = [RepeatDot(self.number, *self._as_shown(*dot)) for dot in self.ink.dots]
        written = [
            RepeatDot(self.number, piece.x, piece.y + up * piece.size)
            for piece in self.pieces
            for up in _FONT_DOTS.get(piece.text.strip(), ())
        ]
        return [*drawn, *written]

    @property
    def shapes(self) -> list[DrawnShape]:
        """The paths that are drawn on the page, by the boxes around them."""
        shapes = []
        for low, high, parts in self.ink.shapes:
            (x0, y0), (x1, y1) = self._as_shown(*low), self._as_shown(*high)
            box = min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)
            shapes.append(DrawnShape(self.number, *box, parts))
        return shapes

    @property
    def levels(self) -> list[tuple[float, float, float]]:
        """The long level lines that are drawn on the page: height, left and right end."""
        return [
            (y0, min(x0, x1), max(x0, x1))
            for x0, y0, x1, y1, _ in self.strokes
            if abs(y1 - y0) <= 1 and abs(x1 - x0) >= _LEVEL_LINE
        ]

    @property
    def uprights(self) -> list[Upright]:
        """The upright lines that are drawn on the page, from the left as it is shown."""
        grid = GridLines(self.levels)
        upright = [
            Upright(self.number, x, low, high, staff, thick, cut)
            for *ends, thick in self.strokes
            for x, low, high, staff, cut in grid.parts(*ends)
        ]
        return sorted(upright, key=lambda line: (-line.high, line.x))

    def mostly_turned(self) -> int | None:
        """How the page must be turned so that most of its text lies; None where it does."""
        angles = Counter[int]()
        for angle, text in self.aslant:
            angles[angle] += len(text)
        angle, letters = angles.most_common(1)[0] if angles else (0, 0)
        upright = sum(len(piece.text) for piece in self.pieces)
        return (self.turned + angle) % 360 if angle % 90 == 0 and letters > upright else None

    def without_watermarks(self, findings: Findings) -> list[TextRun]:
        """The pieces without what stands aslant and what is huge and pale among dark type."""
        sizes = sorted(piece.size for piece in self.pieces for _ in piece.text)
        usual = sizes[len(sizes) // 2] if sizes else 0.0
        pale = sum(len(piece.text) for piece in self.pieces if piece.pale)
        among_dark = 2 * pale < len(sizes)
        huge = [
            piece
            for piece in self.pieces
            if among_dark and piece.pale and piece.size >= _HUGE * usual
        ]
        texts = dict.fromkeys([text for _, text in self.aslant] + [piece.text for piece in huge])
        if texts:
            said = " ".join(texts)[:80]
            findings.leave_out(
                "watermark",
                f"a watermark (slanted or very large pale text): {said}",
                f"page {self.number}",
            )
        gone = set(map(id, huge))
        return [piece for piece in self.pieces if id(piece) not in gone]

    def visit(self, text: str, outer: Matrix, inner: Matrix, font: Any, size: float) -> None:
        """Takes a piece of text."""
        begins, self.ink.begins = self.ink.begins, b""
        if not text.strip():
            return
        if text[0] == " " and not self.widths.is_blank(begins, font):
            text = text.lstrip(" ")  # pypdf puts a blank where there is a gap
        self.room.take(len(text))
        outer = self.forms.placed(outer)
        clean = text.replace("\n", " ")
        along, up = _moved(inner[0], inner[1], outer)
        angle = round(degrees(atan2(up, along))) - self.turned
        if min(angle % 360, -angle % 360) > _LEVEL:
            self.aslant.append((_quarter(angle), clean.strip()))
            return
        at = _moved(inner[4], inner[5], outer)
        x, y = self._as_shown(at[0] + outer[4], at[1] + outer[5])
        scale = hypot(*_moved(inner[2], inner[3], outer)) or 1
        real = max(1.0, min(200.0, float(size or 1) * scale))
        across = hypot(along, up) / scale
        between, in_blanks, wide = self.ink.spacing
        self._spacing = between * scale, in_blanks * scale, max(0.05, min(20.0, wide * across))
        self._take(clean, x, y, real, font)

    def _as_shown(self, x: float, y: float) -> tuple[float, float]:
        """A place on the page when it is turned as it is shown."""
        return {
            90: (y, self.wide - x),
            180: (self.wide - x, self.high - y),
            270: (self.high - y, x),
        }.get(self.turned, (x, y))

    def _take(self, clean: str, x: float, y: float, size: float, font: Any) -> None:
        measured = [(one, self._advance(one, size, font)) for one in clean]
        signs = is_sign(clean)
        apart = [(_SAID.get(one, one), wide) for one, wide in measured]
        clean = "".join(letters for letters, _ in apart)
        advances = [wide / len(letters) for letters, wide in apart for _ in letters]
        if self.begun == (x, y) and self.pieces:
            if self.pieces[-1].text == clean.strip():
                return  # drawn twice, to look bold
            x = self.pen
        else:
            self.begun = x, y
            if self._is_struck_again(clean.strip(), x, y, size):
                self.pen = x + sum(advances)
                return
        name = str(font.get("/BaseFont", "")) if isinstance(font, dict) else ""
        face = (
            "Italic" in name or "Oblique" in name,
            "Bold" in name,
            self.ink.pale,
            SIGN if signs else self.ink.mark,
            name,
        )
        ends = list(accumulate(advances, initial=x))
        self.pen = ends[-1]
        for run in _APART.finditer(clean):
            own = tuple(advances[run.start() : run.end()])
            self._add(TextRun(self.number, ends[run.start()], y, size, run[0], own, *face))

    def _advance(self, letter: str, size: float, font: Any) -> float:
        """How far a letter advances in points, as the text is spaced."""
        between, in_blanks, stretched = self._spacing
        more = between + in_blanks * (letter == " ")
        return max(0.0, self.widths.advance_of(letter, font) * size + more) * stretched

    def _add(self, piece: TextRun) -> None:
        """Adds a piece; to the one before where the page placed it just behind."""
        before = self.pieces[-1:] if self._goes_on else []
        whole = _in_one(before[0], piece) if before else None
        if whole is None:
            self.pieces.append(piece)
        else:
            self.pieces[-1] = whole

    def _is_struck_again(self, text: str, x: float, y: float, size: float) -> bool:
        """Whether a text was shown a hair's breadth beside this place before, to look bold; what
        is told apart is kept for the next question."""
        before = self._struck.get(text)
        self._struck[text] = x, y
        if before is None:
            return False
        return max(abs(x - before[0]), abs(y - before[1])) <= _HAIR * size


def _in_one(before: TextRun, piece: TextRun) -> TextRun | None:
    """Two pieces as one, where the second goes on just where the first ends; else None."""
    gap = piece.x - before.end
    alike = replace(before, x=0, text="", advances=()) == replace(piece, x=0, text="", advances=())
    next_chord = before.text[-1] in _ENDS_OF_CHORDS and "A" <= piece.text[0] <= "H"
    if not alike or next_chord or abs(gap) > _HAIR * piece.size or piece.mark == SIGN:
        return None
    *others, last = before.advances
    advances = (*others, last + gap, *piece.advances)
    return replace(before, text=before.text + piece.text, advances=advances)


def _moved(x: float, y: float, outer: Matrix) -> tuple[float, float]:
    """A vector through the four numbers of a matrix that turn and stretch (ISO 32000-1,
    8.3.3)."""
    return x * outer[0] + y * outer[2], x * outer[1] + y * outer[3]


def _quarter(angle: int) -> int:
    """An angle near a quarter turn as just that; any other as it is."""
    near = 90 * round(angle / 90)
    return near % 360 if abs(angle - near) <= _LEVEL else angle % 360
