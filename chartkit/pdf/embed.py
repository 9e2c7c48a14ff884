"""The fonts of a book as PDF objects: of each set the characters used, and no others."""

import zlib
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from reportlab.pdfbase.ttfonts import FF_NONSYMBOLIC, FF_SYMBOLIC, makeToUnicodeCMap

from chartkit.layout.frames import FontName
from chartkit.pdf.commands import font_key
from chartkit.pdf.font_codes import font_codes
from chartkit.pdf.fonts import embedded_font

_SPACE = ord(" ")

Adder = Callable[[bytes], int]
"""Adds an object to a file and gives its number."""


def embedded_fonts(used: Iterable[tuple[FontName, str]], add: Adder) -> Mapping[str, int]:
    """The font objects of a book, added to its file: their numbers by the names in commands."""
    characters: dict[FontName, set[str]] = defaultdict(set)
    for font, some in used:
        characters[font].update(some)
    found = {}
    for font in sorted(characters):
        for number, codes in sorted(_by_set(font, characters[font]).items()):
            found[font_key(font, number)] = _font(font, number, codes, add)
    return found


def _by_set(font: FontName, characters: set[str]) -> dict[int, dict[int, int]]:
    """For each set of the font in use, the Unicode numbers by their codes."""
    places = font_codes(font)
    found: dict[int, dict[int, int]] = defaultdict(dict)
    for character in characters:
        number, code = places.get(" " if character == "\xa0" else character, (0, 0))
        found[number][code] = _SPACE if character == "\xa0" else ord(character)
    return found


def _font(font: FontName, number: int, codes: dict[int, int], add: Adder) -> int:
    face: Any = embedded_font(font).face
    shown = [codes.get(code, _SPACE if code else 0) for code in range(max(codes) + 1)]
    family = face.name.decode() if isinstance(face.name, bytes) else face.name
    name = f"{_tag(font, number)}+{family}"
    program = face.makeSubset(shown)
    program_object = add(_stream(program, f"/Length1 {len(program)}"))
    meaning = add(_stream(makeToUnicodeCMap(name, shown).encode("ascii")))
    flags = face.flags & ~FF_NONSYMBOLIC | FF_SYMBOLIC
    box = " ".join(f"{edge:g}" for edge in face.bbox)
    descriptor = add(
        f"<< /Type /FontDescriptor /FontName /{name} /Flags {flags} /FontBBox [{box}] "
        f"/ItalicAngle {face.italicAngle:g} /Ascent {face.ascent:g} /Descent {face.descent:g} "
        f"/CapHeight {face.capHeight:g} /StemV {face.stemV:g} "
        f"/MissingWidth {face.defaultWidth:g} /FontFile2 {program_object} 0 R >>".encode()
    )
    widths = " ".join(f"{face.getCharWidth(code):g}" for code in shown)
    return add(
        f"<< /Type /Font /Subtype /TrueType /BaseFont /{name} /FirstChar 0 "
        f"/LastChar {len(shown) - 1} /Widths [{widths}] /ToUnicode {meaning} 0 R "
        f"/FontDescriptor {descriptor} 0 R >>".encode()
    )


def _tag(font: FontName, number: int) -> str:
    """Six capital letters that mark a font as cut down, as PDF asks for."""
    letters = f"{font}xxxxxx"[:5].upper()
    return letters + chr(ord("A") + number % 26)


def _stream(content: bytes, more: str = "") -> bytes:
    body = zlib.compress(content)
    head = f"<< /Filter /FlateDecode /Length {len(body)} {more} >>\nstream\n".encode()
    return head + body + b"\nendstream"
