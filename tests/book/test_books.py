"""Every player's book: what is in it, where, and what becomes of what is broken."""

import re
from collections.abc import Mapping
from io import BytesIO

import pytest
from pypdf import PageObject, PdfReader

from chartkit.book.assemble import SongInBook, next_lines_of
from chartkit.book.books import BookOptions, made_night, sheet_rows
from chartkit.book.night import (
    UnknownSong,
    in_running_order,
    left_out_lines,
    moved_night,
    moved_tonight,
    order_of,
    planned_night,
    read_night,
    song_number,
)
from chartkit.book.night_plan import planned_capos
from chartkit.book.plan_text import plan_lines
from chartkit.book.workshop import Workshop
from chartkit.diagnostics import Source
from chartkit.disk_cache import DiskCache
from chartkit.theory.capo import Capo
from tests.book.sets import PLAYERS, chart, files_of, made_of, night_of, set_text, simple_set
from tests.each import each

BROKEN = "title: Split Keel\nkey: Q\n\n| Gmaj77 | C |\n"


def books_of(
    texts: dict[str, str], set_file: str, options: BookOptions | None = None
) -> dict[str, PdfReader]:
    """Every file a set makes, opened."""
    made = files_of(made_of(texts, set_file), options)
    return {name: PdfReader(BytesIO(content)) for name, content in made.items()}


def page_texts(reader: PdfReader) -> list[str]:
    """The text of every page."""
    return [page.extract_text() for page in reader.pages]


def songs_begin(reader: PdfReader) -> dict[str, int]:
    """Where the outline's songs begin, page numbers from 1."""
    return {
        str(entry.title): reader.get_destination_page_number(entry) + 1
        for entry in reader.outline
        if not isinstance(entry, list)
    }


def sections(reader: PdfReader) -> Mapping[str, list[str]]:
    """The sections under each song of the outline."""
    titles: dict[str, list[str]] = {}
    last = ""
    for entry in reader.outline:
        if isinstance(entry, list):
            titles[last] = [str(one.title) for one in entry]
        else:
            last = str(entry.title)
    return titles


def test_the_set_sheet_says_who_begins_and_titles_as_pages_do() -> None:
    """A count-in of the set file, else the first cue of the chart, up to a colon; titles and notes
    have true quotes."""
    texts = {
        "a.chart": 'title: Ada\'s Tide\nkey: C\n\n== Intro\n"drums: four bars"\n| C | F |\n',
        "b.chart": 'title: Ebb\nkey: C\n\n== Intro\n| C | F |\n"later"\n| C |\n',
    }
    songs = "".join(
        f'[[songs]]\nchart = "{name}"\nnote = "Bo\'s own"\n{begins}'
        for name, begins in (
            ("a.chart", ""),
            ("a.chart", 'count_in = "two bars"\n'),
            ("b.chart", ""),
        )
    )
    made = made_of(texts, f'name = "Night"\n{PLAYERS}\n{songs}')
    rows = sheet_rows(made)
    assert [row.count_in for row in rows] == ["drums", "count-in: two bars", ""]
    assert [row.title for row in rows] == ["Ada’s Tide", "Ada’s Tide", "Ebb"]
    assert {row.aside for row in rows} == {"Bo’s own"}
    assert [song.title for song in made.books[0].songs] == [row.title for row in rows]
    assert song_number("ebb", made.night.facts, made.night.set_list) == 2


def test_one_book_a_player_and_a_set_sheet() -> None:
    """A set makes a PDF for each player by name, and one set sheet of one page."""
    books = books_of(*simple_set(3))
    assert sorted(books) == ["ada.pdf", "bo.pdf", "cy.pdf", "set-sheet.pdf"]
    assert len(books["set-sheet.pdf"].pages) == 1
    for name in ("ada.pdf", "bo.pdf", "cy.pdf"):
        assert list(songs_begin(books[name])) == [
            "Running order",
            "1. Song 1",
            "2. Song 2",
            "3. Song 3",
        ]


