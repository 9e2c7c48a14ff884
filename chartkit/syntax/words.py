"""Words rows: from text and dividers to segments, and whether they fit their music."""

import re
from dataclasses import replace

from lark import Token

from chartkit.chart.model import Bar, MusicRow, Segment, WordsRow
from chartkit.diagnostics import Span
from chartkit.phrases import counted
from chartkit.syntax.report import Report
from chartkit.syntax.shared_music import heading_with_music

_WORD = re.compile(r"\S+")
_ESCAPED = re.compile(r"\\([|/#\\_\-])")

Parsed = tuple[Token, list[tuple[str, Token | None]], Token | None]


def read_words(parsed: Parsed, report: Report) -> WordsRow:
    """The row of words from the grammar's parts: cells between bar lines, segments in them."""
    verse, pieces, comment = parsed
    cells: list[list[Segment]] = [[]]
    before = verse
    after = [token for _, token in pieces[1:]] + [None]
    opens = False
    for (kind, token), following in zip(pieces, after, strict=True):
        if kind == "sung":
            sung = token and _without_repeat_colon(
                token, before if opens else None, following, report
            )
            cells[-1].append(_segment(sung, before, report))
        elif kind == "bar":
            cells.append([])
        before, opens = token or before, kind == "bar"
    number = verse[:-1]
    return WordsRow(
        tuple(tuple(cell) for cell in cells),
        int(number) if number else None,
        comment_text(comment),
    )


def comment_text(token: Token | str | None) -> str:
    """A comment without its sign and the white space around it."""
    return "" if token is None else token[1:].strip()


def _segment(token: Token | None, before: Token, report: Report) -> Segment:
    if token is None:
        start = (before.start_pos or 0) + report.offset
        return Segment(span=Span(start, start + len(before)))
    raw = token.strip()
    start = (token.start_pos or 0) + report.offset + len(token) - len(token.lstrip())
    span = Span(start, start + len(raw))
    if raw == "_":
        return Segment(held=True, span=span)
    _warn_of_hold(raw, start, report)
    stem = raw[:-1]
    escaped = (len(stem) - len(stem.rstrip("\\"))) % 2 == 1
    split = raw.endswith("-") and not escaped and raw != "-"
    text = " ".join(_ESCAPED.sub(r"\1", raw[:-1] if split else raw).split())
    return Segment(text, split, held=False, span=span)


def _warn_of_hold(raw: str, start: int, report: Report) -> None:
    """Warns of a word that is an underscore or ends in one: the underscore would be printed."""
    for word in _WORD.finditer(raw) if "_" in raw else ():
        stem = word[0].rstrip("_")
        if stem == word[0] or stem.endswith("\\"):
            continue
        around = (raw[: word.start()] + stem, "_", raw[word.end() :])
        whole = " ".join(f"{raw[: word.start()]}{stem} {raw[word.end() :]}".split())
        pieces = " / ".join(piece.strip() for piece in around if piece.strip())
        offset = start - report.offset
        report.warn(
            "hold-not-alone",
            offset + word.start(),
            offset + word.end(),
            f'"{word[0]}" would be printed as it is typed',
            f'a hold stands alone between dividers: "{pieces}"',
            f'in a bar without another chord for it, leave it out: "{whole}"',
        )
        return


def places_in(bar: Bar, free: bool) -> int:
    """How many segments of words a bar can hold: one a strike, and one for a held start."""
    held = not bar.strikes or (not free and bar.strikes[0].onset > 0)
    return len(bar.strikes) + held


def words_fitted_to(
    words: WordsRow, music: MusicRow, report: Report, shared: bool = False
) -> WordsRow:
    """The words with just one cell for each place of the music; ``shared`` says that it is that of
    another section.

    Reports bars that have too many dividers or none; the row is returned all the same.
    """
    if music.free:
        return _fitted_free(words, music, report)
    first = 0 if music.lines[0].kind == "none" else 1
    needed = first + len(music.bars)
    cells = words.cells
    closed = len(cells) > 1 and cells[-1] == (Segment(),)
    if closed:
        # The last divider stands where the closing bar line does.
        cells = cells[:-1]
    sung = cells[:-1] if closed and _closed_as_double(words, music) else cells
    if first and closed and len(sung) == len(music.bars) and sung[0] != (Segment(),):
        _warn_no_pickup(words, len(sung), report)
        cells = ((Segment(),), *sung)
    filled = (*cells[:needed], *[(Segment(),)] * (needed - len(cells)))
    extra = cells[needed:]
    if any(segment.text or segment.held for cell in extra for segment in cell):
        _report_extra(words, extra, music, report)
    elif len(cells) < needed and not _ends_with_its_ending(words, music, len(cells) - first):
        if len(words.cells) == 1:
            _report_no_bars(words, music, shared, report)
        else:
            _report_missing(words, cells, first, len(music.bars), report)
    else:
        _check_cells(words, filled, first, music, report)
    return replace(words, cells=filled)


