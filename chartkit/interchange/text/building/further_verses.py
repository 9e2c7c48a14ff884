"""Lines of words without chords: another verse of the music before, or words alone.

People type the chords over the first verse only (common practice, no source).  Where a block
of words has as many lines as the verse before, it is sung to the same music; under which
chord each word falls is guessed by counting syllables.
"""

import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

from chartkit.chart.model import CueRow, MusicRow, Row, Segment, WordsRow
from chartkit.diagnostics import Span
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.cursor import Cursor
from chartkit.interchange.text.building.section_end import take_times_of
from chartkit.interchange.text.classifying.said_evidence import without_sign
from chartkit.interchange.text.kinds.line_kinds import KnownLine, Remark
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.lyrics import VERSE, at_end_of, words_row
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.syllables import syllable_count
from chartkit.interchange.wording import counted, cue_text
from chartkit.theory.chord import Chord

_MOST_LINES = 200
_FEWEST_LINES = 2
"""A single line usually continues the line before it."""
_FEWEST_TO_JOIN = 3
"""Of fewer lines none is the odd one (ours)."""
_MOST_VERSES = 20
_SHORTEST, _LONGEST = 0.65, 1.5
"""Lines of one tune in different verses are about as long (ours)."""
_LAST_CHORD = re.compile(
    r"\b(?:last|final) chord\s*(?:is|=|:|->|→)?\s*(?:an?\s+)?([A-H][^\s,;.)]{0,12})", re.IGNORECASE
)


def words_again(
    lines: Sequence[str], rows: Sequence[Row], lines_under: Sequence[int]
) -> list[WordsRow] | None:
    """A row of words for each row of music; None where the lines do not go by its words.

    ``lines_under`` tells how many lines of words stand under each row of music in ``rows``.
    """
    first = first_words(rows)
    if len(lines) != sum(lines_under) or 0 in lines_under or None in first or not lines:
        return None
    collected: list[WordsRow] = []
    at = 0
    for count, row in zip(lines_under, first, strict=True):
        assert row is not None
        collected.append(_spread(" ".join(lines[at : at + count]).split(), row))
        at += count
    return collected


def first_words(rows: Sequence[Row]) -> list[WordsRow | None]:
    """For each row of music the first row of words under it, a cue between them or not; None where
    there is none."""
    collected: list[WordsRow | None] = []
    under_music = False
    for row in rows:
        if isinstance(row, MusicRow):
            collected.append(None)
            under_music = True
        elif not isinstance(row, WordsRow | CueRow):
            under_music = False
        elif isinstance(row, WordsRow) and under_music and collected[-1] is None:
            collected[-1] = row
    return collected


def stacked(rows: Sequence[Row], verse: Sequence[WordsRow]) -> list[Row]:
    """The rows with one more verse right under their music; words that stand alone stay so."""
    collected: list[Row] = []
    music, under = -1, list[WordsRow]()
    under_music = False

    def close() -> None:
        if under and under_music:
            under[0] = replace(under[0], verse=under[0].verse or 1)
            under.append(replace(verse[music], verse=(under[-1].verse or 1) + 1))
        collected.extend(under)
        under.clear()

    for row in rows:
        if isinstance(row, WordsRow):
            under.append(row)
            continue
        between = isinstance(row, CueRow) and under_music and not under
        close()
        under_music = isinstance(row, MusicRow) or between
        music += isinstance(row, MusicRow)
        collected.append(row)
    close()
    return collected


def sung_as_earlier(
    sheet: Sheet, lines: Sequence[str], singers: Sequence[tuple[int, str]] = ()
) -> bool:
    """Whether the lines under a heading go by an earlier section of its kind; if so, they are
    written so.  With ``singers``, who sings from which line on, the music is written out again: a
    cue inside of music that two sections share is said of both."""
    earlier = sheet.earlier_like_opened()
    if earlier is None:
        return False
    again = sheet.earlier.sections[earlier]
    words = words_again(lines, again.rows, sheet.earlier.lines_of[earlier])
    if words is None:
        return False
    span = Span(sheet.line_number, sheet.line_number)
    words = [replace(row, span=span) for row in words]
    last = _other_last_chord(sheet)
    if again.name and last is None and not singers:
        take_times_of(sheet, again)
        sheet.opened = replace(sheet.opened, same_as=again.name)
        sheet.rows += words
        return True
    counts = sheet.earlier.lines_of[earlier]
    begin = accumulate(counts, initial=0)
    music = _with_last(_music(again.rows), last)
    for first, count, one, row in zip(begin, counts, music, words, strict=False):
        sheet.rows += [CueRow(cue_text(who)) for at, who in singers if first <= at < first + count]
        sheet.add_music(one)
        sheet.rows.append(row)
        sheet.lines_under[-1] += 1
    return True


def _other_last_chord(sheet: Sheet) -> Chord | None:
    """The chord that ends the open section other than the one it is like, by its remarks."""
    for row in sheet.rows[: sheet.heading_rows]:
        match = _LAST_CHORD.search(row.text) if isinstance(row, CueRow) else None
        chord = sheet.tokens.symbol(match[1]) if match is not None else None
        if chord is not None:
            return chord
    return None


