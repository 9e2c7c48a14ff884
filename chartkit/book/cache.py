"""Work done before, kept between runs under a key made of everything it follows from.

A key is a digest of the program's own text, fonts and grammar, the piece of work and all
that it was given; so nothing kept ever has to be thrown away for being old.  A file is a
line with the digest of what follows, then that.  Whatever is not exactly so is taken for
missing.  Files are the user's own, written aside and renamed.
"""

import os
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from hashlib import sha256
from pathlib import Path

from chartkit.assets import font_path
from chartkit.private_folder import is_ours, made_private, user_cache, write_private

MOST_BYTES = 1 << 30
"""How much is kept; past that the files longest unused go, down to four fifths of it (ours)."""

_PROGRAM = Path(__file__).parent.parent


def book_cache_folder() -> Path | None:
    """Where work is kept; None with no home."""
    return user_cache("chartkit/books")


@cache
def _program_digest() -> str:
    """A digest of all program text and fonts, so that a changed program starts afresh."""
    found = sha256()
    fonts = font_path("OFL.txt").parent
    grammars = (_PROGRAM.parent / "grammar", _PROGRAM / "grammar")
    files = [*_PROGRAM.rglob("*.py"), *fonts.glob("*.ttf")]
    files += [path for folder in grammars for path in folder.glob("*.lark")]
    for path in sorted(files):
        found.update(path.read_bytes())
    return found.hexdigest()


def work_key(*parts: object) -> str:
    """The key of a piece of work that follows from these values alone.

    Values are told apart by their ``repr``: plain values and frozen dataclasses, no sets.
    """
    return sha256(repr((_program_digest(), *parts)).encode("utf-8", "replace")).hexdigest()


class WorkCache:
    """Bytes by key in a folder; with no folder it keeps nothing.

    Nothing here raises for a file that cannot be read or written.
    """

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder
        if folder is not None:
            try:
                self._folder = folder if made_private(folder) else None
            except OSError:
                self._folder = None

    def get(self, key: str) -> bytes | None:
        """What is kept under the key, if it is whole."""
        if self._folder is None:
            return None
        path = self._path(key)
        try:
            head, _, body = path.read_bytes().partition(b"\n")
            if sha256(body).hexdigest().encode() != head:
                return None
            os.utime(path)
        except OSError:
            return None
        return body

    def put(self, key: str, body: bytes) -> None:
        """Keeps something under the key."""
        if self._folder is None:
            return
        path = self._path(key)
        try:
            path.parent.mkdir(mode=0o700, exist_ok=True)
            write_private(path, sha256(body).hexdigest().encode() + b"\n" + body)
        except OSError:
            return

    def trim(self, most_bytes: int = MOST_BYTES) -> None:
        """Lets go of what was longest unused, if too much is kept."""
        try:
            if self._folder is None or not is_ours(self._folder):
                return
        except OSError:
            return
        files = sorted(self._files(), key=lambda file: file[1])
        total = sum(size for *_, size in files)
        if total <= most_bytes:
            return
        for path, _, size in files:
            if total <= most_bytes * 0.8:
                break
            with suppress(OSError):
                path.unlink()
                total -= size

    def _files(self) -> Iterator[tuple[Path, float, int]]:
        assert self._folder is not None
        for path in self._folder.glob("??/*"):
            try:
                found = path.stat()
            except OSError:
                continue
            yield path, found.st_mtime, found.st_size

    def _path(self, key: str) -> Path:
        assert self._folder is not None
        return self._folder / key[:2] / key[2:]
