"""Folded pages: what is printed once, and that the order of the bars can be read from the page."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import ArrangedSection
from chartkit.arrange.page_look import Form, PageLook, Show, Sizes
from chartkit.arrange.view import View
from chartkit.chart.model import Bar, Chart, MusicRow, Section
from chartkit.chart.playing_order import playing_order
from chartkit.layout.engrave import laid_out
from chartkit.layout.folds import FormEntry
from chartkit.layout.frames import Document, Glyph, Text
from chartkit.layout.song_form import folded_form, full_form
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged, chart_of, sized
from tests.each import each
from tests.layout.geometry import off_page, overlapping, texts

SONGS = sorted((Path(__file__).parents[2] / "examples").glob("*.chart"))
FOLDED, FULL = PageLook(form="folded"), PageLook(form="full")
_NEW_LINE = re.compile(r", (?=\d+(?:–\d+|,\u00a0\d+)* )")
_ENTRY = re.compile(r"(.+?)(?: \((\d+)\))?(?: × (\d+))?(?:, D\.[CS]\..*)?")


def read_form(document: Document) -> list[tuple[str, int, int]]:
    """The form line as a player reads it: names, bars, how often each is played."""
    entries = []
    lines = texts(document, "form")
    assert all(line.endswith(" ·") for line in lines[:-1])
    for part in " ".join(lines).split(" · "):
        match = _ENTRY.fullmatch(part)
        assert match is not None
        entries.append((match[1], int(match[2] or 0), int(match[3] or 1)))
    return entries


def printed_at(name: str, sections: tuple[ArrangedSection, ...]) -> int:
    """Where a player finds the music of an entry of the form line: by its whole name, or by its
    kind and its number among others at the bars."""
    for i, section in enumerate(sections):
        if name in (section.name, *(label for one in lines_of(section.name) for label in one)):
            return i
    base, _, number = name.rpartition(" ")
    for i, section in enumerate(sections):
        for line, *_ in lines_of(section.name):
            label, _, numbers = line.partition(f"{base} ")
            if base and not label and number in listed(numbers):
                return i
    raise AssertionError(f"{name} is not found on the page")


def lines_of(name: str) -> list[list[str]]:
    """The lines of a box, each without the times before it, followed by its single names."""
    lines = [re.sub(r"^[\d–,\u00a0]+ ", "", one) for one in _NEW_LINE.split(name)]
    return [[line, *line.split(", ")] for line in lines]


def listed(numbers: str) -> list[str]:
    """``1–3`` and ``1, 2`` as single numbers."""
    first, dash, last = numbers.partition("–")
    return list(map(str, range(int(first), int(last) + 1))) if dash else numbers.split(", ")


def unfolded(document: Document, sections: tuple[ArrangedSection, ...]) -> Chart:
    """The song as a player plays it off a folded page: the printed sections in the order of the
    form line; navigation counts where its sign is printed, once."""
    seen: set[int] = set()
    made = []
    for n, (name, _, times) in enumerate(read_form(document)):
        at = printed_at(name, sections)
        rows = tuple(
            MusicRow(tuple(played(bar.bar, at in seen) for bar in system.bars), system.bar_lines)
            for system in sections[at].systems
            if system.bars
        )
        seen.add(at)
        made.append(Section(f"{n} {name}", rows, times))
    return Chart((), tuple(made))


def played(bar: Bar, again: bool) -> Bar:
    """The bar as it counts when it is come to: a sign counts the first time."""
    return replace(bar, marks=()) if again else bar


@pytest.mark.parametrize("path", SONGS, ids=lambda path: path.stem)
def test_a_folded_page_tells_the_order_of_its_bars(path: Path) -> None:
    """Whoever has the folded page alone, its form line, names and signs, plays the bars that
    ``playing_order`` unrolls from the chart, one by one."""
    chart = chart_of(path.read_text(encoding="utf-8"))
    arrangement = arrange(chart, View())
    document = laid_out(arrangement, FOLDED, Fonts())
    folded = folded_form(full_form(arrangement.sections))
    assert document.choices is not None and document.choices.folded
    off_the_page = playing_order(unfolded(document, folded.sections))
    wanted = playing_order(chart)
    assert [bar.strikes for bar in off_the_page.bars] == [bar.strikes for bar in wanted.bars]


SONG = """\
key: C

