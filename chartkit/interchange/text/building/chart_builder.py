"""The chart of a sheet as far as it was read, and how rows are added to it."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import zip_longest

from chartkit.chart.marks import Mark, ordered_marks
from chartkit.chart.model import (
    BlankRow,
    CueRow,
    GivenShape,
    Meter,
    MusicRow,
    Row,
    Section,
    Segment,
    SettingName,
    SettingRow,
    SettingValue,
    WordsRow,
)
from chartkit.diagnostics import Span
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.building.earlier_sections import EarlierSections, is_words_alone
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.bars import BarReader
from chartkit.interchange.text.rows.lyrics import sung_on
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.song_form.roadmap import Stop, read_as
from chartkit.interchange.text.song_form.steps import SAME
from chartkit.interchange.text.vocabulary.facts import Pace
from chartkit.interchange.text.vocabulary.references import says_chords_unknown
from chartkit.interchange.text.vocabulary.times_played import times_of
from chartkit.interchange.wording import cue_text, setting_text
from chartkit.theory.key import Key

NO_CHORDS = "no chords"
"""The words of our own texts under the name of an empty section."""
_NEAR = 30
"""How many rows of words may stand between a row of music and a mark of its own."""


@dataclass(slots=True)
class Sheet:
    """The sheet as far as it was read.

    ``lines_under`` has, for each row of music of the open section, how many lines of words
    were typed under it; ``stanza`` is the first of these since a blank line, ``stanza_row``
    its place among all rows, ``stanza_lines`` how many lines of words it has.  ``going_on`` are
    words still to be joined to the last row of words, ``subject`` the line that a mail around the
    song has for its subject, ``shapes_key`` the key that is said to be the shapes', ``capo`` where
    the capo sits as far as it was read, ``like`` the section whose music the open one is said to
    have, ``first_root`` the pitch class of the first chord; ``over_sounding`` says that each row of
    shapes stands over one of what sounds.

    ``chords_on_heading`` says that the open section's chords stand on its heading's line; sections
    of such chords alone are ``given`` by their kinds ("" for every one), for later ones with words
    alone, and ``used`` are those that were.
    ``given_to_all`` says that the music above the first heading is that of all sections.
    ``roadmap`` is the order of the sections, if a line gives it, ``roadmap_note`` that line and
    ``roadmap_line`` its number.
    ``line_number`` is the line that is read; rows keep it as their span.
    ``opened_by`` is the heading of the open section where it says more than its name.
    ``words_from`` is the line with which the words begin where the chords stand in a list of their
    own above, ``listed_below`` the lines of a list that stood below all words; ``listed`` are the
    sections of that list.
    """

    findings: Findings
    tokens: TokenReader
    bars: BarReader
    top: dict[SettingName, SettingValue] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    shapes: list[GivenShape] = field(default_factory=list)
    earlier: EarlierSections = field(default_factory=EarlierSections)
    rows: list[Row] = field(default_factory=list)
    opened: Section = Section("")
    lines_under: list[int] = field(default_factory=list)
    stanza: int = 0
    stanza_row: int = 0
    numbered: tuple[slice, slice, int] | None = None
    """The last stanza that began with a number, without the open one: its rows, those of their
    music, and how many lines of words it has."""
    stanza_lines: int = 0
    going_on: list[str] = field(default_factory=list)
    chord_rows: int = 0
    words_lines: int = 0
    heading_rows: int = 0
    subject: Line | None = None
    shapes_key: Key | None = None
    capo: int | None = None
    over_sounding: bool = False
    first_root: int | None = None
    sung: frozenset[str] = frozenset()
    """The letters of each line of words below the head."""
    pace: tuple[Pace, Line] | None = None
    """A tempo in other notes than quarters, and its line."""
    like: str = ""
    chords_on_heading: bool = False
    given: dict[str, int] = field(default_factory=dict)
    used: dict[int, int] = field(default_factory=dict)
    """The first section over whose words each of the given ones stands."""
    given_to_all: bool = False
    likely_writer: str = ""
    """The writer where only a line that could be a name says so."""
    title_line: int = 0
    """The line of the head that is the title, 0 where none could be."""
    roadmap: tuple[Stop, ...] = ()
    roadmap_note: str = ""
    roadmap_line: int = 0
    line_number: int = 0
    opened_on: int = 0
    opened_by: str = ""
    like_later: dict[int, str] = field(default_factory=dict)
    """The section whose music another has that was not read yet, for the line of that one."""
    meter_elsewhere: Meter | None = None
    """The meter of the song, where the open section's name gives another for it alone."""
    words_from: int = 0
    listed_below: frozenset[int] = frozenset()
    listed: set[int] = field(default_factory=set)

    @property
    def begun(self) -> bool:
        """Whether there is more in the open section than its heading says."""
        return len(self.rows) > self.heading_rows

    @property
    def in_stanza_alone(self) -> bool:
        """Whether the last row is words without music."""
        return bool(self.rows) and is_words_alone(self.rows[-1])

    def add_remark(self, text: str) -> None:
        """Adds what the heading of the open section says to the players."""
        self.add(CueRow(text))
        self.heading_rows = len(self.rows)

    def add_music(self, music: MusicRow) -> None:
        """Adds a row of music, with no words under it yet."""
        self._take_own_music()
        place = Span(self.line_number, self.line_number)
        self.add(MusicRow(music.bars, music.lines, music.comment, place))
        self.lines_under.append(0)

    def _take_own_music(self) -> None:
        """Writes out the music that the open section shares with another: it has more of its
        own."""
        if not self.opened.same_as:
            return
        rows = self.earlier.rows_of(self.opened.same_as)
        music = [row for row in rows if isinstance(row, MusicRow)]
        own = self.rows[self.heading_rows :]
        words = [row for row in own if isinstance(row, WordsRow)]
        pairs = [row for pair in zip_longest(music, words) for row in pair if row is not None]
        others = [row for row in own if not isinstance(row, WordsRow)]
        self.rows = [*self.rows[: self.heading_rows], *pairs, *others]
        self.lines_under = [int(at < len(words)) for at in range(len(music))]
        self.opened = replace(self.opened, same_as="")

    def add(self, row: Row, line_number: int = 0) -> None:
        """Adds a row that stands on the line which is read, or on another."""
        self.settle()
        number = line_number or self.line_number
        if row.span.start != number:
            row = replace(row, span=Span(number, number))
        self.rows.append(row)

    def add_stanza(self, lines: Sequence[tuple[int, str]]) -> None:
        """Adds lines of words without music, each with its number in the sheet."""
        self._take_own_music()
        self.settle()
        if self.rows and not isinstance(self.rows[-1], BlankRow | CueRow | SettingRow):
            self.rows.append(BlankRow())
        self.begin_stanza()
        for number, text in lines:
            self.add_to_stanza(number, text)

    def add_to_stanza(self, number: int, text: str) -> None:
        """Adds a line of words without music to others."""
        self.add(WordsRow(((Segment(" ".join(text.split())),),)), number)
        self.words_lines += 1

    def play_section(self, text: str, at_its_end: bool) -> bool:
        """Takes words that say how often the open section is played, at its end; whether they
        do."""
        times = times_of(text) if at_its_end and self.opened.name else 0
        if times and self.opened.times == 1:
            self.opened = replace(self.opened, times=times)
        return times > 0

    def settle(self) -> None:
        """Joins the words that go on to the last row of words."""
        if self.going_on:
            last = self.rows[-1]
            assert isinstance(last, WordsRow)
            self.rows[-1] = sung_on(last, " ".join(self.going_on))
            self.going_on = []

    def mark_last(self, marks: Sequence[Mark], text: str) -> None:
        """Puts marks that stand on a line of their own into the bar before them; where there is
        none, their text is a cue."""
        for at in range(len(self.rows) - 1, max(-1, len(self.rows) - _NEAR), -1):
            music = self.rows[at]
            if isinstance(music, MusicRow):
                *bars, last = music.bars
                kinds = {mark.kind for mark in last.marks}
                new = (mark for mark in marks if mark.kind not in kinds)
                marked = replace(last, marks=ordered_marks((*last.marks, *new)))
                self.rows[at] = replace(music, bars=(*bars, marked))
                return
        self.add(CueRow(cue_text(text)))

    def add_line(self) -> None:
        """Counts a line of words under the last row of music."""
        self.words_lines += 1
        if self.lines_under:
            self.lines_under[-1] += 1
            self.stanza_lines += 1

    def begin_stanza(self) -> None:
        """Notes that the next row of music is the first since a blank line."""
        self.settle()
        words = (row for row in self.rows[self.stanza_row :] if isinstance(row, WordsRow))
        first = next(words, None)
        if self.stanza_lines and first is not None and first.verse is not None:
            rows = slice(self.stanza_row, len(self.rows))
            self.numbered = rows, slice(self.stanza, len(self.lines_under)), self.stanza_lines
        self.stanza, self.stanza_row = len(self.lines_under), len(self.rows)
        self.stanza_lines = 0

    def open(self, section: Section) -> None:
        """Opens a section, where ``section_end.py`` has ended the one before."""
        self.opened, self.rows, self.lines_under = section, [], []
        self.like = self.opened_by = ""
        self.opened_on = self.line_number
        self.chords_on_heading = False
        self.heading_rows = 0
        self.stanza = self.stanza_row = self.stanza_lines = 0
        self.numbered = None
        self.bars.first_in_section = True

    def named_again(self) -> str | None:
        """The name of the earlier section that the open one is by its own name, or by one that
        means the same; None where it is said to be like another, or there is none."""
        name = self.opened.name
        if not name or (self.like and self.like != SAME):
            return None
        return self.earlier.name_like(name)

    def earlier_like_opened(self) -> int | None:
        """The section whose music the open one is said to have, else the last of its name, or of
        its kind; None where there is none whose name still stands for it, or a remark says that
        nobody knows the chords."""
        remarks = [row.text for row in self.rows if isinstance(row, CueRow)]
        if any(map(says_chords_unknown, (self.opened.name, *remarks))):
            return None
        return self.earlier.with_music_of(self.opened.name, self.like, remarks)

    def take_roadmap(self, stops: Sequence[Stop], line: Line) -> None:
        """Takes the order of the whole song; the first holds."""
        self.roadmap_line = self.roadmap_line or (line.number if stops else 0)
        self.roadmap = self.roadmap or tuple(stops)
        text = setting_text(line.text)
        self.roadmap_note = self.roadmap_note or (text if stops else "")
        self.findings.guess("roadmap", read_as(text, stops), line.place())
