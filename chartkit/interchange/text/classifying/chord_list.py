"""Lists of chords: one above the words of a sheet ("CHORDS ... WORDS ..."), and the chords that a
song uses, parted by strokes or commas under its title.

Source of the names: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.kinds.line_kinds import (
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    LineKind,
    Note,
    SectionStart,
    Words,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.given_chords import kinds_given, says_for_all
from chartkit.interchange.text.tokens import STRUCK, IsChords
from chartkit.interchange.text.vocabulary.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.vocabulary.order_words import endings_from
from chartkit.interchange.text.vocabulary.section_names import section_key

_LONGEST = 30
_FEWEST_LINES = 2
_LONGEST_LIST = 160
_AROUND = r"[\s=*#_\[(<~•–—-]*"
_BEHIND = r"\s*:?[\s=*#_\])>~–—-]*"
_CHORDS = re.compile(
    rf"{_AROUND}(?:the )?(?:{WORDS_FOR_CHORDS}|chord list|akordy){_BEHIND}", re.IGNORECASE
)
_WORDS = re.compile(
    rf"{_AROUND}(?:the )?(?:words|lyrics|text|liedtext|letra|paroles|testo|tekst|texte|songtekst|"
    rf"sångtext){_BEHIND}",
    re.IGNORECASE,
)


def without_list_names(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> tuple[list[Line], int]:
    """The lines without the two that name the list of chords and the words below it, and the
    number of the second; 0 where there are no such lists.  All chords above a line that names the
    words are a list without a name."""
    chords = _first(lines, _CHORDS, 0)
    words = _first(lines, _WORDS, max(0, chords + 1))
    if chords < 0 and not _parts_chords_from_words(lines, words, is_chords):
        return list(lines), 0
    if words < 0 or not any(line.text.strip() for line in lines[chords + 1 : words]):
        return list(lines), 0
    result = list(lines)
    for at in (chords, words) if chords >= 0 else (words,):
        text = lines[at].text.strip()
        findings.leave_out("list-name", f'"{text}" names the list below it', lines[at].place())
        result[at] = replace(lines[at], text="", columns=None)
    return result, lines[words].number


def _parts_chords_from_words(lines: Sequence[Line], words: int, is_chords: IsChords) -> bool:
    """Whether all rows of chords of a sheet stand above a line, and several lines below it."""
    if words < 1 or lines[words - 1].text.strip():
        return False
    below = [line.text for line in lines[words + 1 :] if line.text.strip()]
    above = any(is_chords(line.text) for line in lines[:words] if line.text.strip())
    return above and len(below) >= _FEWEST_LINES and not any(map(is_chords, below))


def _first(lines: Sequence[Line], name: re.Pattern[str], start: int) -> int:
    """The first line from one on that is such a name alone; -1 for none."""
    return next(
        (
            at
            for at in range(start, len(lines))
            if len(lines[at].text) <= _LONGEST and name.fullmatch(lines[at].text)
        ),
        -1,
    )


_PARTED = re.compile(r"\s*[^\s,]+(?:\s*,\s*[^\s,]+|\s+/\s+[^\s,]+)+\s*")
_FEWEST_SECTIONS = 2


def without_chords_used(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, with the chords that the song uses as a note where they stand before its first
    section, parted by strokes or commas ("A5 / D5 / E5")."""
    first = next((one for one in known if isinstance(one.kind, (SectionStart, Chords))), None)
    if first is None or not isinstance(first.kind, Chords):
        return known
    starts = [at for at, one in enumerate(known) if isinstance(one.kind, SectionStart)]
    rows = [(at, one.kind) for at, one in enumerate(known) if isinstance(one.kind, Chords)]
    if len(starts) < _FEWEST_SECTIONS or not rows or rows[0][0] > starts[0]:
        return known
    at, listed = rows[0]
    text = known[at].line.text
    alone = len(rows) > 1 and rows[1][0] > starts[0]
    if not alone or len(text) > _LONGEST_LIST or _PARTED.fullmatch(text) is None:
        return known
    names = {token.text for token in listed.tokens if token.kind in STRUCK}
    used = {token.text for _, row in rows[1:] for token in row.tokens if token.kind in STRUCK}
    if not used <= names or sum(token.kind in STRUCK for token in listed.tokens) > len(names):
        return known
    return [*known[:at], replace(known[at], kind=Note()), *known[at + 1 :]]


def words_begin(known: Sequence[KnownLine]) -> int:
    """The number of the line with which the words begin, where all chords stand above them, under
    the names of sections of which the words have some again; 0 for any other sheet."""
    starts = [at for at, one in enumerate(known) if isinstance(one.kind, SectionStart)]
    music = [at for at, one in enumerate(known) if isinstance(one.kind, Chords)]
    if not starts or not music or not starts[0] < music[0]:
        return 0
    if any(isinstance(one.kind, (ChordsWithin, ChordsBehind)) for one in known):
        return 0
    sung = [at for at, one in enumerate(known) if isinstance(one.kind, Words) and at > starts[0]]
    below = [at for at in starts if at > music[-1]]
    if not sung or not below or sung[0] < below[0]:
        return 0
    listed = {kind for at in starts if at < music[-1] for kind in kinds_given(_name(known[at]))}
    again = {section_key(_name(known[at]))[0] for at in below}
    return known[below[0]].line.number if listed & again or "" in listed else 0


def _name(one: KnownLine) -> str:
    assert isinstance(one.kind, SectionStart)
    return one.kind.name


def _ends_song(kind: LineKind) -> bool:
    """Whether a line is the name of the end of a song, which has chords of its own."""
    return isinstance(kind, SectionStart) and endings_from(["", kind.name]) == 1


def are_given_first(known: Sequence[KnownLine]) -> bool:
    """Whether the first bars of a sheet stand above its first heading and words under the others:
    these are all, or the line above them says that they are for all sections."""
    kinds = [one.kind for one in known]
    music = [
        at
        for at, kind in enumerate(kinds)
        if isinstance(kind, Chords) and not (at and _ends_song(kinds[at - 1]))
    ]
    starts = [at for at, kind in enumerate(kinds) if isinstance(kind, SectionStart)]
    if not music or not starts or music[0] > starts[0]:
        return False
    if any(isinstance(kind, (ChordsWithin, ChordsBehind)) for kind in kinds):
        return False
    if music[-1] > starts[0] and not (music[0] and says_for_all(known[music[0] - 1].line.text)):
        return False
    return any(isinstance(kind, Words) for kind in kinds[starts[0] :])
