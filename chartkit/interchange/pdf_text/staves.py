"""Staves drawn on other people's pages: what stands on them is engraving, and no text.

Five level lines at one distance are a staff (common practice, no source).  Clefs, signatures and
the heads of notes are letters of a music font to a PDF; a meter among them is read.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.pdf_text.music_signs import BARS_SAID, IN_CHORDS, SIGN
from chartkit.interchange.pdf_text.page_text import TextRun

METER = "meter"
"""Marks the piece that says the meter in words, which stands on no page itself."""
_LINES = 5
_NEAREST, _FURTHEST = 2.5, 10.0
"""How near and how far apart the lines of a staff are, in points."""
_UNEVEN = 0.8
"""By how many points the distances of the lines of a staff may differ."""
_LONGEST_SIGN = 3
"""The most letters of what is taken for a sign; instruments have longer names."""
_NUMBER_BEFORE, _NUMBER_BEHIND, _NUMBER_ABOVE = 20.0, 16.0, 3.5
"""How far, in points, the number of a measure stands before and after the left end of its staff,
and above it in distances of its lines."""
_LEGER = 5.0
"""How far beyond the staff notes stand, in distances of its lines."""
_MUSIC_TYPE = 1.5
"""How many times as large as the usual text the type of notes is at least: it is as high as a staff
(ours)."""
_FIGURES = {chr(0xE080 + figure): str(figure) for figure in range(10)}
"""The figures of meters in music fonts.  Source: SMuFL 1.4, time signatures; from memory."""
_WHOLE_METERS = {"\ue08a": "4/4", "\ue08b": "2/2"}
"""The signs of common time and cut time (the same source)."""
_MOST_STAVES, _MOST_SIGNS = 60, 200
"""The most staves of a page, and signs of a staff, that are looked at; no page has more."""
_UNITS = ("2", "4", "8", "16")
_FONT_SIGNS = re.compile("[\ue000-\uf8ff]+")
_SHORT_CHORD = re.compile(r"[A-H][b#♭♯]?(?:m|-|[\d+°øØ△Δ]){0,2}|[A-H]/[A-H]")
_WORD = re.compile(r"[^\W\d_]{4}")
_TAB = ("T", "A", "B")
_OF_A_CHORD = re.compile(r"(?:^|[\s/(])[A-H]\S{0,12}$|^[b#\d+°ø△()/-]{1,6}$")
_BOX, _MOST_IN_BOX = 12.0, 40
"""The width and height of the boxes, in points, in which ends are looked up, and the most pieces of
one; a hostile file takes no long time."""
_TYPED_ACCIDENTALS = ("b", "#", "♭", "♯")
_BESIDE = 0.35
"""How far, in ems, an accidental stands from the letters of its chord at most (ours)."""
Level = tuple[float, float, float]
"""A level line: its height, its left and its right end, in points."""


@dataclass(frozen=True, slots=True)
class Staff:
    """A staff: its lowest and its highest line, its left and its right end, in points."""

    low: float
    high: float
    left: float
    right: float

    @property
    def gap(self) -> float:
        """The distance of its lines, by those of a staff of five."""
        return (self.high - self.low) / (_LINES - 1)

    def carries(self, piece: TextRun) -> bool:
        """Whether a piece stands on the staff."""
        level = self.low - self.gap / 2 <= piece.y <= self.high + self.gap / 4
        return level and self.left - self.gap <= piece.x <= self.right

    def is_near(self, piece: TextRun) -> bool:
        """Whether a piece stands where leger lines can be."""
        level = self.low - _LEGER * self.gap <= piece.y <= self.high + _LEGER * self.gap
        return level and self.left - self.gap <= piece.x <= self.right

    def numbers(self, piece: TextRun) -> bool:
        """Whether a piece is the number of the staff's first measure, above its left end."""
        near = -_NUMBER_BEFORE <= piece.x - self.left <= _NUMBER_BEHIND
        above = 0 < piece.y - self.high <= _NUMBER_ABOVE * self.gap
        return near and above and piece.text.strip(" ()[]").isdecimal()


