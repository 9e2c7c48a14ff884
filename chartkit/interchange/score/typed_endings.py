"""Endings of a repeat that are typed as words over their bars: "1st time", "2nd ending".

Common practice, no source.
"""

from collections.abc import Sequence

from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure, PlayerInstruction

_ENDING = (
    r"(?:time|times|ending|x|mal|schluss|fois|fin|volta|finale|vez|final|casa|keer|einde|gången|"
    r"slut|gang|raz)"
)
_FIRST = CompiledLater(
    rf"\(?(?:1\.?\s?x|1\s?[.)]|(?:1\s?(?:st|[.)]|ère|re|er|er[ao]?|a|ª|e|:a)?|first|erste[rs]?|"
    rf"première?|prim[ao]|primera|primeira|eerste|första|første)\s+{_ENDING})[.:]?\)?"
)
_SECOND = CompiledLater(
    rf"\(?(?:2\.?\s?x|2\s?[.)]|(?:2\s?(?:nd|[.)]|ème|e|nd[ao]?|a|ª|:a)?|second|zweite[rs]?|"
    rf"deuxième|second[ao]|segund[ao]|tweede|andra|andre|anden)\s+{_ENDING})[.:]?\)?"
)
_FAR = 8
"""How many measures before the end of a repeat its first ending is looked for (ours)."""


def with_typed_endings(measures: Sequence[Measure], findings: Findings) -> tuple[Measure, ...]:
    """The measures with the first and the second ending of repeats that have none, where words
    name both: one before the end of the repeat, the other behind it."""
    made = list(measures)
    start = 0
    for at, measure in enumerate(measures[:-1]):
        start = at if measure.left.repeat or measure.left.endings else start
        if not measure.right.repeat:
            continue
        second = _said(made[at + 1], _SECOND)
        reach = range(max(start + 1, at - _FAR), at + 1) if second is not None else ()
        first = next((one for one in reversed(reach) if _said(made[one], _FIRST)), None)
        ended = made[at + 1].left.repeat or any(made[one].left.endings for one in reach)
        if first is not None and not ended:
            made[first] = _with_ending(made[first], _FIRST, 1)
            made[at + 1] = _with_ending(made[at + 1], _SECOND, 2)
            told = "the words over the bars name the first and the second ending"
            findings.guess("typed-endings", told, f"measure {made[first].number}")
        start = at + 1
    return tuple(made)


def _said(measure: Measure, pattern: CompiledLater) -> PlayerInstruction | None:
    """The words at the start of a measure that name an ending."""
    starts = (one for one in measure.instructions if one.onset == 0)
    return next((one for one in starts if pattern.fullmatch(one.text)), None)


def _with_ending(measure: Measure, pattern: CompiledLater, number: int) -> Measure:
    said = _said(measure, pattern)
    others = tuple(one for one in measure.instructions if one is not said)
    left = measure.left._replace(endings=(number,))
    return measure._replace(instructions=others, left=left)
