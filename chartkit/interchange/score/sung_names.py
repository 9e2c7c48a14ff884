"""Names of sections that are typed before the words to be sung: "Chorus: Come", "[Verse 2] High".

They are said to the players and never sung.  Common practice, no source.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.instructions import names_section
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure, SungSyllable

_NAMED = re.compile(
    r"\s*(?:\[(?P<square>[^\[\]]{2,40})\]|\((?P<round>[^()]{2,40})\)|(?P<open>[^\W\d_][^:]{1,30}(?=:)))"
    r":?\s*(?P<rest>.*)",
    re.DOTALL,
)
_SIGN = re.compile(r"[\[(:]")
_NUMBER = re.compile(r"\s*\d{1,2}$")


def without_sung_names(measures: Sequence[Measure], findings: Findings) -> tuple[Measure, ...]:
    """Takes names of sections out of the syllables and begins those sections there, or at the next
    measure for what is sung before it; returns the measures."""
    made = list(measures)
    for at, measure in enumerate(measures):
        if _SIGN.search("".join([one.text for one in measure.sung])) is None:
            continue
        named = [(one, *_parted(one)) for one in measure.sung if _parted(one)[0]]
        if not named:
            continue
        first = named[0][0]
        kept = (_without_name(one) for one in measure.sung)
        made[at] = made[at]._replace(sung=tuple(one for one in kept if one is not None))
        upbeat = 2 * first.onset >= measure.length and at + 1 < len(made) and first.onset > 0
        to = at + 1 if upbeat else at
        name = named[0][1]
        if sum(one.onset == first.onset for one, *_ in named) > 1:
            name = _NUMBER.sub("", name)  # "Verse 1:", "Verse 2:" before words one over another
        if not made[to].section:
            made[to] = made[to]._replace(section=name)
        findings.guess(
            "section-by-words",
            f'"{name}" among the words to be sung begins a section',
            f"measure {measure.number}",
        )
    return tuple(made)


def _parted(one: SungSyllable) -> tuple[str, str]:
    """The name of a section that a syllable begins with, and what is sung; no name for others."""
    named = _NAMED.fullmatch(one.text) if _SIGN.search(one.text) else None
    if named is None:
        return "", one.text
    name = names_section((named["square"] or named["round"] or named["open"]).strip())
    return name, named["rest"].strip()


def _without_name(one: SungSyllable) -> SungSyllable | None:
    name, text = _parted(one)
    if not name:
        return one
    return one._replace(text=text) if text else None
