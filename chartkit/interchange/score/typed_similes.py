"""Signs of a repeated measure that are typed as words over an empty one ("%")."""

from collections.abc import Sequence

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure

_SIMILES = ("%", "𝄎", "./.", "·/·", "•/•")
"""Common practice, no source."""


def with_typed_similes(measures: Sequence[Measure], findings: Findings) -> tuple[Measure, ...]:
    """The measures, each that has the sign and no chord of its own played as the one before."""
    made = list(measures[:1])
    for measure in measures[1:]:
        typed = [said for said in measure.instructions if said.text in _SIMILES]
        if typed and not (measure.struck or measure.simile):
            findings.guess(
                "typed-simile",
                f'the words "{typed[0].text}" mean the measure before once more',
                f"measure {measure.number}",
            )
            others = tuple(said for said in measure.instructions if said not in typed)
            measure = measure._replace(instructions=others, simile=1)
        made.append(measure)
    return tuple(made)
