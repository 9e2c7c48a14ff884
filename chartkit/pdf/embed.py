"""The fonts of a file as PDF objects: of each set the characters used, and no others."""

from collections import defaultdict
from collections.abc import Callable, Mapping
from typing import Any

from chartkit.layout.frames import FontName
from chartkit.pdf.commands import font_key
from chartkit.pdf.font_codes import font_codes
from chartkit.pdf.fonts import Fonts
from chartkit.pdf.objects import stream_object
from chartkit.pdf.reportlab_names import FF_NONSYMBOLIC, FF_SYMBOLIC, TTFont

_SPACE = ord(" ")

Adder = Callable[[bytes], int]
"""Adds an object to a file and gives its number."""


def embedded_fonts(
    characters: Mapping[FontName, set[str]], fonts: Fonts, add: Adder
) -> Mapping[str, int]:
    """The font objects of a file, added to it: their numbers by the names in commands.

    ``characters`` are those that the file takes from each font.
    """
    fonts_by_key = {}
    for font in sorted(characters):
        ours = fonts.font(font)
        for number, codes in sorted(_by_set(ours, characters[font]).items()):
            tag = _tag(font, number)
            fonts_by_key[font_key(font, number)] = _font(ours.face, tag, codes, add)
    return fonts_by_key


def _by_set(font: TTFont, characters: set[str]) -> dict[int, dict[int, int]]:
    """For each set of the font in use, the Unicode numbers by their codes."""
    places = font_codes(font)
    by_number: dict[int, dict[int, int]] = defaultdict(dict)
    for character in characters:
        number, code = places.get(" " if character == "\xa0" else character, (0, 0))
        by_number[number][code] = _SPACE if character == "\xa0" else ord(character)
    return by_number


def _font(face: Any, tag: str, codes: dict[int, int], add: Adder) -> int:
    shown = [codes.get(code, _SPACE if code else 0) for code in range(max(codes) + 1)]
    family = face.name.decode() if isinstance(face.name, bytes) else face.name
    name = f"{tag}+{family}"
    program = face.makeSubset(shown)
    program_object = add(stream_object(program, f"/Length1 {len(program)} "))
    meaning = add(stream_object(_unicode_map(name, shown).encode("ascii")))
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


def _unicode_map(name: str, shown: list[int]) -> str:
    """What each code of a font means, for copying and searching: UTF-16, so that a character beyond
    U+FFFF is a pair of surrogates (ISO 32000-1, 9.10.3; from memory)."""
    meanings = (chr(number).encode("utf-16-be").hex().upper() for number in shown)
    lines = (f"<{code:02X}> <{meaning}>" for code, meaning in enumerate(meanings))
    return "\n".join((
        "/CIDInit /ProcSet findresource begin", "12 dict begin", "begincmap", "/CIDSystemInfo",
        f"<< /Registry ({name})", f"/Ordering ({name})", "/Supplement 0", ">> def",
        f"/CMapName /{name} def", "/CMapType 2 def", "1 begincodespacerange",
        f"<00> <{len(shown) - 1:02X}>", "endcodespacerange", f"{len(shown)} beginbfchar", *lines,
        "endbfchar", "endcmap", "CMapName currentdict /CMap defineresource pop", "end", "end",
    ))  # fmt: skip


def _tag(font: FontName, number: int) -> str:
    """Six capital letters that mark a font as cut down, as PDF asks for."""
    letters = f"{font}xxxxxx"[:5].upper()
    return letters + chr(ord("A") + number % 26)
