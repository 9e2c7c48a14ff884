"""Where phrases begin, by several signs at once: a capital, a sign that ends a sentence or a part
of one, a rest of the singer.

Each sign alone is found inside phrases too (names, lists, breaths); two of them together hardly
are.  Common practice, no source.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from chartkit.interchange.score.capital_lines import begins_with_capital
from chartkit.interchange.score.events import SungSyllable
from chartkit.interchange.score.timed import Timed

_CAPITAL = 2.0
_SIGNS = {".": 2.0, "!": 2.0, "?": 2.0, ";": 2.0, ":": 2.0, ",": 1.0, "—": 1.0, "–": 1.0}
_REST = 1.5
_ENOUGH = 3.0
"""What each sign says for a new phrase, and how much says it for sure (ours)."""
_FEW_CAPITALS = 2
_MOST_CAPITALS = 0.34
"""Capitals alone say so where there are more than these few, none stands in the middle of a bar,
and not more words than this share have one (ours)."""
_FEWEST = 2
_MOST_CLOSE = 0.34
_MOST_BARS = 9
"""Phrases have two bars or more, and what begins sooner is a name or a breath; a song in which so
many seem shorter tells nothing, nor one in which they are longer than this (ours)."""

Before = Mapping[int, Mapping[str, tuple[SungSyllable, ...]]]
"""By the number of a bar the words that are sung before it."""


def phrase_starts(bars: Sequence[Timed], before: Before) -> frozenset[int]:
    """The bars at which phrases of the first verse begin, with an upbeat or without; none where
    too little says so."""
    verse = min((one.verse for now in bars for one in now.measure.sung), default="")
    words = list(_words(bars, before, verse))
    capitals = [bar for one, _, bar in words if begins_with_capital(one)]
    sure = len(capitals) > _FEW_CAPITALS and None not in capitals
    alone = sure and len(capitals) <= _MOST_CAPITALS * len(words)
    likely = {
        bar: (one, last)
        for one, last, bar in words
        if bar and _begins(one, last, capitals_say=alone)
    }
    first = {bar for *_, bar in words[:1] if bar is not None}
    close = {bar for one, bar in pairwise(sorted(first | likely.keys())) if bar - one < _FEWEST}
    names = {likely[bar][0].text for bar in close}
    starts = {
        bar
        for bar, (one, last) in likely.items()
        if bar not in close and (one.text not in names or _weight(last, one) > _CAPITAL)
    }
    sung = sum(bool(now.measure.sung) for now in bars)
    few = (len(starts) + 1) * _MOST_BARS < sung
    return frozenset() if few or len(close) > _MOST_CLOSE * len(likely) else frozenset(starts)


def _words(
    bars: Sequence[Timed], before: Before, verse: str
) -> Iterator[tuple[SungSyllable, SungSyllable | None, int | None]]:
    """The first syllable of each word with the syllable before it, and the bar that a phrase would
    begin with there: None in the middle of a bar."""
    last: SungSyllable | None = None
    for i, now in enumerate(bars):
        first = True
        for one in (*before.get(i, {}).get(verse, ()), *now.measure.sung):
            if one.verse != verse or not one.text:
                continue
            late = one.onset * 2 >= now.full
            to = i + late
            if last is None or not last.goes_on:
                yield one, last, to if (first or late) and to < len(bars) else None
            first, last = False, one


def _begins(one: SungSyllable, last: SungSyllable | None, capitals_say: bool) -> bool:
    """Whether a word begins a phrase, by its capital alone where ``capitals_say`` so; after the end
    of a sentence that of "I" is one too."""
    ends = last is not None and _sign(last) >= _CAPITAL
    by_capital = begins_with_capital(one) or (ends and one.text[:1].isupper())
    return (capitals_say and by_capital) or _weight(last, one) >= _ENOUGH


def _sign(last: SungSyllable) -> float:
    return _SIGNS.get(last.text.rstrip("\"'’”»)")[-1:], 0.0)


def _weight(last: SungSyllable | None, one: SungSyllable) -> float:
    said = 0.0 if last is None else _sign(last)
    return said + _CAPITAL * begins_with_capital(one) + _REST * one.after_rest
