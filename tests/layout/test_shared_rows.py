"""Rows measured once for several ways are those that each way would measure."""

from chartkit.layout.collect import Collector
from chartkit.layout.metrics import Typesetter
from chartkit.layout.shared_rows import SharedRows
from chartkit.layout.style import PAPERS, Style, column_style, in_landscape
from chartkit.pdf.fonts import Fonts
from tests.charts import DENSE, SMALL, arranged

LONG = "key: C\n\n| C(b5,#9,b13,add9,add11,no3)/Gb | F |\n: | a | b |\n"


def test_a_row_is_shared_only_where_it_has_the_same_measures() -> None:
    """On wide paper, in columns and on wide paper again, a collector with shared rows makes what
    one without makes; rows with a name too wide for a column are measured anew."""
    typesetter, wide = Typesetter(Fonts()), Style(in_landscape(PAPERS["a4"]), 2.6)
    for text in (SMALL, DENSE, LONG):
        song, shared = arranged(text), SharedRows()
        narrow = column_style(wide, 4)
        alone = []
        for style in (wide, narrow, wide):
            rows, own = (
                Collector(typesetter, style, song.chord_lines, song.strong, kept).sections(
                    song.sections
                )
                for kept in (shared, None)
            )
            assert rows == own
            alone.append(own)
        assert (alone[0] != alone[1]) == (text != SMALL)


def test_a_row_is_measured_once() -> None:
    """The second way gets the very rows of the first."""
    song, shared, style = arranged(SMALL), SharedRows(), Style(PAPERS["a4"], 1.0)
    one, other = (
        Collector(Typesetter(Fonts()), style, song.chord_lines, song.strong, shared).sections(
            song.sections
        )
        for _ in range(2)
    )
    assert one[0].rows[0] is other[0].rows[0]
