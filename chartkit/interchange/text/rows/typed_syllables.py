"""Words that were typed in syllables ("Glo - ri - a", "old wo - man", "be-fore"), and dashes that
stand between words ("I loved you - and you knew").

Under music words are set in syllables with hyphens, and those who copy from there type the hyphens
with blanks (common practice, no source).  Which dash is which the sheet tells: how many it has, and
whether the pieces around them are words that it has elsewhere.
"""

import re
from collections import Counter
from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass

from chartkit.interchange.text.vocabulary.sounds_said import begins_lines, is_listed
from chartkit.interchange.text.vocabulary.syllables import syllable_count

SEAM = "\u2010"
"""Stands for each hyphen within a word that was typed in syllables: the hyphen of Unicode, which
keyboards do not have.  Blanks around it stay, so all letters keep their columns."""
_PIECE = r"[^\W\d_]+(?:['’][^\W\d_]+)*"
_CHAIN = re.compile(rf"(?<![\w'’-]){_PIECE}_*(?:\s*[-–][-–\s]*{_PIECE}_*)+(?![\w-])")
_BETWEEN = re.compile(r"(?<=[\w])_*(\s*[-–][-–\s]*)(?=[^\W\d_])")
_SEAMS = re.compile(rf"\s*{SEAM}[\s{SEAM}]*")
_WORD = re.compile(_PIECE)
_HELD = re.compile(r"(?<=[^\W_])_{2,}")
"""How a syllable is typed that is held long."""
_SILENT_E = re.compile(r"[^aeiou\W]e[sd]?$")

# What speaks for a word in syllables, as logarithms of odds, by eye (ours).
_ALONE, _SOME, _USUAL = -2.0, 0.5, 2.5
"""A sheet that has no other such word; one; several."""
_UNKNOWN_PIECE, _SHORT, _WHOLE_WORD, _SEVERAL = 1.5, 1.0, 3.0, 2.0
"""A piece that is no word elsewhere; a short one; pieces that make a word which is one elsewhere;
three pieces."""
_BOTH_WORDS, _NEXT_WORD, _LONG_PIECE, _SAME = -2.0, -1.0, -4.0, -2.0
"""Two pieces that stand alone elsewhere; the next one; a piece of several syllables; twice one."""
_ALL_WORDS, _BEGINS_LINES = -1.0, -1.2
"""Pieces that are all words, but no word together; a next piece with which lines begin."""
_LONG_DASH, _AT_A_LETTER, _MANY_HYPHENS, _WITHOUT_BLANKS = -2.0, 1.5, 1.5, -1.0
"""A dash of two signs or a long one; a hyphen at one of its pieces; several with blanks; none."""
_SURE = 1.0
_FEWEST_USUAL, _FEWEST_WITHOUT_BLANKS = 2, 3
"""So many other words in syllables are a habit; where no blanks stand around the hyphens, which
compounds have as well."""
_SHORT_PIECE, _TWO = 3, 2


@dataclass(frozen=True, slots=True)
class Chain:
    """Pieces of a line with hyphens between them: what they are, the ``gaps`` between them, and
    where those begin in the line."""

    pieces: tuple[str, ...]
    gaps: tuple[str, ...]
    places: tuple[int, ...]

    @property
    def is_spaced(self) -> bool:
        """Whether blanks stand beside a hyphen."""
        return any(gap != "-" for gap in self.gaps)

    def part(self, start: int, end: int | None = None) -> "Chain":
        """Some of the pieces, with the gaps between them."""
        last = len(self.pieces) if end is None else end
        return Chain(
            self.pieces[start:last], self.gaps[start : last - 1], self.places[start : last - 1]
        )


def chains_of(text: str) -> Iterator[Chain]:
    """The pieces of a line with hyphens between them, each next one in small letters."""
    if "-" not in text and "–" not in text:
        return
    for match in _CHAIN.finditer(text):
        first = _WORD.match(text, match.start())
        assert first is not None
        pieces, gaps, places = [first[0]], list[str](), list[int]()
        for gap in _BETWEEN.finditer(text, match.start(), match.end()):
            piece = _WORD.match(text, gap.end())
            if piece is None:
                break
            if not piece[0].islower():
                if gaps and not (len(pieces[0]) > 1 and pieces[0].isupper()):
                    yield Chain(tuple(pieces), tuple(gaps), tuple(places))
                pieces, gaps, places = [piece[0]], [], []
                continue
            pieces.append(piece[0])
            gaps.append(gap[1])
            places.append(gap.start(1))
        if gaps and not (len(pieces[0]) > 1 and pieces[0].isupper()):
            yield Chain(tuple(pieces), tuple(gaps), tuple(places))


