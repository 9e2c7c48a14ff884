"""Pages, looked at through geometry and text dumps."""

from dataclasses import replace

import pytest

from chartkit.arrange.page_look import PageLook, PaperName, Show
from chartkit.arrange.view import View
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Dot, Glyph, Stroke, Text
from chartkit.layout.sizes import SIZES
from chartkit.pdf.fonts import Fonts
from chartkit.theory.capo import NO_CAPO, Capo
from tests.charts import DENSE, SMALL, arranged, bars, sized
from tests.each import each
from tests.layout.geometry import (
    BoxMetrics,
    columns_in,
    dump,
    in_bar_lines,
    lines_of,
    off_page,
    out_of_order,
    overlapping,
    texts,
    unmatched_sounding,
)


def pages_of(
    text: str,
    view: View | None = None,
    paper: PaperName = "a4",
    size: float | None = 1.0,
    boxes: bool = False,
    show: Show = "both",
) -> Document:
    """The pages of a chart with real fonts, or with boxes for letters."""
    metrics = BoxMetrics() if boxes else Fonts()
    look = sized(size, paper, show)
    return laid_out(arranged(text, view, look), look, metrics)


def test_small_page_in_boxes() -> None:
    """A page is just this, place by place, when every letter is half an em wide."""
    document = pages_of(SMALL, boxes=True)
    assert (
        dump(document)
        == """\
page 1: 595 x 842
   64 title     45:Small Song
   84 capo      52:Capo 1  101:C major shapes, sounds in D♭ major  534:4/4
  107 legend    45:bold: shapes to finger  148:light: what sounds
  144 heading   50:Verse  95:44  107:C  325:F  435:G
  158 sounding  107:D♭  325:G♭  435:A♭
  171 words     80:O  107:low  325:lan  386:-  435:tern
  810 foot      45:Small Song — Capo 1, C major shapes, sounds in D♭ major  504:page 1 of 1"""
    )


@pytest.mark.parametrize("paper", ["a4", "letter", "tablet"])
@pytest.mark.parametrize("size", [0.6, 1.0, 1.7])
@pytest.mark.parametrize("show", ["both", "shapes", "numbers"])
def test_dense_pages_keep_apart(paper: PaperName, size: float, show: Show) -> None:
    """Even very dense charts keep every text apart, on the page and clear of bar lines."""
    document = pages_of(DENSE, None, paper, size, show=show)
    for page in document.pages:
        assert off_page(page) == []
        assert overlapping(page) == []
        assert in_bar_lines(page) == []
        assert unmatched_sounding(page) == []
    assert list(out_of_order(document)) == []


def test_nothing_is_lost_when_bars_break() -> None:
    """Every word of a bar that is wider than the line is still there, in order."""
    sung = "far more words in a single bar than any line of any page could hold, " * 4
    text = bars(f"| C | F |\n: | {sung}{'long-' * 40}word | end |", key="C")
    words = " ".join(texts(pages_of(text, paper="tablet", size=1.7), "words"))
    assert words.replace(" ", "") == f"{sung}{'long-' * 40}wordend".replace(" ", "")
    assert words.startswith(sung.strip()[:40])


def test_sounding_starts_under_its_shape() -> None:
    """The sounding chord stands under its shape, in order, transposed."""
    document = pages_of(SMALL)
    assert texts(document, "shape") == ["C", "F", "G"]
    assert texts(document, "sounding") == ["D♭", "G♭", "A♭"]
    shape, sounding = lines_of(document.pages[0], "shape", "sounding")
    assert [i.x for i in shape] == [i.x for i in sounding]


def test_second_line_is_told_apart_without_colour() -> None:
    """The sounding line differs from the shapes in weight and size, not only in grey."""
    shape, sounding = lines_of(pages_of(SMALL).pages[0], "shape", "sounding")
    assert {i.pieces[0].font for i in shape} == {"strong"}
    assert {i.pieces[0].font for i in sounding} == {"plain"}
    assert sounding[0].pieces[0].size <= 0.85 * shape[0].pieces[0].size


