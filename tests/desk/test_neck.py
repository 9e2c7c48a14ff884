"""The neck, keys and shapes: what they show is what the adviser says, and the page follows."""

import json
import re
from typing import Any

import pytest
from playwright.sync_api import expect

from chartkit.advise.option import SHORT_CAPOS
from chartkit.advise.ranking import rank_options
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.singer import VOICES, rank_keys, voice_of
from chartkit.advise.song import song_of
from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.desk import advice
from chartkit.desk.edits import with_setting
from chartkit.desk.requests import KeysRequest, NeckRequest, PageRequest, SettingRequest
from chartkit.desk.second_guitar import second_guitar
from chartkit.diagnostics import Source
from chartkit.files import Unusable
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from chartkit.theory.key import parse_key
from chartkit.theory.pitch import PitchRange
from tests.desk.conftest import SONG, Served


def chart_of(text: str) -> Chart:
    """The chart of a text that has no mistakes."""
    reading = read_chart(Source(text))
    assert not reading.diagnostics
    return reading.chart


def test_the_neck_says_what_the_adviser_says() -> None:
    """Verdict, best place, measures and reasons are those of ``chartkit capo``."""
    facts, ranked = advice.neck(NeckRequest(text=SONG)), rank_options(chart_of(SONG))
    assert facts["verdict"] == ranked.verdict and facts["best"] == ranked.options[0].option.raised
    places = {place["capo"]: place for place in facts["places"]}  # type: ignore[attr-defined]
    assert sorted(places) == list(range(-5, 12))
    for option in ranked.options:
        place = places[option.option.raised]
        assert place["open"] == option.measures.open_share and place["reason"] == option.reason


def test_a_short_capo_stands_on_the_neck_as_it_is() -> None:
    """A chart's own short capo takes the place of a whole one at its fret, is ranked with it, and
    names the strings it covers."""
    text = SONG.replace("capo: 1", "capo: 2 over strings 5-3")
    places = {one["capo"]: one for one in advice.neck(NeckRequest(text=text))["places"]}  # type: ignore[attr-defined]
    assert places[2]["name"] == "capo 2 over strings 5 to 3"
    assert places[2]["strings_covered"] == [3, 4, 5] and places[2]["rank"] is not None
    assert places[1]["strings_covered"] == [] and places[1]["name"] == "capo 1"


def test_short_capos_are_ranked_where_they_are_asked_for() -> None:
    """With short capos the order and the reasons are those of ``chartkit capo --partial``; the
    whole capos keep their places, and one that is in place just now is there without asking."""
    chart = chart_of(SONG)
    ranked = rank_options(chart, settings=AdviceSettings(short_capos=SHORT_CAPOS))
    facts = advice.neck(NeckRequest(text=SONG, short_capos=True))
    places = {one["name"]: one for one in facts["places"]}  # type: ignore[attr-defined]
    assert [
        (places[str(one.option)]["rank"], places[str(one.option)]["reason"])
        for one in ranked.options
    ] == [(rank, one.reason) for rank, one in enumerate(ranked.options, 1)]
    assert sorted(one["capo"] for one in places.values() if not one["beside"]) == [*range(-5, 12)]
    short = "2 over strings 5-3"
    there = advice.neck(NeckRequest(text=SONG, capo=short))["places"]
    assert [one["id"] for one in there if one["beside"]] == [short]  # type: ignore[attr-defined]
    ukulele = SONG.replace("capo: 1", "instrument: ukulele")
    assert not advice.neck(NeckRequest(text=ukulele, short_capos=True))["has_short_capos"]


@pytest.mark.parametrize("capo", ["99 over strings 1", "2 over string 0"])
def test_a_short_capo_that_cannot_be_is_refused_in_words(capo: str) -> None:
    """What lies off the neck or beside the strings is a mistake in plain words, never a crash."""
    with pytest.raises((Unusable, ValueError), match=r"capo|string"):
        advice.neck(NeckRequest(text=SONG, capo=capo))


def test_a_short_capo_is_put_on_from_the_list(page: Any) -> None:
    """Short capos stand in the list on demand; a click puts one over its strings alone, the
    others ring from the nut; Keep writes it, and an arrow key goes on from its fret."""
    page.click("#why-door")
    page.get_by_label("short capos too").check()
    page.click("#why button:has-text('over strings 5 to 3')")
    expect(page.locator("#pages text[data-role=capo]")).to_have_text("Capo 2 over strings 5 to 3")
    starts = [
        float(one.get_attribute("x1").rstrip("%")) for one in page.locator("#neck .ringing").all()
    ]
    assert starts[0] == starts[1] == starts[5] < starts[2] == starts[3] == starts[4]
    page.click("#neck button:has-text('Keep')")
    expect(page.locator("#text")).to_have_value(re.compile("^capo: 2 over strings 5-3$", re.M))
    expect(page.locator("#neck .capo")).to_have_attribute(
        "aria-valuetext", re.compile("^Capo 2 over strings 5 to 3, B shapes")
    )
    page.locator("#neck .capo").focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator("#neck .capo")).to_have_attribute("aria-valuenow", "3")


