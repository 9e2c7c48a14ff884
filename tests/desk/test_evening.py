"""An evening's job from the address alone: songs come by mail, everybody needs a book tonight."""

import re
from pathlib import Path
from typing import Any

import pypdf
import pytest
from playwright.sync_api import expect

from chartkit.cli.main import PROGRAM
from tests.desk.conftest import ROOT, Served, fresh_window, opened


class Keys:
    """Somebody who has a keyboard and a screen reader, no pointer and no eyes for the screen.

    What is to be done is found by its role and its name alone.
    """

    def __init__(self, page: Any) -> None:
        self.page = page

    def press(self, *keys: str) -> None:
        """Presses keys, one after the other."""
        for key in keys:
            self.page.keyboard.press(key)

    def type(self, text: str) -> None:
        """Types a text."""
        self.page.keyboard.insert_text(text)

    def to(self, role: str, name: str | re.Pattern[str], key: str = "Tab") -> None:
        """Goes on with Tab until what is wanted has the focus: it must be there, once, by name."""
        wanted = self.page.get_by_role(role, name=name, exact=isinstance(name, str))
        one = wanted.first.element_handle()
        for _ in range(60):
            there, focused = one.evaluate(
                "one => [one.isConnected, one === document.activeElement]"
            )
            if not there:  # drawn anew; to look by role and name goes through the whole page
                one = wanted.first.element_handle()
                focused = one.evaluate("one => one === document.activeElement")
            if focused:
                return
            self.press(key)
        raise AssertionError(f"{role} {name} is not reached by {key}")

    def hears(self, words: str) -> None:
        """Waits until some status line says the words."""
        said = self.page.get_by_role("status").filter(has_text=words)
        expect(said.first).to_be_visible(timeout=20_000)


PASTED = """\
Pier Light
capo 2

Verse 1
G            D         Em    C
Nobody lit it and nobody will
G         D         C
low tide is turning still
"""


def test_an_evening_by_keyboard_alone(desktop: Any, served: Served, tmp_path: Path) -> None:
    """From a pasted mail and a PDF that came with one to a book on a screen with no pointer: every
    step is reached by Tab, found by its role and name, and says what it did."""
    sheet = tmp_path / "paper-harbour.pdf"
    with pytest.raises(SystemExit):
        PROGRAM(["engrave", str(ROOT / "examples" / "paper-harbour.chart"), "-o", str(sheet)])
    for page in fresh_window(desktop, served):
        page.on("filechooser", lambda _: None)  # from now on no dialog of the system opens
        keys = Keys(page)
        keys.to("button", "bring in")
        keys.press("Enter")
        keys.to("textbox", "A song pasted")
        keys.type(PASTED)
        keys.to("button", "Read it")
        keys.press("Enter")
        keys.to("button", re.compile("^looks right: "))
        for _ in range(page.get_by_role("button", name=re.compile("^looks right: ")).count()):
            keys.to("button", re.compile("^looks right: "))
            keys.press("Enter")
            keys.press("Tab")
        keys.to("button", "Use this chart")
        keys.press("Enter")
        expect(page.get_by_role("textbox", name="The chart's text")).to_be_focused()
        keys.press("Control+Home", "End")
        keys.type("\nrange: B3-E5")
        keys.press("Control+End")
        keys.type("\n== Tag\n| Gmm7 |")
        keys.hears('"mm7" is not a chord quality')
        keys.press("F8", "Alt+Enter")
        expect(page.locator("#count")).to_have_text("no mistakes")
        keys.to("button", re.compile("^(key|. (major|minor))$"))
        keys.press("Enter")
        keys.to("combobox", "for the voice")
        keys.type("alto")
        keys.press("Enter")
        keys.to("button", re.compile(r"^G\b.*sung"))
        keys.press("Enter")
        keys.to("button", "Write the chart in this key")
        keys.press("Enter")
        page.wait_for_function("() => document.getElementById('text').value.includes('key: G')")
        keys.press("Escape")
        keys.to("slider", "Capo")
        keys.press("Home", "ArrowRight", "ArrowRight", "ArrowRight", "Enter")
        page.wait_for_function("() => document.getElementById('text').value.includes('capo: 3')")
        keys.press("Control+s")
        keys.hears("pier-light.chart · saved")
        keys.press("Control+o")
        keys.to("button", "Bring in an email, a score or a PDF")
        keys.press("Enter")
        expect(page.get_by_role("textbox", name="A song pasted")).to_be_focused()
        keys.press("Shift+Tab")
        with page.expect_file_chooser() as chooser:
            keys.press("Enter")
        chooser.value.set_files(sheet)
        keys.to("button", "Use this chart")
        keys.press("Enter")
        expect(page.locator("#title")).to_have_text("Paper Harbour")
        keys.to("button", "the night")
        keys.press("Enter")
        keys.to("button", re.compile("^Song 2, Pier Light"))
        keys.press("ArrowUp")
        keys.hears("Pier Light is song 1 now")
        keys.to("button", "save and add: Paper Harbour", "Shift+Tab")
        keys.press("Enter")
        keys.hears("Paper Harbour is saved and added at the end")
        keys.to("button", "Take Lantern Road out")
        keys.press("Enter")
        keys.hears("Lantern Road is taken out")
        keys.to("textbox", "Name of the night", "Shift+Tab")
        keys.press("Control+a")
        keys.type("Harvest Supper")
        keys.press("Enter")
        keys.hears("name of the night: Harvest Supper")
        keys.to("combobox", "Key of Pier Light tonight")
        keys.press("A")
        keys.hears("Pier Light in another key")
        keys.to("textbox", "add a player")
        keys.type("Bo")
        keys.press("Enter")
        keys.hears("Bo plays tonight")
        keys.to("combobox", "What Bo reads")
        keys.press("w")
        keys.hears("Bo reads words")
        keys.press("Control+s")
        keys.hears("night.toml · saved")
        keys.to("checkbox", "for screens too", "Shift+Tab")
        keys.press("Space")
        keys.to("button", "Make the books")
        keys.press("Enter")
        keys.hears("files in the folder “night”")
        keys.to("link", "bo.html")
        with page.expect_download() as download:
            keys.press("Enter")
        book = tmp_path / "bo.html"
        download.value.save_as(book)
        page.goto(book.as_uri())
        page.wait_for_function("() => document.body.innerText.includes('Pier Light')")
        page.wait_for_function("() => document.body.innerText.includes('low tide')")
        keys.press("PageDown")
        expect(page.locator("#order")).to_have_text("2. Paper Harbour")
    pages = pypdf.PdfReader(served.path("night/guitar.pdf")).pages
    text = "".join(one.extract_text() for one in pages)
    assert "Paper Harbour" in text and "Lantern Road" not in text


