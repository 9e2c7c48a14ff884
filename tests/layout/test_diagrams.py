"""Chord diagrams beside one another."""

from itertools import product

from chartkit.arrange.page_look import PageLook, Sizes
from chartkit.arrange.view import View
from chartkit.compile import song_document
from chartkit.layout.frames import Dot, Text
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.key import parse_key
from tests.charts import chart_of
from tests.layout.geometry import box_of

CHORDS = "Ebm7 Abm7 Gb7 Dbm7 Bbm7 Fm7 Cm7 G#m7 C#m7 F#m7 Bm7 Em7 Ab Db Gb B Eb7 Ab7 Db7 Bb7 F7 C7b9"


def test_the_number_of_a_fret_stands_clear_of_the_dots_beside_it() -> None:
    """Where many diagrams share a row, no number of a fret touches a finger's dot, of its own
    diagram or of the one before it, nor stands left of the page's type: with numbers of one figure
    and, high up the neck, of two."""
    rows = "".join(f"| {chord} |\n" for chord in CHORDS.split())
    high = "".join(f"shape: {chord} x-x-x-13-11-10\n" for chord in CHORDS.split())
    for shapes in ("", high):
        _assert_numbers_are_clear(f"title: A\nkey: Db\n{shapes}\n== A\n{rows}")


def _assert_numbers_are_clear(text: str) -> None:
    """Checks the diagrams of a chart."""
    chart = chart_of(text)
    view, look = View(capo=NO_CAPO), PageLook(diagrams=True)
    document, _ = song_document(chart, view, look)
    seen = 0
    for page in document.pages:
        dots = [box_of(i) for i in page.items if isinstance(i, Dot)]
        for number in page.items:
            if not isinstance(number, Text) or number.role != "fret":
                continue
            left, top, right, foot = box_of(number)
            seen += 1
            assert left >= min(box_of(i)[0] for i in page.items if isinstance(i, Text)) - 0.01
            assert not any(
                a < right + 0.4 and left - 0.4 < c and b < foot and top < d for a, b, c, d in dots
            )
    assert seen > 5


def test_many_diagrams_stand_after_the_song_large_enough_to_be_read() -> None:
    """Up to two rows stand under the title, more after the song; none is drawn smaller than nine
    tenths of the page's type."""
    names = [*CHORDS.split(), "C7", "G7", "D7", "A7"]
    for count, after in ((4, False), (18, False), (26, True)):
        rows = "".join(
            f"| {a} | {b} |\n" for a, b in zip(names[:count:2], names[1::2], strict=False)
        )
        chart = chart_of(f"title: A\nkey: Db\n\n== A\n{rows}")
        look = PageLook(diagrams=True, size=Sizes(1.0, 1.0))
        page = song_document(chart, View(capo=NO_CAPO), look)[0].pages[0]
        placed = [i for i in page.items if isinstance(i, Text) and i.role == "diagram"]
        chords = [i for i in page.items if isinstance(i, Text) and i.role == "sounding"]
        assert len(placed) == count
        assert (min(i.y for i in placed) > max(i.y for i in chords)) == after
        assert min(i.pieces[0].size for i in placed) >= 0.9 * 0.86 * chords[0].pieces[0].size


def test_diagrams_have_the_names_that_the_music_has() -> None:
    """No chord has two names on a page: whatever the key and the capo, the diagrams have the names
    that stand in the line of shapes, all of them and no others."""
    chart = chart_of("key: Bb\n\n== A\n| Bb6 G7 | Bdim | Edim7 | Bb/F G#dim7 | Gb/Bb C#m7 |\n")
    for key, capo in product(("B", "Db", "E", "F#", "Ab"), (0, 1, 4, 6)):
        view = View(key=parse_key(key), capo=Capo(capo))
        page = song_document(chart, view, PageLook(diagrams=True, show="shapes"))[0].pages[0]
        names = {
            role: {i.plain for i in page.items if isinstance(i, Text) and i.role == role}
            for role in ("diagram", "shape")
        }
        assert names["diagram"] <= names["shape"] and len(names["diagram"]) >= 6
