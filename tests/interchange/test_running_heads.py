"""What pages say of themselves in the middle of a song: their titles, the notes of those who copied
them, sections that go on, remarks at the right margin.

How pages of word processors and song books look is common practice, no source.
"""

import pytest

from tests.each import each
from tests.interchange.reading import body, codes, taken
from tests.interchange.typed_sheets import names_of_parts

_HEAD = "        PLUM TREE ALLEY\n  words and music by Nan Fowler\n\nKey of C\n\n"
_FIRST = "VERSE 1\n\nC              G\nUnder the plum tree\n"
_REST = "F              C\nNobody waits for me\n"
_SECOND = "VERSE 2\n\nC        G\nOver the alley\nF        C\nLanterns are few\n"
_PLAIN = body(taken(f"{_HEAD}{_FIRST}{_REST}\n{_SECOND}").chart)


@each(
    "lines",
    [
        "PLUM TREE ALLEY                          2",
        "Plum Tree Alley - 2 -",
        "Plum Tree Alley / 2",
        "2            Plum Tree Alley",
        "Fowler: Plum Tree Alley                  2",
        "Plum Tree Alley          Nan Fowler      2",
        "Plum Tree                               p. 2",
        "Plum Tree Alley, page 2",
        "Plum Tree Alley (page 2)",
        "PLUM TREE ALLEY (continued)         2",
        "PLUM TREE ALLEY, forts.         sid 2",
        "page 2 of 3\nPlum Tree Alley",
        "- 1 -            please turn over\n\nPlum Tree Alley",
        "=========== page 2 ===========\nPlum Tree Alley",
        "~ 2 ~",
        "PLUM TREE ALLEY\nNan Fowler                2 of 3",
        "PLUM TREE ALLEY          Nan Fowler",
        "(cont'd p. 2)",
        "/2\nPLUM TREE ALLEY          /2",
        "Plum Tree Alley          Fowler-2",
        "- snu arket -",
        "----------\nThe Alley Book, page 2          over!\n----------",
        "The Alley Book, page 2",
        "- more -",
        "(tournez la page)",
    ],
)
@pytest.mark.parametrize("gap", ["\n", ""])
def test_a_title_on_a_further_page(lines: str, gap: str) -> None:
    """The title beside or next to the number of a page is left out wherever the page ends."""
    between = taken(f"{_HEAD}{_FIRST}{_REST}\n{lines}\n{gap}{_SECOND}")
    within = taken(f"{_HEAD}{_FIRST}\n{lines}\n\n{_REST}\n{_SECOND}")
    assert body(between.chart) == _PLAIN
    assert body(within.chart).replace("\n\n", "\n") == _PLAIN.replace("\n\n", "\n")
    assert "page-number" in codes(between) & codes(within)


@each("line", ["Plum Tree Alley", "Plum tree alley (2)", "plum tree alley        2", "Alley, 2"])
def test_a_title_that_is_sung(line: str) -> None:
    """A line right under chords is sung, though it is the title."""
    chart = taken(f"{_HEAD}{_FIRST}F         C\n{line}\n\n{_SECOND}").chart
    assert line.split()[0] in body(chart).split("== VERSE 2")[0]


def test_a_title_sung_without_chords() -> None:
    """A title among words stays, also as the last line of a page."""
    text = f"{_HEAD}{_FIRST}{_REST}\nCHORUS\n\nPlum tree\nPlum tree alley\n\n- 1 -\n\n{_SECOND}"
    assert ": Plum tree alley" in body(taken(text).chart)