def test_all_places_are_listed_in_the_order_of_the_adviser(page: Any) -> None:
    """The list has the ranked places with their reasons, best first, and the verdict; a click on
    one moves the capo there."""
    ranked = rank_options(chart_of(SONG))
    page.click("#why-door")
    names = page.locator("#why li button")
    expect(names.first).to_have_text("Capo 1, C shapes")
    wanted = [str(one.option) for one in ranked.options]
    assert [name.split(",")[0].lower() for name in names.all_text_contents()] == wanted
    assert page.locator("#why .verdict").text_content() == ranked.verdict
    names.nth(1).click()
    moved = ranked.options[1].option
    expect(page.locator("#neck .capo")).to_have_text(str(moved.raised))
    expect(page.locator("#pages text[data-role=capo]")).to_have_text(f"Capo {moved.raised}")


def test_keys_for_a_voice_are_those_of_the_command() -> None:
    """Loads and best capos of all twelve keys are those of ``chartkit singer``."""
    chart = chart_of(SONG)
    sung = chart.setting("range")
    assert isinstance(sung, PitchRange)
    ranked = rank_keys(song_of(chart), sung, voice_of(VOICES["alto"]))
    facts = advice.keys(KeysRequest(text=SONG, voice="Alto"))["keys"]
    assert {(k["key"], k["load"], k["capo"]) for k in facts} == {  # type: ignore[attr-defined]
        (str(key.key), key.load, key.best.option.raised) for key in ranked
    }
    bare = advice.keys(KeysRequest(text=SONG))["keys"]
    assert [key["semitones"] for key in bare] == list(range(-5, 7))  # type: ignore[attr-defined]
    assert {(k["key"], k["place"]) for k in bare} == {(k["key"], k["place"]) for k in facts}  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("name", "value", "row"),
    [
        ("capo", "4", "capo: 4"),
        ("range", "C3-C4", "range: C3-C4  # lowest and highest sung note"),
        ("language", "de", "language: de"),
        ("shape", "F 133211", "shape: F 133211"),
    ],
)
def test_a_setting_is_written_where_it_belongs(name: Any, value: str, row: str) -> None:
    """A value goes into the setting's own row, its comment kept, else after the others; taking
    it out leaves the text as it was."""
    edit = with_setting(SettingRequest(text=SONG, name=name, value=value))
    text = SONG[: edit["start"]] + edit["text"] + SONG[edit["end"] :]
    rows = text.split("\n\n")[0].split("\n")
    assert row in rows
    assert len(rows) == len(SONG.split("\n\n")[0].split("\n")) + (name in ("language", "shape"))
    assert not read_chart(Source(text)).diagnostics
    if name in ("language", "shape"):
        out = value.split()[0] if name == "shape" else ""
        undo = with_setting(SettingRequest(text=text, name=name, value=out))
        assert text[: undo["start"]] + undo["text"] + text[undo["end"] :] == SONG


@pytest.mark.parametrize("said", ["A flat 3 to F5", "a♭3 – f5", "Ab3-F5"])
def test_a_range_is_taken_as_it_is_said(said: str) -> None:
    """A range is written in notes, in place of a row that could not be read; what is none is
    refused in words and writes nothing."""
    wrong = re.sub("range: [^ ]*", "range: A flat and up", SONG)
    edit = with_setting(SettingRequest(text=wrong, name="range", value=said))
    changed = wrong[: edit["start"]] + edit["text"] + wrong[edit["end"] :]
    assert changed == re.sub("range: [^ ]*", "range: Ab3-F5", SONG)
    with pytest.raises(ValueError, match="not a note with an octave"):
        with_setting(SettingRequest(text=SONG, name="range", value="low to F5"))


def test_a_wrong_range_is_said_at_its_field(page: Any) -> None:
    """What is no range stays in its field, marked, with the reason under the keys; the chart does
    not change."""
    before = page.input_value("#text")
    page.click("#key-door")
    page.fill("#sung-range", "low to high")
    page.keyboard.press("Enter")
    expect(page.locator("#keys .hush")).to_contain_text("Not written into the chart")
    expect(page.locator("#sung-range")).to_have_attribute("aria-invalid", "true")
    assert page.input_value("#text") == before


