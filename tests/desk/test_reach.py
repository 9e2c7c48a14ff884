"""Everybody can use the desk: by keyboard, by ear, on a tablet, enlarged, in the dark."""

import re
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.desk.conftest import Served

SIZES = ((1440, 900), (1024, 768), (820, 1180), (390, 844))
SERIOUS = ("serious", "critical")
SHORT = "title: Short\nkey: D\n\n== A\n| D | Bm7 | G | A |\n: low | tide | and | light |\n"
"""Every kind of thing on the page a few times, for a rule takes its time for each."""


def serious_faults(page: Any, part: str = "body", without: str = "") -> list[str]:
    """What axe-core finds of serious faults in a part of the page as it stands."""
    axe = Axe()
    if not page.evaluate("'axe' in window"):
        page.evaluate(axe.axe_script)
    asked = {"include": [[part]], "exclude": [[without]] if without else []}
    asks = "([asked, kinds]) => axe.run(asked, kinds).then((found) => found.violations)"
    faults = page.evaluate(asks, [asked, {"resultTypes": ["violations"]}])
    return [
        f"{one['id']}: {one['nodes'][0]['target']}" for one in faults if one["impact"] in SERIOUS
    ]


def test_nothing_serious_anywhere(page: Any, served: Served) -> None:
    """axe-core (W3C's accessibility rules) finds nothing serious in any part of the desk, light
    and dark."""
    (served.folder / "night.toml").write_text(
        'name = "N"\n[[players]]\nname = "A"\nreads = "both"\ninstrument = "guitar"\n'
        '[[songs]]\nchart = "lantern-road.chart"\n'
    )
    page.fill("#text", SHORT.replace("Bm7", "Bmm7"))
    expect(page.locator("#count")).to_contain_text("1 mistake")
    assert not serious_faults(page)
    page.fill("#text", SHORT)
    for door, ready in (
        ("why-door", "#why li"),
        ("key-door", ".key"),
        ("shapes-door", ".shape"),
        ("second-door", "#second .sheet"),
        ("listen-door", "#listening option >> nth=0"),
        ("look-door", ".option"),
        ("out-door", "#out button"),
    ):
        page.click(f"#{door}")
        page.wait_for_selector(ready, state="attached")
        assert not serious_faults(page, "#strips"), door
    page.keyboard.press("Control+o")
    page.wait_for_selector("#songs .what")
    assert not serious_faults(page, "#songs")
    page.keyboard.press("Escape")
    page.click("#bring-in")
    page.fill("#incoming .pasted", "A Song\n\nG   D\nla la\n")
    page.click("text=Read it")
    page.wait_for_selector(".judge")
    assert not serious_faults(page, "#incoming")
    page.keyboard.press("Escape")
    page.emulate_media(color_scheme="dark")
    assert not serious_faults(page)
    page.click("#night-door")
    page.wait_for_selector("#night tbody tr")
    assert not serious_faults(page)


def test_it_fits_every_screen(page: Any) -> None:
    """At four sizes nothing sticks out to the side, and text and page have room to be used."""
    page.emulate_media(color_scheme="dark")
    page.wait_for_selector("#neck .place")
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.locator("#writing").bounding_box()["height"] >= 200
        if width < 600:
            page.click("#to-page")
        shown = page.locator("#pages").bounding_box()
        assert shown["height"] >= 200 and shown["width"] >= min(width, 500) * 0.6
    assert not serious_faults(page, without="#pages")


