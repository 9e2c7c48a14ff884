"""The record of a run that made all books of a set, by which the next one sees that nothing has
changed.

It names what the books were made of and what was written, each file with a digest.  It is checked
with the standard library alone, so a repeated call does not load the rest of the program.
"""

import json
import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from hashlib import file_digest
from pathlib import Path
from stat import S_ISREG

from chartkit.book.cache import work_key
from chartkit.book.staging import PREFIX
from chartkit.disk_cache import DiskCache

_ABSENT = ""
"""The digest that stands for a file that cannot be read."""


@dataclass(frozen=True, slots=True)
class Call:
    """A call of the program: the set file and the folder as they were given, and every option that
    changes what is made."""

    set_file: Path
    output: Path
    options: tuple[object, ...] = ()

    @property
    def key(self) -> str:
        """The key under which its record is kept."""
        where = (os.getcwd(), str(self.set_file), str(self.output))  # noqa: PTH109
        return work_key("last run", *where, *self.options)


@dataclass(frozen=True, slots=True)
class LastRun:
    """The messages of a run, and how many files it made."""

    messages: tuple[str, ...]
    files: int


def digests_of(paths: Iterable[Path]) -> dict[str, str]:
    """A digest of each file by its path; take it before the file is read, so that a change made
    meanwhile is noticed next time."""
    return {str(path): _digest(path) for path in paths}


def keep_run(
    cache: DiskCache,
    call: Call,
    made_of: Mapping[str, str],
    written: Iterable[Path],
    messages: Iterable[str],
) -> None:
    """Keeps the record of a run that has made everything without a mistake."""
    files = digests_of(written)
    if _ABSENT not in (*made_of.values(), *files.values()):
        record = [list(made_of.items()), list(files.items()), list(messages)]
        cache.put({call.key: json.dumps(record).encode()})


def last_run(cache: DiskCache, call: Call) -> LastRun | None:
    """The last run of a call, if what it was made of and all it has written are as they were, and
    nothing else that could be taken for a book stands in the folder; otherwise None."""
    body = cache.get(call.key)
    if body is None:
        return None
    try:
        made_of, written, messages = json.loads(body)
        as_they_were = all(_digest(Path(path)) == was for path, was in [*made_of, *written])
        books = {Path(path) for path, _ in written}
        run = LastRun(tuple(map(str, messages)), len(books))
    except (ValueError, TypeError):
        return None
    alone = all(path in books for path in _likely_books(call.output, books))
    return run if as_they_were and alone else None


def _likely_books(output: Path, written: set[Path]) -> Iterator[Path]:
    """The files in the folder, and in those of single songs, that could be books, and what a run
    that was killed has left."""
    yield from output.glob(f"{PREFIX}*")
    for folder in {output, *(path.parent for path in written)}:
        for pattern in ("*.pdf", "*.html"):
            yield from folder.glob(pattern)


def _digest(path: Path) -> str:
    """A digest of a file's content; a pipe is not opened, since it may never end."""
    try:
        if not S_ISREG(path.stat().st_mode):
            return _ABSENT
        with path.open("rb") as file:
            return file_digest(file, "sha256").hexdigest()
    except (OSError, ValueError):
        return _ABSENT
