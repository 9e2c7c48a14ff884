"""How far the letters of a page's fonts advance, so that each letter has its place.

A font gives its widths by codes; its table ToUnicode says which letter each code is.  Source: ISO
32000-1, 9.6.2 (simple fonts), 9.7.4.3 (widths of composite fonts), 9.10.3 (ToUnicode).
"""

import re
from collections.abc import Mapping
from typing import Any

_STANDARD = {
    "sans": (
        "278 278 355 556 556 889 667 191 333 333 389 584 278 333 278 278 556 556 556 556 556 556 "
        "556 556 556 556 278 278 584 584 584 556 1015 667 667 722 722 667 611 778 722 278 500 667 "
        "556 833 722 778 667 778 722 667 611 722 667 944 667 667 611 278 278 278 469 556 333 556 "
        "556 500 556 556 278 556 556 222 222 500 222 833 556 556 556 556 333 500 278 556 500 722 "
        "500 500 500 334 260 334 584 "
    ),
    "sans bold": (
        "278 333 474 556 556 889 722 238 333 333 389 584 278 333 278 278 556 556 556 556 556 556 "
        "556 556 556 556 333 333 584 584 584 611 975 722 722 722 722 667 611 778 722 278 556 722 "
        "611 833 722 778 667 778 722 667 611 722 667 944 667 667 611 333 278 333 584 556 333 556 "
        "611 556 611 556 333 611 611 278 278 556 278 889 611 611 611 611 389 556 333 611 556 778 "
        "556 556 500 389 280 389 584 "
    ),
    "serif": (
        "250 333 408 500 500 833 778 180 333 333 500 564 250 333 250 278 500 500 500 500 500 500 "
        "500 500 500 500 278 278 564 564 564 444 921 722 667 667 722 611 556 722 722 333 389 722 "
        "611 889 722 722 556 722 667 556 611 722 722 944 722 722 611 333 278 333 469 500 333 444 "
        "500 444 500 444 333 500 500 278 278 500 278 778 500 500 500 500 333 389 278 500 500 722 "
        "500 500 444 480 200 480 541 "
    ),
    "serif bold": (
        "250 333 555 500 500 1000 833 278 333 333 500 570 250 333 250 278 500 500 500 500 500 500 "
        "500 500 500 500 333 333 570 570 570 500 930 722 667 722 722 667 611 778 778 389 500 778 "
        "667 944 722 778 611 778 722 556 667 722 722 1000 722 722 667 333 278 333 581 500 333 500 "
        "556 444 556 444 333 500 556 278 333 556 278 833 556 500 556 556 444 389 333 556 500 722 "
        "500 500 444 394 220 394 520 "
    ),
    "serif italic": (
        "250 333 420 500 500 833 778 214 333 333 500 675 250 333 250 278 500 500 500 500 500 500 "
        "500 500 500 500 333 333 675 675 675 500 920 611 611 667 722 611 611 722 722 333 444 667 "
        "556 833 667 722 611 722 611 500 556 722 611 833 611 556 556 389 278 389 422 500 333 500 "
        "500 444 500 444 278 500 500 278 278 444 278 722 500 500 500 500 389 389 278 500 444 667 "
        "444 444 389 400 275 400 541 "
    ),
    "serif bold italic": (
        "250 389 555 500 500 833 778 278 333 333 500 570 250 333 250 278 500 500 500 500 500 500 "
        "500 500 500 500 333 333 570 570 570 500 832 667 667 667 722 667 667 722 778 389 500 667 "
        "611 889 722 722 611 722 667 556 611 722 667 889 667 611 611 333 278 333 570 500 333 500 "
        "500 444 500 444 333 500 556 278 278 500 278 778 556 500 500 500 389 389 278 556 444 667 "
        "500 444 389 348 220 348 570 "
    ),
}
"""Thousandths of an em for the signs from blank to tilde, in the fonts that every viewer has.
Source: Adobe's metrics of the core fonts (AFM), by way of ReportLab."""
_MOST_CODES = 20_000
_LONGEST_TABLE = 400_000
"""Codes of a font, and bytes of its table, that are read; no alphabet has more."""
_WIDEST = 3.0
_SERIF, _BOLD = 0.9, 1.07
"""How much narrower the usual faces with serifs run, and how much wider bold ones."""
_NARROW, _WIDE = set("iljtfrI.,:;'’‘|!()[]/ `"), set("mwMW@%—")
_BLOCK = re.compile(r"begin(bfchar|bfrange)(.*?)end\1", re.DOTALL)
_HEX = re.compile(r"<\s*([0-9A-Fa-f\s]*)>|(\[)|(\])")


