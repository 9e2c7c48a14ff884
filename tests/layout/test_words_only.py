"""Pages for those who only sing."""

from itertools import pairwise

import pytest

from chartkit.arrange.page_look import PageLook, PaperName, Show
from chartkit.interchange.midi.performance import performance
from chartkit.layout.engrave import laid_out
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Document, Text
from chartkit.layout.metrics import Typesetter
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged, chart_of, sized
from tests.each import each
from tests.layout.geometry import off_page, overlapping, texts

METRICS = Fonts()
WORDS = PageLook(show="words")
SONG = """\
key: D
capo: 2

== Start
| D | G |

== Verse 1
            | D         | A       Bm | G  |
: Ev- ery   | lan- tern | o- / ver   | us |
|: G       | A :|
: | far     | gone |
== Chorus x2
| D | @fine A |
1: | one | first |
2: | two | second |
"""


def test_words_are_joined_into_lines() -> None:
    """A row of words is a line, its split words whole; verses that share music follow in turn."""
    document = laid_out(arranged(SONG, look=WORDS), WORDS, METRICS)
    assert texts(document, "words") == [
        "Every lantern over us",
        "far gone",
        "far gone",
        "1. one first",
        "2. two second",
    ]


def test_music_without_words_says_how_long_it_is() -> None:
    """A row without words says how many bars are played; nothing sends the singer elsewhere."""
    cues = texts(laid_out(arranged(SONG, look=WORDS), WORDS, METRICS), "cue")
    assert cues == ["2 bars without words"]
    twice = SONG.replace("| D | G |", "|: D | G :|", 1)
    cues = texts(laid_out(arranged(twice, look=WORDS), WORDS, METRICS), "cue")
    assert cues == ["4 bars without words"]


@each(
    ("rows", "cues"),
    [
        # Under its cue, between two lines, and where the last bar has the next line's pick-up.
        ('| D | G |\n: | one | two |\n"build"\n| D | G |\n| A | A |\n', ["build", "4 bars"]),
        ("| D | G |\n: | one | two |\n| D | G | A |\n| D | G |\n: | three | four |\n", ["3 bars"]),
        ("| D | G |\n: | one | two |\n| rest 8 |\n", ["8 bars"]),
        # One bar at the end of a line is part of it.
        ("|: D |1. G :|2. G |\n: | one | two | |\n| D | G |\n: | three | four |\n", []),
    ],
)
def test_rows_without_words_among_others_are_counted(rows: str, cues: list[str]) -> None:
    """A singer waits through a solo inside a section, so the page says how long it is."""
    document = laid_out(arranged(f"key: D\n\n== Bridge\n{rows}", look=WORDS), WORDS, METRICS)
    wanted = [cue if cue == "build" else f"{cue} without words" for cue in cues]
    assert texts(document, "cue") == wanted


def test_rows_in_free_time_are_not_counted() -> None:
    """Chords without bar lines last as long as they do: no number of bars is claimed."""
    text = "key: D\n\n== Intro\nD A/C# Bm G\n\n== Verse\n| D | G |\n: | la | la |\n"
    cues = texts(laid_out(arranged(text, look=WORDS), WORDS, METRICS), "cue")
    assert cues == ["without words"]


def test_a_verse_that_no_jump_comes_to_stands_at_the_end() -> None:
    """A third verse under music that D.S. brings twice is not sung between the others: it stands
    after the song, and says so."""
    text = (
        "key: C\n\n== Verse\n| @segno C | G @to-coda |\n1: | one | and on |\n"
        "2: | two | and on |\n3: | three | and on |\n\n== Chorus\n| F | C @D.S. al coda |\n"
        ": | la | la |\n\n== Coda\n| @coda C |\n: | end |\n"
    )
    document = laid_out(arranged(text, look=WORDS), WORDS, METRICS)
    words = ["1. one and on", "la la", "2. two and on", "end", "3. three and on"]
    assert texts(document, "words") == words
    assert texts(document, "cue") == ["no repeat comes to these words:"]


def test_a_word_split_over_two_rows_is_printed_whole() -> None:
    """A word whose syllables stand under two rows of bars is whole in the line it begins in."""
    text = "key: D\n\n== Verse\n| D | G |\n: | go, | un- |\n| D | G |\n: | til the | wind |\n"
    words = texts(laid_out(arranged(text, look=WORDS), WORDS, METRICS), "words")
    assert words == ["go, until", "the wind"]


def test_a_word_split_by_a_jump_is_printed_whole() -> None:
    """A word that begins before a jump and goes on where that leads is whole before it."""
    text = (
        "key: C\n\n== Verse\n| @segno C @to-coda | F |\n: home a- | gain |\n\n"
        "== Bridge\n| G @D.S. al Coda |\n: low |\n\n== Coda\n| @coda F | C |\n: gain: the | end |\n"
    )
    words = texts(laid_out(arranged(text, look=WORDS), WORDS, METRICS), "words")
    assert words == ["home again", "low", "home again:", "the end"]