def test_words_stand_under_their_strikes() -> None:
    """The words sung from a chord begin where the chord begins."""
    document = pages_of(SMALL)
    chords = {i.plain: i.x for i in lines_of(document.pages[0], "shape")[0]}
    words = {i.plain: i.x for i in lines_of(document.pages[0], "words")[0]}
    assert (words["low"], words["lan"], words["tern"]) == (chords["C"], chords["F"], chords["G"])


def test_pickup_stands_before_the_first_bar_line() -> None:
    """What is sung before the first bar ends left of its line."""
    page = pages_of(SMALL).pages[0]
    first_line = min(i.x0 for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1)
    pickup = next(i for i in lines_of(page, "words")[0] if i.plain == "O")
    assert pickup.x + pickup.width < first_line


def test_the_number_of_a_bar_keeps_off_pick_ups_and_cues() -> None:
    """A pick-up is not counted, so the number stands at the bar behind it, whatever is said over
    the row (Gould, from memory); a cue begins over the chord, well clear of it."""
    row = "D / | G | C |\n"
    text = (
        f'key: G\n\n== A\n{row}\n== B\n"a cue as long as the row is"\n{row}\n== C\n"x"\n| G | C |\n'
    )
    items = [i for i in pages_of(text).pages[0].items if isinstance(i, Text)]
    numbers = {i.plain: i for i in items if i.role == "bar-number"}
    chords = [i for i in items if i.plain == "G"]
    assert numbers["3"].x + numbers["3"].width < chords[1].x < numbers["3"].x + 30
    (cue,) = (i for i in items if i.plain == "x")
    assert cue.x - numbers["5"].x - numbers["5"].width > 6


def test_hyphen_is_centred_between_its_syllables() -> None:
    """The hyphen of a split word stands midway between the syllables."""
    page = pages_of(SMALL).pages[0]
    words = {i.plain: i for i in lines_of(page, "words")[0]}
    hyphen = lines_of(page, "hyphen")[0][0]
    middle = (words["lan"].x + words["lan"].width + words["tern"].x) / 2
    assert hyphen.x + hyphen.width / 2 == pytest.approx(middle)


def test_a_hyphen_of_the_words_is_printed_once() -> None:
    """Of two hyphens before a slash the first belongs to the word, and no other is drawn."""
    page = pages_of("key: C\n\n== A\n| C F | G |\n: | a-- / burn- | ing |\n").pages[0]
    assert [i.plain for i in lines_of(page, "words")[0]] == ["a-", "burn", "ing"]
    assert len(lines_of(page, "hyphen")[0]) == 1


def test_bar_lines_share_columns_down_a_section() -> None:
    """Rows of a section have their bar lines one under the other."""
    text = "key: C\n\n== A\n| C | Fmaj7 | G7sus4 G7 | C |\n| Am | D7 | G | G |\n"
    page = pages_of(text).pages[0]
    xs = {round(i.x0, 1) for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1}
    # Five bar lines, and the final one has a thick stroke besides its thin one.
    assert len(xs) == 7


def test_one_line_without_capo() -> None:
    """Without a capo shapes are what sounds, and one line is drawn."""
    document = pages_of(SMALL, View(capo=NO_CAPO))
    assert texts(document, "shape") == []
    assert texts(document, "sounding") == ["D♭", "G♭", "A♭"]
    assert texts(document, "legend") == []


def test_numbers_say_the_key_they_are_counted_in() -> None:
    """A page of scale degrees prints the key also where it is a guess."""
    page = pages_of(bars("| E5 | A5 | B5 | E5 |"), show="numbers")
    assert texts(page, "keys") == ["Numbers in E major, assumed from the chords"]
    assert "Numbers in E major" in texts(page, "foot")[0]
    assert texts(pages_of(bars("| E5 | A5 |")), "keys") == []


