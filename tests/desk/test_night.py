"""The night at the desk: it reads and writes the same set file, comments kept."""

import re
import shutil
import tomllib
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import expect

from chartkit.book.set_file import read_set
from chartkit.book.sung_night import keys_to_write, sung_night
from chartkit.desk.folder import Folder
from chartkit.desk.night import (
    INSTRUMENTS,
    READS,
    SIZES,
    make_books,
    night_facts,
    open_night,
    sung_set,
    without_song,
)
from chartkit.desk.requests import BooksRequest, SetEditRequest, SetRequest
from chartkit.desk.set_edits import edited_set
from chartkit.diagnostics import Source
from chartkit.files import Unusable
from tests.desk.conftest import ROOT, SONG, Served, fresh_window

FRIDAY = (ROOT / "examples" / "friday.toml").read_text(encoding="utf-8")
SMALL = """\
# The whole night.
name = "Small Night"

[[players]]
name = "Ada"  # plays left-handed
reads = "both"
instrument = "guitar"

# the opener
[[songs]]
chart = "lantern-road.chart"
note = "long intro"

[[songs]]
chart = "paper-harbour.chart"

# the last one
[[songs]]
chart = "breakwater.chart"
"""
CHARTS = ("lantern-road", "paper-harbour", "breakwater", "winter-mooring")


@pytest.fixture
def night(served: Served) -> Served:
    """A folder with a small set and its songs."""
    for chart in CHARTS:
        shutil.copy(ROOT / "examples" / f"{chart}.chart", served.folder)
    served.path("small.toml").write_text(SMALL)
    return served


@pytest.fixture
def pane(desktop: Any, night: Served) -> Iterator[Any]:
    """A window with the night open."""
    for window in fresh_window(desktop, night):
        window.click("#night-door")
        window.wait_for_selector("#night tbody tr")
        yield window


def edit(text: str, **change: Any) -> str:
    """The set with one change."""
    made = edited_set(SetEditRequest(name="x.toml", text=text, **change))["text"]
    assert isinstance(made, str)
    return made


def test_a_broken_chart_is_reported_line_by_line(night: Served) -> None:
    """Mistakes of a chart in the set stand as the commands print them: row, caret, hint."""
    text = night.path("breakwater.chart").read_text()
    night.path("breakwater.chart").write_text(text.replace("\nkey: ", "\nkey: H", 1))
    facts = night_facts(Folder(night.folder), SetRequest(name="small.toml", text=SMALL))["night"]
    lines = facts["messages"]  # type: ignore[index]
    carets = [
        number for number, line in enumerate(lines) if set(line) <= set("| ^") and "^" in line
    ]
    assert carets and all("key: H" in lines[number - 1] for number in carets)
    assert not any("\ufffd" in line for line in lines)


@given(st.permutations(range(3)))
def test_a_new_order_keeps_every_comment(order: list[int]) -> None:
    """Songs are moved together with the comments over them; nothing else changes."""
    made = edit(SMALL, change="order", order=order)
    before, after = tomllib.loads(SMALL), tomllib.loads(made)
    assert after["songs"] == [before["songs"][i] for i in order]
    assert after["players"] == before["players"] and after["name"] == before["name"]
    assert sorted(made.split()) == sorted(SMALL.split())
    for comment, chart in (("# the opener", "lantern-road"), ("# the last one", "breakwater")):
        assert re.search(rf'{comment}\n\[\[songs\]\]\nchart = "{chart}', made)
    back = [order.index(i) for i in range(3)]
    assert edit(made, change="order", order=back) == SMALL


def test_the_example_is_reordered_and_comes_back() -> None:
    """The example set turned round twice is the example set, byte for byte."""
    order = list(range(12, -1, -1))
    turned = edit(FRIDAY, change="order", order=order)
    assert tomllib.loads(turned)["songs"] == tomllib.loads(FRIDAY)["songs"][::-1]
    assert edit(turned, change="order", order=order) == FRIDAY


