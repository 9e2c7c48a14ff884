"""Chords that a sheet types once, before the words of the sections that are played with them."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from chartkit.chart.model import BarLine, Cue, MusicRow, Row, Section
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.directions import says_throughout

OF_SEVERAL = re.compile(
    r"(?:verses|choruses|refrains|strophen|couplets|coplas|estrofas|strofe|"
    r"all verses|every verse)\b",
    re.IGNORECASE,
)
"""Names of chords that several sections have."""


def is_for_all(rows: Sequence[Row]) -> bool:
    """Whether a row of chords is said to be for the whole song."""
    return any(
        says_throughout(cue.text) is not None
        for row in rows
        if isinstance(row, MusicRow)
        for bar in row.bars
        for cue in bar.cues
    )


def without_given(
    sections: Sequence[Section], used: Mapping[int, int], given: Iterable[int]
) -> tuple[Section, ...]:
    """The sections without those whose chords stand over the words of later ones; ``used`` has
    their places, each with the first of these.  One that another needs by its name stays.

    One of the ``given`` that no words came for stands behind the first with the chords that were
    listed before it: "Verses" and "Chorus" over the words of a verse are a verse and a chorus.
    """
    needed = {one.same_as.casefold() for one in sections}
    needed |= {one.name.casefold() for one in sections if not one.rows}
    needed -= {
        one.name.casefold()
        for at, one in enumerate(sections)
        if at not in used and any(isinstance(row, MusicRow) for row in one.rows)
    }
    order = [
        at
        for at, one in enumerate(sections)
        if at not in used or (one.name and one.name.casefold() in needed)
    ]
    names = Counter(one.name.casefold() for one in sections)
    behind = -1
    for at in sorted(set(given)):
        alone = at not in used and names[sections[at].name.casefold()] == 1
        if alone and at in order and behind in order:
            order.remove(at)
            order.insert(order.index(behind) + 1, at)
        behind = used.get(at, at if alone and behind >= 0 else behind)
    return tuple(sections[at] for at in order)


_MOST_WRITTEN_OUT = 8


def played_often(music: Sequence[Row], times: int, findings: Findings) -> list[Row]:
    """Rows of given chords as often as the count behind them says: bars in a repeat, chords
    without bars written out, and where both fail the count as a cue.

    The words of a section are sung once over all of this, so the section is not repeated.
    """
    rows = [row for row in music if isinstance(row, MusicRow)]
    if times < 2 or len(rows) != 1:
        return list(music)
    (row,) = rows
    at = list(music).index(row)
    if not row.free and all(line == BarLine() for line in row.lines):
        lines = (BarLine("repeat-start"), *row.lines[1:-1], BarLine("repeat-end", times=times))
        written: list[Row] = [replace(row, lines=lines)]
    elif row.free and times <= _MOST_WRITTEN_OUT:
        written = [row] * times
        findings.guess(
            "chords-again",
            "chords with a count behind their row are written out",
            f"{row.span.start}:1",
        )
    else:
        last = row.bars[-1]
        cue = Cue(f"{times} times")
        written = [replace(row, bars=(*row.bars[:-1], replace(last, cues=(*last.cues, cue))))]
    return [*music[:at], *written, *music[at + 1 :]]