def test_numbers_are_degrees_of_the_key() -> None:
    """Scale-degree numbers replace the letters, the flat in front."""
    row = "| Db | Bbm7 | Cb | Gb/Ab |"
    assert texts(pages_of(bars(row, key="Db"), show="numbers"), "number") == [
        "1",
        "6m7",
        "♭7",
        "4/5",
    ]


@each(
    ("capo", "label"),
    [
        (1, "Capo 1"),
        (-1, "Tuned down a half step"),
        (-2, "Tuned down a whole step"),
        (-5, "Tuned down 5 half steps"),
    ],
)
def test_top_tells_the_capo(capo: int, label: str) -> None:
    """The band on top says where the capo is or how far the guitar is tuned down."""
    assert label in texts(pages_of(SMALL, View(capo=Capo.from_number(capo))), "capo")


def test_top_tells_keys_meter_tempo_and_feel() -> None:
    """The band tells the key of the shapes, the key that sounds, meter, tempo and feel."""
    text = bars("| Db |", key="Db", capo="1", tempo="92", feel="swaying", meter="6/8")
    document = pages_of(text)
    assert texts(document, "keys") == ["C major shapes, sounds in D♭ major"]
    assert texts(document, "band") == ["6/8 · ♩. = 92 · swaying"]


def test_a_named_meter_is_told_without_bars() -> None:
    """Chords in free time show the meter that the chart names, and none that it does not."""
    free = "key: D\ntempo: 90\n{}\n== A\n  D   A\n: Oh / my"
    assert texts(pages_of(free.format("meter: 3/4\n")), "band") == ["3/4 · ♩ = 90"]
    assert texts(pages_of(free.format("")), "band") == ["♩ = 90"]


def test_a_repeat_stands_behind_the_meter() -> None:
    """At the start of a system the time signature stands before the sign of a repeat (common
    practice, no source)."""
    items = pages_of("key: D\nmeter: 3/4\n\n== A\n|: D | A | G | D :|").pages[0].items
    meter = next(i for i in items if isinstance(i, Text) and i.role == "opening-meter")
    dots = [i.x for i in items if isinstance(i, Dot)]
    upright = [i for i in items if isinstance(i, Stroke) and i.x0 == i.x1]
    thick = min(i.x0 for i in upright if i.thickness > 2)
    assert meter.x + meter.width < thick < min(dots)


def test_foot_counts_pages_and_names_the_capo() -> None:
    """Each page's foot has page n of N and the capo."""
    text = "title: Long\nkey: C\ncapo: 2\n\n" + "| C | F | G | C |\n" * 40
    document = pages_of(text)
    count = len(document.pages)
    assert count >= 2
    for number, page in enumerate(document.pages, 1):
        foot = " ".join(i.plain for i in lines_of(page, "foot")[0])
        assert f"page {number} of {count}" in foot
        assert "Capo 2" in foot


def test_heading_stays_with_its_first_system() -> None:
    """No heading is left alone at the foot of a page."""
    for rows in range(8, 15):
        text = "key: C\n\n" + "| C | F | G | C |\n: | la | la | la | la |\n" * rows
        text += "\n== Bridge\n| Am | F | G | G |\n| Am | F | G | G |\n"
        for page in pages_of(text).pages:
            last = [i for i in page.items if isinstance(i, Text) and i.role != "foot"][-1]
            assert last.role != "heading"


def test_long_rows_break_at_bars_into_equal_parts() -> None:
    """A row of eight crowded bars becomes systems of as many bars each."""
    row = "| Ebmaj9 C7(b9,#11) Fm9 Bb13(b9) " * 8 + "|"
    document = pages_of(bars(row, key="Eb"), paper="tablet")
    counts = {len(line) for line in lines_of(document.pages[0], "sounding")}
    assert len(counts) == 1
    assert sum(len(line) for line in lines_of(document.pages[0], "sounding")) == 32


