"""Whether lines below a song are its last words, though all its other words have chords or a name
above them: they say again what was sung.

Source: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from chartkit.interchange.text.kinds.line_kinds import Blank, KnownLine, Words
from chartkit.interchange.text.vocabulary.directions import (
    is_direction,
    is_greeting,
    is_talk,
    speaks_of_music,
)

_WORD = re.compile(r"[^\W\d_]+(?:[’'][^\W\d_]+)?")
_FEWEST_LETTERS = 8
"""So many letters two words have that are said again by no chance (ours)."""
_FEWEST_LINES = 2


def sung_below(known: Sequence[KnownLine], last: int) -> frozenset[int]:
    """The lines of words apart below the ``last`` one of the music that are the song's: several, of
    which one has two words together that are sung above, and none is talk or ends as a sentence to
    the reader does."""
    places = range(last + 1, len(known))
    apart = next((at for at in places if isinstance(known[at].kind, Blank)), len(known))
    words = [at for at in places[apart - last :] if isinstance(known[at].kind, Words)]
    texts = [known[at].line.text.strip() for at in words]
    if len(texts) < _FEWEST_LINES or any(map(_is_said, texts)):
        return frozenset()
    sung = {
        pair
        for one in known[:last]
        if isinstance(one.kind, Words)
        for pair in _pairs(one.line.text)
    }
    again = any(pair in sung for text in texts for pair in _pairs(text))
    return frozenset(words) if again else frozenset()


def _is_said(text: str) -> bool:
    """Whether a line is said to the reader or to the players."""
    talks = text[-1:] in "!?:" or is_talk(text) or is_greeting(text)
    return talks or speaks_of_music(text) or is_direction(text)


def _pairs(text: str) -> Iterator[str]:
    """The words of a text that stand side by side, those long enough."""
    for one, two in pairwise(_WORD.findall(text.casefold())):
        if len(one) + len(two) >= _FEWEST_LETTERS:
            yield f"{one} {two}"
