"""Signs, marks and names over the bars of engraved pages, put where they belong among the bars.

A segno, a coda or a name stands over the bar line that it follows; a jump, "To Coda" and "Fine" end
over the bar that they end; a fermata stands over its chord.  Common practice, no source.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate

from chartkit.interchange.pdf_text.drawn_endings import numbers_of_endings
from chartkit.interchange.pdf_text.music_signs import BARS_SAID, MARKS_SAID
from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.rows import WIDE, Row
from chartkit.interchange.pdf_text.type_faces import enclosed, text_of
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.rows.cues import marks_of

_OVER = 5.0
"""How many ems above its chords a mark stands at most: names and endings come between (ours)."""
_RIGHT_OVER = 3.0
"""How many ems above the chords of a system nothing of the one before stands (ours)."""
_ON_STAFF = 6.0
"""How many ems below its chords the sign of a repeated bar stands at most."""
_SAME_LINE = 0.35
_MOST_ROWS = 4
_LONGEST = 400
"""More pieces than a system has."""
_LETTER = re.compile(r"[A-H][1-9]?")
_INTO_BAR = 0.35
"""How far into a bar, as a share of it, what stands over its first line may begin."""
_TIMES = re.compile(
    r"\(?(?:(?:play\s+)?\d{1,2}\s?[x×]|[x×]\s?\d{1,2}|(?:play\s+)?\d{1,2}\s+times)\)?",
    re.IGNORECASE,
)
_BARS = frozenset("|:")
_JUMPS = ("D.C.", "D.S.", "to-coda", "fine")


def is_bar_line(piece: TextRun) -> bool:
    """Whether a piece is a bar line, or the number of an ending behind one."""
    return piece.text[:1] in _BARS and "|" in piece.text


def without_bar_signs(rows: Sequence[Row]) -> tuple[list[Row], list[Row]]:
    """The rows of a page without the signs that repeat a bar or rest for several, and for each row
    those that stand in it, or on the staff below it."""
    made: list[Row] = []
    signs: list[Row] = []
    for row in rows:
        own = [piece for piece in row if _says_bars(piece)]
        own += [piece for piece in row[1:][-1:] if _TIMES.fullmatch(piece.text.strip())]
        others = [piece for piece in row if piece not in own]
        if others or not made or made[-1][0].y - row[0].y > _ON_STAFF * made[-1][0].size:
            made.append(others or row)
            signs.append(own if others else [])
        else:
            signs[-1] = signs[-1] + own
    return made, signs


def with_own_signs(row: Row, signs: Row) -> Row:
    """A row without bar lines, with the signs of bars that stand in it and not below."""
    own = [one for one in signs if abs(one.y - row[0].y) <= _SAME_LINE * row[0].size]
    return sorted([*row, *own], key=lambda piece: piece.x) if own else row


def with_bar_signs(row: Row, signs: Row) -> Row:
    """A row with bar lines, and the signs of bars among them."""
    level = row[0]
    last = row[-1].x + 0.1 if is_bar_line(row[-1]) else row[-1].end
    moved = []
    for one in signs:
        times = _TIMES.fullmatch(one.text.strip())
        said = (
            f" ({''.join(filter(str.isdigit, one.text))}x) " if times else f" {one.text.strip()} "
        )
        x = last if times else one.x
        moved.append(TextRun(level.page, x, level.y, level.size, said, (0.0,) * len(said)))
    made = sorted([*row, *moved], key=lambda piece: piece.x)
    if signs and not is_bar_line(made[0]):
        made.insert(0, TextRun(level.page, made[0].x, level.y, level.size, "|", (0.0,)))
    return made


def with_letters_named(
    rows: Sequence[Row], parted: Sequence[Row | None]
) -> tuple[list[Row], list[Row | None]]:
    """The rows of a page, and those that have bar lines: a letter alone right over a row of chords
    in bars is the name of a part, though it could be a chord."""
    made, own = list(rows), list(parted)
    for at, row in enumerate(made[:-1]):
        below = own[at + 1]
        alone = len(row) == 1 and _LETTER.fullmatch(row[0].text.strip()) is not None
        if own[at] is not None and below is not None and alone and is_right_over(row, below):
            made[at], own[at] = enclosed("== ", row, ""), None
    return made, own


def _says_bars(piece: TextRun) -> bool:
    text = piece.text.strip()
    return text in BARS_SAID or (text.startswith("rest ") and piece.mark != "")


@dataclass
class _Over:
    """What stands over one system: ``marks`` with their places, ``names`` of the sections that
    begin at its bar lines, and the rows that stay."""

    marks: list[TextRun] = field(default_factory=list)
    names: list[tuple[int, Row]] = field(default_factory=list)
    kept: list[Row] = field(default_factory=list)


def with_signs_placed(
    rows: Sequence[Row], parted: Sequence[Row | None], words: Callable[[int], Sequence[int]]
) -> tuple[list[Row], list[Row | None]]:
    """The rows of a page, and those that have bar lines; marks over the bars stand among these,
    and a system over which a section begins is two.  ``words`` gives the rows of words under a
    system."""
    made: list[tuple[Row, Row | None]] = []
    at = 0
    while at < len(rows):
        own = parted[at]
        if own is not None and len(own) > _LONGEST:
            made.append((rows[at], own))
            at += 1
            continue
        if own is None:
            made.append((rows[at], None))
            at += 1
            continue
        over = _taken(made, own)
        made += [(row, None) for row in over.kept]
        below = (max(words(at), default=at) if over.names else at) + 1
        made += _in_sections(own, rows[at + 1 : below], over)
        at = below
    return [row for row, _ in made], [own for _, own in made]


def _is_over(row: Row, own: Row) -> bool:
    return 0 < row[0].y - own[0].y <= _OVER * own[0].size


def is_right_over(row: Row, own: Row) -> bool:
    """Whether a row stands so near above a system that it is no words of the one before."""
    return 0 < row[0].y - own[0].y <= _RIGHT_OVER * own[0].size


def _taken(made: list[tuple[Row, Row | None]], own: Row) -> _Over:
    """Takes the rows right above a system from those made so far."""
    above: list[Row] = []
    while made and len(above) < _MOST_ROWS and made[-1][1] is None and _is_over(made[-1][0], own):
        above.insert(0, made.pop()[0])
    over = _Over()
    lines = [piece.x for piece in own if is_bar_line(piece)]
    for row in above:
        kept: list[Row] = []
        for group in _together(row):
            _sort(group, own, lines, over, kept)
        if over.names or any(_names(group) for group in kept):
            over.marks += [_cue(group, own) for group in kept if group[0].leans]
            kept = [group for group in kept if not group[0].leans]
        if kept:
            over.kept.append([piece for group in kept for piece in group])
    return over


def _names(group: Row) -> bool:
    said = text_of(group)
    return said.startswith("==") or heading_of(said) is not None


def _cue(group: Row, own: Row) -> TextRun:
    """What is said over a bar beside a name, as a remark in it."""
    said = f" ({text_of(group).strip('() ')}) "
    return TextRun(own[0].page, group[0].x, own[0].y, own[0].size, said, (0.0,) * len(said))


def _sort(group: Row, own: Row, lines: Sequence[float], over: _Over, kept: list[Row]) -> None:
    """Puts what stands together over a system where it belongs."""
    signs = [piece for piece in group if piece.text.strip() in MARKS_SAID]
    words = [piece for piece in group if piece not in signs]
    said = text_of(words) if words else ""
    marks = marks_of(said) if said and not said.startswith("==") else ()
    if said and marks:
        end = any(mark.kind in _JUMPS for mark in marks)
        over.marks.append(
            _placed(words[0], f"({said.strip('() ')})", own, lines, group[-1].end, at_end=end)
        )
        return
    for sign in signs:
        over.marks.append(_placed(sign, sign.text.strip(), own, lines, sign.end))
    if not words:
        return
    if _TIMES.fullmatch(said):
        ends = [one.x for one in own if one.text.startswith(":|")]
        if len(ends) == 1:
            text = f" ({said.strip('() ')}) "
            over.marks.append(
                TextRun(own[0].page, ends[0] + 0.1, own[0].y, own[0].size, text, (0.0,) * len(text))
            )
            return
    begins = _line_at(words[0].x, lines)
    if begins and _names(words) and not numbers_of_endings(words):
        over.names.append((begins, words))
    else:
        kept.append(words)


def _line_at(x: float, lines: Sequence[float]) -> int:
    """The bar line that what begins at a place stands over, by its number from 0."""
    for at in range(len(lines) - 1, 0, -1):
        wide = lines[at] - lines[at - 1]
        after = lines[at + 1] - lines[at] if at + 1 < len(lines) else wide
        if lines[at] - _INTO_BAR * wide / 2 <= x <= lines[at] + _INTO_BAR * after:
            return at if at < len(lines) - 1 else 0
    return 0


def _placed(
    piece: TextRun, text: str, own: Row, lines: Sequence[float], end: float, at_end: bool = False
) -> TextRun:
    """A mark at its place among the bars."""
    if at_end:
        x = min((line for line in lines if line >= end - piece.size), default=lines[-1]) - 0.1
    elif text == "(fermata)":
        middle = (piece.x + end) / 2
        chords = [one for one in own if not is_bar_line(one) and one.x <= middle + piece.size]
        x = chords[-1].end + 0.1 if chords else middle
    else:
        middle = (piece.x + end) / 2
        x = min(lines[:-1] or lines, key=lambda line: abs(line - middle)) + 0.1
    said = f" {text} "
    return TextRun(piece.page, x, own[0].y, own[0].size, said, (0.0,) * len(said))


def _together(row: Row) -> list[Row]:
    """The pieces of a row, those together that stand close and are of one kind."""
    groups: list[Row] = []
    for piece in row:
        last = groups[-1][-1] if groups else piece
        alike = last.leans == piece.leans and not piece.text.startswith("==")
        if groups and alike and piece.x - last.end < WIDE * piece.size:
            groups[-1].append(piece)
        else:
            groups.append([piece])
    return groups


def _in_sections(own: Row, below: Sequence[Row], over: _Over) -> list[tuple[Row, Row | None]]:
    """A system with its marks, as several where sections begin over its bar lines, each with the
    words below it."""
    lines = [piece.x for piece in own if is_bar_line(piece)]
    row = sorted([*own, *over.marks], key=lambda piece: piece.x)
    cuts = sorted(over.names, key=lambda name: name[0])
    made: list[tuple[Row, Row | None]] = []
    starts = [float("-inf"), *(lines[at] for at, _ in cuts)]
    ends = [*starts[1:], float("inf")]
    for number, (start, end) in enumerate(zip(starts, ends, strict=True)):
        if number:
            made.append((cuts[number - 1][1], None))
        part = _between(row, start, end)
        if part:
            made.append((part, part))
        made += [(words, None) for one in below if (words := _words_between(one, start, end))]
    return made


def _between(row: Row, start: float, end: float) -> Row:
    """The part of a row of bars from one bar line to another, both of which it has."""
    part = [piece for piece in row if start <= piece.x < end]
    last = next((piece for piece in row if is_bar_line(piece) and piece.x == end), None)
    first = part[0] if part else None
    if first is not None and is_bar_line(first) and start != float("-inf"):
        part[0] = _said(first, first.text.removeprefix(":"))
    if last is not None:
        part.append(_said(last, ":|" if last.text.startswith(":") else "|"))
    return part


def _said(piece: TextRun, text: str) -> TextRun:
    return replace(piece, text=text, advances=(0.0,) * len(text))


def _words_between(row: Row, start: float, end: float) -> Row:
    """The pieces of a row of words from one place to another; a word that a bar line meets belongs
    where more of it is."""
    part: Row = []
    for piece in row:
        part += _words_of(piece, start, end)
    return part


def _words_of(piece: TextRun, start: float, end: float) -> Row:
    if start <= piece.x and piece.end <= end:
        return [piece]
    places = list(accumulate(piece.advances, initial=piece.x))
    inside = [
        at
        for at, _ in enumerate(piece.text)
        if start <= _middle_of_word(piece.text, places, at) < end
    ]
    if not inside:
        return []
    first, last = inside[0], inside[-1] + 1
    return [
        replace(
            piece,
            x=places[first],
            text=piece.text[first:last],
            advances=piece.advances[first:last],
        )
    ]


def _middle_of_word(text: str, places: Sequence[float], at: int) -> float:
    first, last = at, at
    while first and not text[first - 1].isspace():
        first -= 1
    while last < len(text) and not text[last].isspace():
        last += 1
    return (places[first] + places[last]) / 2
