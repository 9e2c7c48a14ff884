"""How names of people are spelled, with initials, hyphens and small words within.

Common practice, no source.
"""

import re

_INITIALS = r"(?:[^\W\d_a-z]\.[ -]?)+"
_CAPITALISED = r"[^\W\d_a-z][^\W\d_]*(?:[-’'][^\W\d_]+)*"
_SMALL = (
    r"(?:v[ao]n|de[nrl]?|dell[ao]|d[aiou]s?|la|le|el|al|a[fv]|zu[mr]?|te[nr]|st\.|bin|ben|mac|ap)"
)
"""Small words within the surnames of several languages."""
_SURNAME = r"[^\W\d_a-z](?:[^\W\d_]+(?:[-’'][^\W\d_]+)*|[’'][^\W\d_]+)"
_FIRST = rf"(?:{_INITIALS}\s?|{_CAPITALISED}\s)"
PERSON = rf"{_FIRST}(?:{_FIRST}|{_SMALL}\s){{0,3}}{_SURNAME}"
_JOINED = (
    r"\s*(?:[/&+,]|(?<![^\W\d_])(?:and|und|u\.|och|o|og|et|y|e|i|en|ja|with|mit)(?![^\W\d_]))\s*"
)
_PERSONS = re.compile(rf"{PERSON}(?:{_JOINED}{PERSON}){{0,3}}")
_OTHERWISE = re.compile(
    r"\b(?:[Vv]ersion|[Dd]emo|[Ll]ive|[Rr]eprise|[Tt]ake|[Pp]art|[Ss]ong|[Mm]ix|[Kk]ey|[Tt]he|[Aa](?!\.)|"
    r"[Cc]apo|[Tt]empo|[Tt]une|[Cc]hords?|[Ss]et|[Vv]erse|[Cc]horus|[Ii]ntro|"
    r"[Tt]exte?|[Ww]ords|[Ll]yrics?|[Mm]usi(?:c|k|que|ca)|[Pp]aroles|[Ll]etra|[Mm]elodie|"
    r"[Aa]ct|[Ss]cene|[Pp]age|[Bb]ook|[Nn]umber|[Oo]ne|[Tt]wo|[Tt]hree|[Ff]our|[Ff]ive)\b|"
    r"\b(?i:in|on|my|of|to|for|me|you|your|our|we|is|it|all|not|no|from)\b|[’'](?:s|t|re|ll|ve)\b"
)
"""Words of titles and headings that stand in no name."""


def is_spelled_as_names(text: str) -> bool:
    """Whether a text is spelled as the names of one or more people, and has no word that stands in
    none."""
    return _PERSONS.fullmatch(text) is not None and _OTHERWISE.search(text) is None
