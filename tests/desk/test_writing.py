"""Writing at the desk: the page follows, mistakes are reported, nothing typed is lost."""

import re
import stat
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

from chartkit.desk.drafts import Drafts
from tests.desk.conftest import SONG, Served, opened
from tests.each import each

NAME = "lantern-road.chart"


def put_caret(page: Any, before: str, shift: int = 0) -> None:
    """Puts the caret behind a stretch of the text."""
    page.evaluate(
        """([before, shift]) => {
            const area = document.getElementById("text");
            const at = area.value.indexOf(before) + before.length + shift;
            area.focus(); area.setSelectionRange(at, at);
        }""",
        [before, shift],
    )


def typed_text(page: Any) -> str:
    """The text as it stands in the pane."""
    text: str = page.input_value("#text")
    return text


def the_page_follows_what_is_typed(page: Any) -> None:
    """A chord typed into the text stands on the page at once, on both lines."""
    put_caret(page, "== Intro\n| Db")
    page.keyboard.type("7")
    expect(page.locator("#pages text[data-role=shape]", has_text="C7").first).to_be_visible()
    expect(page.locator("#pages text[data-role=sounding]", has_text="D♭7").first).to_be_visible()


def a_mistake_is_underlined_and_taken_with_one_key(page: Any) -> None:
    """A mistake is underlined where it is, explained in the words of the command with its hint, and
    Alt-Enter types what the hint says, after which nothing is offered."""
    put_caret(page, "| Bb")
    page.keyboard.type("m")
    expect(page.locator("#shown .error")).to_have_text("mm7")
    expect(page.locator("#count")).to_have_text("1 mistake")
    expect(page.locator("#mistakes")).to_contain_text('"mm7" is not a chord quality')
    expect(page.locator("#mistakes")).to_contain_text('Did you mean "m7"?')
    expect(page.locator("#pages text[data-role=shape]", has_text="?").first).to_be_visible()
    page.keyboard.press("Alt+Enter")
    expect(page.locator("#count")).to_have_text("no mistakes")
    expect(page.locator("#offers")).to_be_hidden()
    assert typed_text(page) == SONG


def each_mistake_of_a_row_is_explained(page: Any) -> None:
    """F8 goes from mistake to mistake in a row, the line at the foot explains each, and Alt-Enter
    mends the one at the caret and no other."""
    put_caret(page, "| Db | Gb/Db | Db | Ab7sus4 Ab7 |")
    page.keyboard.insert_text("\n| Dbmaj77 | Gbmj7 | Db |")
    expect(page.locator("#count")).to_have_text("2 mistakes")
    page.keyboard.press("Home")
    page.keyboard.press("F8")
    expect(page.locator("#mistakes")).to_contain_text('"maj77"')
    page.keyboard.press("F8")
    expect(page.locator("#mistakes")).to_contain_text('"mj7"')
    expect(page.locator("#mistakes .take")).to_be_visible()
    page.keyboard.press("Alt+Enter")
    expect(page.locator("#count")).to_have_text("1 mistake")
    assert "\n| Dbmaj77 | Gbmaj7 | Db |\n" in typed_text(page)


def a_click_on_the_page_leads_to_the_text(page: Any) -> None:
    """A click on a chord, a word or a heading puts the caret at its place in the text, and the
    chord at the caret is marked on the page."""
    for role, shown, written in (
        ("shape", "Am7", "Bbm7"),
        ("words", "still,", "still,"),
        ("heading", "Bridge", "== Bridge"),
    ):
        page.locator(f"#pages text[data-role={role}]", has_text=shown).first.click()
        selected = page.evaluate(
            "() => { const t = document.getElementById('text');"
            "return t.value.slice(t.selectionStart, t.selectionEnd) }"
        )
        assert written in selected
        expect(page.locator("#pages rect.here").first).to_be_visible()