def test_everybody_reads_their_own() -> None:
    """The singer gets words alone, the guitarist shapes for the capo, the trumpet its own key."""
    texts = {"a.chart": chart("Alpha", "Db", 1)}
    books = books_of(texts, set_text(['chart = "a.chart"\ncapo = 1']))
    singer, guitar, trumpet = (page_texts(books[f"{n}.pdf"])[-1] for n in ("ada", "bo", "cy"))
    assert "low tide comes in" in singer
    assert "D♭ D♭" not in singer
    assert "C major shapes, sounds in D♭ major" in guitar
    assert "Key of D♭ major, written in E♭ major for B♭" in trumpet
    assert "E♭ E♭ E♭ E♭" in trumpet


def test_a_guitarist_reads_that_the_capo_is_off() -> None:
    """A page of shapes without a capo says so first of all under the title, where others have the
    fret, and so does its row in the running order; the others' pages do not."""
    texts = {"a.chart": chart("Alpha", "G"), "b.chart": chart("Beta", "A")}
    entries = ['chart = "a.chart"\ncapo = 0', 'chart = "b.chart"\ncapo = 2']
    books = books_of(texts, set_text(entries))
    order, without, with_capo = page_texts(books["bo.pdf"])
    assert order.count("no capo") == 1 and "Key of G major · no capo" in order
    assert "No capo Key of G major" in " ".join(without.split())
    assert "no capo" not in without and "no capo" not in with_capo.lower()
    others = [page for name in ("ada", "cy") for page in page_texts(books[f"{name}.pdf"])]
    assert not any("no capo" in page.lower() for page in others)


def test_the_front_says_what_to_set_up() -> None:
    """Above the songs stand the instrument and what its player does before the first song played;
    a singer sets nothing up."""
    texts = {"a.chart": chart("Alpha", "Db"), "b.chart": chart("Beta", "A")}
    entries = ['chart = "a.chart"\ncapo = 1', 'chart = "b.chart"\ncapo = 2']
    for sits_out, words in (
        ("", "the first song: Capo on fret 1."),
        ("[1]", "song 2: Capo on fret 2."),
    ):
        players = PLAYERS.replace('"guitar"', f'"guitar"\nsits_out = {sits_out or []}')
        for stage in ("", '[stage]\ncapos = "chart"\n'):
            books = books_of(texts, set_text(entries, players, stage))
            fronts = {name: page_texts(book)[0] for name, book in books.items()}
            assert f"Guitar. Before {words}" in fronts["bo.pdf"]
            assert "B flat trumpet" in fronts["cy.pdf"]
            assert "Before" not in fronts["ada.pdf"] + fronts["cy.pdf"]


def test_the_front_names_guitar_and_tuning() -> None:
    """A player of several guitars reads which to begin on; one whose guitar has another tuning
    reads it."""
    texts = {"a.chart": chart("Alpha", "D")}
    several = 'guitars = [{ name = "the red one" }, { name = "the slack one", tuning = "DADGAD" }]'
    for own, words in ((several, "Begin on the"), ('tuning = "DADGAD"', "Guitar, DADGAD. Before")):
        players = PLAYERS.replace('"guitar"', f'"guitar"\n{own}')
        front = page_texts(books_of(texts, set_text(['chart = "a.chart"'], players))["bo.pdf"])[0]
        assert words in " ".join(front.split())


def test_pages_are_numbered_through_with_running_heads() -> None:
    """Every song's page names set, player and song, and its number of all pages."""
    book = books_of(*simple_set(3))["bo.pdf"]
    texts = page_texts(book)
    for number, text in enumerate(texts[1:], 2):
        assert f"page {number} of {len(texts)}" in text
        assert "A Night · Bo" in text
    assert book.page_labels == [str(number) for number in range(1, len(texts) + 1)]


def test_the_running_order_leads_to_every_song() -> None:
    """Each song's row is a link to the page the outline says, and prints its number."""
    book = books_of(*simple_set(4))["bo.pdf"]
    begins = songs_begin(book)
    links = [note.get_object() for note in book.pages[0]["/Annots"]]  # type: ignore[attr-defined]
    pages = [book.get_page_number(link["/Dest"][0].get_object()) + 1 for link in links]
    assert pages == [begins[f"{n}. Song {n}"] for n in range(1, 5)]
    first = page_texts(book)[0]
    for number, page in enumerate(pages, 1):
        assert re.search(rf"{number} Song {number}\s+{page}(?!\d)", first)


