"""Verses that nobody named, below a line that asks for an earlier section once more.

Source of the form: common practice, no source.
"""

import re
from itertools import pairwise

from chartkit.chart.model import MusicRow, WordsRow
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.cursor import Cursor
from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    LineKind,
    SectionStart,
    Words,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.times_played import ONCE_MORE

_PLAYED = Chords | ChordsBehind | ChordsWithin | Words
_NUMBER = re.compile(r"\s*\d{1,2}\.?$")
_AGAIN = re.compile(rf"{ONCE_MORE}(?!\w)", re.IGNORECASE)
_VERSE = "Verse"
"""What a verse is called where the sheet has no word for it."""


def begins_a_verse(cursor: Cursor, one: KnownLine) -> bool:
    """Whether a blank line is above a line of words or chords, and above that nothing but a line
    that asks for an earlier section once more: what stands here is no part of that."""
    sheet = cursor.sheet
    if not isinstance(one.kind, _PLAYED) or not cursor.stanza_begins:
        return False
    if any(isinstance(row, MusicRow | WordsRow) for row in sheet.rows):
        return False
    above = next((k.kind for k in reversed(cursor.known[: cursor.at]) if k.line.text.strip()), None)
    if not (sheet.opened_by or _is_once_more(above)) or _names_stand_apart(cursor):
        return False
    key = section_key(sheet.opened.name)
    return any(section_key(earlier.name) == key for earlier in sheet.earlier.sections)


def _names_stand_apart(cursor: Cursor) -> bool:
    """Whether a blank line stands below a plain name above, so that it says nothing here."""
    above = cursor.known[: cursor.at]
    return any(
        isinstance(one.kind, SectionStart)
        and not (one.kind.guessed or one.kind.remarks)
        and isinstance(below.kind, Blank)
        and isinstance(next((k.kind for k in above[at + 2 :]), None), _PLAYED)
        for at, (one, below) in enumerate(pairwise(above))
    )


def _is_once_more(kind: LineKind | None) -> bool:
    """Whether a line of form says that a section is played again, or how often."""
    if not isinstance(kind, SectionStart) or not kind.guessed:
        return False
    return kind.times > 1 or any(map(_AGAIN.match, kind.remarks))


def name_of_verse(sheet: Sheet) -> str:
    """The name of the next verse, by the name and the number of the last one."""
    verses = [one.name for one in sheet.earlier.sections if section_key(one.name)[0] == "verse"]
    numbers = [int(number) for name in verses if (number := section_key(name)[1]).isdecimal()]
    base = _NUMBER.sub("", verses[-1].partition(" (")[0]) if verses else _VERSE
    if not verses and any(not one.name for one in sheet.earlier.sections):
        numbers = [1]  # the first verse has no name
    return f"{base or _VERSE} {max(numbers) + 1}" if numbers else base or _VERSE


def report_name_of_verse(sheet: Sheet, name: str, line: Line) -> None:
    """Reports the name that a verse was given."""
    sheet.findings.guess(
        "verse-without-name",
        f'what stands below a section that is played once more has no name: it is called "{name}"',
        line.place(),
    )
