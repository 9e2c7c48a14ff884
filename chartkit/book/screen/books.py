"""A night's books for a screen: one HTML file a player, that needs nothing else.

The file holds its pages, the letters it uses and a little script; its policy allows nothing from
outside and only the style and script inside the file (Content Security Policy Level 3, hashes).
"""

import json
import re
from base64 import b64encode
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from functools import partial
from hashlib import sha256
from html import escape
from pathlib import Path
from typing import BinaryIO

from chartkit.arrange.page_look import SCREENS
from chartkit.book.assemble import SongInBook, next_lines_of
from chartkit.book.books import UNUSABLE, to_dos_of, when_and_where
from chartkit.book.change_words import ToDo
from chartkit.book.make_song import PagesRequest
from chartkit.book.night import Night
from chartkit.book.night_plan import NightPlan
from chartkit.book.readings import PlayerRequests, player_requests
from chartkit.book.screen.pages import PagesOfScreen, ScreenPages, screen_pages
from chartkit.book.set_rules import file_stem
from chartkit.book.staging import Writer
from chartkit.book.workshop import Failed, Job, Workshop
from chartkit.layout.frames import FontName
from chartkit.layout.quotes import with_typographic_quotes
from chartkit.svg.embed import face_data
from chartkit.svg.style import page_style

SCREEN = Job(screen_pages, ScreenPages, "drawing for the screen", lambda request: request.text)
_HERE = Path(__file__).parent
_MARKUP = re.compile(r'(?:</?[^<>]*>)*<[^<>]* x="|" y="|" textLength="')
"""What stands in a page between two numbers of a text, or between one and the next."""
_OFTEN = 8
"""How often markup stands in a book that gets a character of its own."""
_ALWAYS = "".join(map(chr, range(32, 127))) + "–—…·’“”×♭♯"
"""Letters that every face has, for what the book itself says."""


@dataclass(frozen=True, slots=True)
class _Song:
    """A song as the file's script knows it; ``screens`` are its pages for each kind of screen: the
    first one's place in the book, from 0, their number, and the sections in them."""

    number: int
    title: str
    summary: str
    screens: dict[str, dict[str, object]]
    away: bool
    problem: str
    change: str
    aside: str
    next: str
    next_change: str


def screen_books(
    night: Night, plan: NightPlan | None, workshop: Workshop
) -> Iterator[tuple[str, Writer]]:
    """Every player's book by its file's name, and what writes it."""
    order = plan.order if plan is not None else tuple(range(len(night.facts)))
    everyone = player_requests(night, plan)
    wanted = [one for part in everyone for one in part.requests if one is not None]
    results = workshop.done(SCREEN, wanted)
    made: dict[PagesRequest, ScreenPages | Failed] = dict(zip(wanted, results, strict=True))
    for part in everyone:
        name = f"{file_stem(part.player.name)}.html"
        yield name, partial(_write_book, night, plan, order, part, made)


def _write_book(
    night: Night,
    plan: NightPlan | None,
    order: Sequence[int],
    part: PlayerRequests,
    made: dict[PagesRequest, ScreenPages | Failed],
    out: BinaryIO,
) -> None:
    out.write(_book(night, plan, order, part, made).encode("utf-8", "replace"))


def _book(
    night: Night,
    plan: NightPlan | None,
    order: Sequence[int],
    part: PlayerRequests,
    made: dict[PagesRequest, ScreenPages | Failed],
) -> str:
    drawn = [
        None if request is None or isinstance(one := made[request], Failed) else one
        for request in part.requests
    ]
    songs = _songs(night, order, part, drawn, to_dos_of(night, plan, part, len(order)))
    pages = [
        page for one in drawn if one is not None for screen in one.screens for page in screen.pages
    ]
    look = part.player.look
    data = {
        "name": with_typographic_quotes(night.set_list.name, ""),
        "when": when_and_where(night.set_list),
        "player": part.player.name,
        "dark": look.dark,
        "songs": [asdict(song) for song in songs],
    }
    language = next((one.language for one in drawn if one is not None), "en")
    title = f"{night.set_list.name}: {part.player.name}"
    return _page(title, language, data, pages, _letters(drawn))