def test_a_long_order_goes_on_over_pages() -> None:
    """A running order of many songs takes several pages, and every link still leads right."""
    book = books_of(*simple_set(45))["ada.pdf"]
    begins = songs_begin(book)
    assert begins["1. Song 1"] > 2
    links = [
        note.get_object()
        for page in book.pages[: begins["1. Song 1"] - 1]
        for note in page["/Annots"]  # type: ignore[attr-defined]
    ]
    pages = [book.get_page_number(link["/Dest"][0].get_object()) + 1 for link in links]
    assert pages == [begins[f"{n}. Song {n}"] for n in range(1, 46)]


def test_songs_of_two_pages_open_on_facing_pages() -> None:
    """On paper no song with an even number of pages begins on a right page; screens have no
    blank pages."""
    texts = {f"{n}.chart": chart(f"S{n}", "C", rows) for n, rows in enumerate((4, 20, 5, 20, 4))}
    books = books_of(texts, set_text([f'chart = "{name}"' for name in texts]))
    paper = books["bo.pdf"]
    begins = [*songs_begin(paper).items()][1:]
    texts_on = page_texts(paper)
    pages = [sum(f"song {n}\n" in text + "\n" for text in texts_on) for n in range(1, 6)]
    assert 2 in pages and 1 in pages
    for (name, start), count in zip(begins, pages, strict=True):
        assert count % 2 or start % 2 == 0, name
    blanks = [text for text in texts_on if "left blank" in text]
    assert blanks and all("opens on two facing pages" in text for text in blanks)
    assert not any("left blank" in text for text in page_texts(books["cy.pdf"]))


def test_sections_are_bookmarks_under_their_song() -> None:
    """The outline has two levels: songs, and under each its sections."""
    book = books_of(*simple_set(2))["bo.pdf"]
    assert sections(book)["2. Song 2"] == ["Part 1", "Part 2", "Part 3", "Part 4"]


def test_a_song_in_a_book_reads_as_engraved_alone() -> None:
    """What a song's page says in a book is what engraving the chart alone says, but the foot; in a
    book two pages face each other, so the tablet's are compared, which are single in both."""
    from chartkit.arrange.page_look import PageLook
    from chartkit.arrange.view import View
    from chartkit.compile import engraved_pdf
    from tests.charts import DENSE, chart_of

    texts = {"a.chart": DENSE}
    players = PLAYERS.replace('name = "Bo"', 'name = "Bo"\npaper = "tablet"')
    book = books_of(texts, set_text(['chart = "a.chart"\ncapo = 1'], players))["bo.pdf"]
    look = PageLook(paper="tablet")
    alone = PdfReader(BytesIO(engraved_pdf(chart_of(DENSE), View(capo=Capo(1)), look)[1]))
    ours = [t for t in page_texts(book)[1:] if "song 1" in t]
    assert len(ours) == len(alone.pages)
    for one, other in zip(ours, page_texts(alone), strict=True):
        words = other.split("page ")[0].rsplit("\n", 2)[0].split()
        assert words == one.split()[: len(words)]


def test_what_comes_next_stands_at_the_foot() -> None:
    """A song's last page names the next one and what to change for it."""
    texts = {"a.chart": chart("Alpha", "C", 2), "b.chart": chart("Beta", "Bb", 2)}
    songs = ['chart = "a.chart"\ncapo = 0', 'chart = "b.chart"\ncapo = 3']
    book = books_of(texts, set_text(songs))["bo.pdf"]
    assert "next: 2. Beta — Capo on fret 3." in page_texts(book)[1]


def test_what_comes_after_songs_sat_out_stands_at_the_foot() -> None:
    """Before songs that a player sits out, the foot names the one to be played next and what to
    change for it, since no page between could tell, then what is sat out and that there is no pause
    behind it; at the end it only says what is sat out."""
    texts = {f"{n}.chart": chart(f"Song {n}") for n in range(1, 7)}
    songs = [f'chart = "{n}.chart"\ncapo = {n // 2}' for n in range(1, 7)]
    set_file = set_text(songs).replace('"guitar"', '"guitar"\nsits_out = [2, 4, 5]')
    pages = page_texts(books_of(texts, set_file)["bo.pdf"])
    assert "next: 3. Song 3 (2. Song 2: you sit it out) — Capo on fret 1." in pages[1]
    assert (
        "next: 6. Song 6 (songs 4 and 5: you sit them out) — Move the capo from 1 to 3." in pages[2]
    )
    set_file = set_file.replace("[2, 4, 5]", "[6]")
    last = page_texts(books_of(texts, set_file)["bo.pdf"])[5]
    assert last.endswith("next: 6. Song 6, you sit it out")


