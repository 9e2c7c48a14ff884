"""Names of sections with numbers: "Verse 2", "2. Strophe", "2nd Verse", "Verse the 2nd"."""

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise

_SIGNS = (
    r"(?:[.)ºª°]|(?::[ae]|st|nd|rd|th|ra|da|ta|[dt]o|ro|[eè]re?|i?[eè]me|n?de|s?te|te[rs]|[aeoè])"
    r"\b)"
)
"""What makes an ordinal of a number: the endings of the languages that sections are named in
(common practice, no source)."""
_LONG_SIGNS = r"(?:[.)ºª°]|(?::[ae]|st|nd|rd|th|[eè]re|i?[eè]me|nde|ste|te[rs])\b)"
"""Those that are no letter of a part after a number, as "Verse 2a" has."""
_LEADING = re.compile(rf"\s*(?P<number>\d+)(?P<sign>{_SIGNS})\s*(?=\S)", re.IGNORECASE)
_TRAILING = re.compile(r"\s*(?P<number>\d+)(?P<sign>)\s*$")
_TRAILING_ORDINAL = re.compile(
    rf"\s+(?P<the>the\s+)?(?P<number>\d+)(?P<sign>{_LONG_SIGNS})\s*$", re.IGNORECASE
)


def _number(name: str) -> re.Match[str] | None:
    return _TRAILING.search(name) or _LEADING.match(name) or _TRAILING_ORDINAL.search(name)


def has_number(name: str) -> bool:
    """Whether a section's name begins with an ordinal or ends with a number."""
    return _number(name) is not None


def number_of(name: str) -> str:
    """The number in a section's name, without its sign; a first one may be without."""
    match = _number(name)
    return match["number"] if match else "1"


def without_number(name: str) -> str:
    """The name without its number, as it is written; empty for a number alone."""
    match = _number(name)
    return name if match is None else (name[: match.start()] + name[match.end() :]).strip()


@lru_cache(maxsize=1024)
def name_without_number(name: str) -> str:
    """The name of a section without its number: a second verse is sung like the first, a solo over
    it is not. Names are kept, since they are compared at every size that is tried."""
    return re.sub(r"[\W\d]+", "", without_number(name)).casefold()


def numbered_like(name: str, number: str, others: Iterable[str]) -> str:
    """A name without a number with one that is written as in the others: ``1. Strophe`` beside
    ``2. Strophe``."""
    match = next((one for other in others if (one := _number(other)) is not None), None)
    if match is None or not match["sign"]:
        return f"{name} {number}"
    signed = number + match["sign"]
    return f"{signed} {name}" if not match.start() else f"{name} {_article(match)}{signed}"


def name_of_all(names: Sequence[str]) -> str:
    """One name for sections that differ by their numbers alone: ``Verse 1, 2``, ``1., 2. Strophe``
    or, of three and more that follow one another, ``1st–3rd Verse``."""
    whole = [name if has_number(name) else numbered_like(name, "1", names) for name in names]
    matches = [one for name in whole if (one := _number(name)) is not None]
    first, base = matches[0], without_number(whole[0]) or whole[0]
    if not all(one["sign"] and bool(one.start()) == bool(first.start()) for one in matches):
        return f"{base} {listed_numbers([one['number'] for one in matches])}"
    signed = listed_numbers([one["number"] + one["sign"] for one in matches])
    return f"{signed} {base}" if not first.start() else f"{base} {_article(first)}{signed}"


def _article(match: re.Match[str]) -> str:
    return match.groupdict().get("the") or ""


def listed_numbers(numbers: Sequence[str]) -> str:
    """Numbers in a row: ``1, 2`` or, of three and more that follow one another, ``1–3``."""
    values = [int(re.sub(r"\D.*", "", number)) for number in numbers]
    if len(values) > 2 and all(b == a + 1 for a, b in pairwise(values)):
        return f"{numbers[0]}–{numbers[-1]}"
    return ", ".join(numbers)
