"""Where phrases begin, by several signs at once: a capital, a sign that ends a sentence or a part
of one, a rest of the singer.

Each sign alone is found inside phrases too (names, lists, breaths); two of them together hardly
are, nor one that stands throughout a song at the distances of phrases.  Common practice, no source.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from chartkit.interchange.score.capital_lines import begins_with_capital
from chartkit.interchange.score.events import SungSyllable
from chartkit.interchange.score.timed import Timed

_CAPITAL = 2.0
_NAME = 0.5
_NOUN = 0.25
_SIGNS = {".": 2.0, "!": 2.0, "?": 2.0, ";": 2.0, ":": 2.0, ",": 1.0, "—": 1.0, "–": 1.0}
_SENTENCE = 2.0
_REST = 1.5
_OPENING = 1.5
_CLOSING = 1.0
_ENOUGH = 3.0
"""What each sign says for a new phrase, and how much says it for sure (ours)."""
_FEW = 2
_MOST_WORDS = 0.34
"""A sign alone says so where there are more than these few, hardly any stands in the middle of a
bar, and not more words than this share have it (ours)."""
_MOST_INSIDE = 0.15
"""The most capitals in the middle of bars, as a share of all: names (ours)."""
_FEWEST_FITTING = 0.4
"""The fewest capitals at the distance of most of them where they are not those of nouns; of few
distances all are the same, and it is even or makes up the song (ours)."""
_NOUNS = 0.05
"""The share of words with a capital in the middle of a bar from which nouns have one too (ours)."""
_FEWEST = 2
_MOST_CLOSE = 0.34
_MOST_BARS = 9
"""Phrases have two bars or more, and what begins sooner is a name or a breath; a song in which so
many seem shorter tells nothing, nor one in which they are longer than this (ours)."""
_USUAL = 4
_OPEN = "“„«(["
_CLOSE = "\"'’”»)]"

Before = Mapping[int, Mapping[str, tuple[SungSyllable, ...]]]
"""By the number of a bar the words that are sung before it."""


class _Word(NamedTuple):
    """The first syllable of a word, the one before it, and the bar that a phrase would begin with
    there: None in the middle of a bar.  ``capital`` says that it has one."""

    one: SungSyllable
    last: SungSyllable | None
    bar: int | None
    capital: bool

    @property
    def sign(self) -> float:
        """What the sign before it says."""
        return 0.0 if self.last is None else _sign(self.last)

    def weight(self, capital: float) -> float:
        """What all signs say together; ``capital`` is what one says in this song."""
        opens = _OPENING * (self.one.text[:1] in _OPEN)
        return self.sign + capital * self.capital + _REST * self.one.after_rest + opens


def phrase_starts(bars: Sequence[Timed], before: Before) -> tuple[frozenset[int], dict[int, float]]:
    """The bars at which phrases of the first verse begin, with an upbeat or without, none where too
    little says so; and how much says that one begins with each bar where anything does."""
    words, capital = _weighed_words(bars, before)
    weights: dict[int, float] = {}
    for word in words:
        if word.bar and (weight := word.weight(capital)):
            weights[word.bar] = max(weight, weights.get(word.bar, 0.0))
    sung = sum(bool(now.measure.sung) for now in bars)
    return _sure_starts(words, capital, sung), weights


def _sure_starts(words: Sequence[_Word], capital: float, sung: int) -> frozenset[int]:
    """The bars of which signs say for sure that phrases begin with them, of so many that are
    ``sung``."""
    named = {word.one.text for word in words if word.capital and word.bar is None}
    alone = _signs_alone(words, capital, sung)
    likely: dict[int, tuple[float, str]] = {}
    for word in words:
        weight = word.weight(capital)
        by_capital = "capital" in alone and _begins_by_capital(word)
        by_capital = by_capital and (weight > _CAPITAL or word.one.text not in named)
        by_sentence = "sentence" in alone and word.sign >= _SENTENCE
        by_rest = "rest" in alone and word.one.after_rest
        if word.bar and (by_capital or by_sentence or by_rest or weight >= _ENOUGH):
            likely[word.bar] = weight, word.one.text
    first = next((word.bar for word in words[:1]), None)
    if first is not None:
        likely.pop(first, None)
    close = _too_close(first, likely)
    names = {likely[bar][1] for bar in close}
    starts = {
        bar
        for bar, (weight, text) in likely.items()
        if bar not in close and (text not in names or weight > _CAPITAL)
    }
    if alone == {"capital"}:
        starts = _at_usual_distances(starts | ({first} if first is not None else set()), likely)
        starts |= _between(starts, words)
        starts.discard(0)
    few = (len(starts) + 1) * _MOST_BARS < sung
    if few or not starts or len(close) > _MOST_CLOSE * len(likely):
        return frozenset()
    return frozenset(starts | ({first} if first else set()))


def _weighed_words(bars: Sequence[Timed], before: Before) -> tuple[list[_Word], float]:
    """The words of the first verse, those alone with a capital that have one in every verse; and
    what a capital says among them: little where names and nouns have it."""
    verses = sorted({one.verse for now in bars for one in now.measure.sung})
    words = list(_words(bars, before, verses[0])) if verses else []
    inside = sum(word.capital and word.bar is None for word in words)
    plain: set[int] = set()
    for verse in verses[1:]:
        others = list(_words(bars, before, verse))
        capital = {word.bar for word in others if word.bar and word.capital}
        plain |= {word.bar for word in others if word.bar} - capital
    words = [
        word._replace(capital=False) if word.capital and word.bar in plain else word
        for word in words
    ]
    if inside > _NOUNS * len(words):
        return words, _NOUN
    after = [word.capital for word in words if word.sign >= _SENTENCE]
    names = len(after) >= _FEW and 2 * sum(after) < len(after)
    return words, _NAME if names else _CAPITAL


def _too_close(first: int | None, likely: Mapping[int, tuple[float, str]]) -> set[int]:
    """Of two bars that are too close for a phrase the one that less speaks for, or that is no
    usual phrase away from the one before."""
    close: set[int] = set()
    kept = [first] if first is not None else []
    for bar in sorted(likely):
        while kept and bar - kept[-1] < _FEWEST and bar not in close:
            last = kept[-1]
            before = kept[-2] if len(kept) > 1 else 0
            fits = [(likely[b][0], (b - before) % _USUAL == 0) for b in (last, bar) if b in likely]
            if len(fits) < 2 or fits[0] >= fits[1]:
                close.add(bar)
            else:
                close.add(kept.pop())
        if bar not in close:
            kept.append(bar)
    return close


def _usual_distance(starts: Iterable[int]) -> int:
    """The number of bars that most phrases have."""
    counts = Counter(two - one for one, two in pairwise(sorted(set(starts))))
    return max(counts, key=lambda bars: (counts[bars], bars == _USUAL), default=_USUAL)


def _at_usual_distances(starts: set[int], likely: Mapping[int, tuple[float, str]]) -> set[int]:
    """The starts without names: only a capital speaks for these, and they stand at no usual
    distance from the starts around them, which are at one from each other."""
    usual = _usual_distance(starts)
    ordered = sorted(starts)
    names = {
        bar
        for before, bar, after in zip(ordered, ordered[1:], ordered[2:], strict=False)
        if likely[bar][0] <= _CAPITAL and (after - before) % usual == 0 and (bar - before) % usual
    }
    return starts - names


def _between(starts: set[int], words: Sequence[_Word]) -> set[int]:
    """Starts that are missing half-way between two others, where a word has a capital that it
    always has ("I")."""
    usual = _usual_distance(starts)
    capitals = {word.bar for word in words if word.one.text[:1].isupper()}
    return {
        one + usual
        for one, two in pairwise(sorted(starts))
        if two - one == 2 * usual and one + usual in capitals
    }


def _signs_alone(words: Sequence[_Word], capital: float, sung: int) -> set[str]:
    """The signs that say for themselves where phrases begin: they are few, and stand with the first
    word of bars that are a phrase apart.  Where capitals do, no other sign is needed; but those of
    names, by what a ``capital`` says here, only do at even distances."""
    found = {
        "capital": [word.bar for word in words if word.capital],
        "sentence": [word.bar for word in words if word.sign >= _SENTENCE],
        "rest": [word.bar for word in words if word.one.after_rest],
    }
    alone = {name for name, bars in found.items() if _alone(name, bars, words, sung)}
    lines = sorted({word.bar for word in words if word.capital and word.bar is not None})
    even = len({two - one for one, two in pairwise(lines)}) == 1
    lone = len(alone) == 1 and capital != _NOUN
    if "capital" in alone and (capital == _CAPITAL or even or lone):
        return {"capital"}
    return alone - {"capital"}


def _alone(name: str, found: Sequence[int | None], words: Sequence[_Word], sung: int) -> bool:
    placed = [bar for bar in found if bar is not None]
    inside = len(found) - len(placed)
    if len(placed) <= _FEW or len(found) > _MOST_WORDS * len(words):
        return False
    if name == "capital":
        usual = _usual_distance(placed)
        distances = [two - one for one, two in pairwise(sorted(set(placed)))]
        fitting = sum(distance % usual == 0 for distance in distances)
        if len(distances) <= _FEW:
            even = usual % _FEWEST == 0 or sung % usual == 0
            return not inside and even and fitting == len(distances)
        return inside <= _MOST_INSIDE * len(found) and fitting >= _FEWEST_FITTING * len(distances)
    ends = sorted({*(word.bar for word in words[:1] if word.bar is not None), *placed})
    return not inside and all(_FEWEST <= two - one <= _MOST_BARS for one, two in pairwise(ends))


def _words(bars: Sequence[Timed], before: Before, verse: str) -> Iterator[_Word]:
    """The words of a verse."""
    last: SungSyllable | None = None
    for i, now in enumerate(bars):
        first = True
        for one in (*before.get(i, {}).get(verse, ()), *now.measure.sung):
            if one.verse != verse or not one.text:
                continue
            late = one.onset * 2 >= now.full
            to = i + late
            if last is None or not last.goes_on:
                bar = to if (first or late) and to < len(bars) else None
                yield _Word(one, last, bar, begins_with_capital(one))
            first, last = False, one


def _begins_by_capital(word: _Word) -> bool:
    """Whether a word has the capital of a line; after the end of a sentence that of "I" is one
    too."""
    return word.capital or (word.sign >= _CAPITAL and word.one.text[:1].isupper())


def _sign(last: SungSyllable) -> float:
    said = last.text.rstrip(_CLOSE)
    closes = _CLOSING * (last.text[-1:] in _CLOSE and last.text[-1:] not in "'’")
    return _SIGNS.get(said[-1:], closes)
