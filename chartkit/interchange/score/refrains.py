"""A refrain behind verses that stand under one another, in a score without repeats.

It is sung after each verse.  Common practice, no source.
"""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from chartkit.chart.marks import MARKS
from chartkit.chart.model import MusicRow, Section, WordsRow
from chartkit.chart.section_words import kind_of_section
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure
from chartkit.phrases import counted

_SUNG_AGAIN = ("verse", "chorus")
"""Kinds of sections that say, behind the refrain, that the song is written out."""


def with_refrains_between(
    sections: tuple[Section, ...], measures: Sequence[Measure], findings: Findings
) -> tuple[Section, ...]:
    """The sections, with headings that let the refrain come after each of the verses that stand
    over it; none where repeats, jumps or later verses say how the song goes on."""
    if any(_leads(measure) for measure in measures):
        return sections
    often = Counter(section.name for section in sections)
    for at, (verses, refrain) in enumerate(pairwise(sections), 1):
        times = _most_lines(verses)
        later = {kind_of_section(section.name) for section in sections[at + 1 :]}
        named = verses.name and often[verses.name] == often[refrain.name] == 1
        alone = kind_of_section(refrain.name) == "chorus" and _most_lines(refrain) == 1
        if not (named and alone and times > 1) or later & set(_SUNG_AGAIN):
            continue
        findings.guess(
            "refrain-between",
            f'"{verses.name}" has {counted(times, "verse")} and no repeat: "{refrain.name}" is '
            "sung after each of them",
        )
        again = (Section(verses.name), Section(refrain.name)) * (times - 1)
        return (*sections[: at + 1], *again, *sections[at + 1 :])
    return sections


def _leads(measure: Measure) -> bool:
    """Whether a measure says where to go on."""
    repeats = measure.left.repeat or measure.right.repeat or measure.left.endings
    return bool(repeats) or any(MARKS[mark.kind].leads_back for mark in measure.marks)


def _most_lines(section: Section) -> int:
    """The most lines of words under one row of a section."""
    most = lines = 0
    for row in section.rows:
        if isinstance(row, MusicRow):
            lines = 0
        elif isinstance(row, WordsRow):
            lines += 1
            most = max(most, lines)
    return most
