"""Basses that are typed in a score as words to the players, without their chord: "/G".

Common practice, no source.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.intake_result import Findings, SymbolReader
from chartkit.interchange.score.events import Measure, PlayerInstruction, StruckChord
from chartkit.theory.chord import Chord

_BASS = re.compile(r"/\s?[A-G][b#♭♯]?")


def with_typed_basses(
    measures: Sequence[Measure], interval: int, read_symbol: SymbolReader, findings: Findings
) -> tuple[Measure, ...]:
    """Strikes each bass that is typed alone under the chord that sounds there; returns the
    measures.  One before any chord stays words.

    ``interval`` brings the part to sounding pitch.
    """
    if not any(_BASS.fullmatch(one.text) for measure in measures for one in measure.instructions):
        return tuple(measures)
    made: list[Measure] = []
    before: Chord | None = None
    for measure in measures:
        basses = {
            one: chord.bass + interval
            for one in measure.instructions
            if _BASS.fullmatch(one.text)
            and (chord := read_symbol("C" + one.text.replace(" ", ""))) is not None
            and chord.bass is not None
        }
        made.append(_with_basses(measure, before, basses, findings) if basses else measure)
        before = made[-1].struck[-1].chord if made[-1].struck else before
    return tuple(made)


def _with_basses(
    measure: Measure,
    before: Chord | None,
    basses: dict[PlayerInstruction, int],
    findings: Findings,
) -> Measure:
    """The measure with its typed basses struck; ``before`` is the chord that it begins with."""
    struck = list(measure.struck)
    kept = list(measure.instructions)
    place = f"measure {measure.number}"
    for one, bass in basses.items():
        behind = sum(chord.onset <= one.onset for chord in struck)
        over = struck[behind - 1].chord if behind else before
        if over is None:
            findings.guess(
                "chord-among-words", f'the words "{one.text}" name a bass without a chord', place
            )
            continue
        chord = Chord(over.root, over.quality, bass)
        if behind and struck[behind - 1].onset == one.onset:
            struck[behind - 1] = struck[behind - 1]._replace(chord=chord)
        else:
            struck.insert(behind, StruckChord(one.onset, chord, bass_only=True))
        kept.remove(one)
        findings.guess("typed-chord", f'the words "{one.text}" are a bass under {over}', place)
    return measure._replace(instructions=tuple(kept), struck=tuple(struck))
