"""Recognises the names of people who wrote a song, and what is said behind them.

How names are spelled, with initials, hyphens and small words within: common practice, no source.
"""

import re

from chartkit.interchange.person_names import is_spelled_as_names
from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.manners import says_feel

_LONGEST = 120
_BEHIND = re.compile(
    r"\s*,\s+|\s+(?:-{1,2}|[–—|/·•])\s+|\s{2,}|\t\s*|\s*;\s*|\s+(?=[(\[])|,?\s+(?=(?:19|20)\d\d\b)"
)
"""What parts a name from what is said behind it."""
_IN_BRACKETS = re.compile(r"[(\[](?P<names>[^()\[\]]{3,80})[)\]][,.;]?\s*")
_COPYRIGHT = re.compile(
    r"(?:(?:©|\(c\)|copyright)\s*(?:(?:19|20)\d\d\s*,?\s*)?|(?:19|20)\d\d\s+)(?=[^\W\d_])",
    re.IGNORECASE,
)
_YEAR_BEHIND = re.compile(r"\s*,?\s*(?:(?:©|\(c\)|copyright)\s*)?(?<!\d)(?:19|20)\d\d\s*$", re.I)
"""The year that stands behind a writer's name."""
_LONGEST_DATED = 160


def undated(name: str) -> str:
    """A writer's name without the year behind it."""
    return _YEAR_BEHIND.sub("", name) if len(name) <= _LONGEST_DATED else name


@kept
def names_people(text: str) -> bool:
    """Whether a text can only be the names of one or more people ("T. Oxley", "Ana de Sá & Lu
    Prates")."""
    text = text.strip()
    if len(text) > _LONGEST or not is_spelled_as_names(text):
        return False
    return not (says_feel(text) or is_direction(text))


@kept
def names_and_remark(text: str) -> tuple[str, str]:
    """The names of people that begin a text, and what is said behind them: a remark in small
    letters or figures, or more behind names in brackets.  Both are empty where no names begin it.
    """
    text = text.strip()
    if len(text) > _LONGEST:
        return "", ""
    text = text[sign.end() :] if (sign := _COPYRIGHT.match(text)) is not None else text
    bracketed = _IN_BRACKETS.match(text)
    if bracketed is not None and names_people(undated(bracketed["names"])):
        return undated(bracketed["names"]), text[bracketed.end() :].strip()
    if names_people(text):
        return text, ""
    for gap in reversed([*_BEHIND.finditer(text)]):
        behind = text[gap.end() :].strip()
        small = not behind[:1].isupper()
        if behind and (small or "," not in gap[0]) and names_people(text[: gap.start()]):
            return text[: gap.start()].strip(), behind
    return "", ""
