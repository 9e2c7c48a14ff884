"""What stands at the head and the foot of each page of a sheet is no part of the song."""

import pytest

from tests.each import each
from tests.interchange.reading import body, codes, taken

_FIRST = "Verse 1\nC     G\nDown the hill\nF     C\nTo the mill\n"
_SECOND = "Verse 2\nC     G\nUp the stair\nF     C\nTake a chair\n"
_CHART = body(taken(f"The Moth\n\n{_FIRST}\n{_SECOND}").chart)


@each(
    "lines",
    [
        ("Hill Street Choir                 Page 1", "Hill Street Choir                 Page 2"),
        ("Hill Street Choir\tp. 1", "Hill Street Choir\tp. 2"),
        ("Hill Street Choir | Seite 1 von 2", "Hill Street Choir | Seite 2 von 2"),
        (
            "Hill Street Choir - sheet 4       Page 1/2",
            "Hill Street Choir - sheet 4       Page 2/2",
        ),
        ("1     Hill Street Choir", "2     Hill Street Choir"),
        ("", "The Moth (continued)"),
        ("", "THE MOTH, cont'd"),
        ("", "The Moth - Fortsetzung"),
        ("", "- continued on page 2 -"),
        ("", "(cont.)"),
        ("", "P.T.O."),
        ("", "[over]"),
    ],
)
@pytest.mark.parametrize("gap", ["\n", ""])
def test_a_line_of_each_page(lines: tuple[str, str], gap: str) -> None:
    """A head or a foot in the middle of a song is reported, and neither sung nor a section."""
    over, between = lines
    result = taken(f"{over}\n\nThe Moth\n\n{_FIRST}\n{between}\n{gap}{_SECOND}".lstrip())
    assert body(result.chart) == _CHART
    assert result.chart.text("title") == "The Moth"
    assert "page-number" in codes(result)


@each("line", ["Over", "Page after page", "Continua", "Turn it over", "Song 2"])
def test_words_like_those_of_pages(line: str) -> None:
    """Words under chords are sung, even such as could tell to turn the page."""
    chart = taken(f"The Moth\n\nVerse\nC     G\nDown the hill\nF     C\n{line}\n").chart
    assert line.split()[-1][:4] in body(chart)


@each(
    ("line", "left_out"),
    [
        ("Print this page | Email to a friend", True),
        ("Imprimir | Compartir | 8 comentarios", True),
        ("Last update 3 years ago. Add to favourites", True),
        ("12 comments", True),
        ("Save me from the rain", False),
        ("Share the road / save the day", False),
    ],
)
def test_controls_of_a_web_page(line: str, left_out: bool) -> None:
    """Lines of nothing but controls and counters are left out with a finding, others stay."""
    text = "Box Kite\n\nVerse\nC      G\nUp it goes\nF      C\n"
    result = taken(f"{text}So high\n\n{line}\n" if left_out else f"{text}{line}\n")
    assert ("web-page" in codes(result)) == left_out
