"""Chords that stand in two parts of a score: some over the voice, others over the piano.

Nothing is taken from a part that often contradicts the other, for it may play something else.
Common practice, no source.
"""

from typing import NamedTuple

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure, Part, StruckChord
from chartkit.theory.note import pitch_class_of

_MOST_CONTRADICTED = 0.2
"""The share of the places with chords of both parts at which they may differ (ours)."""


class _Sound(NamedTuple):
    """What a chord sounds like: its pitch classes and its lowest one; both empty for N.C."""

    tones: frozenset[int]
    bass: int


_SILENCE = _Sound(frozenset(), -1)


def with_more_chords(chords: Part, other: Part, findings: Findings) -> Part:
    """The part whose chords are taken, with those that only another part has.

    Chords are taken where this part strikes none and another chord is sounding; of a part that
    differs here and there only in measures without a chord of this one.  What is taken or left out
    is reported.
    """
    pairs = list(zip(chords.measures, other.measures, strict=False))
    shared, differing = _compared(pairs)
    if differing > shared * _MOST_CONTRADICTED:
        findings.leave_out(
            "chords-of-other-part", f'the chords of the part "{other.name}", which differ'
        )
        return chords
    measures = list(chords.measures)
    meant = frozenset({_SILENCE})
    more: list[str] = []
    for i, (one, two) in enumerate(pairs):
        two = two._replace(struck=()) if differing and one.struck else two
        struck, meant = _struck_in_both(one, two, meant)
        more += [one.number] if len(struck) > len(one.struck) or _places(one, struck) else []
        length = max(one.length, two.length)
        measures[i] = one._replace(struck=struck, length=length, rests=two.rests)
    if not more:
        return chords
    findings.guess(
        "chords-of-part",
        f'chords that only the part "{other.name}" has, or has on beats, are taken from there',
        f"measure {more[0]}",
    )
    return chords._replace(measures=tuple(measures))


def _compared(pairs: list[tuple[Measure, Measure]]) -> tuple[int, int]:
    """At how many places both parts strike a chord, and at how many of these they strike two that
    contradict each other."""
    shared = differing = 0
    for one, two in pairs:
        there = {struck.onset: _sound(struck).tones for struck in reversed(one.struck)}
        other = {struck.onset: _sound(struck).tones for struck in reversed(two.struck)}
        both = there.keys() & other.keys()
        shared += len(both)
        differing += sum(not _agree(there[onset], other[onset]) for onset in both)
    return shared, differing


def _agree(one: frozenset[int], two: frozenset[int]) -> bool:
    """Whether one of two chords has all notes of the other, as C and C6."""
    return one == two or (bool(one) and bool(two) and (one <= two or two <= one))


def _struck_in_both(
    one: Measure, two: Measure, meant: frozenset[_Sound]
) -> tuple[tuple[StruckChord, ...], frozenset[_Sound]]:
    """The chords of a measure in two parts, the second's where the first has none and something
    else is sounding, or where it alone says at which places they are.  What sounds is ``meant`` by
    one chord or, where the parts say it in two ways, by two; with it come those at the end."""
    if any(struck.over for struck in one.struck) and _same_chords(one, two):
        return two.struck, frozenset({_sound(two.struck[-1])})
    here = {struck.onset for struck in one.struck}
    there = {struck.onset: _sound(struck) for struck in two.struck}
    more = () if one.simile else (s for s in two.struck if s.onset not in here)
    both: list[StruckChord] = []
    for struck in sorted((*one.struck, *more), key=lambda struck: struck.onset):
        sound = _sound(struck)
        if struck.onset in here:
            both.append(struck)
            meant = frozenset({sound, there.get(struck.onset, sound)})
        elif sound not in meant:
            both.append(struck)
            meant = frozenset({sound})
    return tuple(both), meant


def _places(one: Measure, struck: tuple[StruckChord, ...]) -> bool:
    """Whether the chords of a measure were moved to their places."""
    return any(chord.over for chord in one.struck) and not any(chord.over for chord in struck)


def _same_chords(one: Measure, two: Measure) -> bool:
    """Whether two parts have the same chords in a measure, the second of them at places."""
    return not any(struck.over for struck in two.struck) and (
        [_sound(struck).tones for struck in one.struck]
        == [_sound(struck).tones for struck in two.struck]
    )


def _sound(struck: StruckChord) -> _Sound:
    chord = struck.chord
    if chord is None:
        return _SILENCE
    bass = chord.root if chord.bass is None else chord.bass
    return _Sound(frozenset(chord.pitch_classes), pitch_class_of(bass))


# ---- over two staves
def with_chords_once(measures: tuple[Measure, ...], findings: Findings) -> tuple[Measure, ...]:
    """The measures with a chord that stands twice at one place (over two staves) struck once, and
    without an N.C. that is typed where a chord is struck."""
    return tuple(
        _struck_once(measure, findings) if len(measure.struck) > 1 else measure
        for measure in measures
    )


def _struck_once(measure: Measure, findings: Findings) -> Measure:
    if any(one.over for one in measure.struck):
        return measure
    chords = {one.onset for one in measure.struck if one.chord is not None}
    once = tuple(dict.fromkeys(measure.struck))
    kept = tuple(one for one in once if one.chord is not None or one.onset not in chords)
    if len(kept) < len(once):
        findings.leave_out(
            "no-chord-beside-symbol", "an N.C. beside a chord symbol", f"measure {measure.number}"
        )
    return measure._replace(struck=kept)
