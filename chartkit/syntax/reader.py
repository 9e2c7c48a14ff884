"""Reads a whole text into a chart: rows are classified, read one by one and collected.

Reading is one pass over the text.  Each row is parsed on its own, so a mistake in one never
keeps the others from being read.
"""

import re
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

from chartkit.chart.model import (
    BlankRow,
    Chart,
    CommentRow,
    CueRow,
    Meter,
    MusicRow,
    Row,
    Section,
    SettingName,
    SettingRow,
    TopRow,
    WordsRow,
)
from chartkit.chart.systems import is_bare, stands_alone, words_stacks
from chartkit.diagnostics import Diagnostic, Source, Span, has_errors
from chartkit.phrases import counted
from chartkit.syntax.checks import check_whole
from chartkit.syntax.degrees import are_degrees, report_degrees
from chartkit.syntax.elements import Element, ToElements, lone_cue
from chartkit.syntax.grammar import UnexpectedText, parse_row, row_parser
from chartkit.syntax.likely_typos import (
    check_comment,
    check_heading_comments,
    has_chords_among_words,
    is_prose,
    is_remark,
    is_tablature,
    report_prose,
    report_sheet,
    report_sheet_once,
    report_tablature,
)
from chartkit.syntax.lookalikes import usual_signs
from chartkit.syntax.missing_signs import BareSection, bare_section, report_bare_section, with_colon
from chartkit.syntax.music import read_music
from chartkit.syntax.print_checks import check_print
from chartkit.syntax.report import Report
from chartkit.syntax.section_checks import is_too_long
from chartkit.syntax.section_row import read_section
from chartkit.syntax.setting_row import read_setting
from chartkit.syntax.strikes import MusicContext
from chartkit.syntax.unexpected import report_unexpected
from chartkit.syntax.way_back_checks import with_ways_back_checked
from chartkit.syntax.words import check_alone, comment_text, read_words, words_fitted_to
from chartkit.syntax.words_or_music import (
    are_chord_names,
    is_music,
    opened_without_close,
    report_chord_names,
)

_SETTING = re.compile(r"[^\W\d_][^:|\"\\]{0,60}:(?!\|)")
_WORDS = re.compile(r"[0-9]{0,3}:(?!\|\||\|\d+\.)")
# ":|" opens a row of words without a pick-up, or of music where chords follow; ":||" and ":|2."
# are bar lines there.
_LONGEST_ROW = 20_000
"""The most characters of a row, far more than any row of music or words has."""
_UNSAFE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufeff]")


@dataclass(frozen=True, slots=True)
class Reading:
    """The result of reading a text: the chart as far as it could be read, and every mistake in the
    order of the text."""

    chart: Chart
    diagnostics: tuple[Diagnostic, ...]


@cache
def _transformer() -> ToElements:
    return ToElements()


