"""The front of a player's book: whose it is, and the songs in order with links to them."""

from collections.abc import Iterator
from dataclasses import dataclass

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Link, Page, Stroke
from chartkit.layout.place import SECOND_INK
from chartkit.layout.style import Paper, Style

_ROW, _HEAD = 30.0, 130.0
"""The height of a song's row and of the title above the first, in points at scale 1."""
_LARGEST, _STEP = 1.5, 0.05
"""How much larger than the paper's own the type of a short running order may be, and the steps in
which it grows (ours): it is read from a stand."""
_INTERVAL, _INTO_NEXT = 2.0, 0.8
"""The line of the interval: how heavy, and how far into the next row, in points (ours)."""


@dataclass(frozen=True, slots=True)
class OrderRow:
    """A song in the running order.

    ``summary`` is what this player needs to know of it, ``aside`` what is special tonight.
    ``page`` is the page it begins on, from 0; None where it is not in the book.  ``interval`` says
    that the interval follows, which has a heavy line.
    """

    number: int
    title: str
    summary: str = ""
    aside: str = ""
    page: int | None = None
    interval: bool = False


@dataclass(frozen=True, slots=True)
class Cover:
    """The facts above the songs on the front: the set, date and place, whose book it is, and what
    its player sets up before the first song, empty where that is nothing."""

    name: str
    when_and_where: str
    player: str
    set_up: str = ""


def rows_a_page(style: Style) -> tuple[int, int]:
    """How many songs the first page holds below its title, and every later one."""
    room = style.paper.height - style.paper.top - style.paper.bottom - style.pt(24)
    row = style.pt(_ROW)
    return int((room - style.pt(_HEAD)) // row), int(room // row)


def order_style(songs: int, paper: Paper) -> Style:
    """The largest type at which the running order of so many songs takes no page more."""
    pages = front_count(songs, Style(paper, paper.scale))
    steps = round((_LARGEST - 1) / _STEP)
    sizes = (1 + _STEP * step for step in range(steps, 0, -1))
    styles = (Style(paper, paper.scale * size) for size in sizes)
    fitting = (style for style in styles if front_count(songs, style) <= pages)
    return next(fitting, Style(paper, paper.scale))


def front_count(songs: int, style: Style) -> int:
    """How many pages the running order takes."""
    first, later = rows_a_page(style)
    return 1 + max(0, -(-(songs - first) // later))


def order_pages(
    cover: Cover, rows: tuple[OrderRow, ...], fitter: Fitter, style: Style
) -> Iterator[Page]:
    """The pages of the running order, one after the other; each row leads to its song."""
    first, later = rows_a_page(style)
    yield _page(rows[:first], _head(cover, fitter, style), style.pt(_HEAD), fitter, style)
    for start in range(first, len(rows), later):
        yield _page(rows[start : start + later], [], 0.0, fitter, style)


def _head(cover: Cover, fitter: Fitter, style: Style) -> list[Item]:
    side, y = style.paper.side, style.paper.top
    size = fitter.fitting_size(cover.name, "title", style.title * 1.25, style.line_width)
    size = max(size, style.title * 0.6)
    name = fitter.shortened(cover.name, "title", size, style.line_width)
    items: list[Item] = [fitter.text(name, side, y + style.pt(30), "title", size, role="title")]
    when = fitter.shortened(cover.when_and_where, "italic", style.band, style.line_width)
    if when:
        items.append(fitter.text(when, side, y + style.pt(50), "italic", style.band, role="place"))
    player = fitter.shortened(cover.player, "strong", style.strong, style.line_width)
    items.append(fitter.text(player, side, y + style.pt(78), "strong", style.strong, role="player"))
    items += _set_up(cover.set_up, y + style.pt(96), fitter, style)
    rule = y + style.pt(114 if cover.set_up else 90)
    items.append(Stroke(side, rule, side + style.line_width, rule, style.pt(0.9)))
    return items


def _set_up(text: str, y: float, fitter: Fitter, style: Style) -> list[Item]:
    """What to set up before the first song, on one line or on two that are smaller."""
    if not text:
        return []
    size = style.band
    if fitter.width(text, "strong", size) > style.line_width:
        size = style.small
    *lines, last = fitter.wrapped(text, "strong", size, style.line_width)
    if len(lines) > 1:
        lines, last = (
            lines[:1],
            fitter.shortened(" ".join((*lines[1:], last)), "strong", size, style.line_width),
        )
    return [
        fitter.text(line, style.paper.side, y + i * size * 1.25, "strong", size, role="set-up")
        for i, line in enumerate((*lines, last))
    ]


def _page(
    rows: tuple[OrderRow, ...], head: list[Item], down: float, fitter: Fitter, style: Style
) -> Page:
    items, links = list(head), list[Link]()
    y = style.paper.top + down
    for row in rows:
        items += _row(row, y, fitter, style)
        if row.page is not None:
            links.append(Link(style.paper.side, y, style.line_width, style.pt(_ROW - 2), row.page))
        y += style.pt(_ROW)
        if row.interval:
            rule, right = y + style.pt(_INTO_NEXT), style.paper.side + style.line_width
            items.append(Stroke(style.paper.side, rule, right, rule, style.pt(_INTERVAL)))
    return Page(style.paper.width, style.paper.height, tuple(items), (), tuple(links))


def _row(row: OrderRow, y: float, fitter: Fitter, style: Style) -> list[Item]:
    """Number, title and page on one line, the rest below it in small type."""
    side, width = style.paper.side, style.line_width
    indent, size = style.pt(26), style.strong * 0.93
    ink = SECOND_INK if row.page is None else 1.0
    page = "" if row.page is None else str(row.page + 1)
    page_width = fitter.width(page, "plain", size)
    room = width - indent - page_width - style.pt(14)
    title = fitter.shortened(row.title, "strong", size, room)
    number_x = side + indent - style.pt(8) - fitter.width(str(row.number), "plain", size)
    base = y + size
    items: list[Item] = [
        fitter.text(str(row.number), number_x, base, "plain", size, role="number", ink=ink),
        fitter.text(title, side + indent, base, "strong", size, role="song", ink=ink),
    ]
    if page:
        items.append(fitter.text(page, side + width - page_width, base, "plain", size, role="page"))
    details = " · ".join(filter(None, (row.summary, row.aside)))
    small = max(fitter.fitting_size(details, "plain", style.small, width - indent), style.foot)
    shown = fitter.shortened(details, "plain", small, width - indent)
    if shown:
        below = base + style.small * 1.3
        items.append(
            fitter.text(shown, side + indent, below, "plain", small, role="details", ink=SECOND_INK)
        )
    return items