def _with_last(rows: Sequence[MusicRow], chord: Chord | None) -> list[MusicRow]:
    """Rows of music, the last of which ends on a chord, if one is given."""
    *before, last = rows
    *bars, bar = last.bars
    if chord is None or not bar.strikes:
        return list(rows)
    strikes = (*bar.strikes[:-1], replace(bar.strikes[-1], chord=chord, bass_only=False))
    return [*before, replace(last, bars=(*bars, replace(bar, strikes=strikes)))]


def _music(rows: Sequence[Row]) -> list[MusicRow]:
    return [row for row in rows if isinstance(row, MusicRow)]


def sung_stacked(sheet: Sheet, lines: Sequence[str], numbered: bool = False) -> bool:
    """Whether the lines of a block under no heading go by the block before; if so, they are
    stacked under it as a further verse.  Lines that begin with a ``numbered`` one go by the last
    block that did, where a refrain without a number stands between."""
    sheet.settle()
    own = slice(sheet.stanza_row, len(sheet.rows))
    block = own, slice(sheet.stanza, len(sheet.lines_under)), sheet.stanza_lines
    first = next((row for row in sheet.rows[own] if isinstance(row, WordsRow)), None)
    if numbered and sheet.numbered is not None and first is not None and first.verse is None:
        block = sheet.numbered
    where, under, count = block
    if len(lines) < _FEWEST_LINES or len(lines) != count:
        return False
    rows = sheet.rows[where]
    if sum(isinstance(row, WordsRow) for row in rows) >= _MOST_VERSES * len(lines):
        return False
    words = words_again(lines, rows, sheet.lines_under[under])
    if words is None:
        return False
    span = Span(sheet.line_number, sheet.line_number)
    new = stacked(rows, [replace(row, span=span) for row in words])
    sheet.rows[where] = new
    if where != own:
        sheet.stanza_row += len(new) - len(rows)
        sheet.numbered = slice(where.start, where.start + len(new)), under, count
    return True


def _spread(words: Sequence[str], model: WordsRow) -> WordsRow:
    """The words in the places of another verse, by its syllables."""
    flat = [segment for cell in model.cells for segment in cell]
    sung = [sum(map(syllable_count, segment.text.split())) for segment in flat]
    own = [syllable_count(word) for word in words]
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


def read_words_alone(cursor: Cursor, line: Line) -> None:
    """Reads a line of words, or the whole block that it begins."""
    if _verse_again(cursor):
        return
    sheet = cursor.sheet
    begins = cursor.stanza_begins
    last = sheet.rows[-1] if sheet.rows else None
    goes_on = isinstance(last, WordsRow | MusicRow) and not begins and not sheet.in_stanza_alone
    if goes_on and len(cursor.words_from_here(_FEWEST_LINES)) == _FEWEST_LINES:
        read_stanza(cursor)
        return
    cursor.at += 1
    if isinstance(last, WordsRow) and not sheet.in_stanza_alone and not begins:
        sheet.going_on.append(" ".join(line.text.split()))
    elif isinstance(last, MusicRow) and not begins:
        sheet.add(words_row(line, at_end_of(last)))
    else:
        _unaccompanied(sheet, line, begins)
        return
    sheet.add_line()
    sheet.findings.guess(
        "words-go-on",
        "words with no chords above them go on over the chord before",
        line.place(),
    )


def read_stanza(cursor: Cursor) -> None:
    """The lines of words under chords whose changes have no places."""
    lines = cursor.words_from_here(_MOST_LINES)
    cursor.sheet.add_stanza([(one.number, one.text) for one in lines])
    cursor.at += len(lines)
    cursor.sheet.findings.guess(
        "words-without-places",
        "several lines of words stand under one row of chords: under which chord each word "
        "falls is not known, so they are written without",
        lines[0].place(),
    )


def _unaccompanied(sheet: Sheet, line: Line, begins: bool) -> None:
    """Words without known chords: written without music."""
    if not begins and sheet.in_stanza_alone:
        sheet.add_to_stanza(line.number, line.text)
        return  # reported where the words begin
    sheet.add_stanza([(line.number, line.text)])
    sheet.findings.guess(
        "words-without-chords", "no chords are known for these words", line.place()
    )


def _say_first(sheet: Sheet, text: str, place: str) -> None:
    """Makes a cue of the first line under a heading: the lines after it match those of an earlier
    verse."""
    sheet.rows.insert(sheet.heading_rows, CueRow(cue_text(text)))
    sheet.heading_rows += 1
    sheet.findings.guess("remark", f'"{text}" is a remark to the players: written as a cue', place)


