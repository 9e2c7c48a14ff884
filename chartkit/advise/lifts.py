"""Lifts that a chart doesn't name: a section played again one to three half steps higher.

Singers' arrangements lift a last chorus so, and lead sheets often write only the chords (common
practice, no source).
"""

from collections.abc import Sequence

from chartkit.theory.chord import Chord
from chartkit.theory.note import pitch_class_of
from chartkit.theory.quality import Quality

_HIGHEST = 3
"""The most half steps of a lift (ours)."""
_FEWEST_CHORDS = 3
"""The fewest different chords that show a lift: two a step apart may belong to one key (ours)."""

_Pattern = tuple[tuple[int, Quality, int | None], ...]
"""Chords by the pitch class of the root, the quality, and the pitch class of a bass."""


def lifts_of(sections: Sequence[Sequence[Chord]]) -> tuple[int, ...]:
    """By how many half steps each section in playing order lies above the song's first key.

    A section that repeats the chords of an earlier one, all so much higher, is lifted, and what
    follows stays there until an earlier section returns at its own pitch.  A section of new chords
    is where the song is.
    """
    heard: dict[_Pattern, int] = {}
    lifts: list[int] = []
    here = 0
    for chords in sections:
        if chords:
            here = _lift(chords, heard, here)
            heard.setdefault(_lowered(chords, 0), here)
        lifts.append(here)
    return tuple(lifts)


def _lift(
    chords: Sequence[Chord],
    heard: dict[_Pattern, int],
    here: int,
) -> int:
    """How many half steps a section is lifted, after the sections before it."""
    if (known := heard.get(_lowered(chords, 0))) is not None:
        return known
    if len(set(chords)) < _FEWEST_CHORDS:
        return here
    for up in range(1, _HIGHEST + 1):
        known = heard.get(_lowered(chords, up))
        if known is not None:
            return known + up
    return here


def _lowered(chords: Sequence[Chord], by: int) -> _Pattern:
    """The chords so many half steps lower, spelling aside."""
    return tuple(
        (
            (pitch_class_of(chord.root) - by) % 12,
            chord.quality,
            None if chord.bass is None else (pitch_class_of(chord.bass) - by) % 12,
        )
        for chord in chords
    )