== Verse 1
| @segno C | F |
: one | two |

== Chorus
| G | C @to-coda |
: la | la |

== Verse 2 as Verse 1
: three | four |

== Chorus 2 as Chorus
: la | la |

== Verse 3 as Verse 1
: five | six |

== Bridge
| Am | G @D.S. al Coda |

== Coda
| @coda F | C |
"""


def test_verses_are_stacked_and_a_chorus_stands_once() -> None:
    """Verses over the same bars have one set of bars and a number each; a chorus with the same
    words is printed once, and the form line names it where it comes again."""
    document = laid_out(arranged(SONG), FOLDED, Fonts())
    assert texts(document, "heading") == ["Verse 1–3", "Chorus", "1, 2", "Bridge", "Coda"]
    assert texts(document, "words") == ["one", "two", "three", "four", "five", "six", "la", "la"]
    assert texts(document, "verse") == ["1.", "2.", "3."]
    assert [name for name, _, _ in read_form(document)] == [
        "Verse 1",
        "Chorus 1",
        "Verse 2",
        "Chorus 2",
        "Verse 3",
        "Bridge",
        "Coda",
    ]


SHARED_WORDS = (
    "key: C\n\n== {0}\n| C | F |\n: | red | red |\n== Verse\n| G | G |\n: | one | two |\n"
    "== {1} as {0}\n: | red | red |\n== Bridge\n| Am | F |\n== {2} as {0}\n: | blue | blue |\n"
)


@each(
    ("names", "heading", "rows"),
    [
        # The second time has the words of the first, so no row is simply "2.".
        (("Chorus", "Chorus", "Last Chorus"), "1,\xa02 Chorus, 3 Last Chorus", ["1, 2.", "3."]),
        (("Chorus 1", "Chorus 2", "Chorus 3"), "Chorus 1–3", ["1, 2.", "3."]),
        (("Chorus", "Chorus 2", "Last Chorus"), "Chorus 1, 2, 3 Last Chorus", ["1, 2.", "3."]),
        (("Chorus", "Chorus", "Chorus 2"), "1,\xa02 Chorus, 3 Chorus 2", ["1, 2.", "3."]),
    ],
)
def test_rows_are_numbered_by_every_time_that_has_their_words(
    names: tuple[str, str, str], heading: str, rows: list[str]
) -> None:
    """The note at the end of a section counts the times through it, so the numbers of its rows of
    words count them as well."""
    text = SHARED_WORDS.format(*names)
    document = laid_out(arranged(text), FOLDED, Fonts())
    assert texts(document, "verse") == rows
    arranged_sections = folded_form(full_form(arranged(text).sections)).sections
    assert arranged_sections[0].name == heading


@pytest.mark.parametrize("look", [FOLDED, FULL])
def test_navigation_is_never_copied(look: PageLook) -> None:
    """Printed in full or folded, a song has one segno, and D.S. leads to it alone."""
    document = laid_out(arranged(SONG), look, Fonts())
    signs = [i.name for page in document.pages for i in page.items if isinstance(i, Glyph)]
    assert (signs.count("segno"), signs.count("coda")) == (1, 2)
    assert texts(document, "direction") == ["To Coda", "D.S. al Coda"]


def test_bars_are_numbered_as_they_are_written() -> None:
    """A folded bar has the number of where it stands first in full; rests count whole."""
    numbers = {
        look.form: texts(laid_out(arranged(SONG), look, Fonts()), "bar-number")
        for look in (FOLDED, FULL)
    }
    assert numbers["folded"] == ["3", "11", "13"]
    assert numbers["full"] == ["3", "5", "7", "9", "11", "13"]
    rests = "key: C\n\n| rest 8 | C |\n| C | %% |\n| F | G |\n"
    assert texts(laid_out(arranged(rests), PageLook(), Fonts()), "bar-number") == ["10", "13"]


FOLLOWING = """\
key: C

