"""How hard a song's chords are to play, told from what human ratings rest on.

Source: M. Velez Vasquez, M. Baelemans, J. Driedger, W. Zuidema, J. A. Burgoyne, "Quantifying
the Ease of Playing Song Chords on the Guitar", ISMIR 2023.  On their 199 rated songs the
number of distinct chords and the rate of change alone rank songs as experts do (rank
correlation 0.76, our own reckoning from the published data); fingering adds to the rating
of the fingerings themselves.  So the three are reported side by side, and not as a grade.
"""

from dataclasses import dataclass

from chartkit.advise.ranked import RankedOption
from chartkit.advise.song import Song


@dataclass(frozen=True, slots=True)
class Difficulty:
    """What makes the chords of a song hard.

    ``distinct_shapes`` to know, ``changes_per_beat`` and, where the tempo is known,
    ``changes_per_minute``; ``effort`` is the mean of the hand's effort in the option that
    was looked at, without unit.
    """

    distinct_shapes: int
    changes_per_beat: float
    changes_per_minute: float | None
    effort: float


def difficulty_of(song: Song, option: RankedOption) -> Difficulty:
    """The difficulty of a song as played with one option."""
    rate = song.changes / song.beats
    return Difficulty(
        len({use.shape for use in option.shapes}),
        rate,
        None if song.tempo is None else rate * song.tempo,
        option.measures.effort,
    )
