"""Words and signs by which a line shows that it is sung."""

import re

from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES

HELD = re.compile(r"(?<!\S)_+(?!\S)|[^\W\d_]-(?: {2,}|$)| - (?=\S+ - )")
"""A syllable that is held, or split from the next."""
VOCALS = re.compile(
    r"(?:(?:o+h*|a+h*|u+h*|e+h|h?e+y|na+h?|la+|da|doo|dum|ba|sha|whoa|woah?|yeah|hm+|mm+|oo+|ooh+|"
    r"hej|ay|oi|li|lei|tra|fa|hoo|ho|ha)[\s,!.…–-]*)+",
    re.IGNORECASE,
)
"""Syllables that are only sung."""
SINGER = re.compile(
    r"\b(?:i|i'm|me|my|mine|you|your|she|he|her|his|love|ich|du|mein|dein|je|tu|mon|ton|yo|mi|"
    r"io|mio|jag|min|ik|jij|mijn)\b",
    re.IGNORECASE,
)
"""Words of somebody who sings, in the languages in which sheets are often written; no source."""
_UNSUNG = re.compile(
    r"(?:only |just |nur |seulement |solo )?instrument(?:al(?:ly|e|mente)?|aal)(?: only)?|"
    r"(?:no|without|w/o) (?:singing|vocals?|vox|voices?|words|lyrics)|ohne (?:gesang|text|worte)|"
    r"sans (?:chant|voix|paroles)|sin (?:voz|letra|cantar|canto)|senza (?:voce|canto|parole)|"
    r"zonder (?:zang|tekst)|utan (?:sång|text)|ute?n sang|uden sang|sem (?:voz|letra)|"
    r"bez (?:śpiewu|zpěvu)",
    re.IGNORECASE,
)


def says_unsung(text: str) -> bool:
    """Whether what is said of a section begins with words for its being played without singing
    ("instrumental, 2nd time louder")."""
    return is_unsung(text.partition(",")[0])


_OF_THE_WHOLE = re.compile(
    r"(?:(?:then|and|we)\s+)*(?:play|do|repeat|run|take|go\sthrough|sing)\s+(?:through\s+)?(?:the\s+)?"
    r"(?:whole|entire|full)\s+(?:thing|song|tune|form|lot|piece|sequence|progression)\b.*|"
    rf"(?:(?:das\s)?ganze|alles|tout(?:\sle\smorceau)?|todo(?:\sel\stema)?|tutto(?:\sil\sbrano)?|"
    rf"everything|the\swhole\s(?:thing|song|tune|form|lot))\s+(?:{ANY_TIMES})(?!\w).{{0,60}}",
    re.IGNORECASE,
)
"""How somebody says how often all of a song or a tune is played."""
_LONGEST_OF_THE_WHOLE = 120


def is_unsung(text: str) -> bool:
    """Whether a text says no more than that something is played without singing, or how often the
    whole song is played."""
    plain = text.strip(" .!()")
    whole = len(plain) <= _LONGEST_OF_THE_WHOLE and _OF_THE_WHOLE.fullmatch(plain) is not None
    return whole or _UNSUNG.fullmatch(plain) is not None
