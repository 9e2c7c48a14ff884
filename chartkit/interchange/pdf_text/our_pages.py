"""Reads what our own pages show besides chords and words, by their typesetting: rows of diagrams,
meters as two figures one over the other, a second guitar's line, what stands in the band.

The words are those of ``layout/top.py``, the figures those of ``layout/bar_signs.py``.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.rows import Row, RowReader
from chartkit.interchange.pdf_text.type_faces import ENDING, enclosed, text_of
from chartkit.interchange.wording import counted

_IN_HEAD = 12
"""How many rows at most the head of our pages has."""
_APART = re.compile(r"D\.[SC]\.|Fine|to Coda")
"""What stands at the end of a row that changes the key, and is a row of its own."""
_SHAPES = " shapes"
_TITLE = "H1"
"""How the file marks a title (ISO 32000-2, 14.8.4); the writer may stand on its line."""
_SIGNS_MEAN = frozenset({"struck early", "stopped short", "left to ring"})
"""What the head says of signs over chords; the words are those of ``layout/strike_marks.py``."""
_OF_BAND = re.compile(r"(?:Second )?guitar: |\d{1,2}/\d{1,2}(?: ·|$)")
"""How the parts of the band begin that stand after the key."""
_SECOND = re.compile(r"Second guitar: (.*?)(?:,|$)")
_LABELS = re.compile(
    r"(?:bold|bold, small|light): "
    r"(shapes to finger|shapes of the second guitar|what sounds|scale degrees|written for)"
)
_VERSE = re.compile(r"\d{1,2}\.(?: .*)?")
_FINGERS = re.compile(r"[1-9T]")
_TRIPLET = "3"
"""The figure of a triplet; fingers of diagrams have others beside it."""
_SMALLER = 0.65
"""Figures at fingers are at most so large beside the names of their diagrams."""
_DEGREE = re.compile(r"\(?[♭♯𝄫𝄪]*[1-7](?:maj|min|m|dim|aug|sus|add|alt|[ø°+♭♯/(),\d-])*")
_DIGIT = re.compile(r"\d{1,2}")
_REMARK = re.compile(r"\(now \S+\)|\(\d+ bars?\)")
_BARS = re.compile(r"\d{1,3} bars?")
_MOST_FIGURES = 400
"""More than any song has bold on its pages, so that a hostile file takes no long time."""
_A_BLANK = 0.12
"""The gap, in ems, that parts words."""
_BESIDE = 1.6
"""How far, in ems, the first line of chords lies at most from the middle of a meter."""
_CLOSE = 1.3
"""How many ems apart the lines of chords of one system stand at most."""
_STACKED = (0.6, 1.1)
"""How far apart, in ems, the two figures of a meter stand."""


def as_a_sheet(pages: list[list[Row]], read: RowReader, findings: Findings) -> list[list[Row]]:
    """Our own pages with what a sheet would have: one line of chords or two, no diagrams."""
    second = second_line(pages[0]) if pages else None
    pages = [*[_head_parted(rows, findings) for rows in pages[:1]], *pages[1:]]
    if second is not None:
        pages = [without_second_line(rows, read, *second) for rows in pages]
    pages = [without_empty_verses(rows) for rows in pages]
    pages = [[part for row in rows for part in _parted(row)] for rows in pages]
    pages = [without_diagrams(rows, read, findings) for rows in pages]
    every = [row for rows in pages for row in rows]
    if sum(map(bool, map(read.chords, every))) < sum(_are_degrees(read.text(row)) for row in every):
        pages = [without_degrees(rows, read, findings) for rows in pages]
    return pages


def _parted(row: Row) -> list[Row]:
    """A row in which a key is set apart from the sign after it, or the number of an ending
    made a remark."""
    if text_of(row).startswith("Key: "):
        at = next((i for i, p in enumerate(row) if i and _APART.match(p.text)), len(row))
        return [part for part in (_without_shapes(row[:at]), row[at:]) if part]
    return [enclosed("(", row, ")")] if ENDING.fullmatch(text_of(row)) else [row]


def _without_shapes(row: Row) -> Row:
    """A new key without the word "shapes" and what follows, where no other line shows what
    sounds."""
    kept: Row = []
    for piece in row:
        text, shapes, _ = piece.text.partition(_SHAPES)
        kept.append(replace(piece, text=text, advances=piece.advances[: len(text)]))
        if shapes:
            return row if "sounds" in text_of(row) else kept
    return kept


def remarks_set(pieces: Sequence[TextRun]) -> list[TextRun]:
    """The pieces with what is drawn among chords and is none as a remark, as a sheet would
    have it: the two figures of a meter as ``(now 3/4)``, how long a rest lasts."""
    joined = _meters(pieces)
    put = (joined.get(id(piece), piece) for piece in pieces)
    return [
        _said(piece, f"({piece.text})") if piece.leans and _BARS.fullmatch(piece.text) else piece
        for piece in put
        if piece is not None
    ]


def _meters(pieces: Sequence[TextRun]) -> dict[int, TextRun | None]:
    """Replaces the figures of meters: the upper one becomes the whole text."""
    figures = [piece for piece in pieces if piece.bold and _DIGIT.fullmatch(piece.text)]
    joined: dict[int, TextRun | None] = {}
    for upper in figures if len(figures) <= _MOST_FIGURES else ():
        for lower in figures:
            ems = (upper.y - lower.y) / upper.size
            centred = abs(upper.x + upper.end - lower.x - lower.end) <= upper.size
            if _STACKED[0] <= ems <= _STACKED[1] and centred and upper.page == lower.page:
                said = _said(upper, f"(now {upper.text}/{lower.text})")
                joined[id(upper)] = replace(said, y=_beside(said, lower.y, pieces))
                joined[id(lower)] = None
                break
    return joined


def _beside(upper: TextRun, foot: float, pieces: Sequence[TextRun]) -> float:
    """The baseline of the chords beside a meter; its own middle where there are none."""
    middle = (upper.y + foot) / 2
    beside = [
        piece
        for piece in pieces
        if piece.page == upper.page
        and piece.bold
        and not _DIGIT.fullmatch(piece.text)
        and abs(piece.y - middle) <= _BESIDE * upper.size
    ]
    nearest = min(beside, key=lambda p: (-p.size, abs(p.y - middle)), default=None)
    return nearest.y if nearest is not None else middle


def _said(piece: TextRun, text: str) -> TextRun:
    """A piece with another text in the same place."""
    letter = (piece.end - piece.x) / len(text)
    return replace(piece, text=text, advances=(letter,) * len(text))


def without_empty_verses(rows: list[Row]) -> list[Row]:
    """Leaves out rows that hold only the number of a verse without words there, over the words of
    another verse; returns the others."""
    return [
        row
        for row, below in zip(rows, [*rows[1:], []], strict=True)
        if not (ENDING.fullmatch(text_of(row)) and _is_verse(below, row[0]))
    ]


def _is_verse(row: Row, above: TextRun) -> bool:
    if not row or _VERSE.fullmatch(text_of(row)) is None:
        return False
    return row[0].size == above.size and abs(row[0].x - above.x) < above.size


def _head_parted(rows: list[Row], findings: Findings) -> list[Row]:
    """The rows of a first page with the writer, the title and the parts of the band parted, and
    without the meanings of signs, which are reported as the signs are drawn."""
    head = [part for row in rows[:_IN_HEAD] for part in _with_writer_apart(row)]
    said = dict.fromkeys(p.text for row in head for p in row if p.text in _SIGNS_MEAN)
    if said:
        findings.leave_out(
            "signs-over-chords", f"signs drawn over chords, which mean: {', '.join(said)}"
        )
    kept = ([piece for piece in row if piece.text not in _SIGNS_MEAN] for row in head)
    return band_parted([*filter(None, kept), *rows[_IN_HEAD:]], findings)


def _with_writer_apart(row: Row) -> list[Row]:
    """A title and the writer who stands on its line, with a word that says so; or the row."""
    title = [piece for piece in row if piece.mark == _TITLE]
    writer = [piece for piece in row if piece.mark != _TITLE]
    return [title, enclosed("Written by ", writer, "")] if title and writer else [row]


def band_parted(rows: list[Row], findings: Findings) -> list[Row]:
    """The rows of a first page with those of its band parted, and without what the second
    guitar does, which becomes a finding."""
    parted: list[Row] = []
    for row in rows[:_IN_HEAD]:
        part: Row = []
        for piece in row:
            if part and _OF_BAND.match(piece.text) and _stands_apart(piece, part[-1]):
                parted.append(part)
                part = []
            part.append(piece)
        parted.append(part)
    kept = [row for row in parted if not _SECOND.match(text_of(row))]
    if len(kept) < len(parted):
        said = next(text_of(row) for row in parted if _SECOND.match(text_of(row)))
        findings.leave_out(
            "second-guitar", f"the second guitar's line of chords, which its capo gives: {said}"
        )
    return [*kept, *rows[_IN_HEAD:]]


def _stands_apart(piece: TextRun, before: TextRun) -> bool:
    """Whether a piece does not belong to the one before it, as the 6/9 of a chord does."""
    return piece.x - before.end > _A_BLANK * piece.size


def without_second_line(rows: list[Row], read: RowReader, place: int, lines: int) -> list[Row]:
    """Leaves out one line of chords of each system: of so many lines in a row with as many chords,
    the one at that place. Returns the rows, in which the others close up to the words."""
    kept: list[Row] = []
    at = 0
    while at < len(rows):
        system = rows[at : at + lines]
        if _is_system(system, read, place, lines):
            others = [row for i, row in enumerate(system) if i != place]
            kept += [_moved(row, to) for row, to in zip(others, system[1:], strict=True)]
            at += lines
        else:
            kept.append(rows[at])
            at += 1
    return kept


def _is_system(rows: list[Row], read: RowReader, place: int, lines: int) -> bool:
    """Whether rows stand close and have as many chords each, those at that place bold."""
    counts = {read.chords(row) for row in rows}
    if len(rows) < lines or len(counts) > 1 or not counts.pop():
        return False
    most = _CLOSE * max(row[0].size for row in rows)
    close = all(above[0].y - below[0].y <= most for above, below in pairwise(rows))
    return close and rows[place][0].bold


def _moved(row: Row, to: Row) -> Row:
    """A row at the height of another."""
    return [replace(piece, y=to[0].y) for piece in row]


def second_line(rows: list[Row]) -> tuple[int, int] | None:
    """At which place the second guitar's line stands, and among how many lines of chords, by
    what the page says of its lines; None where it has none."""
    labels = [label for row in rows[:_IN_HEAD] for label in _LABELS.findall(text_of(row))]
    second = "shapes of the second guitar"
    return (labels.index(second), len(labels)) if second in labels else None


def without_diagrams(rows: list[Row], read: RowReader, findings: Findings) -> list[Row]:
    """The rows without those of chord diagrams, known by the small figures at the fingers."""
    gone: set[int] = set()
    names = 0
    for at, row in enumerate(rows):
        fingers = _fingers_under(rows, at) if read.chords(row) else 0
        if fingers:
            names += read.chords(row)
            gone |= set(range(at, at + fingers + 1))
    if gone:
        findings.leave_out(
            "diagrams",
            f"{counted(names, 'chord diagram')}: the drawn shapes cannot be read",
            f"page {rows[0][0].page}",
        )
    return [row for at, row in enumerate(rows) if at not in gone]


def _fingers_under(rows: list[Row], at: int) -> int:
    """How many rows under one have nothing but small figures."""
    most = _SMALLER * max(piece.size for piece in rows[at])
    count = 0
    for row in rows[at + 1 :]:
        if not all(_FINGERS.fullmatch(p.text.strip()) and p.size <= most for p in row):
            break
        count += 1
    figures = {piece.text.strip() for row in rows[at + 1 : at + count + 1] for piece in row}
    if figures == {_TRIPLET}:
        return 0
    after = at + count + 1
    if count and after < len(rows):
        # The figure of a triplet stands nearer to its own row, below it.
        above = abs(rows[at][0].y - rows[at + 1][0].y)
        if above > abs(rows[after - 1][0].y - rows[after][0].y):
            return 0
    return count


def without_degrees(rows: list[Row], read: RowReader, findings: Findings) -> list[Row]:
    """The rows without those of scale degrees, which become a finding."""
    kept = [row for row in rows if not _are_degrees(read.text(row))]
    if len(kept) < len(rows):
        findings.leave_out(
            "scale-degrees",
            f"{counted(len(rows) - len(kept), 'row')} of scale degrees: only "
            "chord names are read; engrave the page with names",
            f"page {rows[0][0].page}",
        )
    return kept


def _are_degrees(text: str) -> bool:
    tokens = _REMARK.sub("", text).split()
    return any(map(_DEGREE.fullmatch, tokens)) and all(
        _DEGREE.fullmatch(token) or token in ("N.C.", "(N.C.)") for token in tokens
    )
