"""Which of several chord symbols at one place are struck there."""

from collections.abc import Sequence
from itertools import groupby

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import PlayerInstruction, StruckChord


def said_once(run: Sequence[StruckChord], on_staves: bool) -> list[StruckChord]:
    """Chords at one place without those said again: one after the other, or all on a second staff
    where they may stand ``on_staves``."""
    kept = [one for one, _ in groupby(run)]
    half = len(kept) // 2
    twice = on_staves and len(kept) % 2 == 0 and kept[:half] == kept[half:]
    return kept[:half] if twice else kept


def instead_of(
    run: Sequence[StruckChord], findings: Findings, place: str
) -> tuple[list[StruckChord], list[PlayerInstruction]]:
    """The chords at one place, and as cues those of type "alternate", which may be played instead
    of the others; where there are no others, all are chords."""
    struck = [one for one in run if not one.optional]
    if not struck or len(struck) == len(run):
        return [*run], []
    cues = [
        PlayerInstruction(one.onset, f"or {one.chord or 'N.C.'}") for one in run if one.optional
    ]
    for cue in cues:
        beside = struck[0].chord or "N.C."
        findings.guess(
            "alternate-chord",
            f'"{cue.text}" is a cue: a chord of type "alternate" stands beside {beside}',
            place,
        )
    return struck, cues
