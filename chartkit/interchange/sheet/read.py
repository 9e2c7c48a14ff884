"""A text with chords above its words to a chart.

Lines are told apart by their content: rows of chords, headings, facts, words.  Where no bar
lines were typed none are invented: such rows are in free time.
"""

import re
from dataclasses import dataclass, field, replace

from chartkit.chart.model import (
    Bar,
    Chart,
    CueRow,
    Meter,
    MusicRow,
    Row,
    Section,
    Segment,
    SettingName,
    SettingRow,
    SettingValue,
    Strike,
    WordsRow,
)
from chartkit.interchange.sheet.align import segments_of
from chartkit.interchange.sheet.bars import BarReader, ReadRow
from chartkit.interchange.sheet.headings import Heading, facts_of, heading_of
from chartkit.interchange.sheet.lines import Line, line_of
from chartkit.interchange.sheet.names import naming_of
from chartkit.interchange.sheet.tokens import Token, Tokens
from chartkit.interchange.taken import Findings, Refused, SymbolReader, Taken
from chartkit.interchange.wording import counted, cue_text, setting_text
from chartkit.theory.note import pitch_class_of

_OUR_REMARK = re.compile(r"\((?:guitar tuned down: )?shapes in .{1,20} over sounding chords\)")
_VERSE = re.compile(r"\s*(\d{1,2})[.)]\s+(?=\S)")
_TAIL = re.compile(r"\s\(([^()]+)\)\s*$")
_TABLATURE = set("-|:0123456789hpbrx/\\~()svt^*= ")
_FEWEST_DASHES = 3
_MOST_HEADER_LINES = 6


@dataclass(slots=True)
class _Sheet:
    """The chart while it is read."""

    findings: Findings
    tokens: Tokens
    bars: BarReader
    top: dict[SettingName, SettingValue] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    sections: list[Section] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    opened: Section = Section("")
    chord_rows: int = 0
    words_lines: int = 0


def read_sheet(
    text: str, read_symbol: SymbolReader, findings: Findings, format_name: str = "text"
) -> Taken:
    """The chart of a text.  Raises Refused where it has neither chords nor words."""
    raw = text.split("\n")
    return read_lines([line_of(i, line) for i, line in enumerate(raw, 1)], read_symbol, findings,
                      format_name)  # fmt: skip


def read_lines(
    lines: list[Line], read_symbol: SymbolReader, findings: Findings, format_name: str
) -> Taken:
    """The chart of lines that know their columns.  Raises Refused as ``read_sheet`` does."""
    naming = naming_of([line.text for line in lines])
    if naming.kind != "letters":
        how = {"german": "H is B natural and B is B flat", "syllables": "do is C"}[naming.kind]
        findings.guess("note-names", f"the notes are named so that {how}")
    sheet = _Sheet(findings, Tokens(read_symbol, naming), BarReader(findings))
    reader = SheetReader(sheet, lines)
    reader.read()
    chart = reader.chart()
    if not chart.sections:
        raise Refused("the text has neither chords nor words")
    findings.sure(
        "read", f"{counted(sheet.chord_rows, 'row')} of chords, "
        f"{counted(sheet.words_lines, 'line')} of words",
    )  # fmt: skip
    return Taken(chart, tuple(findings.found), format_name)


