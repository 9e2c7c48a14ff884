"""Every character of every font with a fixed code, whatever document it is printed in.

A TrueType font in a PDF shows one byte a character, so a font is cut into sets of at most
255 characters; code 0 stands for no character.  The sets are the same in every book, which
makes a page's commands independent of the book, and a book embeds of each set only the
characters that it uses.
"""

from collections.abc import Iterator
from functools import cache, lru_cache

from chartkit.pdf.reportlab_names import TTFont

_SET = 255
_TEXTS_AT_HAND = 4096
"""How many encoded texts are kept: chord names and the words of a few songs, no more."""

FontCode = tuple[int, int]
"""The number of a set and the code in it."""


@cache
def font_codes(font: TTFont) -> dict[str, FontCode]:
    """The place of each character that the font has."""
    ordered = sorted(font.face.charToGlyph, key=_usual_first)
    ascii_first = [code for code in ordered if 32 <= code < 127]
    others = [code for code in ordered if code >= 127 and code != 0xA0]
    codes = {chr(code): (0, code) for code in ascii_first}
    free = (place for place in _places() if place[0] or not 32 <= place[1] < 127)
    codes.update(zip(map(chr, others), free, strict=False))
    return codes


def _places() -> Iterator[FontCode]:
    number = 0
    while True:
        yield from ((number, code) for code in range(1, _SET + 1))
        number += 1


def _usual_first(code: int) -> tuple[bool, int]:
    """Latin 1, general punctuation and musical signs before all else, then as in Unicode."""
    usual = code < 0x100 or 0x2010 <= code <= 0x203A or 0x2669 <= code <= 0x266F
    return not usual, code


@lru_cache(maxsize=_TEXTS_AT_HAND)
def encoded(font: TTFont, text: str) -> tuple[tuple[int, bytes], ...]:
    """The text in stretches of one set each, as escaped bytes between parentheses."""
    codes = font_codes(font)
    stretches: list[tuple[int, bytearray]] = []
    for character in text:
        number, code = codes.get(" " if character == "\xa0" else character, (0, 0))
        if not stretches or stretches[-1][0] != number:
            stretches.append((number, bytearray()))
        if code in b"()\\\r\n":
            stretches[-1][1].extend(b"\\%03o" % code)
        else:
            stretches[-1][1].append(code)
    return tuple((number, bytes(shown)) for number, shown in stretches)