class FontWidths:
    """Answers how far letters advance in the fonts of a document, each read once."""

    def __init__(self) -> None:
        self._known: dict[int, tuple[Any, Mapping[str, float], int]] = {}

    def advance_of(self, character: str, font: Any) -> float:
        """How far a letter advances, in ems: from the font's own table of widths, from that of a
        font that every viewer has, else by the kind of letter (averages of common text faces, no
        source)."""
        if not isinstance(font, dict):
            return _usual_advance(character)
        own = self._read(font)[1].get(character)
        return _by_name(character, str(font.get("/BaseFont", ""))) if own is None else own

    def is_blank(self, begins: bytes, font: Any) -> bool:
        """Whether a text whose bytes begin so begins with a blank; so too where nobody knows."""
        if not begins or not isinstance(font, dict):
            return True
        wide = 2 if font.get("/Subtype") == "/Type0" else 1
        return int.from_bytes(begins[:wide], "big") == self._read(font)[2]

    def _read(self, font: dict[str, Any]) -> tuple[Any, Mapping[str, float], int]:
        """A font, which is kept so that no other has its number, the advances of its letters, and
        the code of its blank."""
        if id(font) not in self._known:
            codes = _codes_or_none(font)
            blank = ord(" ") if codes is None else codes.get(" ", -1)
            self._known[id(font)] = font, _advances(font, codes), blank
        return self._known[id(font)]


def _codes_or_none(font: dict[str, Any]) -> dict[str, int] | None:
    try:
        return _codes(font)
    except Exception:
        # A font from elsewhere may be wrong in any way.
        return None


def _advances(font: dict[str, Any], codes: dict[str, int] | None) -> Mapping[str, float]:
    """The advance of each letter of a font that has one, in ems; none for a table that does not
    read."""
    try:
        widths = _composite(font) if font.get("/Subtype") == "/Type0" else _simple(font)
    except Exception:
        # A font from elsewhere may be wrong in any way; its letters are measured by their kind.
        return {}
    if codes is None:
        codes = {chr(code): code for code in widths if 32 <= code < 127}
    em = _em(font)
    advances = ((letter, widths.get(code, 0.0) * em) for letter, code in codes.items())
    return {letter: min(_WIDEST, width) for letter, width in advances if width > 0}


def _em(font: dict[str, Any]) -> float:
    """What a unit of a font's widths is of an em: a thousandth, but in fonts of drawings what their
    matrix says (ISO 32000-1, 9.6.5)."""
    if font.get("/Subtype") != "/Type3":
        return 0.001
    return abs(float(font["/FontMatrix"].get_object()[0]))


def _simple(font: dict[str, Any]) -> dict[int, float]:
    table, first = font.get("/Widths"), font.get("/FirstChar")
    if table is None or not isinstance(first, int):
        return {}
    widths = list(table.get_object())[:_MOST_CODES]
    return {first + at: float(width) for at, width in enumerate(widths)}


