"""Reading charts and writing results: whole files or none."""

import os
import sys
import tempfile
from pathlib import Path

from chartkit.diagnostics import Source

STANDARD_INPUT = "-"


class Unusable(Exception):
    """A file that cannot be read or written, said in one line."""


def read_source(name: str) -> Source:
    """The text of a file, or of standard input for ``-``.

    Line ends become plain ones and a byte order mark goes.  Raises Unusable.
    """
    if name == STANDARD_INPUT:
        return Source(
            _decoded(sys.stdin.buffer.read(_LARGEST + 1), "standard input"), "standard input"
        )
    try:
        with Path(name).open("rb") as file:
            raw = file.read(_LARGEST + 1)
    except (OSError, ValueError) as reason:
        raise Unusable(f"{name}: cannot be read: {_plain(reason)}") from None
    return Source(_decoded(raw, name), name)


def read_bytes(name: str, most_bytes: int) -> bytes:
    """The content of a file, or of standard input for ``-``; at most one byte over the limit.

    Raises Unusable.
    """
    if name == STANDARD_INPUT:
        return sys.stdin.buffer.read(most_bytes + 1)
    try:
        with Path(name).open("rb") as file:
            return file.read(most_bytes + 1)
    except (OSError, ValueError) as reason:
        raise Unusable(f"{name}: cannot be read: {_plain(reason)}") from None


_LARGEST = 8_000_000
"""The size in bytes past which a file is no chart; a book of a thousand songs has less."""


def _decoded(raw: bytes, name: str) -> str:
    if len(raw) > _LARGEST:
        raise Unusable(f"{name}: this is too large to be a chart")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as reason:
        line = raw.count(b"\n", 0, reason.start) + 1
        raise Unusable(f"{name}:{line}: this is not UTF-8 text; save the chart as UTF-8") from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _plain(reason: Exception) -> str:
    known: dict[type[Exception], str] = {
        FileNotFoundError: "there is no such file",
        IsADirectoryError: "it is a folder",
        PermissionError: "permission denied",
        NotADirectoryError: "a part of its path is not a folder",
    }
    words = reason.strerror if isinstance(reason, OSError) else str(reason)
    return known.get(type(reason), (words or "unknown reason").lower())


def make_folder(folder: Path, asked: str | None) -> None:
    """Makes the folder that was asked for by a slash at its end.  Raises Unusable."""
    if asked is None or not asked.endswith("/"):
        return
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as reason:
        raise Unusable(f"{asked}: cannot be made: {_plain(reason)}") from None


def write_whole(path: Path, content: bytes) -> None:
    """Writes a file beside its place and moves it there, so that it is never half there.

    An existing file keeps its permissions; pipes and devices are written into.  Raises
    Unusable, leaving what was there.
    """
    target = path.resolve() if path.is_symlink() else path
    temporary = ""
    try:
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
    except (OSError, ValueError) as reason:
        if temporary:
            Path(temporary).unlink(missing_ok=True)
        raise Unusable(f"{path}: cannot be written: {_plain(reason)}") from None


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
