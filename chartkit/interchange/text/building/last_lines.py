"""A section that is the last line or two of another one ("Tag: last line of the chorus x3"),
written out with its words.

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import BlankRow, CueRow, MusicRow, Row, Section, WordsRow
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.building.earlier_sections import is_words_alone
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    remark_in_name,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of

_TWO = r"(?:2|two|zwei|deux|dos|due|duas|twee|två|to)"
_LAST = (
    r"(?:last|final|letzten?|dernières?|últimas?|ultim[ae]|laatste|sista|siste|sidste|"
    r"ostatni\w{0,2})"
)
_LAST_LINES = re.compile(
    rf"(?<!\w)(?:(?P<first>{_TWO})\s+)?{_LAST}\s+(?:(?P<count>{_TWO})\s+)?"
    r"(?:lines?|zeilen?|lignes?|líneas?|linhas?|righe|riga|regels?|raden|raderna|linjer?|linje|"
    r"wersy?|linijk\w)(?!\w)",
    re.IGNORECASE,
)
_COUNT_LAST = re.compile(rf"(?<!\w)(?P<times>{ANY_TIMES})[).!]*$", re.IGNORECASE)
_LONGEST = 120


_OF_WHICH = re.compile(
    r"\s+(?:(?:of|from|in|de|du|des|der|vom|von|aus|della?|dell['’]|do|da|del|van|av|af|z)\s+)?"
    r"(?:(?:the|d(?:er|es|em)|la|el|le|il|lo|o|a|het|den)\s+)?(?P<name>[^\W\d_].*)",
    re.IGNORECASE,
)
"""The section whose last line is meant, behind these words."""
_WITHOUT_WORDS = frozenset({"intro", "instrumental", "solo", "interlude", "turnaround", "break"})
"""Kinds of sections that are played without singing."""


def written_as_last_lines(
    one: Section, above: Sequence[Section], below: Sequence[Section], findings: Findings
) -> Section:
    """A section whose remark says that it is only the last line or two of another, above or below
    it, with these written out; any other as it is.  What is played without singing gets the music
    alone."""
    cues = [remark_in_name(one.name), *(r.text for r in one.rows if isinstance(r, CueRow))]
    said = next((text for text in cues if _LAST_LINES.search(text[:_LONGEST])), "")
    match = _LAST_LINES.search(said) if len(said) <= _LONGEST else None
    if match is None or any(isinstance(row, MusicRow | WordsRow) for row in one.rows):
        return one
    home = _home_of(one, said[match.end() :], above, below)
    starts = _starts(home.rows) if home is not None else []
    count = 2 if match["first"] or match["count"] else 1
    if home is None or len(starts) < count or (len(starts) == count and one.same_as == ""):
        return one
    if not one.same_as:
        findings.take_back("section-empty", f"{one.span.start}:1")
    findings.guess(
        "last-lines",
        f'"{said}": the end of "{home.name}" is written out as "{one.name}"',
        f"{one.span.start}:1",
    )
    taken = (MusicRow,) if section_key(one.name)[0] in _WITHOUT_WORDS else (MusicRow, WordsRow)
    lines = _lines_from(home.rows[starts[-count] :], count, taken)
    counted = _COUNT_LAST.search(said) if one.times == 1 else None
    times = max(one.times, times_of(counted["times"]) if counted is not None else 1)
    return replace(one, same_as="", times=times, rows=(*one.rows, *lines))


def _lines_from(rows: Sequence[Row], count: int, kinds: tuple[type[Row], ...]) -> list[Row]:
    """The rows of some kinds; of words that stand apart from the music, without places under its
    chords, the last ones, apart as well."""
    end = next((at for at, row in enumerate(rows) if isinstance(row, BlankRow)), len(rows))
    apart = [row for row in rows[end:] if is_words_alone(row) and isinstance(row, kinds)]
    together = [
        row for row in rows if isinstance(row, kinds) and not any(row is one for one in apart)
    ]
    return [*together, BlankRow(), *apart[-count:]] if apart else together


def _home_of(
    one: Section, behind: str, above: Sequence[Section], below: Sequence[Section]
) -> Section | None:
    """The section with music whose last lines are meant: the one that the section is like, else
    the one that the words behind "last line" name, the nearest above or the first below."""
    name = one.same_as.casefold()
    if name:
        homes = (o for o in reversed(above) if o.name.casefold() == name and _starts(o.rows))
        return next(homes, None)
    named = _OF_WHICH.match(behind[:_LONGEST])
    end = full_name_at(named["name"], 0) if named is not None else 0
    if named is None or not end:
        return None
    key = section_key(named["name"][:end])
    others = [o for o in (*reversed(above), *below) if _starts(o.rows) and o.name]
    same = (o for o in others if section_key(o.name) == key)
    return next(same, next((o for o in others if section_key(o.name)[0] == key[0]), None))


def _starts(rows: Sequence[Row]) -> list[int]:
    """Where the rows of music stand."""
    return [at for at, row in enumerate(rows) if isinstance(row, MusicRow)]
