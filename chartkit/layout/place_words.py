"""One verse of a line, placed: words under their strikes, hyphens and lines between them."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from chartkit.layout.boxes import RowBox, SpacedRow, Word
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Stroke, Text
from chartkit.layout.measure_bars import WORD_GAP
from chartkit.layout.style import Style

_HYPHENS_APART = 42.0
"""How far the hyphens of a long word stand apart at least, at scale 1."""


class _Sung(NamedTuple):
    """Words, where they begin, where their bar ends, up to where hyphens may stand before them: not
    under a time signature, beside whose figures they look like a sign; and the number of their
    bar."""

    x: float
    bar_end: float
    word: Word
    hyphens_end: float
    bar: int


@dataclass(frozen=True, slots=True)
class WordsPlacer:
    """Places words in one style."""

    fitter: Fitter
    style: Style

    def verse(
        self, line: SpacedRow, verse: int, places: list[list[float]], edges: list[float], y: float
    ) -> list[Item]:
        """The items of a verse on the baseline ``y``.

        A syllable held within a word is followed by hyphens, one held at its end by a line;
        both go on over the line's end.
        """
        row, gap = line.row, self.style.pt(WORD_GAP)
        sung = list(_sung(line, verse, places, edges))
        items = self._number(row, verse, line.indent, y)
        if (pickup := _at(row.pickups, verse)) is not None:
            start = line.indent - row.hang - pickup.width - gap
            sung.insert(0, _Sung(start, line.indent, pickup, start, -1))
        split, reached = _is(row.split_before, verse), line.indent
        for i, one in enumerate(sung):
            following = sung[i + 1] if i + 1 < len(sung) else None
            if one.word.held:
                if not i:
                    reached = one.x
                if following is not None and following.word.held and _meets(one, following):
                    continue  # one line for all of them
                end = one.bar_end if following is None else min(following.x, one.bar_end)
                items += self._goes_on(reached, end, y, split)
                reached = end
            else:
                split, reached = one.word.split, _end(one)
                word = one.word
                items.append(Text(one.x, y, word.width, word.pieces, "words", source=word.source))
                holds_on = following is not None and following.word.held
                goes_on = holds_on or (following is None and _is(row.held_after, verse))
                if split and not goes_on and not word.text.endswith("-"):
                    items.append(self._hyphen(_end(one), following, edges[-1], y))
        if sung and _is(row.held_after, verse):
            items += self._goes_on(reached, edges[-1], y, split)
        return items

    def _number(self, row: RowBox, verse: int, indent: float, y: float) -> list[Item]:
        """The verse's number, in one column with those of the other verses of the song, unless the
        row has a pick-up that is wider than all of theirs."""
        number = _at(row.numbers, verse)
        if number is None:
            return []
        before = max(row.before_numbers + row.hang, row.number_column)
        x = indent - self.style.pt(WORD_GAP) - before - number.width
        return [Text(x, y, number.width, number.pieces, "verse")]

    def _hyphen(self, start: float, following: _Sung | None, edge: float, y: float) -> Item:
        """The hyphen between two syllables: half way, or just after the last of a line."""
        hyphen = self.fitter.text("-", 0, y, "words", self.style.words, role="hyphen")
        half = hyphen.width / 2
        if following is None:
            place = min(start + hyphen.width * 1.2 - half, edge - hyphen.width)
        else:
            place = (start + following.hyphens_end) / 2 - half
        return hyphen._replace(x=max(place, start))

    def _goes_on(self, start: float, end: float, y: float, split: bool) -> list[Item]:
        """The sign of a held syllable: hyphens inside a word, else a line."""
        gap = self.style.pt(2.5)
        if end - start < 3 * gap:
            return []
        if not split:
            foot = y + self.style.pt(0.6)
            return [Stroke(start + gap, foot, end - 2 * gap, foot, self.style.pt(0.6))]
        hyphen = self.fitter.text("-", 0, y, "words", self.style.words, role="hyphen")
        count = max(1, int((end - start) / self.style.pt(_HYPHENS_APART)))
        step = (end - start) / count
        return [
            hyphen._replace(x=start + step * (i + 0.5) - hyphen.width / 2) for i in range(count)
        ]


def _sung(
    line: SpacedRow, verse: int, places: list[list[float]], edges: list[float]
) -> Iterator[_Sung]:
    for i, (box, xs) in enumerate(zip(line.row.bars, places, strict=True)):
        for slot, x in zip(box.slots, xs, strict=True):
            if verse < len(slot.words) and (word := slot.words[verse]) is not None:
                start = x - word.hang
                behind_meter = box.signature and slot is box.slots[0]
                yield _Sung(start, edges[i + 1], word, edges[i] if behind_meter else start, i)


def _meets(one: _Sung, following: _Sung) -> bool:
    """Whether no bar without words lies between two places."""
    return following.bar - one.bar <= 1


def _end(one: _Sung) -> float:
    return one.x + one.word.width


def _at(words: tuple[Word | None, ...], verse: int) -> Word | None:
    return words[verse] if verse < len(words) else None


def _is(flags: tuple[bool, ...], verse: int) -> bool:
    return verse < len(flags) and flags[verse]