def _verse_again(cursor: Cursor) -> bool:
    """Reads a block of words as a further verse where its lines go by an earlier one."""
    sheet = cursor.sheet
    begins = cursor.stanza_begins or VERSE.match(cursor.line.text) is not None
    if sheet.begun and not begins:
        return False
    end, lines, remarks = cursor.block(whole_section=not sheet.begun)
    if not lines or (remarks and sheet.begun):
        return False
    place = cursor.line.place()
    numbered = VERSE.match(cursor.line.text) is not None
    if not _read_verse(sheet, lines, remarks, numbered, place):
        return False
    sheet.words_lines += len(lines)
    sheet.findings.guess(
        "verse-without-chords",
        f"{counted(len(lines), 'line')} of words without chords get "
        "the chords of the verse before; the chord of each word is guessed by counting syllables",
        place,
    )
    for _, said in remarks:
        if isinstance(said.kind, Remark) and said.kind.who_sings:
            sheet.findings.guess(
                "remark", f'"{said.kind.text}" says who sings: it is a cue', said.line.place()
            )
        else:
            text = said.kind.text if isinstance(said.kind, Remark) else said.line.text
            _say_first(sheet, without_sign(text.strip()), said.line.place())
    cursor.at = end
    return True


def _read_verse(
    sheet: Sheet,
    lines: list[str],
    remarks: Sequence[tuple[int, KnownLine]],
    numbered: bool,
    place: str,
) -> bool:
    """Whether lines of words go by an earlier verse, if need be without the first, which is then
    taken for a remark and off the lines; if so, they are written so."""
    if sheet.begun:
        return sung_stacked(sheet, lines, numbered)
    kinds = ((at, one.kind) for at, one in remarks)
    singers = [(at, kind.text) for at, kind in kinds if isinstance(kind, Remark) and kind.who_sings]
    if sung_as_earlier(sheet, lines, singers):
        return True
    if singers:
        return False
    joined = _with_answers(lines)
    if len(joined) < len(lines) and sung_as_earlier(sheet, joined):
        return True
    joined = _with_short_one(lines)
    if len(joined) < len(lines) and sung_as_earlier(sheet, joined):
        sheet.findings.guess(
            "one-line-more",
            f'"{sheet.opened.name}" has a short line more than the words before: it goes with the '
            "line above, please check",
            place,
        )
        return True
    if is_direction(lines[0]) and sung_as_earlier(sheet, lines[1:]):
        _say_first(sheet, lines.pop(0), place)
        return True
    return _sung_to_part(sheet, lines, place)


def _with_answers(lines: Sequence[str]) -> list[str]:
    """The lines, with those in parentheses, which a choir answers, at the ends of those above."""
    joined: list[str] = []
    for line in lines:
        if joined and line.startswith("(") and line.endswith(")"):
            joined[-1] += f" {line}"
        else:
            joined.append(line)
    return joined


def _with_short_one(lines: Sequence[str]) -> list[str]:
    """The lines, the only one that is much shorter than all others at the end of the one above,
    or before the second; all of them where several are short, or none is."""
    lengths = sorted(sum(map(syllable_count, line.split())) for line in lines)
    if len(lines) < _FEWEST_TO_JOIN or lengths[0] > _SHORTEST * lengths[1]:
        return list(lines)
    at = min(range(len(lines)), key=lambda i: sum(map(syllable_count, lines[i].split())))
    first = max(at - 1, 0)
    return [*lines[:first], f"{lines[first]} {lines[first + 1]}", *lines[first + 2 :]]


def _as_long(lines: Sequence[str], rows: Sequence[WordsRow | None]) -> bool:
    """Whether lines of words are about as long as those of rows, in syllables."""
    sung = [" ".join(s.text for cell in row.cells for s in cell) for row in rows if row is not None]
    ours, theirs = (sum(map(syllable_count, one)) / len(one) for one in (lines, sung))
    return _SHORTEST * theirs <= ours <= _LONGEST * theirs


def _sung_to_part(sheet: Sheet, lines: Sequence[str], place: str) -> bool:
    """Whether the lines under a heading go by the first rows of an earlier section of its kind that
    has more, or by all of its rows several times; if so, they are written with that music."""
    earlier = sheet.earlier_like_opened()
    if earlier is None or len(lines) < _FEWEST_LINES or is_direction(lines[0]):
        return False
    again = sheet.earlier.sections[earlier]
    home = [one for one in again.rows if isinstance(one, MusicRow | WordsRow)]
    counts, count = sheet.earlier.lines_of[earlier], len(lines)
    plain = section_key(again.name)[0] == "verse" and {*counts} == {1}
    if not plain or len(home) != 2 * len(counts) or len(counts) < _FEWEST_LINES:
        return False
    music, first = _music(again.rows), first_words(again.rows)
    if sheet.like or (count > len(counts) and count % len(counts)) or not _as_long(lines, first):
        return False
    for at, line in enumerate(lines):
        row = first[at % len(first)]
        assert row is not None
        sheet.add_music(music[at % len(music)])
        span = Span(sheet.line_number, sheet.line_number)
        sheet.rows.append(replace(_spread(line.split(), row), span=span))
        sheet.lines_under[-1] += 1
    how = (
        f"the chords of its first {count} rows"
        if count < len(counts)
        else f"its chords {count // len(counts)} times"
    )
    sheet.findings.guess(
        "other-count-of-lines",
        f'"{sheet.opened.name}" has {counted(count, "line")} of words, "{again.name}" has '
        f"{len(counts)} over its chords: it gets {how}, please check",
        place,
    )
    return True
