"""Words about keys, and the key that a text names.

Source of the words: common practice in these languages, no source.
"""

import re

from chartkit.theory.key import Key, parse_key
from chartkit.theory.naming import LETTER_OF, MODE_OF, note_from_german

PLAIN_KEY_NAME = (
    r"key|tonart|tonalité|tonalidade?|tonalità|toonsoort|sävellaji|toneart|tonacja|tonalitet|"
    r"tonality|eochair|cywair|tónina|hangnem"
)
"""What the key of a song is called, by words that mean nothing else."""
KEY_NAME = rf"{PLAIN_KEY_NAME}|tono?|tom"
"""What it is called by any word, also "ton" and "tom"."""

HOW_FAR = re.compile(
    r"(?P<half>half[ -]?(?:step|tone)|semitone|halbton|halben ton|demi-ton|semitono|semitom|"
    r"halve toon|halvton|halvt trinn|halvt steg)|(?:whole )?(?:tone|step)|ganzton|ganzen ton|"
    r"\b(?:un|een|en|einen?) (?:ton|toon|tono)\b|\btono\b|\btom\b",
    re.IGNORECASE,
)
"""How far something is moved: ``half`` for half a tone, else a whole tone."""
HIGHER = re.compile(
    r"\b(?:up|higher|höher|rauf|plus haut|más alt[oa]|arriba|sopra|più su|più alt[oa]|acima|hoger|"
    r"omhoog|högre|upp|høyere|opp|op)\b",
    re.IGNORECASE,
)
"""That something is higher."""


def says_how_much_higher(text: str) -> bool:
    """Whether a remark says that a section is played a tone or half a tone higher."""
    return HIGHER.search(text) is not None and HOW_FAR.search(text) is not None


_OTHER_MODES = {
    **dict.fromkeys(("duuri", "durowa", "durová"), "major"),
    **dict.fromkeys(("molli", "mol", "molowa", "mollová"), "minor"),
}
_MODES = MODE_OF | _OTHER_MODES
"""Modes in German and in languages that name their keys as German does (common practice, no
source)."""
_GERMAN_KEY = re.compile(rf"([A-H])(iss?|ess?|ss?|[#b♯♭])?[- ]?({'|'.join(_MODES)})", re.IGNORECASE)
_GERMAN_TONIC = re.compile(r"([A-H])(is|es|s)(m)?")
_SMALL_KEY = re.compile(r"^[a-g](?=(?:[#b♯♭]| flat| sharp)?[ -](?:minor|major|min|maj)\b)")
"""The small letter of a key whose mode is said."""
_SUNG_KEY = re.compile(
    r"(do|r[eé]|mi|fa|sol|la|si)\s?(#|♯|b|♭|sostenido|bemol|di[eè]se|bémol|diesis|bemolle)?"
    r"(?:\s?(m|mayor|maior|major|majeur|maggiore|menor|mineur|minore|minor))?",
    re.IGNORECASE,
)
_PLAIN_SIGNS = str.maketrans({"♯": "#", "♭": "b"})
_FLAT = ("b", "♭", "bemol", "bémol", "bemolle")
_ACCENTED = re.compile(r"^(?:D[óò]|S[óò]l|F[áà]|L[áà]|M[íì]|S[íì])(?!\w)", re.IGNORECASE)
ACCENTS = str.maketrans("óòáàíìÓÒÁÀÍÌ", "ooaaiiOOAAII")
"""Syllables of notes without the accents of Portuguese, Spanish and Italian."""


_LETTER_AND_MODE = re.compile(
    r"([A-Ga-g][#b]?)[ -](majeur|mayor|maior|maggiore|groot|mineure?|menor|minore|klein)",
    re.IGNORECASE,
)
_MINOR_IN_WORDS = frozenset(["mineur", "mineure", "menor", "minore", "klein"])
"""A letter with its mode in another language than English or German."""


def key_of(text: str) -> Key | None:
    """The key that a text names; None for any other."""
    text = text.strip(" .")
    text = text if text.isascii() else _ACCENTED.sub(lambda one: one[0].translate(ACCENTS), text)
    if (german := _GERMAN_KEY.fullmatch(text)) is not None:
        letter, sign = german[1].upper(), (german[2] or "").lower().replace("ss", "s")
        sign = sign.translate(_PLAIN_SIGNS)
        tonic = f"{letter}{sign}" if sign in ("#", "b") else note_from_german(letter, sign)
        return _parsed(tonic, _MODES[german[3].lower()])
    if (bare := _GERMAN_TONIC.fullmatch(text)) is not None:
        return _parsed(note_from_german(bare[1], bare[2]), "minor" if bare[3] else "major")
    text = _SMALL_KEY.sub(lambda small: small[0].upper(), text)
    if text[:1] == "H":
        text = f"B{text[1:]}"  # only people who call B natural H write it
    try:
        return parse_key(text)
    except ValueError:
        pass
    if (named := _LETTER_AND_MODE.fullmatch(text)) is not None:
        return _parsed(
            named[1].upper(), "minor" if named[2].lower() in _MINOR_IN_WORDS else "major"
        )
    sung = _SUNG_KEY.fullmatch(text)
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
