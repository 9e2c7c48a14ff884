"""An evening's job from the address alone: a mail comes, and tonight everybody needs a book."""

from pathlib import Path
from typing import Any

import pypdf
from playwright.sync_api import expect

from tests.desk.conftest import ROOT, Served, opened

MAIL = (ROOT / "examples" / "low-lamp.txt").read_bytes()


def test_from_a_mail_to_the_books(browser: Any, served: Served, tmp_path: Path) -> None:
    """Bring the mail in, look at the guesses, pick the singer's key, drag the capo, keep and save
    it, put it into tonight's set with another song, and make the books, for screens too."""
    mail = tmp_path / "low-lamp.txt"
    mail.write_bytes(MAIL)
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    context.set_default_timeout(20000)
    page = opened(context, served)
    page.click("#bring-in")
    page.set_input_files("#incoming input[type=file]", str(mail))
    page.wait_for_selector(".judge")
    while page.locator("#incoming .open").count():
        page.locator("#incoming .open button:has-text('right')").first.click()
    page.click("text=Take it in")
    expect(page.locator("#title")).to_have_text("Low Lamp Burning")
    page.click("#key-door")
    page.fill("#voice", "G3-D5")
    page.keyboard.press("Enter")
    page.locator(".key", has=page.locator(".unbeaten")).first.click()
    page.click("text=Write the chart in this key")
    page.click("#key-door")
    best = page.locator("#neck .reason button", has_text="is best")
    if best.count():
        best.click()
        page.click("#neck button:has-text('Keep')")
        page.wait_for_function("() => /^capo: /m.test(document.getElementById('text').value)")
    page.keyboard.press("Control+s")
    expect(page.locator("#state")).to_have_text("low-lamp-burning.chart · saved")
    page.click("#night-door")
    page.wait_for_selector("#night tbody tr")
    expect(page.locator("#night tbody tr")).to_have_count(2)
    page.locator("#night .handle").nth(1).focus()
    page.keyboard.press("ArrowUp")
    expect(page.locator("#night .said")).to_contain_text("is song 1 now")
    page.keyboard.press("Control+s")
    expect(page.locator("#state")).to_have_text("night.toml · saved")
    page.check("#night .top input")
    page.click("text=Make the books")
    expect(page.locator(".made li")).to_have_text(["guitar.html", "guitar.pdf", "set-sheet.pdf"])
    book = pypdf.PdfReader(served.path("night/guitar.pdf"))
    text = "".join(one.extract_text() for one in book.pages)
    assert "Low Lamp Burning" in text and "Lantern Road" in text
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
