"""Books for a screen: one file a player, that opens and turns from its own storage."""

import json
import re
from base64 import b64encode
from collections.abc import Iterator
from hashlib import sha256
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from chartkit.book.cache import work_cache
from chartkit.book.screen.books import screen_books
from chartkit.book.workshop import Workshop
from chartkit.desk.folder import Folder
from chartkit.desk.night import open_night
from chartkit.desk.requests import SetRequest
from chartkit.files import is_made_by_chartkit
from chartkit.layout.quotes import with_typographic_quotes
from tests.desk.conftest import ROOT

PLAYERS = """\
[[players]]
name = "Ada"
reads = "both"
instrument = "guitar"
sits_out = [3]

[[players]]
name = "Bo </script><script>alert(1)</script>"
reads = "words"
"""
HOSTILE = '</template></script><script>document.title="owned"</script>%SCRIPT% %PAGES%'
MOST_BYTES = 3_000_000
UPRIGHT = {"width": 768, "height": 1024}


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A small night's books, written to files."""
    folder = tmp_path_factory.mktemp("night")
    charts = ["lantern-road", "paper-harbour", "breakwater", "hostile", "winter-mooring"]
    for chart in charts:
        if chart != "hostile":
            text = (ROOT / "examples" / f"{chart}.chart").read_text()
            (folder / f"{chart}.chart").write_text(text)
    (folder / "hostile.chart").write_text(
        f"title: {HOSTILE}\nkey: C\n\n== <b>A</b>\n| C | F |\n: | <script>x()<template> | &lt; |\n"
    )
    text = f'name = "Small <Night>"\n\n{PLAYERS}\n'
    text += "".join(f'[[songs]]\nchart = "{chart}.chart"\n\n' for chart in charts)
    opened = open_night(Folder(folder), SetRequest(name="x.toml", text=text), lambda *_: None)
    assert opened.night is not None and not opened.night.messages
    written = {}
    for name, write in screen_books(opened.night, opened.plan, Workshop(work_cache(None))):
        with (folder / name).open("wb") as out:
            write(out)
        written[name] = folder / name
    return written


@pytest.fixture(scope="module")
def tablet(browser: Any) -> Iterator[Any]:
    """A tablet without a network, and what must not happen on it."""
    context = browser.new_context(viewport=UPRIGHT, offline=True, has_touch=True)
    context.set_default_timeout(20000)
    errors: list[str] = []
    page = context.new_page()
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("console", lambda message: errors.append(message.text))
    page.on(
        "request",
        lambda r: None if r.url.startswith(("file:", "data:")) else errors.append(r.url),
    )
    yield page, errors
    context.close()


@pytest.fixture
def window(tablet: tuple[Any, list[str]], books: dict[str, Path]) -> Iterator[Any]:
    """Ada's book, opened for the first time."""
    page, errors = tablet
    page.set_viewport_size(UPRIGHT)
    page.goto(books["ada.html"].as_uri())
    page.wait_for_selector("html[data-ready]")
    yield page
    assert not errors


class _Parts(HTMLParser):
    """The addresses, scripts, styles and policy of a file."""

    def __init__(self) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self.scripts: list[str] = []
        self.styles: list[str] = []
        self.policy = ""
        self.handlers: list[str] = []
        self._inside = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        self.addresses += [named[a] or "" for a in ("src", "href", "action") if a in named]
        self.handlers += [name for name in named if name.startswith("on") or name == "style"]
        self._inside = tag if named.get("type") != "application/json" else ""
        if named.get("http-equiv") == "Content-Security-Policy":
            self.policy = named["content"] or ""

    def handle_endtag(self, tag: str) -> None:
        self._inside = ""

    def handle_data(self, data: str) -> None:
        if self._inside == "script":
            self.scripts.append(data)
        if self._inside == "style":
            self.styles.append(data)


def test_a_book_needs_nothing_else_and_runs_nothing_else(books: dict[str, Path]) -> None:
    """No address leads out of the file; its policy allows just its own style and script, which no
    title or word can add to."""
    assert sorted(books) == ["ada.html", "bo-script-script-alert-1-script.html"]
    for path in books.values():
        parts = _Parts()
        parts.feed(path.read_text(encoding="utf-8"))
        assert parts.addresses == [] and parts.handlers == []
        assert len(parts.scripts) == len(parts.styles) == 1
        assert "default-src 'none'" in parts.policy and "unsafe" not in parts.policy
        for text in (*parts.scripts, *parts.styles):
            assert b64encode(sha256(text.encode()).digest()).decode() in parts.policy
        assert set(re.findall(r"url\(\"?(\w+):", parts.styles[0])) == {"data"}


def test_the_same_night_gives_the_same_bytes(books: dict[str, Path]) -> None:
    """A rebuilt book is the same file, made by this program, that may be replaced."""
    assert all(is_made_by_chartkit(path.read_bytes()) for path in books.values())


