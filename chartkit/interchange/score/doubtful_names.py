"""Names of sections that also say something else, in a score that names others in such a language.

"Coro" over a bar may ask the choir in; beside "Estrofa" it is the refrain.  Common practice, no
source.
"""

import re
from collections.abc import Sequence

from chartkit.chart.section_words import KIND_OF, USUAL_NAMES
from chartkit.interchange.instructions import ALSO_SAID
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure
from chartkit.interchange.wording import section_name

_USUAL = re.compile(rf"(?:{USUAL_NAMES}|{'|'.join(sorted(ALSO_SAID))})", re.IGNORECASE)
_ENGLISH = frozenset(
    ("opening", "special", "stick", "transition", "burden", "final", "middle", "bro")
)
_NUMBERED = re.compile(r"(?P<name>\D+?)\s*\d{0,2}\s*[.:]?")


def with_doubtful_names(measures: Sequence[Measure], findings: Findings) -> tuple[Measure, ...]:
    """Begins a section at each measure with such a name, if another section has a name that is not
    English; returns the measures."""
    if not any(_is_foreign(measure.section) for measure in measures):
        return tuple(measures)
    return tuple(_with_name(measure, findings) for measure in measures)


def _plain(text: str) -> str:
    numbered = _NUMBERED.fullmatch(text)
    return "" if numbered is None else numbered["name"].lower()


def _is_foreign(name: str) -> bool:
    plain = _plain(name)
    return plain in KIND_OF and _USUAL.fullmatch(plain) is None


def _with_name(measure: Measure, findings: Findings) -> Measure:
    names = ALSO_SAID - _ENGLISH
    said = [one for one in measure.instructions if not one.onset and _plain(one.text) in names]
    if measure.section or len(said) != 1:
        return measure
    name = section_name(said[0].text.strip(".: "))
    findings.guess(
        "section-by-words", f'the words "{name}" begin a section', f"measure {measure.number}"
    )
    others = tuple(one for one in measure.instructions if one is not said[0])
    return measure._replace(section=name, instructions=others)