def test_marks_are_drawn() -> None:
    """Signs, endings, directions and cues are all there."""
    document = pages_of(DENSE)
    assert {"To Coda", "D.C. al Fine", "Fine"} <= set(texts(document, "direction"))
    assert texts(document, "ending") == ["1.", "2."]
    glyphs = [i.name for p in document.pages for i in p.items if isinstance(i, Glyph)]
    assert glyphs.count("coda") == 2
    assert "simile2" in glyphs


def test_key_change_is_named_in_both_keys() -> None:
    """A change of key names the shapes and what they sound."""
    text = "key: Db\ncapo: 1\n\n| Db |\nkey: Eb\n| Eb |\n"
    document = pages_of(text)
    assert texts(document, "change") == ["Key: D major shapes, sounds E♭ major"]
    assert texts(document, "shape") == ["C", "D"]


def test_missing_glyphs_are_reported() -> None:
    """Characters no font has are replaced and named."""
    document = pages_of("title: \u0e01 song\nkey: C\n\n| C |\n", boxes=True)
    assert document.missing == frozenset("\u0e01")
    assert texts(document, "title") == ["\N{REPLACEMENT CHARACTER} song"]


def test_bookmarks_name_the_sections() -> None:
    """Every named section has an entry in the outline of the page it begins on."""
    document = pages_of(DENSE)
    names = [mark.name for page in document.pages for mark in page.bookmarks]
    assert names == ["Head", "Verse", "Long", "Free", "Marks"]


def test_size_is_the_largest_that_costs_no_page() -> None:
    """A song that fits a page at some size has one page, in type as large as that allows."""
    short = "key: C\n\n== A\n" + "| C | F | G | C |\n: | la | la | la | la |\n" * 3
    rows = "| C | F | G | C |\n: | la | la | la | la |\n" * 4
    middling = "key: C\n" + "".join(f"\n== {name}\n{rows}" for name in ("One", "Two", "Three"))
    sizes = []
    for text in (short, middling):
        document = pages_of(text, View(capo=Capo(2)), size=None)
        assert len(document.pages) == 1
        sizes.append(lines_of(document.pages[0], "words")[0][0].pieces[0].size)
    upright = replace(sized(1.25), columns="one")
    assert len(laid_out(arranged(middling, View(capo=Capo(2))), upright, Fonts()).pages) == 2
    assert sizes[1] < sizes[0]


def test_sections_are_not_torn_where_a_smaller_size_helps() -> None:
    """A page turn falls between sections when there is a size at which it can."""
    rows = "| C | F | G | C |\n: | la | la | la | la |\n" * 4
    text = "key: C\n" + "".join(f"\n== {name}\n{rows}" for name in "ABCDEF")
    document = pages_of(text, View(capo=Capo(2)), size=None)
    assert len(document.pages) == 2
    first = next(i for i in document.pages[1].items if isinstance(i, Text))
    assert first.role == "heading"
    assert texts(document, "continued") == []


def test_hold_ends_with_its_bar() -> None:
    """The line of a held syllable ends in the bar where it is written."""
    text = bars("| C | F | G | C |\n: | la | _ | | |", key="C")
    page = pages_of(text).pages[0]
    baseline = lines_of(page, "words")[0][0].y
    (hold,) = (i for i in page.items if isinstance(i, Stroke) and 0 < i.y0 - baseline < 2)
    uprights = sorted(i.x0 for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1)
    assert uprights[1] < hold.x1 < uprights[2]


def test_slashes_are_even_up_to_the_next_chord() -> None:
    """However wide the chord before them, slashes are evenly spread."""
    page = pages_of(bars("| Ebmaj9(#11)/G / / / | C |", key="Eb")).pages[0]
    slanted = sorted(
        i.x0 for i in page.items if isinstance(i, Stroke) and i.x0 != i.x1 and i.y0 != i.y1
    )
    assert len(slanted) == 3
    assert slanted[1] - slanted[0] == pytest.approx(slanted[2] - slanted[1])


