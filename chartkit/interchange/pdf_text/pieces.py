"""The pieces of text on the pages of a PDF, with their places, by pypdf.

pypdf reads files of strangers: whatever it stumbles over is told in one line, and pages and
pieces are counted so that no file takes long.
"""

import logging
import re
from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from itertools import accumulate
from typing import Any

from pypdf import PdfReader

from chartkit.interchange.taken import Refused

MOST_PAGES = 40
_MOST_PIECES = 40_000
_SERIF, _BOLD = 0.9, 1.07
"""How much narrower the usual faces with serifs run, and how much wider bold ones."""
_NARROW, _WIDE = set("iljtfrI.,:;'|!()[]/ `"), set("mwMW@%—")


_APART = re.compile(r"\S+(?:\s{1,2}\S+)*")
"""What stands together in a piece; more blanks than two part it, as in typed columns."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of text: its page from 1, the place of its first letter in points (from the left
    and from the bottom), its size, the advance of each letter in points, and whether it leans
    or is bold."""

    page: int
    x: float
    y: float
    size: float
    text: str
    advances: tuple[float, ...]
    leans: bool = False
    bold: bool = False

    @property
    def end(self) -> float:
        """Where its last letter ends, in points from the left."""
        return self.x + sum(self.advances)


def pieces_of(data: bytes) -> list[Piece]:
    """All pieces of text, in the order of the file.

    Raises Refused for a file that is damaged, locked, too long, or holds pictures only.
    """
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        found, pages, pictures = _extracted(data)
    except Refused:
        raise
    except Exception as reason:
        # A parser of untrusted files may fail in any way; none is a mistake of ours.
        what = " ".join(str(reason).split())[:60] or type(reason).__name__
        raise Refused(f"the PDF is damaged or not readable: {what.lower()}") from None
    if not any(piece.text.strip() for piece in found):
        raise Refused(
            f"this PDF holds pictures of its {pages} pages but no text (a scan?); it cannot be read"
            if pictures
            else "this PDF holds no text"
        )
    return found


def _extracted(data: bytes) -> tuple[list[Piece], int, bool]:
    reader = PdfReader(BytesIO(data))
    if reader.is_encrypted and not reader.decrypt(""):
        raise Refused("this PDF is locked with a password")
    pages = len(reader.pages)
    if pages > MOST_PAGES:
        raise Refused(f"this PDF has {pages} pages; a lead sheet has at most {MOST_PAGES}")
    found: list[Piece] = []
    pictures = False
    for number, page in enumerate(reader.pages, 1):
        gathered = _Gathered(number, found)
        page.extract_text(visitor_text=gathered.visit)
        if len(found) >= _MOST_PIECES:
            raise Refused("this PDF holds more text than a lead sheet can")
        pictures = pictures or _has_pictures(page)
    return found, pages, pictures


def _has_pictures(page: Any) -> bool:
    resources = page.get("/Resources")
    resources = resources.get_object() if resources is not None else {}
    objects = resources.get("/XObject")
    return bool(objects and objects.get_object())


class _Gathered:
    """Takes pieces of one page as pypdf tells them, which says of each where its line was
    begun: one that goes on after another has the other's place."""

    def __init__(self, page: int, found: list[Piece]) -> None:
        self.page, self.found = page, found
        self.begun: tuple[float, float] | None = None
        self.pen = 0.0

    def visit(
        self, text: str, outer: Sequence[float], inner: Sequence[float], font: Any, size: float
    ) -> None:
        """Takes a piece of text."""
        if not text.strip() or len(self.found) >= _MOST_PIECES:
            return
        x = inner[4] * outer[0] + inner[5] * outer[2] + outer[4]
        y = inner[4] * outer[1] + inner[5] * outer[3] + outer[5]
        scale = abs(inner[3] * outer[3]) or abs(inner[1] * outer[2]) or 1
        real = max(1.0, min(200.0, float(size or 1) * scale))
        clean = text.replace("\n", " ")
        advances = [_advance(character, font) * real for character in clean]
        if self.begun == (x, y):
            if self.found[-1].text == clean.strip():
                return  # drawn twice, to look bold
            x = self.pen
        else:
            self.begun = x, y
        name = str(font.get("/BaseFont", "")) if isinstance(font, dict) else ""
        face = "Italic" in name or "Oblique" in name, "Bold" in name
        ends = list(accumulate(advances, initial=x))
        self.pen = ends[-1]
        for run in _APART.finditer(clean):
            own = tuple(advances[run.start() : run.end()])
            self.found.append(Piece(self.page, ends[run.start()], y, real, run[0], own, *face))


def _advance(character: str, font: Any) -> float:
    """How far a letter advances, in ems: from the font's own table of widths where its codes
    are plain, else by the kind of letter (averages of common text faces, no source)."""
    if not isinstance(font, dict):
        return _usual_advance(character)
    name = str(font.get("/BaseFont", ""))
    if "Cour" in name or "Mono" in name:
        return 0.6
    widths, first = font.get("/Widths"), font.get("/FirstChar")
    if font.get("/Subtype") != "/Type0" and widths is not None and isinstance(first, int):
        table, at = widths.get_object(), ord(character) - first
        if 0 <= at < len(table) and float(table[at]) > 0:
            return min(3.0, float(table[at]) / 1000)
    serif = _SERIF if "Times" in name or "Serif" in name else 1
    return _usual_advance(character) * serif * (_BOLD if "Bold" in name else 1)


def _usual_advance(character: str) -> float:
    if character in _NARROW:
        return 0.29
    if character in _WIDE:
        return 0.83
    return 0.66 if character.isupper() else 0.53
