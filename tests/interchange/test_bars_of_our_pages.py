"""Pages of our own without the chart inside are read in bars where all that is drawn is known."""

from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.compile import engraved_pdf
from chartkit.interchange.intake_result import IntakeResult
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken

_HEAD = "title: Plain Lines\nkey: G\nmeter: 4/4\n\n== Verse\n"


def _page(rows: str) -> IntakeResult:
    return taken(engraved_pdf(chart_of(_HEAD + rows), View(), PageLook(form="full"))[1])


@each(
    "rows",
    [
        "| G | C | D7 | G |\n| Am | % | D7 C | G / C D |",
        "|: G | C / / D | D7 | G :|\n| C | G |",
        "| G/B | Cadd9 | F#m7(b5) / B7 / | Em |",
    ],
)
def test_bars_repeats_slashes_and_repeated_bars(rows: str) -> None:
    """They come back as they were written, and it is told that they were read."""
    read = _page(rows)
    assert body(read.chart) == f"== Verse\n{rows}"
    assert {"bars-drawn", "drawn"} <= set(codes(read))
    reads_back(read.chart)


def test_words_stand_in_their_bars() -> None:
    """Words come back in the bars that they stand under."""
    rows = "| G | C | D7 | G |\n: | Plain | as a | pike- | staff |"
    assert "| Plain | as a | pike- | staff |" in body(_page(rows).chart)


@each("other", ["| r r r r | C | D | G |", "| G,C,D / / / | C | D | G |"])
def test_rows_with_other_drawings_stay_in_free_time(other: str) -> None:
    """Rests and rhythms are not known, so that the row is not read in bars; others are."""
    rows = body(_page(f"| G | C | D7 | G |\n{other}\n").chart).splitlines()
    assert rows[1] == "| G | C | D7 | G |"
    assert len(rows) > 2 and "|" not in "".join(rows[2:])


@each("end", ["r r r r :|", "G,C,D / / / :|"])
def test_a_repeat_is_read_whole_or_not_at_all(end: str) -> None:
    """Where the row that ends a repeat is not read in bars, the one that begins it is not."""
    text = body(_page(f"|: G | C | D7 | G |\n| G | C | D7 | {end}\n| C | D |\n").chart)
    assert ":" not in text
    assert "| C | D |" in text
