"""A text with chords above its words to a chart.

Lines are told apart by their content: rows of chords, headings, facts, words.  Where no bar
lines were typed none are invented: such rows are in free time.
"""

import re
from dataclasses import replace

from chartkit.chart.model import Bar, CueRow, MusicRow, Section, Segment, Strike, WordsRow
from chartkit.interchange.sheet.again import play_again, sung_as_earlier, sung_stacked
from chartkit.interchange.sheet.asides import marks_of
from chartkit.interchange.sheet.bars import BarReader
from chartkit.interchange.sheet.capo_key import settle_key
from chartkit.interchange.sheet.counts import is_counted_rest
from chartkit.interchange.sheet.doubled import doubled_capo
from chartkit.interchange.sheet.head import (
    head_end,
    read_head_line,
    take_late_fact,
    without_parentheses,
)
from chartkit.interchange.sheet.headings import Heading, facts_of, heading_of
from chartkit.interchange.sheet.lines import Line, line_of
from chartkit.interchange.sheet.mail import closed_up, unquoted
from chartkit.interchange.sheet.names import naming_of
from chartkit.interchange.sheet.state import Sheet
from chartkit.interchange.sheet.tablature import is_tablature
from chartkit.interchange.sheet.token import Token, roots_of, strikes
from chartkit.interchange.sheet.tokens import Tokens
from chartkit.interchange.sheet.under import VERSE, at_end_of, without_tail, words_row
from chartkit.interchange.taken import Findings, Refused, SymbolReader, Taken
from chartkit.interchange.wording import counted, cue_text


def read_sheet(
    text: str, read_symbol: SymbolReader, findings: Findings, format_name: str = "text"
) -> Taken:
    """The chart of a text.  Raises Refused where it has neither chords nor words."""
    raw = unquoted(text.split("\n"))
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
    sheet = Sheet(findings, Tokens(read_symbol, naming), BarReader(findings))
    reader = SheetReader(sheet, lines)
    reader.read()
    settle_key(sheet)
    chart = sheet.chart()
    if not chart.sections:
        raise Refused("the text has neither chords nor words")
    findings.sure(
        "read", f"{counted(sheet.chord_rows, 'row')} of chords, "
        f"{counted(sheet.words_lines, 'line')} of words",
    )  # fmt: skip
    return Taken(chart, tuple(findings.found), format_name)


_REMARK = re.compile(r"(?:notes?|n\.?b\.?|hinweis|nota)\s*:", re.IGNORECASE)
_SILENCE = MusicRow((Bar((Strike(None),)),))


def _is_remark(text: str) -> bool:
    return _REMARK.match(text) is not None or is_counted_rest(text)


