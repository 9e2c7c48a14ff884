"""Repairs XML that is nearly well formed, as far as its meaning is plain.

Programs write letters in another encoding than they say, signs that XML forbids, bare ampersands,
or something after the end.  A file that breaks off is read up to there; an element that is left
open anywhere else stays refused.
"""

import re
from collections.abc import Iterator
from contextlib import suppress
from html import escape  # that of xml.sax loads the libraries of the net
from html.entities import html5

from chartkit.interchange.musicxml.xml import MOST_DEPTH

_OWN_ENTITIES = ("amp", "lt", "gt", "quot", "apos")
_DECLARATION = re.compile(r"<\?xml[^>]{0,200}\?>")
_NAMED_ENCODING = re.compile(
    rb"""\s{0,99}<\?xml[^>]{1,200}encoding=["'](iso-8859-\d{1,2}|windows-125\d|koi8-[ru]|"""
    rb"""macintosh|shift_jis|euc-jp|euc-kr|gbk|gb2312|big5)["']""",
    re.IGNORECASE,
)
_FORBIDDEN = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Source: XML 1.0, fifth edition, production 2, Char."""
_AMPERSAND = re.compile(r"&(?:(#x?[0-9A-Fa-f]{1,6};)|([A-Za-z][A-Za-z0-9]{0,30});)?")


_TAG = re.compile(r"<(/?)([A-Za-z_][\w:.-]*)[^<>]*?(/?)>")
_FRAME = ("score-partwise", "score-timewise", "part", "measure")
"""The elements that hold all others of a score's music."""


def misdeclared(data: bytes) -> bytes | None:
    """The document in UTF-8, where it is in UTF-8 but names an encoding of 8 bits; None for any
    other.  Letters of such an encoding are hardly ever well-formed UTF-8 by chance."""
    named = _NAMED_ENCODING.match(data)
    if named is None:
        return None
    with suppress(UnicodeDecodeError):
        data.decode()
        return data[: named.start(1)] + b"UTF-8" + data[named.end(1) :]
    return None


def torn(data: bytes) -> bytes | None:
    """The document with everything closed that is open where it breaks off, without what is not
    whole there; None where no measure is whole or the end is there."""
    text = _decoded(data)
    text = text[: text.rfind(">") + 1]
    if "</measure>" not in text or text.rstrip().endswith(
        ("</score-partwise>", "</score-timewise>")
    ):
        return None
    opened = list(_left_open(text))
    frame = [name for name, _ in opened if name in _FRAME]
    inner = next((start for name, start in opened if name not in _FRAME), len(text))
    if not frame or [name for name, _ in opened[: len(frame)]] != frame:
        return None
    return (text[:inner] + "".join(f"</{name}>" for name in reversed(frame))).encode()


def _left_open(text: str) -> Iterator[tuple[str, int]]:
    """The elements that are open at the end, each with where it begins."""
    opened: list[tuple[str, int]] = []
    for tag in _TAG.finditer(text):
        if len(opened) > MOST_DEPTH:
            return
        if tag[3]:
            continue
        if not tag[1]:
            opened.append((tag[2], tag.start()))
        elif opened and opened[-1][0] == tag[2]:
            opened.pop()
        else:
            return  # not torn, but wrong
    yield from opened


def repaired(data: bytes) -> bytes | None:
    """The document as UTF-8 without the faults at which a parser stops; None if there are none."""
    text = _decoded(data)
    declaration = _DECLARATION.search(text[:1000])
    begin, end = 0 if declaration is None else declaration.end(), text.rfind(">") + 1
    body = _AMPERSAND.sub(_reference, _FORBIDDEN.sub("", text[begin:end]))
    whole = body.strip().encode()
    return None if not whole or whole == data.strip() else whole


def _decoded(data: bytes) -> str:
    """The text in UTF-16 or UTF-8, which show themselves, else in the encoding that it names, else
    in the usual one of 8 bits."""
    marked = data[:2] in (b"\xff\xfe", b"\xfe\xff")
    named = _NAMED_ENCODING.match(data)
    for encoding in ("utf-16" if marked else "utf-8-sig", named and named[1].decode()):
        with suppress(UnicodeDecodeError, LookupError):
            return data.decode(encoding or "cp1252")
    return data.decode("cp1252", "replace")


def _reference(match: re.Match[str]) -> str:
    """A reference that XML knows, the character that another one means, or a plain ampersand."""
    number, name = match[1], match[2]
    if number is not None or name in _OWN_ENTITIES:
        return match[0]
    return escape(html5.get(f"{name};", match[0]), quote=False)