def test_who_sits_out_a_song_that_runs_straight_on_is_told_so() -> None:
    """The running order, the foot before and the page after say that there is no pause."""
    texts = {f"{n}.chart": chart(f"Song {n}") for n in range(1, 4)}
    songs = [f'chart = "{n}.chart"' for n in range(1, 4)]
    songs[1] += "\nstraight_into_next = true"
    set_file = set_text(songs)
    away = set_file.replace('"guitar"', '"guitar"\nsits_out = [2]')
    order, first, third = page_texts(books_of(texts, away)["bo.pdf"])
    assert "you sit this one out · straight into 3" in order
    assert "next: 3. Song 3, straight after 2. Song 2 (you sit it out)" in first
    assert "straight after Song 2" in third
    for page in page_texts(books_of(texts, set_file)["bo.pdf"]):
        assert "straight after" not in page


def test_a_drummer_reads_meter_and_tempo_in_the_running_order() -> None:
    """Who counts the songs finds how each is counted, and not its key."""
    texts = {"a.chart": chart("Alpha", "Db").replace("tempo: 100", "tempo: 84\nmeter: 6/8")}
    texts["b.chart"] = chart("Beta").replace("tempo: 100\n", "")
    players = '[[players]]\nname = "Mads"\nreads = "road-map"\n'
    set_file = set_text(['chart = "a.chart"\nnote = "brushes"', 'chart = "b.chart"'], players)
    order = page_texts(books_of(texts, set_file)["mads.pdf"])[0].splitlines()
    for song in ("6/8 · tempo 84 · brushes", "4/4"):
        assert any(line.endswith(song) for line in order), song
    assert not any("Key of" in line for line in order)


def test_a_player_of_several_guitars_reads_which() -> None:
    """The running order names the guitar of each song where a player has several."""
    texts = {"a.chart": chart("Alpha"), "b.chart": chart("Beta", "Eb")}
    guitars = 'guitars = [{ name = "the red one" }, { name = "the slack one", tuning = "DADGAD" }]'
    set_file = set_text(['chart = "a.chart"', 'chart = "b.chart"'])
    set_file = set_file.replace('instrument = "guitar"', guitars)
    assert page_texts(books_of(texts, set_file)["bo.pdf"])[0].count(" · the ") == 2


def test_a_song_sat_out_is_reported_and_left_out() -> None:
    """Who sits a song out has no page of it; the running order and the page before say so."""
    texts, set_file = simple_set(3)
    set_file = set_file.replace('reads = "words"', 'reads = "words"\nsits_out = ["Song 2"]')
    book = books_of(texts, set_file)["ada.pdf"]
    assert list(songs_begin(book)) == ["Running order", "1. Song 1", "3. Song 3"]
    assert "you sit this one out" in page_texts(book)[0]
    assert "you sit it out" in page_texts(book)[1]


def test_a_broken_song_is_marked_and_the_rest_is_there() -> None:
    """In place of a broken song stands a page that says so; every other song is in the book."""
    texts, set_file = simple_set(3)
    texts["song2.chart"] = BROKEN
    made = made_of(texts, set_file)
    assert made.night.failed
    assert sum("error[" in message for message in made.night.messages) == 2
    for name, content in files_of(made).items():
        if name != "set-sheet.pdf":
            book = PdfReader(BytesIO(content))
            begins = songs_begin(book)
            assert list(begins)[1:] == ["1. Song 1", "2. Split Keel", "3. Song 3"]
            page = page_texts(book)[begins["2. Split Keel"] - 1]
            assert "This song could not be engraved" in page
            assert "unknown-quality" in page
            assert "next: 3. Song 3" in page
            assert "its chart cannot be used" in page_texts(book)[0]


