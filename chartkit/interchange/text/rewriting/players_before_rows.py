"""Who plays a row, or how, before its chords right under the name of their section ("Intro" over
"gtr only: G C G D"): set in parentheses, so that it is a remark on the row and names no section.

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.facts import names_a_fact
from chartkit.interchange.text.vocabulary.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.vocabulary.part_words import part_named
from chartkit.interchange.text.vocabulary.reference_lines import is_about_the_song
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    is_known_name,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of

_LABEL = re.compile(r"\s*(?:\d(?:st|nd|rd|th|\.|er|e|º|ª)?\s)?[^\W\d_][^:|]{1,40}")
_SIGN = re.compile(r"(?<=\S)(?:\s*:\s*|\s+(?:[-–—]{1,2}|=?[>→]|-+>)\s+|,?\s+)(?=[^\s:])")
_NOT_OF_PLAYERS = re.compile(
    rf"\b(?:{WORDS_FOR_CHORDS}|time|times|last|final|first|end|ending|or|key|capo|bars?|mal|fois|vez|volta|"
    rf"keer|gång|letzte[rs]?|erste[rs]?|dernière|última|ultima|{ANY_TIMES})\b",
    re.IGNORECASE,
)
"""Words that say which chords stand behind them, or when they are played."""
_FEW_WORDS = 3
_LONGEST, _MOST_LINES = 200, 2_000


def with_players_apart(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, what is said before such rows in parentheses."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result = list(lines)
    names: set[tuple[str, str]] = set()
    under_name = False
    for at, line in enumerate(lines):
        new = _new_name(line.text, names)
        sign = _label(line.text, is_chords) if under_name and not new else None
        said = line.text[: sign.start()].strip() if sign is not None else ""
        if sign is not None and not _is_asked_for(said, lines):
            inside = re.sub(r"\s*\(([^()]*)\)", r", \1", said).replace("(", "").replace(")", "")
            text = f"({inside}) ".rjust(sign.end()) + line.text[sign.end() :]
            result[at] = replace(line, text=text, columns=None)
            findings.guess(
                "remark-before-chords",
                f'"{said}" before a row of chords is taken as said to the players',
                line.place(),
            )
        else:
            under_name = new
    return result


def _new_name(text: str, names: set[tuple[str, str]]) -> bool:
    """Whether a line is the known name of a section that no line above has, which goes to the
    names; such a section has its chords below."""
    heading = heading_of(text) if 0 < len(text) <= _LONGEST else None
    if heading is None or not is_known_name(heading.name):
        return False
    key = section_key(heading.name)
    new = heading.rest_at is None and key not in names
    names.add(key)
    return new


def _label(text: str, is_chords: IsChords) -> re.Match[str] | None:
    """The sign behind what stands before a row of chords and is no name; None for any other
    line."""
    if not 0 < len(text) <= _LONGEST or _LABEL.match(text) is None:
        return None
    signs = [*_SIGN.finditer(text)]
    colons = [sign for sign in signs if sign[0].strip() == ":"]
    for sign in colons or signs:
        said, row = text[: sign.start()].strip(), text[sign.end() :]
        if is_chords(said):
            return None
        if _LABEL.fullmatch(said) is None or not _begins(row, is_chords):
            continue
        if _is_name(said) or _NOT_OF_PLAYERS.search(said) or names_a_fact(text):
            return None
        few = row.startswith("|") and len(said.split()) <= _FEW_WORDS
        return sign if colons or few or is_direction(said) else None
    return None


def _is_name(said: str) -> bool:
    """Whether words name a section, or say what the chords behind them are for."""
    known = is_known_name(said) or full_name_at(said, 0) > 0 or part_named(said) is not None
    return known or is_about_the_song(said)


def _begins(row: str, is_chords: IsChords) -> bool:
    """Whether a row of chords begins with one, a bar line or a rest."""
    return is_chords(row) and (row[0] in "|%N(" or is_chords(row.split()[0]))


def _is_asked_for(said: str, lines: Sequence[Line]) -> bool:
    """Whether another line says the same and no more, but for a count, as one does that asks for a
    section by its name."""
    name = said.casefold()
    begun = (line.text.strip() for line in lines if len(line.text) <= _LONGEST)
    rests = (text[len(name) :] for text in begun if text.casefold().startswith(name))
    return any(not rest.strip(" .:!") or times_of(rest.strip(" ,.:!()")) for rest in rests)