@pytest.mark.parametrize(
    ("change", "line"),
    [
        ({"change": "song", "at": 1, "setting": "key", "value": "C"}, 'key = "C"'),
        ({"change": "song", "at": 0, "setting": "note", "value": 'say "hi"'}, 'note = "say'),
        ({"change": "player", "at": 0, "setting": "reads", "value": "shapes"}, 'reads = "shapes"'),
        ({"change": "add", "value": "winter-mooring.chart"}, 'chart = "winter-mooring.chart"'),
        ({"change": "add-player", "value": "Bo"}, 'name = "Bo"'),
    ],
)
def test_a_change_touches_its_own_line(change: dict[str, Any], line: str) -> None:
    """One line is new or another; every comment and all else stay as they were."""
    made = edit(SMALL, **change)
    assert line in made
    gone = set(SMALL.splitlines()) - set(made.splitlines())
    assert len(gone) <= 1 and not any("#" in one for one in gone)


@pytest.mark.parametrize("text", [SMALL, FRIDAY, "", 'name = "N"\n', "[[players]]\nname='A'\n"])
def test_a_new_player_stands_behind_the_others(text: str) -> None:
    """Songs, players and their tables keep their places; the new one is a guitarist."""
    if "guitars = [" in text:
        text = text.replace("[[songs]]", '[[players.guitars]]\nname = "third"\n\n[[songs]]', 1)
        text = text.replace("guitars = [", "others = [")
    made, before = tomllib.loads(edit(text, change="add-player", value="Bo")), tomllib.loads(text)
    added = {"name": "Bo", "reads": "both", "instrument": "guitar"}
    assert made == {**before, "players": [*before.get("players", []), added]}


def test_a_song_is_taken_out_with_its_comment() -> None:
    """The others keep theirs."""
    made = edit(SMALL, change="remove", at=0)
    assert [s["chart"][:5] for s in tomllib.loads(made)["songs"]] == ["paper", "break"]
    assert "# the opener" not in made and "# the last one" in made


def test_a_song_that_somebody_sits_out_is_taken_out(night: Served) -> None:
    """Whatever it is called where players sit it out: title, chart, a part of one, or number.  Who
    sits out another song goes on doing so, and the night has no mistake."""
    away = '"Paper Harbour", "paper-harbour", "harb", 2, "3", "Breakwater"'
    text = SMALL.replace("# plays", f"# plays left-handed\nsits_out = [{away}]  #", 1)
    folder = Folder(night.folder)
    request = SetEditRequest(name="small.toml", text=text, change="remove", at=1)
    made = without_song(folder, request)["text"]
    assert isinstance(made, str)
    assert tomllib.loads(made)["players"][0]["sits_out"] == ["2", "Breakwater"]
    assert not night_facts(folder, SetRequest(name="small.toml", text=made))["mistakes"]


@pytest.mark.parametrize("text", ["songs = 3", "name = ", "[[songs]]\nchart='a'\n[x]\n[[songs]]"])
def test_what_cannot_be_changed_is_said(text: str) -> None:
    """A broken or unusual file is refused in a line, never half changed."""
    with pytest.raises(Unusable):
        edit(text, change="order", order=[1, 0])


def test_the_books_are_those_of_the_command(night: Served, tmp_path: Path) -> None:
    """The desk writes byte for byte what ``chartkit book`` writes."""
    from chartkit.cli.main import PROGRAM

    call = ["book", str(night.path("small.toml")), "-o", str(tmp_path / "by-command"), "-j", "1"]
    with pytest.raises(SystemExit) as end:
        PROGRAM(call)
    assert not end.value.code
    steps: list[tuple[str, int, int]] = []
    request = BooksRequest(name="small.toml", text=SMALL)
    made = make_books(Folder(night.folder), request, lambda *step: steps.append(step))
    assert made["folder"] == "small" and made["files"] == ["ada.pdf", "set-sheet.pdf"]
    for name in made["files"]:
        assert (
            night.path(f"small/{name}").read_bytes()
            == (tmp_path / "by-command" / name).read_bytes()
        )
    assert any(doing == "engraving" and at == of for doing, at, of in steps)


def test_mistakes_of_a_set_are_reported_at_their_places(night: Served) -> None:
    """A set with mistakes shows no night but each mistake with its line."""
    facts = night_facts(
        Folder(night.folder), SetRequest(name="small.toml", text=SMALL.replace('"both"', '"both'))
    )
    assert facts["night"] is None and facts["mistakes"][0]["line"] == 6
    with pytest.raises(Unusable):
        make_books(Folder(night.folder), BooksRequest(name="small.toml", text="x = "), print)


