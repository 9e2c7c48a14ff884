"""Lines that could begin with a section's name: the name, what parts it from the rest, the rest.

How much a word looks like the name of a section is a class: one that musicians use in full
("full") or cut short ("short"), a letter alone, the beginning of a name ("begin"), some letters of
one in order ("skeleton"), one with a slip ("slip"), several words with one of them ("holds"), or
any other word.  Source of the ways to cut a word short: common practice, no source.
"""

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from chartkit.chart.section_words import KIND_OF
from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    is_known_name,
    is_short_name,
)
from chartkit.interchange.text.vocabulary.times_played import (
    ANY_TIMES,
    begins_with_plain_words,
    times_of,
)

LONGEST = 100
"""A longer line is no name with a few words behind it."""
KNOWN = frozenset({"full", "short"})
"""Classes of names that musicians use."""
_SHAPE = re.compile(
    r"(?P<before>[-–—=*#~_•>+(\[<{\"“ ]{0,8})"
    r"(?P<name>(?:\d{1,2}(?:st|nd|rd|th|[ªº°]|\.)?\s+)?[^\W\d_][^\W\d_'’]*\.?"
    r"(?:[ -](?!x\s?\d)[^\W\d_]+){0,3}?"
    r"(?:\s?[#.]?\s?\d{1,2}(?!\s?[x×\d]|\s?(?:bars?|times)\b))?)"
    r"(?P<after>[-–—=*#~_•<)\]>}\"”]{0,8}[:.]?)"
    r"(?:(?P<sign>\s*(?=[(\[])|\s+[-–—]+\s+|\s*[:=;,]\s+|\s*(?:-+>|>+|→|<-+)\s*|\s*(?=\|)|\s{2,}|"
    rf"\s+(?=(?:{ANY_TIMES})[^\w]*$)|$)(?P<rest>.*))",
    re.IGNORECASE,
)
"""A name in any signs, a sign or a gap, and more."""
_WITHOUT_SIGN = re.compile(
    r"(?P<name>[^\W\d_]+\.?(?:\s?\d{1,2}(?!\s?[x×\d]))?)\s(?P<rest>\S.*)", re.IGNORECASE
)
"""A word, or one with a number, and more behind a single blank."""
_MAY_STAND_SO = KNOWN | {"letter", "begin"}
_BASES = (
    "verse",
    "chorus",
    "bridge",
    "intro",
    "outro",
    "refrain",
    "instrumental",
    "interlude",
    "solo",
    "strophe",
    "couplet",
    "estribillo",
    "estrofa",
    "ritornello",
    "strofa",
    "refrein",
    "prechorus",
    "middle",
    "ending",
    "turnaround",
    "break",
    "zwischenspiel",
    "coda",
    "introduction",
    "part",
    "section",
)
"""The names that are cut short or mistyped most."""
_BEGINNINGS = frozenset(
    name[:end] for name in KIND_OF if " " not in name for end in range(len(name) + 1)
)
"""How names of one word begin."""
_FEWEST_OF_A_SLIP = 4


@dataclass(frozen=True, slots=True)
class NameShape:
    """``sign`` is what parts the name from the rest: a sign, "paren", "bar", "count", "gap", "word"
    for a single blank, or "end" where nothing follows; ``around`` the signs around the name."""

    name: str
    around: str
    sign: str
    rest: str
    start: int
    """Where the rest begins."""

    @property
    def bare(self) -> str:
        """The name without its number, in small letters."""
        return self.name.strip(" .").rstrip("0123456789 .#").casefold()

    @property
    def is_numbered(self) -> bool:
        """Whether a number stands in the name."""
        return self.name[-1:].isdecimal() or self.name[0].isdecimal()

    @property
    def likeness(self) -> str:
        """How much the name looks like one: its class."""
        return likeness_of(self.name)

    @property
    def letters(self) -> str:
        """Whether the name is in capitals, begins with one ("title"), or is in small letters."""
        words = "".join(filter(str.isalpha, self.name))
        return "capitals" if words.isupper() else "title" if words[:1].isupper() else "small"


@kept
def shape_of(text: str) -> NameShape | None:
    """The parts of a line that could begin with a name; None for any other line."""
    if not text or len(text) > LONGEST or text[-1] == "?":
        return None
    match = None if begins_with_plain_words(text) else _SHAPE.fullmatch(text)
    close = _WITHOUT_SIGN.fullmatch(text)
    if close is not None and (match is None or not match["rest"]):
        whole = match is not None and likeness_of(match["name"]) == "full"
        if not whole and likeness_of(close["name"]) in _MAY_STAND_SO:
            return NameShape(close["name"], "", "word", close["rest"], close.start("rest"))
    if match is None or _is_open(match["before"], match["after"]):
        return None
    rest, around = match["rest"].strip(), _habit(match["before"] + match["after"])
    return NameShape(
        match["name"].strip(), around, _kind_of_sign(match["sign"], rest), rest, match.start("rest")
    )


def _is_open(before: str, after: str) -> bool:
    """Whether a bracket before a name ends behind more than the name ("(solo: Marcia)")."""
    return any(one in before and other not in after for one, other in ("()", "[]", "{}"))


def _kind_of_sign(sign: str, rest: str) -> str:
    if not rest:
        return "end"
    if rest[0] in "([":
        return "paren"
    if rest[0] == "|":
        return "bar"
    if times_of(rest):
        return "count"
    first = sign.strip()[:1]
    return "-" if first in ("–", "—") else first or "gap"


def _habit(signs: str) -> str:
    """The signs around a name, each run of them once."""
    return re.sub(r"(.)\1+", r"\1", signs.replace(" ", ""))


@lru_cache(maxsize=4_096)
def likeness_of(name: str) -> str:
    """How much a text looks like the name of a section: its class."""
    bare = _plain(name.strip(" .:").rstrip("0123456789 .#"))
    if full_name_at(name, 0) == len(name):
        return "full"
    if is_short_name(name) and len(bare) > 1:
        return "short"
    if len(bare) == 1:
        return "letter"
    if " " in bare:
        holds = any(len(word) > 2 and is_known_name(word) for word in bare.split())
        return "full" if is_known_name(name) else "holds" if holds else "other"
    if bare in _BEGINNINGS:
        return "begin"
    if any(_is_skeleton(bare, whole) for whole in _BASES):
        return "skeleton"
    slip = len(bare) >= _FEWEST_OF_A_SLIP and any(is_slip(bare, whole) for whole in _BASES)
    return "slip" if slip else "other"


def _plain(text: str) -> str:
    """A text in small letters without accents."""
    parted = unicodedata.normalize("NFD", text.casefold())
    return "".join(one for one in parted if not unicodedata.combining(one))


def _is_skeleton(short: str, whole: str) -> bool:
    """Whether a word has some letters of another in order, with its first one."""
    if short[:1] != whole[0] or len(short) >= len(whole):
        return False
    letters = iter(whole)
    return all(letter in letters for letter in short)


def is_slip(word: str, meant: str) -> bool:
    """Whether a word is another with a letter too many, too few or wrong, or with two that changed
    places."""
    if abs(len(word) - len(meant)) > 1 or word[0] != meant[0]:
        return False
    apart = next((i for i, (a, b) in enumerate(zip(word, meant, strict=False)) if a != b), -1)
    if apart < 0:
        return True
    one, other = word[apart:], meant[apart:]
    swapped = one[:2] == other[1::-1][:2] and one[2:] == other[2:]
    return swapped or one[1:] == other[1:] or one[1:] == other or one == other[1:]
