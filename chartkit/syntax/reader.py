"""A whole text to a chart: rows are told apart, read one by one and gathered.

Reading is one pass over the text.  Each row is parsed on its own, so a mistake in one never
keeps the others from being read.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

from lark import Token

from chartkit.chart.model import (
    REPEATABLE,
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
from chartkit.chart.systems import words_stacks
from chartkit.diagnostics import Diagnostic, Source, Span
from chartkit.syntax.checks import check_whole
from chartkit.syntax.elements import Element, ToElements
from chartkit.syntax.grammar import Misfit, parse_row, row_parser
from chartkit.syntax.misfits import report_misfit
from chartkit.syntax.music import MusicContext, read_music
from chartkit.syntax.report import Report
from chartkit.syntax.settings import BODY_NAMES, NAMES, nearest_name, setting_value
from chartkit.syntax.symbol import looks_like
from chartkit.syntax.words import comment_text, count_of, fitted, read_words

_SETTING = re.compile(r"[^\W\d_][^:|\"\\]{0,60}:(?!\|)")
_SECTION_WORD = re.compile(
    r"(?:intro|verse|pre-?chorus|chorus|refrain|bridge|middle|solo|interlude|break|tag|outro|"
    r"coda|ending|vamp|turnaround|instrumental)\b",
    re.IGNORECASE,
)
_WORDS = re.compile(r"[0-9]{0,3}:(?!\|\||\|\d+\.)")
# ":|" opens a row of words without a pick-up; only ":||" and ":|2." are bar lines there.
_TIMES_IN_NAME = re.compile(r"(?:^|\s)(?:\(?x\s*(\d{1,2})\)?|(\d{1,2})\s*x)$", re.IGNORECASE)
_UNSAFE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufeff]")


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of reading a text: the chart, whole as far as it could be read, and every
    mistake in the order of the text."""

    chart: Chart
    diagnostics: tuple[Diagnostic, ...]


@cache
def _transformer() -> ToElements:
    return ToElements()