def test_a_broken_song_can_be_left_out() -> None:
    """Left out, a broken song has no page, but stands in the running order."""
    texts, set_file = simple_set(3)
    texts["song2.chart"] = BROKEN
    books = books_of(texts, set_file, BookOptions(leave_out_broken=True))
    assert list(songs_begin(books["bo.pdf"])) == ["Running order", "1. Song 1", "3. Song 3"]
    assert "Split Keel" in page_texts(books["bo.pdf"])[0]


def test_a_sign_without_a_glyph_is_named_once() -> None:
    """What the chart's own messages name is not named again for its pages; what the set file adds
    is, once for all players."""
    texts, set_file = simple_set(1)
    (name, text), *_ = texts.items()
    song = set_file.replace(
        "[[songs]]\n", "[[songs]]\nnote = '\N{SNOWMAN} \N{HIRAGANA LETTER A}'\n"
    )
    made = made_of({name: text.replace("low", "lo\N{SNOWMAN}w")}, song)
    (chart_says,) = dict.fromkeys(made.night.messages)
    assert "sign-not-in-fonts" in chart_says
    (more,) = made.messages
    assert (
        more == f"{name}: warning[no-glyph]: the fonts cannot draw \N{HIRAGANA LETTER A} (U+3042)"
    )


def test_a_missing_chart_is_reported_where_it_is_named() -> None:
    """A chart that is not there is reported at its line of the set file, and marked in the
    books."""
    texts, set_file = simple_set(3)
    del texts["song2.chart"]
    made = made_of(texts, set_file)
    line = set_file[: set_file.index("song2.chart")].count("\n") + 1
    assert any(f"night.toml:{line}:" in message for message in made.night.messages)
    book = files_of(made)["bo.pdf"]
    assert "2. song2.chart" in songs_begin(PdfReader(BytesIO(book)))


def test_one_in_twenty_broken_costs_no_other_page() -> None:
    """With every twentieth chart broken all pages of all other songs are those of a sound set."""
    texts, set_file = simple_set(20)
    sound = page_texts(books_of(texts, set_file)["bo.pdf"])
    texts["song7.chart"] = BROKEN
    spoilt = page_texts(books_of(texts, set_file)["bo.pdf"])
    assert len(spoilt) == len(sound)
    differing = {
        re.search(r"song (\d+)", one)[1]  # type: ignore[index]
        for one, other in zip(sound[3:], spoilt[3:], strict=True)
        if one.split("next:")[0] != other.split("next:")[0]
    }
    assert differing == {"7"}


def test_single_songs_beside_the_books() -> None:
    """With single songs asked for, each player has a folder with a PDF a song, numbered."""
    texts, set_file = simple_set(2)
    books = books_of(texts, set_file, BookOptions(per_song=True))
    assert {"ada/01-song-1.pdf", "ada/02-song-2.pdf", "cy/02-song-2.pdf"} <= set(books)
    assert "page 1 of 1" in page_texts(books["bo/01-song-1.pdf"])[0]


def test_what_all_share_is_on_the_paper_most_have() -> None:
    """The set sheet is printed on the paper that most players have; screens do not count."""
    texts, set_file = simple_set(2)
    for papers, height in ((("letter", "letter"), 792), (("a4", "letter"), 841.89)):
        ada, bo = (f'paper = "{paper}"' for paper in papers)
        own = set_file.replace('name = "Ada"', f'name = "Ada"\n{ada}')
        own = own.replace('name = "Bo"', f'name = "Bo"\n{bo}')
        sheet = books_of(texts, own)["set-sheet.pdf"]
        assert float(sheet.pages[0].mediabox.height) == pytest.approx(height, abs=0.01)


def test_equal_titles_stay_apart() -> None:
    """Two songs of one title keep their numbers and files; by name alone neither is meant."""
    texts = {"a.chart": chart("Twice"), "b.chart": chart("Twice", "D")}
    set_file = set_text([f'chart = "{name}"' for name in texts])
    books = books_of(texts, set_file, BookOptions(per_song=True))
    assert {"bo/01-twice.pdf", "bo/02-twice.pdf"} <= set(books)
    night = night_of(texts, set_file, plan=False)
    with pytest.raises(UnknownSong, match=r"songs 1 and 2$"):
        song_number("Twice", night.facts, night.set_list)
    assert song_number("2", night.facts, night.set_list) == 1
    assert song_number("B.chart", night.facts, night.set_list) == 1


