"""Medleys: tunes one after another on a sheet, each under its name and with parts of its own.

Source of the forms: common practice of dance bands, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from chartkit.interchange.text.kinds.line_kinds import Blank, KnownLine, SectionStart
from chartkit.interchange.text.kinds.sheet_lines import LONGEST, SheetLines
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.quick_looks import BeginsWithWord
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.vocabulary.section_names import is_known_name

_TUNE = r"(?:tune|song|reel|jig|polka|melodie|stück|air|número|brano|låt|waltz|march)"
_NAMED = re.compile(
    rf"{_TUNE}\s*(?:no\.?\s*|#)?(?P<number>\d{{1,2}})\s*[:.–-]\s*\S.*", re.IGNORECASE
)
_COUNTED = re.compile(
    r"(?P<word>[^\W\d_]{3,14})\s*(?:n[or]\.?|#)?\s*(?P<number>\d{1,2})\s*:\s*[^\W\d_].{1,80}",
    re.IGNORECASE,
)
"""A tune's name behind any word and its number."""
_FEWEST_TUNES = 2
_BACK = re.compile(
    r"(?:(?:and\s+)?then\s+|now\s+)?(?:back to|repeat|return to)\s+(?:the\s+)?"
    rf"{_TUNE}\s*(?:no\.?\s*|#)?(?P<number>\d{{1,2}})\b.{{0,60}}",
    re.IGNORECASE,
)


_FIRST_WORDS = (
    *("tune", "song", "reel", "jig", "polka", "melodie", "stück", "air", "número", "brano", "låt"),
    *("waltz", "march", "and then", "then", "now", "back", "repeat", "return"),
)
"""A quick look: how such lines begin."""


_LEADS_ON = BeginsWithWord(
    r"[\W_]*(?:(?:and |then )?(?:go |goes |run |runs |lead |leads |leading )?(?:straight|right|"
    r"directly|segues|segue|runs|run|goes|leads|lead|then) (?:on )?into|(?:segues|segue)(?: to)?|"
    r"attacca|followed by|(?:direkt|gleich|sofort) (?:weiter )?(?:in|mit|zu)|"
    r"(?:enchaîner|enchaînez|enchaîne)(?: avec)?|(?:direct )?(?:doorgaan|door) (?:in|naar)|"
    r"sigue con|direkt (?:till|vidare (?:i|till)))[\W_]*",
)
"""A line that leads on to what the next line names (common practice, no source)."""


def with_next_tunes(lines: Sequence[Line], tokens: TokenReader) -> list[Line]:
    """The lines, one that leads on ("straight into:") with the name of the next tune behind it,
    so that the name is said to the players and not sung."""
    result = list(lines)
    for at, (before, line) in enumerate(pairwise(lines)):
        if not (_leads_on(result[at].text) and 0 < len(line.text.strip()) <= LONGEST):
            continue
        if not tokens.is_chords(line.text) and heading_of(line.text) is None:
            text = f"{before.text.rstrip(' :.–-')}: {line.text.strip()}"
            result[at] = replace(before, text=text, columns=None)
            result[at + 1] = replace(line, text="", columns=None)
    return result


def _leads_on(text: str) -> bool:
    return len(text) <= LONGEST and _LEADS_ON.fullmatch(text) is not None


class Tunes:
    """Keeps where the tunes of a medley begin among the lines known so far."""

    def __init__(self, sheet: SheetLines, known: Sequence[KnownLine]) -> None:
        self.sheet, self.known = sheet, known
        self.starts: dict[int, int] = {}
        self.said = ""

    def read(self, at: int, line: Line) -> list[KnownLine]:
        """What a line becomes that names a tune or asks for one again; nothing for others."""
        text = line.text.strip()
        if len(text) > LONGEST:
            return []
        if not (at in self.counted or text.lower().startswith(_FIRST_WORDS)):
            return []
        named = _COUNTED.fullmatch(text) if at in self.counted else None
        named = named or (_NAMED.fullmatch(text) if self._heads_parts(at) else None)
        if named is not None and (self.starts or self._is_of_several):
            self.starts[int(named["number"])] = len(self.known)
            self.said = text
            return [KnownLine(line, Blank())]
        back = _BACK.fullmatch(text) if self.starts else None
        number = int(back["number"]) if back is not None else 0
        if number not in self.starts:
            return []
        self.said = text
        return [*self._lines_of(number)]

    @cached_property
    def _is_of_several(self) -> bool:
        """Whether several tunes are named on the sheet: one alone is the song, with its place in
        the set."""
        texts = (line.text.strip() for line in self.sheet.lines if len(line.text) <= LONGEST)
        named = sum(_NAMED.fullmatch(text) is not None for text in texts)
        return len(self.counted) + named >= _FEWEST_TUNES

    @cached_property
    def counted(self) -> frozenset[int]:
        """The lines above parts that begin with one word and count on ("Lied 1: …")."""
        lines: dict[str, dict[str, int]] = {}
        for at, line in enumerate(self.sheet.lines):
            match = _COUNTED.fullmatch(line.text.strip()) if ":" in line.text else None
            if match is not None and not is_known_name(match["word"]) and self._heads_parts(at):
                lines.setdefault(match["word"].casefold(), {})[match["number"]] = at
        counted = (one.values() for one in lines.values() if len(one) >= _FEWEST_TUNES)
        return frozenset(at for places in counted for at in places)

    def _heads_parts(self, at: int) -> bool:
        """Whether a line stands apart, right above a section's name."""
        below = at + 1 + self.sheet.is_empty(at + 1)
        headed = below < len(self.sheet.lines) and self.sheet.headings[below] is not None
        return headed and self.sheet.is_empty(at - 1)

    def _lines_of(self, number: int) -> Sequence[KnownLine]:
        """The lines of a tune, up to the next one."""
        start = self.starts[number]
        following = [at for at in self.starts.values() if at > start]
        return self.known[start : min(following, default=len(self.known))]

    def with_names(self, lines: list[KnownLine]) -> list[KnownLine]:
        """The lines, the first section below a tune's name with that name as a remark."""
        if not self.said:
            return lines
        at = next((i for i, one in enumerate(lines) if isinstance(one.kind, SectionStart)), None)
        if at is None:
            return lines
        start = lines[at].kind
        assert isinstance(start, SectionStart)
        remarks = [remark for remark in start.remarks if _NAMED.fullmatch(remark) is None]
        named = replace(lines[at], kind=replace(start, remarks=(self.said, *remarks)))
        self.said = ""
        return [*lines[:at], named, *lines[at + 1 :]]
