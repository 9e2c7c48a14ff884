"""Text made to fit: set, wrapped, shortened or made smaller."""

import re
from dataclasses import dataclass
from itertools import pairwise

from chartkit.diagnostics import Span
from chartkit.layout.frames import FontName, Text
from chartkit.layout.metrics import Typesetter, runs_from_right

ELLIPSIS = "…"
_CLAUSE = re.compile(r"[,;:.!?…—–]['’”\"»)]?(?= )")
"""Where a clause ends: a mark of punctuation, in quotes or not, before a space."""
_SENTENCE = re.compile(r"(?<!\b[A-Z])(?<!\b[A-Z]\w)[.!?…]['’”\"»)]? (?=[“‘\"'«(¿¡]?[A-ZÀ-ÖØ-Þ])")
"""The end of a sentence before a capital; a short word with a capital (St. Anne) is none."""
_SHORTEST = 0.3
"""The least part of the room that a line which ends with a clause takes (ours)."""
_MOST_BY_CLAUSES = 6
"""The most lines that a text is broken into so: more of them are prose (ours)."""
_BALANCING_STEPS = 16
"""How many widths are tried, down to half the line, for a title of several lines."""


@dataclass(frozen=True, slots=True)
class Fitter:
    """Sets text in given fonts and sizes, and makes it fit a room in points."""

    typesetter: Typesetter

    def width(self, text: str, font: FontName, size: float) -> float:
        """How wide the text is, in points."""
        return self.typesetter.width(self.typesetter.pieces(text, font, size))

    def text(
        self,
        text: str,
        x: float,
        y: float,
        font: FontName,
        size: float,
        *,
        role: str,
        ink: float = 1,
        source: Span | None = None,
    ) -> Text:
        """The text, placed."""
        pieces = self.typesetter.pieces(text, font, size)
        return Text(x, y, self.typesetter.width(pieces), pieces, role, ink, source)

    def fitting_size(self, text: str, font: FontName, size: float, room: float) -> float:
        """The size, or one so much smaller that the text fits the room."""
        width = self.width(text, font, size)
        return size if width <= room else size * room / width * 0.99

    def wrapped(self, text: str, font: FontName, size: float, room: float) -> list[str]:
        """The text in lines that fit, broken at spaces; a word too long for a line is cut.  What
        runs from right to left begins at its right end."""
        lines: list[str] = []
        used, space = 0.0, self.width(" ", font, size)
        words, from_right = text.split(), runs_from_right(text)
        for word in reversed(words) if from_right else words:
            width = self.width(word, font, size)
            if lines and used + space + width <= room:
                lines[-1] = f"{word} {lines[-1]}" if from_right else f"{lines[-1]} {word}"
                used += space + width
                continue
            lines += self._cut(word, font, size, room) if width > room else [word]
            used = self.width(lines[-1], font, size)
        return lines or [""]

    def balanced(self, text: str, font: FontName, size: float, room: float) -> list[str]:
        """The text in as few lines as fit, none much shorter than the others."""
        lines = self.hyphenated(text, font, size, room)
        if len(lines) == 1:
            return lines
        for step in range(1, _BALANCING_STEPS):
            narrower = self.wrapped(text, font, size, room * (1 - step / _BALANCING_STEPS / 2))
            if len(narrower) > len(lines) or any(cut_inside(text, narrower)):
                return lines
            lines = narrower
        return lines

    def hung(
        self, text: str, font: FontName, size: float, width: float, indent: float
    ) -> list[str]:
        """The text in one line if the width holds it, else in lines that leave room for the
        indent of those that go on, with no word alone on the last; they end with a clause where
        that takes no more of them."""
        if self.width(text, font, size) <= width:
            return [text]
        lines = self.hyphenated(text, font, size, width - indent)
        if len(lines) <= _MOST_BY_CLAUSES:
            clauses = self._by_clauses(text, font, size, width - indent)
            if clauses and len(clauses) <= len(lines):
                return clauses
        if len(lines) > 1 and " " not in lines[-1]:
            lines = self.balanced(text, font, size, width - indent)
        return lines

    def sentences(self, text: str, font: FontName, size: float, width: float) -> list[str]:
        """The text itself if the width holds it, else in parts that begin with a sentence, as many
        sentences in each as fit: a new line of verse begins there (common practice, no source). No
        part is very short."""
        if self.width(text, font, size) <= width or runs_from_right(text):
            return [text]
        least, parts, start = width * _SHORTEST, list[str](), 0
        starts = [match.end() for match in _SENTENCE.finditer(text)]
        for at, following in pairwise([*starts, len(text)]):
            here, rest = text[start:at].rstrip(), text[at:]
            full = self.width(text[start:following].rstrip(), font, size) > width
            if full and min(self.width(one, font, size) for one in (here, rest)) >= least:
                parts.append(here)
                start = at
        return [*parts, text[start:]]

    def _by_clauses(self, text: str, font: FontName, size: float, room: float) -> list[str]:
        """The text in lines that end at marks of punctuation, each as long as the room allows; none
        where that cannot be, or where a line would be very short."""
        lines, rest = list[str](), " ".join(text.split())
        if runs_from_right(text):
            return []
        while self.width(rest, font, size) > room:
            end = 0
            for match in _CLAUSE.finditer(rest):
                if self.width(rest[: match.end()], font, size) > room:
                    break
                end = match.end()
            if self.width(rest[:end], font, size) < room * _SHORTEST:
                return []
            lines.append(rest[:end])
            rest = rest[end:].lstrip()
        return [*lines, rest] if " " in rest else []

    def hyphenated(self, text: str, font: FontName, size: float, room: float) -> list[str]:
        """The text in lines as ``wrapped`` makes them, a hyphen where a word had to be cut."""
        lines = self.wrapped(text, font, size, room)
        if any(cut_inside(text, lines)):
            lines = self.wrapped(text, font, size, room - self.width("-", font, size))
        cuts = cut_inside(text, lines)
        return [line + "-" * cut for line, cut in zip(lines, cuts, strict=True)]

    def _cut(self, word: str, font: FontName, size: float, room: float) -> list[str]:
        parts, used = [""], 0.0
        for character in word:
            width = self.width(character, font, size)
            if used + width > room and parts[-1]:
                parts.append("")
                used = 0.0
            parts[-1] += character
            used += width
        return parts

    def shortened(self, text: str, font: FontName, size: float, room: float) -> str:
        """The text, or as much of its beginning as fits, with an ellipsis."""
        if self.width(text, font, size) <= room:
            return text
        low, high = 0, len(text)
        while low < high:
            middle = (low + high + 1) // 2
            fits = self.width(text[:middle].rstrip() + ELLIPSIS, font, size) <= room
            low, high = (middle, high) if fits else (low, middle - 1)
        return text[:low].rstrip() + ELLIPSIS


def ends_clause(line: str) -> bool:
    """Whether a line ends with a mark of punctuation."""
    return bool(_CLAUSE.search(f"{line[-2:]} "))


def cut_inside(text: str, lines: list[str]) -> list[bool]:
    """For each line of a text whether it ends between two letters."""
    if runs_from_right(text):
        return [False] * len(lines)
    rest, inside = " ".join(text.split()), []
    for line in lines:
        rest = rest[len(line) :]
        inside.append(line[-1:].isalnum() and rest[:1].isalnum())
        rest = rest.lstrip()
    return inside
