"""How often a repeat is played, by the verses that stand under it.

Three verses under a repeat without a number are sung one after another.  Common practice, no
source.
"""

from collections.abc import Iterator, Sequence

from chartkit.chart.marks import MARKS
from chartkit.chart.model import MOST_TIMES
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure
from chartkit.phrases import counted

_FAR = 32
"""How many measures behind a repeat its further endings are looked for (ours)."""
_PLAIN = 2
"""How often a repeat is played that says nothing else."""


def with_times_of_verses(
    measures: tuple[Measure, ...], verses: dict[str, int], findings: Findings
) -> tuple[Measure, ...]:
    """The measures, with each repeat over more verses than two played once for each of them, where
    no jump comes back to them.  A second ending is for the last of them; other endings stay as they
    are numbered, with a finding where these are fewer than the verses."""
    if len(verses) <= _PLAIN:
        return measures
    made = list(measures)
    start, back = 0, goes_back_to(measures)
    for at, measure in enumerate(measures):
        if measure.left.repeat:
            start = at
        if measure.right.repeat:
            if back > at:
                _play_verses(made, start, at, verses, findings)
            start = at + 1
    return tuple(made)


def goes_back_to(measures: Sequence[Measure]) -> int:
    """The first measure to which a jump leads back; behind the last one where there is none."""
    marks = [(at, mark) for at, measure in enumerate(measures) for mark in measure.marks]
    signs = [at for at, mark in marks if mark.kind == "segno"]
    first = len(measures)
    for at, mark in marks:
        if MARKS[mark.kind].leads_back:
            before = [sign for sign in signs if sign <= at and mark.kind == "D.S."]
            first = min(first, max(before, default=0))
    return first


def _play_verses(
    made: list[Measure], start: int, end: int, numbers: dict[str, int], findings: Findings
) -> None:
    """Plays the measures of a repeat once for each of their verses."""
    verses = len(singing_in(made[start : end + 1]))
    if not _PLAIN < verses <= MOST_TIMES or made[end].right.times > _PLAIN:
        return
    place = f"measure {made[end].number}"
    sung = counted(verses, "verse")
    if any(measure.left.endings for measure in made[start : end + 1]):
        if max(_endings(made[start : end + _FAR])) >= verses:
            return
        if _last_ends_alone(made[start : end + _FAR], end - start, numbers):
            _number_endings(made, start, end, verses)
            told = f"{sung} stand over two endings: the second is for the last of them"
            findings.guess("times-of-verses", told, place)
        else:
            told = f"{sung} stand over endings that are numbered for fewer"
            findings.guess("verses-not-sung", told, place)
        return
    made[end] = made[end]._replace(right=made[end].right._replace(times=verses))
    findings.guess(
        "times-of-verses",
        f"{sung} are sung in this repeat: it is played {verses} times",
        place,
    )


def _last_ends_alone(measures: Sequence[Measure], end: int, numbers: dict[str, int]) -> bool:
    """Whether a repeat, whose first ending stops at ``end``, has a second one and no other, and
    what is sung in them does not deny that it is for the last verse alone."""
    if list(_endings(measures)) != [1, 2] or not measures[end + 1 : end + 2]:
        return False
    first = next(at for at, measure in enumerate(measures) if measure.left.endings)
    closing = (at for at in range(end + 1, len(measures)) if measures[at].right.closes)
    last = max(singing_in(measures[: end + 1]), key=numbers.__getitem__)
    sung_last = singing_in(measures[end + 1 : next(closing, end + 1) + 1])
    first_line = {verse for verse in numbers if numbers[verse] == 1}
    return last not in singing_in(measures[first : end + 1]) and sung_last <= {last, *first_line}


def _number_endings(made: list[Measure], start: int, end: int, verses: int) -> None:
    """Numbers the first ending of a repeat for all verses but the last, the second for that."""
    first = next(at for at in range(start, end + 1) if made[at].left.endings)
    for at, endings in ((first, tuple(range(1, verses))), (end + 1, (verses,))):
        made[at] = made[at]._replace(left=made[at].left._replace(endings=endings))


def _endings(measures: Sequence[Measure]) -> Iterator[int]:
    """The numbers of the endings of the first repeat in some measures."""
    for at, measure in enumerate(measures):
        if at and measure.left.repeat:
            return
        yield from measure.left.endings


def singing_in(measures: Sequence[Measure]) -> set[str]:
    """The verses that have words in some measures."""
    return {one.verse for measure in measures for one in measure.sung if one.text}
