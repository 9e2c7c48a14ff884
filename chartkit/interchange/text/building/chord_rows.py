"""A row of chords with the words under it, before it on one line, or around its chords."""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.chart.model import MusicRow, Segment, WordsRow
from chartkit.diagnostics import Span
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.cursor import Cursor
from chartkit.interchange.text.building.further_verses import read_stanza
from chartkit.interchange.text.kinds.line_kinds import Chords
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.behind_words import without_tail
from chartkit.interchange.text.rows.chord_a_line import (
    all_chords_each_line,
    one_chord_a_line,
    report_each_line,
)
from chartkit.interchange.text.rows.lyrics import (
    VERSE,
    places_by_syllables,
    words_row,
)
from chartkit.interchange.text.rows.read_rows import ReadRow
from chartkit.interchange.text.tokens import Token, roots_of
from chartkit.interchange.text.vocabulary.times_played import times_of

_FEW_LINES, _MOST_LINES = 2, 200
_NARROW_GAP = 2
_FEWEST_IN_A_LIST = 3
_MOST_TIMES = 4
"""A line that is sung more often has its count as a cue (ours)."""
_JOINED = re.compile(r"[A-H][^\s|()-]*(?: ?(?:[-–—]+>?|→|,) ?[A-H][^\s|()-]*)+")
_CLOSE = re.compile(r"[A-H][^\s|()-]*(?: [A-H][^\s|()-]*){2,}")
_SHORT_OF_WORDS, _FAR_SHORT_OF_WORDS = 0.8, 0.5
"""How short a list of chords is beside its words; common practice, no source."""


def read_chords(cursor: Cursor, line: Line, row: Chords) -> None:
    """A row of chords with the words under it."""
    sheet, tokens = cursor.sheet, row.tokens
    if cursor.stanza_begins:
        sheet.begin_stanza()
    if _shapes_above(cursor, tokens):
        cursor.at += 1
        line, below = cursor.line, cursor.known[cursor.at].kind
        tokens = below.tokens if isinstance(below, Chords) else tokens
    sheet.chord_rows += 1
    cursor.at += 1
    if _stands_over_stanza(cursor, row, tokens):
        _read_over_stanza(cursor, sheet.bars.row(tokens, line.place()).music)
        return
    under = cursor.words_under(VERSE.match(line.text) is not None)
    if len(under) == 1 and (numbered := _numbered(line, under[0])) is not None:
        tokens, under = tokens[1:], [numbered]
    tails: list[Token] = []
    if len(under) == 1:
        under[0], tails = _without_chords_behind(sheet, under[0], tokens)
    times = _times_sung(tokens, tails)
    if times > 1:
        tails = []
    read = sheet.bars.row((*tokens, *tails) if tails else tokens, line.place())
    if len(under) == 1 and read.music.free and _names_no_places(line, under[0]):
        read = _spread(sheet, line, under[0], read)
    for _ in range(times):
        sheet.add_music(read.music)
        for words in under:
            sheet.add(words_row(words, read), words.number)
        if under:
            sheet.add_line()
    if times > 1:
        _report_times(sheet, under[0], times)
    if under:
        sheet.words_lines += len(under) - 1
        _report_words_over_endings(sheet, read, under[0])


def _read_over_stanza(cursor: Cursor, music: MusicRow) -> None:
    """A row of music over several lines of words: once for all of them, or over each where it says
    so."""
    sheet = cursor.sheet
    lines = cursor.words_from_here(_MOST_LINES)
    music = replace(music, span=Span(sheet.line_number, sheet.line_number))
    words = [
        WordsRow(((Segment(line.text),),), span=Span(line.number, line.number)) for line in lines
    ]
    each = one_chord_a_line([music], words)
    placed = each or all_chords_each_line([music], words)
    if placed is None:
        sheet.add_music(music)
        read_stanza(cursor)
        return
    for row in placed:
        if isinstance(row, MusicRow):
            sheet.add_music(row)
        else:
            sheet.add(row, row.span.start)
            sheet.add_line()
    cursor.at += len(lines)
    if each is None:
        report_each_line(sheet.findings, music)


def _times_sung(tokens: Sequence[Token], tails: Sequence[Token]) -> int:
    """How often a line of words under chords in free time is sung, by the count in signs behind
    it; once where none stands there, or the chords have bars, which are repeated."""
    counted = len(tails) == 1 and tails[0].kind == "times" and tails[0].text[0] in "(["
    if not counted or any(token.kind in ("bar", "times") for token in tokens):
        return 1
    times = times_of(tails[0].text.strip("()[] "))
    return times if times <= _MOST_TIMES else 1


def _report_times(sheet: Sheet, words: Line, times: int) -> None:
    sheet.findings.guess(
        "line-again",
        f'"{words.text.strip()}" is sung {times} times: it is written so often, with its chords',
        words.place(),
    )


def _report_words_over_endings(sheet: Sheet, read: ReadRow, words: Line) -> None:
    """Reports a line of words under bars with several endings: who sings which of its words the
    first time, and which the second, the line does not say."""
    endings = [line.endings for line in read.music.lines if line.endings]
    if len(endings) > 1 and "|" not in words.text:
        sheet.findings.guess(
            "words-over-endings",
            f'"{words.text.strip()}" stands under {len(endings)} endings: its words are put under '
            "all of them by their columns",
            words.place(),
        )


