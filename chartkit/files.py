"""Reading charts and writing results: whole files or none."""

import os
import sys
import tempfile
from pathlib import Path
from stat import S_ISREG
from typing import BinaryIO

from chartkit.diagnostics import Source
from chartkit.phrases import nearest

STANDARD_INPUT = "-"


class Unusable(Exception):
    """A file that cannot be read or written: the reason in one line, and a hint."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.hint = hint


def read_source(name: str) -> Source:
    """The text of a file, or of standard input for ``-``.

    Line ends become ``\n`` and a byte order mark is removed.  Raises Unusable.
    """
    shown_name = "standard input" if name == STANDARD_INPUT else name
    return Source(decoded_chart(read_bytes(name, LARGEST_CHART), shown_name), shown_name)


def read_bytes(name: str, most_bytes: int) -> bytes:
    """The content of a file, or of standard input for ``-``; at most one byte over the limit.

    Raises Unusable.
    """
    if not name:
        raise Unusable("the name of the file is empty")
    try:
        if name == STANDARD_INPUT:
            return sys.stdin.buffer.read(most_bytes + 1)
        with Path(name).open("rb") as file:
            return file.read(most_bytes + 1)
    except (OSError, ValueError) as reason:
        shown_name = "standard input" if name == STANDARD_INPUT else name
        hint = _nearest(Path(name)) if isinstance(reason, FileNotFoundError) else ""
        raise Unusable(f"{shown_name}: cannot be read: {_plain(reason)}", hint) from None


def _nearest(path: Path) -> str:
    """A hint for a missing file: an existing name that may be meant."""
    try:
        stems = [sibling.stem for sibling in path.parent.iterdir() if sibling.suffix == path.suffix]
    except (OSError, ValueError):
        return ""
    if path.suffix != ".chart" and path.with_name(f"{path.name}.chart").is_file():
        return f'did you mean "{path.name}.chart"?'
    near = nearest(path.stem, sorted(stems), 0.7)
    if near and near != path.stem:
        return f'did you mean "{near}{path.suffix}"?'
    chart = path.with_suffix(".chart")
    return f'did you mean "{chart.name}"?' if path.suffix and chart.is_file() else ""


_TAKEN_IN = "chartkit intake makes a chart of a lead sheet"
_TO_BE_TYPED = "type what it shows; chartkit intake reads text with chords over the words"
_OTHER_KINDS = {
    b"%PDF-": ("a PDF", _TAKEN_IN),
    b"PK\3\4": ("a packed file", _TAKEN_IN),
    b"<?xml": ("XML", _TAKEN_IN),
    b"<score-": ("MusicXML", _TAKEN_IN),
    b"<!DOCTYPE score-": ("MusicXML", _TAKEN_IN),
    b"\x89PNG": ("a picture", _TO_BE_TYPED),
    b"\xff\xd8\xff": ("a picture", _TO_BE_TYPED),
    b"GIF8": ("a picture", _TO_BE_TYPED),
    b"MThd": ("a MIDI file", "it holds notes but no chord symbols"),
}
"""The first bytes of other kinds of files, each with the kind's name and a hint.  Source:
the formats' own specifications, from memory."""
LARGEST_CHART = 8_000_000
_MOST_ROWS, _MOST_BAR_LINES = 20_000, 60_000
"""A text with more bytes, rows or bar lines is not a song: a long one has two hundred bars,
and every step takes seconds at ten thousand bars with their words."""


