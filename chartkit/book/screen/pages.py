"""One song as one player reads it on a screen: its pages as SVG.

One call is one piece of work for a worker, as for printed pages.
"""

from dataclasses import dataclass, replace

from chartkit.arrange.page_look import PageLook
from chartkit.book.make_song import PagesRequest, tonights_chart, tonights_look
from chartkit.compile import pages_for_book
from chartkit.layout.frames import Document
from chartkit.svg.embed import used_letters
from chartkit.svg.write import page_svg


@dataclass(frozen=True, slots=True)
class Jump:
    """A section that can be jumped to: its name and its page in the song, from 0."""

    name: str
    page: int


@dataclass(frozen=True, slots=True)
class ScreenPages:
    """A song's pages for one player: SVG elements, sections, and the letters of each face.

    ``summary`` is its capo and keys in one phrase.
    """

    title: str
    language: str
    summary: str
    pages: tuple[str, ...]
    jumps: tuple[Jump, ...]
    letters: tuple[tuple[str, str], ...]
    missing: str = ""


def screen_look(look: PageLook) -> PageLook:
    """A player's look on a screen: the screen's own page, whatever paper is printed on."""
    return replace(look, paper="tablet", dark=False)


def screen_pages(request: PagesRequest) -> ScreenPages:
    """The song's pages.  The chart must be free of mistakes."""
    chart, view = tonights_chart(request)
    look = screen_look(tonights_look(request, chart))
    _, document, fonts = pages_for_book(chart, view, request.notes, look, foot="none")
    count = len(document.pages)
    return ScreenPages(
        title=document.title,
        language=document.language,
        summary=document.subject,
        pages=tuple(
            page_svg(page, fonts, f"{document.title}, page {i} of {count}", places=False)
            for i, page in enumerate(document.pages, 1)
        ),
        jumps=_jumps(document),
        letters=tuple(
            (font, letters) for font, letters in used_letters(document.pages).items() if letters
        ),
        missing="".join(sorted(document.missing)),
    )


def _jumps(document: Document) -> tuple[Jump, ...]:
    return tuple(
        Jump(mark.name, number)
        for number, page in enumerate(document.pages)
        for mark in page.bookmarks
    )
