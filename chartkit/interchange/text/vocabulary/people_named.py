"""People whose names could be chords ("Bo", "Em", "Emma"), by how a sheet speaks of them.

Somebody is greeted above the song, told what to do behind a colon ("Bo: out"), or said to do
something in brackets ("(Bo in, whole notes)").  A name that also stands in a row of chords is left
a chord.  Source of the ways: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence

_NAME = r"[A-H][a-z]{1,4}"
_BEGINS = (
    r"(?:^\W*|[(\[,;&+/]\s*|\s[-–—]\s+|\b(?:and|with|without|for|und|mit|ohne|für|et|avec|sans|pour|y|con|sin|"
    r"para|e|senza|per|en|met|zonder|voor|och|med|utan|og|uden|uten|i|z|bez|dla)\s+)"
)
_TOLD = re.compile(
    rf"{_BEGINS}(?P<name>{_NAME})\s?:\s+(?=[^\W\d_A-Z]{{2}}|\d+ bars?\b|[A-Z][a-z]{{3}})"
)
_IN_BRACKETS = re.compile(rf"[(\[]\s*(?P<name>{_NAME})\s+(?=[^\W\d_A-Z]{{2}})")
_GREETED = re.compile(
    r"\W*(?:(?i:hi|hiya|hello|hey|dear|yo|oi|morning|evening|hallo|moin|servus|hoi|liebe[rs]?|lieve|beste|dag|"
    r"hej|hei|kære|kjære|kära|ciao|car[oaie]|hola|querid[oa]s?|ol[áa]|salut|bonjour|ch(?:er|ère)s?|cześć|drog[ia])"
    r"\s+)?(?P<names>[A-Z]\w{1,12}(?:\s*(?:,|&|\+|/|\b(?:and|und|et|y|e|en|och|og|i)\b)\s*[A-Z]\w{1,12}){0,3})"
    r"\s*[,!]\s*"
)
_A_NAME = re.compile(r"[A-H][a-z]{1,4}")
_ALSO_A_CHORD = re.compile(r"[A-H](?:m|is|es|s)")
"""Names that are chords in any sheet, so that words behind them in brackets tell nothing."""
_CHORDISH = re.compile(r"\(?[A-H][#b♯♭]?(?:maj|min|m|dim|sus|add|aug|o|is|es|\d|/[A-H][#b]?)*\)?")
_SIGNS = re.compile(r"[\s|,\-–—>.:%/*]+")
_TOUCHES = re.compile(rf"\((?P<name>{_NAME})\)[^\W\d_]")
_LONGEST = 200
_MOSTLY = 2 / 3
_LINES_OF_A_GREETING = 3


def people_named(texts: Sequence[str]) -> frozenset[str]:
    """The names of people in a sheet, by its lines, that are spelled as chords can be."""
    named = {*_greeted(texts)}
    for text in texts:
        if len(text) <= _LONGEST and (":" in text or "(" in text or "[" in text):
            named.update(match["name"] for match in _TOLD.finditer(text))
            inside = (match["name"] for match in _IN_BRACKETS.finditer(text))
            named.update(name for name in inside if not _ALSO_A_CHORD.fullmatch(name))
    return frozenset(named - {*_played(texts)} if named else named)


def _greeted(texts: Sequence[str]) -> Iterator[str]:
    """The names that the first lines greet."""
    filled = (text for text in texts if text.strip())
    for _, text in zip(range(_LINES_OF_A_GREETING), filled, strict=False):
        match = _GREETED.fullmatch(text) if len(text) <= _LONGEST else None
        if match is not None:
            yield from _A_NAME.findall(" ".join(re.split(r"\W+", match["names"])))


def _played(texts: Sequence[str]) -> Iterator[str]:
    """The names that stand among chords or touch a word that they are struck on."""
    for text in texts:
        if len(text) <= _LONGEST:
            yield from (match["name"] for match in _TOUCHES.finditer(text))
            pieces = [piece for piece in _SIGNS.split(text) if piece]
            chords = [piece.strip("()") for piece in pieces if _CHORDISH.fullmatch(piece)]
            alone = len(pieces) == 1 and not text.rstrip().endswith((",", "!"))
            if alone or (len(chords) > 1 and len(chords) >= _MOSTLY * len(pieces)):
                yield from chords
