"""Names of sections at the left of their music or words, in a margin of their own, put above them.

Common practice, no source.
"""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from dataclasses import replace

from chartkit.interchange.pdf_text.page_text import TextRun, Upright
from chartkit.interchange.pdf_text.rows import WIDE, Row
from chartkit.interchange.pdf_text.type_faces import enclosed, text_of
from chartkit.interchange.text.names.headings import heading_of

_LETTER = re.compile(r"([A-Z])[1-9]?")
_BELOW = 0.8
"""How many ems below its words a name in the margin stands at most (ours)."""
_MOST_STAVES, _MOST_NEAR = 100, 400
"""More staves than a page has, and more lines than stand near a letter."""
_LABEL = "Lbl"
"""The structure type of the number of an entry in a list.  Source: ISO 32000-1, 14.8.4.3.3."""
_NUMBER = re.compile(r"\d{1,2}\s?[.:)]?")
_NEAR = 1.9
"""How many ems above its words a row of chords stands at most."""
_ABOVE = 1.2
"""How many ems above its music a name is put."""
_BOX = 12.0
"""How far a box stands from the letter in it at most, in points (ours)."""


def with_names_above(
    rows: list[Row], uprights: Sequence[Upright], is_music: Callable[[Row], bool]
) -> list[Row]:
    """Moves names of sections that stand left of music or words into rows above them; letters in
    boxes are names, even if they could be chords. Returns the rows."""
    uprights = sorted(uprights, key=lambda one: one.x)
    staves = {(round(one.low), round(one.high)) for one in uprights if one.on_staff}
    spans = sorted(staves)[:_MOST_STAVES]
    rows = [_with_boxes_named(row, uprights, is_music) for row in rows]
    letters = _letters(rows, uprights, is_music)
    made: list[Row] = []
    under_staff = False
    for at, row in enumerate(rows):
        first, rest = row[0], row[1:]
        under_staff = _goes_under(rows[at - 1], row, under_staff, spans) if at else False
        if under_staff and _NUMBER.fullmatch(first.text.strip()):
            made.append(row)
            continue
        if made and (between := _hangs(rows, at, is_music)):
            beside, made = made[-between:], made[:-between]
            made += [[replace(first, y=beside[0][0].y + _ABOVE * first.size)], *beside]
            continue
        if first in letters:
            name = enclosed("== ", [first], "")[0]
        elif _names(first, rest):
            name = first
        else:
            made.append(row)
            continue
        over = made.pop() if made and _is_over(made[-1], row, is_music) else None
        top = rest if over is None else over
        made.append([replace(name, y=top[0].y + _ABOVE * first.size)])
        made += [rest] if over is None else [over, rest]
    return made


def _with_boxes_named(
    row: Row, uprights: Sequence[Upright], is_music: Callable[[Row], bool]
) -> Row:
    """A row with the signs of names before letters in boxes; as it is where chords are beside
    them."""
    boxed = [
        piece for piece in row if _LETTER.fullmatch(piece.text.strip()) and _in_box(piece, uprights)
    ]
    others = [piece for piece in row if piece not in boxed]
    if not boxed or (others and is_music(others)):
        return row
    return [enclosed("== ", [one], "")[0] if one in boxed else one for one in row]


def _goes_under(above: Row, row: Row, under: bool, staves: Sequence[tuple[int, int]]) -> bool:
    """Whether a row stands under a staff, right below it or below rows that do."""
    high, low = above[0].y, row[0].y
    staff = any(low < top and bottom < high for bottom, top in staves)
    return staff or (under and high - low <= _NEAR * max(above[0].size, row[0].size))


def _hangs(rows: list[Row], at: int, is_music: Callable[[Row], bool]) -> int:
    """How many of the rows above belong below a row that is the number of a verse or a name alone:
    one where it is left of a row of chords and its words, at a height between theirs; two where it
    stands a little below the words; 0 for any other row."""
    row, first = rows[at], rows[at][0]
    named = _NUMBER.fullmatch(first.text.strip()) or heading_of(first.text) is not None
    if len(row) > 1 or not named:
        return 0
    for back in (1, 2):
        over = rows[at - back] if at >= back else None
        words = rows[at - 1] if back > 1 else next(iter(rows[at + 1 :]), None)
        if over is None or words is None or not is_music(over) or is_music(words):
            continue
        near = over[0].y - words[0].y <= _NEAR * max(over[0].size, words[0].size)
        low = words[0].y - first.y <= _BELOW * words[0].size
        if near and low and first.end < min(over[0].x, words[0].x):
            return back
    return 0


def _names(first: TextRun, rest: Row) -> bool:
    """Whether a piece is a section's name apart from what is after it on its line."""
    if rest and first.mark == _LABEL and _NUMBER.fullmatch(first.text.strip()):
        return True
    if not _is_apart(first, rest) or any("|" in piece.text for piece in rest):
        return False
    return heading_of(first.text) is not None and heading_of(rest[0].text) is None


def _is_apart(first: TextRun, rest: Row) -> bool:
    return bool(rest) and rest[0].x - first.end > WIDE * max(first.size, rest[0].size)


def _is_over(above: Row, row: Row, is_music: Callable[[Row], bool]) -> bool:
    """Whether a row of chords is that of the words after a name, with nothing over the name."""
    near = above[0].y - row[0].y <= _NEAR * max(above[0].size, row[0].size)
    right = above[0].x > row[0].end
    return near and right and is_music(above) and not is_music(row[1:])


def _letters(
    rows: list[Row], uprights: Sequence[Upright], is_music: Callable[[Row], bool]
) -> list[TextRun]:
    """The letters that name parts, left of rows of chords: in boxes, or all from A on and each
    with a bar line between it and its chords."""
    letters = [
        row[0]
        for row in rows
        if _LETTER.fullmatch(text_of(row[:1])) and row[1:] and is_music(row[1:])
    ]
    boxed = [one for one in letters if _in_box(one, uprights)]
    if boxed or not letters:
        return boxed
    order = "".join(dict.fromkeys(text_of([one])[0] for one in letters))
    starts = {id(row[0]): row[1].x for row in rows if row[1:]}
    parted = all(_line_between(one, starts[id(one)], uprights) for one in letters)
    return letters if len(order) > 1 and "ABCDEFGHIJKL".startswith(order) and parted else []


def _in_box(letter: TextRun, uprights: Sequence[Upright]) -> bool:
    """Whether two lines of one height, of lines sorted from the left, stand close at both sides of
    a letter."""
    low, high = letter.y, letter.y + letter.size / 2
    first = bisect_left(uprights, letter.x - _BOX, key=lambda one: one.x)
    last = bisect_right(uprights, letter.end + _BOX, key=lambda one: one.x)
    near = uprights[first : min(last, first + _MOST_NEAR)]
    sides = [one for one in near if one.low <= low and one.high >= high]
    left = [one for one in sides if -_BOX <= one.x - letter.x <= 0]
    right = [one for one in sides if 0 <= one.x - letter.end <= _BOX]
    return any(
        abs(one.high - two.high) <= 1 and one.high - one.low <= 3 * letter.size
        for one in left
        for two in right
    )


def _line_between(letter: TextRun, start: float, uprights: Sequence[Upright]) -> bool:
    return any(one.low <= letter.y <= one.high and letter.end <= one.x <= start for one in uprights)
