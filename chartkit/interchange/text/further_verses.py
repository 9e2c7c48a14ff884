"""Lines of words without chords: another verse of the music before, or words alone.

People type the chords over the first verse only (common practice, no source).  Where a block
of words has as many lines as the verse before, it is sung to the same music; under which
chord each word falls is guessed by counting syllables.
"""

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

from chartkit.chart.model import Bar, MusicRow, Row, Segment, Strike, WordsRow
from chartkit.interchange.text.chart_builder import Sheet
from chartkit.interchange.text.cursor import Cursor
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.lyrics import LAST_LATIN, VERSE, at_end_of, words_row
from chartkit.interchange.wording import counted

_FEWEST_LINES = 2
"""One line alone is rather the line before sung on."""
_MOST_VERSES = 20
_MOST_COPIED = 10_000
"""Rows of words written again for sections of which only the name was typed; more is no song."""
_SAME = re.compile(
    r"\(?(?:same as|like|as)\s+(?:the\s+)?(?P<as>[^()]{2,30}?)\)?|"
    r"(?:over|on)\s+(?:the\s+)?(?P<over>.{2,30}?)\s(?:chords|changes)",
    re.IGNORECASE,
)
_VOWELS = re.compile(r"[aeiouyæœøı]+")


def other_section(remark: str) -> str:
    """The section whose music another has by what is said behind its name, such as "same as
    intro"; empty where nothing is."""
    found = _SAME.fullmatch(remark.strip())
    return (found["as"] or found["over"]).strip() if found is not None else ""


def words_again(
    lines: Sequence[str], rows: Sequence[Row], lines_under: Sequence[int]
) -> list[WordsRow] | None:
    """A row of words for each row of music; None where the lines do not go by its words.

    ``lines_under`` tells how many lines of words stand under each row of music in ``rows``.
    """
    first = first_words(rows)
    if len(lines) != sum(lines_under) or 0 in lines_under or None in first or not lines:
        return None
    found: list[WordsRow] = []
    at = 0
    for count, row in zip(lines_under, first, strict=True):
        assert row is not None
        found.append(_spread(" ".join(lines[at : at + count]).split(), row))
        at += count
    return found


def first_words(rows: Sequence[Row]) -> list[WordsRow | None]:
    """For each row of music the first row of words under it; None where there is none."""
    found: list[WordsRow | None] = []
    for row in rows:
        if isinstance(row, MusicRow):
            found.append(None)
        elif isinstance(row, WordsRow) and found and found[-1] is None:
            found[-1] = row
    return found


def stacked(rows: Sequence[Row], verse: Sequence[WordsRow]) -> list[Row]:
    """The rows with one more verse under their music."""
    found: list[Row] = []
    music, under = -1, list[WordsRow]()

    def close() -> None:
        if under:
            under[0] = replace(under[0], verse=under[0].verse or 1)
            under.append(replace(verse[music], verse=(under[-1].verse or 1) + 1))
        found.extend(under)
        under.clear()

    for row in rows:
        if isinstance(row, WordsRow):
            under.append(row)
            continue
        close()
        music += isinstance(row, MusicRow)
        found.append(row)
    close()
    return found


def play_again(sheet: Sheet) -> None:
    """Makes a section of which only the name was typed the earlier one of its kind."""
    earlier = sheet.earlier_like_opened()
    if earlier is None:
        return
    again = sheet.sections[earlier]
    sheet.opened = replace(sheet.opened, same_as=again.name)
    words = [row for row in first_words(again.rows) if row is not None and not sheet.like]
    copied = len(words) == len(sheet.lines_of[earlier]) and sheet.copied < _MOST_COPIED
    sheet.rows += words if copied else []
    sheet.copied += len(sheet.rows)
    sheet.findings.guess(
        "section-again",
        f'"{sheet.opened.name}" stands alone: it is played as "{again.name}" was',
    )
    if words and not copied:
        sheet.findings.leave_out(
            "words-not-repeated", f'the words of "{again.name}" are not written again'
        )


def sung_as_earlier(sheet: Sheet, lines: Sequence[str]) -> bool:
    """Whether the lines under a heading go by an earlier section of its kind; if so, they are
    written so."""
    earlier = sheet.earlier_like_opened()
    if earlier is None:
        return False
    again = sheet.sections[earlier]
    words = words_again(lines, again.rows, sheet.lines_of[earlier])
    if words is None:
        return False
    sheet.opened = replace(sheet.opened, same_as=again.name)
    sheet.rows += words
    return True


def sung_stacked(sheet: Sheet, lines: Sequence[str]) -> bool:
    """Whether the lines of a block under no heading go by the block before; if so, they are
    stacked under it as a further verse."""
    if len(lines) < _FEWEST_LINES or len(lines) != sheet.stanza_lines:
        return False
    sheet.settle()
    tail = sheet.rows[sheet.stanza_row :]
    if sum(isinstance(row, WordsRow) for row in tail) >= _MOST_VERSES * len(lines):
        return False
    words = words_again(lines, tail, sheet.lines_under[sheet.stanza :])
    if words is None:
        return False
    sheet.rows[sheet.stanza_row :] = stacked(tail, words)
    return True


def _spread(words: Sequence[str], model: WordsRow) -> WordsRow:
    """The words in the places of another verse, by its syllables."""
    flat = [segment for cell in model.cells for segment in cell]
    sung = [sum(map(_syllables, segment.text.split())) for segment in flat]
    own = [_syllables(word) for word in words]
    scale = (sum(sung) or 1) / (sum(own) or 1)
    ends = list(accumulate(sung))
    last = max((i for i, count in enumerate(sung) if count), default=len(flat) - 1)
    places: list[list[str]] = [[] for _ in flat]
    for word, before in zip(words, [0, *accumulate(own)], strict=False):
        places[min(last, bisect_right(ends, before * scale + 0.5))].append(word)
    texts = iter(zip(flat, places, strict=True))
    return WordsRow(tuple(tuple(_segment(*next(texts)) for _ in cell) for cell in model.cells))


def _segment(model: Segment, words: Sequence[str]) -> Segment:
    return Segment(" ".join(words), held=model.held and not words)


def _syllables(word: str) -> int:
    """How many syllables a word has, about: runs of vowels, or signs of another script."""
    letters = unicodedata.normalize("NFD", word.lower())
    return len(_VOWELS.findall(letters)) or max(1, sum(ord(c) > LAST_LATIN for c in word))


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
        "words-go-on",
        "words without chords above are sung on over the chord before",
        line.place(),
    )


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
        "verse-without-chords",
        f"{counted(len(lines), 'line')} of words without chords go "
        "by the lines of the verse before; under which chord a word stands is told by "
        "counting syllables",
        place,
    )
    cursor.at = end
    return True
