"""Words without music on pages of music and of words: whole lines first, no holes between them."""

from itertools import pairwise

import pytest

from chartkit.arrange.page_look import PageLook, PaperName, Show
from chartkit.layout.boxes import LineAlone
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Text
from chartkit.layout.style import PAPERS, Style, page_room
from chartkit.layout.words_alone import alone_height, pieces
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.each import each

METRICS = Fonts()
SPOKEN = [
    "Nobody bid on the letters, of course, so I took them home in the van,",
    "and I read every one by the light of the stove, and each of them began: My man,",
    "I shall not come Thursday, nor Friday, nor ever, the reasons are tedious, so is the rain;",
    "please sell what you can, and burn what you can't, and do not write to me again.",
]
SONG = "title: Letters\nkey: C\n\n== Vamp\n|: C | Am7 | F | G :|\n" + "".join(
    f"\n== Verse {verse}\n" + "".join(f": {line}\n" for line in SPOKEN) for verse in (1, 2, 3)
)


def sung(document: Document) -> list[list[Text]]:
    """The lines of words of every page, from top to foot."""
    return [
        sorted((i for i in page.items if isinstance(i, Text) and i.role == "words"), key=_height)
        for page in document.pages
    ]


def _plain(document: Document) -> list[str]:
    return [line.plain for lines in sung(document) for line in lines]


def _height(text: Text) -> float:
    return text.y


@each("paper", ["a4", "letter", "tablet"])
def test_lines_stay_whole_where_the_type_can_be_smaller(paper: PaperName) -> None:
    """One page, and no line of words broken, as smaller type above the least can hold it."""
    look = PageLook(paper=paper)
    (lines,) = sung(laid_out(arranged(SONG, look=look), look, METRICS))
    assert [line.plain for line in lines] == [line.replace("'", "’") for line in SPOKEN * 3]


@pytest.mark.parametrize("show", ["both", "words"])
def test_a_long_stanza_has_no_holes(show: Show) -> None:
    """Lines of a stanza stand at one distance, whatever pieces a page could be turned between, and
    a line that goes on is never torn from its beginning."""
    text = "key: C\n\n== Tale\n| C | G |\n\n" + "".join(f": {line}\n" for line in SPOKEN * 5)
    look = PageLook(show=show, large=True, paper="tablet")
    document = laid_out(arranged(text, look=look), look, METRICS)
    for lines in sung(document):
        apart = [round(after.y - before.y, 2) for before, after in pairwise(lines)]
        assert len(set(apart)) <= 1
        assert lines[0].x == min(line.x for line in lines)


def test_pieces_begin_with_whole_lines() -> None:
    """Twenty-four lines are parted in three, on a low page in as many as fit; none begins with the
    rest of a line."""
    lines = [LineAlone("la", 9.0 * (number % 3 == 2)) for number in range(24)]
    style = Style(PAPERS["a4"], 1.0)
    parts = pieces(lines, style)
    assert [start for start, _ in parts] == [0, 9, 16]
    assert parts[-1][1] == len(lines)
    assert pieces([], style) == []
    low = Style(PAPERS["phone-side"], 1.5)
    many = pieces(lines, low)
    assert all(alone_height(end - start, low) < page_room(low) for start, end in many)
    assert not any(lines[start].indent for start, _ in (*parts, *many))


def test_a_refrain_printed_once_is_sung_with_every_verse() -> None:
    """Under stacked verses a row with one unnumbered line belongs to all of them, as in a hymnal
    (common practice, no source); a line with a number is sung in its verse alone."""
    text = (
        "key: D\n\n== Hymn\n| D | G |\n1: | first | light |\n2: | last | light |\n"
        "| A | D |\n: | Amen, | amen |\n"
    )
    look = PageLook(show="words")
    lines = _plain(laid_out(arranged(text, look=look), look, METRICS))
    assert lines == ["1. first light", "Amen, amen", "2. last light", "Amen, amen"]
    once = text.replace(": | Amen", "1: | Amen")
    lines = _plain(laid_out(arranged(once, look=look), look, METRICS))
    assert lines == ["1. first light", "Amen, amen", "2. last light"]


def test_what_changes_stands_in_one_line_of_a_page_of_words() -> None:
    """Key, tempo and feel are said together, the tempo with its note."""
    text = (
        "key: D\n\n== A\n| D |\n: | la |\n\n"
        '== B\nkey: E\ntempo: 88\nfeel: reel\nmeter: 2/2\n"softly"\n| E |\n: | lo |\n'
    )
    look = PageLook(show="words")
    document = laid_out(arranged(text, look=look), look, METRICS)
    items = (i for page in document.pages for i in page.items)
    cues = [i.plain for i in items if isinstance(i, Text) and i.role == "cue"]
    assert cues == ["E major · \U0001d157\U0001d165 = 88 · reel", "softly"]