def test_a_shape_is_written_once() -> None:
    """Another way to play a chord goes into the row of that chord, not into a second one."""
    text = SONG.replace("capo: 1\n", "capo: 1\nshape: G 320033\nshape: F 133211\n")
    edit = with_setting(SettingRequest(text=text, name="shape", value="F xx3211"))
    changed = text[: edit["start"]] + edit["text"] + text[edit["end"] :]
    assert changed == text.replace("F 133211", "F xx3211")


def test_the_capo_is_dragged_and_the_page_follows(page: Any) -> None:
    """The drawn capo is dragged along the neck; page, shapes and reason follow; Keep writes it."""
    knob = page.locator("#neck .capo")
    expect(knob).to_have_text("1")
    board = page.locator("#neck .board").bounding_box()
    box = knob.bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + 20)
    page.mouse.down()
    aim = page.locator("#neck .place", has_text=re.compile("^4A$")).bounding_box()
    page.mouse.move(aim["x"] + aim["width"] / 2, board["y"] + 30, steps=12)
    page.mouse.up()
    expect(knob).to_have_text("4")
    expect(page.locator("#pages text[data-role=capo]")).to_have_text("Capo 4")
    expect(page.locator("#neck .reason")).to_contain_text("Capo 4, A shapes")
    assert page.input_value("#text") == SONG
    page.click("#neck button:has-text('Keep')")
    page.wait_for_function("() => document.getElementById('text').value.includes('capo: 4')")
    assert page.input_value("#text") == SONG.replace("capo: 1", "capo: 4")
    expect(page.locator("#neck .reason")).to_contain_text("Capo 4, A shapes")


def test_pages_are_asked_for_ahead_and_never_stale(page: Any) -> None:
    """A hand at the neck has the pages of the other frets asked for ahead, each once; what stands
    there after a sweep, and after more typing, is what a window opened anew shows."""
    asked: list[str] = []

    def note(request: Any) -> None:
        if "/api/pages" in request.url and "x-anew" not in request.headers:
            asked.append(request.post_data)

    page.on("request", note)
    expect(page.locator("#neck .capo")).to_have_text("1")
    board = page.locator("#neck .board").bounding_box()
    page.mouse.move(board["x"] + 3, board["y"] + 20)
    page.wait_for_timeout(700)
    # On a busy machine, where a page takes long, few are asked for or none.
    assert len(asked) == len(set(asked)) < page.locator("#neck .place").count()
    page.mouse.down()
    for share in (0.3, 0.6, 0.9, 0.5, 0.05, 0.45):
        page.mouse.move(board["x"] + share * board["width"], board["y"] + 20)
    page.mouse.up()
    page.locator("#text").focus()
    for typed in ("| Gbmaj7 | % |\n", "|: Db :|\n: one more\n", "== Added\n"):
        page.keyboard.type(typed)
    for _ in range(30):  # until the hands have rested and the last page has come
        page.wait_for_timeout(300)
        shown, anew = drawn(page), page.evaluate(_DRAWN_ANEW, json.loads(asked[-1]))
        if shown == anew:
            break
    assert shown == anew


_DRAWN = """() => [...document.querySelectorAll("#pages > svg")].map((sheet) => {
  const copy = sheet.cloneNode(true);
  for (const mark of copy.querySelectorAll(".here")) mark.remove();
  return copy.outerHTML;
})"""
_DRAWN_ANEW = """async (request) => {
  const answer = await fetch("/api/pages", {
    method: "POST", body: JSON.stringify(request), headers: { "x-anew": "yes" },
  });
  const holder = document.createElement("div");
  return (await answer.json()).pages.map((elements) => {
    holder.innerHTML = elements.join("") + "</svg>";
    return holder.innerHTML;
  });
}"""


def drawn(page: Any) -> list[str]:
    """The pages as they stand in the window, without the marks at the caret."""
    pages: list[str] = page.evaluate(_DRAWN)
    return pages


def test_the_capo_is_a_slider_by_keys(page: Any) -> None:
    """Arrow keys move it from tuned down to the highest fret; a screen reader hears a slider with
    its place, its shapes and the reason; Escape puts it back."""
    knob = page.locator("#neck .capo")
    expect(knob).to_have_attribute("role", "slider")
    expect(knob).to_have_text("1")
    knob.focus()
    for fret in ("2", "3"):
        page.keyboard.press("ArrowRight")
        expect(knob).to_have_attribute("aria-valuenow", fret)
    expect(page.locator("#pages text[data-role=capo]")).to_have_text("Capo 3")
    expect(knob).to_have_attribute("aria-valuetext", re.compile(r"^Capo 3, B♭ shapes: \w+"))
    for _ in range(4):
        page.keyboard.press("ArrowLeft")
    expect(page.locator("#pages text[data-role=capo]")).to_have_text("Tuned down a half step")
    page.keyboard.press("Escape")
    expect(page.locator("#pages text[data-role=capo]")).to_have_text("Capo 1")


