"""Words about keys.

Source of the words: common practice in these languages, no source.
"""

import re

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
    r"\b(?:un|een|en) (?:ton|toon|tono)\b|\btono\b|\btom\b",
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
