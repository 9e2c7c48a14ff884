"""The text of one page as pypdf tells it, turned as the page is shown, without watermarks."""

import re
from collections import Counter
from collections.abc import Sequence
from itertools import accumulate
from math import atan2, degrees, hypot
from typing import Any

from chartkit.interchange.pdf_text.ink import Ink
from chartkit.interchange.pdf_text.piece import Piece, advance_of
from chartkit.interchange.taken import Findings

_APART = re.compile(r"\S+(?:\s{1,2}\S+)*")
"""What stands together in a piece; more blanks than two part it, as in typed columns."""
_LEVEL = 3.0
"""By how many degrees a line of text may rise and still lie."""
_HUGE = 3.0
"""How many times as large as the usual type of its page a pale watermark is at least."""
Matrix = Sequence[float]


class Gathered:
    """Takes the pieces of one page, which is shown turned clockwise by some degrees.

    pypdf says of each where its line was begun: one that goes on after another has the
    other's place.
    """

    def __init__(self, page: Any, number: int, turned: int, room: int) -> None:
        self.number, self.turned, self.room = number, turned, room
        self.wide, self.high = float(page.mediabox.width), float(page.mediabox.height)
        self.found: list[Piece] = []
        self.aslant: list[tuple[int, str]] = []
        self.begun: tuple[float, float] | None = None
        self.pen = 0.0
        self.ink = Ink(page)

    @classmethod
    def of(cls, page: Any, number: int, turned: int, room: int) -> "Gathered":
        """All that is on a page."""
        gathered = cls(page, number, turned, room)
        page.extract_text(visitor_text=gathered.visit, visitor_operand_before=gathered.ink.before)
        return gathered

    @property
    def upright(self) -> int:
        """How many upright lines are drawn on the page."""
        return self.ink.upright if self.turned % 180 == 0 else 0

    def mostly_turned(self) -> int | None:
        """How the page must be turned so that most of its text lies; None where it does."""
        angles = Counter[int]()
        for angle, text in self.aslant:
            angles[angle] += len(text)
        angle, letters = angles.most_common(1)[0] if angles else (0, 0)
        lying = sum(len(piece.text) for piece in self.found)
        return (self.turned + angle) % 360 if angle % 90 == 0 and letters > lying else None

    def without_watermarks(self, findings: Findings) -> list[Piece]:
        """The pieces without what stands aslant and what is huge and pale among dark type."""
        sizes = sorted(piece.size for piece in self.found for _ in piece.text)
        usual = sizes[len(sizes) // 2] if sizes else 0.0
        pale = sum(len(piece.text) for piece in self.found if piece.pale)
        among_dark = 2 * pale < len(sizes)
        huge = [
            piece for piece in self.found
            if among_dark and piece.pale and piece.size >= _HUGE * usual
        ]  # fmt: skip
        texts = dict.fromkeys([text for _, text in self.aslant] + [piece.text for piece in huge])
        if texts:
            said = " ".join(texts)[:80]
            findings.leave_out(
                "watermark", f"what stands aslant or huge and pale: {said}", f"page {self.number}"
            )
        gone = set(map(id, huge))
        return [piece for piece in self.found if id(piece) not in gone]

    def visit(self, text: str, outer: Matrix, inner: Matrix, font: Any, size: float) -> None:
        """Takes a piece of text."""
        if not text.strip() or len(self.found) + len(self.aslant) >= self.room:
            return
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
        self._take(clean, x, y, real, font)

    def _as_shown(self, x: float, y: float) -> tuple[float, float]:
        """A place on the page when it is turned as it is shown."""
        return {
            90: (y, self.wide - x),
            180: (self.wide - x, self.high - y),
            270: (self.high - y, x),
        }.get(self.turned, (x, y))

    def _take(self, clean: str, x: float, y: float, size: float, font: Any) -> None:
        advances = [advance_of(character, font) * size for character in clean]
        if self.begun == (x, y) and self.found:
            if self.found[-1].text == clean.strip():
                return  # drawn twice, to look bold
            x = self.pen
        else:
            self.begun = x, y
        name = str(font.get("/BaseFont", "")) if isinstance(font, dict) else ""
        face = "Italic" in name or "Oblique" in name, "Bold" in name, self.ink.pale
        ends = list(accumulate(advances, initial=x))
        self.pen = ends[-1]
        for run in _APART.finditer(clean):
            own = tuple(advances[run.start() : run.end()])
            self.found.append(Piece(self.number, ends[run.start()], y, size, run[0], own, *face))


def _moved(x: float, y: float, outer: Matrix) -> tuple[float, float]:
    """A vector through the four numbers of a matrix that turn and stretch (ISO 32000-1,
    8.3.3)."""
    return x * outer[0] + y * outer[2], x * outer[1] + y * outer[3]


def _quarter(angle: int) -> int:
    """An angle near a quarter turn as just that; any other as it is."""
    near = 90 * round(angle / 90)
    return near % 360 if abs(angle - near) <= _LEVEL else angle % 360