def words_are_completed(page: Any) -> None:
    """Settings, sections and chords go on with Tab; what is offered can be chosen by arrows."""
    put_caret(page, "capo: 1")
    page.keyboard.type("\nlan")
    expect(page.locator("#offers li").first).to_have_text("language:")
    page.keyboard.press("Tab")
    assert "\nlanguage: \nnote" in typed_text(page)
    page.keyboard.press("Control+z")
    put_caret(page, "| Db | Gb/Db | Db | Ab7sus4 Ab7 |")
    page.keyboard.type("\n| Bb")
    expect(page.locator("#offers li").first).to_have_text("Bbm7")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    assert "\n| Bbm7\n" in typed_text(page)


def sections_are_offered_with_music_that_is_there(page: Any) -> None:
    """A heading goes on with the next verse to the first one's music, and with sections again."""
    put_caret(page, SONG.rstrip()[-20:])
    page.keyboard.type("\n\n== Ver")
    expect(page.locator("#offers li").first).to_have_text("Verse 3 as Verse 1")
    page.keyboard.press("Tab")
    assert typed_text(page).rstrip().endswith("\n\n== Verse 3 as Verse 1")
    page.keyboard.type("\n\n== Ch")
    expect(page.locator("#offers li")).to_have_text(["Chorus"])


def test_titles_are_found_before_writers(page: Any, served: Served) -> None:
    """What the title says comes before a writer of that name."""
    for title in ("Alder", "What the Tideline Kept"):
        served.path(f"{title[:5]}.chart").write_text(f"title: {title}\nwriter: Tidewater\n")
    page.reload()
    page.wait_for_selector("html[data-ready]")
    page.keyboard.press("Control+o")
    page.keyboard.type("tide")
    expect(page.locator("#songs .what").first).to_have_text("What the Tideline Kept")


def escape_closes_what_a_door_opened(page: Any) -> None:
    """Escape closes a strip from anywhere, and bringing in a song closes it, too."""
    page.click("#look-door")
    expect(page.locator("#look")).to_be_visible()
    page.locator("#text").focus()
    page.keyboard.press("Escape")
    expect(page.locator("#look")).to_be_hidden()
    page.click("#look-door")
    page.click("#bring-in")
    expect(page.locator("#look")).to_be_hidden()


TYPED = (
    a_click_on_the_page_leads_to_the_text,
    the_page_follows_what_is_typed,
    a_mistake_is_underlined_and_taken_with_one_key,
    each_mistake_of_a_row_is_explained,
    words_are_completed,
    sections_are_offered_with_music_that_is_there,
    escape_closes_what_a_door_opened,
)


@each("claim", TYPED, ids=lambda claim: claim.__name__)
def test_what_is_typed_into_a_song(page: Any, claim: Callable[[Any], None]) -> None:
    """Each claim holds in a window that stays open, with the song as it was; the first of them
    meets the window as it opens."""
    if typed_text(page) != SONG:
        page.locator("#text").press("Escape")
        page.fill("#text", SONG)
        expect(page.locator("#count")).to_have_text("no mistakes")
    claim(page)


def test_tidy_lines_up_on_demand(page: Any) -> None:
    """Tidy writes what the command writes, and undo takes it back."""
    put_caret(page, "== Intro\n| Db")
    page.keyboard.type("    ")
    page.click("#tidy")
    expect(page.locator("#text")).to_have_value(SONG)
    page.locator("#text").focus()
    page.keyboard.press("Control+z")
    assert "| Db     |" in typed_text(page)
    page.keyboard.type("Q")
    expect(page.locator("#count")).to_have_text("1 mistake")
    page.click("#tidy")
    expect(page.locator("#mistakes")).to_contain_text("Tidying waits until this is corrected: line")


