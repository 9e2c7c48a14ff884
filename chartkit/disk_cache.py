"""A cache of earlier results on disk: bytes by key, in one SQLite file.

One kind of cache serves parse tables, voicings and songs of books.  A key is a digest of everything
a value depends on, including the program's own source, so a kept value is never out of date. When
too much is kept, the values unused for the longest time are removed. Only the values asked for are
read, so the cost does not grow with the cache.

Nothing here raises: a damaged or foreign file counts as empty and is made anew, and without a cache
everything is computed again. SQLite separates processes that use one file at the same time, and
undoes what a killed one has half written.

No library: those that cache on disk unpickle what they read, which must not happen with a file
that may be somebody else's. SQLite comes with Python.
"""

import os
import sqlite3
from collections.abc import Mapping
from contextlib import suppress
from hashlib import blake2b, sha256
from pathlib import Path
from stat import S_ISREG
from threading import RLock
from time import time
from typing import Any

from chartkit.private_folder import is_ours, make_private

FILE_NAME = "kept.sqlite"
MOST_BYTES = 64_000_000
"""The most bytes that are kept; past that, the values unused for longest are removed, down to four
fifths of it (ours)."""
_LEFT = 0.8
_WAIT_SECONDS = 5.0
"""How long to wait for another process that is writing."""
_NEWLY_USED_SECONDS = 86_400
"""A day: use is noted no more often, since noting it means writing."""
_SCHEMA = (
    "CREATE TABLE IF NOT EXISTS kept ("
    "key TEXT PRIMARY KEY, used INTEGER, size INTEGER, digest BLOB, body BLOB)"
)


def digest_of(*parts: object) -> str:
    """A key for a result that depends on these values alone.

    Values are distinguished by their ``repr``: plain values and frozen dataclasses, no sets.
    """
    return sha256(repr(parts).encode("utf-8", "replace")).hexdigest()


_PASSING = (
    sqlite3.SQLITE_BUSY,
    sqlite3.SQLITE_LOCKED,
    sqlite3.SQLITE_PERM,
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_NOMEM,
)
"""Errors of SQLite with which a file may still be sound (its documentation, "Result and Error
Codes")."""


