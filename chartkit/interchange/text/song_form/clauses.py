"""The clauses of a sentence that gives an order, without what leads to the sections they name."""

import re
from collections.abc import Iterator

from chartkit.interchange.text.vocabulary.order_words import (
    CLAUSES_APART,
    LEAD,
    LEAD_AGAIN,
    OVER,
    TAIL,
    TAIL_AGAIN,
)
from chartkit.interchange.text.vocabulary.times_played import times_of

_MOST_WORDS_OF_A_COUNT = 4
_FOR = re.compile(
    r"\s+(?:for|with|mit|für|avec|pour|con|para|per|met|med|com)\s+(?=\S)", re.IGNORECASE
)


def clauses_in(text: str) -> list[str]:
    """The clauses of a sentence, which nothing parts within parentheses."""
    return [clause for _, clause in _parted(text)]


def placed_clauses(text: str) -> Iterator[tuple[int, str]]:
    """The clauses of a sentence with their places, without blanks around them."""
    for start, clause in _parted(text):
        yield start + len(clause) - len(clause.lstrip()), clause.strip()


_OVER_LETTER = re.compile(rf"(?<!\w)(?:{OVER})\s+(?-i:[A-H])\d?$", re.IGNORECASE)
_AND_LETTER = re.compile(r"\s+(?:[^\W\d_]{1,3}|[&+])\s+$")
_LETTER = re.compile(r"[A-H]\d?(?!\w)")


def _is_one_more_letter(clause: str, sign: str, rest: str) -> bool:
    """Whether the letter of a part stands behind "and" and what is played over another ("solo on A
    and B")."""
    joined = _AND_LETTER.fullmatch(sign) is not None and _LETTER.match(rest) is not None
    return joined and _OVER_LETTER.search(clause) is not None


def _parted(text: str) -> Iterator[tuple[int, str]]:
    start = 0
    for match in CLAUSES_APART.finditer(text):
        clause = text[start : match.start()]
        if _is_one_more_letter(clause, match[0], text[match.end() :]):
            continue
        if clause.count("(") <= clause.count(")"):
            if clause.strip():
                yield start, clause
            start = match.end()
    if text[start:].strip():
        yield start, text[start:]


def without_leads(clause: str) -> Iterator[tuple[str, bool]]:
    """A clause with less and less of the words that lead to what it names and stand behind it, and
    whether it says that this is played again."""
    again = False
    yield clause, again
    for pattern in (TAIL, TAIL_AGAIN):
        shorter = pattern.sub("", clause)
        again |= pattern is TAIL_AGAIN and shorter != clause
        clause = shorter
    yield clause, again
    while clause:
        lead = LEAD_AGAIN.match(clause) or LEAD.match(clause)
        if lead is None or not lead[0]:
            return
        again |= lead.re is LEAD_AGAIN
        clause = clause[lead.end() :]
        yield clause, again


def count_apart(text: str) -> tuple[int, str]:
    """How often something is played by the first or the last words of a text, and the rest."""
    words = text.split()
    for size in range(min(_MOST_WORDS_OF_A_COUNT, len(words)), 0, -1):
        if times := times_of(" ".join(words[:size])):
            return times, " ".join(words[size:])
        if times := times_of(" ".join(words[-size:])):
            return times, " ".join(words[:-size]).rstrip(" ,(")
    return 1, text


def singular(text: str) -> Iterator[str]:
    """A name of several sections as that of one, by its ending."""
    yield text
    for ending in ("es", "s", "n", "e"):
        if text.endswith(ending):
            yield text[: -len(ending)]


def behind_lead(text: str) -> str:
    """What stands behind words that lead back to the top ("for V1")."""
    match = _FOR.match(text)
    return text[match.end() :] if match is not None else ""