def test_what_is_typed_while_tidy_works_stays(page: Any) -> None:
    """An answer to the text as it was is not put in the place of words typed since."""
    held: list[Any] = []
    page.route("**/api/tidy", lambda route: held.append(route))
    put_caret(page, "== Intro\n| Db")
    page.keyboard.type("    ")
    with page.expect_request("**/api/tidy"):
        page.click("#tidy")
    put_caret(page, "title: ")
    page.keyboard.type("Old ")
    with page.expect_response("**/api/tidy"):
        held[0].continue_()
    expect(page.locator("#mistakes")).to_contain_text("the chart has just changed: do that again")
    assert "title: Old Lantern Road" in typed_text(page) and "| Db     |" in typed_text(page)


def test_a_file_changed_outside_is_not_shown_in_place_of_another(page: Any, served: Served) -> None:
    """Where another song is opened before the change of the first has been read, its text stays."""
    served.path("other.chart").write_text("title: Other\nkey: E\n\n== A\n| E | A |\n")
    held: list[Any] = []
    page.route(f"**/api/file?name={NAME}", lambda route: held.append(route))
    with page.expect_request(f"**/api/file?name={NAME}"):
        served.path(NAME).write_text(SONG + "# from outside\n")
    page.click("#title")
    page.locator("#songs").get_by_text("other.chart").click()
    expect(page.locator("#text")).to_have_value(re.compile("^title: Other"))
    with page.expect_response(f"**/api/file?name={NAME}"):
        held[0].continue_()
    page.wait_for_timeout(200)
    assert typed_text(page).startswith("title: Other")


def test_saving_writes_the_file_and_nothing_else_does(page: Any, served: Served) -> None:
    """What is typed is kept beside within a second; the file is written by Ctrl-S alone."""
    path = served.path(NAME)
    put_caret(page, "title: ")
    page.keyboard.type("Old ")
    expect(page.locator("#state")).to_contain_text("not saved yet, a copy is kept")
    assert path.read_text() == SONG
    page.keyboard.press("Control+s")
    expect(page.locator("#state")).to_have_text(f"{NAME} · saved")
    assert path.read_text() == SONG.replace("title: ", "title: Old ")
    assert [one.name for one in served.folder.iterdir()] == [NAME]


def test_a_draft_outlives_its_window(page: Any, served: Served, browser: Any) -> None:
    """A window closed without saving loses nothing: the next one has what was typed."""
    put_caret(page, "title: ")
    page.keyboard.type("Half a ")
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    other = opened(page.context, served)
    assert "title: Half a Lantern Road" in typed_text(other)
    expect(other.locator("#state")).to_contain_text("not yet saved")
    served.path(NAME).write_text(SONG + "# from outside\n")
    expect(other.locator("#state")).to_contain_text("changed meanwhile")
    private = list((served.folder.parent / "cache" / "chartkit" / "drafts").iterdir())
    assert private and all(stat.S_IMODE(p.stat().st_mode) == 0o600 for p in private)


def test_a_draft_gone_on_with_does_not_come_back(page: Any, served: Served) -> None:
    """What a closed window had typed, gone on with in two more and saved in the last, is no draft
    any more: the file as it was saved is opened next, not older words."""
    context = page.context
    for words in ("One ", "Two "):
        put_caret(page, "title: ")
        page.keyboard.type(words)
        expect(page.locator("#state")).to_contain_text("a copy is kept")
        page.close(run_before_unload=False)
        page = opened(context, served)
    put_caret(page, "title: ")
    page.keyboard.type("Three ")
    page.keyboard.press("Control+s")
    expect(page.locator("#state")).to_have_text(f"{NAME} · saved")
    assert not list((served.folder.parent / "cache" / "chartkit" / "drafts").iterdir())
    again = opened(context, served)
    expect(again.locator("#state")).to_have_text(f"{NAME} · saved")
    expect(again.locator("#both")).to_be_hidden()
    assert "title: Three Two One Lantern Road" in typed_text(again)


