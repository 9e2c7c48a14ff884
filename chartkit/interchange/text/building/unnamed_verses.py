"""Verses that nobody named, below a line that asks for an earlier section once more.

Source of the form: common practice, no source.
"""

import re

from chartkit.chart.model import MusicRow, WordsRow
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.cursor import Cursor
from chartkit.interchange.text.kinds.line_kinds import (
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
from chartkit.interchange.text.vocabulary.times_played import AGAIN_FIRST

_PLAYED = Chords | ChordsBehind | ChordsWithin | Words
_NUMBER = re.compile(r"\s*\d{1,2}\.?$")
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
    places = range(cursor.at - 1, -1, -1)
    above = next((at for at in places if cursor.known[at].line.text.strip()), None)
    asked = above is not None and _is_once_more(cursor.known[above].kind)
    apart = cursor.name_apart + 2 < cursor.at  # then a blank line says nothing here
    if not (sheet.opened_by or asked) or apart:
        return False
    return section_key(sheet.opened.name) in sheet.earlier.names


def _is_once_more(kind: LineKind) -> bool:
    """Whether a line of form says that a section is played again, or how often."""
    if not isinstance(kind, SectionStart) or not kind.guessed:
        return False
    return kind.times > 1 or any(map(AGAIN_FIRST.match, kind.remarks))


def name_of_verse(sheet: Sheet) -> str:
    """The name of the next verse, by the name and the number of the last one."""
    earlier = sheet.earlier
    base = _NUMBER.sub("", earlier.last_verse.partition(" (")[0]) or _VERSE
    number = earlier.verses
    if not earlier.last_verse and "" in earlier.home:
        number = 1  # the first verse has no name
    return f"{base} {number + 1}" if number else base


def report_name_of_verse(sheet: Sheet, name: str, line: Line) -> None:
    """Reports the name that a verse was given."""
    sheet.findings.guess(
        "verse-without-name",
        f'what stands below a section that is played once more has no name: it is called "{name}"',
        line.place(),
    )