def test_enlarged_to_200_percent(page: Any) -> None:
    """At 200 % zoom, which halves the window in its own pixels, everything can be reached and
    nothing has to be scrolled to the side (WCAG 2.1, 1.4.10, for what is no music)."""
    page.set_viewport_size({"width": 720, "height": 450})
    page.wait_for_selector("#neck .place")
    assert page.evaluate("document.documentElement.scrollWidth") <= 720
    assert page.locator("#writing").bounding_box()["height"] >= 150
    for door in page.locator("#doors button").all():
        assert door.bounding_box()["x"] >= 0
    page.locator("#text").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("x")
    expect(page.locator("#count")).to_have_text("1 mistake")
    expect(page.locator("#count")).to_be_in_viewport()
    for door in ("why", "key", "shapes", "listen", "look", "out"):
        page.click(f"#{door}-door")
        strip = page.locator("#strips > section:visible")
        expect(strip).to_have_count(1)
        expect(strip).to_be_in_viewport()
        assert page.locator("#strips").bounding_box()["height"] >= 60, door
    page.click("#bring-in")
    page.fill("#incoming .pasted", "A Song\n\nG   D\nla la\n")
    page.click("text=Read it")
    for part in (".lines", ".findings", "textarea"):
        expect(page.locator(f"#incoming .judge {part}")).to_be_in_viewport()


def test_a_phone_shows_what_is_typed_over_its_keys(page: Any) -> None:
    """When the keys of a phone take the lower half of its screen, the row with the caret and the
    mistakes are in sight; turned on its side, a tap on *page* shows the page."""
    page.set_viewport_size({"width": 390, "height": 844})
    page.wait_for_selector("#neck .place")
    page.locator("#text").click(position={"x": 120, "y": 300})
    row = "document.getElementById('text').value.slice(0, text.selectionStart).split('\\n').length"
    number = page.evaluate(row)
    page.set_viewport_size({"width": 390, "height": 440})
    page.keyboard.type("C")
    assert number > 5
    page.wait_for_function(
        """(number) => {
            const rows = [...document.querySelectorAll("#numbers div")];
            const here = rows.find((one) => one.textContent === String(number));
            const foot = document.querySelector("footer").getBoundingClientRect();
            const { top, bottom } = here?.getBoundingClientRect() ?? { top: -1, bottom: -1 };
            return top >= 0 && bottom <= foot.top + 1 && foot.bottom <= innerHeight + 1;
        }""",
        arg=number,
    )
    expect(page.locator("#count")).to_be_in_viewport()
    page.set_viewport_size({"width": 844, "height": 390})
    page.click("#to-page")
    shown = page.locator("#pages").bounding_box()
    assert 0 <= shown["y"] < 90 and shown["height"] >= 200


def test_a_screen_reader_finds_its_way(page: Any) -> None:
    """Landmarks, the text, the slider and the page's words are there with their names."""
    page.wait_for_selector("#neck .place")
    for role, name in (
        ("navigation", "The desk"),
        ("textbox", "The chart's text"),
        ("slider", "Capo"),
        ("region", "Page"),
        ("region", "Text"),
    ):
        assert page.get_by_role(role, name=name, exact=True).count() == 1, (role, name)
    tree = page.locator("#pages").aria_snapshot()
    assert "Lantern Road, page 1" in tree and "low tide pulls the" in tree
    assert page.get_by_role("heading", level=1).count() == 1


def test_a_narrow_window_types_into_the_text_that_is_not_shown(page: Any, served: Served) -> None:
    """On a phone the night hides its text: what is chosen there is typed into the set all the
    same and into nothing else.  With a list of places open, its door and "keep" are in reach."""
    page.set_viewport_size({"width": 390, "height": 844})
    page.click("#why-door")
    page.locator("#why .ranked button").nth(1).click()
    page.click("#neck button:has-text('Keep')")
    expect(page.locator("#text")).to_have_value(re.compile("^capo: ", re.MULTILINE))
    page.click("#why-door")
    expect(page.locator("#why")).to_be_hidden()
    page.click("#night-door")
    page.wait_for_selector("#night tbody tr")
    for name in ("Ada", "Bo"):
        page.fill("[data-focus='add player']", name)
        page.keyboard.press("Enter")
        expect(page.locator("#night .said")).to_have_text(f"{name} plays tonight")
        expect(page.locator("#text")).to_have_value(re.compile(f'name = "{name}"'))
        expect(page.locator("[data-focus='add player']")).to_have_value("")