def test_a_draft_of_a_window_that_goes_on_is_kept(tmp_path: Path, monkeypatch: Any) -> None:
    """Words typed in a window after another has gone on from its draft are kept beside."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    drafts = Drafts(tmp_path)
    drafts.keep("a.chart", "one", "", "first")
    (seen,) = drafts.of("a.chart")
    drafts.keep("a.chart", "one, and more", "", "first")
    drafts.drop("a.chart", "first", seen.time)
    assert [one.text for one in drafts.of("a.chart")] == ["one, and more"]
    drafts.drop("a.chart", "first", time.time())
    assert not drafts.of("a.chart")


def test_texts_of_two_windows_are_both_named(page: Any, served: Served) -> None:
    """Where two windows typed into one song and saved nothing, a third one names both texts, goes
    on with one or the other, and throws away none that it is not told to."""
    two = opened(page.context, served)
    for window, words in ((page, "One "), (two, "Two ")):
        put_caret(window, "title: ")
        window.keyboard.type(words)
        expect(window.locator("#state")).to_contain_text("a copy is kept")
    third = opened(page.context, served)
    expect(third.locator("#unsaved-door")).to_have_text("2 texts not saved")
    assert "title: Two Lantern" in typed_text(third)
    third.click("#songs-door")
    expect(third.locator("#songs")).to_contain_text("2 texts, not saved yet")
    third.keyboard.press("Escape")
    for words, others in (("One", "Two"), ("Two", "One")):
        third.click("#unsaved-door")
        expect(third.locator("#both pre")).to_have_count(3)
        third.click("text=/Go on with/")
        expect(third.locator("#text")).to_have_value(re.compile(f"title: {words} Lantern"))
        third.click("#unsaved-door")
        expect(third.locator("#both pre").nth(2)).to_contain_text(f"title: {others} Lantern")
        third.keyboard.press("Escape")
    third.click("#unsaved-door")
    third.click("text=/Throw that/")
    third.keyboard.press("Control+s")
    expect(third.locator("#state")).to_have_text(f"{NAME} · saved")
    assert "title: Two Lantern" in served.path(NAME).read_text(encoding="utf-8")
    assert not list((served.folder.parent / "cache" / "chartkit" / "drafts").iterdir())


def test_a_text_that_its_window_saves_is_not_named_any_more(page: Any, served: Served) -> None:
    """A third window names the texts of two others; once one of them is saved, it says instead that
    the file has changed."""
    two = opened(page.context, served)
    for window, words in ((page, "One "), (two, "Two ")):
        put_caret(window, "title: ")
        window.keyboard.type(words)
        expect(window.locator("#state")).to_contain_text("a copy is kept")
    third = opened(page.context, served)
    expect(third.locator("#unsaved-door")).to_have_text("2 texts not saved")
    page.keyboard.press("Control+s")
    expect(third.locator("#state")).to_contain_text("the file has changed meanwhile")
    expect(third.locator("#unsaved-door")).to_have_text("what changed")


def test_back_to_what_is_saved(page: Any, served: Served) -> None:
    """What is typed stands beside what is saved on demand, and can be given up; Ctrl-Z has it
    again."""
    expect(page.locator("#unsaved-door")).to_have_text("rename, delete")
    put_caret(page, "title: ")
    page.keyboard.type("Old ")
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    page.click("text=what changed")
    expect(page.locator("#both .other")).to_have_text(
        ["title: Old Lantern Road", "title: Lantern Road"]
    )
    page.click("text=Back to what is saved")
    expect(page.locator("#state")).to_have_text(f"{NAME} · saved")
    assert typed_text(page) == SONG and served.path(NAME).read_text() == SONG
    other = opened(page.context, served)
    expect(other.locator("#state")).to_have_text(f"{NAME} · saved")
    other.close()
    page.locator("#text").focus()
    page.keyboard.press("Control+z")
    assert "title: Old " in typed_text(page)


def test_a_song_begun_by_mistake_is_thrown_away(page: Any, served: Served) -> None:
    """A song that was never saved can be thrown away, once that is asked: it is in the list no
    more, and another song is open."""
    page.keyboard.press("Control+o")
    page.click("text=A new song")
    page.fill("#new-title", "Pier Light")
    page.keyboard.press("Enter")
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    page.click("text=throw away")
    expect(page.locator("#both pre")).to_contain_text("title: Pier Light")
    page.click("text=Throw it away")
    expect(page.locator("#state")).to_have_text(f"{NAME} · saved")
    page.keyboard.press("Control+o")
    expect(page.locator("#songs .what")).to_have_text(["Lantern Road"])
    assert [one.name for one in served.folder.iterdir()] == [NAME]


def test_never_over_a_file_that_has_changed(page: Any, served: Served) -> None:
    """A file that changed meanwhile is not written over: both texts are shown."""
    put_caret(page, "title: ")
    page.keyboard.type("Mine ")
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    theirs = SONG.replace("title: ", "title: Theirs ")
    served.path(NAME).write_text(theirs)
    expect(page.locator("#state")).to_contain_text("changed meanwhile")
    page.keyboard.press("Control+s")
    expect(page.locator("#both")).to_be_visible()
    expect(page.locator("#both .other").first).to_have_text("title: Mine Lantern Road")
    assert served.path(NAME).read_text() == theirs
    page.click("text=Save yours under another name")
    expect(page.locator("#state")).to_have_text("lantern-road (mine).chart · saved")
    assert served.path(NAME).read_text() == theirs
    assert "title: Mine" in served.path("lantern-road (mine).chart").read_text()


def test_what_changes_outside_is_shown(page: Any, served: Served) -> None:
    """Without words of one's own a file changed outside is simply shown anew, and a file that is
    gone is reported."""
    served.path(NAME).write_text(SONG.replace("title: Lantern", "title: Sunken"))
    expect(page.locator("#title")).to_have_text("Sunken Road")
    served.path(NAME).unlink()
    expect(page.locator("#state")).to_contain_text("the file is gone")
    page.keyboard.press("Control+s")
    expect(page.locator("#state")).to_have_text(f"{NAME} · saved")
    assert "Sunken" in served.path(NAME).read_text()


def test_killed_between_a_file_and_its_draft(page: Any, served: Served, monkeypatch: Any) -> None:
    """A desk that ends when a file is written and its draft not yet forgotten opens what was saved,
    and does not ask which of the two is right."""
    put_caret(page, "title: ")
    page.keyboard.type("Old ")
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    with monkeypatch.context() as ending:
        for name in ("drop", "drop_saved"):
            ending.setattr(Drafts, name, lambda *_: None)
        page.keyboard.type("and new ")
        page.keyboard.press("Control+s")
        expect(page.locator("#state")).to_have_text(f"{NAME} · saved")
    drafts = served.folder.parent / "cache" / "chartkit" / "drafts"
    assert len(list(drafts.iterdir())) == 1
    page.reload()
    page.wait_for_selector("html[data-ready]")
    expect(page.locator("#state")).to_have_text(f"{NAME} · saved")
    expect(page.locator("#both")).to_be_hidden()
    assert typed_text(page).startswith("title: Old and new Lantern Road")
    assert not list(drafts.iterdir())


def test_two_windows_on_one_song(page: Any, served: Served) -> None:
    """What one window saves, another without words of its own shows; with some, it keeps them."""
    other = opened(page.context, served)
    put_caret(page, "title: ")
    page.keyboard.type("One ")
    page.keyboard.press("Control+s")
    expect(other.locator("#title")).to_have_text("One Lantern Road")
    put_caret(other, "title: ")
    other.keyboard.type("Two ")
    put_caret(page, "title: ")
    page.keyboard.type("Three ")
    page.keyboard.press("Control+s")
    expect(other.locator("#state")).to_contain_text("changed meanwhile")
    assert "title: Two One" in typed_text(other)


def test_songs_are_found_as_you_type(page: Any, served: Served) -> None:
    """The list finds a song by title, writer or file, and opens it with Enter."""
    served.path("wren.chart").write_text("title: Wren\nwriter: Ada Fenn\nkey: C\n== A\n| C |\n")
    page.wait_for_timeout(600)
    page.click("#title")
    page.fill("#songs input", "fenn")
    expect(page.locator("#songs .what")).to_have_text(["Wren"])
    page.keyboard.press("Enter")
    expect(page.locator("#title")).to_have_text("Wren")


def test_an_empty_folder_offers_the_examples(bare: Any, served: Served) -> None:
    """Over an empty folder the example songs are offered as copies, or a new one is begun."""
    bare.click("text=Copy the example songs here")
    bare.click("#songs .list button >> nth=0")
    expect(bare.locator("#pages svg").first).to_be_visible()
    assert len(list(served.folder.glob("*.chart"))) >= 10
    bare.click("#title")
    bare.click("text=A new song")
    bare.keyboard.type("Grey Hours")
    bare.keyboard.press("Enter")
    bare.keyboard.type("G")
    bare.keyboard.press("Control+s")
    expect(bare.locator("#state")).to_contain_text("grey-hours.chart · saved")
    assert served.path("grey-hours.chart").read_text().startswith("title: Grey Hours\nkey: G\n")


def test_words_typed_with_no_file_open_begin_one(bare: Any) -> None:
    """In an empty folder with the list of songs closed, what is typed is a new file and is kept."""
    bare.keyboard.press("Escape")
    bare.locator("#text").focus()
    bare.keyboard.type("title: Grey Hours")
    expect(bare.locator("#state")).to_have_text("untitled.chart · not saved yet, a copy is kept")
    assert bare.input_value("#text") == "title: Grey Hours"


def test_a_folder_that_cannot_be_written_is_reported(
    page: Any, served: Served, monkeypatch: Any
) -> None:
    """A full disk or a read-only folder is reported in a line, and the text stays."""

    def full(path: Path, content: bytes) -> None:
        from chartkit.files import Unusable

        raise Unusable(f"{path}: cannot be written: no space left on device")

    monkeypatch.setattr("chartkit.desk.folder.write_whole", full)
    put_caret(page, "title: ")
    page.keyboard.type("Full ")
    page.keyboard.press("Control+s")
    line = "lantern-road.chart: cannot be written: no space left on device"
    expect(page.locator("#state")).to_contain_text(line)
    expect(page.locator("#state")).to_have_class(re.compile("wrong"))
    assert "title: Full Lantern Road" in typed_text(page)


def hostile_words_stay_words(page: Any) -> None:
    """Markup in titles and words runs nowhere: it is shown as it was typed."""
    hostile = "<img src=x onerror=document.title='owned'><script>document.title='owned'</script>"
    page.fill("#text", f"title: {hostile}\nkey: C\n\n== <b>A</b>\n| C |\n: {hostile} |\n")
    expect(page.locator("#title")).to_have_text(hostile)
    expect(page.locator("#pages text[data-role=heading]")).to_have_text("<b>A</b>")
    assert page.locator("#pages img, #pages script, #shown img").count() == 0
    assert page.title() != "owned"


def ten_thousand_combining_signs(page: Any) -> None:
    """A heap of combining signs on one letter is a title and a word like any other; the desk goes
    on."""
    page.set_default_timeout(60_000)
    heap = "a" + "\u0301" * 10_000
    page.fill("#text", f"title: {heap}\nkey: C\n\n== A\n| C | F |\n: | á́ | on |\n")
    expect(page.locator("#pages text[data-role=words]")).to_have_count(2, timeout=60_000)
    page.fill("#text", "title: Light\nkey: C\n\n== A\n| C | F |\n")
    expect(page.locator("#title")).to_have_text("Light")


def signs_beyond_sixteen_bits_keep_their_places(page: Any) -> None:
    """After a sign such as a double flat, clicks and mistakes still find their places."""
    page.fill("#text", "title: 𝄫𝄫 Low\nkey: C\n\n== A\n| C | Gmj7 | F |\n")
    expect(page.locator("#shown .error")).to_have_text("mj7")
    page.locator("#pages text[data-role=sounding]", has_text="F").first.click()
    at = "() => { const t = document.getElementById('text'); return t.value[t.selectionStart] }"
    assert page.evaluate(at) == "F"


def a_text_past_the_limits_leaves_the_desk_alive(page: Any) -> None:
    """20,000 rows and more: the page says that it is too much, and goes on when they are gone."""
    page.evaluate(
        """() => {
            const area = document.getElementById("text");
            area.value = "| C |\\n".repeat(20100);
            area.dispatchEvent(new Event("input"));
        }"""
    )
    expect(page.locator("#mistakes")).to_contain_text("rows are too many for a chart")
    page.fill("#text", "key: C\n\n== A\n| C | F |\n")
    expect(page.locator("#count")).to_have_text("no mistakes")


WHOLE = (
    signs_beyond_sixteen_bits_keep_their_places,
    hostile_words_stay_words,
    ten_thousand_combining_signs,
    a_text_past_the_limits_leaves_the_desk_alive,
)


@each("claim", WHOLE, ids=lambda claim: claim.__name__)
def test_a_whole_text_put_in(page: Any, claim: Callable[[Any], None]) -> None:
    """Each claim holds in a window that has met the texts of those before it."""
    claim(page)


def test_the_page_keeps_its_choices_while_keys_are_pressed(page: Any) -> None:
    """Size and form that layout chose go back to it with the next key, and are chosen anew when
    the hands rest: the page then is the one that the command engraves."""
    requests: list[Any] = []

    def requested(request: Any) -> bool:
        if "/api/pages" not in request.url:
            return False
        requests.append(request.post_data_json["choices"])
        return requests[-1] is None and len([one for one in requests if one]) > 0

    page.wait_for_selector("#neck .place")
    put_caret(page, "== Intro\n| Db")
    with page.expect_request(requested, timeout=20_000):
        page.keyboard.type("7")
    assert isinstance(next(one for one in requests if one)["size"], float)


def test_a_song_never_saved_is_found_again(page: Any, served: Served) -> None:
    """A song that was begun and not saved stands in the list, and a second of the same title
    does not take its place: both texts are there, and no file is written."""
    for words in ("first", "second"):
        page.keyboard.press("Control+o")
        page.click("text=A new song")
        page.fill("#new-title", "Pier Light")
        page.keyboard.press("Enter")
        expect(page.locator("#text")).to_have_value(re.compile("title: Pier Light"))
        page.locator("#text").press("Control+End")
        page.keyboard.press("Escape")
        page.keyboard.type(f'C |\n"{words}"')
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    page.keyboard.press("Control+o")
    begun = page.locator("#songs .list button", has_text="not saved yet")
    expect(begun).to_have_count(2)
    begun.filter(has_text="pier-light.chart").click()
    expect(page.locator("#text")).to_have_value(re.compile('"first"'))
    assert not list(served.folder.glob("pier-light*"))


def test_no_page_of_another_song_stands_beside_a_text(page: Any, served: Served) -> None:
    """Where no page can be made of a song just opened, the page, the title and the key of the
    song before are gone, and the line at the foot says that the words are kept."""
    served.path("next.chart").write_text("title: Next One\nkey: C\n\n== A\n| C |\n")
    expect(page.locator("#pages svg").first).to_be_visible()
    page.route("**/api/pages", lambda route: route.fulfill(status=500))
    page.keyboard.press("Control+o")
    page.click("text=Next One")
    expect(page.locator("#mistakes")).to_contain_text("what you typed is kept")
    expect(page.locator("#pages svg")).to_have_count(0)
    expect(page.locator("#title")).to_have_text("next.chart")
    expect(page.locator("#key-door")).to_have_text("key")