@each(
    ("said", "name"),
    [
        ("VERSE 1 (continued)", "VERSE 1"),
        ("VERSE 1, cont'd", "VERSE 1"),
        ("VERSE 1 contd.", "VERSE 1"),
        ("(VERSE 1, concluded)", "VERSE 1"),
        ("(continued) VERSE 1", "VERSE 1"),
        ("STROPHE 1 (Forts.)", "STROPHE 1"),
        ("Strophe 1 - Fortsetzung", "STROPHE 1"),
        ("COUPLET 1 (suite)", "COUPLET 1"),
        ("ESTROFA 1 (continuación)", "ESTROFA 1"),
        ("STROFA 1 (segue)", "STROFA 1"),
        ("COUPLET 1 (vervolg)", "COUPLET 1"),
        ("VERS 1, forts.", "VERS 1"),
        ("ZWROTKA 1 (cd.)", "ZWROTKA 1"),
    ],
)
def test_a_section_goes_on(said: str, name: str) -> None:
    """The name of the section above with the word that it goes on begins no section."""
    text = f"{_HEAD}{_FIRST.replace('VERSE 1', name)}\n- 1 -\n\n{said}\n\n{_REST}"
    assert names_of_parts(text) == [name]
    assert "page-number" in codes(taken(text))


def test_another_section_with_such_words() -> None:
    """A section that is not the one above is a new one."""
    text = f"{_HEAD}{_FIRST}\n{_SECOND}\nVERSE 1 (continued)\n\n{_REST}"
    assert len(names_of_parts(text)) == 3


@each(
    "note",
    [
        "copyist's note: bar two was smudged.",
        "[Transcriber's note: bar two was smudged.]",
        "typist's note - bar two was smudged",
        "Editors' note: the printed book has no second verse, and\nnobody has ever sung one.",
        "copyist's note: bar two was smudged.\n                Ask Nan.",
        "Note by the copyist: bar two was smudged.",
        "Anmerkung des Abschreibers: Takt zwei fehlt.",
        "Anm. d. Red.: Takt zwei fehlt.",
        "note du copiste : il manque une mesure",
        "N.D.L.R. : il manque une mesure",
        "nota del copista: falta un compás",
        "N.d.C.: manca una battuta",
        "noot van de kopiist: maat twee ontbreekt",
        "avskrivarens anmärkning: takt två saknas",
        "copied from the blue folder by J. Orr",
        "retyped 4 May, M. F.",
        "Property of the Alley Players - do not fold",
    ],
)
def test_notes_on_the_copy(note: str) -> None:
    """What is said of the copy is left out with a finding, below the song and between sections."""
    below = taken(f"{_HEAD}{_FIRST}{_REST}\n{_SECOND}\n{note}\n")
    between = taken(f"{_HEAD}{_FIRST}{_REST}\n{note}\n\n{_SECOND}")
    for result in (below, between):
        assert body(result.chart) == _PLAIN
        assert "copy-note" in codes(result)


def test_a_verse_that_begins_like_a_note() -> None:
    """Words without chords under the name of a verse are sung, whatever they begin with."""
    words = "Copied from the stars above\nNobody waits for me"
    assert ": Copied from" in body(taken(f"{_HEAD}{_FIRST}{_REST}\nVERSE 2\n\n{words}\n").chart)


def test_the_last_block_is_a_note() -> None:
    """What stands right below a note at the end of a sheet belongs to it."""
    note = "retyped 4 May, M. F.\noriginal with her sister, who wants it back"
    result = taken(f"{_HEAD}{_FIRST}{_REST}\n{_SECOND}\n{note}\n")
    assert body(result.chart) == _PLAIN


@each(
    "line", ["Note by note the tune went by", "Copied from the stars", "Do not fold my heart away"]
)
def test_words_like_notes(line: str) -> None:
    """Words like those of notes are sung under chords."""
    chart = taken(f"{_HEAD}{_FIRST}F         C\n{line}\n").chart
    assert line.split()[-1] in body(chart)


