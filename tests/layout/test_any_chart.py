"""Whatever the chart, the pages hold: found out on random charts."""

from collections.abc import Sequence
from dataclasses import replace

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import ArrangedSection
from chartkit.arrange.page_look import PageLook, PaperName, Show
from chartkit.arrange.view import View
from chartkit.chart.model import Chart, MusicRow
from chartkit.chart.systems import section_systems
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Text
from chartkit.layout.sung_order import sung_sections, turns_in
from chartkit.pdf.fonts import Fonts
from chartkit.theory.capo import Capo
from tests.charts import arranged, sized
from tests.layout.geometry import (
    columns_in,
    in_bar_lines,
    off_page,
    out_of_order,
    overlapping,
    run_together,
    unmatched_sounding,
)
from tests.strategies import charts

METRICS = Fonts()
WORDS = PageLook(show="words")


# Shrinking whole charts takes minutes; a failing one is readable as it is.
@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
)
@given(
    charts(rhythm=True, alone=True, times=True, moves=True),
    st.none() | st.integers(-5, 11),
    st.sampled_from(["both", "shapes", "numbers"]),
    st.sampled_from(["a4", "letter", "tablet"]),
    st.sampled_from([None, 0.5, 1.0, 2.2]),
)
def test_pages_of_any_chart_hold(
    chart: Chart, capo: int | None, show: Show, paper: PaperName, size: float | None
) -> None:
    """Nothing is off the page, no texts overlap, no words run together, no bar line crosses a
    chord, each sounding chord starts under its shape, words run from left to right, and no chord
    is lost.  On a singer's page nothing overlaps either, and every section and every line of words
    under a row is sung at least once, whatever the repeats and jumps.  One test, because drawing a
    chart takes longer than its pages do."""
    look = replace(sized(size, paper, show), form="full")
    asked = None if capo is None else Capo.from_number(capo)
    arrangement = arrange(chart, View(capo=asked), look)
    document = laid_out(arrangement, look, METRICS)
    for page in document.pages:
        assert off_page(page) == []
        assert overlapping(page) == []
        assert in_bar_lines(page) == []
    for page in columns_in(document):
        assert run_together(page, lambda size: METRICS.width("words", " ") * size) == []
        assert len(arrangement.chord_lines) < 2 or unmatched_sounding(page) == []
    assert list(out_of_order(document)) == []
    assert _drawn(document.pages, arrangement.chord_lines[0]) == _struck(chart)
    words = arrange(chart, View(), WORDS)
    for page in laid_out(words, sized(size, paper, "words"), METRICS).pages:
        assert off_page(page) == overlapping(page) == []
    assert _unsung(words.sections) == set()


def _unsung(sections: Sequence[ArrangedSection]) -> set[tuple[int, ...]]:
    """Sections without a stay, lines of words under bars that are never sung, and written words
    that no phrase has."""
    way, turns = sung_sections(sections), turns_in(sections)
    came_to: set[tuple[int, ...]] = {(stay.section,) for stay in way}
    came_to |= {
        (turns[stay.section], phrase.system, phrase.line)
        for stay in way
        for phrases in stay.times
        for phrase in phrases
    }
    came_to |= {
        (turns[stay.section], phrase.system, line, bar)
        for stay in way
        for phrases in stay.times
        for phrase in phrases
        for bar, line in (*((bar, phrase.line) for bar in phrase.bars), *phrase.borrowed)
    }
    every: set[tuple[int, ...]] = {(number,) for number in range(len(sections))}
    every |= {
        (turns[s], number, line)
        for s, section in enumerate(sections)
        for number, system in enumerate(section.systems)
        for line in range(len(system.words))
        if system.bars
    }
    every |= {
        (turns[s], number, line, bar)
        for s, section in enumerate(sections)
        for number, system in enumerate(section.systems)
        for line, words in enumerate(system.words)
        for bar, segments in enumerate(words.bars)
        if any(one.text for one in segments) or (bar == 0 and words.pickup.text)
    }
    return every - came_to


def _drawn(pages: object, role: str) -> int:
    return sum(
        isinstance(item, Text) and item.role == role
        for page in pages  # type: ignore[attr-defined]
        for item in page.items
    )


def _struck(chart: Chart) -> int:
    systems = (s for i in range(len(chart.sections)) for s in section_systems(chart, i))
    rows = (s.music for s in systems if isinstance(s.music, MusicRow))
    return sum(len(bar.strikes) for row in rows for bar in row.bars)


def test_opening_quotes_in_free_time_leave_the_pick_up_alone() -> None:
    """Where no bar line parts them, the quote that hangs out before the first chord touches
    neither the pick-up nor its hyphen."""
    text = '== Verse\nC F\n: Ab- / (home) / on\n: long — / "home / on\n'
    for show in ("both", "numbers"):
        look = sized(0.5, "letter", show)  # type: ignore[arg-type]
        (page,) = laid_out(arranged(text, View(capo=Capo(4)), look), look, METRICS).pages
        assert overlapping(page) == []
