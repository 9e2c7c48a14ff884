"""The example songs and the reference of the language."""

import re
from pathlib import Path

import pytest

from chartkit.chart.model import Chart, MusicRow
from chartkit.chart.systems import section_systems
from chartkit.diagnostics import Source, diagnostic_text
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of
from tests.each import each

EXAMPLES = Path(__file__).parents[2] / "examples"
SONGS = sorted(EXAMPLES.glob("*.chart"))


def read(text: str, name: str = "chart") -> Chart:
    """The chart of a text in which nothing is wrong."""
    source = Source(text, name)
    reading = read_chart(source)
    assert not reading.diagnostics, "\n".join(
        diagnostic_text(d, source) for d in reading.diagnostics
    )
    return reading.chart


def song(path: Path) -> Chart:
    """The chart of an example."""
    return read(path.read_text(encoding="utf-8"), path.name)


def test_there_are_at_least_ten_songs() -> None:
    """The examples are a dozen songs, not one."""
    assert len(SONGS) >= 10


@each("path", SONGS, ids=lambda path: path.stem)
def test_examples_are_without_a_mistake(path: Path) -> None:
    """Each example reads without errors or warnings and names its title, writer and key."""
    chart = song(path)
    assert chart.text("title") and chart.text("writer") and isinstance(chart.key, Key)


@each("path", SONGS, ids=lambda path: path.stem)
def test_examples_stand_in_canonical_columns(path: Path) -> None:
    """Writing an example gives the very text of its file."""
    assert chart_text(song(path)) == path.read_text(encoding="utf-8")


@each("path", SONGS, ids=lambda path: path.stem)
def test_examples_are_whole_songs(path: Path) -> None:
    """Each is of a song's length, 24 bars or more as played."""
    chart = song(path)
    played = 0
    for index, section in enumerate(chart.sections):
        rows = [s.music for s in section_systems(chart, index) if s.music and not s.music.free]
        played += section.times * sum(bar.lasts for row in rows for bar in row.bars)
    assert played >= 24


@each("path", SONGS, ids=lambda path: path.stem)
def test_examples_begin_and_end_at_home(path: Path) -> None:
    """The tonic is struck, and most roots belong to a key of the song.

    Common practice, no source: a song whose chords are mostly outside its key names the
    wrong key.
    """
    chart = song(path)
    chords: list[Chord] = []
    inside = 0
    for section in chart.sections:
        for row in section.rows:
            for bar in row.bars if isinstance(row, MusicRow) else ():
                chords += [strike.chord for strike in bar.strikes if strike.chord is not None]
    assert isinstance(chart.key, Key)
    keys = [chart.key] + [
        row.value  # type: ignore[misc]
        for section in chart.sections
        for row in section.rows
        if getattr(row, "name", "") == "key"
    ]
    for chord in chords:
        inside += any(pitch_class_of(chord.root) in map(pitch_class_of, key.scale) for key in keys)
    assert inside / len(chords) > 0.7
    assert any(chord.root == chart.key.tonic for chord in chords)


def chart_blocks() -> list[str]:
    """The whole charts shown in the reference, fenced as ``chart``."""
    text = (EXAMPLES / "LANGUAGE.md").read_text(encoding="utf-8")
    return re.findall(r"^```chart\n(.*?)^```", text, re.DOTALL | re.MULTILINE)


def mistaken_blocks() -> list[str]:
    """The charts shown there with a mistake in them, fenced as ``chart-with-mistakes``."""
    text = (EXAMPLES / "LANGUAGE.md").read_text(encoding="utf-8")
    return re.findall(r"^```chart-with-mistakes\n(.*?)^```", text, re.DOTALL | re.MULTILINE)


@each("number", range(len(chart_blocks())))
def test_charts_in_the_reference_read_without_a_mistake(number: int) -> None:
    """A chart copied from the reference works."""
    assert read(chart_blocks()[number]).sections


@pytest.mark.parametrize("number", range(len(mistaken_blocks())))
def test_mistakes_in_the_reference_are_mistakes(number: int) -> None:
    """Charts that the reference shows as mistakes are reported."""
    assert read_chart(Source(mistaken_blocks()[number])).diagnostics


def test_the_reference_shows_charts() -> None:
    """The reference teaches by example."""
    assert len(chart_blocks()) >= 8 and mistaken_blocks()