def test_a_song_moved_tonight_moves_for_everybody() -> None:
    """A key given for tonight reaches every player's pages and the set sheet, and no other song."""
    texts, set_file = simple_set(2)
    night = night_of(texts, set_file)
    moved = moved_tonight(night.set_list, {0: "B"}, {1: -2})
    workshop = Workshop(DiskCache(None))
    again = read_night(moved, Source(set_file), night.texts, workshop, with_plan=True)
    made = files_of(made_night(again, planned_night(again), workshop))
    books = {name: page_texts(PdfReader(BytesIO(content))) for name, content in made.items()}
    assert "sounds in B major" in books["bo.pdf"][1]
    assert "Key of B major, written in D♭ major for B♭" in books["cy.pdf"][1]
    assert "Key of B major" in books["ada.pdf"][1]
    assert "Key of B♭ major, written in C major" in books["cy.pdf"][2]
    assert re.search(r"Song 1\s+B\b", books["set-sheet.pdf"][0])


def test_a_song_moved_tonight_leaves_the_other_capos_alone() -> None:
    """Wherever one song goes, every guitarist has the same capo for the others as without that."""
    keys = ("F", "Bb", "Eb", "Ab")
    texts = {f"{n}.chart": chart(f"Song {n}", key) for n, key in enumerate(keys)}
    players = '\n[[players]]\nname = "Gil"\nreads = "both"\ninstrument = "guitar"\n'
    set_file = set_text([f'chart = "{name}"' for name in texts]) + players
    night = night_of(texts, set_file)
    before = planned_capos(planned_night(night))
    assert any(capo.fret for capo in before[0].values())
    for key in ("A", "B", "Gb"):
        workshop = Workshop(DiskCache(None))
        again = moved_night(night, Source(set_file), {1: key}, {}, workshop, with_plan=True)
        plan = planned_night(again)
        after = planned_capos(plan)
        assert plan.players[0].best[0] == planned_night(night).players[0].best[0]
        assert again.facts[1].key != night.facts[1].key
        assert {n: after[n] for n in (0, 2, 3)} == {n: before[n] for n in (0, 2, 3)}
        assert set(after[1]) == set(before[1])


def test_songs_that_run_together_are_planned_together_when_one_is_moved() -> None:
    """A song that runs straight into the moved one gets a capo that suits both, which is the one
    that the whole night is planned with; a song apart from them keeps its own."""
    texts = {f"{n}.chart": chart(f"Song {n}", key) for n, key in enumerate(("E", "G", "Eb"))}
    players = '\n[[players]]\nname = "Gil"\nreads = "both"\ninstrument = "guitar"\n'
    songs = [
        'chart = "0.chart"\nstraight_into_next = true',
        'chart = "1.chart"',
        'chart = "2.chart"',
    ]
    set_file = set_text(songs) + players
    moved_in_file = set_text([songs[0], songs[1] + '\nkey = "Ab"', songs[2]]) + players
    night = night_of(texts, set_file)
    before = planned_capos(planned_night(night))
    workshop = Workshop(DiskCache(None))
    again = moved_night(night, Source(set_file), {1: "Ab"}, {}, workshop, with_plan=True)
    after = planned_capos(planned_night(again))
    anew = planned_capos(planned_night(night_of(texts, moved_in_file)))
    assert after[0] == after[1] == anew[0] == anew[1] != before[0]
    assert after[2] == before[2]


def test_a_key_of_another_mode_breaks_that_song_alone() -> None:
    """A minor key for a major song is reported at its place in the set file; the rest is made."""
    texts, set_file = simple_set(2, song1='key = "Am"')
    made = made_of(texts, set_file)
    line = set_file[: set_file.index('key = "Am"')].count("\n") + 1
    assert any(
        f"night.toml:{line}:" in message and "cannot make it minor" in message
        for message in made.night.messages
    )
    assert [one.broken for one in made.night.facts] == [True, False]


def test_notes_of_tonight_stand_under_the_title() -> None:
    """A note, the count-in and what follows straight on are printed on the song's page, in one
    line where they fit one."""
    texts, set_file = simple_set(
        2, song1='note = "stand up"\ncount_in = "two bars"\nstraight_into_next = true'
    )
    page = page_texts(books_of(texts, set_file)["ada.pdf"])[1]
    assert "stand up · count-in: two bars · straight into Song 2" in page.splitlines()