def test_guessed_key_is_not_printed() -> None:
    """A chart that names no key is not said to be in one."""
    assert texts(pages_of("| Am | Dm | E7 | F |"), "keys") == []


def test_repeat_that_begins_at_a_row_end_is_printed_on_the_next() -> None:
    """Where a row ends with the start of a repeat, the next row begins with its sign."""
    page = pages_of("key: C\n\n| C | F |:\n| G | C :|\n").pages[0]
    dots = sorted((round(i.y), i.x) for i in page.items if isinstance(i, Dot))
    assert len({y for y, _ in dots}) == 2
    first_chord, third_chord = lines_of(page, "sounding")[0][0], lines_of(page, "sounding")[1][0]
    assert all(y > first_chord.y for y, _ in dots)
    assert min(x for _, x in dots) < third_chord.x


def test_more_verses_than_a_page_holds_come_with_their_music() -> None:
    """A stack of verses higher than a page is cut, and the music printed again over each part."""
    verses = "".join(f"{n}: | la | {n} |\n" for n in range(1, 120))
    document = pages_of(f"key: C\n\n| C | F |\n{verses}")
    assert all(off_page(page) == [] for page in document.pages)
    assert texts(document, "sounding").count("C") == len(columns_in(document)) >= 3
    assert set(map(str, range(1, 120))) <= set(texts(document, "words"))


@each("sign", ["“", "(", "'"])
def test_opening_signs_stand_out_to_the_left(sign: str) -> None:
    """A quote that opens a word hangs out, so that its first letter is nearer its chord."""
    plain, hung = (
        pages_of(bars(f"| C | G |\n: | la | {word} |", key="C")).pages[0]
        for word in ("la", f"{sign}la")
    )
    chord = lines_of(hung, "sounding")[0][1]
    word = lines_of(hung, "words")[0][1]
    assert chord.x - 4 <= word.x < chord.x
    assert lines_of(plain, "words")[0][1].x == pytest.approx(lines_of(plain, "sounding")[0][1].x)
    assert overlapping(hung) == []


def test_accents_typed_apart_are_joined() -> None:
    """A letter and an accent of its own are set as the one letter they make."""
    page = pages_of(bars("| C |\n: | cafe\u0301 |", key="C")).pages[0]
    assert lines_of(page, "words")[0][0].plain == "caf\u00e9"


def test_a_syllable_held_within_a_word_has_hyphens() -> None:
    """Between the parts of a word stand hyphens, however long it is held; a line only after its
    end."""
    text = "key: C\n\n| C | F | G | C |\n: | glo- | _ | ria | _ |\n"
    page = pages_of(text).pages[0]
    words = lines_of(page, "words")[0]
    hyphens = lines_of(page, "hyphen")[0]
    assert len(hyphens) >= 2
    assert all(words[0].x < hyphen.x < words[1].x for hyphen in hyphens)
    holds = [i for i in page.items if isinstance(i, Stroke) and 0 < i.y0 - words[0].y < 2]
    assert [hold.x0 > words[1].x for hold in holds] == [True]


def test_a_held_syllable_goes_on_over_a_line_end() -> None:
    """A line reaches to the end of the system, and begins the next one."""
    text = "key: C\n\n| C | F |\n: | home | again |\n| G | C |\n: | _ | now |\n"
    page = pages_of(text).pages[0]
    first, second = (line[0].y for line in lines_of(page, "words"))
    strokes = [i for i in page.items if isinstance(i, Stroke) and i.y0 == i.y1 and i.x1 - i.x0 > 9]
    assert any(0 < i.y0 - first < 2 and i.x1 > 500 for i in strokes)
    assert any(0 < i.y0 - second < 2 and i.x0 < 70 for i in strokes)


