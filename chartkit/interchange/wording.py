"""Foreign text made fit to stand in a chart.

The chart language gives a meaning to some signs in names and cues; a name taken from
another source must not be read as one of them.
"""

import re
import unicodedata
from functools import lru_cache

from chartkit.chart.model import SettingName
from chartkit.phrases import counted as counted

NAMED_TEXTS: tuple[SettingName, ...] = ("part", "feel", "instrument")
"""Settings of plain text that texts and scores carry under their names, since other formats have no
place of their own for them."""
_LONGEST_NAME = 80
_LONGEST_CUE = 400
_NO_WIDTH = "\ufeff\u200b\u2060"
"""Marks of byte order, blanks and joiners without width, which say nothing."""
_DASHES_AROUND = re.compile(r"^\s*(?:-{2,}|[–—]{1,3})\s+|\s+(?:-{2,}|[–—]{1,3})\s*$")
"""Dashes with which somebody sets a remark apart."""
_TIMES = re.compile(r"\bx(?=\d+(?!\S))")


_MUSIC_SIGNS = {
    0xE045: "D.S.",
    0xE046: "D.C.",
    0xE047: "𝄋",
    0xE048: "𝄌",
    0xE049: "𝄌",
    0xE04A: "𝄋",
    0xE04B: "𝄋",
    0xE1D2: "𝅝",
    0xE1D3: "𝅗𝅥",
    0xE1D4: "𝅗𝅥",
    0xE1D5: "♩",
    0xE1D6: "♩",
    0xE1D7: "♪",
    0xE1D8: "♪",
    0xE1E7: ".",
    0xE260: "♭",
    0xE261: "♮",
    0xE262: "♯",
    0xE263: "𝄪",
    0xE264: "𝄫",
    0xE4C0: "𝄐",
    0xE4C1: "𝄑",
    **dict.fromkeys(range(0xE4C2, 0xE4CE), "𝄐"),
    0xE4CE: "’",
    0xE4CF: "’",
    **dict.fromkeys(range(0xE4D1, 0xE4D5), "𝄓"),
    0xE500: "𝄎",
    0xE501: "𝄏",
    0xE520: "p",
    0xE521: "m",
    0xE522: "f",
    0xE523: "r",
    0xE524: "s",
    0xE525: "z",
    0xE550: "‿",
    0xE551: "‿",
    0xE552: "‿",
    0xE870: "°",
    0xE871: "ø",
    0xE872: "+",
    0xE873: "△",
    0xE874: "-",
    0xECA2: "𝅝",
    0xECA3: "𝅗𝅥",
    0xECA4: "𝅗𝅥",
    0xECA5: "♩",
    0xECA6: "♩",
    0xECA7: "♪",
    0xECA8: "♪",
    0xECB7: ".",
    0xED60: "♭",
    0xED61: "♮",
    0xED62: "♯",
    0xED63: "𝄪",
    0xED64: "𝄫",
    0xF025: "𝄋",
    0xF055: "𝄐",
    0xF075: "𝄑",
    0xF0DE: "𝄌",
}
"""Signs that music fonts keep in Unicode's area of private use, as letters that other fonts have.
Source of the places: the Standard Music Font Layout (SMuFL 1.4), and from U+F000 on those of older
fonts, which keep there what they have at the letters %, U, u and Þ; from memory."""
PRIVATE = re.compile("[\ue000-\uf8ff]")


def without_private_signs(text: str) -> str:
    """The text with signs of private use as the signs they stand for; the others go."""
    return PRIVATE.sub(lambda sign: _MUSIC_SIGNS.get(ord(sign[0]), ""), text)


def is_unknown_sign(sign: str) -> bool:
    """Whether a sign is one of private use whose meaning is not known."""
    return PRIVATE.match(sign) is not None and ord(sign) not in _MUSIC_SIGNS


def one_line(text: str | None) -> str:
    """The text on one line: white space becomes single blanks, what cannot be printed goes."""
    if not text:
        return ""
    if text.isprintable():
        return " ".join(text.split())
    text = without_private_signs(text)
    kept = "".join(c if _printable(c) else " " if c.isspace() else "" for c in text)
    return " ".join(kept.split())


def _printable(character: str) -> bool:
    if character.isascii():
        return " " <= character < "\x7f"
    category = unicodedata.category(character)
    return category not in ("Cc", "Cs", "Zl", "Zp", "Cn") and character not in _NO_WIDTH


@lru_cache(maxsize=16_384)
def section_name(text: str) -> str:
    """A section's name: ``as`` and ``x2`` lose the meaning they have in a section row."""
    name = one_line(text).strip("= ")[:_LONGEST_NAME].strip("= ").replace("#", "♯")
    words = ["As" if word == "as" else word for word in name.split()]
    return _TIMES.sub("×", " ".join(words))


_QUOTED = re.compile(r'"([^"]*)"')


@lru_cache(maxsize=1_024)  # a score asks for each cue from several sides
def cue_text(text: str) -> str:
    """A cue: quotes become typographic ones, for plain ones end it."""
    plain = _DASHES_AROUND.sub("", one_line(text)[:_LONGEST_CUE])
    if '"' in plain:
        plain = _QUOTED.sub(r"“\1”", plain).replace('"', "”")
    return plain.strip()


def setting_text(text: str) -> str:
    """The value of a setting that holds plain text."""
    return one_line(text)[:_LONGEST_CUE].strip()


def sung_text(text: str | None) -> str:
    """Words to be sung, on one line."""
    return one_line(text)