def test_the_interval_stands_at_the_foot_and_in_both_lists() -> None:
    """The page before the interval names it with the next song at its foot; the running order and
    the set sheet say so too.  After the last song there is none."""
    pause = "interval_after = true"
    texts, set_file = simple_set(3, song1=pause, song3=pause)
    made = made_of(texts, set_file)
    order, first, second, _ = page_texts(books_of(texts, set_file)["ada.pdf"])
    assert "INTERVAL, then 2. Song 2" in first and "next:" not in first
    assert "next: 3. Song 3" in second and "INTERVAL" not in second
    assert order.count("then the INTERVAL") == 1
    rows = sheet_rows(made)
    assert [row.interval for row in rows] == [True, False, False]
    assert [row.aside for row in rows] == ["then the INTERVAL", "", ""]


@each(
    ("interval", "words"),
    [
        (0, "INTERVAL, then 3. C (2. B: you sit it out)"),
        (1, "next, after the INTERVAL: 3. C (2. B: you sit it out)"),
        (2, "next: 3. C (2. B: you sit it out)"),
    ],
)
def test_the_interval_beside_a_song_that_is_sat_out(interval: int, words: str) -> None:
    """It follows the song on the page, one sat out, or comes later."""
    songs = [
        SongInBook(n + 1, title, away=title == "B", interval=n == interval)
        for n, title in enumerate("ABC")
    ]
    assert next_lines_of(songs, 0) == (words, "")


def test_the_set_sheet_marks_the_song_that_runs_on() -> None:
    """The mark belongs to the song that runs straight into the next; the last song has none."""
    straight = "straight_into_next = true"
    texts, set_file = simple_set(3, song1=straight, song3=straight)
    assert [row.straight for row in sheet_rows(made_of(texts, set_file))] == [True, False, False]


