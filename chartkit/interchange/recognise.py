"""What a file is, by its content and never by its name.

Source of the signatures: the formats' own specifications, as listed in the public registries
of file signatures; from memory.
"""

import re
from typing import Literal

from chartkit.interchange.intake_result import Refused

Format = Literal["musicxml", "archive", "pdf", "json", "mail", "text"]

_FOREIGN: tuple[tuple[bytes, str], ...] = (
    (b"MThd", "a MIDI file, which holds notes but no chord symbols"),
    (b"\x89PNG", "a picture (PNG): type what it shows as text"),
    (b"\xff\xd8\xff", "a picture (JPEG): type what it shows as text"),
    (b"GIF8", "a picture (GIF): type what it shows as text"),
    (b"II*\x00", "a picture (TIFF): type what it shows as text"),
    (b"MM\x00*", "a picture (TIFF): type what it shows as text"),
    (b"BM", "a picture (BMP): type what it shows as text"),
    (b"RIFF", "a sound or picture file (RIFF)"),
    (b"ID3", "a sound file (MP3)"),
    (b"\xff\xfb", "a sound file (MP3)"),
    (b"OggS", "a sound file (Ogg)"),
    (b"fLaC", "a sound file (FLAC)"),
    (b"\x1f\x8b", "a gzip archive: unpack it first"),
    (b"7z\xbc\xaf", "a 7z archive: unpack it first"),
    (b"Rar!", "a RAR archive: unpack it first"),
    (b"\xd0\xcf\x11\xe0", "an office document of the old kind: save it as plain text first"),
    (b"{\\rtf", "an RTF document: save it as plain text first"),
    (b"%!PS", "a PostScript file: print it to PDF first"),
)
_BYTE_ORDER_MARKS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
_JSON = re.compile(rb"\{\s*(?:[\"}]|$)")
_HEADER = re.compile(rb"(?:From |[A-Za-z][A-Za-z0-9-]{1,40}:[ \t])")
_OF_A_LETTER = re.compile(rb"^(?:From|Subject|Date):", re.MULTILINE | re.IGNORECASE)
_OF_A_MACHINE = re.compile(
    rb"^(?:MIME-Version|Message-ID|Received|Content-Type|Content-Transfer-Encoding|Return-Path):",
    re.MULTILINE | re.IGNORECASE,
)
_ROOT = re.compile(rb"<([A-Za-z_][\w:.-]*)(\s+[\w:.-]+\s*=\s*[\"']|\s*/>|>[ \t]*<[A-Za-z])?")
"""The name of the first element of a document; what only an element has after its name:
attributes, its end, or another element."""
_LONGEST_HEAD = 64 * 1024
_PDF_WITHIN = 1024
_SAMPLE = 4096
_FEW_STRAYS = 3
"""So many control characters may have strayed into a text."""


def format_of(data: bytes) -> Format:
    """The format of a file's content.  Raises Refused, naming what it is, for others."""
    if data.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        return "archive"
    if _is_saved_mail(data):
        return "mail"
    if b"%PDF-" in data[:_PDF_WITHIN]:
        return "pdf"
    start = _without_mark(data[:_SAMPLE]).lstrip()
    if unmarked_utf_16(data):
        start = start.replace(b"\x00", b"")
    if _is_markup(start, data[-_SAMPLE:].replace(b"\x00", b"")):
        return _markup(start)
    for signature, what in _FOREIGN:
        if data.startswith(signature) and (len(signature) > 2 or not _is_plain(data)):
            raise Refused(f"this is {what}")
    if not data.strip():
        raise Refused("the file is empty")
    if not _is_plain(data):
        raise Refused("chartkit cannot read this kind of file: it is not text, MusicXML or PDF")
    return "json" if _JSON.match(start) is not None else "text"


def _is_saved_mail(data: bytes) -> bool:
    """Whether a file begins with the lines that mail programs put before a mail: what a letter
    has, and what only machines write."""
    if _HEADER.match(data) is None:
        return False
    head = re.split(rb"\r?\n\r?\n", data[:_LONGEST_HEAD], maxsplit=1)[0]
    return bool(_OF_A_LETTER.search(head) and _OF_A_MACHINE.search(head))


def _without_mark(data: bytes) -> bytes:
    """The start of a text without its byte order mark and the zeros of UTF-16."""
    for mark, encoding in _BYTE_ORDER_MARKS:
        if data.startswith(mark):
            data = data[len(mark) :]
            return data.replace(b"\x00", b"") if encoding == "utf-16" else data
    return data


def _is_plain(data: bytes) -> bool:
    """Whether the content looks like text: hardly any zeros and control bytes, or every other
    byte a zero as in UTF-16."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or unmarked_utf_16(data):
        return True
    sample = data[:_SAMPLE]
    control = sum(byte < 9 or 13 < byte < 32 for byte in sample)
    zeros = sample.count(0)
    few = control <= _FEW_STRAYS and zeros <= _FEW_STRAYS and _is_utf_8(data)
    return few or (not zeros and control * 50 <= len(sample))


def _is_utf_8(data: bytes) -> bool:
    try:
        data.decode()
    except UnicodeDecodeError:
        return False
    return True


def unmarked_utf_16(data: bytes) -> str:
    """The encoding of a text in UTF-16 that has no mark: most letters are Latin, so that every
    other byte is a zero; empty for any other content."""
    sample = data[:_SAMPLE]
    for encoding, first in (("utf-16-le", 1), ("utf-16-be", 0)):
        high, low = sample[first::2], sample[1 - first :: 2]
        if len(high) > 1 and high.count(0) * 5 >= len(high) * 4 and not low.count(0):
            try:
                text = data.decode(encoding)
            except UnicodeDecodeError:
                return ""
            return encoding if text.isprintable() or any(map(str.isalpha, text)) else ""
    return ""


def _is_markup(start: bytes, end: bytes) -> bool:
    """Whether a content that begins and ends so is XML or a web page: a declaration, the root of a
    score or of a page, a root with attributes or elements, or one that is closed.  "<Intro>" and
    "<< My Song >>" are signs around names in a text."""
    root = _ROOT.match(start)
    if root is None:
        return start.startswith((b"<?", b"<!"))
    name = root[1].lower()
    closed = end.rstrip().lower().endswith(b"</" + name + b">")
    return closed or bool(root[2]) or b"score-" in name or name == b"html"


def _markup(start: bytes) -> Format:
    lowered = start[:_SAMPLE].lower()
    if lowered.startswith((b"<!doctype html", b"<html")) or b"<html" in lowered[:600]:
        raise Refused("this is a web page: save its text first")
    return "musicxml"


def text_and_encoding(data: bytes) -> tuple[str, str]:
    """The text and the encoding it was read in; line ends become plain ones.

    UTF-8, UTF-16 with its mark or without, and otherwise Windows-1252, in which every byte that
    has no letter becomes U+FFFD.
    """
    encoding = next((e for mark, e in _BYTE_ORDER_MARKS if data.startswith(mark)), "")
    encoding = encoding or unmarked_utf_16(data) or "utf-8"
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        encoding = "windows-1252"
        text = data.decode(encoding, "replace")
    return text.replace("\r\n", "\n").replace("\r", "\n"), encoding