class SheetReader:
    """Reads the lines of a sheet one after another."""

    def __init__(self, sheet: _Sheet, lines: list[Line]) -> None:
        self.sheet = sheet
        self.lines = lines
        self.kinds: list[tuple[Token, ...] | None] = [sheet.tokens.row(line) for line in lines]
        self.at = 0

    def read(self) -> None:
        """Reads all lines."""
        self._header()
        while self.at < len(self.lines):
            self._line()
        self._end_section()

    # ---- the head of the sheet
    def _header(self) -> None:
        """Title, writer and facts, up to the first heading, chords or block of words."""
        end = self._header_end()
        for line in self.lines[:end]:
            self._header_line(line)
        self.at = end

    def _header_end(self) -> int:
        """The line at which the song begins."""
        filled = 0
        for i, line in enumerate(self.lines):
            text = line.text.strip()
            if self.kinds[i] is not None or (text and heading_of(text) is not None):
                return i
            if text and not facts_of(text):
                filled += 1
            if filled > _MOST_HEADER_LINES:
                return self._first_blank()
        return self._first_blank()

    def _first_blank(self) -> int:
        """Where the first block ends: a title and what goes with it, before words alone."""
        begun = False
        for i, line in enumerate(self.lines):
            if line.text.strip():
                begun = True
            elif begun:
                return i if i <= _MOST_HEADER_LINES else 0
        return 0

    def _header_line(self, line: Line) -> None:
        text = setting_text(line.text.strip(" \t-=*#_~"))
        facts = facts_of(line.text)
        if not text or _OUR_REMARK.fullmatch(text):
            return
        if facts:
            for fact in facts:
                self._fact(fact.name, fact.value, line)
        elif "title" not in self.sheet.top:
            self._title(text, line)
        elif "writer" not in self.sheet.top and _is_writer(text):
            self.sheet.top["writer"] = _without_by(text)
        else:
            self.sheet.notes.append(_without_parentheses(text))

    def _title(self, text: str, line: Line) -> None:
        title, dash, writer = text.partition(" - ")
        title = re.sub(r"(?i)^title\s*:\s*", "", title)
        self.sheet.top["title"] = title or text
        if dash and writer:
            self.sheet.top["writer"] = _without_by(writer)
        self.sheet.findings.guess("title", f'the title is "{title}"', line.place())

    def _fact(self, name: SettingName, value: SettingValue, line: Line) -> None:
        top, findings = self.sheet.top, self.sheet.findings
        if name in top:
            return
        if name == "capo" and not value:
            return
        top[name] = value
        if isinstance(value, Meter):
            self.sheet.bars.meter = value
        if name == "capo":
            top["chords"] = "shapes"
            findings.guess(
                "chords-are-shapes",
                f"with capo {value} in the heading the chords are taken as shapes", line.place(),
            )  # fmt: skip

    # ---- the song
    def _line(self) -> None:
        line, tokens = self.lines[self.at], self.kinds[self.at]
        text = line.text.strip()
        if tokens is None and not any(map(str.isalnum, text)):
            self.at += 1
            return
        heading = heading_of(text)
        if heading is not None:
            self._heading(heading, line)
        elif tokens is not None:
            self._chords(line, tokens)
        elif facts := facts_of(_without_parentheses(text)):
            for fact in facts:
                self._late_fact(fact.name, fact.value, line)
            self.at += 1
        elif (remark := _without_parentheses(text)) != text:
            self._remark(remark, line)
            self.at += 1
        elif _is_tablature(line.text):
            self.sheet.findings.leave_out("tablature", "a line of tablature", line.place())
            self.at += 1
        else:
            self._words_alone(line)
            self.at += 1

    def _late_fact(self, name: SettingName, value: SettingValue, line: Line) -> None:
        """A fact after the song has begun: a change from here on; a capo is a note."""
        sheet = self.sheet
        if not sheet.chord_rows:
            self._fact(name, value, line)
        elif name == "capo":
            sheet.notes.append(setting_text(line.text))
        else:
            sheet.rows.append(SettingRow(name, value))
            if isinstance(value, Meter):
                sheet.bars.meter = value

    def _remark(self, text: str, line: Line) -> None:
        """A line in parentheses with no chords above: a word to the players."""
        self.sheet.rows.append(CueRow(cue_text(text)))
        self.sheet.findings.guess(
            "remark", "a line in parentheses without chords above is written as a cue",
            line.place(),
        )  # fmt: skip

    def _heading(self, heading: Heading, line: Line) -> None:
        self._end_section()
        self.sheet.opened = Section(heading.name, times=heading.times)
        self.sheet.bars.first_in_section = True
        if heading.rest_at is None:
            self.at += 1
            return
        at = len(line.text) - len(line.text.lstrip()) + heading.rest_at
        kept = Line(line.number, " " * at + line.text[at:], line.columns)
        self.lines[self.at] = kept
        self.kinds[self.at] = self.sheet.tokens.row(kept)

    def _chords(self, line: Line, tokens: tuple[Token, ...]) -> None:
        """A row of chords with the words under it."""
        sheet = self.sheet
        if self._shapes_above(tokens):
            self.at += 1
            line, tokens = self.lines[self.at], self.kinds[self.at] or tokens
        sheet.chord_rows += 1
        self.at += 1
        under = self._words_under()
        tails: list[Token] = []
        if len(under) == 1:
            words, tails = self._without_tail(under[0])
            under = [words]
        read = sheet.bars.row((*tokens, *tails), line.place())
        sheet.rows.append(read.music)
        for words in under:
            sheet.words_lines += 1
            sheet.rows.append(self._words(words, read))

    def _shapes_above(self, tokens: tuple[Token, ...]) -> bool:
        """Whether the next line holds the sounding chords of these shapes, so that these can
        go: the capo says so."""
        below = self.kinds[self.at + 1] if self.at + 1 < len(self.lines) else None
        capo = self.sheet.top.get("capo")
        if below is None or not isinstance(capo, int):
            return False
        shapes, sounding = _roots(tokens), _roots(below)
        raised = [None if root is None else (root + capo) % 12 for root in shapes]
        if not shapes or raised != sounding:
            return False
        self.sheet.top["chords"] = "sounding"
        return True

    def _words_under(self) -> list[Line]:
        """The line of words right under a row of chords; several where they are numbered."""
        found: list[Line] = []
        while self.at < len(self.lines) and self._is_words(self.at):
            if found and not (
                _VERSE.match(found[-1].text) and _VERSE.match(self.lines[self.at].text)
            ):
                break
            found.append(self.lines[self.at])
            self.at += 1
        return found

    def _is_words(self, at: int) -> bool:
        text = self.lines[at].text.strip()
        return (
            bool(text) and self.kinds[at] is None and heading_of(text) is None
            and not _is_tablature(self.lines[at].text) and not facts_of(text)
        )  # fmt: skip

    def _without_tail(self, line: Line) -> tuple[Line, list[Token]]:
        """A line of words without chords in parentheses at its end, and these chords."""
        found = _TAIL.search(line.text)
        if found is None:
            return line, []
        inside = line_of(line.number, " " * found.start(1) + found[1])
        tokens = self.sheet.tokens.row(inside)
        if tokens is None or any(token.kind not in ("chord", "bass", "none") for token in tokens):
            return line, []
        optional = [
            replace(t, played=tuple(replace(p, optional=True) for p in t.played)) for t in tokens
        ]
        columns = None if line.columns is None else line.columns[: found.start() + 1]
        return Line(line.number, line.text[: found.start()], columns), optional

    # ---- words
    def _words(self, line: Line, read: ReadRow) -> WordsRow:
        """A line of words cut at the columns of its chords."""
        verse = _VERSE.match(line.text)
        if verse is not None:
            blank = " " * verse.end() + line.text[verse.end() :]
            line = Line(line.number, blank, line.columns)
        number = int(verse[1]) if verse is not None else None
        if read.music.free:
            return WordsRow(_free_cells(line, read), number)
        return WordsRow(_barred_cells(line, read), number)

    def _words_alone(self, line: Line) -> None:
        """A line of words without chords: sung on over the last chord, or without one."""
        sheet = self.sheet
        sheet.words_lines += 1
        text = " ".join(line.text.split())
        last = sheet.rows[-1] if sheet.rows else None
        if isinstance(last, WordsRow):
            sheet.rows[-1] = _sung_on(last, text)
            sheet.findings.guess(
                "words-go-on", "words without chords above are sung on over the chord before",
                line.place(),
            )  # fmt: skip
        elif isinstance(last, MusicRow):
            sheet.rows.append(self._words(line, _at_end_of(last, line)))
            sheet.findings.guess(
                "words-go-on", "words without chords above are sung on over the chord before",
                line.place(),
            )  # fmt: skip
        else:
            sheet.rows += [
                MusicRow((Bar((Strike(None),)),)),
                WordsRow(((Segment(),), (Segment(text),))),
            ]
            sheet.bars.first_in_section = False
            sheet.findings.guess(
                "words-without-chords", "words without any chord stand under N.C.", line.place()
            )

    # ---- sections
    def _end_section(self) -> None:
        sheet = self.sheet
        if sheet.opened.name or sheet.rows:
            sheet.sections.append(replace(sheet.opened, rows=tuple(sheet.rows)))
        sheet.opened, sheet.rows = Section(""), []

    def chart(self) -> Chart:
        """The chart that was read."""
        order: tuple[SettingName, ...] = (
            "title", "writer", "key", "meter", "tempo", "capo", "chords",
        )  # fmt: skip
        top = [SettingRow(name, self.sheet.top[name]) for name in order if name in self.sheet.top]
        notes = [SettingRow("note", note) for note in self.sheet.notes if note]
        music = any(
            isinstance(row, MusicRow) for section in self.sheet.sections for row in section.rows
        )
        return Chart((*top, *notes), tuple(self.sheet.sections) if music else ())