class SyllablesOfSheet:
    """Tells the words in syllables of a sheet from its dashes."""

    def __init__(self, texts: Sequence[str]) -> None:
        chains = [list(chains_of(text)) for text in texts]
        self._words: Counter[str] = Counter()
        for text, own in zip(texts, chains, strict=True):
            self._words.update(_words_apart(text, own))
        flat = [one for own in chains for one in own]
        self._sure = {
            spaced: {
                _joined(one)
                for one in flat
                if one.is_spaced == spaced and self._own_weight(one) >= _SURE
            }
            for spaced in (True, False)
        }

    def with_seams(self, text: str, sung: bool) -> str:
        """A line with seams for the hyphens within its words; as long as it was.  A single one
        without blanks stays where the line is not surely ``sung``: it may be a compound."""
        letters = list(text)
        for chain in self._parted(chains_of(text)):
            marked = self._spaced_gaps(chain) if chain.is_spaced else ()
            if not chain.is_spaced and not _is_aside(text, chain) and self._is_seam(chain, sung):
                marked = ("-",)
            for gap, place in zip(chain.gaps, chain.places, strict=True):
                if gap in marked:
                    letters[place : place + len(gap)] = re.sub("[-–]", SEAM, gap)
        return "".join(letters)

    def _parted(self, chains: Iterable[Chain]) -> Iterator[Chain]:
        """Chains without the dash behind a word in syllables ("last win - ter - you came")."""
        for chain in chains:
            ends = range(_TWO, len(chain.pieces)) if not self._is_whole(chain) else ()
            at = next((end for end in ends if self._goes_on(chain, end)), 0)
            parts = (chain.part(0, at), chain.part(at)) if at else (chain,)
            yield from (part for part in parts if part.gaps)

    def _goes_on(self, chain: Chain, at: int) -> bool:
        """Whether a new clause begins with a piece, behind a word in syllables."""
        piece = chain.pieces[at].casefold()
        return (
            chain.gaps[at - 1] != "-"
            and self._is_whole(chain.part(0, at))
            and begins_lines(piece)
            and piece in self._words
            and not self._is_whole(chain.part(at - 1, at + 1))
        )

    def _spaced_gaps(self, chain: Chain) -> Container[str]:
        """The gaps of a chain with blanks that are within a word."""
        others = len(self._sure[True] - {_joined(chain)})
        habit = _USUAL if others >= _FEWEST_USUAL else _SOME if others else _ALONE
        if self._own_weight(chain) + habit <= 0:
            return ()
        return {*chain.gaps} if self._is_whole(chain) else {gap for gap in chain.gaps if gap != "-"}

    def _is_seam(self, chain: Chain, sung: bool) -> bool:
        """Whether hyphens without blanks stand within a word."""
        whole, others = self._is_whole(chain), self._sure[False] - {_joined(chain)}
        usual = len(others) >= _FEWEST_WITHOUT_BLANKS or len(self._sure[True]) >= _FEWEST_USUAL
        if not usual or chain.pieces[0].casefold() == "a":  # "a-hunting" is no word without it
            return whole and (sung or usual)
        return self._own_weight(chain) + _USUAL + _WITHOUT_BLANKS > _SURE

    def _own_weight(self, chain: Chain) -> float:
        """How much a chain speaks for one word, by its pieces alone."""
        if not syllable_count(chain.pieces[0]):
            return -_USUAL * 2  # "C - stops"
        pieces = [piece.casefold() for piece in chain.pieces]
        alone = [piece in self._words for piece in pieces]
        unknown = [piece for piece in pieces if not self._is_word(piece)]
        weight = _UNKNOWN_PIECE * len(unknown) + _WHOLE_WORD * self._is_whole(chain)
        weight += _SHORT * any(len(piece) <= _SHORT_PIECE for piece in unknown)
        weight += _SEVERAL * (len(pieces) > 2)
        weight += _BOTH_WORDS * all(alone) + _NEXT_WORD * any(alone[1:])
        if not self._is_whole(chain):
            weight += _ALL_WORDS * (not unknown)
            weight += _BEGINS_LINES * (len(pieces) == _TWO and begins_lines(pieces[1]))
        weight += _LONG_PIECE * any(map(_has_several, pieces)) + _SAME * _says_twice(chain)
        return weight + sum(map(_weight_of_gap, {*chain.gaps}))

    def _is_whole(self, chain: Chain) -> bool:
        return self._is_word(_joined(chain)) and not _says_twice(chain)

    def _is_word(self, word: str) -> bool:
        return word in self._words or is_listed(word)


def _is_aside(text: str, chain: Chain) -> bool:
    """Whether a chain stands in parentheses, as remarks do."""
    return text.rfind("(", 0, chain.places[0]) > text.rfind(")", 0, chain.places[0])


def _weight_of_gap(gap: str) -> float:
    if "--" in gap or "–" in gap:
        return _LONG_DASH
    if gap.count("-") > 1:
        return _MANY_HYPHENS
    return _AT_A_LETTER * (gap != "-" and (gap[0] == "-") != (gap[-1] == "-"))


def _joined(chain: Chain) -> str:
    return "".join(chain.pieces).casefold()


def _says_twice(chain: Chain) -> bool:
    return len({piece.casefold() for piece in chain.pieces}) == 1


def _has_several(piece: str) -> bool:
    """Whether a piece has several syllables, as no syllable has."""
    return syllable_count(_SILENT_E.sub("", piece) or piece) > 1


def _words_apart(text: str, chains: Sequence[Chain]) -> Iterator[str]:
    """The words of a line that stand in no chain."""
    within: Counter[str] = Counter(piece for chain in chains for piece in chain.pieces)
    for match in _WORD.finditer(text):
        if within[match[0]] > 0:
            within[match[0]] -= 1
        else:
            yield match[0].casefold()


def closed(text: str) -> str:
    """The words of a line without seams."""
    return _SEAMS.sub("", text) if SEAM in text else text


def without_held(text: str) -> str:
    """The words of a line without the strokes for syllables that are held."""
    return _HELD.sub("", text) if "__" in text else text


def kept_places(text: str) -> list[int]:
    """The places of the letters of a line that stay when its seams are closed."""
    gone = {at for match in _SEAMS.finditer(text) for at in range(*match.span())}
    return [at for at in range(len(text)) if at not in gone]