def test_words_stand_in_the_order_they_are_sung() -> None:
    """A chorus without words of its own has those of the first; repeats, endings and jumps are
    written out, with the words of each time."""
    text = (
        "key: C\n\n== Chorus\n| @segno C | F @fine |\n: home | again |\n\n== Chorus 2 as Chorus\n\n"
        "== Bridge\n|: Am |1. F :|2. G |\n: la | lo | lu |\n| G | C @D.S. al Fine |\n"
    )
    document = laid_out(
        arranged(text, look=PageLook(show="words")), PageLook(show="words"), METRICS
    )
    assert texts(document, "words") == ["home again", "home again", "la lo", "la lu", "home again"]
    assert texts(document, "heading") == ["Chorus 1", "Chorus 2", "Bridge", "Chorus 1"]
    assert texts(document, "cue") == ["2 bars without words"]


IN_TURN = (
    "key: C\n\n== Chorus\n| C |\n: | go |\n| F |\n1: | by land |\n2: | by sea |\n\n"
    "== Break\n| G |\n\n== Chorus\n"
)


def test_a_section_that_comes_again_sings_its_next_verse() -> None:
    """The page of words, the form line and what is heard agree (common practice, no source); the
    page says which verse it is, under each heading."""
    words = laid_out(arranged(IN_TURN, look=WORDS), WORDS, METRICS)
    assert texts(words, "words") == ["go", "1. by land", "go", "2. by sea"]
    full = PageLook(form="full")
    line = "".join(texts(laid_out(arranged(IN_TURN), full, METRICS), "form"))
    assert line == "Chorus (2) · Break (1) · Chorus (2)"
    heard = performance(chart_of(IN_TURN))
    assert [one.text for one in heard.words] == ["go", "by land", "go", "by sea"]


def test_verses_that_nothing_leads_back_to_are_sung_in_turn() -> None:
    """The bars are counted once for each of them, as a hymn is sung (common practice, no
    source)."""
    hymn = IN_TURN.rpartition("== Chorus")[0]
    words = laid_out(arranged(hymn, look=WORDS), WORDS, METRICS)
    assert texts(words, "words") == ["go", "1. by land", "go", "2. by sea"]
    for look in (PageLook(), PageLook(show="road-map")):
        page = laid_out(arranged(hymn, look=look), look, METRICS)
        assert "".join(texts(page, "form")) == "Chorus (2) × 2 · Break (1)"
    assert [one.text for one in performance(chart_of(hymn)).words][-1] == "by sea"


def test_a_pick_up_typed_at_both_ends_of_a_repeat_is_printed_once() -> None:
    """Words that end a line and begin the next one before its first bar stand in the next alone."""
    text = "key: C\n\n== Chorus\n|: C |1. F :|2. G |\n: So | walk me | down. So | home. |\n"
    document = laid_out(arranged(text, look=WORDS), WORDS, METRICS)
    assert texts(document, "words") == ["So walk me down.", "So walk me home."]


def test_endings_take_the_words_of_their_time() -> None:
    """Numbered lines under a repeat are sung in turn, each with its own ending; a line that the
    repeat does not come round to is not lost."""
    text = (
        "key: G\n\n== Chorus\n|: C | G |1. A | D :|2. G |\n"
        "1: mend- | ing | in | March | |\n2: mend- | ing | | | rain |\n3: never | played | | | |\n"
    )
    document = laid_out(arranged(text, look=WORDS), WORDS, METRICS)
    assert texts(document, "words") == ["1. mending in March", "2. mending rain", "3. never played"]


ENDINGS_APART = """\
key: C

== Verse
|: C | F |
1: | First | door |
2: | Next | door |
3: | Last | door |
|1. G | C :|2. G | F :|3. Am | C |
1: | a | key | | | | |
2: | | | a | sign | | |
3: | | | | | no | thing |
"""


def test_endings_on_a_row_of_their_own_take_the_words_of_their_time() -> None:
    """The third ending is come to once, and is sung by the third verse all the same."""
    document = laid_out(arranged(ENDINGS_APART, look=WORDS), WORDS, METRICS)
    sung = ["1. First door", "a key", "2. Next door", "a sign", "3. Last door", "no thing"]
    assert texts(document, "words") == sung


