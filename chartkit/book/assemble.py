"""Puts a player's book together: running order, songs, and blank pages where they save a page turn.

Pages lie as in a bound book: page 1 on the right, even pages on the left.  A song with an even
number of pages begins on a left page, so that it has one page turn fewer; if necessary a blank page
is left before it. A screen shows one page at a time and needs none.  (Common practice of songbooks,
no source.)
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain, takewhile
from typing import BinaryIO

from chartkit.arrange.page_look import SCREENS, PageLook, PaperName
from chartkit.book.page_store import StoredPages
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Page
from chartkit.layout.metrics import Typesetter
from chartkit.layout.quotes import with_typographic_quotes
from chartkit.layout.style import Style, paper_of
from chartkit.pdf.bind import FileDescription, Leaf, bind
from chartkit.pdf.draw import DrawnPage
from chartkit.pdf.fonts import Fonts
from chartkit.sheets.notice import blank_page, broken_page
from chartkit.sheets.running_lines import RunningLines, running_items
from chartkit.sheets.running_order import (
    Cover,
    OrderRow,
    front_count,
    order_pages,
    order_style,
)


@dataclass(frozen=True, slots=True)
class SongInBook:
    """A song as it stands in a player's book.

    ``pages`` is None where there are none: the player is ``away``, or the chart is broken,
    ``messages`` saying how.  ``change`` is what to change before it.  ``aside`` is
    what stands beside it in the running order, and ``straight`` says that the next song follows
    without a pause, ``interval`` that the interval does.
    """

    number: int
    title: str
    pages: StoredPages | None = None
    away: bool = False
    messages: tuple[str, ...] = ()
    summary: str = ""
    aside: str = ""
    change: str = ""
    straight: bool = False
    interval: bool = False


class BookMaker:
    """Puts together the books of one set."""

    def __init__(self, name: str, when_and_where: str, leave_out_broken: bool = False) -> None:
        """``leave_out_broken`` leaves broken songs out instead of marking their place."""
        self._name = name
        self._shown = with_typographic_quotes(name, "")
        self._when_and_where = when_and_where
        self._leave_out = leave_out_broken
        self._fitter = Fitter(Typesetter(Fonts()))

    def write_book(
        self,
        out: BinaryIO,
        player: str,
        look: PageLook,
        songs: Sequence[SongInBook],
        set_up: str = "",
    ) -> None:
        """Writes the whole book as a PDF, a song at a time; ``set_up`` is what the player does
        before the first song."""
        sheet = paper_of(look, _mostly_landscape(songs))
        front_style = order_style(len(songs), sheet)
        front = front_count(len(songs), front_style)
        begins, count = self._places(songs, front, look.paper)
        rows = _order_rows(songs, begins)
        cover = Cover(self._shown, self._when_and_where, player, set_up)
        fronts = (
            Leaf(page, None, "" if i else "Running order", look.dark)
            for i, page in enumerate(order_pages(cover, rows, self._fitter, front_style))
        )
        leaves = self._leaves(
            player,
            look,
            Style(sheet, sheet.scale),
            songs=songs,
            begins=begins,
            at=front,
            count=count,
        )
        about = FileDescription(
            f"{self._name}: {player}", player, self._when_and_where, _language(songs)
        )
        bind(out, about, chain(fronts, leaves), count, fonts=Fonts(look.font))

    def write_single(self, out: BinaryIO, player: str, look: PageLook, song: SongInBook) -> None:
        """Writes one song as a PDF of its own."""
        count = _page_count(song)
        sheet = paper_of(look, _mostly_landscape([song]))
        leaves = self._song_leaves(player, look, Style(sheet, sheet.scale), song, count=count)
        about = FileDescription(song.title, player, song.summary, _language([song]))
        bind(out, about, leaves, count, fonts=Fonts(look.font))

    def _leaves(
        self,
        player: str,
        look: PageLook,
        style: Style,
        *,
        songs: Sequence[SongInBook],
        begins: Mapping[int, int],
        at: int,
        count: int,
    ) -> Iterator[Leaf]:
        """The pages of all songs, from page ``at`` on, with blank ones before songs that begin
        later.

        ``begins`` has the page that each song in the book begins on, from 0.
        """
        for place, song in enumerate(songs):
            if place not in begins:
                continue
            if begins[place] > at:
                note = f"left blank, so that {song.title} opens on two facing pages"
                yield Leaf(blank_page(note, self._fitter, style), dark=look.dark)
            at = begins[place]
            yield from self._song_leaves(
                player,
                look,
                style,
                song,
                at=at,
                count=count,
                next_lines=next_lines_of(songs, place),
            )
            at += _page_count(song)

    def _places(
        self, songs: Sequence[SongInBook], front: int, paper: PaperName
    ) -> tuple[dict[int, int], int]:
        """The page, from 0, that each song begins on, and how many pages there are."""
        begins, at = dict[int, int](), front
        for place, song in enumerate(songs):
            if song.away or (song.pages is None and self._leave_out):
                continue
            count = _page_count(song)
            if paper not in SCREENS and count % 2 == 0 and at % 2 == 0:
                at += 1
            begins[place] = at
            at += count
        return begins, at

    def _song_leaves(
        self,
        player: str,
        look: PageLook,
        style: Style,
        song: SongInBook,
        *,
        at: int = 0,
        count: int,
        next_lines: tuple[str, str] = ("", ""),
    ) -> Iterator[Leaf]:
        """The pages of a song that begins on a page, from 0, of so many.

        ``style`` is for a page that is made here; the song's own pages lie as they were drawn.
        """
        lines = RunningLines(
            f"{self._shown} · {player}",
            f"song {song.number}",
            f"{song.title} — {song.summary}" if song.pages is not None else song.title,
        )
        drawn: tuple[DrawnPage | None, ...] = (None,) if song.pages is None else song.pages.pages()
        for i, one in enumerate(drawn):
            coming, change = next_lines if i == len(drawn) - 1 else ("", "")
            lines = replace(
                lines,
                head_right=f"{song.title} · song {song.number}"
                if i and coming
                else lines.head_right,
                foot_right=f"page {at + i + 1} of {count}",
                coming=coming,
                change=change,
            )
            over = self._over(song, one, lines, look, style)
            title = "" if i else f"{song.number}. {song.title}"
            yield Leaf(over, one, title, look.dark)

    def _over(
        self,
        song: SongInBook,
        drawn: DrawnPage | None,
        lines: RunningLines,
        look: PageLook,
        style: Style,
    ) -> Page:
        """The running lines over a page of a song; the whole page where the song is broken."""
        if drawn is None:
            made = broken_page(song.title, song.messages, self._fitter, style)
            return replace(made, items=(*made.items, *running_items(lines, self._fitter, style)))
        sheet = paper_of(look, drawn.is_landscape)
        own = running_items(lines, self._fitter, Style(sheet, sheet.scale))
        return Page(drawn.width, drawn.height, own)


def _order_rows(songs: Sequence[SongInBook], begins: Mapping[int, int]) -> tuple[OrderRow, ...]:
    """The songs in the running order; ``begins`` has the pages of those in the book, from 0."""
    return tuple(
        OrderRow(
            number=song.number,
            title=song.title,
            summary=song.summary,
            aside=song.aside,
            page=begins.get(at),
            interval=song.interval,
        )
        for at, song in enumerate(songs)
    )


def _mostly_landscape(songs: Sequence[SongInBook]) -> bool:
    """Whether most of the songs' pages are landscape, so that the book's own pages are too."""
    landscape = [page for song in songs if song.pages is not None for page in song.pages.landscape]
    return 2 * sum(landscape) > len(landscape)


def _page_count(song: SongInBook) -> int:
    """How many pages a song takes in the book; a broken one takes one that says so."""
    return 1 if song.pages is None else len(song.pages.landscape)


def next_lines_of(songs: Sequence[SongInBook], at: int) -> tuple[str, str]:
    """The next song that the player plays, and what to change for it.

    Songs between that the player sits out are named after it, because they have no pages that could
    show the change; they give way first where there is no room.
    """
    coming = (songs[later] for later in range(at + 1, len(songs)))
    away = list(takewhile(lambda song: song.away, coming))
    after = at + 1 + len(away)
    if at + 1 == len(songs):
        return "", ""
    if not away:
        lead = "straight into" if songs[at].straight else _lead(songs[at:after])
        return f"{lead} {_named(songs[after])}", songs[after].change
    between, it = _named(away[0]), "it"
    if len(away) > 1:
        joint = "and" if len(away) == 2 else "to"
        between, it = f"songs {away[0].number} {joint} {away[-1].number}", "them"
    if after == len(songs):
        return f"{_lead(songs[at : at + 1])} {between}, you sit {it} out", ""
    sentence = f"{_lead(songs[at:after])} {_named(songs[after])}"
    if away[-1].straight:
        return f"{sentence}, straight after {between} (you sit {it} out)", songs[after].change
    return f"{sentence} ({between}: you sit {it} out)", songs[after].change


def _lead(played: Sequence[SongInBook]) -> str:
    """The word before the next song; the interval may follow this song or one sat out after it."""
    if played[0].interval:
        return "INTERVAL, then"
    return "next, after the INTERVAL:" if any(song.interval for song in played) else "next:"


def _named(song: SongInBook) -> str:
    return f"{song.number}. {song.title}"


def _language(songs: Sequence[SongInBook]) -> str:
    return next((song.pages.language for song in songs if song.pages is not None), "en")
