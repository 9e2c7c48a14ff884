"""A repeat that does not go back to the top of the song has a sign where it begins.

A sign without its other half leads to the top (E. Gould, *Behind Bars*, 2011; from memory).
"""

from dataclasses import replace

from chartkit.arrange.arrange import arrange
from chartkit.arrange.view import View
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Text
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged, chart_of, sized
from tests.each import each


@each(
    ("text", "kinds"),
    [
        ("== A\n| C | F :|", ["single single repeat-end"]),
        (
            "== A\n| C |\n== B\n| C | F :|",
            ["single single", "repeat-start single repeat-end"],
        ),
        ("== A\n| C | F :| G | C :|", ["single single repeat-both single repeat-end"]),
        ("== A\n|: C :|\n== B\n|: F :|", ["repeat-start repeat-end"] * 2),
        (
            "== A\n| C |1. F :|2. G ||\n== B as A",
            ["repeat-start single repeat-end double"] * 2,
        ),
        ("== A\n|: C |\n== B\n| F :|", ["repeat-start single", "single repeat-end"]),
    ],
)
def test_the_page_opens_repeats_that_the_writer_left_open(text: str, kinds: list[str]) -> None:
    """The bar that a sign goes back to has its sign, unless that is the first of the song; music
    that comes again is printed alike, so that it can be folded."""
    song = arrange(chart_of(f"key: C\n\n{text}\n"), View())
    found = [
        " ".join(line.kind for system in one.systems for line in system.bar_lines)
        for one in song.sections
    ]
    assert found == kinds


def test_music_that_comes_again_is_folded_still() -> None:
    """A section that shares music with a repeat of its own stands once on a folded page."""
    text = "key: C\n\n== A\n| C |1. F :|2. G ||\n== B\n| Am |\n== A\n"
    look = replace(sized(1.0), form="folded")
    document = laid_out(arranged(text, look=look), look, Fonts())
    shown = [i.plain for i in document.pages[0].items if isinstance(i, Text)]
    assert shown.count("C") == 1


def test_words_stay_under_their_bars() -> None:
    """A row that begins without a bar line keeps its words in place when its repeat is opened."""
    text = "key: C\n\n== A\n| G |\n== B\nC / | F | G :|\n: oh | la | lo |\n"
    (system,) = arrange(chart_of(text), View()).sections[1].systems
    assert system.bar_lines[0].kind == "repeat-start"
    assert [[one.text for one in bar] for bar in system.words[0].bars] == [["oh"], ["la"], ["lo"]]
