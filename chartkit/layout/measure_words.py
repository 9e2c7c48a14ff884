"""Words, measured."""

import re
from dataclasses import dataclass

from chartkit.chart.model import Segment
from chartkit.chart.whole_words import whole_words
from chartkit.diagnostics import Span
from chartkit.layout.boxes import Word
from chartkit.layout.fit import Fitter, cut_inside
from chartkit.layout.metrics import Typesetter
from chartkit.layout.style import Style

HYPHEN_ROOM = 9.0
"""Least room after a syllable that goes on, at scale 1."""
_OPENING = re.compile(r"[\"'“”‘’‚„«»‹(\[¿¡—–]+(?=\w)")
"""Signs that open a phrase; the letter after them is what a singer looks for."""
WIDEST_HANG = 4.0
"""The most of them that stands out to the left, at scale 1."""


@dataclass(frozen=True, slots=True)
class WordMeasurer:
    """Measures words for one style."""

    typesetter: Typesetter
    style: Style

    def word(
        self, text: str, split: bool = False, held: bool = False, source: Span | None = None
    ) -> Word:
        """A stretch of words, measured."""
        shown = whole_words(text)
        pieces = self.typesetter.pieces(shown, "words", self.style.words)
        width, hang = self.typesetter.width(pieces), self._hang(shown)
        return Word(
            text=shown, pieces=pieces, width=width, split=split, held=held, hang=hang, source=source
        )

    def _hang(self, text: str) -> float:
        """How far the signs that open a text stand out, no further than a bar line leaves room."""
        opening = None if text[:1].isalnum() else _OPENING.match(text)
        if opening is None:
            return 0.0
        width = Fitter(self.typesetter).width(opening[0], "words", self.style.words)
        return min(width, self.style.pt(WIDEST_HANG))

    def sung(self, segment: Segment) -> Word | None:
        """The words of a segment; None where nothing is sung from there."""
        if segment.held:
            return Word(text="", pieces=(), width=self.style.pt(8), split=False, held=True)
        if not segment.text:
            return None
        return self.word(segment.text, segment.split, source=segment.span)

    def wrapped(self, word: Word, room: float) -> list[Word]:
        """The words in parts no wider than the room, broken at spaces, else anywhere; a part that
        ends inside a word goes on, so it gets a hyphen."""
        room -= self.style.pt(HYPHEN_ROOM)
        if word.width <= room or word.held:
            return [word]
        lines = Fitter(self.typesetter).wrapped(word.text, "words", self.style.words, room)
        parts = [
            self.word(line, split)
            for line, split in zip(lines, cut_inside(word.text, lines), strict=True)
        ]
        parts[-1] = parts[-1]._replace(split=word.split)
        return parts
