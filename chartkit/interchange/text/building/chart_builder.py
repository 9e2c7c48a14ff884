"""Builds the chart of a sheet while its lines are read."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import zip_longest

from chartkit.chart.marks import Mark, ordered_marks
from chartkit.chart.model import (
    SETTING_NAMES,
    BlankRow,
    Chart,
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
from chartkit.chart.section_words import SUNG_KINDS
from chartkit.diagnostics import Span
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.building.earlier_sections import EarlierSections, is_words_alone
from chartkit.interchange.text.building.settled_sections import settled
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.bars import BarReader
from chartkit.interchange.text.rows.chord_a_line import one_chord_a_line
from chartkit.interchange.text.rows.counted_rows import (
    times_by_endings,
    times_of_row,
    written_out_counts,
)
from chartkit.interchange.text.rows.given_chords import (
    OF_SEVERAL,
    is_for_all,
    kinds_given,
    played_often,
    without_given,
)
from chartkit.interchange.text.rows.lyrics import sung_on
from chartkit.interchange.text.rows.meters_again import with_meters_again
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.song_form.roadmap import Stop, in_playing_order, read_as
from chartkit.interchange.text.song_form.steps import SAME
from chartkit.interchange.text.vocabulary.facts import Pace
from chartkit.interchange.text.vocabulary.section_names import section_key
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
    ``roadmap`` is the order of the sections, if a line gives it, ``roadmap_note`` that line.
    ``line_number`` is the line that is read; rows keep it as their span.
    ``opened_by`` is the heading of the open section where it says more than its name.
    ``words_from`` is the line with which the words begin where the chords stand in a list of their
    own above; ``listed`` are the sections of that list.
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
    roadmap: tuple[Stop, ...] = ()
    roadmap_note: str = ""
    line_number: int = 0
    opened_on: int = 0
    opened_by: str = ""
    like_later: dict[int, str] = field(default_factory=dict)
    """The section whose music another has that was not read yet, for the line of that one."""
    words_from: int = 0
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
        self.stanza, self.stanza_row = len(self.lines_under), len(self.rows)
        self.stanza_lines = 0

    def open(self, section: Section) -> None:
        """Ends the open section, if there is anything to it, and opens another."""
        self.settle()
        if self.opened.name or self.rows:
            self._close()
        self.opened, self.rows, self.lines_under = section, [], []
        self.like = self.opened_by = ""
        self.opened_on = self.line_number
        self.chords_on_heading = False
        self.heading_rows = 0
        self.stanza = self.stanza_row = self.stanza_lines = 0
        self.bars.first_in_section = True

    def _close(self) -> None:
        self._take_given()
        self._take_counts()
        if self.opened_by:
            self.findings.guess(
                "heading-again",
                f'"{self.opened_by}" stands over lines of its own: only its name is used',
                f"{self.opened_on}:1",
            )
        section = replace(self.opened, rows=tuple(self.rows))
        if self.like not in ("", SAME) and not self.begun and not section.same_as:
            self.like_later[section.span.start] = self.like
        at = self.earlier.add(section, tuple(self.lines_under), self.heading_rows)
        self._note_given(at, section)

    def _note_given(self, at: int, section: Section) -> None:
        """Notes a section of chords alone that stands for later ones with words alone."""
        first = len(self.earlier.names) < 2
        everywhere = is_for_all(section, first) or (self.given_to_all and not section.name)
        listed = 0 < self.opened_on < self.words_from
        listed |= OF_SEVERAL.match(section.name) is not None or (everywhere and bool(section.name))
        if listed:
            self.listed.add(at)
        given = (self.chords_on_heading or everywhere or listed) and self.lines_under
        if given and not any(isinstance(row, WordsRow) for row in section.rows):
            kinds = ("",) if everywhere else kinds_given(section.name)
            self.given |= dict.fromkeys(kinds, at)

    def _take_counts(self) -> None:
        """Takes how often the open section is played from its only row or its endings."""
        music = (row for row in self.rows if isinstance(row, MusicRow))
        if not any(row.lines or row.bars[-1].cues for row in music):
            return  # nothing in it counts
        name = self.opened.name.casefold()
        self.rows = written_out_counts(self.rows, self.findings)
        times, self.rows = times_of_row(self.opened, self.rows, self.bars.counted, self.findings)
        if times:
            self.opened = replace(self.opened, times=times)
            self.earlier.row_times[name] = times
        if (last := times_by_endings(self.opened, self.rows)) > 0:
            self.opened = replace(self.opened, times=1)
            self.earlier.times_by_endings[name] = last
            self.findings.guess(
                "times-by-endings",
                f'"{self.opened.name}" has an ending for each time that its heading counts',
                f"{self.opened_on}:1",
            )

    def _take_given(self) -> None:
        """Puts chords that were given for sections of a kind above words alone."""
        if self.lines_under or self.opened.same_as or not any(map(is_words_alone, self.rows)):
            return
        given = self.given.get(section_key(self.opened.name)[0], self.given.get(""))
        if given is None:
            self._take_lent()
            return
        rows = self.earlier.sections[given].rows
        once = [row for row in rows if isinstance(row, MusicRow | CueRow | SettingRow)]
        music = played_often(once, self.earlier.sections[given].times, self.findings)
        heading, own = self.rows[: self.heading_rows], self.rows[self.heading_rows :]
        if (placed := one_chord_a_line(music, own)) is not None:
            self.rows = [*heading, *placed]
            self.lines_under = [1] * sum(isinstance(row, MusicRow) for row in placed)
        else:
            self._put_above_words(music)
        for row in own:
            self.findings.take_back("words-without-chords", f"{row.span.start}:1")
        self.used.setdefault(given, len(self.earlier.sections))
        name = self.earlier.sections[given].name
        self.findings.guess(
            "chords-given-before",
            f'the words of "{self.opened.name}" stand under chords that were typed before'
            + (f', for "{name}"' if name else ""),
            f"{self.opened_on or self.line_number}:1",
        )

    def _take_lent(self) -> None:
        """Puts the music above words alone that their heading says is another section's."""
        lent = self.earlier_like_opened()
        if lent is None or not (self.like or self.earlier.has_words_apart(lent)):
            return
        lender = self.earlier.sections[lent]
        music = [row for row in lender.rows if isinstance(row, MusicRow | SettingRow)]
        for row in self.rows[self.heading_rows :]:
            self.findings.take_back("words-without-chords", f"{row.span.start}:1")
        self._put_above_words(music)
        self.open_like(lender)
        self.findings.guess(
            "words-without-places",
            f'"{self.opened.name}" has the music of "{lender.name}", but other lines: '
            "under which chord each word falls is not known, so they are written without",
            f"{self.opened_on}:1",
        )

    def open_like(self, other: Section) -> None:
        """Copies how often a section is played from the ``other`` one that the open section is
        said to be like, if that one is played or of its kind and the sheet gives no number."""
        kind = section_key(other.name)[0]
        alike = kind not in SUNG_KINDS or kind == section_key(self.opened.name)[0]
        if self.opened.times == 1 and alike and self.like not in ("", SAME):
            self.opened = replace(self.opened, times=other.times)

    def _put_above_words(self, music: Sequence[Row]) -> None:
        """Puts rows of music between the heading and words alone."""
        heading, own = self.rows[: self.heading_rows], self.rows[self.heading_rows :]
        self.rows = [*heading, *music, BlankRow(), *own]
        self.lines_under = [0] * sum(isinstance(row, MusicRow) for row in music)

    def named_again(self) -> str | None:
        """The name of the earlier section that the open one is by its own name, or by one that
        means the same; None where it is said to be like another, or there is none."""
        name = self.opened.name
        if not name or (self.like and self.like != SAME):
            return None
        return self.earlier.name_like(name)

    def earlier_like_opened(self) -> int | None:
        """The section whose music the open one is said to have, else the last of its name, or of
        its kind; None where there is none whose name still stands for it."""
        remarks = [row.text for row in self.rows if isinstance(row, CueRow)]
        return self.earlier.with_music_of(self.opened.name, self.like, remarks)

    @property
    def has_music(self) -> bool:
        """Whether any chords or rests were read."""
        return any(isinstance(row, MusicRow) for one in self.earlier.sections for row in one.rows)

    def chart(self) -> Chart:
        """The whole chart."""
        kept = without_given(self.earlier.sections, self.used, self.given.values())
        key = self.top.get("key")
        home = key if isinstance(key, Key) else None
        sections = tuple(settled(kept, self.like_later, self.findings, home))
        if self.roadmap:
            played = in_playing_order(sections, self.roadmap)
            self.notes += [self.roadmap_note] * (played is None)
            sections = played or sections
        sections = tuple(with_meters_again(sections, self._first_meter))
        top = [SettingRow(name, self.top[name]) for name in SETTING_NAMES if name in self.top]
        top += [SettingRow("shape", shape) for shape in self.shapes]
        notes = [SettingRow("note", note) for note in self.notes if note]
        return Chart((*top, *notes), sections)

    @property
    def _first_meter(self) -> Meter:
        meter = self.top.get("meter")
        return meter if isinstance(meter, Meter) else Meter(4, 4)

    def take_roadmap(self, stops: Sequence[Stop], line: Line) -> None:
        """Takes the order of the whole song; the first holds."""
        self.roadmap = self.roadmap or tuple(stops)
        text = setting_text(line.text)
        self.roadmap_note = self.roadmap_note or (text if stops else "")
        self.findings.guess("roadmap", read_as(text, stops), line.place())