def test_verse_numbers_stand_in_one_column() -> None:
    """However long the pick-ups, numbers end at one place, left of all of them."""
    text = "key: C\n\n| C | F |\n1: I | la | la |\n2: And then | la | la |\n10: | la | la |\n"
    page = pages_of(text).pages[0]
    numbers = [i for i in page.items if isinstance(i, Text) and i.role == "verse"]
    assert [i.plain for i in numbers] == ["1.", "2.", "10."]
    ends = {round(i.x + i.width, 2) for i in numbers}
    assert len(ends) == 1
    pickup = next(i for i in page.items if isinstance(i, Text) and i.plain == "And then")
    assert ends.pop() < pickup.x


def test_verses_typed_without_numbers_get_them() -> None:
    """Lines under one row are sung in turn, so each has the number of its time; one line alone
    has none."""
    page = pages_of(
        "key: C\n\n| C | F |\n: | one | two |\n: | three | four |\n\n| G | C |\n: | a | b |\n"
    ).pages[0]
    assert [i.plain for i in page.items if isinstance(i, Text) and i.role == "verse"] == [
        "1.",
        "2.",
    ]


def test_verse_numbers_come_again_where_a_row_is_cut() -> None:
    """Every system of a cut row has the numbers of the verses sung in it, in one column."""
    words = "| long words of a verse | that fill up a line | and go on below | until they end |"
    text = f"key: C\n\n| C | F | G | C |\n1: {words}\n2: {words}\n3: | once | only | | |\n"
    page = pages_of(text, size=1.5).pages[0]
    numbers = [i for i in page.items if isinstance(i, Text) and i.role == "verse"]
    assert [i.plain for i in numbers] == ["1.", "2.", "3.", "1.", "2."]
    assert len({round(i.x + i.width, 2) for i in numbers}) == 1


def brackets(text: str) -> list[tuple[int, bool, bool]]:
    """For each bracket of an ending from the top: in which system it stands, and whether it has
    an upright at its left and at its right."""
    page = pages_of(text).pages[0]
    strokes = [i for i in page.items if isinstance(i, Stroke) and i.thickness == 0.7]
    chords = [line[0].y for line in lines_of(page, "shape", "sounding")]
    flat = sorted((i for i in strokes if i.y0 == i.y1), key=lambda i: (i.y0, i.x0))
    ends = {(i.x0, min(i.y0, i.y1)) for i in strokes if i.x0 == i.x1}
    return [
        (sum(y < i.y0 for y in chords), (i.x0, i.y0) in ends, (i.x1, i.y0) in ends) for i in flat
    ]


def test_an_ending_goes_on_in_the_next_system() -> None:
    """Where the row of an ending is cut, the bracket goes on, open at its left, and closes at
    the repeat sign; no bracket stands over what follows."""
    full = "Am7 Bm7 Cmaj7 D7sus4"
    text = (
        f"key: G\n\n|: G | C | D | Em |1. {full} | {full} | {full} | {full} :|2. C | G ||\n| D |\n"
    )
    assert brackets(text) == [(0, True, False), (1, False, True), (1, True, False)]


def test_an_ending_goes_on_in_the_next_row_up_to_its_repeat() -> None:
    """A first ending typed on two rows has its bracket on both; a last one that says nothing of
    its end stops with its row."""
    text = "key: G\n\n|: G | C |1. D | Em |\n| Am7 | D :|2. G | C |\n| D | G ||\n"
    assert brackets(text) == [(0, True, False), (1, False, True), (1, True, False)]


@pytest.mark.parametrize("paper", ["a4", "letter", "tablet"])
def test_the_foot_is_small_in_large_print(paper: PaperName) -> None:
    """In type of more than the paper's own size the foot line stays as it is, and whole."""
    text = "title: Twenty Rooms\nkey: A\ncapo: 2\n\n" + "| A | D |\n" * 40
    at_first, large = (
        [
            (i.plain, i.pieces[0].size)
            for i in pages_of(text, paper=paper, size=size).pages[0].items
            if isinstance(i, Text) and i.role == "foot"
        ]
        for size in (1.0, 1.8)
    )
    assert large[0] == at_first[0]
    assert large[0][0] == "Twenty Rooms — Capo 2, G major shapes, sounds in A major"