def test_a_song_s_mistakes_are_not_the_night_s(pane: Any) -> None:
    """While the set is being read, the foot says nothing of the song that was open before."""
    pane.click("#night-door")
    expect(pane.locator("#night-door")).to_have_text("the night")
    pane.fill("#text", SONG.replace("key: Db", "key: Hb"))
    expect(pane.locator("#count")).to_have_class("wrong")
    pane.route("**/api/night", lambda route: None)
    pane.click("#night-door")
    expect(pane.locator("#count")).to_have_text("")
    expect(pane.locator("#mistakes")).to_have_text("")


def test_the_night_goes_on_while_books_are_made(
    pane: Any, night: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Books take their time, and what is changed meanwhile is shown at once."""
    done = Event()

    def slow_books(*_: object) -> dict[str, object]:
        done.wait(30)
        return {"files": ["set-sheet.pdf"], "folder": "small", "unchanged": 0, "messages": []}

    monkeypatch.setattr("chartkit.desk.routes.make_books", slow_books)
    try:
        pane.click("text=Make the books")
        pane.locator("#night tbody .handle").first.press("Delete")
        expect(pane.locator("#night tbody tr")).to_have_count(2)
        expect(pane.locator(".made progress")).to_be_visible()
    finally:
        done.set()
    expect(pane.locator(".made a")).to_have_text(["set-sheet.pdf"])


def test_songs_are_dragged_into_order(pane: Any, night: Served) -> None:
    """A song dragged by its number moves in the set file; the file is written when saved."""
    rows = pane.locator("#night tbody tr")
    rows.nth(0).locator(".handle").hover()
    last = rows.nth(2).bounding_box()
    pane.mouse.down()
    pane.mouse.move(last["x"] + 40, last["y"] + last["height"] - 3, steps=8)
    pane.mouse.up()
    expect(rows.nth(2)).to_contain_text("Lantern Road")
    assert pane.input_value("#text") == edit(SMALL, change="order", order=[1, 2, 0])
    assert night.path("small.toml").read_text() == SMALL
    pane.keyboard.press("Control+s")
    expect(pane.locator("#state")).to_have_text("small.toml · saved")
    assert tomllib.loads(night.path("small.toml").read_text())["songs"][2]["note"] == "long intro"


def test_songs_are_moved_by_keys(pane: Any) -> None:
    """Arrow keys on a song's number move it, and the focus goes with it; it is said aloud."""
    pane.locator("#night .handle").nth(0).focus()
    pane.keyboard.press("ArrowDown")
    rows = pane.locator("#night tbody tr")
    expect(rows.nth(1)).to_contain_text("Lantern Road")
    expect(pane.locator("#night .said")).to_have_text("Lantern Road is song 2 now")
    expect(rows.nth(1).locator(".handle")).to_be_focused()


def test_changes_made_at_once_mean_the_songs_that_were_seen(pane: Any) -> None:
    """A song is moved down and then two are taken out before the night is drawn anew: those two go,
    wherever they stand by then."""
    pane.locator("#night .handle").nth(0).focus()
    pane.evaluate(
        """() => {
            const down = new KeyboardEvent("keydown", { key: "ArrowDown" });
            document.activeElement.dispatchEvent(down);
            document.querySelector("[aria-label='Take Lantern Road out']").click();
            document.querySelector("[aria-label='Take Paper Harbour out']").click();
        }"""
    )
    rows = pane.locator("#night tbody tr")
    expect(rows).to_have_count(1)
    text = pane.locator("#text").input_value()
    assert [one["chart"] for one in tomllib.loads(text)["songs"]] == ["breakwater.chart"]


def test_a_song_may_be_played_in_every_key(night: Served) -> None:
    """The twelve keys offered have the song's mode, the fewest signs, and where six flats are as
    good as six sharps the kind of signs that the song has (common practice, no source)."""
    text = SMALL.replace("breakwater", "winter-mooring")
    facts = night_facts(Folder(night.folder), SetRequest(name="small.toml", text=text))["night"]
    flat, _, minor = (song["keys"] for song in facts["songs"])  # type: ignore[index]
    assert " ".join(name for name, _ in flat) == "C Db D Eb E F Gb G Ab A Bb B"
    assert ["Gb", "G♭ major"] in flat and ["C#", "C♯ minor"] in minor
    assert all(words.endswith(" minor") for _, words in minor)


def test_keys_and_readings_are_chosen(pane: Any) -> None:
    """Tonight's key, what a player reads and on what paper are written into the set file; the plan
    follows."""
    pane.locator("#night tbody select").nth(0).select_option("C")
    pane.wait_for_function("() => document.getElementById('text').value.includes('key = \"C\"')")
    expect(pane.locator("#night select.moved")).to_have_count(1)
    pane.locator(".people select").first.select_option("words")
    wanted = "() => document.getElementById('text').value.includes('reads = \"words\"')"
    pane.wait_for_function(wanted)
    expect(pane.locator("#night .badge")).to_have_count(0)
    pane.get_by_label("Paper of Ada").select_option("letter")
    expect(pane.locator("#text")).to_have_value(re.compile('^paper = "letter"$', re.MULTILINE))
    pane.get_by_label("Print size of Ada").select_option("large")
    expect(pane.locator("#text")).to_have_value(re.compile("^large = true$", re.MULTILINE))
    expect(pane.get_by_label("Print size of Ada")).to_have_value("large")


def test_books_are_made_with_progress(pane: Any, night: Served) -> None:
    """The button makes the books beside the set, lists them, and each opens."""
    pane.click("text=Make the books")
    expect(pane.locator(".made li")).to_have_text(["ada.pdf", "set-sheet.pdf"], timeout=30000)
    link = pane.locator(".made a").first.get_attribute("href")
    answer = pane.request.get(f"http://{night.host}{link}")
    assert answer.body() == night.path("small/ada.pdf").read_bytes()


def test_a_player_gets_another_name() -> None:
    """Only names change, also the one that another player keeps clear of; no two are alike."""
    two = edit(SMALL, change="add-player", value="Bo").replace(
        'name = "Bo"\n', 'name = "Bo"\nbeside = "Ada"\n'
    )
    made = edit(two, change="player", at=0, setting="name", value="Jens")
    players = tomllib.loads(made)["players"]
    assert [one["name"] for one in players] == ["Jens", "Bo"] and players[1]["beside"] == "Jens"
    assert made == two.replace('"Ada"', '"Jens"')
    with pytest.raises(Unusable, match="Bo plays already"):
        edit(two, change="player", at=0, setting="name", value="Bo")


@pytest.mark.parametrize("text", [edit(SMALL, change="add-player", value="Cleo"), FRIDAY])
def test_a_player_is_taken_out(text: str) -> None:
    """A player goes with the tables inside; every other player, song and comment stays."""
    before = tomllib.loads(text)
    for at, gone in enumerate(before["players"]):
        after = tomllib.loads(edit(text, change="remove-player", at=at))
        names = [one["name"] for one in before["players"] if one is not gone]
        assert [one["name"] for one in after.get("players", [])] == names
        assert after["songs"] == before["songs"]
        assert all(one.get("beside") != gone["name"] for one in after.get("players", []))
    added = edit(SMALL, change="add-player", value="Bo")
    assert edit(added, change="remove-player", at=1).split() == SMALL.split()


ONE = SMALL[: SMALL.index('\n[[songs]]\nchart = "paper')]


@settings(deadline=None)
@given(
    st.lists(
        st.one_of(
            st.tuples(st.just("instrument"), st.sampled_from(("", *INSTRUMENTS))),
            st.tuples(st.just("reads"), st.sampled_from(READS)),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_whatever_is_chosen_can_be_read(choices: list[tuple[str, str]]) -> None:
    """Instruments and readings chosen one after the other never make a set with mistakes: what
    cannot be read on an instrument is changed with it, or refused in words."""
    text = SMALL
    for setting, value in choices:
        try:
            text = edit(text, change="player", at=0, setting=setting, value=value)
        except Unusable as reason:
            assert value == "transposed" and "plays nothing that is read transposed" in str(reason)
        else:
            assert tomllib.loads(text)["players"][0].get(setting, "") == value
    reading = read_set(Source(text, "small.toml"), ROOT / "examples")
    assert reading.set_list is not None and not reading.diagnostics


BAND = SMALL.replace(
    "# the opener",
    "".join(f'[[players]]\nname = "{n}"\nreads = "both"\ninstrument = "guitar"\n\n' for n in "BC")
    + "# the opener",
)


@settings(deadline=None)
@given(
    st.lists(
        st.tuples(
            st.integers(0, 2),
            st.sampled_from(("reads words", "reads both", "instrument voice", "instrument guitar"))
            | st.tuples(st.sampled_from(("", "part ")), st.sampled_from(("Ada", "B", "C"))).map(
                lambda one: f"beside {one[0]}{'beside ' if one[0] else ''}{one[1]}"
            ),
        ),
        max_size=8,
    )
)
def test_nobody_plays_beside_nobody(choices: list[tuple[int, str]]) -> None:
    """Parts and clear places beside other guitarists, chosen in any order among those who are
    offered, never make a set with mistakes: who has nobody left plays full chords."""
    text = BAND
    for at, choice in choices:
        setting, _, value = choice.partition(" ")
        players = tomllib.loads(text)["players"]
        guitarists = {p["name"] for p in players if p["reads"] == "both" and not p.get("part")}
        if setting == "beside" and (
            players[at]["reads"] != "both"
            or value.split()[-1] not in guitarists - {players[at]["name"]}
        ):
            continue
        text = edit(text, change="player", at=at, setting=setting, value=value)
    reading = read_set(Source(text, "band.toml"), ROOT / "examples")
    assert reading.set_list is not None and not reading.diagnostics


def test_a_voice_gets_its_keys(night: Served) -> None:
    """A singer's range is written as notes, however it was said; with it every song goes into the
    key that ``chartkit singer --write`` gives it, and what is no range is refused."""
    ranged = edit(SMALL, change="player", at=0, setting="range", value="G3 to C5")
    assert tomllib.loads(ranged)["players"][0]["range"] == "G3-C5"
    with pytest.raises(Unusable, match="not a note"):
        edit(SMALL, change="player", at=0, setting="range", value="low to E5")
    folder = Folder(night.folder)
    made = sung_set(folder, SetEditRequest(name="x.toml", text=ranged, change="sing-player"))
    opened = open_night(folder, SetRequest(name="x.toml", text=ranged), lambda *_: None)
    assert opened.night is not None
    keys = keys_to_write(sung_night(opened.night, opened.night.set_list.players[0]))
    songs = tomllib.loads(str(made["text"]))["songs"]
    assert keys and keys == {i: song["key"] for i, song in enumerate(songs) if "key" in song}
    assert str(made["said"]).startswith(f"{len(keys)} song")


def test_a_second_key_takes_nothing_out(pane: Any) -> None:
    """After a song is taken out by keys, the next song's handle has the focus, not its *take out*;
    and its own key stands in the list of keys once."""
    own = pane.locator("#night tbody select").nth(1)
    names = own.locator("option").all_inner_texts()
    assert len(names) == len(set(names)) == 12
    pane.locator(".take-out").nth(0).focus()
    pane.keyboard.press("Enter")
    expect(pane.locator("#night tbody tr")).to_have_count(2)
    expect(pane.locator(".handle").first).to_be_focused()
    pane.keyboard.press("Enter")
    expect(pane.locator("#night tbody tr")).to_have_count(2)


def test_a_message_goes_when_it_is_mended(pane: Any) -> None:
    """What was refused is said at the foot, and goes by itself once the night stands again."""
    pane.locator("[aria-label='What Ada reads']").select_option("transposed")
    expect(pane.locator("#mistakes")).to_contain_text("plays nothing that is read transposed")
    pane.locator("[aria-label='What Ada plays']").select_option("E flat alto saxophone")
    expect(pane.locator("#mistakes")).to_have_text("")


@pytest.mark.parametrize(
    ("chosen", "reads"),
    [
        ("B flat trumpet", "transposed"),
        ("drums", "road-map"),
        ("voice", "words"),
        ("piano", "sounding"),
        ("", "sounding"),
        ("ukulele", "both"),
    ],
)
def test_an_instrument_brings_its_reading(chosen: str, reads: str) -> None:
    """A guitarist who reads both plays something else: the page is one for that instrument."""
    made = edit(SMALL, change="player", at=0, setting="instrument", value=chosen)
    assert tomllib.loads(made)["players"][0]["reads"] == reads
    back = edit(made, change="player", at=0, setting="instrument", value="guitar")
    assert tomllib.loads(back)["players"][0]["instrument"] == "guitar"


@pytest.mark.parametrize(
    ("setting", "value", "given"),
    [
        ("paper", "letter", {"paper": "letter"}),
        ("size", "1.2", {"size": 1.2}),
        ("size", "0.9-1.3", {"size": "0.9-1.3"}),
        ("size", "large", {"large": True}),
        ("size", "", {}),
    ],
)
def test_paper_and_print_are_a_players_own(setting: str, value: str, given: Any) -> None:
    """Each is written as a set file has it, takes the place of the other kind of size, and is
    shown as it was chosen; one that is taken out leaves nothing."""
    for before in (SMALL, *(edit(SMALL, change="player", setting="size", value=v) for v in SIZES)):
        made = edit(before, change="player", at=0, setting=setting, value=value)
        player = tomllib.loads(made)["players"][0]
        sizes = {"size", "large"} & player.keys()
        assert given.items() <= player.items() and (setting == "paper" or sizes <= given.keys())
        assert "# plays left-handed" in made
        folder = Folder(ROOT / "examples")
        facts: Any = night_facts(folder, SetRequest(name="x.toml", text=made))["night"]
        assert facts["players"][0][setting] == value


@pytest.mark.parametrize("text", [SMALL, FRIDAY, SMALL.replace('name = "Small Night"\n', "")])
def test_the_night_gets_a_name_a_day_and_a_place(text: str) -> None:
    """Each stands at the top of the file, everything else as it was; emptied, a day and a place
    are gone and a name stays."""
    before = tomllib.loads(text)
    made = edit(text, change="set", setting="name", value="Harvest Supper")
    made = edit(made, change="set", setting="date", value="2026-12-05")
    made = edit(made, change="set", setting="place", value="The Long Barn")
    after = tomllib.loads(made)
    about = {"name": "Harvest Supper", "date": date(2026, 12, 5), "place": "The Long Barn"}
    assert after == {**before, **about}
    assert [c for c in text.splitlines() if "#" in c] == [c for c in made.splitlines() if "#" in c]
    made = edit(made, change="set", setting="place", value="")
    assert "place" not in tomllib.loads(made)
    made = edit(made, change="set", setting="date", value="next Friday")
    assert tomllib.loads(made)["date"] == "next Friday"
    with pytest.raises(Unusable, match="a night needs a name"):
        edit(made, change="set", setting="name", value="")


def test_the_last_song_and_player_stay() -> None:
    """A night without songs or players is none: the last one of each is not taken out."""
    for change, words in (("remove", "only song"), ("remove-player", "only player")):
        with pytest.raises(Unusable, match=words):
            edit(ONE, change=change, at=0)


@pytest.mark.parametrize("name", ["Ada", "ADA", "ada ", "Set Sheet"])
def test_no_two_books_have_one_name(name: str) -> None:
    """A player whose book would take the name of another's, or of the set sheet, is not added."""
    with pytest.raises(Unusable, match=r"plays already|set sheet's own name"):
        edit(SMALL, change="add-player", value=name)


def test_a_refused_choice_is_not_shown(pane: Any) -> None:
    """What cannot be chosen is said, and the control shows what stands in the set again."""
    reads = pane.get_by_label("What Ada reads")
    reads.select_option("transposed")
    expect(pane.locator("#mistakes")).to_contain_text("choose what is played first")
    expect(reads).to_have_value("both")
    pane.get_by_label("What Ada plays").select_option("B flat trumpet")
    expect(pane.get_by_label("What Ada reads")).to_have_value("transposed")


def test_a_night_is_filled_by_titles(pane: Any) -> None:
    """A song is added by its title, typed in any case; one that is not there is said so; a song
    is taken out by its button, the night's name typed over, and another night begun."""
    rows, field = pane.locator("#night tbody tr"), pane.get_by_label("add a song")
    field.fill("no such song")
    field.press("Enter")
    expect(pane.locator("#night .said")).to_contain_text("No other song of the folder is called")
    field.fill("winter mooring")
    field.press("Enter")
    expect(rows).to_have_count(4)
    expect(pane.locator("#night .said")).to_have_text("Winter Mooring is added at the end")
    expect(pane.get_by_label("add a song")).to_be_focused()
    pane.get_by_role("button", name="Take Winter Mooring out").click()
    expect(rows).to_have_count(3)
    pane.get_by_label("add a song").evaluate(
        """(field) => {
            field.value = "Winter Mooring"; // as the browser does when it is chosen from the list
            field.dispatchEvent(new InputEvent("input", { inputType: "insertReplacementText" }));
        }"""
    )
    expect(rows).to_have_count(4)
    rows.nth(1).hover()
    rows.nth(1).get_by_role("button", name="Take Paper Harbour out").click()
    expect(rows).to_have_count(3)
    pane.get_by_label("Name of the night").fill("Harvest Supper")
    pane.keyboard.press("Enter")
    expect(pane.locator("#title")).to_have_text("Harvest Supper")
    pane.keyboard.press("Control+o")
    pane.click("text=A new night")
    expect(pane.locator("#state")).to_contain_text("night.toml · not saved yet")
    expect(rows).to_have_count(4)


def test_songs_move_on_under_a_hand_at_the_edge(pane: Any) -> None:
    """In a low window a song is dragged from the first place to the last, which is out of sight."""
    pane.set_viewport_size({"width": 1000, "height": 360})
    rows = pane.locator("#night tbody tr")
    handle = rows.nth(0).locator(".handle")
    handle.hover()
    box, frame = handle.bounding_box(), pane.locator("#night").bounding_box()
    pane.mouse.down()
    pane.mouse.move(box["x"] + 5, frame["y"] + frame["height"] - 4, steps=4)
    expect(rows.nth(2)).to_have_class(re.compile("below"))
    pane.mouse.up()
    expect(rows.nth(2)).to_contain_text("Lantern Road")


def test_a_night_needs_a_saved_song(bare: Any) -> None:
    """With no song in the folder but one that is not saved, no night is begun: it is said why."""
    bare.keyboard.press("Escape")
    bare.locator("#text").fill("title: Pier Light\nkey: C\n\n== A\n| C |")
    expect(bare.locator("#state")).to_contain_text("a copy is kept")
    bare.click("#night-door")
    expect(bare.locator("#mistakes")).to_contain_text("save one first")
    bare.locator("#text").press("Control+End")
    with bare.expect_response("**/api/neck"):  # the page's next answer does not take it away
        bare.keyboard.type(" D |")
        bare.click("#night-door")
    expect(bare.locator("#mistakes")).to_contain_text("save one first")
    expect(bare.locator("#text")).to_have_value(re.compile("Pier Light"))


def test_what_is_not_saved_is_said_beside_the_books(pane: Any) -> None:
    """Books are made of files: a song begun and not saved, and one changed and not saved, are
    named under the heading, with a door to each; each is saved from there, and the one that had
    no file is added to the night."""
    pane.click("#night-door")
    expect(pane.locator("#text")).to_have_value(re.compile("title: "))
    pane.locator("#text").press("Control+End")
    pane.keyboard.type("\n== Tag\n| C |")
    pane.click("#bring-in")
    pane.fill(".pasted", "Pier Light\n\nG  D  G\nNobody lit it\n")
    pane.click("text=Read it")
    pane.click("text=Use this chart")
    expect(pane.locator("#state")).to_contain_text("a copy is kept")
    pane.click("#night-door")
    lines = pane.locator("#night .unsaved")
    expect(lines).to_have_count(2)
    expect(lines.first).to_contain_text("Pier Light")
    expect(lines.last).to_contain_text("the books have the saved version")
    lines.first.get_by_role("button", name="Pier Light", exact=True).click()
    expect(pane.locator("#text")).to_have_value(re.compile("body / lit it"))
    pane.click("#night-door")
    count = pane.locator("#night tbody tr").count()
    lines.first.get_by_role("button", name="save and add: Pier Light").click()
    expect(pane.locator("#night .said")).to_have_text("Pier Light is saved and added at the end")
    expect(pane.locator("#night tbody tr")).to_have_count(count + 1)
    expect(pane.locator("#text")).to_have_value(re.compile('chart = "pier-light.chart"'))
    expect(lines).to_have_count(1)
    lines.get_by_role("button", name=re.compile("^save: ")).click()
    expect(lines).to_have_count(0)
    expect(pane.locator("#night .said")).to_contain_text("is saved")