== Verse 1
| C | F |
: one | two |
== Verse 2 as Verse 1
: three | four |
== Chorus
|: G | C :|
: la | la |
== Verse 3 as Verse 1
: five | six |
== Chorus as Chorus
== Bridge
| Am |1. F :|2. G |
== Chorus as Chorus
== Ending
| C | C |
"""


def test_a_folded_page_says_where_a_section_leads() -> None:
    """At the end of a section that the next one on the page does not always follow, a line says
    what does, time for time; a page in full needs none."""
    folded = laid_out(arranged(FOLLOWING), FOLDED, Fonts())
    assert texts(folded, "follows") == [
        "1st time to Verse 2 · 2nd, 3rd to Chorus",
        "1st time to Verse 3 · 2nd to Bridge · 3rd to Ending",
        "then Chorus",
    ]
    assert texts(laid_out(arranged(FOLLOWING), FULL, Fonts()), "follows") == []
    strophes = "key: C\n\n== Verse 1\n| C | F |\n: a | b |\n== Verse 2 as Verse 1\n: c | d |\n"
    assert texts(laid_out(arranged(strophes), FOLDED, Fonts()), "follows") == ["twice"]


def test_what_follows_says_how_often_where_that_differs() -> None:
    """A chorus that is played twice the first time and once the last says so at its end."""
    text = (
        "key: C\n\n== Chorus x2\n| G | C |\n: la | la |\n\n== Verse\n| F | C |\n: a | b |\n\n"
        "== Last Chorus as Chorus\n: la | la |\n"
    )
    folded = laid_out(arranged(text), FOLDED, Fonts())
    said = "from Chorus, played twice, to Verse · Last Chorus to the end"
    assert texts(folded, "follows")[0] == said
    alike = laid_out(arranged(text.replace("Last Chorus as", "Chorus as")), FOLDED, Fonts())
    said = "1st time play twice, then Verse · 2nd end"
    assert texts(alike, "follows")[0] == said


def test_a_repeated_chorus_is_not_folded_with_a_verse_of_the_same_bars() -> None:
    """Sections of two kinds stay apart where their bars are the same, as on a road map: a chorus
    that comes again is folded with its own music alone."""
    music = "| C | F | G | C |\n: | la | la | la | la |\n"
    text = f"key: C\n\n== Verse 1\n{music}\n== Chorus\n{music}\n== Verse 2 as Verse 1\n"
    sections = arranged(text + "\n== Chorus\n").sections
    assert [entry.printed for entry in folded_form(full_form(sections)).entries] == [0, 1, 0, 1]


def test_what_follows_says_the_meter_that_comes_back() -> None:
    """After a bridge in another meter the chorus, printed further up, says its meter at the end of
    the bridge; a section that prints its own time signature needs none."""
    text = (
        "key: C\nmeter: 6/8\n\n== Intro\n| C |\n\n== Chorus\n| G | C |\n: | la | la |\n\n"
        "== Bridge\nmeter: 2/4\n"
        "| F | C |\n\n== Chorus\n\n== End\n| C | C |\n"
    )
    folded = laid_out(arranged(text), FOLDED, Fonts())
    assert texts(folded, "follows") == ["1st time to Bridge · 2nd to End", "then Chorus (6/8)"]


KEY_COMES_BACK = (
    'key: C\n\n== Chorus\n"all in"\n| G | C |\n: | la | la |\n\n== Bridge\nkey: E\n| E | A |\n\n'
    '== Chorus\n"softly"\n\n== End\n| C | C |\n'
)


def test_what_follows_says_the_key_that_comes_back() -> None:
    """After a bridge in another key the chorus, printed further up, says its key at the end of
    the bridge."""
    folded = laid_out(arranged(KEY_COMES_BACK), FOLDED, Fonts())
    assert texts(folded, "follows")[-1] == "then Chorus (C major)"


@pytest.mark.parametrize("form", ["line", "words"])
def test_a_section_not_printed_again_keeps_what_is_said_of_it(form: Form) -> None:
    """Its key and its own cue stand there; the cue that it shares with the first does not."""
    document = laid_out(arranged(KEY_COMES_BACK), PageLook(form=form), Fonts())
    assert texts(document, "cue") == ["all in", "Key: C major", "softly"]


def test_a_section_played_in_a_row_says_how_often() -> None:
    """No repeat sign leads back to the start of a folded section, so its end says it (common
    practice, no source)."""
    verses = "".join(f"== Verse {i} as Verse 1\n: | {i} | {i} |\n\n" for i in range(2, 5))
    text = f"key: C\n\n== Verse 1\n| C | F |\n: | la | la |\n\n{verses}"
    assert texts(laid_out(arranged(text), FOLDED, Fonts()), "follows") == ["4 times"]
    out = laid_out(arranged(f"{text}== Out\n| G |\n"), FOLDED, Fonts())
    assert texts(out, "follows") == ["4 times, then Out"]


def test_what_follows_stands_above_the_foot() -> None:
    """However full the page, what follows its last section ends above the foot line."""
    verse = "| C | F |\n: | la | la |\n"
    for rows in range(6, 14):
        text = (
            f"key: C\n\n== Verse 1\n{verse * rows}\n== Chorus\n| G | C |\n: | oh | oh |\n\n"
            "== Verse 2 as Verse 1\n\n== Tag as Chorus\n: | ah | ah |\n"
        )
        for page in laid_out(arranged(text), PageLook(form="folded", large=True), Fonts()).pages:
            items = [i for i in page.items if isinstance(i, Text)]
            foot = min(i.y - i.pieces[0].size for i in items if i.role == "foot")
            assert all(i.y + i.pieces[0].size * 0.2 <= foot for i in items if i.role == "follows")


def test_the_form_line_says_where_the_song_leads_back() -> None:
    """A section that ends in D.S. or D.C. says so in the form line, so that the line is the whole
    way through the song."""
    line = "".join(texts(laid_out(arranged(SONG), FOLDED, Fonts()), "form"))
    assert "Bridge (2), D.S. al Coda ·Coda (2)" in line


def test_the_bars_of_a_section_are_not_read_as_its_number() -> None:
    """A figure straight after a name would be part of it, as the 8 of ``A 1 8`` or the 2 of
    ``Chorus 2``."""
    text = "key: C\n\n== A 1\n| C | F |\n\n== Chorus\n| G |\n\n== A 2\n| C | F | G |\n"
    page = laid_out(arranged(text), PageLook(form="full"), Fonts())
    assert "".join(texts(page, "form")) == "A 1 (2) · Chorus (1) · A 2 (3)"


def test_a_cue_of_a_later_time_says_which() -> None:
    """Over bars printed once, what is meant for the second time alone is not read for the first."""
    text = 'key: C\n\n== A\n| C | F |\n== B\n| G | G |\n== A as A\n"break on four"\n'
    cues = texts(laid_out(arranged(text), FOLDED, Fonts()), "cue")
    assert any("2nd time: break on four" in cue for cue in cues), cues


TEMPO_COMES_BACK = (
    "key: C\ntempo: 196\n\n== Chorus\n| C | F |\n: | oh | oh |\n\n"
    "== Break\ntempo: 98\n| G | G |\n\n== Chorus\n"
)


def test_a_tempo_that_comes_back_is_printed() -> None:
    """Nobody goes on at half speed: the tempo stands over the section that comes again, or says
    which time it is for (common practice, no source)."""
    full = laid_out(arranged(TEMPO_COMES_BACK), FULL, Fonts())
    assert texts(full, "change") == ["♩ = 98", "♩ = 196"]
    folded = laid_out(arranged(TEMPO_COMES_BACK), FOLDED, Fonts())
    assert texts(folded, "cue") == ["2nd time: ♩ = 196"]
    for look in (PageLook(show="words"), PageLook(form="words"), PageLook(show="road-map")):
        page = laid_out(arranged(TEMPO_COMES_BACK), look, Fonts())
        assert "♩ = 196" in " ".join(i.plain for i in page.pages[0].items if isinstance(i, Text))


def test_a_tempo_that_nobody_wrote_comes_back_in_words() -> None:
    """Of a feel that nobody wrote there are no words: the other one ends."""
    text = TEMPO_COMES_BACK.replace("tempo: 196\n", "").replace("98\n", "98\nfeel: shuffle\n")
    cues = texts(laid_out(arranged(text), FULL, Fonts()), "cue")
    assert sorted(cues) == ["first tempo", "shuffle ends"]


VERSE_THAT_LEAVES = (
    "key: D\ntempo: 96\nmeter: 4/4\n\n== Verse\n| D | G |\n: | one | two |\n"
    "key: F\nmeter: 3/4\ntempo: 60\nfeel: half-time\n| F | Bb |\n: | three | four |\n\n"
)


def test_a_section_that_comes_again_at_once_says_all_that_goes_back() -> None:
    """A verse ends in another key, tempo and feel than it begins with: over its first row stands in
    one line what holds the second time, but for the meter, which is printed at the bar (common
    practice, no source)."""
    text = VERSE_THAT_LEAVES + "== Verse\n\n== Chorus\nkey: D\n| D | A |\n"
    page = laid_out(arranged(text), FOLDED, Fonts())
    assert texts(page, "cue") == ["2nd time: D major · ♩ = 96 · half-time ends"]


def test_a_section_that_comes_again_later_says_its_key_once() -> None:
    """The section before it says the key at its end, with its name."""
    text = VERSE_THAT_LEAVES + "== Chorus\n| F | C |\n\n== Verse\n"
    page = laid_out(arranged(text), FOLDED, Fonts())
    assert texts(page, "cue") == ["2nd time: ♩ = 96 · half-time ends"]
    assert "Verse (D major)" in " ".join(texts(page, "follows"))


def test_a_cue_stands_in_place_of_the_one_before() -> None:
    """What a repeated heading says is for that time alone (common practice, no source)."""
    text = (
        'key: C\n\n== A\n"quiet"\n| C |\n== B\n| G |\n== A\n"loud"\n== B\n== A\n== D as A\n"last"\n'
    )
    cues = texts(laid_out(arranged(text), FULL, Fonts()), "cue")
    assert cues == ["quiet", "loud", "quiet", "last"]


LONG_VERSE = "".join(
    "| C | F | G | C |\n: | la la la | la la la | la la la | la |\n" for _ in range(9)
)
CHORUS = "| F | F |\n: | oh | oh |\n" * 6
LARGE = PageLook(large=True, paper="tablet")


def test_no_section_is_folded_that_is_higher_than_a_page() -> None:
    """Nobody turns back after each verse (common practice, no source), nor for a chorus where that
    saves no page; who asks for a folded page gets it."""
    text = (
        f"key: C\n\n== Verse 1\n{LONG_VERSE}\n== Chorus\n| F | F |\n: | oh | oh |\n\n"
        "== Verse 2 as Verse 1\n: | lo | lo | lo | lo |\n\n== Chorus\n\n"
        "== Verse 3 as Verse 1\n: | le | le | le | le |\n"
    )
    document = laid_out(arranged(text), LARGE, Fonts())
    assert texts(document, "heading") == ["Verse 1", "Chorus", "Verse 2", "Chorus", "Verse 3"]
    assert texts(laid_out(arranged(text), replace(LARGE, form="folded"), Fonts()), "heading") == [
        "Verse 1–3",
        "Chorus",
    ]
    again = laid_out(arranged(text), LARGE, Fonts(), choices=document.choices)
    assert again.pages == document.pages


def test_the_form_line_counts_the_bars_that_are_played() -> None:
    """Repeats and endings inside a section count as often as they are played."""
    counted = {e.name: e.bars for e in full_form(arranged(FOLLOWING).sections).entries}
    assert counted == {
        "Verse 1": 2,
        "Verse 2": 2,
        "Chorus": 4,
        "Verse 3": 2,
        "Bridge": 4,
        "Ending": 2,
    }
    across = "key: C\n\n== A\n|: C | F |\n\n== B\n| G | C :|\n"
    assert [e.bars for e in full_form(arranged(across).sections).entries] == [2, 2]
    long = "key: C\n\n== A\n|: rest 8 | %% :| x3\n"
    assert [e.bars for e in full_form(arranged(long).sections).entries] == [30]


def test_a_section_of_another_kind_is_not_folded_unless_it_says_so() -> None:
    """A solo over the verse's bars goes with it when it is written as the verse; a bridge that
    happens to have the same bars does not."""
    text = "key: C\n\n== Verse\n| C | F |\n: a | b |\n\n== Solo as Verse\n\n== Bridge\n| C | F |\n"
    folded = folded_form(full_form(arranged(text).sections))
    assert [section.name for section in folded.sections] == ["Verse, Solo", "Bridge"]
    assert [entry.printed for entry in folded.entries] == [0, 0, 1]


def test_rows_that_differ_alone_are_stacked() -> None:
    """Of a last chorus that ends otherwise only that row is printed twice, with names at it."""
    text = (
        "key: C\n\n== Chorus\n| C | F |\n: a | b |\n| G | C |\n: c | d |\n\n"
        "== Last Chorus as Chorus\n: a | b |\n: c | home |\n"
    )
    folded = folded_form(full_form(arranged(text).sections))
    (section,) = folded.sections
    assert section.name == "1 Chorus, 2 Last Chorus"
    assert [[line.number for line in system.words] for system in section.systems] == [
        [""],
        ["1", "2"],
    ]


def test_the_full_form_is_the_song_as_written() -> None:
    """Every section is an entry of its own, with the bars it counts."""
    form = full_form(arranged(SONG).sections)
    assert form.entries[0] == FormEntry("Verse 1", 2, 1, 0)
    assert [entry.printed for entry in form.entries] == list(range(7))


def test_a_layout_comes_out_alike_with_its_own_choices() -> None:
    """With what was chosen another time nothing is tried out, and the pages are the same."""
    for path in SONGS[:3]:
        arrangement = arrange(chart_of(path.read_text(encoding="utf-8")), View())
        first = laid_out(arrangement, PageLook(), Fonts())
        again = laid_out(arrangement, PageLook(), Fonts(), choices=first.choices)
        assert again.pages == first.pages


def test_a_section_torn_by_a_page_turn_carries_its_name() -> None:
    """On the next page the name stands again, and says that it goes on."""
    rows = "| C | F | G | C |\n: | la | la | la | la |\n" * 24
    look = PageLook(columns="one")
    document = laid_out(arranged(f"key: C\n\n== Verse\n{rows}"), look, Fonts())
    assert len(document.pages) > 1
    for page in document.pages[1:]:
        said = [i.plain for i in page.items if isinstance(i, Text) and i.role == "continued"]
        assert said == ["Verse", "(continued)"]


@pytest.mark.parametrize("show", ["both", "words"])
@pytest.mark.parametrize("size", [0.9, 1.5, 2.0])
def test_a_section_under_a_heading_says_that_it_goes_on(show: Show, size: float) -> None:
    """A name too long for the gutter, or on a page of words, stands over the first row of each
    later page as well, clear of the bar's number, on the page."""
    rows = "| C | F | G | C |\n: | la | la | la | la |\n" * 60
    name = "The long answer of the harmonium and the second guitar"
    look = replace(sized(size, show=show), columns="one")
    document = laid_out(arranged(f"key: C\n\n== {name}\n{rows}", look=look), look, Fonts())
    assert len(document.pages) > 1
    for number, page in enumerate(document.pages):
        said = [i for i in page.items if isinstance(i, Text) and i.role == "continued"]
        assert len(said) == bool(number)
        assert all(one.plain.startswith(name[:20]) for one in said)
        assert all(one.plain.endswith(" (continued)") for one in said)
        assert off_page(page) == overlapping(page) == []


