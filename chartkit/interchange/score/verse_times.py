"""How often a repeat is played, by the verses that stand under it.

Three verses under a repeat without a number are sung one after another.  Common practice, no
source.
"""

from collections.abc import Sequence

from chartkit.chart.marks import MARKS
from chartkit.chart.model import MOST_TIMES
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure
from chartkit.phrases import counted

_PLAIN = 2
"""How often a repeat is played that says nothing else."""


def with_times_of_verses(
    measures: tuple[Measure, ...], verses: dict[str, int], findings: Findings
) -> tuple[Measure, ...]:
    """The measures, with each repeat over more verses than two played once for each of them, where
    no jump comes back to them: the last of two endings is then that of the last verse."""
    jumps = any(MARKS[mark.kind].leads_back for measure in measures for mark in measure.marks)
    if len(verses) <= _PLAIN or jumps:
        return measures
    made = list(measures)
    start = 0
    for at, measure in enumerate(measures):
        if measure.left.repeat:
            start = at
        if measure.right.repeat:
            _play_verses(made, start, at, findings)
            start = at + 1
    return tuple(made)


def _play_verses(made: list[Measure], start: int, end: int, findings: Findings) -> None:
    """Plays the measures of a repeat once for each of their verses."""
    verses = _verses(made[start : end + 1])
    if not _PLAIN < verses <= MOST_TIMES or made[end].right.times > _PLAIN:
        return
    endings = [at for at in range(start, end + 1) if made[at].left.endings]
    if not endings:
        made[end] = made[end]._replace(right=made[end].right._replace(times=verses))
    elif not _number_endings(made, endings, end, verses):
        return
    findings.guess(
        "times-of-verses",
        f"{counted(verses, 'verse')} are sung in this repeat: it is played {verses} times",
        f"measure {made[end].number}",
    )


def _number_endings(made: list[Measure], endings: list[int], end: int, verses: int) -> bool:
    """Gives the first of two endings to all verses but the last; tells whether it could."""
    first, second = endings[0], end + 1
    if len(endings) > 1 or second == len(made):
        return False
    if (made[first].left.endings, made[second].left.endings) != ((1,), (2,)):
        return False
    if _verses(made[first : end + 1]) == verses or _verses(made[second : second + 1]) > 1:
        return False
    for at, numbers in ((first, tuple(range(1, verses))), (second, (verses,))):
        made[at] = made[at]._replace(left=made[at].left._replace(endings=numbers))
    return True


def _verses(measures: Sequence[Measure]) -> int:
    """How many verses have words in some measures."""
    return len({one.verse for measure in measures for one in measure.sung if one.text})
