"""How often something is played is never lost: every count that a sheet has becomes a count of the
chart, stands in a text of it, or is named at its line by a finding.

The forms of counts are common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Iterator

import pytest

from chartkit.chart.model import (
    BarLine,
    Chart,
    CueRow,
    MusicRow,
    Row,
    Section,
    SettingRow,
    WordsRow,
)
from chartkit.interchange.intake_result import IntakeResult, Refused
from tests.interchange.reading import taken, taken_once
from tests.interchange.typed_sheets import parts_of, sheets

_COUNT = re.compile(
    r"(?<![\w#♯.,/])(?:[x×]\s?(?P<behind>\d{1,2})|(?P<before>\d{1,2})\s?"
    r"(?:[x×]|times|mal|fois|veces|vezes|volte|keer|gånger|ganger|gange|razy))(?![\w/])",
    re.IGNORECASE,
)
"""A count, read by a pattern that shares no code with the reader's."""
_LINES = "I built a tower of paper\nI painted the windows all blue\n"


def _counts_in(text: str) -> list[int]:
    return [int(match["behind"] or match["before"]) for match in _COUNT.finditer(text)]


def _lost(text: str, result: IntakeResult) -> list[str]:
    """The lines with counts that are neither in the chart nor at the line of a finding."""
    reported = {one.line for one in result.findings if one.certainty != "sure" and one.line}
    have = Counter(_counts_of(result.chart))
    lost = []
    for number, line in enumerate(text.split("\n"), 1):
        for count in _counts_in(line):
            if count < 2 or number in reported:
                continue
            have[count] -= 1
            if have[count] < 0:
                lost.append(line)
    return lost


def _counts_of(chart: Chart) -> Iterator[int]:
    """How often sections and repeats are played, and the counts in the texts of a chart."""
    for section in chart.sections:
        yield section.times
        yield from (line.times or 2 for line in _repeats(section))
        for text in (section.name, *_texts(section.rows)):
            yield from _counts_in(text)
    for text in _texts(chart.top):
        yield from _counts_in(text)


def _repeats(section: Section) -> Iterator[BarLine]:
    rows = (row for row in section.rows if isinstance(row, MusicRow))
    return (line for row in rows for line in row.lines if line.kind.startswith("repeat"))


def _texts(rows: tuple[Row, ...]) -> Iterator[str]:
    for row in rows:
        if isinstance(row, MusicRow):
            yield from (cue.text for bar in row.bars for cue in bar.cues)
        elif isinstance(row, CueRow):
            yield row.text
        elif isinstance(row, WordsRow):
            yield " ".join(one.text for cell in row.cells for one in cell)
        elif isinstance(row, SettingRow):
            yield str(row.value)


def test_no_count_of_a_sheet_is_lost() -> None:
    """In all known sheets every count is in the chart or named by a finding."""
    lost = {}
    for sheet in reversed(sheets()):  # another process may read them from the first on
        try:
            result = taken_once(sheet.text)
        except Refused:
            continue
        if lines := _lost(sheet.text, result):
            lost[sheet.name] = lines
    assert lost == {}


@pytest.mark.parametrize("count", ["x4", "(x3)", "4 times", "(4 times round)", "2x", "x12"])
@pytest.mark.parametrize(
    "row", ["C  G/B  Am  F   {}", "| C | G/B | Am | F |  {}", "C  G/B  {}\n        Am  F"]
)
@pytest.mark.parametrize("name", ["Verses", "Verse"])
def test_no_count_behind_given_chords_is_lost(name: str, row: str, count: str) -> None:
    """Nor where chords stand once, above the words of all verses."""
    chords = f"{name}: {row.format(count)}\nChorus: F  G  C\n"
    text = f"Paper Hill\n\n{chords}\nVerse 1:\n{_LINES}\nChorus:\nPaper hill, paper sea\n"
    assert _lost(text, taken(text)) == []


@pytest.mark.parametrize("count", [1, 2, 4])
def test_given_chords_are_written_out_as_often_as_they_go_round(count: int) -> None:
    """Chords without bars stand that often above the words of a verse, which is sung once."""
    said = f"  x{count}" if count > 1 else ""
    text = f"Paper Hill\n\nVerses: C  Am{said}\nChorus: F  G\n\nVerse 1:\n{_LINES}"
    parts = {part.name: part for part in parts_of(taken(text).chart)}
    assert parts["Verse 1"].music == ["C", "Am"] * count
    assert parts["Verse 1"].times == 1
