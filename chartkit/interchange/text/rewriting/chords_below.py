"""Moves the chords of a song that stand below all its words above them, as most sheets have them.

People write down the words first, and below them, once for each kind of section, its chords
(common practice, no source).
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import full_name_at, section_key

_MOST_LINES, _LONGEST = 400, 160
_FEWEST_WORDS = 4
"""So many lines of words stand above the chords at least (ours)."""
_CHORDS = (
    r"(?:chords?|changes|progression|akkorde|harmonien|acordes|accords|grille|accordi|giro|"
    r"akkoorden|ackord|akkorder|akordy)"
)
_LABEL = re.compile(
    rf"\s*[*_=–—-]*\s*(?:the\s+)?{_CHORDS}(?:\s+(?:are|here|below|used))?\s*[:.]?\s*[*_=–—-]*\s*",
    re.IGNORECASE,
)
"""A line that says that chords follow."""
_OF_A_KIND = re.compile(
    rf"\s*(?:(?P<before>[^\W\d_][\w -]{{1,20}}?)\s+{_CHORDS}|"
    rf"{_CHORDS}\s+(?:for|of|in|für|zu[mr]?|pour|de|del|della|du|para|per|van|voor|till)\s+"
    r"(?:(?:every|each|all|the|jede|alle|chaque|tous|cada|todas|las|el|la|le|les|ogni|il|de|den)\s+)*"
    r"(?P<behind>[^\W\d_][\w -]{1,20}?))\s*(?:\([^()]{1,40}\))?\s*:?\s*",
    re.IGNORECASE,
)
"""A line that says of which sections the chords below it are."""
_KIND_AND_ROW = re.compile(
    rf"\s*(?P<name>[^\W\d_][\w -]{{1,20}}?)\s+{_CHORDS}\s*[:=]\s*(?P<row>\S.*)", re.IGNORECASE
)
_WITHIN = re.compile(r"[(\[]([^()\[\]\s]{1,12})[)\]](?=\S)")
"""What could be a chord in parentheses, close before a word."""
_NUMBERED = re.compile(r"\d{1,2}(?:[.):]?$|[.)]\s+[^\W\d_])")
"""A verse that begins with its number, alone or before its words."""
_NUMBERED_WORDS = re.compile(r"\s*(?P<number>\d{1,2}\.)\s+(?P<words>[^\W\d_].*)")


def with_chords_first(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> tuple[list[Line], frozenset[int]]:
    """The lines, the chords below all words above them, each list under the name of its sections,
    and the numbers of these lines; other sheets as they are."""
    if len(lines) > _MOST_LINES or any(len(line.text) > _LONGEST for line in lines):
        return list(lines), frozenset()
    if (listed_above := _listed_above(lines, is_chords)) is not None:
        return listed_above
    rows = [at for at, line in enumerate(lines) if _has_chords(line.text, is_chords)]
    words = _first_of_words(lines, rows[0]) if rows else -1
    if words < 0:
        return list(lines), frozenset()
    start, last = _begin(lines, rows[0]), rows[-1]
    above = [line for line in lines[words:start] if line.text.strip()]
    kinds = {key for line in above if (key := _kind(line.text))}
    listed = [_kind_listed(line.text) for line in lines[start : last + 1]]
    named = [kind for kind in listed if kind]
    sung = sum(not _kind(line.text) or " " in line.text.strip() for line in above)
    known = bool({*named} & kinds) and {*named} <= kinds | {"intro", "outro", "solo"}
    if sung < _FEWEST_WORDS or not known or _has_chords_within(above, is_chords):
        return list(lines), frozenset()
    if not all(map(_is_listed, lines[start : last + 1], [is_chords] * (last + 1 - start))):
        return list(lines), frozenset()
    findings.guess(
        "chords-below-words",
        "the chords below the words are those of the sections above that have these names",
        lines[start].place(),
    )
    chords = [_named(line) for line in lines[start : last + 1]]
    blank = replace(lines[start], text="", columns=None)
    sung_lines = [one for line in lines[words:start] for one in _number_apart(line)]
    moved = [*lines[:words], *chords, blank, *sung_lines, *lines[last + 1 :]]
    return moved, frozenset(line.number for line in chords)


def _listed_above(
    lines: Sequence[Line], is_chords: IsChords
) -> tuple[list[Line], frozenset[int]] | None:
    """The lines, each that says whose chords it has ("Chorus chords:  C G") with the name of these
    sections alone before them, and the numbers of these lines; None where no section of that kind
    comes again without chords."""
    named = {
        at: match
        for at, line in enumerate(lines)
        if (match := _KIND_AND_ROW.fullmatch(line.text)) and is_chords(match["row"])
    }
    last = max(named, default=len(lines))
    kinds = {kind for line in lines[last + 1 :] if (kind := _kind(line.text))}
    below = any(_has_chords(line.text, is_chords) for line in lines[last + 1 :])
    said = {section_key(match["name"].strip())[0] for match in named.values()}
    if not named or below or not said <= kinds:
        return None
    result = list(lines)
    for at, match in named.items():
        text = f"{match['name'].strip()}: ".ljust(match.start("row")) + match["row"]
        result[at] = replace(lines[at], text=text, columns=None)
    return result, frozenset(lines[at].number for at in named)


def _has_chords_within(words: Sequence[Line], is_chords: IsChords) -> bool:
    """Whether words have their chords already, in parentheses among them."""
    return any(is_chords(inside) for line in words for inside in _WITHIN.findall(line.text))


def _has_chords(text: str, is_chords: IsChords) -> bool:
    """Whether a line is a row of chords, alone or behind a section's name."""
    rest = text[_name_end(text) :].lstrip(" :–—-")
    return bool(rest) and (is_chords(rest) or is_chords(text))


