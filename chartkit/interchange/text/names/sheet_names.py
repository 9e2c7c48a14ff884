"""The names of sections in one sheet: those that musicians use everywhere, and its own."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from chartkit.interchange.text.names.headings import Heading, heading_of
from chartkit.interchange.text.quick_looks import same_word, words_in
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    full_name_pattern,
    is_known_name,
    may_name_a_section,
    section_key,
)
from chartkit.interchange.wording import section_name

_STAND_IN = "strain"
"""A name in whose place an own one is read: signs, counts and remarks around a name say the same
of any."""
_BEFORE_A_NAME = re.compile(r"[\W_]*(?:(?:\d{1,2}\s?[x×]|[^\W\d_]{2,8}\.?)\s+){0,2}", re.IGNORECASE)
_OWN = re.compile(r"[^\W\d_]{2,16}(?:[ '’-][^\W\d_]{1,16}){0,2}")
_LONGEST = 160
_FEWEST = 2


@dataclass(frozen=True, slots=True)
class SheetNames:
    """``own`` are names that only this sheet has, without numbers and case ("lift").

    ``asides`` are what stands in square brackets and names nothing ("[kettle]").
    """

    own: frozenset[str] = frozenset()
    asides: frozenset[str] = frozenset()

    def with_own(self, names: Iterable[str]) -> "SheetNames":
        """The names with those of some headings, as far as they are not known."""
        bare = {
            section_key(name)[0]
            for name in names
            if not is_known_name(name) and full_name_at(name, 0) == 0
            if name not in self.asides
        }
        own = {name for name in bare if _OWN.fullmatch(name) is not None}
        return self if own <= self.own else SheetNames(self.own | own, self.asides)

    def end_at(self, text: str, start: int = 0) -> int:
        """Where a section's full name ends that begins at a place of a text; the place itself
        where none does."""
        end = full_name_at(text, start)
        if end > start or not self._may_have_own(text):
            return end
        match = _pattern(self.own).match(text, start)
        return match.end() if match is not None else start

    def is_full(self, text: str) -> bool:
        """Whether a text is the full name of a section, without anything else."""
        return bool(text) and self.end_at(text) == len(text)

    def may_name(self, text: str) -> bool:
        """Whether the words of a text could name a section; a quick look."""
        return may_name_a_section(text) or self.has_own(text)

    def has_own(self, text: str) -> bool:
        """Whether a text has one of the sheet's own names."""
        return self._may_have_own(text) and (
            _pattern(self.own).search(text, 0, _LONGEST) is not None
        )

    def _may_have_own(self, text: str) -> bool:
        """Whether the first word of one of the sheet's own names is among those of a text, as it
        is wherever one stands: nothing but letters is part of the word (``_OWN``), and no letter
        stands right before or behind it (``_pattern``)."""
        return bool(self.own) and not _first_words(self.own).isdisjoint(words_in(text))

    def is_known(self, name: str) -> bool:
        """Whether a name, in full or cut short, is one that musicians or this sheet use."""
        return is_known_name(name) or section_key(name)[0] in self.own

    def heading_of(self, text: str) -> Heading | None:
        """The heading that a line is, or begins with; None for any other line."""
        return self._own_heading(text) or heading_of(text)

    def _own_heading(self, text: str) -> Heading | None:
        """The heading by one of the sheet's own names; None for any other line."""
        if len(text) > _LONGEST or not self._may_have_own(text):
            return None
        match = _pattern(self.own).search(text)
        if match is None or _BEFORE_A_NAME.fullmatch(text, 0, match.start()) is None:
            return None
        usual = f"{text[: match.start('base')]}{_STAND_IN}{text[match.end('base') :]}"
        heading = heading_of(usual)
        if heading is None or _STAND_IN not in (lower := heading.name.casefold()):
            return None
        at = lower.index(_STAND_IN)
        name = f"{heading.name[:at]}{match['base']}{heading.name[at + len(_STAND_IN) :]}"
        longer = len(text) - len(usual)
        rest_at = heading.rest_at + longer if heading.rest_at is not None else None
        return replace(heading, name=section_name(name), rest_at=rest_at)


def asides_in(texts: Sequence[str]) -> frozenset[str]:
    """What stands in square brackets in a sheet whose known names of sections have none, so that
    the brackets are around what is said."""
    bracketed = {text[1:-1].strip() for text in texts if text[:1] + text[-1:] == "[]"}
    bracketed = {text for text in bracketed if 2 < len(text) <= _LONGEST}
    if not bracketed or any(text.startswith("[") and full_name_at(text, 1) > 1 for text in texts):
        return frozenset()
    bare = sum(_is_name_and_no_more(text) for text in texts if len(text) <= _LONGEST)
    named = {text for text in bracketed if is_known_name(text) or full_name_at(text, 0)}
    return frozenset(bracketed - named) if bare >= _FEWEST and not named else frozenset()


def _is_name_and_no_more(text: str) -> bool:
    """Whether a line is a known name with nothing, or a sign, behind it."""
    end = full_name_at(text, 0)
    return end > 0 and (end == len(text) or text[end:].lstrip()[0] in ":-–—(=.x")


COMMON_NAMES = SheetNames()
"""The names that musicians use everywhere."""


_LETTERS = re.compile(r"[^\W\d_]+")


@lru_cache(maxsize=64)
def _first_words(own: frozenset[str]) -> frozenset[str]:
    first = (_LETTERS.match(name) for name in own)
    return frozenset(same_word(match[0]) for match in first if match is not None)


@lru_cache(maxsize=64)
def _pattern(own: frozenset[str]) -> re.Pattern[str]:
    names = "|".join(
        re.escape(name).replace(r"\ ", r"\s+") for name in sorted(own, key=len, reverse=True)
    )
    base = rf"(?P<base>(?<![^\W_])(?:{names})(?![^\W\d_]))"
    return re.compile(full_name_pattern(base), re.IGNORECASE)