def test_the_neck_is_true_to_scale(page: Any) -> None:
    """Fret n lies at 1 − 2^(−n/12) of the string (equal temperament, music theory handbooks)."""
    expect(page.locator("#neck .fret")).to_have_count(12)
    lines = page.locator("#neck .fret").evaluate_all("all => all.map(one => one.x1.baseVal.value)")
    nut = page.locator("#neck .nut").evaluate("one => one.x1.baseVal.value")
    reach = lines[11] - nut
    for fret, x in enumerate(lines, 1):
        assert (x - nut) / reach == pytest.approx((1 - 2 ** (-fret / 12)) / 0.5, abs=0.002)


def test_a_key_is_picked_and_written(page: Any) -> None:
    """A key for a voice shows load and capo; page and capo follow; it is written as transpose
    does, with the capo that the key promised."""
    page.click("#key-door")
    page.fill("#voice", "alto")
    page.keyboard.press("Enter")
    key = page.locator(".key", has_text=re.compile("^B♭"))
    expect(key).to_contain_text("sung F3–D5")
    expect(key).to_contain_text("capo 3, G")
    key.click()
    expect(page.locator("#pages text[data-role=keys]")).to_contain_text("sounds in B♭ major")
    page.click("text=Write the chart in this key")
    moved = rewritten_chart(chart_of(SONG), View(key=parse_key("Bb major")), as_shapes=False)
    page.wait_for_function("() => document.getElementById('text').value.includes('key: Bb major')")
    assert page.input_value("#text") == chart_text(moved).replace("capo: 1", "capo: 3")
    expect(page.locator("#pages text[data-role=capo]")).to_contain_text("3")


def test_a_shape_is_chosen(page: Any, served: Served) -> None:
    """A click on a shape offers other ways; one of them is written into the chart and shown."""
    page.click("#shapes-door")
    page.locator("#shapes .shape[data-chord=F]").click()
    expect(page.locator("#shapes .others .shape").first).to_be_visible()
    frets = page.locator("#shapes .others .shape").first.get_attribute("aria-label")
    page.locator("#shapes .others .shape").first.click()
    written = "shape: F " + frets.split(", ")[1].replace(" ", "")
    page.wait_for_function(f"() => document.getElementById('text').value.includes('{written}')")
    expect(page.locator("#shapes .shape[data-chord=F]")).to_contain_text("yours")


def test_a_shape_that_means_nothing_any_more_is_named() -> None:
    """A shape of the player's own for a chord that nobody fingers under this capo is listed, and
    under the capo that it was chosen for it is not."""
    text = SONG.replace("capo: 1\n", "capo: 1\nshape: Am7 x02010\n")
    assert advice.shapes(PageRequest(text=text))["unused"] == []
    assert advice.shapes(PageRequest(text=text, capo=3))["unused"] == ["Am7 x02010"]


def test_the_page_looks_as_its_options_say(page: Any) -> None:
    """Paper and lines of chords are those of the one table of options."""
    page.click("#look-door")
    page.locator("#look select").nth(1).select_option("numbers")
    expect(page.locator("#pages text[data-role=number]").first).to_be_visible()
    page.locator("#look select").nth(0).select_option("tablet")
    expect(page.locator("#pages svg").first).to_have_attribute(
        "viewBox", re.compile("0 0 (576 768|768 576)")
    )


def test_a_second_guitar_finds_its_place(page: Any) -> None:
    """Places beside the first guitar are those of ``capo --beside``: one of them adds its shapes
    to the page, and a part of its own becomes a chart as ``chartkit part`` writes it."""
    facts: Any = second_guitar(PageRequest(text=SONG))
    assert len(facts["places"]) > 2 and 1 not in [place["capo"] for place in facts["places"]]
    page.click("#second-door")
    first = page.locator("#second .beside button").first
    expect(first.locator("strong")).to_contain_text(facts["places"][0]["name"])
    expect(first).to_contain_text(facts["places"][0]["reason"])
    picture = page.locator("#second .registers")
    for place in (facts["places"][1], facts["places"][0]):
        page.locator("#second .beside button", has_text=place["reason"]).click()
        expect(picture).to_contain_text(f"beside it, {place['name']}")
    expect(picture).to_contain_text("voice A♭3–F5")
    expect(page.locator("#pages text[data-role=second]").first).to_be_visible()
    page.locator("#second button:has-text('Write it as a chart')").first.click()
    page.wait_for_function("() => document.getElementById('text').value.includes('shape: ')")
    assert page.input_value("#text") == facts["parts"][0]["text"]
    expect(page.locator("#second-door")).to_be_hidden()
    expect(page.locator("#neck")).to_be_hidden()
    diagrams = page.locator("#pages text[data-role=diagram], #pages circle")
    assert diagrams.count() > 4
    assert not read_chart(Source(facts["parts"][0]["text"])).diagnostics


