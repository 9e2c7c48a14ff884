"""Drawn pages and fresh ones bound into one PDF, with outline, links and page labels.

The file is put together by hand, object by object (ISO 32000-1, chapter 7): pages drawn
before go in as they are, so a thousand songs are bound in the time that a few take to draw.
"""

import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from hashlib import md5

from chartkit.layout.frames import FontName, Page
from chartkit.pdf.commands import page_commands
from chartkit.pdf.draw import DrawnPage, used_characters
from chartkit.pdf.embed import embedded_fonts


@dataclass(frozen=True, slots=True)
class Leaf:
    """A page of a book: one drawn before, if any, and what is drawn over it now.

    ``title`` begins an entry of the outline; the page's own bookmarks stand under it.
    """

    over: Page
    drawn: DrawnPage | None = None
    title: str = ""


@dataclass(slots=True)
class _Entry:
    """An entry of the outline: its title, the page and height it leads to, what is under it."""

    title: str
    page: int
    top: float
    below: list["_Entry"]


def bound(title: str, author: str, subject: str, language: str, leaves: Sequence[Leaf]) -> bytes:
    """The leaves as one PDF file; pages are numbered through from 1.

    The same leaves always give the same bytes.
    """
    file = _File()
    catalog, tree, resources = file.reserve(), file.reserve(), file.reserve()
    pages = [file.reserve() for _ in leaves]
    for leaf, number in zip(leaves, pages, strict=True):
        file.put(number, _page(leaf, tree, resources, pages, file))
    kids = " ".join(f"{number} 0 R" for number in pages)
    file.put(tree, f"<< /Type /Pages /Count {len(pages)} /Kids [{kids}] >>")
    fonts = embedded_fonts(_used(leaves), file.add)
    named = " ".join(f"/{key} {number} 0 R" for key, number in fonts.items())
    file.put(resources, f"<< /Font << {named} >> >>")
    outlines = _outline(_entries(leaves), pages, file)
    file.put(
        catalog,
        f"<< /Type /Catalog /Pages {tree} 0 R /Outlines {outlines} 0 R /PageMode /UseOutlines "
        f"/PageLabels << /Nums [0 << /S /D >>] >> /Lang {_text(language)} >>",
    )
    about = file.add(
        f"<< /Title {_text(title)} /Author {_text(author)} /Subject {_text(subject)} "
        "/Creator (chartkit) >>".encode()
    )
    return file.finished(catalog, about)


def _used(leaves: Sequence[Leaf]) -> Iterator[tuple[FontName, str]]:
    for leaf in leaves:
        yield from used_characters(leaf.over)
        if leaf.drawn is not None:
            yield from leaf.drawn.characters


def _page(leaf: Leaf, tree: int, resources: int, pages: list[int], file: "_File") -> str:
    page, contents = leaf.over, list[int]()
    if leaf.drawn is not None:
        contents.append(file.stream(leaf.drawn.commands))
    if page.items:
        contents.append(file.stream(zlib.compress(page_commands(page.items, page.height))))
    shown = " ".join(f"{number} 0 R" for number in contents)
    links = " ".join(
        f"<< /Type /Annot /Subtype /Link /Border [0 0 0] /Rect [{link.x:.2f} "
        f"{page.height - link.y - link.height:.2f} {link.x + link.width:.2f} "
        f"{page.height - link.y:.2f}] /Dest [{pages[link.page]} 0 R /Fit] >>"
        for link in page.links
    )
    return (
        f"<< /Type /Page /Parent {tree} 0 R /Resources {resources} 0 R "
        f"/MediaBox [0 0 {page.width:g} {page.height:g}] /Contents [{shown}]"
        + (f" /Annots [{links}] >>" if links else " >>")
    )


# ---- the outline
def _entries(leaves: Sequence[Leaf]) -> list[_Entry]:
    """The outline in two levels: songs, and the sections of each."""
    found: list[_Entry] = []
    for number, leaf in enumerate(leaves):
        if leaf.title:
            found.append(_Entry(leaf.title, number, leaf.over.height, []))
        marks = leaf.over.bookmarks + (leaf.drawn.bookmarks if leaf.drawn is not None else ())
        under = found[-1].below if found else found
        under += [_Entry(mark.name, number, leaf.over.height - mark.y, []) for mark in marks]
    return found


def _outline(entries: list[_Entry], pages: list[int], file: "_File") -> int:
    root = file.reserve()
    numbers = _put_entries(entries, root, pages, file)
    ends = f" /First {numbers[0]} 0 R /Last {numbers[-1]} 0 R" if numbers else ""
    file.put(root, f"<< /Type /Outlines /Count {len(numbers)}{ends} >>")
    return root


def _put_entries(entries: list[_Entry], parent: int, pages: list[int], file: "_File") -> list[int]:
    """Adds entries of one level and what is under them, folded away; their numbers."""
    numbers = [file.reserve() for _ in entries]
    for i, (entry, number) in enumerate(zip(entries, numbers, strict=True)):
        below = _put_entries(entry.below, number, pages, file)
        parts = [f"/Title {_text(entry.title)} /Parent {parent} 0 R"]
        parts.append(f"/Dest [{pages[entry.page]} 0 R /XYZ 0 {entry.top:.2f} 0]")
        parts += [f"/Prev {numbers[i - 1]} 0 R"] if i else []
        parts += [f"/Next {numbers[i + 1]} 0 R"] if i + 1 < len(numbers) else []
        if below:
            parts.append(f"/First {below[0]} 0 R /Last {below[-1]} 0 R /Count {-len(below)}")
        file.put(number, f"<< {' '.join(parts)} >>")
    return numbers


def _text(text: str) -> str:
    """A text as PDF holds it outside pages: UTF-16 in hexadecimal digits."""
    return "<FEFF" + text.encode("utf-16-be", "replace").hex().upper() + ">"


class _File:
    """Objects by number, and the file they make."""

    def __init__(self) -> None:
        self._objects: list[bytes] = []

    def reserve(self) -> int:
        """A number for an object that comes later."""
        self._objects.append(b"null")
        return len(self._objects)

    def put(self, number: int, content: str) -> None:
        """Fills a reserved number."""
        self._objects[number - 1] = content.encode("ascii")

    def add(self, content: bytes) -> int:
        """Adds an object and gives its number."""
        self._objects.append(content)
        return len(self._objects)

    def stream(self, deflated: bytes) -> int:
        """Adds deflated commands and gives their number."""
        head = f"<< /Filter /FlateDecode /Length {len(deflated)} >>\nstream\n".encode()
        return self.add(head + deflated + b"\nendstream")

    def finished(self, catalog: int, about: int) -> bytes:
        """The whole file: head, objects, the table of their places, trailer."""
        out = [b"%PDF-1.5\n%\xe2\xe3\xcf\xd3\n"]
        places, at = list[int](), len(out[0])
        for number, content in enumerate(self._objects, 1):
            whole = b"%d 0 obj\n%s\nendobj\n" % (number, content)
            places.append(at)
            at += len(whole)
            out.append(whole)
        count = len(self._objects) + 1
        out.append(b"xref\n0 %d\n0000000000 65535 f \n" % count)
        out += [b"%010d 00000 n \n" % place for place in places]
        name = md5(b"".join(out), usedforsecurity=False).hexdigest()
        out.append(
            f"trailer\n<< /Size {count} /Root {catalog} 0 R /Info {about} 0 R "
            f"/ID [<{name}> <{name}>] >>\nstartxref\n{at}\n%%EOF\n".encode()
        )
        return b"".join(out)