def test_a_section_of_words_alone_counts_no_bars_of_its_namesake() -> None:
    """A last chorus that has words and no chords is laid out, and no bars are counted for it."""
    song = "title: A\nkey: G\n\n== Chorus\n| G | C |\n: one | two |\n\n== Chorus x2\n: End on G\n"
    form = full_form(arranged(song).sections)
    assert [entry.bars for entry in form.entries] == [2, 0]


def test_later_verses_keep_their_numbers_beside_a_first_one_of_other_bars() -> None:
    """Verses 2 and 3 that share bars which verse 1 has not are named with their numbers, on the
    page and in the form line, so that "Verse" alone names none of two."""
    song = (
        "title: A\nkey: G\n\n== Verse 1\n| G | C | D | G |\n\n== Verse 2\n| G | C | D | D7 |\n\n"
        "== Chorus\n| C | D | G | G |\n\n== Verse 3\n| G | C | D | D7 |\n"
    )
    document = laid_out(arranged(song), PageLook(form="folded"), Fonts())
    assert texts(document, "heading") == ["Verse 1", "Verse 2, 3", "Chorus"]
    names = [name for name, _, _ in read_form(document)]
    assert names == ["Verse 1", "Verse 2", "Chorus", "Verse 3"]


def test_a_label_of_two_names_is_broken_between_them() -> None:
    """Two lines of a label in the gutter hold a name each, not a part of one."""
    rows = "| G | C | D | G |\n: | low light | on the water | coming | home |\n"
    song = f"title: A\nkey: G\n\n== Chorus\n{rows}\n== Verse\n{rows}: | x | y | z | a |\n"
    song += "\n== Last Chorus as Chorus\n: | low light | on the water | coming | home |\n"
    document = laid_out(arranged(song), PageLook(form="folded"), Fonts())
    lines = texts(document, "heading")
    assert lines[:2] in (["Chorus,", "Last Chorus"], ["Chorus, Last Chorus", "Verse"])


