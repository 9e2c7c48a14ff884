"""Chords that a sheet types once, before the words of the sections that are played with them."""

import re
from collections.abc import Sequence, Set

from chartkit.chart.model import MusicRow, Row, Section
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


def without_given(sections: Sequence[Section], used: Set[int]) -> tuple[Section, ...]:
    """The sections without those whose chords stand over the words of later ones; ``used`` has
    their places.  One that another needs by its name stays."""
    needed = {one.same_as.casefold() for one in sections}
    needed |= {one.name.casefold() for one in sections if not one.rows}
    needed -= {
        one.name.casefold()
        for at, one in enumerate(sections)
        if at not in used and any(isinstance(row, MusicRow) for row in one.rows)
    }
    return tuple(
        one
        for at, one in enumerate(sections)
        if at not in used or (one.name and one.name.casefold() in needed)
    )
