"""Whether capital letters show where lines of words begin.

They do in many scores that print no full stops.  Other scores print none, or one on every noun.
Lines begin at even distances (common practice, no source), which nouns do not.
"""

import re
from collections.abc import Iterator, Mapping, Sequence

from chartkit.interchange.score.events import SungSyllable
from chartkit.interchange.score.timed import Timed

_FEWEST_LINES = 4
_MOST_A_WORD = 0.34
"""The most words that begin lines: lines have three words or more (ours)."""
_MOST_ODD = 0.1
"""The share of capitals that may stand elsewhere: names have them too (ours)."""
_LINE = 2
"""Lines have a number of bars that this divides."""
_ALWAYS = re.compile(r"I(?:['’]\w+)?\W*|O")
"""Words with a capital wherever they stand."""
_BEFORE = "\"'“”„‘‚«»‹›([¿¡"
"""Signs that stand before the first letter of a line."""


def begins_with_capital(one: SungSyllable) -> bool:
    """Whether a word has a capital letter that it would not have anywhere in a line; of "O-" and
    "ver" that is the first syllable."""
    text = one.text if one.text[:1].isalnum() else one.text.lstrip(_BEFORE)
    return text[:1].isupper() and (one.goes_on or _ALWAYS.fullmatch(text) is None)


def capitals_begin_lines(
    bars: Sequence[Timed], before: Mapping[int, Mapping[str, tuple[SungSyllable, ...]]]
) -> bool:
    """Whether the words with capitals of the first verse stand where lines begin, each in the
    first half of a bar or as an upbeat to one, all an even number of bars apart."""
    verse = min((one.verse for now in bars for one in now.measure.sung), default="")
    words = list(_words(bars, before, verse))
    lines = [bar for one, bar in words if begins_with_capital(one)]
    if not _FEWEST_LINES <= len(lines) <= _MOST_A_WORD * len(words):
        return False
    odd = sum((bar - lines[0]) % _LINE != 0 for bar in lines)
    return odd <= _MOST_ODD * len(lines)


def _words(
    bars: Sequence[Timed],
    before: Mapping[int, Mapping[str, tuple[SungSyllable, ...]]],
    verse: str,
) -> Iterator[tuple[SungSyllable, int]]:
    """The first syllable of each word, with the bar in which it is sung or that it leads to."""
    goes_on = False
    for i, now in enumerate(bars):
        for one in (*before.get(i, {}).get(verse, ()), *now.measure.sung):
            if one.verse != verse or not one.text:
                continue
            if not goes_on:
                leads = one in now.measure.sung and (one.onset * 2 >= now.full or now.pickup)
                yield one, i + leads
            goes_on = one.goes_on
