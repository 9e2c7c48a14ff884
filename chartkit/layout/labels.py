"""Sets chord names in type: the root, additions to the triad (raised), alterations, the bass.

One rule for each part (after C. Brandt and C. Roemer, *Standardized Chord Symbol Notation*, 1976,
and E. Gould, *Behind Bars*, 2011, both from memory; where they differ the choice is ours).  The
root, its accidental and the kind of triad (m, dim, aug, a minus) stand on the baseline.
What is added to the triad (7, maj7, 6/9, sus4, add9) is raised and smaller.  Parentheses hold
alterations, stacked in two rows where there are several, the lowest at the foot, and what is added
in letters after a letter: Cm(maj7).  Accidentals are
as high as capitals, in the weight of the letters.
"""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from chartkit.layout.frames import FontName, Piece
from chartkit.layout.metrics import SIGNS_BESIDE, Typesetter
from chartkit.theory.chord_parts import NamePart, PrintedChord

_PARTS = re.compile(r"(dim|aug|mi|m(?!a)|-|ø|°)?([^()]*)((?:\([^()]*\))*)(.*)", re.DOTALL)
"""The kind of triad, what is added to it, the parentheses, and whatever follows them."""
_ADDED = re.compile(r"(?:maj|ma|MA|M|△|add)[\d/b#]*")
_SIGN = {"b": "♭", "#": "♯", "-": "−"}
CAPITAL = 0.714
"""The height of capitals and figures in Noto Sans, as part of its size (its OS/2 table)."""

_LEAD_SIZE, _BASS_SIZE = 0.86, 0.88
_RAISED_SIZE: dict[FontName, float] = {"strong": 0.785, "plain": 0.92}
"""The size of raised parts beside the letters: larger in the small line, so that figures of both
are 2.5 mm high at the smallest size that is chosen automatically."""
_OVER_TOP: dict[FontName, float] = {"strong": 0.05, "plain": 0.11}
"""How far raised figures reach over the capitals, as part of the size: the larger, the more."""
_BEHIND_DEGREE = 0.66, 0.16
"""The same two after a degree, where figure follows figure: 1⁵ must not be read as 15."""
_STACKED_SIZE: dict[FontName, float] = {"strong": 0.72, "plain": 0.8}
"""The type of stacked alterations: larger in the small line, as for raised parts."""
_STACK_GAP = 0.06
"""The room between two alterations over one another; they stand around the middle of capitals."""
_QUALITIES_AT_HAND = 1024
"""How many qualities are kept in parts, far more than songs use: each is set in every size."""
LABEL_TOP = 0.98
"""How far a chord name reaches above its baseline at most, as part of its size: a stack."""


class ChordLabel(NamedTuple):
    """A chord name ready to place: its pieces and how wide they are together.

    ``stacked`` says that it has alterations over one another, which reach higher than a root.
    """

    pieces: tuple[Piece, ...]
    width: float
    stacked: bool = False