def test_a_book_of_25_songs_is_small(tmp_path: Path) -> None:
    """25 songs with pages and fonts take no more than 3 MB a player."""
    charts = sorted((ROOT / "examples").glob("*.chart"))
    for i in range(25):
        source = charts[i % len(charts)]
        (tmp_path / f"{i}.chart").write_text(source.read_text())
    songs = "".join(f'[[songs]]\nchart = "{i}.chart"\n' for i in range(25))
    stage, player = '[stage]\ncapos = "chart"\n', PLAYERS.split("sits_out")[0]
    text = f'name = "Long"\n{stage}{player}{songs}'
    opened = open_night(Folder(tmp_path), SetRequest(name="x.toml", text=text), lambda *_: None)
    assert opened.night is not None
    ((_, write),) = screen_books(opened.night, opened.plan, Workshop(work_cache(None)))
    out = BytesIO()
    write(out)
    content = out.getvalue()
    pages = re.search(r'id="pages">(.*?)</script>', content.decode(), re.S)
    assert pages and len(json.loads(pages[1])["pages"]) >= 3 * 25 and len(content) <= MOST_BYTES


def test_pages_turn_by_keys_pedal_and_tap(window: Any) -> None:
    """PageDown, arrows, space and a tap turn forward; PageUp and a tap at the left turn back."""
    song = window.locator("#order")
    expect(song).to_have_text("1. Lantern Road")
    places = []
    for key in ("PageDown", "ArrowRight", " ", "PageUp", "ArrowLeft", "Shift+ "):
        window.keyboard.press(key)
        places.append(window.evaluate("location.hash"))
    assert places[0] == places[4] and places[1] == places[3]
    assert len(set(places)) == 4 and window.evaluate("location.hash") == "#1.1"
    window.touchscreen.tap(600, 500)
    assert window.evaluate("location.hash") == places[0]
    window.touchscreen.tap(60, 500)
    assert window.evaluate("location.hash") == "#1.1"


def test_what_comes_is_shown_before_it_comes(window: Any) -> None:
    """The last page of a song names the next one and what to change; who sits it out hears so."""
    for _ in range(20):
        if "you sit it out" in (window.locator("#next").text_content() or ""):
            break
        window.keyboard.press("PageDown")
    expect(window.locator("#order")).to_have_text("2. Paper Harbour")
    expect(window.locator("#next")).to_contain_text("(3. Breakwater: you sit it out)")


def test_changes_stand_out(window: Any) -> None:
    """What has to be changed before the next song stands beside its name."""
    data = window.evaluate("JSON.parse(document.getElementById('book').textContent).songs")
    changing = next(song for song in data if song["next_change"])
    window.keyboard.press("Home")
    while not window.locator("#next strong").count():
        window.keyboard.press("PageDown")
    expect(window.locator("#next strong")).to_have_text(changing["next_change"])


def test_the_form_line_and_the_list_jump(window: Any) -> None:
    """A section of the form line leads to its page, a song of the list to its first."""
    window.click("#form button:has-text('Coda')")
    expect(window.locator("#form [aria-current]", has_text="Coda")).to_be_visible()
    window.click("#order")
    expect(window.locator("#list button:disabled")).to_have_count(1)
    window.click("#list button:has-text('Winter Mooring')")
    expect(window.locator("#order")).to_have_text("5. Winter Mooring")
    window.reload()
    expect(window.locator("#order")).to_have_text("5. Winter Mooring")


def test_light_dark_and_turned_round(window: Any) -> None:
    """Dark is light on dark; a tablet on its side shows two pages of a song and stays there."""
    paper = "getComputedStyle(document.querySelector('#stage .sheet')).backgroundColor"
    assert window.evaluate(paper) == "rgb(255, 255, 255)"
    window.click("#shade")
    assert window.evaluate(paper) == "rgb(18, 18, 18)"
    window.click("#order")
    window.click("#list button:has-text('Lantern Road')")
    window.set_viewport_size({"width": 1180, "height": 760})
    expect(window.locator("#stage .sheet")).to_have_count(2)
    expect(window.locator("#order")).to_have_text("1. Lantern Road")


def test_a_phone_shows_narrow_pages(window: Any) -> None:
    """On a phone a song has pages of its own, as wide as the screen and turned by a tap, and
    others on its side, in type as large; on a tablet the same book shows the tablet's."""
    window.set_viewport_size({"width": 390, "height": 844})
    window.reload()
    window.wait_for_selector("html[data-ready]")
    box = window.locator("#stage .sheet").bounding_box()
    assert box["width"] > 0.95 * 390 and box["height"] > 0.75 * 844
    expect(window.locator("#place")).to_contain_text("page 1 of")
    many = int(window.inner_text("#place").split()[-1])
    window.touchscreen.tap(300, 400)
    expect(window.locator("#place")).to_have_text(f"page 2 of {many}")
    window.set_viewport_size({"width": 844, "height": 390})
    expect(window.locator("#stage .sheet")).to_have_count(1)
    expect(window.locator("#place")).not_to_contain_text(f"of {many}")
    box = window.locator("#stage .sheet").bounding_box()
    assert box["width"] > 0.9 * 844 and box["height"] > 0.75 * 390
    window.set_viewport_size(UPRIGHT)
    expect(window.locator("#place")).to_contain_text("page 1 of")
    assert int(window.inner_text("#place").split()[-1]) < many


def test_hostile_titles_are_shown_as_they_are(window: Any) -> None:
    """A title that is markup is a title, printed with the quotes of its language."""
    window.click("#order")
    window.locator("#list button").nth(3).click()
    expect(window.locator("#order")).to_have_text(f"4. {with_typographic_quotes(HOSTILE, '')}")
    assert window.title() == "Small <Night>: Ada"
