"""One song as one player reads it on a screen: its pages as SVG.

One call is one piece of work for a worker, as for printed pages.
"""

from dataclasses import dataclass, replace

from chartkit.arrange.page_look import PHONES, SCREENS, PageLook, PaperName
from chartkit.book.make_song import PagesRequest, tonights_chart, tonights_look
from chartkit.compile import pages_for_book
from chartkit.layout.frames import Document
from chartkit.pdf.fonts import Fonts
from chartkit.svg.embed import used_letters
from chartkit.svg.write import page_svg


@dataclass(frozen=True, slots=True)
class Jump:
    """A section that can be jumped to: its name and its page in the song, from 0."""

    name: str
    page: int


@dataclass(frozen=True, slots=True)
class PagesOfScreen:
    """A song's pages for one kind of screen: SVG elements, and the sections in them."""

    pages: tuple[str, ...]
    jumps: tuple[Jump, ...]


@dataclass(frozen=True, slots=True)
class ScreenPages:
    """A song's pages for one player, those of each of ``SCREENS``, and the letters of each face.

    ``summary`` is its capo and keys in one phrase.
    """

    title: str
    language: str
    summary: str
    screens: tuple[PagesOfScreen, ...]
    letters: tuple[tuple[str, str], ...]
    missing: str = ""


def screen_look(look: PageLook, screen: PaperName) -> PageLook:
    """A player's look on a screen: the screen's own page, whatever paper is printed on.  A phone
    has its own size of type, which is large already."""
    if screen in PHONES:
        return replace(look, paper=screen, dark=False, large=False, size=None)
    return replace(look, paper=screen, dark=False)


def screen_pages(request: PagesRequest) -> ScreenPages:
    """The song's pages.  The chart must be free of mistakes."""
    chart, view = tonights_chart(request)
    look = tonights_look(request, chart)
    drawn: list[tuple[Document, Fonts]] = []
    for screen in SCREENS:
        shown = screen_look(look, screen)
        _, document, fonts = pages_for_book(
            chart, view, request.notes, shown, "none", request.says_no_capo
        )
        drawn.append((document, fonts))
    document = drawn[0][0]
    used = used_letters([page for one, _ in drawn for page in one.pages])
    return ScreenPages(
        title=document.title,
        language=document.language,
        summary=document.subject,
        screens=tuple(PagesOfScreen(_elements(*one), _jumps(one[0])) for one in drawn),
        letters=tuple((font, letters) for font, letters in used.items() if letters),
        missing="".join(sorted(document.missing)),
    )


def _elements(document: Document, fonts: Fonts) -> tuple[str, ...]:
    count = len(document.pages)
    return tuple(
        page_svg(page, fonts, f"{document.title}, page {i} of {count}", places=False)
        for i, page in enumerate(document.pages, 1)
    )


def _jumps(document: Document) -> tuple[Jump, ...]:
    return tuple(
        Jump(mark.name, number)
        for number, page in enumerate(document.pages)
        for mark in page.bookmarks
    )
