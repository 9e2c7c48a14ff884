"""Names of sections right before their chords, with nothing between them, that are no known names
as they stand: a word before a known one ("rif intro Em G A C x4 bass joins"), or a slip ("intor Em
G A C").  They get a colon, as others have it.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.names.unknown_names import meant_by_slip
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import full_name_at

_NAME_AND_ROW = re.compile(
    r"\s*(?P<name>[^\W\d_]{2,12}(?:[ -][^\W\d_]{2,12}){0,2}?(?:\s\d)?)(?P<gap>\s+)(?=\|?:?\s*[A-H])"
)
_ASKING_IN_WORDS = """
play repeat same over then and to like the a an before after no into back with from or in on use do
my your our
"""
_ASKING = frozenset(_ASKING_IN_WORDS.split())
"""Words before a section's name that speak of one elsewhere."""
_FEWEST_CHORDS = 3
_LONGEST = 120
_MOST_LINES = 2_000


def with_colons_before_rows(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those that begin with such a name and at least three chords with a colon behind
    the name."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result = list(lines)
    for at, line in enumerate(lines):
        match = _NAME_AND_ROW.match(line.text) if 0 < len(line.text) <= _LONGEST else None
        if match is None or not _names_a_section(match["name"]):
            continue
        chords = _chords_at(line.text[match.end() :], is_chords)
        if chords < _FEWEST_CHORDS or is_chords(text_at(lines, at - 1)):
            continue
        end = match.end("name")
        text = f"{line.text[:end]}:{line.text[end:]}"
        result[at] = replace(line, text=text, columns=None)
        findings.guess(
            "section-by-place",
            f'"{match["name"]}" is taken as the name of a section: it stands before chords',
            line.place(),
        )
    return result


def _names_a_section(text: str) -> bool:
    """Whether words end with the full name of a section, or with one that has a slip, and are no
    name that is known as it stands."""
    if (known := heading_of(text)) is not None and known.rest_at is None:
        return False
    *before, last = re.sub(r"\s\d$", "", text).replace("-", " ").split()
    if not _ASKING.isdisjoint(word.casefold() for word in before):
        return False
    if meant_by_slip(last.capitalize()):
        return True
    return bool(before) and full_name_at(last, 0) == len(last)


def _chords_at(text: str, is_chords: IsChords) -> int:
    """How many chords a text begins with."""
    count = 0
    for word in text.replace("|", " ").split():
        if not is_chords(word.strip(",;")):
            break
        count += 1
    return count