def _ends_with_its_ending(words: WordsRow, music: MusicRow, bars: int) -> bool:
    """Whether all that is left behind so many bars are endings of other times than the row's."""
    if words.verse is None or bars < 1:
        return False
    numbers, at = tuple[int, ...](), list[tuple[int, ...]]()
    for line in music.lines[:-1]:
        over = line.kind == "double" or line.kind in ("repeat-end", "repeat-start", "repeat-both")
        numbers = line.endings or (() if over else numbers)
        at.append(numbers)
    return all(there and words.verse not in there for there in at[bars:])


def check_alone(words: WordsRow, section: str, report: Report) -> None:
    """Reports bar lines and slashes in words that have no music above them, in a section of that
    name."""
    if len(words.cells) > 1 or len(words.cells[0]) > 1:
        report.add(
            "words-without-music",
            *report.in_row(words.span),
            "there is no music above these words, but they have bar lines or slashes",
            "write the bars first; for the music of an earlier section: "
            + heading_with_music(section),
            'words without music have neither; to print a slash, type "\\/"',
        )


def _closed_as_double(words: WordsRow, music: MusicRow) -> bool:
    """Whether a row ends in ``||`` as its music does: one closing line, not an empty bar."""
    if music.lines[-1].kind != "double" or len(words.cells) < 3:
        return False
    (before,), (last,) = words.cells[-2][-1:], words.cells[-1]
    return words.cells[-2] == (Segment(),) and before.span.end == last.span.start


def _check_cells(
    words: WordsRow,
    cells: tuple[tuple[Segment, ...], ...],
    first: int,
    music: MusicRow,
    report: Report,
) -> None:
    """Reports cells with too many dividers, in a row that has as many bars as its music."""
    if first and len(cells[0]) > 1:
        report.add(
            "divider-in-pickup",
            *_place(cells[0][1], words, report),
            'a "/" stands before the first bar line, where no chord is struck',
            'the row begins at a "|": ": pick-up | words / words | ..."',
        )
    for number, (cell, bar) in enumerate(zip(cells[first:], music.bars, strict=True), 1):
        _check_places(cell, places_in(bar, free=False), number, words, report)


def _fitted_free(words: WordsRow, music: MusicRow, report: Report) -> WordsRow:
    """Words under free time: a cell for the pick-up, a cell for the chords."""
    strikes = len(music.bars[0].strikes)
    if len(words.cells) > 1:
        report.add(
            "bars-in-free-time",
            *_place(words.cells[1][0], words, report),
            'the music above has no bar lines, so its words have no "|" either',
            'put "/" where the next chord is struck',
        )
    cell = tuple(segment for cell in words.cells for segment in cell)
    if len(cell) == strikes + 1:
        return replace(words, cells=((cell[0],), cell[1:]))
    _check_places(cell, strikes, 0, words, report)
    return replace(words, cells=((Segment(),), cell))


def _place(segment: Segment, words: WordsRow, report: Report) -> tuple[int, int]:
    span = segment.span if segment.span.end else words.span
    return span.start - report.offset, span.end - report.offset


def _check_places(
    cell: tuple[Segment, ...], places: int, number: int, words: WordsRow, report: Report
) -> None:
    if len(cell) <= places:
        return
    where = f"bar {number}" if number else "the row above"
    over = next((s for s in cell[places:] if s.text), cell[-1])
    report.add(
        "too-many-strikes",
        *_place(over, words, report),
        f"{where} has {counted(places, 'place')} for words, one for each chord; "
        f"this row has {len(cell)}",
        'leave out a "/": in words it does not stand for a beat, but for the next chord of the bar',
    )