def staves_of(levels: Iterable[Level]) -> list[Staff]:
    """The staves that level lines make, tablatures of six among them; lines that are drawn measure
    by measure are one."""
    ends = defaultdict[float, list[tuple[float, float]]](list)
    for y, left, right in levels:
        ends[round(2 * y) / 2].append((left, right))
    heights = sorted(ends)
    staves: list[Staff] = []
    at = 0
    while at + _LINES <= len(heights) and len(staves) < _MOST_STAVES:
        five = heights[at : at + _LINES]
        gaps = [above - below for below, above in pairwise(five)]
        even = max(gaps) - min(gaps) <= _UNEVEN
        if even and _NEAREST <= gaps[0] <= _FURTHEST:
            lines = [line for height in five for line in ends[height]]
            left, right = min(line[0] for line in lines), max(line[1] for line in lines)
            at += _LINES
            sixth = heights[at] if at < len(heights) else 0.0
            tablature = abs(sixth - five[-1] - gaps[0]) <= _UNEVEN
            staves.append(Staff(five[0], sixth if tablature else five[-1], left, right))
            at += tablature
        else:
            at += 1
    return staves


def without_signs(
    pieces: Sequence[TextRun], staves: Sequence[Staff], findings: Findings
) -> list[TextRun]:
    """Leaves out the pieces of a page that stand on its staves, and the numbers of measures above
    them. Returns the others; if a meter was among those, a piece that says it comes first."""
    if not staves:
        chords = _ends_of_chords(pieces)
        return [one for one in pieces if one.mark != SIGN or not _is_loose(one, chords)]
    kept: list[TextRun] = []
    signs: list[TextRun] = []
    chords = _ends_of_chords(pieces)
    typed = _chord_type(pieces, staves)
    for piece in pieces:
        text = piece.text.strip()
        of_bars = text in BARS_SAID or (piece.mark == SIGN and text.startswith("rest "))
        short = len(text) <= _LONGEST_SIGN and not of_bars and not _is_typed(piece, typed)
        sign = _FONT_SIGNS.fullmatch(text) is not None
        on_staff = short and any(one.carries(piece) or one.numbers(piece) for one in staves)
        loose = piece.mark == SIGN and _is_loose(piece, chords)
        (signs if sign or on_staff or loose else kept).append(piece)
    kept = _without_music_type(kept, signs, staves)
    kept = _without_music_fonts(kept, signs, findings)
    _report_letters(kept, signs, findings)
    meters = [meter for staff in staves for meter in _meters(staff, signs)]
    if not meters:
        return kept
    if any(meter[1] != meters[0][1] for meter in meters):
        findings.leave_out(
            "drawn-meter",
            "changes of the meter that stand on the staves",
            f"page {pieces[0].page}",
        )
    first, said = meters[0]
    return [replace(first, text=said, advances=(0.0,) * len(said), mark=METER), *kept]


_Type = frozenset[tuple[str, float]]


def _chord_type(pieces: Sequence[TextRun], staves: Sequence[Staff]) -> _Type:
    """The fonts and sizes in which chords are typed between the lines of staves: fonts that words
    are set in, or that hold chords alone, where the signs of engravers have fonts of their own.
    The letters of TAB are no chords."""
    there = [one for one in pieces if any(staff.carries(one) for staff in staves)]
    named = [one for one in there if _SHORT_CHORD.fullmatch(one.text.strip())]
    if not named:
        return frozenset()
    words = _fonts_of_words(pieces)
    others = {one.font for one in pieces if not _OF_A_CHORD.search(one.text.strip())}
    roots: dict[str, set[str]] = defaultdict(set)
    for one in named:
        roots[one.font].add(one.text.strip()[0])
    tops = {(round(one.x / _BOX), one.font) for one in there if one.text.strip() == "T"}
    return frozenset(
        (one.font, one.size)
        for one in named
        if one.font in words or (one.font not in others and len(roots[one.font]) > 1)
        if not any((round(one.x / _BOX) + by, one.font) in tops for by in (-1, 0, 1))
    )


def _is_typed(piece: TextRun, typed: _Type) -> bool:
    """Whether a piece is set in the type of chords between lines, and no number."""
    return (piece.font, piece.size) in typed and not piece.text.strip(" ()[]").isdecimal()


def _fonts_of_words(pieces: Sequence[TextRun]) -> set[str]:
    return {one.font for one in pieces if _WORD.search(one.text)}


