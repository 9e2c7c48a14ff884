"""A run of text on a page: where it stands, how it is set, how far each letter reaches."""

from dataclasses import dataclass
from typing import Any

_SERIF, _BOLD = 0.9, 1.07
"""How much narrower the usual faces with serifs run, and how much wider bold ones."""
_NARROW, _WIDE = set("iljtfrI.,:;'|!()[]/ `"), set("mwMW@%—")


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of text: its page from 1, the place of its first letter in points (from the left
    and from the bottom), its size, the advance of each letter in points, and whether it leans,
    is bold, or in a pale colour."""

    page: int
    x: float
    y: float
    size: float
    text: str
    advances: tuple[float, ...]
    leans: bool = False
    bold: bool = False
    pale: bool = False

    @property
    def end(self) -> float:
        """Where its last letter ends, in points from the left."""
        return self.x + sum(self.advances)


def advance_of(character: str, font: Any) -> float:
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
