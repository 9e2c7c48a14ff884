"""A line of words without chords: another verse of the music before, sung on over the last
chord, or without one."""

from chartkit.chart.model import Bar, MusicRow, Segment, Strike, WordsRow
from chartkit.interchange.sheet.again import sung_as_earlier, sung_stacked
from chartkit.interchange.sheet.cursor import Cursor
from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.sheet.state import Sheet
from chartkit.interchange.sheet.under import VERSE, at_end_of, words_row
from chartkit.interchange.wording import counted

_SILENCE = MusicRow((Bar((Strike(None),)),))


def read_words_alone(cursor: Cursor, line: Line) -> None:
    """Reads a line of words, or the whole block that it begins."""
    if _verse_again(cursor):
        return
    cursor.at += 1
    sheet = cursor.sheet
    text = " ".join(line.text.split())
    last = sheet.rows[-1] if sheet.rows else None
    if isinstance(last, WordsRow) and sheet.rows[-2] != _SILENCE:
        sheet.going_on.append(text)
    elif isinstance(last, MusicRow):
        sheet.add(words_row(line, at_end_of(last)))
    else:
        _unaccompanied(sheet, text, line)
        return
    sheet.add_line()
    sheet.findings.guess(
        "words-go-on", "words without chords above are sung on over the chord before",
        line.place(),
    )  # fmt: skip


def _unaccompanied(sheet: Sheet, text: str, line: Line) -> None:
    sheet.begin_stanza()
    sheet.add_music(_SILENCE)
    sheet.add(WordsRow(((Segment(),), (Segment(text),))))
    sheet.words_lines += 1
    sheet.bars.first_in_section = False
    sheet.bars.silence = "none"
    sheet.findings.guess(
        "words-without-chords", "words without any chord stand under N.C.", line.place()
    )


def _verse_again(cursor: Cursor) -> bool:
    """Reads a block of words as a further verse where its lines go by an earlier one."""
    sheet = cursor.sheet
    begins = cursor.stanza_begins or VERSE.match(cursor.line.text) is not None
    if sheet.begun and not begins:
        return False
    end, lines = cursor.block(whole_section=not sheet.begun)
    if not lines:
        return False
    place = cursor.line.place()
    if not (sung_stacked if sheet.begun else sung_as_earlier)(sheet, lines):
        return False
    sheet.words_lines += len(lines)
    sheet.findings.guess(
        "verse-without-chords", f"{counted(len(lines), 'line')} of words without chords go "
        "by the lines of the verse before; under which chord a word stands is told by "
        "counting syllables", place,
    )  # fmt: skip
    cursor.at = end
    return True
