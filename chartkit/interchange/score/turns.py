"""Singers who take turns: one has the verses and rests in the choruses that another one sings.

The words of whoever sings are the words of the song.  Common practice, no source.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby

from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure, Melody, Part, SungSyllable

_FEWEST_APART = 2
"""The fewest measures in which one singer rests that are a turn of another one, where both also
sing at once (ours)."""

_VOWELS_ALONE = CompiledLater(
    r"(?:o+h*|u+h*|a+h*|h?m+|(?:la|na|da|ba|du|doo|dum|doop|sha|wah?|hey|yeah?)+)\W*"
)
"""What singers behind another one sing without words."""


def with_words_of(main: Part, other: Part, findings: Findings) -> Part:
    """The part that is sung with the words of another where it has none itself.

    All of them are taken of a part that never sings at the same time, else those in measures in
    which this one rests for a while; none of one that has no more than "ooh" there.  What is taken
    or left out is reported.
    """
    pairs = list(zip(main.measures, other.measures, strict=False))
    at = set(_turns(pairs))
    if all(_VOWELS_ALONE.fullmatch(word.text) for i in at for word in _words(pairs[i][1])):
        at = set()
    if not at:
        findings.leave_out(
            "words-of-part", f'the words of the part "{other.name}" (take it with --part)'
        )
        return main
    measures = list(main.measures)
    for i in at:
        measures[i] = _both(*pairs[i])
    findings.guess(
        "words-of-parts",
        f'the words of the part "{other.name}" are taken where "{main.name}" has none',
        f"measure {measures[min(at)].number}",
    )
    if any(_words(two) for i, (_, two) in enumerate(pairs) if i not in at):
        findings.leave_out(
            "words-of-part",
            f'other words of the part "{other.name}" (take it with --part)',
        )
    melody = _of_both(main.melody, other.melody)
    return main._replace(measures=tuple(measures), melody=melody)


def _of_both(one: Melody, two: Melody) -> Melody:
    """The melody of a singer with the range of another one's too."""
    if not (one.sung and two.sung and one.lowest and two.lowest and one.highest and two.highest):
        return one
    lowest = min(one.lowest, two.lowest, key=lambda pitch: pitch.midi)
    highest = max(one.highest, two.highest, key=lambda pitch: pitch.midi)
    return one._replace(lowest=lowest, highest=highest)


def _words(measure: Measure) -> list[SungSyllable]:
    return [one for one in measure.sung if one.text]


def _turns(pairs: Sequence[tuple[Measure, Measure]]) -> Iterator[int]:
    """The measures in which the words of the second part are taken."""
    sung = [(_words(one), _words(two)) for one, two in pairs]
    apart = [not _overlap(one, two) for one, two in sung]
    if all(apart):
        yield from (at for at, (_, words) in enumerate(sung) if words)
        return
    rests = groupby(range(len(sung)), key=lambda at: not sung[at][0])
    for resting, run in rests:
        turn = [at for at in run if sung[at][1]] if resting else []
        if len(turn) < _FEWEST_APART:
            continue
        yield from turn
        for border in (turn[0] - 1, turn[-1] + 1):  # an upbeat, or the end of the line
            if 0 <= border < len(sung) and all(sung[border]) and apart[border]:
                yield border


def _overlap(one: Sequence[SungSyllable], two: Sequence[SungSyllable]) -> bool:
    """Whether words of two parts in a measure stand at the same time."""
    if not (one and two):
        return False
    return one[0].onset <= two[-1].onset and two[0].onset <= one[-1].onset


def _both(one: Measure, two: Measure) -> Measure:
    """A measure with the words of both parts; what the first holds ends where the second sings."""
    start = min((word.onset for word in _words(two)), default=0)
    kept = [syllable for syllable in one.sung if not (syllable.held and syllable.onset >= start)]
    sung = sorted((*kept, *two.sung), key=lambda syllable: syllable.onset)
    first = two.first_note if not _words(one) else one.first_note
    return one._replace(sung=tuple(sung), first_note=first)