def test_another_song_shows_nothing_of_the_last_one(page: Any, served: Served) -> None:
    """Until the adviser has looked at a song that is opened, neither the neck nor the list of
    places says anything of the song before."""
    page.locator("#neck .place.at").wait_for()
    page.evaluate(
        """() => {
          window.stale = [];
          const neck = document.getElementById("neck");
          const real = window.fetch;
          window.fetch = async (at, ...rest) => {
            if (String(at).includes("/api/neck"))
              stale.push([...neck.querySelectorAll(".place, .reason > div")]
                .filter((one) => one.checkVisibility({ visibilityProperty: true })).length,
                document.querySelectorAll("#why li").length);
            return real(at, ...rest);
          };
        }"""
    )
    served.path("other.chart").write_text("title: Other\nkey: E\n\n== A\n| E | A | B | E |\n")
    page.click("#title")
    page.locator("#songs").get_by_text("other", exact=False).first.click()
    expect(page.locator("#neck .reason strong")).to_have_text("No capo, E shapes")
    assert page.evaluate("stale")[:2] == [0, 0]


def test_a_late_answer_is_not_shown(page: Any) -> None:
    """What is asked for one after the other is shown as asked last, even if the first answer is
    the slower one: here the keys for one voice and then for another."""
    held: list[Any] = []
    page.route("**/api/keys", lambda route: route.continue_() if held else held.append(route))
    page.click("#key-door")
    for voice in ("alto", "bass"):
        page.fill("#voice", voice)
        page.keyboard.press("Enter")
    page.wait_for_timeout(300)
    with page.expect_response("**/api/keys"):
        held[0].continue_()
    page.wait_for_timeout(300)
    bass = str(VOICES["bass"]).replace("-", "–")
    expect(page.locator("#keys .hush")).to_contain_text(f"{bass} is a rough guess")
    expect(page.locator("#keys .load")).to_have_count(12)


def test_the_focus_stays_where_the_hand_was(page: Any) -> None:
    """After a place, a key and a grip is chosen, the focus is still there and not lost: at the
    place, the key, the chord; after "keep" it is at the capo."""
    page.click("#why-door")
    page.locator("#why .ranked button").nth(1).press("Enter")
    page.wait_for_timeout(900)
    expect(page.locator("#why .ranked button").nth(1)).to_be_focused()
    page.locator("#neck button:has-text('Keep')").press("Enter")
    expect(page.locator("#neck [role=slider]")).to_be_focused()
    page.click("#key-door")
    page.locator(".key").nth(2).press("Enter")
    page.wait_for_timeout(900)
    expect(page.locator(".key").nth(2)).to_be_focused()
    page.locator("#keys button:has-text('back')").press("Enter")
    expect(page.locator(".key[aria-pressed=true]")).to_be_focused()
    page.click("#shapes-door")
    page.locator("#shapes .shape").nth(0).press("Enter")
    page.locator("#shapes .others .shape").nth(0).press("Enter")
    expect(page.locator("#shapes .shape small", has_text="yours")).to_be_visible()
    expect(page.locator("#shapes [aria-pressed=true]")).to_be_focused()


def test_nothing_moves_when_a_song_is_saved(page: Any) -> None:
    """The page stands at the same height before a change, after it, and after it is saved."""
    top = "() => document.querySelector('main').getBoundingClientRect().top"
    expect(page.locator("#neck .place").first).to_be_visible()
    for width in (1024, 1366):
        page.set_viewport_size({"width": width, "height": 768})
        page.locator("#text").press("Control+End")
        heights = {page.evaluate(top)}
        page.keyboard.type("\n")
        expect(page.locator("#state")).to_contain_text("a copy is kept")
        heights.add(page.evaluate(top))
        page.keyboard.press("Control+s")
        expect(page.locator("#state")).to_contain_text("· saved")
        heights.add(page.evaluate(top))
        assert len(heights) == 1
