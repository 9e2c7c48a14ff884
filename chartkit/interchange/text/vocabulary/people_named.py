"""People whose names could be chords ("Bo", "Em", "Emma"), by how a sheet speaks of them.

Somebody is greeted above the song, told what to do behind a colon ("Bo: out"), or said to do
something in brackets ("(Bo in, whole notes)").  A name that also stands in a row of chords is left
a chord.  Source of the ways: common practice, no source.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from chartkit.interchange.text.quick_looks import has_any

_NAME = r"[A-H][a-z]{1,4}"
_BEGINS = (
    r"(?:^\W*|[(\[,;&+/]\s*|\s[-–—]\s+|\b(?:and|with|without|for|und|mit|ohne|für|et|avec|sans|pour|y|con|sin|"
    r"para|e|senza|per|en|met|zonder|voor|och|med|utan|og|uden|uten|i|z|bez|dla)\s+)"
)
_JOINED = r"\s*(?:[&+,/]|\b(?:and|und|et|y|e|en|och|og|i)\b)\s*"
_TOLD = re.compile(
    rf"{_BEGINS}(?P<name>{_NAME})\s?:\s+(?=[^\W\d_A-Z]{{2}}|\d+ bars?\b|[A-Z][a-z]{{3}})"
)
_IN_BRACKETS = re.compile(rf"[(\[]\s*(?P<name>{_NAME})\s+(?=[^\W\d_A-Z]{{2}})")
_GREETED = re.compile(
    r"\W*(?:(?P<hello>(?i:hi|hiya|hello|hey|dear|yo|oi|morning|evening|hallo|moin|servus|hoi|liebe[rs]?|lieve|beste|dag|"
    r"hej|hei|kære|kjære|kära|ciao|car[oaie]|hola|querid[oa]s?|ol[áa]|salut|bonjour|ch(?:er|ère)s?|cześć|drog[ia])"
    r"\s+))?(?P<names>[A-Z]\w{1,12}(?:\s*(?:,|&|\+|/|\b(?:and|und|et|y|e|en|och|og|i)\b)\s*[A-Z]\w{1,12}){0,3})"
    r"\s*[,!]\s*"
)
_LABEL = re.compile(rf"\s*(?:[(\[]\s*(?P<within>{_NAME})\s*[)\]]:?|(?P<before>{_NAME}):)\s*")
_BEHIND_A_NAME = re.compile(
    rf"\W*[^\W\d_][\w .'’-]{{1,20}}[(\[]\s*(?P<names>{_NAME}(?:{_JOINED}{_NAME}){{0,3}})\s*[)\]]\W*"
)
_A_NAME = re.compile(r"[A-H][a-z]{1,4}")
_SYLLABLES = frozenset({"Do", "Fa"})
"""Notes that are spelled as such names are."""
_ALSO_A_CHORD = re.compile(r"[A-H](?:m|is|es|s)")
"""Names that are chords in any sheet, so that words behind them in brackets tell nothing."""
_CHORDISH = re.compile(r"\(?[A-H][#b♯♭]?(?:maj|min|m|dim|sus|add|aug|o|is|es|\d|/[A-H][#b]?)*\)?")
_SIGNS = re.compile(r"[\s|,\-–—>.:%/*]+")
_TOUCHES = re.compile(rf"\((?P<name>{_NAME})\)[^\W\d_]")
_LONGEST, _LONGEST_LABEL = 200, 20
_FEWEST_LABELS = 2
_MOSTLY = 2 / 3
_LINES_OF_A_GREETING = 3


def people_named(texts: Sequence[str]) -> frozenset[str]:
    """The names of people in a sheet, by its lines, that are spelled as chords can be."""
    named = {*_greeted(texts), *_labels(texts)}
    for text in texts:
        if len(text) <= _LONGEST and (":" in text or "(" in text or "[" in text):
            named.update(match["name"] for match in _TOLD.finditer(text))
            inside = (match["name"] for match in _IN_BRACKETS.finditer(text))
            named.update(name for name in inside if not _ALSO_A_CHORD.fullmatch(name))
            named.update(_beside_a_name(text))
    named -= _SYLLABLES
    return frozenset(named - {*_played(text for text in texts if has_any(text, named))})


def _greeted(texts: Sequence[str]) -> Iterator[str]:
    """The names that the first lines greet."""
    filled = (text for text in texts if text.strip())
    for _, text in zip(range(_LINES_OF_A_GREETING), filled, strict=False):
        match = _GREETED.match(text) if len(text) <= _LONGEST else None
        if match is not None and (match["hello"] or match.end() == len(text)):
            yield from _A_NAME.findall(" ".join(re.split(r"\W+", match["names"])))


def _labels(texts: Sequence[str]) -> Iterator[str]:
    """The names that stand alone above rows of chords, in brackets or before a colon, as those who
    sing do; none where there is only one such line."""
    labels = [
        match["within"] or match["before"]
        for text, below in pairwise(texts)
        if len(text) <= _LONGEST_LABEL and (match := _LABEL.fullmatch(text)) and _is_row(below)
    ]
    return iter(labels if len(labels) >= _FEWEST_LABELS else ())


def _beside_a_name(text: str) -> list[str]:
    """The names in brackets behind a section's, of which one at least is spelled as few chords are
    ("Chorus (Bo & Em)")."""
    match = _BEHIND_A_NAME.fullmatch(text)
    names = _A_NAME.findall(match["names"]) if match is not None else []
    return names if any(not _ALSO_A_CHORD.fullmatch(name) for name in names) else []


def _is_row(text: str) -> bool:
    """Whether a line has several chords and nothing else."""
    pieces = [piece for piece in _SIGNS.split(text) if piece] if len(text) <= _LONGEST else []
    return len(pieces) > 1 and all(map(_CHORDISH.fullmatch, pieces))


def _played(texts: Iterable[str]) -> Iterator[str]:
    """The names that stand among chords or touch a word that they are struck on."""
    for text in texts:
        if len(text) <= _LONGEST and not ("(" in text and _beside_a_name(text)):
            yield from (match["name"] for match in _TOUCHES.finditer(text))
            pieces = [piece for piece in _SIGNS.split(text) if piece]
            chords = [piece.strip("()") for piece in pieces if _CHORDISH.fullmatch(piece)]
            alone = len(pieces) == 1 and not text.rstrip().endswith((",", "!", ":", ")", "]"))
            if alone or (len(chords) > 1 and len(chords) >= _MOSTLY * len(pieces)):
                yield from chords