def _without_chords_behind(
    sheet: Sheet, words: Line, tokens: Sequence[Token]
) -> tuple[Line, list[Token]]:
    """The words under a row of chords without the chords behind them, and these."""
    barred = any(token.kind == "bar" for token in tokens)
    struck = {token.column for token in tokens if token.struck} if barred else ()
    return without_tail(words, sheet.tokens, tokens[-1].end, struck)


def _spread(sheet: Sheet, line: Line, words: Line, read: ReadRow) -> ReadRow:
    """A row whose chords name no places over the words, with places by syllables."""
    sheet.findings.guess(
        "chords-spread",
        "chords typed one after another name no places over the words: they are spread over "
        "them by syllables",
        line.place(),
    )
    places = places_by_syllables(words.text, len(read.columns[0]))
    return replace(read, columns=(places,))


def _stands_over_stanza(cursor: Cursor, row: Chords, tokens: Sequence[Token]) -> bool:
    """Whether a row of chords is for all lines of words under it, not for the first in its
    columns: bars or a mere list of chords over several lines, or chords behind a section's name
    over words that begin before them."""
    lines = cursor.words_from_here(_FEW_LINES)
    if len(lines) < _FEW_LINES:
        return False
    first = lines[0].column(len(lines[0].text) - len(lines[0].text.lstrip()))
    if row.behind_name and first < tokens[0].column:
        return True
    if any(token.kind == "bar" for token in tokens):
        return True
    gaps = [after.column - before.end for before, after in pairwise(tokens)]
    return len(tokens) >= _FEWEST_IN_A_LIST and max(gaps) <= _NARROW_GAP


def _names_no_places(chords: Line, words: Line) -> bool:
    """Whether chords are only a list: joined by dashes, or close together, over a line of words
    that is much longer."""
    row, length = chords.text.strip(), len(words.text.strip())
    if "  " in row or len(row) >= _SHORT_OF_WORDS * length:
        return False
    if _JOINED.fullmatch(row) is not None:
        return True
    return len(row) < _FAR_SHORT_OF_WORDS * length and _CLOSE.fullmatch(row) is not None


def _numbered(chords: Line, words: Line) -> Line | None:
    """The words with the number of their verse where it stands before the chords above; None
    where there is none, or the words begin too far left for it."""
    number = VERSE.match(chords.text)
    if number is None or words.text[: number.end()].strip() or VERSE.match(words.text):
        return None
    return replace(words, text=number[0] + words.text[number.end() :])


def read_chords_behind(cursor: Cursor, words: Line, tokens: list[Token]) -> None:
    """Words with their chords behind them: the chords are struck after the words."""
    _read_one_line(cursor, words, tokens)
    cursor.sheet.findings.guess(
        "chords-behind-words",
        "chords typed behind a line of words are struck after it",
        words.place(),
    )


def read_chords_within(cursor: Cursor, words: Line, tokens: list[Token]) -> None:
    """Words with chords in parentheses among them: each is struck where it stands."""
    if cursor.stanza_begins:
        cursor.sheet.begin_stanza()
    _read_one_line(cursor, words, tokens)


def _read_one_line(cursor: Cursor, words: Line, tokens: list[Token]) -> None:
    """Chords and words that were typed on one line."""
    sheet = cursor.sheet
    sheet.chord_rows += 1
    cursor.at += 1
    read = sheet.bars.row(tokens, words.place())
    sheet.add_music(read.music)
    sheet.add(words_row(words, read))
    sheet.add_line()


def _shapes_above(cursor: Cursor, tokens: tuple[Token, ...]) -> bool:
    """Whether the next line holds the sounding chords of these shapes, so that these can
    go: the capo says so.  An N.C. or a remark among the shapes alone goes along."""
    sheet, at = cursor.sheet, cursor.at + 1
    kind = cursor.known[at].kind if at < len(cursor.known) else None
    capo = sheet.top.get("capo") if sheet.capo is None else sheet.capo
    if not isinstance(kind, Chords) or not isinstance(capo, int):
        return False
    if not capo and not sheet.over_sounding:
        return False  # the same row twice
    below = kind.tokens
    shapes, sounding = roots_of(tokens), roots_of(below)
    raised = [None if root is None else (root + capo) % 12 for root in shapes]
    silent = [token for token in tokens if token.kind == "none"] if None not in sounding else []
    if silent:
        raised = [root for root in raised if root is not None]
    if not raised or raised != sounding:
        return False
    texts = {token.text for token in below}
    remarks = [t for t in tokens if t.kind in ("cue", "word") and t.text not in texts]
    both = sorted((*below, *silent, *remarks), key=lambda token: token.column)
    cursor.known[at] = replace(cursor.known[at], kind=replace(kind, tokens=tuple(both)))
    if sheet.top.get("chords") != "sounding":
        sheet.top["chords"] = "sounding"
        sheet.findings.take_back("chords-are-shapes")
    return True
