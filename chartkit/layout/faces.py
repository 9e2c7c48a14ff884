"""The typefaces and their inks, which PDF and SVG share."""

from chartkit.layout.frames import FontName, Piece

FILES: dict[FontName, str] = {
    "strong": "NotoSans-SemiCondensedBold.ttf",
    "plain": "NotoSans-SemiCondensed.ttf",
    "words": "NotoSerif-SemiCondensed.ttf",
    "italic": "NotoSerif-SemiCondensedItalic.ttf",
    "title": "NotoSerif-SemiCondensedBold.ttf",
    "music": "NotoMusic-Regular.ttf",
    "strong-signs": "ChartkitSigns-Bold.ttf",
    "plain-signs": "ChartkitSigns-Regular.ttf",
}
KERNED: frozenset[FontName] = frozenset({"words", "italic", "title"})
"""The fonts of running text; chord names are too short to need it."""
DARK_PAPER, LIGHT_INK = 0.07, 0.94
"""The greys of a dark page: not quite black and white, which glare on a screen."""
_THICKER: dict[FontName, float] = {"strong": 0.035, "title": 0.035, "plain": 0.015}
"""How much a ♭ or ♯ beside bold or plain letters is thickened, as a part of its size: the
music font has one weight only, which is that of serif text."""


def extra_weight(pieces: tuple[Piece, ...], at: int) -> float:
    """By what share of its size a piece is thickened: a sign is as heavy as the letters before it,
    or else after it."""
    if pieces[at].font != "music":
        return 0.0
    beside = [piece.font for piece in (*reversed(pieces[:at]), *pieces[at:])]
    letters = next((font for font in beside if font != "music"), None)
    return _THICKER.get(letters, 0.0) if letters else 0.0
