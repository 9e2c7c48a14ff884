"""Words behind a repeat that stand on a line of its second verse, since no other is sung there.

The music is played once, so that they are no second verse.  Common practice, no source.
"""

from collections.abc import Iterator, Sequence

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure
from chartkit.interchange.score.verse_times import goes_back_to, singing_in


def with_lines_behind_repeats(
    measures: tuple[Measure, ...], verses: dict[str, int], findings: Findings
) -> tuple[Measure, ...]:
    """The measures with a later line on the first one, where it stands alone behind a repeat over
    several verses and nothing leads back to it.  A line that says which verse it is stays."""
    if len(verses) < 2:
        return measures
    made = list(measures)
    first = min(verses, key=verses.__getitem__)
    back = goes_back_to(measures)
    for start, end in _behind_repeats(measures):
        singing = singing_in(measures[start:end])
        if end > back or len(singing) != 1 or first in singing:
            continue
        (verse,) = singing
        if any(one.named for measure in made[start:end] for one in measure.sung):
            continue
        made[start:end] = [_on_line(measure, verse, first) for measure in made[start:end]]
        findings.guess(
            "plain-lines",
            f"lyric {verses[verse]} stands alone behind the repeat: it is written without a number",
            f"measure {made[start].number}",
        )
    return tuple(made)


def _behind_repeats(measures: Sequence[Measure]) -> Iterator[tuple[int, int]]:
    """The first measure behind each repeat over several verses and its endings, and that at which
    the next repeat begins."""
    start, behind = 0, -1
    several = in_ending = False
    for at, measure in enumerate(measures):
        if measure.left.repeat:
            if behind >= 0:
                yield behind, at
            start, behind = at, -1
        if measure.left.endings:
            in_ending, behind = True, -1
        closes = in_ending and (measure.right.closes or measure.right.double)
        if measure.right.repeat:
            several = len(singing_in(measures[start : at + 1])) > 1
            start = at + 1
        if measure.right.repeat or closes:
            in_ending, behind = False, at + 1 if several else -1
    if behind >= 0:
        yield behind, len(measures)


def _on_line(measure: Measure, verse: str, first: str) -> Measure:
    sung = tuple(one._replace(verse=first) if one.verse == verse else one for one in measure.sung)
    return measure._replace(sung=sung)