@dataclass(slots=True)
class _Reader:
    """The chart so far, row by row.

    ``opened`` is the section whose rows are in ``rows``, ``music_row`` the row of music that words
    under it belong to, ``set_at_top`` the settings at the top, ``tablature_ends`` the place after
    the last row of tablature, ``music_unknown`` whether the heading names music that there is not,
    ``music_of`` the music of each section by its name.  ``read_row`` says of what kind a row is,
    by how it begins: the first kind that fits counts, so their order is part of the language.
    """

    report: Report
    context: MusicContext = field(default_factory=MusicContext)
    top: list[TopRow] = field(default_factory=list)
    sections: list[Section] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    opened: Section | None = None
    music_row: MusicRow | None = None
    blank_under_heading: bool = False
    tablature_ends: int = -1
    music_unknown: bool = False
    set_at_top: set[SettingName] = field(default_factory=set)
    music_of: dict[str, tuple[MusicRow, ...]] = field(default_factory=dict)

    # ---- rows
    def read_row(self, text: str) -> None:
        stripped = text.lstrip()
        if not stripped:
            self._blank()
        elif stripped.startswith("#"):
            self._keep(CommentRow(stripped[1:].strip(), self._span(text)))
        elif stripped.startswith("=="):
            self._section(text)
        elif _WORDS.match(stripped) and not is_music(stripped):
            self._words(text)
        elif _SETTING.match(stripped) and not stripped.startswith("N.C"):
            self._setting(text)
        elif (bare := bare_section(text)) is not None:
            self._bare_section(bare)
        elif (setting := with_colon(text, self.opened is not None, self.report)) is not None:
            self._setting(setting)
        else:
            self._music(text)

    def _span(self, text: str) -> Span:
        start = self.report.offset + len(text) - len(text.lstrip())
        return Span(start, self.report.offset + len(text.rstrip()))

    def _parsed(self, kind: str, text: str) -> Any | None:
        def misfit(stretch: UnexpectedText) -> None:
            if kind == "music":
                report_unexpected(stretch, text, self.report)
            else:
                self._out_of_place(stretch, text)

        before = len(self.report.diagnostics)
        parsed = parse_row(row_parser(_transformer(), kind), kind, text, misfit)
        if parsed is None and len(self.report.diagnostics) == before:
            self.report.add(
                "unfinished-row",
                len(text.rstrip()) - 1,
                len(text.rstrip()),
                "the row breaks off here",
                'write the name of an earlier section after "as": == Verse 2 as Verse 1',
            )
        return parsed

    def _out_of_place(self, stretch: UnexpectedText, text: str) -> None:
        self.report.add(
            "out-of-place",
            stretch.start,
            stretch.end,
            f'"{text[stretch.start : stretch.end]}" is out of place here',
            'a section row is "== Name", then "x2" or "as" and another section\'s name',
        )

    def _keep(self, row: Row) -> None:
        if self.opened is None and isinstance(row, SettingRow | CommentRow | BlankRow):
            self.top.append(row)
            return
        if self.opened is None:
            self.opened = Section("", span=Span(self.report.offset, self.report.offset))
        self.rows.append(row)

    def _blank(self) -> None:
        rows = self.top if self.opened is None else self.rows
        if rows and not isinstance(rows[-1], BlankRow):
            self._keep(BlankRow(Span(self.report.offset, self.report.offset)))
        self.blank_under_heading = self.opened is not None and not self.rows

    def _setting(self, text: str) -> None:
        parts = self._parsed("setting", text)
        if not parts:
            return
        row = read_setting(
            parts, self.opened is not None, self.set_at_top, self._span(text), self.report
        )
        if row is not None:
            if isinstance(row.value, Meter):
                self.context.meter = row.value
            self._keep(row)

    def _section(self, text: str) -> None:
        parts = self._parsed("section", text)
        self._close_section()
        earlier = (section.name for section in self.sections)
        self.opened = read_section(
            parts, text, self._span(text), earlier, self.music_of, self.report
        )
        self.music_unknown = self.report.has_in_row("unknown-section")
        self.context.begin_section()

    def _bare_section(self, bare: BareSection) -> None:
        """Reports it and reads on in that section, so that the slip is reported once."""
        report_bare_section(bare, self.report)
        self._close_section()
        start, end = (place + self.report.offset for place in bare.span)
        self.opened = Section(bare.name, span=Span(start, end))
        self.context.begin_section()

    def _words(self, text: str) -> None:
        parsed = self._parsed("words", text)
        if parsed is None:
            return
        if parsed[2] is not None:
            check_comment(str(parsed[2]), parsed[2].start_pos or 0, self.report)
        row = replace(read_words(parsed, self.report), span=self._span(text))
        fitting = Report(offset=self.report.offset)
        if self.opened is None or not self.opened.same_as:
            if self.music_row is None or stands_alone(row, self._parted()):
                self.music_row = None
                if not self.music_unknown:
                    check_alone(row, self.opened.name if self.opened else "", fitting)
            else:
                row = words_fitted_to(row, self.music_row, fitting)
        if are_chord_names(text):
            report_chord_names(text, not has_errors(tuple(fitting.diagnostics)), self.report)
        else:
            self.report.diagnostics += fitting.diagnostics
        self._keep(row)

    def _parted(self) -> bool:
        """Whether something stands between this row and the music or words above it."""
        above = next((row for row in reversed(self.rows) if not isinstance(row, CommentRow)), None)
        return not isinstance(above, MusicRow | WordsRow)

    def _music(self, text: str) -> None:
        if has_chords_among_words(text):
            report_sheet(*self.report.in_row(self._span(text)), self.report)
            return
        if is_remark(text):
            report_prose(*self.report.in_row(self._span(text)), text, self.report)
            return
        if is_tablature(text):
            self._tablature(text)
            return
        before = len(self.report.diagnostics)
        text = usual_signs(text, self.report)
        elements: list[Element] | None = self._parsed("music", text)
        if elements is None:
            return
        if are_degrees(elements):
            report_degrees(elements, text, [*self.top, *self.rows], self.report)
        elif not self._is_prose(elements, text, before):
            self._keep_music(elements, text)

    def _tablature(self, text: str) -> None:
        """Reports a block of tablature at its first row."""
        if self.tablature_ends < 0 or self.report.offset - self.tablature_ends > len("\r\n"):
            report_tablature(*self.report.in_row(self._span(text)), self.report)
        self.tablature_ends = self.report.offset + len(text)

    def _is_prose(self, elements: list[Element], text: str, reported: int) -> bool:
        """Whether a row is words rather than music, which is the one thing reported of it.

        ``reported`` counts the mistakes before the row.
        """
        if not is_prose(elements):
            return False
        del self.report.diagnostics[reported:]
        start, end = self.report.in_row(self._span(text))
        above = self.rows[-1] if self.rows else None
        if isinstance(above, MusicRow) and above.free:
            report_sheet(start, end, self.report)
        else:
            report_prose(start, end, text, self.report)
        return True

    def _keep_music(self, elements: list[Element], text: str) -> None:
        if elements and elements[-1].kind == "comment":
            check_comment(elements[-1].value, elements[-1].start, self.report)
        cue = lone_cue(elements)
        if cue is not None:
            self._keep(CueRow(cue, _comment(elements), self._span(text)))
            return
        row = read_music(elements, len(text.rstrip()), self.context, self.report)
        row = opened_without_close(row, elements, self.rows, self.report)
        if row is None:
            return
        if self.opened is not None and self.opened.same_as:
            self.report.add(
                "music-in-shared-section",
                *self.report.in_row(self._span(text)),
                f'this section has the music of "{self.opened.same_as}", '
                "so its rows hold words only",
                'for music of its own, take out "as" and the name after it',
            )
        row = replace(row, comment=comment_text(row.comment or None), span=self._span(text))
        self.music_row = row
        self._keep(row)

    # ---- sections
    def _close_section(self) -> None:
        if self.opened is not None:
            if self.blank_under_heading and not self.rows:
                self.rows.append(BlankRow())
            section = replace(self.opened, rows=tuple(self.rows))
            if section.same_as:
                music = self.music_of[section.same_as.casefold()]
                section = self._fitted_to(section, music)
            else:
                music = tuple(row for row in self.rows if isinstance(row, MusicRow))
            self.sections.append(section)
            if not is_bare(section):
                self.music_of[section.name.casefold()] = music
            else:
                self.music_of.setdefault(section.name.casefold(), ())
        self.opened, self.rows, self.music_row = None, [], None
        self.blank_under_heading = False

    def _fitted_to(self, section: Section, music: tuple[MusicRow, ...]) -> Section:
        """The section with its words fitted to the music it shares."""
        if not music:
            return section  # said of the section as a whole
        report = Report(self.report.diagnostics)
        fits: dict[int, WordsRow] = {}
        for i, stack in enumerate(words_stacks(section.rows)):
            for row in stack:
                if i < len(music):
                    fits[id(row)] = words_fitted_to(row, music[i], report, shared=True)
                else:
                    report.add(
                        "words-without-music",
                        *row.span,
                        f'"{section.same_as}" has {counted(len(music), "row")} of music, '
                        "and these words come after the last",
                        'verses that stack under the same row are numbered: "1:" then "2:"',
                    )
        return replace(section, rows=tuple(fits.get(id(row), row) for row in section.rows))

    def chart(self) -> Chart:
        ending = self.top if self.opened is None else self.rows
        if ending and isinstance(ending[-1], BlankRow):
            ending.pop()
        self.blank_under_heading = False
        self._close_section()
        return Chart(tuple(self.top), tuple(self.sections))


