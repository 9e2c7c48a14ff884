"""Drawn pages and fresh ones bound into one PDF, with outline, links, labels and structure.

Pages drawn before go in as they are, so a thousand songs are bound in the time that a few
take to draw.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import BinaryIO

from chartkit.layout.frames import FontName, Link, Page
from chartkit.pdf.commands import ReadLine, page_commands
from chartkit.pdf.draw import DrawnPage, used_characters
from chartkit.pdf.embed import embedded_fonts
from chartkit.pdf.fonts import Fonts
from chartkit.pdf.metadata import add_metadata
from chartkit.pdf.objects import PdfFile, deflated_object, stream_object, text_string
from chartkit.pdf.outline import Outline
from chartkit.pdf.structure import Structure


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


@dataclass(frozen=True, slots=True)
class FileDescription:
    """The description of a file: title, author, subject, language."""

    title: str
    author: str
    subject: str
    language: str


def bound_file(
    about: FileDescription,
    leaves: Sequence[Leaf],
    fonts: Fonts | None = None,
    source: str = "",
    source_name: str = "song.chart",
) -> bytes:
    """The leaves as one PDF file.

    ``source`` is the text of a chart that travels inside as the file ``source_name``.
    """
    out = BytesIO()
    bind(out, about, leaves, len(leaves), fonts=fonts, source=source, source_name=source_name)
    return out.getvalue()


def bind(
    out: BinaryIO,
    about: FileDescription,
    leaves: Iterable[Leaf],
    count: int,
    *,
    fonts: Fonts | None = None,
    source: str = "",
    source_name: str = "song.chart",
) -> None:
    """Writes ``count`` leaves as one PDF file; pages are numbered through from 1.

    Each leaf is written and freed before the next is requested, so that a file may have any number
    of pages.  A file with titled leaves opens with its outline beside it.  The same leaves always
    give the same bytes.
    """
    fonts, file = fonts or Fonts(), PdfFile(out)
    catalog, tree, resources = file.reserve(), file.reserve(), file.reserve()
    first = file.reserve(count)
    shared = _Shared(tree, resources, range(first, first + count), fonts)
    body = _body(leaves, about, shared, file)
    file.put(tree, f"<< /Type /Pages /Count {count} /Kids [{_references(shared.pages)}] >>")
    embedded = embedded_fonts(body.characters, fonts, file.add)
    named = " ".join(f"/{key} {number} 0 R" for key, number in embedded.items())
    file.put(resources, f"<< /Font << {named} >> >>")
    parts = _catalog(tree, about, body, file)
    if source:
        parts.append(f"/Names << /EmbeddedFiles {_attached(source_name, source, file)} 0 R >>")
    file.put(catalog, f"<< {' '.join(parts)} >>")
    file.finish(catalog, _description(about, file))


@dataclass(slots=True)
class _Body:
    """The pages of a file as far as they are written, with what the catalog says of them."""

    outline: Outline
    structure: Structure
    characters: dict[FontName, set[str]]
    linked: bool = False
    titled: bool = False


def _body(
    leaves: Iterable[Leaf], about: FileDescription, shared: "_Shared", file: PdfFile
) -> _Body:
    """Writes every page."""
    body = _Body(Outline(file), Structure(about.language, file), defaultdict(set))
    for i, (leaf, number) in enumerate(zip(leaves, shared.pages, strict=True)):
        content, lines = _page(leaf, i, shared, file)
        file.put(number, content)
        if leaf.title:
            body.structure.begin_part(leaf.title)
        body.structure.add_page(number, lines)
        marks = leaf.over.bookmarks + (leaf.drawn.bookmarks if leaf.drawn is not None else ())
        body.outline.add_page(number, leaf.over.height, leaf.title, marks)
        for font, characters in _used(leaf):
            body.characters[font].update(characters)
        body.linked |= bool(leaf.over.links)
        body.titled |= bool(leaf.title)
    return body


def _catalog(tree: int, about: FileDescription, body: _Body, file: PdfFile) -> list[str]:
    """The entries of the catalog (ISO 32000-1, 7.7.2)."""
    outline, structure = body.outline.finish(), body.structure.finish()
    metadata = add_metadata(
        about.title, about.author, about.subject, about.language, not body.linked, file
    )
    return [
        f"/Type /Catalog /Pages {tree} 0 R",
        f"/Outlines {outline} 0 R",
        f"/PageLabels << /Nums [0 << /S /D >>] >> /Lang {text_string(about.language)}",
        "/ViewerPreferences << /DisplayDocTitle true >> /MarkInfo << /Marked true >>",
        f"/StructTreeRoot {structure} 0 R",
        f"/Metadata {metadata} 0 R",
        *(["/PageMode /UseOutlines"] if body.titled else []),
    ]


def _description(about: FileDescription, file: PdfFile) -> int:
    """The document information dictionary (ISO 32000-1, 14.3.3)."""
    return file.add(
        f"<< /Title {text_string(about.title)} /Author {text_string(about.author)} "
        f"/Subject {text_string(about.subject)} /Creator (chartkit) >>".encode()
    )


def _references(numbers: Iterable[int]) -> str:
    return " ".join(f"{number} 0 R" for number in numbers)


def _used(leaf: Leaf) -> Iterator[tuple[FontName, str]]:
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
    pages: range
    fonts: Fonts


def _page(
    leaf: Leaf, number: int, shared: _Shared, file: PdfFile
) -> tuple[str, tuple[ReadLine, ...]]:
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
        f"/StructParents {number} /Tabs /S",
    ]
    if page.links:
        links = " ".join(_link(link, page.height, shared.pages) for link in page.links)
        parts.append(f"/Annots [{links}]")
    return f"<< {' '.join(parts)} >>", lines


def _link(link: Link, height: float, pages: range) -> str:
    return (
        f"<< /Type /Annot /Subtype /Link /Border [0 0 0] /Rect [{link.x:.2f} "
        f"{height - link.y - link.height:.2f} {link.x + link.width:.2f} "
        f"{height - link.y:.2f}] /Dest [{pages[link.page]} 0 R /Fit] >>"
    )