def _report_extra(
    words: WordsRow, extra: tuple[tuple[Segment, ...], ...], music: MusicRow, report: Report
) -> None:
    bars, unopened = len(music.bars), music.lines[0].kind == "none"
    if unopened and len(extra) == 1 and not music.bars[0].pickup:
        _report_no_first_line(music, report)
        return
    over = next(s for cell in extra for s in cell if s.text or s.held)
    report.add(
        "too-many-bars",
        *_place(over, words, report),
        f"the music above has {counted(bars, 'bar')}; these words stand in bar {bars + 1}",
        *['write "|" before the first chord of the music above, if it begins on a bar'] * unopened,
        'take out a "|", or write the missing bar of music',
    )


def _report_no_first_line(music: MusicRow, report: Report) -> None:
    """Reports a missing first bar line in the music, if it would give the words the bar they
    lack."""
    start, end = report.in_row(music.bars[0].span)
    report.add(
        "no-first-bar-line",
        start,
        end,
        'this row begins without a "|", and its words have a place more than it has bars',
        'write "|" before its first chord; what stands before the first "|" of the words is then '
        "their pick-up",
        'if the row is right as it is, take a "|" out of the words under it',
    )


def _warn_no_pickup(words: WordsRow, bars: int, report: Report) -> None:
    begins = words.cells[0][0]
    number = "" if words.verse is None else words.verse
    hints = [f'begin the row with "{number}: |"; tidy does it']
    if begins.text:
        hints.append(
            f'if "{begins.text}" is a pick-up, one bar of words is missing: '
            'a bar without words is left empty, "| |"'
        )
    report.warn(
        "read-without-pickup",
        *_place(begins, words, report),
        'what stands before the first "|" is the pick-up; these words are just enough for the '
        f"{counted(bars, 'bar')} above, so they are read from bar 1 on",
        *hints,
    )


def _report_no_bars(words: WordsRow, music: MusicRow, shared: bool, report: Report) -> None:
    """Reports words without a single bar line under music that has some."""
    hints = ['put a "|" where each bar line stands: ": | words | words | ..."']
    if any(line.kind in ("repeat-end", "repeat-both") for line in music.lines):
        hints.append('of a repeat each time has a row with its number: "1: | ... |", "2: | ... |"')
    if shared:
        hints.append('words alone need no "as": take it out, and the name after it')
    else:
        hints.append("with a blank row above them they stand alone, not under the chords")
    report.add(
        "too-few-bars",
        words.span.start - report.offset,
        words.span.end - report.offset,
        f"these words have no bar lines, and the music above has {counted(len(music.bars), 'bar')}",
        *hints,
    )


def _report_missing(
    words: WordsRow, cells: tuple[tuple[Segment, ...], ...], first: int, bars: int, report: Report
) -> None:
    start, end = words.span.start - report.offset, words.span.end - report.offset
    have = max(len(cells) - first, 0)
    hints = ['put a "|" where each bar line stands; a bar without words is left empty: "| |"']
    if first and cells[0] != (Segment(),):
        hints.insert(
            0, 'what stands before the first "|" is the pick-up: to begin on the bar, ": |"'
        )
    report.add(
        "too-few-bars",
        start,
        end,
        f"the music above has {counted(bars, 'bar')}, this row has words for "
        f"{have}: bar {have + 1} is missing",
        *hints,
    )


# ---- repeat signs typed among words
_OPENS, _CLOSES = re.compile(r":(?:\s|$)"), re.compile(r"(?:^|\s):$")
"""A colon that is no part of a word, at the start or the end of what is sung in a bar."""


def _without_repeat_colon(
    token: Token, before: Token | None, after: Token | None, report: Report
) -> Token | None:
    """The words of a bar without a colon that makes a repeat sign of the bar line beside them.

    None where nothing is left.  A colon at a word, or with a space before the bar line, is sung.
    ``before`` is the bar line before them, if one stands there, ``after`` what follows.
    """
    text, start = str(token), token.start_pos or 0
    if before is not None and before.end_pos == start and _OPENS.match(text):
        _warn_of_repeat_sign(start - 1, "|:", report)
        text = " " + text[1:]
    if after == "|" and after.start_pos == token.end_pos and _CLOSES.search(text):
        _warn_of_repeat_sign(start + len(text) - 1, ":|", report)
        text = text[:-1] + " "
    return Token.new_borrow_pos(token.type, text, token) if text.strip() else None


def _warn_of_repeat_sign(offset: int, sign: str, report: Report) -> None:
    report.warn(
        "repeat-sign-in-words",
        offset,
        offset + len(sign),
        f'"{sign}" belongs to the music above, and is not sung',
        'words have a plain "|"; a colon that is sung stands apart from it: ": |"',
    )
