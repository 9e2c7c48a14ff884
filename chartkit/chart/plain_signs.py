"""What our fonts can draw, and plain spellings of signs that they cannot.

Telephones and mail programs turn typed arrows and stars into signs of their own.  A page has them
as they would be typed on a keyboard (ours; common practice, no source).
"""

from bisect import bisect_right
from unicodedata import category, normalize

_DRAWN = (
    "20-7e a0-24f 259-259 2b0-377 37a-37f 384-38a 38c-38c 38e-3a1 3a3-3e1 3f0-52f 1e00-1f15 "
    "1f18-1f1d 1f20-1f45 1f48-1f4d 1f50-1f57 1f59-1f59 1f5b-1f5b 1f5d-1f5d 1f5f-1f7d 1f80-1fb4 "
    "1fb6-1fc4 1fc6-1fd3 1fd6-1fdb 1fdd-1fef 1ff2-1ff4 1ff6-1ffe 2000-2064 2066-2071 2074-208e "
    "2090-209c 20a0-20bf 2100-214f 2212-2212 25b3-25b3 2669-266f fffd-fffd 1d12a-1d12b "
    "1d157-1d157 1d15d-1d15d 1d165-1d165"
)
"""The characters of the fonts for text, first and last of each stretch; a test compares them with
the font files."""
_STRETCHES = [tuple(int(end, 16) for end in stretch.split("-")) for stretch in _DRAWN.split()]
_FIRSTS = [first for first, _ in _STRETCHES]

_SPELLINGS = {
    "->": "→➔➜➝➞➡⟶🡒",
    "<-": "←⬅⟵",
    "<->": "↔⟷",
    "=>": "⇒⟹",
    "<=": "⇐⟸≤",
    ">=": "≥",
    "(up)": "↑⬆↗⇧🔼",
    "(down)": "↓⬇↘⇩🔽",
    "(again)": "↩↪↺↻🔁🔂",
    "*": "★☆⭐🌟✱✶✻∗",
    "(ok)": "✓✔✅☑👍",
    "x": "✗✘✕✖❌☒",
    "•": "●○■□▪▫▶►▸◆◇◦∙⚫⚪",
    "!": "❗❕",
    "?": "❓❔",
    "(!)": "⚠",
    "~": "≈∼",
}
"""Plain spellings, and the signs that each stands for.  Pictures that only adorn, such as hearts
and faces, have none and are left out."""
_PLAIN = {sign: plain for plain, signs in _SPELLINGS.items() for sign in signs}


def is_drawn(character: str) -> bool:
    """Whether our own fonts can draw a character, or it only joins or colours others."""
    if character.isascii() or category(character) in ("Mn", "Cf", "Cc"):
        return True
    stretch = bisect_right(_FIRSTS, ord(character)) - 1
    return stretch >= 0 and ord(character) <= _STRETCHES[stretch][1]


def plain_spelling(character: str) -> str:
    """How a sign that no font has is printed, such as "->" for an arrow: our spelling of it, or
    the letters and figures that it is made of (Unicode normal form KC); empty where it has none."""
    plain = _PLAIN.get(character) or normalize("NFKC", character).replace("\N{FRACTION SLASH}", "/")
    return plain if plain != character and all(map(is_drawn, plain)) else ""