def test_a_narrow_label_goes_on_in_a_short_word() -> None:
    """Over the box of a one-letter section, on a later page, the word is short and no tiny type."""
    rows = "| C | F | G | C |\n: | la | la | la | la |\n" * 30
    look = PageLook(columns="one")
    document = laid_out(arranged(f"key: C\n\n== A\n{rows}"), look, Fonts())
    said = [
        i
        for page in document.pages[1:]
        for i in page.items
        if isinstance(i, Text) and i.role == "continued"
    ]
    assert [i.plain for i in said[:2]] == ["A", "cont."]
    assert said[1].pieces[0].size > 5


def test_a_chorus_is_not_turned_back_to_again_and_again() -> None:
    """Where folding saves a page but pages are turned back to the chorus twice, it is printed where
    it comes, unless who plays asks for less paper (common practice, no source)."""
    verses = "".join(
        f"== Part {i}\n{LONG_VERSE.replace('G', note)}\n== Chorus\n{CHORUS if i == 1 else ''}\n"
        for i, note in enumerate("ADE", 1)
    )
    arrangement = arranged(f"key: C\n\n{verses}")
    look = PageLook(paper="tablet", columns="one", size=Sizes(1.0, 1.0))
    document = laid_out(arrangement, look, Fonts())
    assert texts(document, "heading").count("Chorus") == 3
    folded = laid_out(arrangement, replace(look, form="folded"), Fonts())
    assert texts(folded, "heading").count("Chorus") == 1
    assert len(folded.pages) < len(document.pages)


