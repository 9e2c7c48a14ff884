"""Lines that ask for an earlier section by the number before it, or behind a verb ("same as 3",
"Repete Primeira Parte").

Source of the words: common practice, no source.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, text_at
from chartkit.interchange.text.vocabulary.form_words import PLAYED_AGAIN
from chartkit.interchange.wording import one_line

_LIKE = (
    r"(?:(?:exactly |chords |words |music )?(?:the )?same (?:chords |words |music )?(?:as|like)|"
    r"like|as|repeat|see|rpt|genau wie|wie|wdh\.?|igual que|igual a|como|comme|idem|come|als|som|"
    r"jako|jak)"
)
_NUMBERED = re.compile(
    rf"(?P<before>\s*\(?)(?P<said>{_LIKE})\s+(?:in |en )?"
    r"(?:(?:the|number|no\.?|nr\.?|nº|n°|#|section|part|line|point|punkt|la|el|le|il|a|o|die|der)\s*)?"
    r"(?P<number>\d{1,2})(?P<after>[.)]?\s*)",
    re.IGNORECASE,
)
_LONGEST = 80
_MOST_LINES = 2_000


def with_numbers_named(
    lines: Sequence[Line], names: Mapping[int, tuple[str, int]], findings: Findings
) -> list[Line]:
    """The lines, those that ask for a section by its number with its name for that; ``names`` has
    each number's name and the place of its line.

    A line under an equal name that says no more is left out: the section is played again.
    """
    result = list(lines)
    owners = sorted((at, name) for name, at in names.values())
    for at, line in enumerate(lines):
        match = _NUMBERED.fullmatch(line.text) if 0 < len(line.text) <= _LONGEST else None
        name, place = names.get(int(match["number"]), ("", 0)) if match is not None else ("", 0)
        if match is None or not name or place >= at:
            continue
        own = next((called for start, called in reversed(owners) if start < at), "")
        again = own.casefold() == name.casefold()
        text = "" if again else f"{match['before']}{match['said']} {name}{match['after']}"
        result[at] = replace(line, text=text, columns=None)
        findings.guess(
            "asked-by-number", f'"{one_line(line.text)}" means "{name}" above', line.place()
        )
    return result


_VERB_AND_NAME = re.compile(
    rf"\s*[\[(]?(?:{PLAYED_AGAIN.pattern})(?P<name>[^\W_][^()\[\]:|]{{1,40}}?)[\])]?\s*"
    r"(?P<said>\([^()|]{2,40}\))?\s*:?\s*",
    re.IGNORECASE,
)


def without_verbs(lines: Sequence[Line]) -> list[Line]:
    """The lines, a name above that is asked for again behind a verb, with lines of its own below
    ("Repete Primeira Parte (outra letra):"), without the verb."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    above: set[str] = set()
    result = []
    for at, line in enumerate(lines):
        text = line.text.strip()
        match = _VERB_AND_NAME.fullmatch(text) if 0 < len(text) <= _LONGEST else None
        below = text_at(lines, at + 1).strip()
        if match is not None and below and _letters(match["name"]) in above:
            said = match["said"] or ""
            line = replace(line, text=f"{match['name']} {said}".rstrip(), columns=None)
        above.add(_letters(text))
        result.append(line)
    return result


def _letters(text: str) -> str:
    return text.strip(" :[]().*#=-").casefold()