@dataclass(slots=True)
class _Reader:
    report: Report
    context: MusicContext = field(default_factory=MusicContext)
    top: list[TopRow] = field(default_factory=list)
    sections: list[Section] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    opened: Section | None = None
    music_row: MusicRow | None = None
    given: set[SettingName] = field(default_factory=set)
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
        elif _WORDS.match(stripped):
            self._words(text)
        elif _SETTING.match(stripped) and not stripped.startswith("N.C"):
            self._setting(text)
        else:
            self._music(text)

    def _span(self, text: str) -> Span:
        start = self.report.offset + len(text) - len(text.lstrip())
        return Span(start, self.report.offset + len(text.rstrip()))

    def _parsed(self, kind: str, text: str) -> Any | None:
        def misfit(found: Misfit) -> None:
            if kind == "music":
                report_misfit(found, text, self.report)
            else:
                self._out_of_place(found, text)

        before = len(self.report.found)
        parsed = parse_row(row_parser(_transformer(), kind), kind, text, misfit)
        if parsed is None and len(self.report.found) == before:
            self.report.add(
                "unfinished-row", len(text.rstrip()) - 1, len(text.rstrip()),
                "the row breaks off here",
                'after "as" comes the name of an earlier section: == Verse 2 as Verse 1',
            )  # fmt: skip
        return parsed

    def _out_of_place(self, found: Misfit, text: str) -> None:
        self.report.add(
            "out-of-place", found.start, found.end,
            f'"{text[found.start : found.end]}" is out of place here',
            'a section row is "== Name", then "x2" or "as" and another section\'s name',
        )  # fmt: skip

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

    def _setting(self, text: str) -> None:
        parts = self._parsed("setting", text)
        if not parts:
            return
        value = next((t for t in parts[1:] if t.type == "PLAIN"), None)
        comment = next((t for t in parts[1:] if t.type == "COMMENT"), None)
        name = parts[0][:-1].strip()
        start = parts[0].start_pos or 0
        known = _setting_name(name)
        if known is None:
            self._unknown_setting(name, start)
            return
        if self.opened is not None and known not in BODY_NAMES:
            self.report.add(
                "setting-too-late", start, start + len(name),
                f'"{known}" belongs at the top, before the first section',
                f"inside the song only {', '.join(BODY_NAMES)} may change",
            )  # fmt: skip
            return
        self._known_setting(known, value, comment, text, start + len(name) + 1)

    def _unknown_setting(self, name: str, start: int) -> None:
        near = nearest_name(name)
        if _SECTION_WORD.match(name):
            self.report.add(
                "unknown-setting", start, start + len(name), f'"{name}" is not a setting',
                f'a section row begins with two equals signs: "== {name}"',
            )  # fmt: skip
            return
        hint = f'did you mean "{near}"?' if near else f"the names are {', '.join(NAMES)}"
        self.report.add(
            "unknown-setting", start, start + len(name), f'"{name}" is not a setting', hint,
            'if these are words to be sung, begin the row with ":"; a cue stands in quotes',
        )  # fmt: skip

    def _known_setting(
        self, name: SettingName, value: Token | None, comment: Token | None, text: str, at: int
    ) -> None:
        if value is None:
            self.report.add("empty-setting", at - 1, at, f'"{name}" has no value')
            return
        start = value.start_pos or 0
        if self.opened is None and name not in REPEATABLE and name in self.given:
            self.report.add(
                "setting-twice", at - 1 - len(name), at - 1, f'"{name}" is given a second time'
            )
            return
        plain = " ".join(re.sub(r"\\([#\\])", r"\1", value).split())
        try:
            meaning = setting_value(name, plain)
        except ValueError as reason:
            hints = looks_like(plain.split()[0]).hints if name == "key" else ()
            self.report.add(f"bad-{name}", start, start + len(value.strip()), str(reason), *hints)
            return
        self.given.add(name)
        if isinstance(meaning, Meter):
            self.context.meter = meaning
        self._keep(SettingRow(name, meaning, comment_text(comment), self._span(text)))

    def _section(self, text: str) -> None:
        parts = self._parsed("section", text)
        self._close_section()
        name, same_as, times, comment, named_at = "", "", 1, "", 0
        for part in parts or ():
            if isinstance(part, Token):
                if part.type == "TIMES":
                    times = self._times(part)
                else:
                    comment = comment_text(part)
            elif part[0] == "name":
                name = " ".join(part[1]).strip("= ")
            else:
                same_as = " ".join(part[1])
                named_at = part[1][0].start_pos or 0
        span = self._span(text)
        if not name and parts is not None:
            self.report.add(
                "section-without-name", *self.report.in_row(span), "this section has no name",
                "write one after the signs: == Verse 1",
            )  # fmt: skip
        self._check_times_in(name, text)
        if same_as and same_as.casefold() not in self.music_of:
            self._unknown_section(same_as, named_at)
            same_as = ""
        self.opened = Section(name, (), times, same_as, comment, span)
        self.context.first_in_section = True

    def _check_times_in(self, name: str, text: str) -> None:
        found = _TIMES_IN_NAME.search(name)
        if found is not None:
            at = text.rfind(found[0].strip())
            self.report.add(
                "times-in-name", at, at + len(found[0].strip()),
                f'"{found[0].strip()}" would be part of the section\'s name',
                f"to play it so often, write x{found[1] or found[2]} at the end of the row",
            )  # fmt: skip

    def _times(self, token: Token) -> int:
        times = int(token[1:4])
        if len(token) > len("x99") or not times:
            start = token.start_pos or 0
            self.report.add(
                "bad-times", start, start + len(token),
                f'a section cannot be played "{token[1:]}" times',
                "write x2 for twice, up to x99",
            )  # fmt: skip
        return max(1, times)

    def _unknown_section(self, name: str, at: int) -> None:
        earlier = [section.name for section in self.sections if section.name]
        hint = (
            f"sections so far: {', '.join(dict.fromkeys(earlier))}" if earlier
            else 'only a section that comes earlier can be named after "as"'
        )  # fmt: skip
        self.report.add(
            "unknown-section", at, at + len(name), f'there is no section "{name}" before this', hint
        )

    def _words(self, text: str) -> None:
        parsed = self._parsed("words", text)
        if parsed is None:
            return
        if parsed[2] is not None:
            self._check_comment(str(parsed[2]), parsed[2].start_pos or 0)
        row = replace(read_words(parsed, self.report), span=self._span(text))
        shared = self.opened is not None and self.opened.same_as
        if self.music_row is not None:
            row = fitted(row, self.music_row, self.report)
        elif not shared:
            self.report.add(
                "words-without-music", *self.report.in_row(row.span),
                "there is no music above these words",
                "write the bars first; for the music of an earlier section: == Verse 2 as Verse 1",
            )  # fmt: skip
        self._keep(row)

    def _music(self, text: str) -> None:
        elements: list[Element] | None = self._parsed("music", text)
        if elements is None:
            return
        if self._report_prose(elements, text):
            return
        if elements and elements[-1].kind == "comment":
            self._check_comment(elements[-1].value, elements[-1].start)
        cue = _lone_cue(elements)
        if cue is not None:
            self._keep(CueRow(cue, _comment(elements), self._span(text)))
            return
        row = read_music(elements, len(text.rstrip()), self.context, self.report)
        if row is None:
            return
        if self.opened is not None and self.opened.same_as:
            self.report.add(
                "music-in-shared-section", *self.report.in_row(self._span(text)),
                f'this section has the music of "{self.opened.same_as}", '
                "so its rows hold words only",
                'for music of its own, take out "as" and the name after it',
            )  # fmt: skip
        row = replace(row, comment=comment_text(row.comment or None), span=self._span(text))
        self.music_row = row
        self._keep(row)

    def _check_comment(self, comment: str, start: int) -> None:
        """Reports a comment that most likely was to be played or sung."""
        if comment[1:2].strip():
            self.report.add(
                "sharp-or-comment", start, start + len(comment.split()[0]),
                f'"{comment.split()[0]}" after a blank begins a comment, and the row ends here',
                'a chord has no blanks in it: "C7#9"; in words write "\\#"; '
                'a comment has a blank after its "#"',
            )  # fmt: skip
        elif "|" in comment:
            self.report.warn(
                "bars-in-comment", start, start + len(comment.rstrip()),
                'there are bar lines in this comment, which begins at "#"',
                "if they are to be played, take the # out",
            )  # fmt: skip

    def _report_prose(self, elements: list[Element], text: str) -> bool:
        """Reports a row of words that lacks its colon, once, rather than word by word."""
        kinds = [element.kind for element in elements]
        unknown = kinds.count("unknown")
        if unknown < 2 or unknown <= kinds.count("group") or ("line" in kinds and unknown < 4):
            return False
        hints = [h for e in elements if e.kind == "unknown" for h in _note_name_hints(e.value)]
        if len(hints) * 2 >= unknown:
            return False
        self.report.add(
            "words-without-colon", *self.report.in_row(self._span(text)),
            "this row looks like words, not like chords",
            *_prose_hints(text.strip()),
        )  # fmt: skip
        return True

    # ---- sections
    def _close_section(self) -> None:
        if self.opened is not None:
            section = replace(self.opened, rows=tuple(self.rows))
            if section.same_as:
                music = self.music_of[section.same_as.casefold()]
                section = self._fitted_to(section, music)
            else:
                music = tuple(row for row in self.rows if isinstance(row, MusicRow))
            self.sections.append(section)
            self.music_of[section.name.casefold()] = music
        self.opened, self.rows, self.music_row = None, [], None

    def _fitted_to(self, section: Section, music: tuple[MusicRow, ...]) -> Section:
        """The section with its words fitted to the music it shares."""
        report = Report(self.report.found)
        fits: dict[int, WordsRow] = {}
        for i, stack in enumerate(words_stacks(section.rows)):
            for row in stack:
                if i < len(music):
                    fits[id(row)] = fitted(row, music[i], report)
                else:
                    report.add(
                        "words-without-music", *row.span,
                        f'"{section.same_as}" has {count_of(len(music), "row")} of music, '
                        "and these words come after the last",
                        'verses that stack under the same row are numbered: "1:" then "2:"',
                    )  # fmt: skip
        return replace(section, rows=tuple(fits.get(id(row), row) for row in section.rows))

    def chart(self) -> Chart:
        ending = self.top if self.opened is None else self.rows
        if ending and isinstance(ending[-1], BlankRow):
            ending.pop()
        self._close_section()
        return Chart(tuple(self.top), tuple(self.sections))