def _composite(font: dict[str, Any]) -> dict[int, float]:
    """The widths of a composite font: runs of widths from a code on, or one for several codes."""
    inner = font["/DescendantFonts"].get_object()[0].get_object()
    usual = float(inner.get("/DW", 1000))
    widths = _Default(usual)
    table = inner.get("/W")
    values = list(table.get_object())[:_MOST_CODES] if table is not None else []
    at = 0
    while at + 1 < len(values):
        first, second = int(values[at]), values[at + 1].get_object()
        if isinstance(second, list):
            widths.update((first + i, float(w)) for i, w in enumerate(second[:_MOST_CODES]))
            at += 2
        else:
            last = min(int(second), first + _MOST_CODES)
            wide = float(values[at + 2])
            widths.update((code, wide) for code in range(first, last + 1))
            at += 3
    return widths


class _Default(dict[int, float]):
    """Widths, with one for the codes that are not in the table."""

    def __init__(self, usual: float) -> None:
        super().__init__()
        self._usual = usual

    def get(self, code: int, default: float = 0.0) -> float:  # type: ignore[override]
        return super().get(code, self._usual)


def _codes(font: dict[str, Any]) -> dict[str, int] | None:
    """The code of each letter by the table ToUnicode; None for a font without one."""
    table = font.get("/ToUnicode")
    if table is None or not hasattr(table.get_object(), "get_data"):
        return None
    text = table.get_object().get_data()[:_LONGEST_TABLE].decode("latin-1")
    codes: dict[str, int] = {}
    for kind, block in _BLOCK.findall(text):
        for first, last, letters in _entries(kind, block):
            for at, code in enumerate(range(first, min(last, first + _MOST_CODES) + 1)):
                letter = letters[at] if len(letters) > 1 else _after(letters[0], at)
                if len(letter) == 1 and len(codes) < _MOST_CODES:
                    codes.setdefault(letter, code)
                if len(letters) > 1 and at + 1 == len(letters):
                    break
    return codes


def _entries(kind: str, block: str) -> list[tuple[int, int, list[str]]]:
    """The entries of a block: the first and the last code, and the letter of the first or those of
    all."""
    entries: list[tuple[int, int, list[str]]] = []
    waiting: list[str] = []
    inside: list[str] | None = None
    for hexadecimal, opens, closes in _HEX.findall(block):
        if opens:
            inside = []
        elif closes and inside is not None:
            if len(waiting) == 2 and inside:
                entries.append((int(waiting[0], 16), int(waiting[1], 16), inside))
            waiting, inside = [], None
        elif inside is not None:
            inside.append(_letter(hexadecimal))
        else:
            waiting.append("".join(hexadecimal.split()) or "0")
            if kind == "bfchar" and len(waiting) == 2:
                code = int(waiting[0], 16)
                entries.append((code, code, [_letter(waiting[1])]))
                waiting = []
            elif kind == "bfrange" and len(waiting) == 3:
                entries.append((int(waiting[0], 16), int(waiting[1], 16), [_letter(waiting[2])]))
                waiting = []
    return entries


def _letter(hexadecimal: str) -> str:
    digits = "".join(hexadecimal.split())
    return bytes.fromhex(digits.zfill(4)[: len(digits.zfill(4)) // 2 * 2]).decode(
        "utf-16-be", "replace"
    )


def _after(letter: str, steps: int) -> str:
    return chr(ord(letter) + steps) if len(letter) == 1 and ord(letter) + steps < 0x110000 else ""


def _by_name(character: str, name: str) -> float:
    """The advance in a font of a name that gives no widths itself."""
    if "Cour" in name or "Mono" in name:
        return 0.6
    bold, leans = "Bold" in name, "Italic" in name
    standard = ""
    if "Helvetica" in name or "Arial" in name:
        standard = "sans bold" if bold else "sans"
    elif "Times" in name:
        standard = " ".join(["serif", *["bold"] * bold, *["italic"] * leans])
    at = ord(character) - 32
    if standard and 0 <= at < 95:
        return int(_STANDARD[standard].split()[at]) / 1000
    serif = _SERIF if "Times" in name or "Serif" in name else 1
    return _usual_advance(character) * serif * (_BOLD if bold else 1)


def _usual_advance(character: str) -> float:
    if character in _NARROW:
        return 0.29
    if character in _WIDE:
        return 0.83
    return 0.66 if character.isupper() else 0.53