def _songs(
    night: Night,
    order: Sequence[int],
    part: PlayerRequests,
    drawn: Sequence[ScreenPages | None],
    dues: Sequence[ToDo | None],
) -> list[_Song]:
    shown = [
        SongInBook(
            number=place + 1,
            title=night.facts[number].printed_title,
            away=part.away[place],
            change=" ".join(due.sentences) if (due := dues[place]) is not None else "",
            straight=night.set_list.songs[number].straight_into_next,
            interval=night.set_list.songs[number].interval_after,
        )
        for place, number in enumerate(order)
    ]
    songs, start = list[_Song](), 0
    for place, one in enumerate(drawn):
        number = order[place]
        note = night.facts[number].as_printed(night.set_list.songs[number].note)
        song = _song(shown, place, note, one, start)
        songs.append(song)
        start += sum(len(screen.pages) for screen in one.screens) if one is not None else 0
    return songs


def _song(
    shown: Sequence[SongInBook], place: int, note: str, pages: ScreenPages | None, start: int
) -> _Song:
    """A song at its place in the order, with pages that begin at ``start``."""
    song = shown[place]
    coming, change = next_lines_of(shown, place)
    return _Song(
        number=song.number,
        title=song.title,
        summary=pages.summary if pages is not None else "",
        screens=_screens(pages, start),
        away=song.away,
        problem="" if pages is not None or song.away else UNUSABLE,
        change=song.change,
        aside=note,
        next=coming,
        next_change=change,
    )


def _screens(pages: ScreenPages | None, start: int) -> dict[str, dict[str, object]]:
    """Where the pages for each kind of screen stand; a song without pages has none for any."""
    screens: dict[str, dict[str, object]] = {}
    for place, name in enumerate(SCREENS):
        one = pages.screens[place] if pages is not None else PagesOfScreen((), ())
        jumps = [asdict(jump) for jump in one.jumps]
        screens[name] = {"start": start, "count": len(one.pages), "jumps": jumps}
        start += len(one.pages)
    return screens


def _letters(drawn: Sequence[ScreenPages | None]) -> dict[str, str]:
    """The letters that the book takes from each face."""
    used: dict[str, set[str]] = {}
    for one in drawn:
        for font, letters in one.letters if one is not None else ():
            used.setdefault(font, set()).update(letters)
    return {font: "".join(sorted(letters)) for font, letters in used.items()}


def _page(
    title: str,
    language: str,
    contents: dict[str, object],
    pages: Sequence[str],
    used: dict[str, str],
) -> str:
    """The whole file."""

    def address(font: FontName) -> str:
        titles = str(contents) if font in ("title", "strong", "plain") else ""
        return face_data(font, used.get(font, "") + _ALWAYS + titles)

    style = page_style(address) + (_HERE / "book.css").read_text(encoding="utf-8")
    script = (_HERE / "book.js").read_text(encoding="utf-8")
    policy = (
        f"default-src 'none'; style-src 'sha256-{_digest(style)}'; "
        f"script-src 'sha256-{_digest(script)}'; font-src data:; img-src data:"
    )
    body = (_HERE / "book.html").read_text(encoding="utf-8")
    filled_in = {
        "LANGUAGE": escape(language),
        "POLICY": policy,
        "TITLE": escape(title),
        "STYLE": style,
        "PAGES": _as_json(packed(pages)),
        "DATA": _as_json(contents),
        "SCRIPT": script,
    }
    # One pass, so that text typed by a user is never taken for a placeholder.
    return re.sub(r"%([A-Z]+)%", lambda match: filled_in[match[1]], body)


def packed(pages: Sequence[str]) -> dict[str, object]:
    """The pages with the markup that many texts share as one private-use character each, and what
    each of these stands for: half of the size, since a phone's pages hold few words each."""
    shared = Counter(markup for page in pages for markup in _MARKUP.findall(page))
    taken = set().union(*pages)
    free = (letter for letter in map(chr, range(0xE000, 0xF900)) if letter not in taken)
    often = (markup for markup, count in shared.most_common() if count >= _OFTEN)
    letters = dict(zip(often, free, strict=False))
    return {
        "markup": {letter: markup for markup, letter in letters.items()},
        "pages": [_MARKUP.sub(lambda m: letters.get(m[0], m[0]), page) for page in pages],
    }


def _as_json(value: object) -> str:
    """JSON that ends no script."""
    return json.dumps(value, ensure_ascii=False).replace("<", "\\u003c")


def _digest(text: str) -> str:
    return b64encode(sha256(text.encode()).digest()).decode()