NOTES = """\
Salt and Silver
capo 3

I had this one in my pocket for years and never wrote it down properly, so some chords may be off

v1
G                 Em7
Oh the herring boats are sleeping in the bay
C                 D
and my love's gone a hundred miles away

chorus
C          D          G
Silver, silver on the water
"""


def in_sight(page: Any, target: Any) -> None:
    """Taps what is seen without scrolling: nothing of it lies outside the phone's screen."""
    box, size = target.bounding_box(), page.viewport_size
    assert box["x"] >= 0 and box["x"] + box["width"] <= size["width"], box
    assert box["y"] >= 0 and box["y"] + box["height"] <= size["height"], box
    target.tap()


def test_the_same_evening_on_a_phone(browser: Any, served: Served) -> None:
    """From notes on a phone to the books with taps alone: every door is in sight, the original,
    what was found and the chart stand on one screen, and the song is saved from the night.  The
    page is as narrow as the phone and, turned on its side, as low."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    context.set_default_timeout(20000)
    page = opened(context, served)
    for door in page.locator("#doors button").all():
        assert door.is_visible() and door.bounding_box()["x"] + door.bounding_box()["width"] <= 390
    for width, height, box in ((390, 844, "0 0 186 330"), (844, 390, "0 0 390 157")):
        page.set_viewport_size({"width": width, "height": height})
        expect(page.locator("#pages .sheet").first).to_have_attribute("viewBox", box)
    page.set_viewport_size({"width": 390, "height": 844})
    in_sight(page, page.locator("#bring-in"))
    page.fill(".pasted", NOTES)
    in_sight(page, page.get_by_role("button", name="Read it"))
    for part in (".lines", ".findings", "textarea"):
        shown = page.locator(f"#incoming .judge {part}")
        shown.wait_for()
        assert shown.bounding_box()["height"] >= 60
    prose = page.locator("#incoming .lines div", has_text="in my pocket")
    assert prose.bounding_box()["width"] <= 390 and prose.bounding_box()["height"] > 30
    in_sight(page, page.locator("#incoming .findings li.open button").first)
    expect(page.locator("#incoming .lines .at")).to_be_in_viewport()
    in_sight(page, page.get_by_role("button", name="Use this chart"))
    expect(page.locator("#title")).to_have_text("Salt and Silver")
    in_sight(page, page.locator("#key-door"))
    page.fill("#sung-range", "B3 - C5")
    page.keyboard.press("Enter")
    expect(page.locator("#text")).to_have_value(re.compile("^range: B3-C5$", re.MULTILINE))
    page.fill("#voice", "alto")
    page.keyboard.press("Enter")
    expect(page.locator("#keys .load")).to_have_count(12)
    in_sight(page, page.locator("#night-door"))
    in_sight(page, page.get_by_role("button", name="save and add: Salt and Silver"))
    expect(page.locator("#night tbody tr")).to_have_count(2)
    assert "range: B3-C5" in served.path("salt-and-silver.chart").read_text()
    in_sight(page, page.locator("#save"))
    expect(page.locator("#state")).to_have_text("night.toml · saved")
    in_sight(page, page.get_by_role("button", name="Make the books"))
    expect(page.locator(".made a")).to_have_text(["guitar.pdf", "set-sheet.pdf"])
    in_sight(page, page.locator(".made a").first)
    context.close()


def test_print_is_the_pages_and_nothing_else(page: Any, tmp_path: Path) -> None:
    """Printing puts each page of the song on a page of paper, without the desk around it."""
    expect(page.locator("#pages svg").first).to_be_visible()
    count = page.locator("#pages svg").count()
    page.emulate_media(media="print")
    printed = tmp_path / "printed.pdf"
    page.pdf(path=str(printed), format="A4", print_background=False)
    pages = pypdf.PdfReader(printed).pages
    text = "".join(one.extract_text() for one in pages)
    assert len(pages) == count and "Lantern Road" in text and "tuned down" not in text