def decoded_chart(raw: bytes, name: str) -> str:
    """The text of a chart's bytes, line ends made plain, within the limits.

    Raises Unusable, in which the file goes by ``name``.
    """
    for beginning, (kind, hint) in _OTHER_KINDS.items():
        if raw.startswith(beginning):
            raise Unusable(f"{name}: this is {kind}, not a chart", hint)
    if len(raw) > LARGEST_CHART:
        raise Unusable(
            f"{name}: this is too large to be a chart: more than {LARGEST_CHART:,} bytes"
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as reason:
        line = raw.count(b"\n", 0, reason.start) + 1
        raise Unusable(f"{name}:{line}: this is not UTF-8 text; save the chart as UTF-8") from None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if problem := why_too_long(text):
        raise Unusable(f"{name}: {problem}")
    return text


def why_too_long(text: str) -> str:
    """Why a text is too long to be a chart; empty if it is not."""
    for sign, most, noun in (("\n", _MOST_ROWS, "rows"), ("|", _MOST_BAR_LINES, "bar lines")):
        if (count := text.count(sign)) > most:
            return (
                f"{count:,} {noun} are too many for a chart, which has {most:,} at most: "
                "give each song a file of its own"
            )
    return ""


def place_of(name: str | Path) -> object:
    """A value that is equal for all names of one file, through links of either kind."""
    try:
        status = Path(name).stat()
    except (OSError, ValueError):
        return os.path.realpath(name)
    return (status.st_dev, status.st_ino) if S_ISREG(status.st_mode) else os.path.realpath(name)


def same_file(name: str | Path, other_name: str | Path) -> bool:
    """Whether two names are one file."""
    return place_of(name) == place_of(other_name)


def _plain(reason: Exception) -> str:
    known: dict[type[Exception], str] = {
        FileNotFoundError: "there is no such file",
        IsADirectoryError: "it is a folder",
        PermissionError: "permission denied",
        NotADirectoryError: "a part of its path is not a folder",
        FileExistsError: "a file has that name",
    }
    words = reason.strerror if isinstance(reason, OSError) else str(reason)
    return known.get(type(reason), (words or "unknown reason").lower())


def make_folder(folder: Path, typed: str | None) -> None:
    """Makes the folder of a path that was typed with a slash at its end; does nothing for any
    other.  Raises Unusable."""
    if typed is None or not typed.endswith("/"):
        return
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as reason:
        raise Unusable(f"{typed}: cannot be made: {_plain(reason)}") from None


def write_whole(path: Path, content: bytes) -> None:
    """Writes a file beside its place and moves it there, so that no half-written file is ever seen.

    An existing file keeps its permissions; pipes and devices are written directly. Raises Unusable
    and leaves the old file.
    """
    temporary = ""
    try:
        target = Path(os.path.realpath(path)) if path.is_symlink() else path
        if not target.parent.is_dir():
            raise Unusable(f"{path}: cannot be written: there is no folder {target.parent}")
        if target.exists() and not os.access(target, os.W_OK):
            raise Unusable(f"{path}: cannot be written: it is read-only")
        if target.exists() and not target.is_file():
            _write_into(target, content)
            return
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name[:40]}.", dir=target.parent)
        with os.fdopen(handle, "wb") as out:
            out.write(content)
        Path(temporary).chmod(_mode(target))
        Path(temporary).replace(target)
        temporary = ""
    except (OSError, ValueError) as reason:
        raise Unusable(f"{path}: cannot be written: {_plain(reason)}") from None
    finally:
        if temporary:
            Path(temporary).unlink(missing_ok=True)


_SHOWN = 4096
"""How many bytes of a file are searched for the sign that this program made it."""


def write_result(path: Path, content: bytes, replace: bool = False) -> None:
    """Writes a result as ``write_whole`` does, but never over what may be somebody's work.

    An existing file is replaced only if it is empty, if this program made it and nobody has changed
    it since, or if ``replace`` is set.  Raises Unusable.
    """
    if not replace:
        check_replaceable(path, content)
    write_whole(path, content)


def check_replaceable(path: Path, content: bytes = b"") -> None:
    """Raises Unusable if a result must not replace the file that is there.

    A file that holds just ``content`` may be written again.
    """
    try:
        kept = path.is_file() and not _may_be_replaced(path, content)
    except (OSError, ValueError) as reason:
        raise Unusable(f"{path}: cannot be written: {_plain(reason)}") from None
    if kept:
        raise Unusable(
            f"{path}: cannot be written: the file there was not made by chartkit, or has been "
            "changed since",
            "name another file, or replace it with --replace",
        )


def _may_be_replaced(path: Path, content: bytes) -> bool:
    with path.open("rb") as file:
        there = file.read(max(len(content), _SHOWN) + 1)
        if not there or there == content:
            return True
        if not there.startswith(b"%PDF-"):
            return is_made_by_chartkit(there)
        return _begins_as_our_pdf(there) and _count_of(_PDF_END, there, file) == 1


_PDF_END = b"%%EOF"
_AT_ONCE = 1 << 20


def _count_of(sign: bytes, first: bytes, rest: BinaryIO) -> int:
    """How often a sign occurs in a file, which is read in pieces: a book may be larger than
    memory."""
    count, piece = 0, first
    while piece:
        count += piece.count(sign)
        kept = piece[-(len(sign) - 1) :]
        more = rest.read(_AT_ONCE)
        piece = kept + more if more else b""
    return count


def _begins_as_our_pdf(head: bytes) -> bool:
    return b"\n%chartkit\n" in head[:64]


def is_made_by_chartkit(content: bytes) -> bool:
    """Whether this program made a file, by what it leaves in each form: a comment in PDFs, which
    viewers that save their notes keep but then end the file twice, the software's name in
    pictures and MusicXML, the generator's in JSON and HTML, a text event in MIDI.  Charts and typed
    sheets bear no sign, since people go on writing in them."""
    head = content[:_SHOWN]
    if head.startswith(b"%PDF-"):
        return _begins_as_our_pdf(head) and content.count(_PDF_END) == 1
    if head.startswith(b"\x89PNG"):
        return b"tEXtSoftware\0chartkit" in head
    if head.startswith(b"MThd"):
        return b"\xff\x01\x08chartkit" in head
    if head.startswith(b"<!doctype html>"):
        return b'<meta name="generator" content="chartkit">' in head
    return b"<software>chartkit</software>" in head or head.startswith(_JSON_OF_OURS)


_JSON_OF_OURS = b'{\n  "generator": "chartkit"'


def _write_into(target: Path, content: bytes) -> None:
    """Writes into a pipe or a device, which must never be replaced by a file."""
    with target.open("wb", buffering=0) as out:
        out.write(content)


def _mode(target: Path) -> int:
    if target.exists():
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