def test_a_single_page_on_a_tablet_has_no_foot_line() -> None:
    """Its foot line would repeat its head and count to one; on paper, in a book and from two pages
    on there is one."""
    text = "title: Twenty Rooms\nkey: A\n\n" + "| A | D |\n" * 4

    def feet(document: Document) -> list[int]:
        return [len(lines_of(page, "foot")) for page in document.pages]

    assert feet(pages_of(text, paper="tablet")) == [0]
    assert feet(pages_of(text)) == [1]
    longer = feet(pages_of(text + "| E | A |\n" * 40, paper="tablet"))
    assert longer == [1] * len(longer) and len(longer) > 1


def test_a_word_wider_than_the_line_is_cut_with_a_hyphen() -> None:
    """Each line that ends inside the word has a hyphen after it, within the page; one that ends
    at the word's own hyphen or at a space has none."""
    page = pages_of("| C |\n: | " + "pneumonoultramicroscopic" * 12 + " and more |\n").pages[0]
    lines = lines_of(page, "words", "hyphen")
    assert len(lines) > 2
    assert [line[-1].plain for line in lines[:-1]] == ["-"] * (len(lines) - 1)
    assert "-" not in [one.plain for one in lines[-1]]
    assert off_page(page) == overlapping(page) == []
    spaced = pages_of("| C |\n: | " + "word after word " * 20 + "|\n").pages[0]
    assert lines_of(spaced, "hyphen") == []


@each("paper", ["a4", "letter", "tablet"])
def test_the_first_row_of_a_page_keeps_what_stands_over_it_on_the_page(paper: PaperName) -> None:
    """However large the type, the number of a bar and "(continued)" are on the page."""
    text = "key: C\n\n== A\n" + "| C | F | G | C |\n: | la | la | la | la |\n" * 9
    document = pages_of(text, paper=paper, size=3.0)
    heads = [i for page in document.pages for i in page.items if isinstance(i, Text)]
    assert {"bar-number", "continued"} <= {i.role for i in heads}
    assert [off_page(page) for page in document.pages] == [[]] * len(document.pages)
    assert min(i.y - i.pieces[0].size * 0.75 for i in heads) > 0


@each(
    "row",
    [
        "|: C | F :| x4",
        "|: C | F :| x3 | G | C :| x8",
        "|: C | F / / _,G :| x4",
        "|: Am | C! :| x3",
        '"until she waves from the door, then on" |: C | F :| x8',
    ],
)
def test_the_times_of_a_repeat_stand_close_over_its_sign(row: str) -> None:
    """They end at the repeat sign, with less white under them than they are high, and touch
    nothing; in the first row too, whose meter makes it higher."""
    page = pages_of(f"key: C\n\n{row}\n").pages[0]
    times = [i for i in page.items if isinstance(i, Text) and i.plain.startswith("×")]
    thick = [i for i in page.items if isinstance(i, Stroke) and i.thickness > 2 and i.x0 == i.x1]
    assert len(times) == row.count("x")
    for one in times:
        sign = min(thick, key=lambda i: abs(i.x0 - one.x - one.width))
        assert abs(sign.x0 - one.x - one.width) < 2
        assert 0 < min(sign.y0, sign.y1) - one.y < one.pieces[0].size * 0.714
    assert overlapping(page) == off_page(page) == []


def test_a_road_map_may_be_as_large_as_large_print() -> None:
    """Short and read from further away, it has larger type than a page of chords, on one page."""
    text = "key: C\n\n== Verse\n" + "| C | F | G | C |\n" * 4 + "\n== Chorus\n| F | G | C | C |\n"
    look = PageLook(show="road-map")
    document = laid_out(arranged(text, None, look), look, Fonts())
    assert document.choices is not None and document.choices.size > SIZES[-1]
    assert len(document.pages) == 1


