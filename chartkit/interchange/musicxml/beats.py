"""Chords at any time in a measure to chords on the beats of a bar.

The language strikes chords on beats, up to four in equal shares of one beat, or pushed:
early, before the beat.  A chord anywhere else goes to the nearest of these places, which is
noted as a guess.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from chartkit.chart.model import TICKS_PER_BEAT, Strike
from chartkit.interchange.musicxml.events import Struck
from chartkit.interchange.taken import Findings

_MOST_IN_A_BEAT = 4


class Placed(NamedTuple):
    """The strikes of a bar.

    ``from_units`` says where, in units from the start of the measure, each of them is
    really struck: words are shared out by that.  ``crowded`` are chords for which there was
    no room.
    """

    strikes: tuple[Strike, ...]
    from_units: tuple[int, ...]
    written: bool
    crowded: tuple[Struck, ...] = ()


def placed(
    struck: Sequence[Struck],
    beat: int,
    beats: int,
    findings: Findings,
    place: str,
    slashes: bool = False,
) -> Placed:
    """The chords on beats; ``beat`` is the length of one in units, ``beats`` their number.

    ``slashes`` asks for the beats to be written out where they need not be.
    """
    groups = _by_beat(struck, beat, beats)
    moved = _settle(groups, beat)
    for kind in dict.fromkeys(moved):
        findings.guess(*_MOVES[kind], place)
    crowded = tuple(s for group in groups for s in group[_MOST_IN_A_BEAT:])
    groups = [group[:_MOST_IN_A_BEAT] for group in groups]
    written = slashes or not _shared_evenly(groups)
    strikes = _strikes(groups)
    onsets = tuple(s.onset for group in groups for s in group)
    return Placed(strikes, onsets, written, crowded)


_MOVES = {
    "pushed": ("pushed-chord", "a chord struck before its beat is written as pushed"),
    "moved": ("chord-moved", "a chord struck off the beat is written on it"),
    "shared": ("chord-moved", "chords within one beat are written in equal shares of it"),
}


def _by_beat(struck: Sequence[Struck], beat: int, beats: int) -> list[list[Struck]]:
    groups: list[list[Struck]] = [[] for _ in range(beats)]
    for one in struck:
        groups[min(one.onset // beat, beats - 1)].append(one)
    return groups


def _settle(groups: list[list[Struck]], beat: int) -> list[str]:
    """Moves what stands off its beat; tells how, once for each chord moved."""
    told: list[str] = []
    fresh = [True] * len(groups)
    for i, group in enumerate(groups):
        if not group or not fresh[i]:
            continue
        last = group[-1]
        early = (len(group) == 1 or last.tied) and _pushes(last, last.onset - i * beat, beat)
        if early and i + 1 < len(groups) and not groups[i + 1]:
            groups[i + 1] = [replace(group.pop(), pushed=True)]
            fresh[i + 1] = False
            told += [] if last.tied else ["pushed"]
        within = [one.onset - i * beat for one in group]
        if any(at * len(group) != k * beat for k, at in enumerate(within)):
            told.append("shared" if len(group) > 1 else "moved")
    return told


def _pushes(struck: Struck, within: int, beat: int) -> bool:
    """Whether a chord, alone in its beat or tied over, is early for the next; silence never is."""
    return 2 * within >= beat and struck.chord is not None


def _shared_evenly(groups: list[list[Struck]]) -> bool:
    """Whether the chords share the bar as they do when no beat is written."""
    count = sum(map(len, groups))
    if not count or len(groups) % count:
        return False
    share = len(groups) // count
    return all(len(group) == (i % share == 0) for i, group in enumerate(groups))


def _strikes(groups: list[list[Struck]]) -> tuple[Strike, ...]:
    end = len(groups) * TICKS_PER_BEAT
    struck = [
        (i * TICKS_PER_BEAT + k * TICKS_PER_BEAT // len(group), one)
        for i, group in enumerate(groups)
        for k, one in enumerate(group)
    ]
    nexts = [*(onset for onset, _ in struck[1:]), end]
    return tuple(
        Strike(
            one.chord,
            onset,
            following - onset,
            one.bass_only,
            one.pushed,
            one.stopped,
            one.ringing,
            one.optional,
        )
        for (onset, one), following in zip(struck, nexts, strict=True)
    )