class ChordLabeller:
    """Sets chord names in one font and size, each distinct name once."""

    def __init__(self, typesetter: Typesetter, font: FontName, size: float, widest: float) -> None:
        self._typesetter = typesetter
        self._font = font
        self._size = size
        self._widest = widest
        self._known: dict[tuple[PrintedChord | None, bool], ChordLabel] = {}

    def label(self, name: PrintedChord | None, optional: bool = False) -> ChordLabel:
        """The name as a label, in parentheses when optional; None is N.C.

        A name wider than the line is set smaller until it fits.
        """
        known = self._known.get((name, optional))
        if known is None:
            known = self._known[name, optional] = self._fitted(name, optional)
        return known

    def _fitted(self, name: PrintedChord | None, optional: bool) -> ChordLabel:
        pieces = self._set(name, self._size, optional)
        width = self._typesetter.width(pieces)
        if width > self._widest:
            pieces = self._set(name, self._size * self._widest / width * 0.99, optional)
            width = self._typesetter.width(pieces)
        return ChordLabel(pieces, width, any(piece.back > 0 for piece in pieces))

    def _set(self, name: PrintedChord | None, size: float, optional: bool) -> tuple[Piece, ...]:
        text = self._typesetter.pieces
        if name is None:
            body = text("N.C.", self._font, size * _LEAD_SIZE)
        else:
            body = self._name(name, size)
        if optional:
            return (*text("(", self._font, size), *body, *text(")", self._font, size))
        return body

    def _name(self, name: PrintedChord, size: float) -> tuple[Piece, ...]:
        bass: tuple[Piece, ...] = ()
        if name.bass is not None:
            slash = self._typesetter.pieces("/", self._font, size * _BASS_SIZE)
            bass = (*slash, *self._part(name.bass, size * _BASS_SIZE, name.number))
        if name.bass_only:
            return bass
        quality = self._quality(name.quality, size, name.number)
        return (*self._part(name.root, size, name.number), *quality, *bass)

    def _part(self, part: NamePart, size: float, sign_first: bool) -> tuple[Piece, ...]:
        symbol = self._typesetter.pieces(part.symbol, self._font, size)
        sign = self._accidentals(part.alteration, size)
        return (*sign, *symbol) if sign_first else (*symbol, *sign)

    def _accidentals(self, alteration: int, size: float) -> tuple[Piece, ...]:
        if alteration == 0:
            return ()
        return self._typesetter.pieces(signs_of(alteration), self._font, size)

    # ---- after the root
    def _quality(self, quality: str, size: float, number: bool) -> tuple[Piece, ...]:
        lead, added, altered = parts_of_quality(quality)
        pieces: list[Piece] = []
        if lead:
            pieces += self._typesetter.pieces(_shown(lead), self._font, size * _LEAD_SIZE)
        part, over = _RAISED_SIZE.get(self._font, 0.785), _OVER_TOP.get(self._font, 0.05)
        if number:
            part, over = _BEHIND_DEGREE
        raised = size * part
        rise = CAPITAL * (size - raised) + size * over
        if added:
            # After a letter of the triad, letters of their own: Cm(maj7), not Cmmaj7.
            apart = lead[-1:].isalpha() and _ADDED.fullmatch(added) is not None
            text = f"({_shown(added)})" if apart else _shown(added)
            pieces += self._typesetter.pieces(text, self._font, raised, rise)
        if len(altered) == 1:
            text = f"({_shown(altered[0])})"
            pieces += self._typesetter.pieces(text, self._font, raised, rise)
        elif altered:
            pieces += self._stack(altered, size)
        return tuple(pieces)

    def _stack(self, altered: Sequence[str], size: float) -> list[Piece]:
        """Alterations in two rows between tall parentheses, the lowest first and at the foot.  Of
        three and more two stand in a row: three rows would be too small to read."""
        setter, signs = self._typesetter, SIGNS_BESIDE.get(self._font, self._font)
        half = (len(altered) + 1) // 2
        rows = (",".join(altered[:half]), ",".join(altered[half:]))
        part = _STACKED_SIZE.get(self._font, 0.72)
        small, step = size * part, size * (CAPITAL * part + _STACK_GAP)
        foot = (size * (CAPITAL + _STACK_GAP)) / 2 - step
        high = step * 2 - size * _STACK_GAP + size * 0.08
        lines = [
            setter.pieces(_shown(one), self._font, small, foot + i * step)
            for i, one in enumerate(rows)
        ]
        widths = [setter.width(line) for line in lines]
        widest, pieces, back = max(widths), list[Piece](), 0.0
        low = foot - size * 0.04
        pieces.append(Piece("(", signs, high, low))
        for line, width in zip(lines, widths, strict=True):
            first, *others = line
            pieces += [first._replace(back=back), *others]
            back = width
        pieces.append(Piece(")", signs, high, low, widths[-1] - widest))
        return pieces


def signs_of(alteration: int) -> str:
    """The accidentals of a letter: two sharps or two flats have a sign of their own, three are the
    single one and the double (Gould; from memory)."""
    single, double = ("♯", "𝄪") if alteration > 0 else ("♭", "𝄫")
    return single * (abs(alteration) % 2) + double * (abs(alteration) // 2)


def has_stack(name: PrintedChord | None) -> bool:
    """Whether alterations stand over one another in a name."""
    return name is not None and len(parts_of_quality(name.quality)[2]) > 1


@lru_cache(maxsize=_QUALITIES_AT_HAND)
def parts_of_quality(quality: str) -> tuple[str, str, tuple[str, ...]]:
    """The kind of triad, what is added to it, and its alterations, the lowest first."""
    lead, added, groups, rest = _PARTS.fullmatch(quality).groups()  # type: ignore[union-attr]
    altered: list[str] = []
    for group in re.findall(r"\(([^()]*)\)", groups):
        if _ADDED.fullmatch(group):
            added += group
        else:
            altered += group.split(",")
    return lead or "", added + rest, tuple(sorted(altered, key=_lowest_first))


def _lowest_first(alteration: str) -> tuple[int, int, str]:
    digits = re.sub(r"\D", "", alteration)
    return int(digits or 0), alteration.count("#") - alteration.count("b"), alteration


@lru_cache(maxsize=_QUALITIES_AT_HAND)
def _shown(text: str) -> str:
    """A part of a name with true accidentals and a true minus."""
    return re.sub(r"[b#](?=\d)|^-", lambda sign: _SIGN[sign[0]], text)