def test_remarks_at_the_right_margin() -> None:
    """Remarks in brackets far behind names and rows are no second column."""
    names = ("INTRO", "VERSE 1", "VERSE 2", "BRIDGE", "CLOSE")
    said = ("[harp alone]", "(low voice)", "(second voice in)", "[to nothing]", "(all)")
    words = "The wind at the shutter\nHas nothing to say\n"
    bodies = ("| C | G |\n", _FIRST.split("\n\n")[1] + "\n", words, words, "| F | C |\n")
    parts = zip(names, said, bodies, strict=True)
    text = "\n".join(f"{name:50}{remark}\n\n{rows}" for name, remark, rows in parts)
    result = taken(f"{_HEAD}{text}")
    assert "columns" not in codes(result)
    for name, remark in zip(names, said, strict=True):
        section = body(result.chart).split(f"== {name}")[1].split("==")[0]
        assert remark.strip("()[]") in section


def test_columns_without_room_between_them() -> None:
    """A line that reaches up to the second column, with one blank, is parted like the others."""
    pairs = [
        ("VERSE 1", "VERSE 2"),
        ("Met her in Dover by the rail", "Met her in Calais by the quay"),
        ("Took all the money and the coat", "Took every ring and took the cat"),
        ("And took the last berth on the boat.", "And took my name and that was that"),
    ]
    text = "\n".join(f"{left:36} {right}" for left, right in pairs)
    chart = body(taken(f"{_HEAD}CHORUS\n\nC       G\nPlum and rye\n\n{text}\n").chart)
    first, second = (chart.split(f"== {name}\n")[1].split("==")[0] for name in pairs[0])
    assert (first.count(": "), second.count(": ")) == (3, 3)
    assert "last berth" in first and "my name" in second


@pytest.mark.parametrize("mark", ["(end)", "- fin -", "- 30 -", "(Ende)"])
def test_the_end_of_a_copy(mark: str) -> None:
    """What says at the foot that no more comes is no section."""
    assert body(taken(f"{_HEAD}{_FIRST}{_REST}\n{_SECOND}\n{mark}\n").chart) == _PLAIN


@each(
    ("head", "title", "writer"),
    [
        ("PLUM ALLEY                words and music by Nan Fowler", "PLUM ALLEY", "Nan Fowler"),
        (
            "PLUM ALLEY            words and music by\n          Nan Fowler",
            "PLUM ALLEY",
            "Nan Fowler",
        ),
        ("PLUM ALLEY            Worte und Weise:\n          Jost Hall", "PLUM ALLEY", "Jost Hall"),
        ("PLUM ALLEY\nwords and music\nby Nan Fowler", "PLUM ALLEY", "Nan Fowler"),
        (
            "PLUM ALLEY\nWords by         Music by\nNan Fowler       Al Reed",
            "PLUM ALLEY",
            "Nan Fowler, Al Reed",
        ),
        ("Nan Fowler         PLUM ALLEY         Al Reed", "PLUM ALLEY", "Nan Fowler, Al Reed"),
        ("PLUM ALLEY               N. Fowler, 1951", "PLUM ALLEY", "N. Fowler"),
        ("PLUM ALLEY               - 1 -\nby Nan Fowler", "PLUM ALLEY", "Nan Fowler"),
        ("PLUM ALLEY - page 1\nby Nan Fowler", "PLUM ALLEY", "Nan Fowler"),
        ("PLUM ALLEY               1\nby Nan Fowler", "PLUM ALLEY", "Nan Fowler"),
        ("THE WAYSIDE BOOK         41\n\n   PLUM ALLEY\nby Nan Fowler", "PLUM ALLEY", "Nan Fowler"),
        ("PLUM ALLEY        rev. 4, 3/14        p. 1\nby Nan Fowler", "PLUM ALLEY", "Nan Fowler"),
    ],
)
def test_heads_of_first_pages(head: str, title: str, writer: str) -> None:
    """The title without its writer, its page and its book, and the writer wherever the name is."""
    chart = taken(f"{head}\n\n{_FIRST}").chart
    assert (chart.text("title"), chart.text("writer")) == (title, writer)