def _roots(tokens: tuple[Token, ...]) -> list[int | None]:
    """The pitch classes of the roots in a row, None for N.C."""
    played = [one for token in tokens for one in token.played]
    notes = [one.bass if one.chord is None else one.chord.root for one in played]
    return [None if note is None else pitch_class_of(note) for note in notes]


def _is_tablature(text: str) -> bool:
    """Whether a line is a string of tablature: dashes, frets and bar lines, and hardly else."""
    body = text.strip().lstrip("eEADGBb")
    return body.count("-") > _FEWEST_DASHES and "|" in body and set(body) <= _TABLATURE


def _is_writer(text: str) -> bool:
    if text.startswith("("):
        return False
    return re.match(r"(?i)(?:by|words|music|written|from|von|de|par)\b", text) is not None or (
        len(text.split()) <= 6 and not text.endswith((".", "!", "?"))
    )


def _without_parentheses(text: str) -> str:
    inside = text[1:-1]
    plain = text.startswith("(") and text.endswith(")") and not set(inside) & set("()")
    return inside.strip() if plain else text


def _without_by(text: str) -> str:
    return re.sub(r"(?i)^(?:written\s+)?by\s+", "", text).strip()


def _free_cells(line: Line, read: ReadRow) -> tuple[tuple[Segment, ...], ...]:
    pieces = segments_of(line, read.columns[0])
    return (pieces[:1], pieces[1:])


