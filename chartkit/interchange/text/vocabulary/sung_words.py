"""Words and signs by which a line shows that it is sung."""

import re

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
