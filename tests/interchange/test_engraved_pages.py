"""Pages of our own without the chart inside: every chord and every word is read off the page.

What there is to read is counted apart from the reader: the example's own strikes and words, as
arranged for the page.
"""

from collections.abc import Sequence
from difflib import SequenceMatcher
from functools import lru_cache
from pathlib import Path

import pytest

from chartkit.arrange.arrange import arrange
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.compile import Look, engraved
from chartkit.interchange.taken import Taken
from tests.charts import chart_of
from tests.interchange.reading import reads_back, taken
from tests.interchange.test_musicxml_round_trip import EXAMPLES


@lru_cache
def example(path: Path) -> tuple[Chart, Taken]:
    """An example, and what is read off its page."""
    chart = chart_of(path.read_text(encoding="utf-8"))
    _, page = engraved(chart, View(), Look())
    return chart, taken(page)


def sounding(chart: Chart) -> list[str]:
    """What sounds, chord by chord, every section written out."""
    return [
        printed.plain()
        for section in arrange(chart, View(show="sounding")).sections
        for system in section.systems
        for bar in system.bars
        for strike in bar.strikes
        if (printed := strike.names[-1]) is not None
    ]


def sung_words(chart: Chart) -> list[str]:
    """The words, those parted by hyphens whole, every section written out."""
    lines = [
        "".join(
            segment.text + ("" if segment.split else " ")
            for cell in ((line.pickup,), *line.bars)
            for segment in cell
        )
        for section in arrange(chart, View()).sections
        for system in section.systems
        for line in system.words
    ]
    return " ".join(lines).split()


def in_order(wanted: Sequence[str], found: Sequence[str]) -> int:
    """How many of the wanted are found in their order, at least."""
    matcher = SequenceMatcher(None, wanted, found, autojunk=False)
    return sum(block.size for block in matcher.get_matching_blocks())


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_chord_and_word_is_read_off_the_page(path: Path) -> None:
    """All chords come back as they sound, in order and no others, and so do all words."""
    chart, found = example(path)
    assert found.format == "PDF"
    assert not any(f.code == "chart-inside" for f in found.findings)
    reads_back(found.chart)
    assert sounding(found.chart) == sounding(chart)
    wanted, read = sung_words(chart), sung_words(found.chart)
    assert in_order(wanted, read) == len(wanted)
    assert len(read) == len(wanted)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_head_and_the_names_of_sections_are_read(path: Path) -> None:
    """Title, writer, capo, meter and tempo are the song's, sections have their names, and the
    line at the foot of a page is dropped and told."""
    chart, found = example(path)
    read = found.chart
    for name in ("title", "writer", "capo", "meter", "tempo"):
        assert read.setting(name) == chart.setting(name), name  # type: ignore[arg-type]
    assert [section.name for section in read.sections] == [
        section.name for section in chart.sections
    ]
    assert any(f.code == "running-heads" for f in found.findings)
    assert not any(" — " in word for word in sung_words(read))


@pytest.mark.parametrize("capo", [-2, 2, 5])
def test_other_capos_and_shapes_alone(capo: int) -> None:
    """Two lines of chords are told as shapes over what sounds at whatever fret; shapes alone
    are read as shapes."""
    path = next(path for path in EXAMPLES if path.stem == "wren-in-the-rafters")
    chart = chart_of(path.read_text(encoding="utf-8"))
    for view in (View(capo=capo), View(capo=capo, show="shapes")):
        found = taken(engraved(chart, view, Look())[1]).chart
        assert found.capo == capo
        assert found.written_as_shapes == (view.show == "shapes")
        assert sounding(found) == sounding(chart)