def _barred_cells(line: Line, read: ReadRow) -> tuple[tuple[Segment, ...], ...]:
    """A cell for the pick-up where the row begins with a bar line, then one a bar."""
    if "|" in line.text:  # some type the bar lines among the words too
        line = replace(line, text=line.text.replace("|", " "))
    flat = [column for columns in read.columns for column in columns]
    opened = read.music.lines[0].kind != "none"
    pieces = segments_of(line, flat if opened else flat[1:])
    cells: list[tuple[Segment, ...]] = [pieces[:1]] if opened else []
    at = 1 if opened else 0
    for columns in read.columns:
        cells.append(_trimmed(pieces[at : at + len(columns)]))
        at += len(columns)
    return tuple(cells)


def _trimmed(cell: tuple[Segment, ...]) -> tuple[Segment, ...]:
    while len(cell) > 1 and cell[-1] == Segment():
        cell = cell[:-1]
    return cell or (Segment(),)


def _at_end_of(music: MusicRow, line: Line) -> ReadRow:
    """The row as if its last chord stood where a line of words begins."""
    places = [max(1, len(bar.strikes) + _held(bar, music.free)) for bar in music.bars]
    return ReadRow(music, tuple((0,) * count for count in places))


def _held(bar: Bar, free: bool) -> bool:
    return not free and bool(bar.strikes) and bar.strikes[0].onset > 0


def _sung_on(row: WordsRow, text: str) -> WordsRow:
    """The row with more words after its last ones."""
    *cells, last = row.cells
    *segments, end = last
    joined = Segment(f"{end.text}{'' if end.split else ' '}{text}".strip())
    return replace(row, cells=(*cells, (*segments, joined)))