def _setting_name(name: str) -> SettingName | None:
    lowered = name.lower()
    return next((known for known in NAMES if known == lowered), None)


def _note_name_hints(word: str) -> Iterator[str]:
    yield from looks_like(word).hints


def _prose_hints(text: str) -> Iterator[str]:
    """What a row that looks like words was most likely meant to be."""
    name, equals, value = text.partition("=")
    plain = text.strip("[](){}<>*=-_:. ")
    if equals and _setting_name(name.strip()):
        yield f'a setting has a colon: "{name.strip()}: {value.strip()}"'
    elif _SECTION_WORD.match(plain):
        yield f'a section row begins with two equals signs: "== {plain}"'
    yield 'begin a row of words with ":", a cue stands in quotes, a comment begins with "#"'


def _lone_cue(elements: list[Element]) -> str | None:
    kept = [element for element in elements if element.kind != "comment"]
    if len(kept) == 1 and kept[0].kind == "cue":
        return " ".join(str(kept[0].value).split())
    return None


def _comment(elements: list[Element]) -> str:
    return comment_text(elements[-1].value) if elements[-1].kind == "comment" else ""


def read_chart(source: Source) -> Reading:
    """The chart that a text holds, and everything wrong with it.

    The chart is fit for use when no diagnostic is an error.
    """
    report = Report()
    reader = _Reader(report)
    for start, row in source.lines():
        report.begin_row(start)
        if not start and row.startswith("\ufeff"):
            row = " " + row[1:]  # the byte order mark that some editors write
        if (unsafe := _UNSAFE.search(row)) is not None:
            report.add(
                "control-character", unsafe.start(), unsafe.end(),
                f"this character (U+{ord(unsafe[0]):04X}) cannot stand in a chart", "delete it",
            )  # fmt: skip
            row = _UNSAFE.sub(" ", row)
        reader.read_row(row)
    report.begin_row(0)
    chart = reader.chart()
    check_whole(chart, len(source.text), report)
    return Reading(chart, report.ordered())