def test_large_print_says_large_what_the_hands_need_to_know() -> None:
    """In large print capo, keys and legend are more than a third larger than the paper's own."""
    text = "title: Small\nkey: A\ncapo: 2\n\n| A | D! |\n"

    def sizes(size: float) -> dict[str, float]:
        roles = ("capo", "keys", "legend", "title")
        items = pages_of(text, size=size).pages[0].items
        return {i.role: i.pieces[0].size for i in items if isinstance(i, Text) and i.role in roles}

    own, large = sizes(1.0), sizes(1.8)
    assert all(large[role] > 1.33 * own[role] for role in ("capo", "keys", "legend"))
    assert 1.0 < large["title"] / own["title"] < 1.2


def test_a_held_syllable_has_one_line_however_many_places_hold_it() -> None:
    """The line runs unbroken from the syllable to the end of its last hold (E. Gould, *Behind
    Bars*, on extenders; from memory)."""
    for words in (": | la | _ | _ / _ | |", ": | la | _ | | la |"):
        page = pages_of(bars(f"| C | F | G Am | C |\n{words}", key="C")).pages[0]
        baseline = lines_of(page, "words")[0][0].y
        held = [i for i in page.items if isinstance(i, Stroke) and 0 < i.y0 - baseline < 2]
        assert len(held) == 1, words


def test_a_row_has_no_room_for_verses_below_that_are_silent_in_it() -> None:
    """Where a row is cut, verses under the last one that sings there take no lines, even if a
    syllable above is held."""
    rows = "|: C | F | G | C | C | F | G | C | C | F | G | C |1. C | F :|2. C | F :|3. C | F ||"
    words = "".join(f"{n}: {'| la ' * 12}|{' |' * 6}\n" for n in (2, 3))
    text = f"key: C\n\n{rows}\n1: {'| la ' * 12}| la | _ | | | | |\n{words}"
    page = pages_of(text).pages[0]
    last = max(i.y0 for i in page.items if isinstance(i, Stroke) and i.y0 == i.y1)
    (cut,) = (i for i in page.items if isinstance(i, Stroke) and i.y0 == i.y1 == last)
    under = [line[0].y for line in lines_of(page, "words") if line[0].y > cut.y0]
    assert under == []


@each(
    ("rows", "pages", "size"),
    [(13, 1, 1.18), (15, 1, 1.08), (16, 1, 1.0), (17, 1, 0.97), (19, 2, 1.25), (23, 2, 1.25)],
)
def test_few_rows_do_not_stand_alone_on_a_second_page(rows: int, pages: int, size: float) -> None:
    """In a book a song that fits one page in type a little smaller takes it, rather than a facing
    pair with few rows on its second page, in larger type; a pair whose second page is half full is
    as good as a page (ours)."""
    row = "| C | F | G | C |\n: | low tide | comes in | and out | again |\n"
    parts = [f"\n== Part {i}\n{row * 2}" for i in range(rows // 2 + 1)]
    text = "title: Tide\nkey: C\n" + "".join(parts) + f"\n== End\n{row}" * (rows % 2)
    look = PageLook(form="full")
    document = laid_out(arranged(text, look=look), look, Fonts(), foot="book")
    assert (len(document.pages), document.choices.size) == (pages, size)
    lowest = max(item.y for item in document.pages[-1].items if isinstance(item, Text))
    assert lowest > document.pages[-1].height / 2


@each("chords", range(9, 20))
def test_a_row_in_free_time_is_cut_rather_than_set_small(chords: int) -> None:
    """It has no bars that could be torn: a cut between two of its chords costs no more than that of
    any other row, so that a song with much room left keeps large type."""
    free = " ".join(["Cmaj7"] * chords) + "\n: " + " / ".join(["the water"] * chords)
    text = f"title: Free\n\n== Free\n{free}\n\n== A\n" + "| C | F | G | C |\n" * 6
    assert laid_out(arranged(text), PageLook(), Fonts()).choices.size == SIZES[-1]
