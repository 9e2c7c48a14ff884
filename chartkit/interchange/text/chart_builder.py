"""The chart of a sheet while its lines are read."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from chartkit.chart.marks import Mark, ordered_marks
from chartkit.chart.model import (
    Chart,
    CueRow,
    GivenShape,
    MusicRow,
    Row,
    Section,
    SettingName,
    SettingRow,
    SettingValue,
    WordsRow,
)
from chartkit.interchange.taken import Findings
from chartkit.interchange.text.bars import BarReader
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.lyrics import sung_on
from chartkit.interchange.text.tokens import Tokens
from chartkit.theory.key import Key

_NEAR = 30
"""How many rows of words may stand between a row of music and a mark of its own."""
_REMARK = re.compile(r"\s*\([^()]*\)\s*$")
_NUMBER = re.compile(r"[\s.#]*(?:\d{1,2}[a-d]?|[IVX]{1,4}|[A-D])$")
_ORDER: tuple[SettingName, ...] = (
    "title",
    "writer",
    "key",
    "meter",
    "tempo",
    "feel",
    "range",
    "capo",
    "chords",
    "instrument",
    "language",
)


@dataclass(slots=True)
class Sheet:
    """What was read so far.

    ``lines_under`` has, for each row of music of the open section, how many lines of words
    were typed under it; ``stanza`` is the first of these since a blank line, ``stanza_row``
    its place among all rows, ``stanza_lines`` how many lines of words it has.  ``meaning``
    tells which section's music a name stands for, ``kinds`` the last section of each kind
    with music of its own.  ``going_on`` are words still to be joined to the last row of words,
    ``subject`` the line that a mail around the song has for its subject, ``shapes_key`` the key
    that is said to be the shapes', ``like`` the section whose music the open one is said to have.
    """

    findings: Findings
    tokens: Tokens
    bars: BarReader
    top: dict[SettingName, SettingValue] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    shapes: list[GivenShape] = field(default_factory=list)
    sections: list[Section] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    opened: Section = Section("")
    lines_under: list[int] = field(default_factory=list)
    lines_of: list[tuple[int, ...]] = field(default_factory=list)
    stanza: int = 0
    stanza_row: int = 0
    stanza_lines: int = 0
    meaning: dict[str, int | None] = field(default_factory=dict)
    kinds: dict[str, int] = field(default_factory=dict)
    going_on: list[str] = field(default_factory=list)
    chord_rows: int = 0
    words_lines: int = 0
    copied: int = 0
    heading_rows: int = 0
    subject: Line | None = None
    shapes_key: Key | None = None
    like: str = ""

    @property
    def begun(self) -> bool:
        """Whether there is more in the open section than its heading says."""
        return len(self.rows) > self.heading_rows

    def add_remark(self, text: str) -> None:
        """Adds what the heading of the open section says to the players."""
        self.add(CueRow(text))
        self.heading_rows = len(self.rows)

    def add_music(self, music: MusicRow) -> None:
        """Adds a row of music, with no words under it yet."""
        self.add(music)
        self.lines_under.append(0)

    def add(self, row: Row) -> None:
        """Adds a row."""
        self.settle()
        self.rows.append(row)

    def settle(self) -> None:
        """Joins the words that go on to the last row of words."""
        if self.going_on:
            last = self.rows[-1]
            assert isinstance(last, WordsRow)
            self.rows[-1] = sung_on(last, " ".join(self.going_on))
            self.going_on = []

    def mark_last(self, marks: Sequence[Mark]) -> None:
        """Puts marks that stand on a line of their own into the bar before them."""
        for at in range(len(self.rows) - 1, max(-1, len(self.rows) - _NEAR), -1):
            music = self.rows[at]
            if isinstance(music, MusicRow):
                *bars, last = music.bars
                kinds = {mark.kind for mark in last.marks}
                new = (mark for mark in marks if mark.kind not in kinds)
                marked = replace(last, marks=ordered_marks((*last.marks, *new)))
                self.rows[at] = replace(music, bars=(*bars, marked))
                return
        self.add(CueRow(", ".join(mark.kind for mark in marks)))

    def add_line(self) -> None:
        """Counts a line of words under the last row of music."""
        self.words_lines += 1
        if self.lines_under:
            self.lines_under[-1] += 1
            self.stanza_lines += 1

    def begin_stanza(self) -> None:
        """Notes that the next row of music is the first since a blank line."""
        self.settle()
        self.stanza, self.stanza_row = len(self.lines_under), len(self.rows)
        self.stanza_lines = 0

    def open(self, section: Section) -> None:
        """Ends the open section, if there is anything to it, and opens another."""
        self.settle()
        if self.opened.name or self.rows:
            self._close()
        self.opened, self.rows, self.lines_under = section, [], []
        self.like = ""
        self.heading_rows = 0
        self.stanza = self.stanza_row = self.stanza_lines = 0
        self.bars.first_in_section = True

    def _close(self) -> None:
        at, section = len(self.sections), replace(self.opened, rows=tuple(self.rows))
        self.sections.append(section)
        self.lines_of.append(tuple(self.lines_under))
        same = section.same_as.casefold()
        self.meaning[section.name.casefold()] = self.meaning.get(same) if same else at
        if self.lines_under and section.name:
            self.kinds[_kind(section.name)] = at

    def earlier_like_opened(self) -> int | None:
        """The section whose music the open one is said to have, else the last of its kind, if its
        name still stands for it."""
        kind = _kind(self.like or self.opened.name)
        found = self.kinds.get(kind) if self.opened.name else None
        if self.like and self.meaning.get(self.like.casefold()) is not None:
            found = self.meaning[self.like.casefold()]
        if found is None or self.meaning.get(self.sections[found].name.casefold()) != found:
            return None
        return found

    def chart(self) -> Chart:
        """The chart; without sections where there is no music in it."""
        top = [SettingRow(name, self.top[name]) for name in _ORDER if name in self.top]
        top += [SettingRow("shape", shape) for shape in self.shapes]
        notes = [SettingRow("note", note) for note in self.notes if note]
        music = any(isinstance(row, MusicRow) for one in self.sections for row in one.rows)
        return Chart((*top, *notes), tuple(self.sections) if music else ())


def _kind(name: str) -> str:
    """A section's name without its number and remark: ``verse`` of ``Verse 2 (soft)``."""
    name = _REMARK.sub("", name)
    return _NUMBER.sub("", name).strip().casefold() or name.casefold()