def placed_texts(page: PageObject) -> dict[str, tuple[float, float]]:
    """Where each text of a page stands, from the left and from the foot, in points."""
    placed = dict[str, tuple[float, float]]()

    def visit(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if text.strip():
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            placed[" ".join(text.split())] = x, y

    page.extract_text(visitor_text=visit)
    return placed


@pytest.mark.parametrize("paper", ["a4", "letter", "tablet"])
def test_lines_around_large_print_stand_on_its_paper(paper: str) -> None:
    """Large print may be landscape: its head, page number and what comes next stand on the page as
    it lies, and where most songs lie the running order does too."""
    texts = {f"{n}.chart": chart(f"Song {n}", rows=rows) for n, rows in enumerate((1, 1, 1, 9))}
    players = f'[[players]]\nname = "Ada"\nreads = "sounding"\nlarge = true\npaper = "{paper}"\n'
    set_file = set_text([f'chart = "{name}"' for name in texts], players)
    landscape = []
    for number, page in enumerate(books_of(texts, set_file)["ada.pdf"].pages):
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        landscape.append(width > height)
        placed = placed_texts(page)
        assert all(0 < x < width and 0 < y < height for x, y in placed.values())
        if number and not any(text.startswith("left blank") for text in placed):
            (foot,) = [at for text, at in placed.items() if text.startswith("page ")]
            assert foot[0] > width * 0.8
            assert foot[1] < height * 0.1
    assert landscape[:4] == [True] * 4


def test_the_plan_keeps_what_is_pinned_and_tells_what_to_do() -> None:
    """A pinned capo is in the plan, in the book and in the words for the dark."""
    texts, set_file = simple_set(2, song2="capo = 5")
    night = night_of(texts, set_file)
    plan = planned_night(night)
    (bo,) = plan.players
    assert bo.steps[1] is not None
    assert bo.steps[1].offer.option.fret == 5
    text = "\n".join(plan_lines(night, plan))
    assert re.search(r"2\. Song 2 +(Capo on fret 5\.|nothing to change\.)", text)


def test_charts_decide_where_they_are_to() -> None:
    """With capos from the charts each chart's own is printed, and no plan is made."""
    texts = {"a.chart": chart("Alpha", "Db", 1).replace("tempo", "capo: 4\ntempo")}
    set_file = set_text(['chart = "a.chart"'], PLAYERS, '[stage]\ncapos = "chart"')
    workshop = Workshop(DiskCache(None))
    night = night_of(texts, set_file, workshop, plan=False)
    made = made_night(night, None, workshop)
    book = PdfReader(BytesIO(files_of(made)["bo.pdf"]))
    assert "Capo 4" in page_texts(book)[1]


def test_the_same_set_gives_the_same_bytes() -> None:
    """Books made twice are the same to the byte."""
    texts, set_file = simple_set(3)
    one = files_of(made_of(texts, set_file, Workshop(DiskCache(None))))
    assert one == files_of(made_of(texts, set_file, Workshop(DiskCache(None))))


def test_a_part_of_a_title_is_enough() -> None:
    """A part of a title that only one song has means that song; a part of several is asked
    back with their titles."""
    texts = {"a.chart": chart("Paper Harbour"), "b.chart": chart("Harbour Lights")}
    night = night_of(texts, set_text(['chart = "a.chart"', 'chart = "b.chart"']))
    assert song_number("paper", night.facts, night.set_list) == 0
    assert song_number("LIGHTS", night.facts, night.set_list) == 1
    with pytest.raises(UnknownSong, match="several songs") as asked:
        song_number("harbour", night.facts, night.set_list)
    assert "1 Paper Harbour, 2 Harbour Lights" in asked.value.hint


def test_a_running_order_of_tonight() -> None:
    """Songs are played in the order given, each once; one runs straight on only into the song
    that follows it in the file, and whoever sits a song out still does."""
    texts = {f"{n}.chart": chart(n) for n in ("one", "two", "three")}
    songs = [f'chart = "{n}.chart"\nstraight_into_next = true' for n in ("one", "two", "three")]
    players = PLAYERS.replace('name = "Bo"', 'name = "Bo"\nsits_out = ["two"]')
    night = night_of(texts, set_text(songs, players))
    ordered = in_running_order(night, order_of(night, ("three", "1", "two"))[0])
    assert [one.title for one in ordered.facts] == ["three", "one", "two"]
    assert [song.straight_into_next for song in ordered.set_list.songs] == [False, True, False]
    assert ordered.sat_out[1] == {2}
    assert [one.title for one in in_running_order(night, [1]).facts] == ["two"]
    numbers, wrong = order_of(night, ("1", "one", "nine", "ONE", "two", "ten"))
    assert numbers == (0, 1)
    assert ["twice" in str(one) for one in wrong] == [True, False, False]
    assert [name in str(one) for name, one in zip(("nine", "ten"), wrong[1:], strict=True)] == [
        True,
        True,
    ]


def test_songs_left_out_tonight_are_named() -> None:
    """A running order names the songs it leaves out, with their notes for the night, and counts
    those of a long list; one with every song says nothing."""
    texts = {f"{n}.chart": chart(n) for n in ("one", "two", "three")}
    songs = ['chart = "one.chart"', 'chart = "two.chart"\nnote = "then the interval"']
    night = night_of(texts, set_text([*songs, 'chart = "three.chart"']))
    assert list(left_out_lines(night, (2, 0))) == [
        "1 of 3 songs is left out tonight: two",
        'two is left out with its note: "then the interval"',
    ]
    assert list(left_out_lines(night, (1,))) == ["2 of 3 songs are left out tonight: one and three"]
    assert not list(left_out_lines(night, (2, 1, 0)))
    many = night_of(texts, set_text(['chart = "one.chart"'] * 14))
    (line,) = left_out_lines(many, (13,))
    assert line.endswith("one, one and 3 more") and line.startswith("13 of 14 songs are left out")


def test_a_song_left_out_tonight_has_nothing_to_say() -> None:
    """The mistakes of a song that is not played tonight are not reported, and do not fail the run;
    those of one that is played are and do."""
    texts = {"one.chart": chart("One"), "split.chart": BROKEN}
    night = night_of(texts, set_text([f'chart = "{name}"' for name in texts]))
    assert night.failed and night.messages
    without, both = (in_running_order(night, order) for order in ((0,), (1, 0)))
    assert not without.failed and not without.messages
    assert both.failed and both.messages == night.messages
