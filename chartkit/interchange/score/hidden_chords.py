"""Chord symbols that are not printed, in a part that prints others.

A program hides a symbol that another one stands for, or that only plays; a person who hides one
has typed it all the same.  So one is taken where no other says what sounds.  Common practice, no
source.
"""

from collections.abc import Iterator, Sequence

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure, StruckChord
from chartkit.theory.chord import Chord

_NEAR = 4
"""A hidden chord may play this part of a measure before it is printed; ours."""


def with_hidden_chords(
    measures: Sequence[Measure], findings: Findings, taken: bool
) -> tuple[Measure, ...]:
    """The measures with each hidden chord that stands alone struck like any other, if hidden ones
    are ``taken`` at all; the others are left out.  Both are reported."""
    if not any(measure.hidden for measure in measures):
        return tuple(measures)
    alone = set(_alone(measures)) if taken else set()
    return tuple(
        _decided(measure, [one for one in measure.hidden if (i, one) in alone], findings)
        for i, measure in enumerate(measures)
    )


def _alone(measures: Sequence[Measure]) -> Iterator[tuple[int, StruckChord]]:
    """The hidden chords that no printed one stands for, each with its measure: none is at its
    place, and the chord is neither that which sounds nor one that is printed right behind it."""
    sounding: Chord | str | None = "nothing"
    for i, measure in enumerate(measures):
        printed = {one.onset: one for one in measure.struck}
        both = sorted((*measure.struck, *measure.hidden), key=lambda one: one.onset)
        for one in both if measure.hidden else measure.struck:
            if one.onset not in printed and one.chord != sounding:
                behind = _right_behind(one, measure, measures[i + 1 : i + 2])
                if one.chord not in behind:
                    yield i, one
            sounding = printed.get(one.onset, one).chord


def _right_behind(
    one: StruckChord, measure: Measure, following: Sequence[Measure]
) -> list[Chord | None]:
    """The chords that are printed within a quarter of a measure behind another."""
    end = one.onset + measure.length // _NEAR
    places = [(other.onset, other.chord) for other in measure.struck]
    places += [
        (measure.length + o.onset, o.chord) for next_one in following for o in next_one.struck
    ]
    return [chord for at, chord in places if one.onset < at <= end]


def _decided(measure: Measure, alone: Sequence[StruckChord], findings: Findings) -> Measure:
    """A measure with those of its hidden chords that stand ``alone``, and without the others."""
    place = f"measure {measure.number}"
    for one in measure.hidden:
        name = one.chord or "N.C."
        if one in alone:
            told = (
                f'the chord symbol "{name}" is not printed, but no other stands there: it is taken'
            )
            findings.guess("hidden-chord-alone", told, place)
        else:
            told = f'a chord symbol that is not printed ("{name}")'
            findings.leave_out("hidden-chord", told, place)
    struck = sorted((*measure.struck, *alone), key=lambda one: one.onset)
    return measure._replace(struck=tuple(struck), hidden=())
