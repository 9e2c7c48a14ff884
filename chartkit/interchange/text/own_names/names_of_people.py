"""Sections named after who sings them ("SHANTYMAN'S VERSE 1", "Girls' chorus"), by their place:
they stand apart, and the sheet counts on, types all names in capitals, or has chords below.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import POSSESSIVE, is_known_name
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES

_NAMED = re.compile(
    rf"(?P<name>(?:the\s+)?{POSSESSIVE}(?P<kind>[^\W\d_]{{4,14}}(?:-[^\W\d_]{{4,10}})?(?:\s?\d{{1,2}})?))"
    rf"\s*(?P<more>:|(?:\s[(\[]?(?:{ANY_TIMES})[)\]]?)?(?:\s*\([^()|]{{2,60}}\))?:?)",
    re.IGNORECASE,
)
_LONGEST = 100
_MOST_LINES = 2_000


def with_names_of_people(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, each such name written as our own headings are ("== Girls' chorus")."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    matches = {
        at: match
        for at, line in enumerate(lines)
        if ("'" in line.text or "’" in line.text)
        and len(line.text) <= _LONGEST
        and (match := _NAMED.fullmatch(line.text.strip())) is not None
        and is_known_name(match["kind"])
    }
    often = Counter(_bare(match["name"]) for match in matches.values())
    result = list(lines)
    for at, match in matches.items():
        over = is_chords(text_at(lines, at + 1))
        plain = match["name"].isupper() or over or often[_bare(match["name"])] > 1
        plain = plain or match["name"][-1].isdecimal()
        if not (plain or match["more"].endswith(":")) or not _stands_apart(lines, at, is_chords):
            continue
        text = f"== {match['name']} {match['more'].strip(' :')}".rstrip()
        result[at] = replace(lines[at], text=text, columns=None)
        findings.guess(
            "section-by-place",
            f'"{match["name"]}" is taken as the name of a section, after who sings it',
            lines[at].place(),
        )
    return result


def _bare(name: str) -> str:
    """A name in small letters without its number."""
    return name.casefold().rstrip("0123456789 ")


def _stands_apart(lines: Sequence[Line], at: int, is_chords: IsChords) -> bool:
    """Whether an empty line or the name of another section stands above a line."""
    if is_empty(lines, at - 1):
        return True
    above = text_at(lines, at - 1).strip()
    named = heading_of(above) is not None or (above.isupper() and len(above.split()) == 1)
    return named and not is_chords(above)