def test_a_page_that_is_read_in_order_is_not_folded() -> None:
    """A song with a chorus that comes again word for word fits one page in full: nobody jumps."""
    verse = "| C | F | G | C |\n: | la | la | la | la |\n"
    text = f"key: C\n\n== Verse\n{verse}\n== Chorus\n{verse}\n== Bridge\n| F | F |\n\n== Chorus\n"
    document = laid_out(arranged(text), PageLook(), Fonts())
    assert texts(document, "heading") == ["Verse", "Chorus", "Bridge", "Chorus"]
    assert texts(document, "follows") == []


def test_times_over_shared_bars_go_by_their_names() -> None:
    """Where a solo stands between verses, the third verse is sung the fourth time: the note at the
    end names each time as the form line does, and no time is only counted."""
    text = (
        "key: C\n\n== Verse 1\n| C | F |\n: | one | two |\n\n== Verse 2 as Verse 1\n: | a | b |\n\n"
        '== Bridge\n| G |\n\n== Solo 1 as Verse 1\n"sax"\n\n== Solo 2 as Verse 1\n\n'
        "== Verse 3 as Verse 1\n: | c | d |\n\n== End\n| C |\n"
    )
    document = laid_out(arranged(text), FOLDED, Fonts())
    assert [name for name, _, _ in read_form(document)] == [
        *("Verse 1", "Verse 2", "Bridge", "Solo 1", "Solo 2", "Verse 3", "End")
    ]
    assert texts(document, "heading")[0].startswith("Verse 1–3")
    assert "Solo 1: sax" in texts(document, "cue")
    assert " ".join(texts(document, "follows")).startswith(
        "from Verse 1 to Verse 2 · Verse 2 to Bridge · Solo 1 to Solo 2 · Solo 2 to Verse 3 · "
        "Verse 3 to End"
    )


def test_letters_of_a_rehearsal_keep_their_names() -> None:
    """A and A2 over the same bars are both called out."""
    text = "key: C\n\n== A\n| C | F |\n\n== A2 as A\n\n== B\n| G |\n"
    document = laid_out(arranged(text), FOLDED, Fonts())
    assert texts(document, "heading") == ["A, A2", "B"]
    assert [name for name, _, _ in read_form(document)] == ["A", "A2", "B"]