@pytest.mark.parametrize(
    ("first", "second", "sung"),
    [
        (
            "One | two | three | | home",
            "Five | six | | seven |",
            ["1. One two three", "2. Five six seven home"],
        ),
        (
            "One | two | three | | home",
            "Five | six | | seven | eight",
            ["1. One two three home", "2. Five six seven eight"],
        ),
        (
            "One | two | | | home",
            "Five | six | four | seven |",
            ["1. One two four", "2. Five six seven home"],
        ),
    ],
)
def test_words_that_their_verse_never_reaches_are_sung_by_the_one_that_does(
    first: str, second: str, sung: list[str]
) -> None:
    """Words of verse 1 behind the second ending, as notation programs write them, are sung the
    second time; where that verse has words of its own, both keep what is written in their line."""
    text = f"key: C\n\n|: C | F |1. G :|2. Am | C |\n1: {first} |\n2: {second} |\n"
    document = laid_out(arranged(text, look=WORDS), WORDS, METRICS)
    assert texts(document, "words") == sung


def test_three_times_through_all_sing_what_only_the_later_ones_reach() -> None:
    """The end of a row that is written once, in verse 1, belongs to every time that comes to it;
    words before the place that a repeat goes back to stay in their own line."""
    text = "key: C\n\n|: C |1. F :|2.3. G :|\n1: One | two | home |\n2: Five | | |\n3: Six | | |\n"
    document = laid_out(arranged(text, look=WORDS), WORDS, METRICS)
    assert texts(document, "words") == ["1. One two", "2. Five home", "3. Six home"]
    text = "key: C\n\n| C |: F | G :|\n1: One | two | three |\n2: Now | five | six |\n"
    document = laid_out(arranged(text, look=WORDS), WORDS, METRICS)
    assert texts(document, "words") == ["1. One two three", "2. Now five six"]


def test_a_word_split_over_silent_bars_is_whole() -> None:
    """A jump leads over a row without words to the rest of a word."""
    text = (
        "key: G\n\n== Chorus\n| @segno C | G |\n| C | D @fine |\n: gain she | knew |\n"
        "| C | D @D.S. al fine |\n: once | a- |\n"
    )
    document = laid_out(arranged(text, look=WORDS), WORDS, METRICS)
    assert texts(document, "words") == ["gain she knew", "once again", "she knew"]


def test_no_chords_and_no_capo() -> None:
    """A singer's page has no chords and says nothing of the guitar."""
    document = laid_out(arranged(SONG, look=WORDS), WORDS, METRICS)
    assert texts(document, "sounding") == texts(document, "shape") == []
    assert document.subject == "Key of D major"


def test_type_is_as_large_as_the_page_allows() -> None:
    """A short song is set large, a long one smaller but never below the least size."""
    short = laid_out(arranged("key: C\n\n| C |\n: | la |\n", look=WORDS), WORDS, METRICS)
    rows = "| C |\n: | la la la |\n" * 90
    long = laid_out(arranged(f"key: C\n\n{rows}", look=WORDS), WORDS, METRICS)

    def size(document: Document) -> float:
        return max(
            piece.size
            for page in document.pages
            for item in page.items
            if isinstance(item, Text) and item.role == "words"
            for piece in item.pieces
        )

    assert size(short) > size(long) >= 9.5


@each(
    "text, lines",
    [
        ("low water and a lantern out, the tide is late for home", ["out,", "home"]),
        ("oh, low water and a lantern out and the tide is late for home", ["and", "home"]),
        ("“is it low water and a lantern?” the tide is late for home", ["lantern?”", "home"]),
        ("low water and a lantern out and the tide is late, home", ["the", "home"]),
        ("low tide, high tide, a lantern out for all of us, home", ["tide,", "home"]),
    ],
)
def test_a_broken_line_ends_with_a_clause(text: str, lines: list[str]) -> None:
    """It is broken behind a mark of punctuation where it needs no more lines for that and none is
    very short or a word alone (common practice, no source)."""
    fitter = Fitter(Typesetter(Fonts()))
    room = fitter.width("low water and a lantern out and the tide", "words", 12) + 1
    parts = fitter.hung(text, "words", 12, room, 10.0)
    assert " ".join(parts) == text
    assert [part.split()[-1] for part in parts] == lines
    assert all(fitter.width(part, "words", 12) <= room for part in parts)


def test_a_smaller_step_that_breaks_no_line_is_taken() -> None:
    """Type of 1.05 is better than type a step larger that breaks every line."""
    row = f"| D | G |\n: | low tide and lanterns for all, the long road | goes {'home ' * 7}|\n"
    document = laid_out(arranged(f"key: D\n\n== Verse\n{row * 4}", look=WORDS), WORDS, METRICS)
    words = [i for i in document.pages[0].items if isinstance(i, Text) and i.role == "words"]
    assert len(words) == 4
    assert words[0].pieces[0].size == pytest.approx(11.5 * 1.05)


