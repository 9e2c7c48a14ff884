"""Drawn pages and fresh ones bound into one PDF, with outline, links, labels and structure.

Pages drawn before go in as they are, so a thousand songs are bound in the time that a few
take to draw.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from chartkit.layout.frames import FontName, Link, Page
from chartkit.pdf.commands import ReadLine, page_commands
from chartkit.pdf.draw import DrawnPage, used_characters
from chartkit.pdf.embed import embedded_fonts
from chartkit.pdf.fonts import Fonts
from chartkit.pdf.metadata import add_metadata
from chartkit.pdf.objects import PdfFile, deflated_object, stream_object, text_string
from chartkit.pdf.structure import add_structure


@dataclass(frozen=True, slots=True)
class Leaf:
    """A page of a book: one drawn before, if any, and what is drawn over it now.

    ``title`` begins an entry of the outline; the page's own bookmarks stand under it.  A
    ``dark`` leaf has light ink, and dark paper where nothing was drawn before.
    """

    over: Page
    drawn: DrawnPage | None = None
    title: str = ""
    dark: bool = False


@dataclass(slots=True)
class _Entry:
    """An entry of the outline: its title, the page and height it leads to, what is under it."""

    title: str
    page: int
    top: float
    below: list["_Entry"]


def bound(
    title: str,
    author: str,
    subject: str,
    language: str,
    leaves: Sequence[Leaf],
    fonts: Fonts | None = None,
    source: str = "",
    source_name: str = "song.chart",
) -> bytes:
    """The leaves as one PDF file; pages are numbered through from 1.

    ``source`` is the text of a chart that travels inside as the file ``source_name``.  A file
    with titled leaves opens with its outline beside it.  The same
    leaves always give the same bytes.
    """
    fonts, file = fonts or Fonts(), PdfFile()
    catalog, tree, resources = file.reserve(), file.reserve(), file.reserve()
    pages = [file.reserve() for _ in leaves]
    read = []
    for i, (leaf, number) in enumerate(zip(leaves, pages, strict=True)):
        content, lines = _page(leaf, i, _Shared(tree, resources, pages, fonts), file)
        file.put(number, content)
        read.append(lines)
    kids = " ".join(f"{number} 0 R" for number in pages)
    file.put(tree, f"<< /Type /Pages /Count {len(pages)} /Kids [{kids}] >>")
    embedded = embedded_fonts(_used(leaves), fonts, file.add)
    named = " ".join(f"/{key} {number} 0 R" for key, number in embedded.items())
    file.put(resources, f"<< /Font << {named} >> >>")
    parts = [
        f"/Type /Catalog /Pages {tree} 0 R",
        f"/Outlines {_outline(_entries(leaves), pages, file)} 0 R",
        f"/PageLabels << /Nums [0 << /S /D >>] >> /Lang {text_string(language)}",
        "/ViewerPreferences << /DisplayDocTitle true >> /MarkInfo << /Marked true >>",
        f"/StructTreeRoot {add_structure(pages, read, text_string(language), file)} 0 R",
    ]
    linked = any(leaf.over.links for leaf in leaves)
    about = add_metadata(title, author, subject, language, not linked, file)
    parts.append(f"/Metadata {about} 0 R")
    if any(leaf.title for leaf in leaves):
        parts.append("/PageMode /UseOutlines")
    if source:
        parts.append(f"/Names << /EmbeddedFiles {_attached(source_name, source, file)} 0 R >>")
    file.put(catalog, f"<< {' '.join(parts)} >>")
    described = file.add(
        f"<< /Title {text_string(title)} /Author {text_string(author)} "
        f"/Subject {text_string(subject)} /Creator (chartkit) >>".encode()
    )
    return file.finished(catalog, described)


def _used(leaves: Sequence[Leaf]) -> Iterator[tuple[FontName, str]]:
    for leaf in leaves:
        yield from used_characters(leaf.over)
        if leaf.drawn is not None:
            yield from leaf.drawn.characters


def _attached(name: str, text: str, file: PdfFile) -> int:
    """A text file inside the PDF, for viewers to save (ISO 32000-1, 7.11.4)."""
    content = text.encode()
    more = f"/Type /EmbeddedFile /Subtype /text#2Fplain /Params << /Size {len(content)} >> "
    stream = file.add(stream_object(content, more))
    title = text_string(name)
    entry = (
        f"<< /Type /Filespec /F {title} /UF {title} /EF << /F {stream} 0 R >> "
        f"/AFRelationship /Source /Desc {text_string('The chart these pages are made of')} >>"
    )
    return file.add(f"<< /Names [{title} {file.add(entry.encode())} 0 R] >>".encode())


@dataclass(frozen=True, slots=True)
class _Shared:
    """What every page of a file needs of it: the numbers of shared objects, the fonts."""

    tree: int
    resources: int
    pages: list[int]
    fonts: Fonts


def _page(leaf: Leaf, at: int, shared: _Shared, file: PdfFile) -> tuple[str, tuple[ReadLine, ...]]:
    """A page as an object, and its lines of text.

    What is drawn over a page made before are running lines, which are not read.
    """
    page, contents = leaf.over, list[int]()
    lines: tuple[ReadLine, ...] = ()
    first: int | None = 0
    if leaf.drawn is not None:
        contents.append(file.add(deflated_object(leaf.drawn.commands)))
        lines, first = leaf.drawn.lines, None
    if page.items:
        drawing = page_commands(
            page.items, page.width, page.height, shared.fonts, leaf.dark, first=first
        )
        contents.append(file.add(stream_object(drawing.commands)))
        lines += drawing.lines
    shown = " ".join(f"{number} 0 R" for number in contents)
    parts = [
        f"/Type /Page /Parent {shared.tree} 0 R /Resources {shared.resources} 0 R",
        f"/MediaBox [0 0 {page.width:g} {page.height:g}] /Contents [{shown}]",
        f"/StructParents {at} /Tabs /S",
    ]
    if page.links:
        links = " ".join(_link(link, page.height, shared.pages) for link in page.links)
        parts.append(f"/Annots [{links}]")
    return f"<< {' '.join(parts)} >>", lines


def _link(link: Link, height: float, pages: list[int]) -> str:
    return (
        f"<< /Type /Annot /Subtype /Link /Border [0 0 0] /Rect [{link.x:.2f} "
        f"{height - link.y - link.height:.2f} {link.x + link.width:.2f} "
        f"{height - link.y:.2f}] /Dest [{pages[link.page]} 0 R /Fit] >>"
    )


# ---- the outline
def _entries(leaves: Sequence[Leaf]) -> list[_Entry]:
    """The outline in two levels: songs, and the sections of each; of one song the sections."""
    entries: list[_Entry] = []
    under = entries
    for number, leaf in enumerate(leaves):
        if leaf.title:
            under = []
            entries.append(_Entry(leaf.title, number, leaf.over.height, under))
        marks = leaf.over.bookmarks + (leaf.drawn.bookmarks if leaf.drawn is not None else ())
        under += [_Entry(mark.name, number, leaf.over.height - mark.y, []) for mark in marks]
    return entries


def _outline(entries: list[_Entry], pages: list[int], file: PdfFile) -> int:
    root = file.reserve()
    numbers = _put_entries(entries, root, pages, file)
    ends = f" /First {numbers[0]} 0 R /Last {numbers[-1]} 0 R" if numbers else ""
    file.put(root, f"<< /Type /Outlines /Count {len(numbers)}{ends} >>")
    return root


def _put_entries(entries: list[_Entry], parent: int, pages: list[int], file: PdfFile) -> list[int]:
    """Adds entries of one level and what is under them, folded away; their numbers."""
    numbers = [file.reserve() for _ in entries]
    for i, (entry, number) in enumerate(zip(entries, numbers, strict=True)):
        below = _put_entries(entry.below, number, pages, file)
        parts = [f"/Title {text_string(entry.title)} /Parent {parent} 0 R"]
        parts.append(f"/Dest [{pages[entry.page]} 0 R /XYZ 0 {entry.top:.2f} 0]")
        parts += [f"/Prev {numbers[i - 1]} 0 R"] if i else []
        parts += [f"/Next {numbers[i + 1]} 0 R"] if i + 1 < len(numbers) else []
        if below:
            parts.append(f"/First {below[0]} 0 R /Last {below[-1]} 0 R /Count {-len(below)}")
        file.put(number, f"<< {' '.join(parts)} >>")
    return numbers