def _report_letters(kept: Sequence[TextRun], signs: Sequence[TextRun], findings: Findings) -> None:
    """Tells of letters between the lines of staves that are left out, in the fonts of words."""
    words = _fonts_of_words(kept)
    gone = [one for one in signs if one.font in words and one.text.strip().isalpha()]
    gone = [one for one in gone if one.text.strip() not in _TAB and one.text not in IN_CHORDS]
    if gone:
        findings.leave_out(
            "drawn-signs",
            "letters between the lines of staves, which are taken for signs: "
            + " ".join(dict.fromkeys(one.text.strip() for one in gone))[:40],
            f"page {gone[0].page}",
        )


_Ends = dict[tuple[int, int], list[TextRun]]


def _ends_of_chords(pieces: Sequence[TextRun]) -> _Ends:
    """What may be a chord or its accidental, by the box in which it ends."""
    ends = defaultdict[tuple[int, int], list[TextRun]](list)
    if any(piece.mark == SIGN for piece in pieces):
        for piece in pieces:
            there = ends[round(piece.end / _BOX), round(piece.y / _BOX)]
            if len(there) < _MOST_IN_BOX and _OF_A_CHORD.search(piece.text):
                there.append(piece)
    return ends


def _is_loose(sign: TextRun, ends: _Ends) -> bool:
    """Whether a sign of chords stands beside none, as the accidentals of notes do."""
    if sign.text not in IN_CHORDS:
        return False
    across, up = round(sign.x / _BOX), round(sign.y / _BOX)
    near = (
        one
        for box in product((across - 1, across, across + 1), (up - 1, up, up + 1))
        for one in ends.get(box, ())
    )
    return not any(
        one is not sign
        and -_BESIDE <= (sign.x - one.end) / one.size <= _BESIDE
        and abs(sign.y - one.y) <= one.size
        for one in near
    )


def _without_music_type(
    kept: Sequence[TextRun], signs: Sequence[TextRun], staves: Sequence[Staff]
) -> list[TextRun]:
    """The pieces without short ones near a staff in the large type of the signs on it: notes on
    leger lines, accidentals."""
    sizes = sorted(piece.size for piece in kept for _ in piece.text)
    large = _MUSIC_TYPE * sizes[len(sizes) // 2] if sizes else 0.0
    music = {round(sign.size) for sign in signs if sign.size >= large}
    return [
        piece
        for piece in kept
        if round(piece.size) not in music
        or len(piece.text.strip()) > _LONGEST_SIGN
        or not any(staff.is_near(piece) for staff in staves)
    ]


def _without_music_fonts(
    kept: Sequence[TextRun], signs: Sequence[TextRun], findings: Findings
) -> list[TextRun]:
    """The pieces without those of fonts in which notes and clefs are letters, but for accidentals
    of chords; what is left out is reported."""
    on_staff = {one.font for one in signs if one.font and not one.text.strip(" /").isalnum()}
    in_words = {one.font for one in kept if len(one.text.strip()) > _LONGEST_SIGN}
    fonts = {font for font in on_staff - in_words if not _names_chords(font, kept)}
    gone = [
        one
        for one in kept
        if one.font in fonts and one.mark != SIGN and one.text not in _TYPED_ACCIDENTALS
    ]
    if gone:
        findings.leave_out(
            "drawn-signs",
            "signs of a music font over the staves whose letters are not known here: "
            + " ".join(dict.fromkeys(one.text for one in gone))[:40],
            f"page {gone[0].page}",
        )
    left_out = set(map(id, gone))
    return [one for one in kept if id(one) not in left_out]


def _names_chords(font: str, pieces: Sequence[TextRun]) -> bool:
    """Whether pieces in a font are letters of chords."""
    return any(one.font == font and "A" <= one.text[:1] <= "H" for one in pieces)


def _meters(staff: Staff, signs: Sequence[TextRun]) -> list[tuple[TextRun, str]]:
    """The meters on a staff, from the left: two numbers one above the other, or one sign."""
    there = sorted((one for one in signs if staff.carries(one)), key=lambda one: one.x)
    there = there[:_MOST_SIGNS]
    numbers = [(one, "".join(_FIGURES.get(c, c) for c in one.text.strip())) for one in there]
    meters = [(one, _WHOLE_METERS[text]) for one, text in numbers if text in _WHOLE_METERS]
    for one, beats in numbers:
        for other, unit in numbers:
            apart = one.y - other.y
            stacked = staff.gap <= apart <= 3 * staff.gap and abs(one.x - other.x) <= staff.gap
            if stacked and beats.isdecimal() and unit in _UNITS:
                meters.append((one, f"{beats}/{unit}"))
    return sorted(meters, key=lambda meter: meter[0].x)