def _name_end(text: str) -> int:
    """Where the section's name ends with which a line begins; 0 where none does."""
    return full_name_at(text, len(text) - len(text.lstrip())) if text.strip() else 0


def _first_of_words(lines: Sequence[Line], row: int) -> int:
    """The first section above the chords, by its name or its number; -1 for none."""
    named = (at for at in range(row) if _kind(lines[at].text))
    return next(named, -1)


def _kind(text: str) -> str:
    """The kind of section that a line names and says no more; "verse" for a number alone."""
    bare = text.strip()
    if _NUMBERED.match(bare) is not None:
        return "verse"
    heading = heading_of(bare) if bare else None
    return section_key(heading.name)[0] if heading is not None and heading.rest_at is None else ""


def _kind_listed(text: str) -> str:
    """The kind of section of which a line of the list names or has the chords; empty for others."""
    match = _OF_A_KIND.fullmatch(text)
    if _LABEL.fullmatch(text) is not None:
        return ""
    if match is not None:
        return section_key((match["before"] or match["behind"]).strip())[0]
    end = _name_end(text)
    return section_key(text[:end].strip())[0] if end else ""


def _begin(lines: Sequence[Line], row: int) -> int:
    """The first line of the list: the label over its first row of chords, else the name there."""
    at = name = row
    while at > 0 and (not lines[at - 1].text.strip() or _is_listed(lines[at - 1], None)):
        at -= 1
        if _LABEL.fullmatch(lines[at].text):
            return at
        if name == row and lines[at].text.strip():
            name = at
    return name


def _is_listed(line: Line, is_chords: IsChords | None) -> bool:
    """Whether a line can stand in a list of chords: a label, a name, a row, or nothing."""
    text = line.text
    named = _LABEL.fullmatch(text) or _OF_A_KIND.fullmatch(text)
    heading = heading_of(text.strip()) if text.strip() else None
    bare = heading is not None and heading.rest_at is None
    return (
        bool(named)
        or bare
        or not text.strip()
        or (is_chords is not None and _has_chords(text, is_chords))
    )


def _named(line: Line) -> Line:
    """A line of the list, with the name of its sections alone for what says whose chords follow."""
    if _LABEL.fullmatch(line.text):
        return replace(line, text="", columns=None)
    match = _OF_A_KIND.fullmatch(line.text)
    if match is None:
        return line
    return replace(line, text=f"{(match['before'] or match['behind']).strip()}:", columns=None)


def _number_apart(line: Line) -> list[Line]:
    """A line of words behind the number of its verse as two: the number is the verse's name."""
    match = _NUMBERED_WORDS.fullmatch(line.text)
    if match is None:
        return [line]
    words = " " * match.start("words") + match["words"]
    return [replace(line, text=match["number"], columns=None), replace(line, text=words)]