def _comment(elements: list[Element]) -> str:
    return comment_text(elements[-1].value) if elements[-1].kind == "comment" else ""


def read_chart(source: Source) -> Reading:
    """The chart in a text and its diagnostics.

    The chart can be used if no diagnostic is an error.
    """
    report = Report()
    reader = _Reader(report)
    for start, row in source.lines():
        report.begin_row(start)
        if not start and row.startswith("\ufeff"):
            row = " " + row[1:]  # the byte order mark that some editors write
        if (unsafe := _UNSAFE.search(row)) is not None:
            report.add(
                "control-character",
                unsafe.start(),
                unsafe.end(),
                f"this character (U+{ord(unsafe[0]):04X}) cannot stand in a chart",
                "delete it",
            )
            row = _UNSAFE.sub(" ", row)
        if len(row) > _LONGEST_ROW:
            report.add(
                "row-too-long",
                0,
                20,
                f"this row has {len(row):,} characters, too many to read",
                "break it at a bar line into rows of a few bars each",
            )
            continue
        reader.read_row(row)
    report.begin_row(0)
    chart = reader.chart()
    report_sheet_once(report, has_sections="\n==" in f"\n{source.text}")
    check_heading_comments(chart, report)
    if is_too_long(chart, report):
        return Reading(chart, report.ordered())
    check_whole(chart, len(source.text), report)
    if not source.text.isascii():
        check_print(chart, source.text, report)
    return Reading(with_ways_back_checked(chart, report), report.ordered())


def chart_or_none(text: str) -> Chart | None:
    """The chart of a text; None where it has mistakes."""
    reading = read_chart(Source(text))
    return None if has_errors(reading.diagnostics) else reading.chart
