"""Who plays a row, or how, before its chords right under the name of their section ("Intro" over
"gtr only: G C G D"): set in parentheses, so that it is a remark on the row and names no section.

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import Heading, heading_of
from chartkit.interchange.text.raw_text.set_apart import as_said
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction
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
_FIGURES = frozenset({"riff", "vamp", "turnaround", "solo"})
_UNSUNG = frozenset({"intro", "outro", "end", "coda", "interlude", "instrumental", "break"})
"""Kinds of names for what a section without words is made of, and kinds of such sections."""
_FEW_WORDS = 3
_LONGEST, _MOST_LINES = 200, 2_000


def with_players_apart(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, what is said before such rows in parentheses."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result: list[Line] = []
    names: set[tuple[str, str]] = set()
    section = _Section()
    for line in lines:
        heading = _name_in(line.text)
        sign = None if heading is not None else _label(line.text, section, is_chords)
        said = line.text[: sign.start()].strip() if sign is not None else ""
        if sign is None or _is_asked_for(said, lines):
            section = section.after(line, heading, names, is_chords)
            result.append(line)
            continue
        result += _parted(line, said, sign.end())
        section = replace(section, rows=True)
        findings.guess(
            "remark-before-chords",
            f'"{said}" before a row of chords is taken as said to the players',
            line.place(),
        )
    return result


@dataclass(frozen=True, slots=True)
class _Section:
    """The section that a line may belong to: ``kind`` is that of its name where nothing but rows of
    chords stands below it so far, ``rows`` whether any does."""

    kind: str = ""
    rows: bool = False

    def after(
        self,
        line: Line,
        heading: Heading | None,
        names: set[tuple[str, str]],
        is_chords: IsChords,
    ) -> "_Section":
        """The section behind one more line.  A name that stands above already, and goes to the
        ``names``, asks for its section again."""
        if heading is None:
            goes_on = self.kind and len(line.text) <= _LONGEST and is_chords(line.text)
            return replace(self, rows=True) if goes_on else _Section()
        key = section_key(heading.name)
        new = heading.rest_at is None and key not in names
        names.add(key)
        return _Section(key[0]) if new else _Section()


def _parted(line: Line, said: str, start: int) -> list[Line]:
    """A row with what is said before it in parentheses; on a line of its own where that is a word
    that names sections elsewhere."""
    row = line.text[start:]
    if is_known_name(said):
        own = replace(line, text=as_said(said), columns=None)
        return [own, replace(line, text=" " * start + row, columns=None)]
    inside = re.sub(r"\s*\(([^()]*)\)", r", \1", said).replace("(", "").replace(")", "")
    return [replace(line, text=f"({inside}) ".rjust(start) + row, columns=None)]


def _name_in(text: str) -> Heading | None:
    """The known name of a section with which a line begins; None for any other line."""
    heading = heading_of(text) if 0 < len(text) <= _LONGEST else None
    if heading is None or not is_known_name(heading.name):
        return None
    return None if section_key(heading.name)[0] in _FIGURES and heading.rest_at else heading


def _label(text: str, section: _Section, is_chords: IsChords) -> re.Match[str] | None:
    """The sign behind what stands before a row of chords of a section and is no name; None for any
    other line."""
    if not section.kind or not 0 < len(text) <= _LONGEST or _LABEL.match(text) is None:
        return None
    signs = [*_SIGN.finditer(text)]
    colons = [sign for sign in signs if sign[0].strip() == ":"]
    for sign in colons or signs:
        said, row = text[: sign.start()].strip(), text[sign.end() :]
        if is_chords(said):
            return None
        if _LABEL.fullmatch(said) is None or not _begins(row, is_chords):
            continue
        if _is_name(said) and not _is_figure(said, section):
            return None
        if _NOT_OF_PLAYERS.search(said) or names_a_fact(text):
            return None
        strong = count_words(said).strong > 0
        if section.rows and not (strong and (colons or is_direction(said))):
            return None
        few = row.startswith("|") and len(said.split()) <= _FEW_WORDS
        return sign if colons or few or is_direction(said) else None
    return None


def _is_figure(said: str, section: _Section) -> bool:
    """Whether a name tells what a section that has no words is made of ("riff" under "Intro")."""
    first = section_key(said.split()[0])[0]
    return section.kind in _UNSUNG and (section_key(said)[0] in _FIGURES or first in _FIGURES)


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
