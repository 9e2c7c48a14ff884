"""Keys as they are named in several languages: ``h-Moll``, ``B-Dur``, ``Re menor``.

Source of the names: common practice; in German H is B natural and B is B flat.
"""

import re

from chartkit.theory.key import Key, parse_key
from chartkit.theory.naming import LETTER_OF, from_german

_GERMAN = re.compile(r"([A-Ha-h])(is|es|s)?[- ]?(dur|moll)", re.IGNORECASE)
_SUNG = re.compile(
    r"(do|r[eé]|mi|fa|sol|la|si)\s?(#|♯|b|♭|sostenido|bemol|di[eè]se|bémol|diesis|bemolle)?"
    r"(?:\s?(m|mayor|major|majeur|maggiore|menor|mineur|minore|minor))?",
    re.IGNORECASE,
)
_FLAT = ("b", "♭", "bemol", "bémol", "bemolle")


def key_of(text: str) -> Key | None:
    """The key that a text names; None for any other."""
    text = text.strip(" .")
    if (german := _GERMAN.fullmatch(text)) is not None:
        tonic = from_german(german[1].upper(), (german[2] or "").lower())
        return _parsed(tonic, "minor" if german[3].lower() == "moll" else "major")
    try:
        return parse_key(text)
    except ValueError:
        pass
    sung = _SUNG.fullmatch(text)
    if sung is None:
        return None
    sign = "" if not sung[2] else "b" if sung[2].lower() in _FLAT else "#"
    minor = sung[3] is not None and sung[3].lower().startswith(("men", "min"))
    minor = minor or sung[3] == "m"
    tonic = LETTER_OF[sung[1].lower()] + sign
    return _parsed(tonic, "minor" if minor else "major")


def _parsed(tonic: str, mode: str) -> Key | None:
    try:
        return parse_key(f"{tonic} {mode}")
    except ValueError:
        return None