class DiskCache:
    """Bytes by key in a folder of the user's own; with no folder it keeps nothing."""

    def __init__(self, folder: Path | None, most_bytes: int = MOST_BYTES) -> None:
        """The folder is made when it is first written to."""
        self._folder = folder
        self._most = most_bytes
        self._file: sqlite3.Connection | None = None
        self._process = 0
        self._lock = RLock()
        self._used: set[str] = set()

    @property
    def keeps(self) -> bool:
        """Whether there is a folder to keep anything in."""
        return self._folder is not None

    def get(self, key: str) -> bytes | None:
        """The bytes kept under the key; None if there are none, or they are damaged."""
        with self._lock:
            rows = self._run("SELECT used, digest, body FROM kept WHERE key = ?", (key,))
        if not rows:
            return None
        used, digest, body = rows[0]
        if not isinstance(body, bytes) or _checksum(body) != digest:
            return None
        if not isinstance(used, int) or abs(time() - used) > _NEWLY_USED_SECONDS:
            self._used.add(key)
        return body

    def put(self, entries: Mapping[str, bytes]) -> None:
        """Keeps values under their keys, all of them or none."""
        now = int(time())
        rows = [(key, now, len(body), _checksum(body), body) for key, body in entries.items()]
        with self._lock:
            self._note_use(now)
            if rows and self._opened(make=True) is not None:
                self._run_many("INSERT OR REPLACE INTO kept VALUES (?, ?, ?, ?, ?)", rows)
                if self._size() > self._most:
                    self.trim()

    def trim(self, most_bytes: int | None = None) -> None:
        """Removes the values unused for longest, if more than ``most`` bytes are kept."""
        most = self._most if most_bytes is None else most_bytes
        with self._lock:
            self._note_use(int(time()))
            rows = self._run("SELECT key, CAST(size AS INTEGER) FROM kept ORDER BY used, key", ())
            total = sum(int(size or 0) for _, size in rows)
            if total <= most:
                return
            gone = []
            for key, size in rows:
                if total <= most * _LEFT:
                    break
                gone.append((key,))
                total -= int(size or 0)
            self._run_many("DELETE FROM kept WHERE key = ?", gone)

    def close(self) -> None:
        """Closes the file until something is asked for again."""
        with self._lock:
            if self._file is not None and self._process == os.getpid():
                with suppress(sqlite3.Error):
                    self._file.close()
            self._file = None

    def _note_use(self, now: int) -> None:
        if self._used:
            keys, self._used = sorted(self._used), set()
            self._run_many("UPDATE kept SET used = ? WHERE key = ?", [(now, key) for key in keys])

    def _size(self) -> int:
        assert self._folder is not None
        try:
            return (self._folder / FILE_NAME).stat().st_size
        except OSError:
            return 0

    def _run(self, what: str, values: tuple[object, ...]) -> list[Any]:
        file = self._opened()
        if file is None:
            return []
        try:
            return file.execute(what, values).fetchall()
        except sqlite3.Error as reason:
            self._broken(reason)
            return []

    def _run_many(self, what: str, rows: list[Any]) -> None:
        file = self._opened()
        if file is None:
            return
        try:
            with file:
                file.executemany(what, rows)
        except (sqlite3.Error, OverflowError) as reason:
            self._broken(reason)

    def _broken(self, reason: Exception) -> None:
        """Closes the file, and deletes it if it is not a sound database."""
        self.close()
        code = getattr(reason, "sqlite_errorcode", None)
        if code is not None and code & 0xFF not in _PASSING:
            _remove(self._path)

    @property
    def _path(self) -> Path:
        assert self._folder is not None
        return self._folder / FILE_NAME

    def _opened(self, make: bool = False) -> sqlite3.Connection | None:
        """The file; None if there is none and none is to be made."""
        if self._folder is None:
            return None
        if self._file is not None and self._process == os.getpid():
            return self._file
        try:
            if not (make_private(self._folder) if make else is_ours(self._folder)):
                return None
            if not _is_sound(self._path, 2 * self._most):
                _remove(self._path)
            if not self._path.exists():
                if not make:
                    return None
                os.close(os.open(self._path, os.O_CREAT | os.O_WRONLY, 0o600))
            self._file = _connected(self._path)
            self._process = os.getpid()
        except (OSError, sqlite3.Error) as reason:
            self._broken(reason)
            return None
        return self._file


def _connected(path: Path) -> sqlite3.Connection:
    file = sqlite3.connect(path, timeout=_WAIT_SECONDS, check_same_thread=False)
    try:
        file.execute("PRAGMA auto_vacuum = FULL")
        file.execute("PRAGMA synchronous = OFF")
        file.execute("PRAGMA trusted_schema = OFF")
        file.execute(_SCHEMA)
    except sqlite3.Error:
        file.close()
        raise
    return file


def _checksum(body: bytes) -> bytes:
    return blake2b(body, digest_size=16).digest()


def _beside(path: Path) -> Path:
    """The files in which SQLite notes what it may have to undo."""
    return path.with_name(f"{path.name}-journal")


def _is_sound(path: Path, most_bytes: int) -> bool:
    """Whether the path is a plain file of a likely size, or free. Opening a pipe would wait for its
    other end."""
    for file in (path, _beside(path)):
        try:
            status = file.lstat()
        except FileNotFoundError:
            continue
        if not S_ISREG(status.st_mode) or status.st_size > most_bytes:
            return False
    return True


def _remove(path: Path) -> None:
    for file in (path, _beside(path)):
        with suppress(OSError):
            file.unlink()
