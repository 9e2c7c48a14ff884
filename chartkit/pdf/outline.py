"""The outline of a file: songs with their sections, or the sections of a single song."""

from collections.abc import Sequence
from dataclasses import dataclass

from chartkit.layout.frames import Bookmark
from chartkit.pdf.objects import PdfFile, text_string


@dataclass(frozen=True, slots=True)
class _Entry:
    """An entry: its number, its title, and the number of the page and the height it leads to."""

    number: int
    title: str
    page: int
    top: float


class _Level:
    """The entries under one other; each is written when the one after it is known."""

    def __init__(self, over: int, file: PdfFile) -> None:
        self._over = over
        self._file = file
        self._first = self._before = 0
        self._count = 0
        self._open: tuple[_Entry, _Level | None] | None = None

    def begin(self, title: str, page: int, top: float, is_parent: bool = False) -> "_Level | None":
        """Begins an entry; what may stand under it, if anything may."""
        entry = _Entry(self._file.reserve(), title, page, top)
        self._close(entry.number)
        self._first = self._first or entry.number
        below = _Level(entry.number, self._file) if is_parent else None
        self._open = (entry, below)
        return below

    def finish(self) -> tuple[str, int]:
        """Writes the last entry; returns the fields of the entry above, and the level's count."""
        last = self._open[0].number if self._open else 0
        self._close(0)
        return (f" /First {self._first} 0 R /Last {last} 0 R" if last else ""), self._count

    def _close(self, following: int) -> None:
        if self._open is None:
            return
        entry, below = self._open
        parts = [f"/Title {text_string(entry.title)} /Parent {self._over} 0 R"]
        parts.append(f"/Dest [{entry.page} 0 R /XYZ 0 {entry.top:.2f} 0]")
        parts += [f"/Prev {self._before} 0 R"] if self._before else []
        parts += [f"/Next {following} 0 R"] if following else []
        if below is not None:
            ends, count = below.finish()
            parts += [f"{ends.strip()} /Count {-count}"] if count else []
        self._file.put(entry.number, f"<< {' '.join(parts)} >>")
        self._before, self._count = entry.number, self._count + 1


class Outline:
    """The outline of a file, added page by page; entries under others are folded away."""

    def __init__(self, file: PdfFile) -> None:
        self._file = file
        self._root = file.reserve()
        self._songs = self._sections = _Level(self._root, file)

    def add_page(self, page: int, height: float, title: str, marks: Sequence[Bookmark]) -> None:
        """Adds a page, by its number in the file; ``title`` begins an entry of the first level."""
        if title:
            below = self._songs.begin(title, page, height, is_parent=True)
            assert below is not None
            self._sections = below
        for mark in marks:
            self._sections.begin(mark.name, page, height - mark.y)

    def finish(self) -> int:
        """The number of the root."""
        ends, count = self._songs.finish()
        self._file.put(self._root, f"<< /Type /Outlines /Count {count}{ends} >>")
        return self._root
