"""Names of sections that nobody else uses, in sheets without empty lines between sections: short
lines right above rows of chords, below the words of the section before ("Leader" and "All" in
turn, "BISHOP:" and "VICARS:", "Both" where "Both again" stands further below).

Source of the forms: common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import replace
from functools import cached_property

from chartkit.chart.section_words import SUNG_KINDS
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import is_direction, is_term
from chartkit.interchange.text.vocabulary.facts import facts_of
from chartkit.interchange.text.vocabulary.farewells import is_label_of_notes
from chartkit.interchange.text.vocabulary.order_words import which_time
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key
from chartkit.interchange.text.vocabulary.singer_words import is_singer
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.times_played import (
    AGAIN_FIRST,
    ANY_TIMES,
    ONCE_MORE,
    times_of,
)

_MOST_LINES, _LONGEST = 2_000, 60
_NAME = re.compile(
    r"(?P<name>[^\W\d_][^\W\d_’'.-]{1,15}(?:[ &+-]{1,3}[^\W\d_]{1,12}){0,2}(?:\s?\d{1,2})?)"
    r"\s*(?P<said>\([^()|]{2,40}\))?(?P<colon>:?)"
)
_AGAIN = re.compile(
    rf"(?P<name>[^\W\d_].{{1,30}}?)\s*(?:\s[(\[]?{ANY_TIMES}|[,–-]?\s{ONCE_MORE})(?!\w)",
    re.IGNORECASE,
)
"""A name, and behind it a count or words that ask for its section again."""
_JOINED = re.compile(r"\s*[&+]\s*|\s(?:and|und|et|y|e|en|och|og|i)\s")
"""What stands between the names of two who sing together."""
_FEWEST = 2
_SUNG, _TITLED = -1.5, 3
"""At these odds a line is rather sung, at so many times these if all words have capitals (ours)."""


def with_names_over_rows(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, each such name written as our own headings are ("== Leader")."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result = list(lines)
    for at, match in _Sheet(lines, is_chords).names().items():
        text = f"== {match['name']} {match['said'] or ''}".rstrip()
        result[at] = replace(lines[at], text=text, columns=None)
        findings.guess(
            "section-by-place",
            f'"{match["name"]}" is taken as the name of a section: it stands right above chords',
            lines[at].place(),
        )
    return result


class _Sheet:
    """The rows of a sheet, and the lines right above them."""

    def __init__(self, lines: Sequence[Line], is_chords: IsChords) -> None:
        self.lines = lines
        self.rows = [0 < len(one.text) <= 2 * _LONGEST and is_chords(one.text) for one in lines]

    def names(self) -> dict[int, re.Match[str]]:
        """The lines that are names; none where an empty line stands between the rows."""
        places = [at for at, row in enumerate(self.rows) if row]
        if len(places) < _FEWEST or any(
            is_empty(self.lines, at) for at in range(places[0], places[-1])
        ):
            return {}
        over = {at - 1: match for at in places if (match := self._over(at - 1)) is not None}
        again = self._asked_again(over)
        labels = any(map(self._is_under_name, over))
        singers = {
            match["name"].casefold()
            for match in over.values()
            if labels or is_singer(match["name"])
        }
        others = self._has_sung_kinds
        over = {
            at: match
            for at, match in over.items()
            if match["name"].casefold() in again
            or not (others and match["name"].casefold() in singers)
        }
        colons = sum(bool(match["colon"]) for match in over.values()) + self._known_with_colon
        often = Counter(match["name"].casefold() for match in over.values())
        often.update(self._alone_elsewhere(over))
        names = {name for name, times in often.items() if times >= _FEWEST}
        names = again | (names if self._are_one_too_many(over, names) else set())
        if colons >= _FEWEST:
            names |= {match["name"].casefold() for match in over.values() if match["colon"]}
        names |= {name for name in often if names.issuperset(_JOINED.split(name))}
        return {at: match for at, match in over.items() if match["name"].casefold() in names}

    def _over(self, at: int) -> re.Match[str] | None:
        """What the line above a row says if it could be a name, and stands under no other row."""
        if at < 1 or self.rows[at] or self.rows[at - 1]:
            return None
        text = self.lines[at].text.strip()
        match = _NAME.fullmatch(text) if 0 < len(text) <= _LONGEST else None
        if match is None or heading_of(text) is not None or is_known_name(match["name"]):
            return None
        if is_label_of_notes(text) or facts_of(text) or which_time(match["name"]):
            return None
        said = is_direction(match["name"]) or is_term(match["name"])
        said = said or AGAIN_FIRST.match(match["name"]) is not None or times_of(match["name"]) > 0
        words = match["name"].split()
        title = len(words) > 1 and all(word[0].isupper() for word in words)  # "Aunt May"
        sung = sounds_said(match["name"]) <= _SUNG * (_TITLED if title else 1)
        return None if said or sung else match

    def _is_under_name(self, at: int) -> bool:
        """Whether a known name stands alone right above a line, which says who sings there, as
        others like it do then."""
        above = heading_of(text_at(self.lines, at - 1).strip()[:_LONGEST])
        return above is not None and above.rest_at is None and is_known_name(above.name)

    def _asked_again(self, over: dict[int, re.Match[str]]) -> set[str]:
        """The names, in small letters, that other lines begin with and ask for again."""
        names = {match["name"].casefold() for match in over.values()}
        begun = (
            match["name"].casefold()
            for at, line in enumerate(self.lines)
            if at not in over and 0 < len(line.text) <= 2 * _LONGEST
            if (match := _AGAIN.match(line.text.strip())) is not None
        )
        return names.intersection(begun)

    def _alone_elsewhere(self, over: dict[int, re.Match[str]]) -> list[str]:
        """The names that stand alone on further lines, where no words to a row are due."""
        names = {match["name"].casefold() for match in over.values()}
        others = (
            line.text.strip().casefold()
            for at, line in enumerate(self.lines)
            if at and at not in over and 0 < len(line.text) <= _LONGEST and not self.rows[at - 1]
        )
        return [text for text in others if text in names]

    def _are_one_too_many(self, over: dict[int, re.Match[str]], names: set[str]) -> bool:
        """Whether as many lines stand under the rows above these names as under the other rows,
        without the names."""
        counts: dict[bool, Counter[int]] = {False: Counter(), True: Counter()}
        for at, row in enumerate(self.rows):
            below = at + 1
            while (
                row and self._is_sung(below) and (below in over or not self._begins(below, names))
            ):
                below += 1
            match = over.get(below - 1)
            named = match is not None and match["name"].casefold() in names
            if row and below > at + 1:
                counts[named][below - at - 1 - named] += 1
        usual = {count.most_common(1)[0][0] for count in counts.values() if count}
        return len(usual) == 1

    def _begins(self, at: int, names: Collection[str]) -> bool:
        """Whether a line begins with one of some names."""
        return self.lines[at].text.strip().casefold().startswith(tuple(names))

    def _is_sung(self, at: int) -> bool:
        """Whether a line could be words: no row, no name, and no remark in parentheses."""
        text = text_at(self.lines, at).strip()
        plain = bool(text) and not self.rows[at] and text[0] not in "(["
        return plain and heading_of(text[:_LONGEST]) is None

    @cached_property
    def _known_with_colon(self) -> int:
        """How many known names stand alone before a colon right above a row."""
        return sum(
            row and len(text) <= _LONGEST and text.endswith(":") and is_known_name(text[:-1])
            for row, text in zip(self.rows[1:], (x.text.strip() for x in self.lines), strict=False)
        )

    @cached_property
    def _has_sung_kinds(self) -> bool:
        """Whether sections stand there under the names of verses, refrains and the like."""
        headings = (
            heading_of(one.text.strip()) for one in self.lines if 0 < len(one.text) <= _LONGEST
        )
        return any(one is not None and section_key(one.name)[0] in SUNG_KINDS for one in headings)