class SheetReader:
    """Reads the lines of a sheet one after another."""

    def __init__(self, sheet: Sheet, lines: list[Line]) -> None:
        self.sheet = sheet
        kinds = [sheet.tokens.row(line) for line in lines]
        self.lines, self.kinds = closed_up(lines, kinds)
        self.at = 0

    def read(self) -> None:
        """Reads all lines."""
        self.at = head_end(self.lines, self.kinds, self.sheet.tokens)
        for line in self.lines[: self.at]:
            read_head_line(self.sheet, line)
        self._find_capo()
        while self.at < len(self.lines):
            self._line()
        self._open(Section(""))

    def _find_capo(self) -> None:
        """Takes the capo from rows of shapes over what sounds where no heading names one."""
        told = "capo" in self.sheet.top
        capo = 0 if told else doubled_capo(self.lines, self.kinds)
        if capo:
            self.sheet.top["capo"] = capo
            self.sheet.findings.guess(
                "shapes-over-sounding", f"each row of chords stands twice, {capo} half steps "
                f"apart: they are read as shapes at capo {capo} over what sounds",
            )  # fmt: skip

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
        elif facts := facts_of(without_parentheses(text)):
            for fact in facts:
                take_late_fact(self.sheet, fact.name, fact.value, line)
            self.at += 1
        elif (remark := without_parentheses(text)) != text or _is_remark(text):
            self._remark(remark, line)
            self.at += 1
        elif marks := marks_of(text):
            self.sheet.mark_last(marks)
            self.at += 1
        elif is_tablature(line.text):
            self.sheet.findings.leave_out("tablature", "a line of tablature", line.place())
            self.at += 1
        elif (behind := without_tail(line, self.sheet.tokens))[1] and strikes(behind[1]):
            self._chords_behind(*behind)
        else:
            self._words_alone(line)

    def _remark(self, text: str, line: Line) -> None:
        """A line in parentheses with no chords above: a word to the players."""
        self.sheet.add(CueRow(cue_text(text)))
        self.sheet.findings.guess(
            "remark", "a line to the players without chords above is written as a cue",
            line.place(),
        )  # fmt: skip

    # ---- sections
    def _heading(self, heading: Heading, line: Line) -> None:
        self._open(Section(heading.name, times=heading.times))
        if heading.remark:
            self.sheet.add_remark(cue_text(heading.remark))
        if heading.rest_at is None:
            self.at += 1
            return
        at = len(line.text) - len(line.text.lstrip()) + heading.rest_at
        kept = replace(line, text=" " * at + line.text[at:])
        self.lines[self.at] = kept
        self.kinds[self.at] = self.sheet.tokens.row(kept)

    def _open(self, section: Section) -> None:
        """Ends the open section, which may be an earlier one played again, and opens another."""
        if not self.sheet.begun:
            play_again(self.sheet)
        self.sheet.open(section)

    # ---- rows of chords
    def _chords(self, line: Line, tokens: tuple[Token, ...]) -> None:
        """A row of chords with the words under it."""
        sheet = self.sheet
        if self.at and not self.lines[self.at - 1].text.strip():
            sheet.begin_stanza()
        if self._shapes_above(tokens):
            self.at += 1
            line, tokens = self.lines[self.at], self.kinds[self.at] or tokens
        sheet.chord_rows += 1
        self.at += 1
        under = self._words_under(VERSE.match(line.text) is not None)
        tails: list[Token] = []
        if len(under) == 1:
            words, tails = without_tail(under[0], sheet.tokens, tokens[-1].end)
            under = [words]
        read = sheet.bars.row((*tokens, *tails), line.place())
        sheet.add_music(read.music)
        for words in under:
            sheet.add(words_row(words, read))
        if under:
            sheet.add_line()
            sheet.words_lines += len(under) - 1

    def _chords_behind(self, words: Line, tokens: list[Token]) -> None:
        """Words with their chords behind them: the chords are struck after the words."""
        sheet = self.sheet
        sheet.chord_rows += 1
        self.at += 1
        read = sheet.bars.row(tokens, words.place())
        sheet.add_music(read.music)
        sheet.add(words_row(words, read))
        sheet.add_line()
        sheet.findings.guess(
            "chords-behind-words", "chords typed behind a line of words are struck after it",
            words.place(),
        )  # fmt: skip

    def _shapes_above(self, tokens: tuple[Token, ...]) -> bool:
        """Whether the next line holds the sounding chords of these shapes, so that these can
        go: the capo says so."""
        below = self.kinds[self.at + 1] if self.at + 1 < len(self.lines) else None
        capo = self.sheet.top.get("capo")
        if below is None or not isinstance(capo, int):
            return False
        shapes, sounding = roots_of(tokens), roots_of(below)
        raised = [None if root is None else (root + capo) % 12 for root in shapes]
        if not shapes or raised != sounding:
            return False
        if self.sheet.top.get("chords") != "sounding":
            self.sheet.top["chords"] = "sounding"
            self.sheet.findings.take_back("chords-are-shapes")
        return True

    def _words_under(self, rows_are_numbered: bool) -> list[Line]:
        """The line of words right under a row of chords; several where they are numbered.

        A number makes a line words even where all of it could be chords, unless the row of
        chords has a number itself.
        """
        found: list[Line] = []
        while self.at < len(self.lines):
            line = self.lines[self.at]
            numbered = VERSE.match(line.text) is not None
            told = numbered and not rows_are_numbered
            if not (self._is_words(self.at) or told):
                break
            if found and not (numbered and VERSE.match(found[-1].text)):
                break
            found.append(line)
            self.at += 1
        return found

    def _is_words(self, at: int) -> bool:
        text = self.lines[at].text.strip()
        return (
            bool(text) and self.kinds[at] is None and heading_of(text) is None
            and not is_counted_rest(text)
            and not is_tablature(self.lines[at].text) and not facts_of(text) and not marks_of(text)
        )  # fmt: skip

    # ---- words alone
    def _words_alone(self, line: Line) -> None:
        """A line of words without chords: another verse of the music before, sung on over the
        last chord, or without one."""
        sheet = self.sheet
        if self._verse_again():
            return
        self.at += 1
        text = " ".join(line.text.split())
        last = sheet.rows[-1] if sheet.rows else None
        if isinstance(last, WordsRow) and sheet.rows[-2] != _SILENCE:
            sheet.going_on.append(text)
        elif isinstance(last, MusicRow):
            sheet.add(words_row(line, at_end_of(last)))
        else:
            self._unaccompanied(text, line)
            return
        sheet.add_line()
        sheet.findings.guess(
            "words-go-on", "words without chords above are sung on over the chord before",
            line.place(),
        )  # fmt: skip

    def _unaccompanied(self, text: str, line: Line) -> None:
        sheet = self.sheet
        sheet.begin_stanza()
        sheet.add_music(_SILENCE)
        sheet.add(WordsRow(((Segment(),), (Segment(text),))))
        sheet.words_lines += 1
        sheet.bars.first_in_section = False
        sheet.findings.guess(
            "words-without-chords", "words without any chord stand under N.C.", line.place()
        )

    def _verse_again(self) -> bool:
        """Reads a block of words as a further verse where its lines go by an earlier one."""
        sheet = self.sheet
        begins = not self.lines[self.at - 1].text.strip() if self.at else False
        if sheet.begun and not begins:
            return False
        end, lines = self._block(whole_section=not sheet.begun)
        if not lines:
            return False
        place = self.lines[self.at].place()
        if not (sung_stacked if sheet.begun else sung_as_earlier)(sheet, lines):
            return False
        sheet.words_lines += len(lines)
        sheet.findings.guess(
            "verse-without-chords", f"{counted(len(lines), 'line')} of words without chords go "
            "by the lines of the verse before; under which chord a word stands is told by "
            "counting syllables", place,
        )  # fmt: skip
        self.at = end
        return True

    def _block(self, whole_section: bool) -> tuple[int, list[str]]:
        """The lines of words from here to a blank line, or to the next heading: where they
        end, and their texts; no texts where something else stands among them."""
        found: list[str] = []
        at = self.at
        while at < len(self.lines):
            text = self.lines[at].text.strip()
            if heading_of(text) is not None or (not text and not whole_section):
                break
            if text and (not self._is_words(at) or without_parentheses(text) != text):
                return at, []
            if text:
                number = VERSE.match(text) if not found else None
                found.append(text[number.end() :] if number else text)
            at += 1
        return at, found
