"""The structure of a document: what is a title, a heading, a line of text, in reading order.

Whoever has pages read aloud gets headings to go by, and no running lines (ISO 32000-1, 14.7
and 14.8).
"""

from collections.abc import Sequence

from chartkit.pdf.commands import FORM_LINE, NOTE, ReadLine
from chartkit.pdf.objects import PdfFile, text_string


class Structure:
    """The structure of a file, added page by page; each song of a book is a part of its own."""

    def __init__(self, language: str, file: PdfFile) -> None:
        self._file = file
        self._language = text_string(language)
        self._root, self._whole = file.reserve(), file.reserve()
        self._top: list[int] = []
        self._part, self._title = 0, ""
        self._lines: list[int] = []
        self._by_page: list[int] = []

    def begin_part(self, title: str) -> None:
        """Lets the pages that follow be a part of their own."""
        self._end_part()
        self._part, self._title = self._file.reserve(), text_string(title)
        self._top.append(self._part)

    def add_page(self, page: int, lines: Sequence[ReadLine]) -> None:
        """Adds a page, by its number in the file, with its marked lines in order."""
        over = self._part or self._whole
        own = [
            self._file.add(
                f"<< /S /{line.tag} /P {over} 0 R /Pg {page} 0 R /K {i}{_spoken(line)} >>".encode()
            )
            for i, line in enumerate(lines)
        ]
        (self._lines if self._part else self._top).extend(own)
        self._by_page.append(self._file.add(f"[{_references(own)}]".encode()))

    def finish(self) -> int:
        """The number of the root."""
        self._end_part()
        kids = _references(self._top)
        put, parents = self._file.put, self._file.reserve()
        put(
            self._whole,
            f"<< /S /Document /P {self._root} 0 R /Lang {self._language} /K [{kids}] >>",
        )
        numbers = " ".join(f"{i} {lines} 0 R" for i, lines in enumerate(self._by_page))
        put(parents, f"<< /Nums [{numbers}] >>")
        put(
            self._root,
            f"<< /Type /StructTreeRoot /K [{self._whole} 0 R] /ParentTree {parents} 0 R "
            f"/ParentTreeNextKey {len(self._by_page)} "
            f"/RoleMap << /{FORM_LINE} /P /{NOTE} /P >> >>",
        )
        return self._root

    def _end_part(self) -> None:
        if self._part:
            kids = _references(self._lines)
            self._file.put(
                self._part, f"<< /S /Sect /P {self._whole} 0 R /T {self._title} /K [{kids}] >>"
            )
            self._lines = []


def _references(numbers: Sequence[int]) -> str:
    return " ".join(f"{number} 0 R" for number in numbers)


def _spoken(line: ReadLine) -> str:
    return f" /ActualText {text_string(line.text)}" if line.text else ""
