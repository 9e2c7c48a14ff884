"""Chord diagrams beside one another."""

from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.compile import song_pages
from chartkit.layout.frames import Dot, Text
from chartkit.theory.capo import NO_CAPO
from tests.charts import chart_of
from tests.layout.geometry import box_of

CHORDS = "Ebm7 Abm7 Gb7 Dbm7 Bbm7 Fm7 Cm7 G#m7 C#m7 F#m7 Bm7 Em7 Ab Db Gb B Eb7 Ab7 Db7 Bb7 F7 C7b9"


def test_the_number_of_a_fret_stands_clear_of_the_dots_beside_it() -> None:
    """Where many diagrams share a row, no number of a fret touches a finger's dot, of its own
    diagram or of the one before it."""
    rows = "".join(f"| {chord} |\n" for chord in CHORDS.split())
    chart = chart_of(f"title: A\nkey: Db\n\n== A\n{rows}")
    view, look = View(capo=NO_CAPO), PageLook(diagrams=True)
    document, _ = song_pages(chart, view, look)
    seen = 0
    for page in document.pages:
        dots = [box_of(i) for i in page.items if isinstance(i, Dot)]
        for number in page.items:
            if not isinstance(number, Text) or number.role != "fret":
                continue
            left, top, right, foot = box_of(number)
            seen += 1
            assert not any(
                a < right + 0.4 and left - 0.4 < c and b < foot and top < d for a, b, c, d in dots
            )
    assert seen > 5
