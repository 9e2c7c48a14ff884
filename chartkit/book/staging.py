"""Writes files aside and moves them into place together, so that none is ever half-written.

All files of a run are written whole into a hidden folder beside their places, flushed to the disk,
and renamed only when the last one is done.  Whatever interrupts, each place holds a complete old or
a complete new file.  A run that was killed leaves its hidden folder; the next run in that place
takes it away.
"""

import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import BinaryIO

from chartkit.files import check_replaceable

PREFIX = ".chartkit-making-"
_AT_ONCE = 1 << 20

Writer = Callable[[BinaryIO], object]
"""Writes a result into a file."""


def writer_of(content: bytes) -> Writer:
    """Writes a result that is in memory."""
    return lambda out: out.write(content)


class Staging:
    """A folder for results, filled aside; a context.

    Leaving it without ``commit`` changes nothing.  ``OSError`` where files cannot be
    written.
    """

    def __init__(self, folder: Path, replace: bool = False) -> None:
        """``replace`` lets results replace files that this program has not made."""
        self.folder = folder
        self._replace = replace
        self._aside: Path | None = None
        self._waiting: dict[Path, Path] = {}
        self.unchanged: list[Path] = []
        self.changed: list[Path] = []

    def __enter__(self) -> "Staging":
        self.folder.mkdir(parents=True, exist_ok=True)
        _remove_leftovers(self.folder)
        prefix = f"{PREFIX}{os.getpid()}-"
        self._aside = Path(tempfile.mkdtemp(prefix=prefix, dir=self.folder))
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        reason: BaseException | None,
        where: TracebackType | None,
    ) -> None:
        if self._aside is not None:
            shutil.rmtree(self._aside, ignore_errors=True)

    def add(self, name: str, write: Writer) -> None:
        """Has a result written aside; ``name`` may lie in a folder below.

        A file that already holds just this is left alone.  Raises Unusable where a file stands
        that is not to be replaced.
        """
        assert self._aside is not None
        target, aside = self.folder / name, self._aside / str(len(self._waiting))
        with aside.open("wb") as out:
            write(out)
            out.flush()
            if _holds_the_same(target, aside):
                self.unchanged.append(target)
                return
            if not self._replace:
                check_replaceable(target)
            os.fsync(out.fileno())
        self._waiting[target] = aside

    def commit(self) -> None:
        """Moves every result to its place."""
        for target, aside in self._waiting.items():
            target.parent.mkdir(parents=True, exist_ok=True)
            aside.replace(target)
            self.changed.append(target)
        self._waiting.clear()


def _holds_the_same(target: Path, aside: Path) -> bool:
    try:
        if target.stat().st_size != aside.stat().st_size:
            return False
        with target.open("rb") as target_file, aside.open("rb") as other:
            return all(
                piece == other.read(_AT_ONCE)
                for piece in iter(lambda: target_file.read(_AT_ONCE), b"")
            )
    except OSError:
        return False


def _remove_leftovers(folder: Path) -> None:
    """Removes what killed runs have left."""
    for left in folder.glob(f"{PREFIX}*"):
        number = left.name.removeprefix(PREFIX).partition("-")[0]
        if number.isdecimal() and not _is_running(int(number)):
            shutil.rmtree(left, ignore_errors=True)


def _is_running(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True