def long_song(sections: int, words: str) -> str:
    """A chart of so many sections of eight rows, each row with these words."""
    row = f"| D | G |\n: | {words} | {words} |\n"
    return "key: D\n" + "".join(f"\n== Verse {n}\n{row * 8}" for n in range(1, sections + 1))


def test_two_columns_where_they_save_a_page() -> None:
    """A long song in short lines stands in two columns; one whose lines would have to be
    broken does not, nor does one that fits a page."""

    def columns(text: str) -> tuple[int, int]:
        document = laid_out(arranged(text, look=WORDS), WORDS, METRICS)
        words = [i for i in document.pages[0].items if isinstance(i, Text) and i.role == "words"]
        for page in document.pages:
            assert off_page(page) == overlapping(page) == []
        return len(document.pages), len({round(i.x) for i in words})

    assert columns(long_song(8, "low tide home")) == (1, 2)
    assert columns(long_song(8, "low tide and a lantern for every one of us home")) == (2, 1)
    assert columns(long_song(3, "low tide home")) == (1, 1)


def test_columns_are_read_down_then_across() -> None:
    """Sections follow one another down the first column, then down the second; none is torn."""
    document = laid_out(arranged(long_song(8, "low tide home"), look=WORDS), WORDS, METRICS)
    headings = [i for i in document.pages[0].items if isinstance(i, Text) and i.role == "heading"]
    assert [i.plain for i in headings] == [f"Verse {n}" for n in range(1, 9)]
    assert len({round(i.x) for i in headings[:4]}) == len({round(i.x) for i in headings[4:]}) == 1
    assert [mark.name for mark in document.pages[0].bookmarks] == [i.plain for i in headings]


def test_no_stanza_begins_with_the_end_of_a_broken_line() -> None:
    """Where a section is parted, the rest of a broken line stays with its beginning."""
    long = "low tide and a lantern for every one of us home and then the morning after that"
    document = laid_out(arranged(long_song(2, long), look=WORDS), sized(1.3, show="words"), METRICS)
    rests = 0
    for page in document.pages:
        words = [i for i in page.items if isinstance(i, Text) and i.role == "words"]
        for above, below in pairwise(words):
            if below.x > above.x:
                rests += 1
                assert below.y - above.y < above.pieces[0].size * 1.6
    assert rests > 4, "too few lines are broken to see anything"


def test_a_word_split_over_rows_of_music_is_whole() -> None:
    """Without the music a word that goes on in the next row stands whole in the first."""
    text = "key: C\n\n| C | F |\n: | lied | be- |\n| G | C |\n: | fore | now |\n"
    document = laid_out(arranged(text, look=WORDS), WORDS, METRICS)
    assert texts(document, "words") == ["lied before", "now"]


def test_a_word_wider_than_the_page_is_cut_with_a_hyphen() -> None:
    """Words alone: each line that ends inside a word has a hyphen, and without them the word is
    whole."""
    word = "pneumonoultramicroscopic" * 8
    song = arranged(f"key: C\n\n| C |\n: | {word} and more |\n", look=WORDS)
    lines = texts(laid_out(song, WORDS, METRICS), "words")
    assert len(lines) > 2
    assert all(line.endswith("-") for line in lines[:-1])
    assert "".join(line.rstrip("-") for line in lines) == f"{word} and more"


def test_no_word_stands_alone_at_the_end_of_a_broken_line() -> None:
    """A line that is broken for its last word is shared evenly instead."""
    long = "Nobody ever remembered a single unforgettable afternoon in the harbour like that one "
    fitter, room = Fitter(Typesetter(Fonts())), 300.0
    text, count = long, 0
    for length in range(20, len(long)):
        text = long[:length].rsplit(" ", 1)[0]
        greedy = fitter.wrapped(text, "words", 12, room)
        if len(greedy) == 2 and " " not in greedy[1]:
            first, last = fitter.balanced(text, "words", 12, room)
            assert f"{first} {last}" == text and " " in last
            assert max(fitter.width(line, "words", 12) for line in (first, last)) <= room
            count += 1
    assert count


@pytest.mark.parametrize("paper", ["a4", "letter", "tablet"])
def test_words_in_large_print_stand_on_portrait_paper(paper: PaperName) -> None:
    """A book of words alone is portrait in large print too, where one of music is landscape."""
    music = "key: C\n\n== A\n" + "| C | F | G | C |\n: | low | tide | comes | in |\n" * 4
    expected: dict[Show, bool] = {"words": False, "both": True}
    for show, is_landscape in expected.items():
        look = PageLook(show=show, large=True, paper=paper)
        pages = laid_out(arranged(music, look=look), look, METRICS, foot="book").pages
        assert {page.width > page.height for page in pages} == {is_landscape}
