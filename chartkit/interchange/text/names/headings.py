"""Headings: lines that name a section, alone or before something else.

Source of the forms that headings have: common practice, no source.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from chartkit.interchange.text.names.section_keys import names_a_key
from chartkit.interchange.text.quick_looks import MOST_LINES_KEPT, has_any
from chartkit.interchange.text.tokens import NARROW
from chartkit.interchange.text.vocabulary.section_names import (
    CUT_SHORT,
    FULL_NAME,
    IN_KEY,
    SUNG_OR_SAID,
    is_known_name,
    is_plainest_name,
    may_begin_full_name,
    may_have_full_name,
)
from chartkit.interchange.text.vocabulary.times_played import (
    ANY_TIMES,
    NAMED_TIMES,
    ONCE_MORE,
    times_from,
    times_in,
    times_of,
)
from chartkit.interchange.wording import section_name

_HEADING = re.compile(
    rf"(?P<name>{FULL_NAME}{IN_KEY}?"
    rf"(?:\s*\((?!\s*{ANY_TIMES}\s*\))[^()]*[^\W\d][^()]*\))?)"
    rf"\s*(?:[(\[]?\s*{NAMED_TIMES}\s*[)\]]?)?"
    r"\s*(?P<colon>[:.]?)",
    re.IGNORECASE,
)
_SAID_BEHIND_TIMES = re.compile(
    rf"(?P<heading>{FULL_NAME}\s*(?:{ANY_TIMES}|[(\[]\s*{ANY_TIMES}\s*[)\]]))"
    r"\s*[(\[](?P<said>[^()\[\]|]{1,60})[)\]]",
    re.IGNORECASE,
)
"""A heading with its count and a remark in parentheses ("Chorus x2 (second time quiet)")."""
_BRACKETS_AND_REMARK = re.compile(
    r"[\[({<](?P<name>[^\[\](){}<>]{2,30})[\])}>]\s*[,;:–-]\s*(?P<said>[^|]{2,50})"
)
_CUT_SHORT = r"(?:VS?|CHO?|CHOR|BR|PC|PRE|POST|REF|INT|INST|OUT|SOLO)\s?\d?"
_ALONE = re.compile(
    rf"(?P<name>{_CUT_SHORT})(?:\s*[\[(](?P<said>[^()\[\]]{{1,40}})[\])]|"
    rf"\s*=\s*(?P<other>{_CUT_SHORT}))?"
)
"""Names cut short, in capital letters alone on a line, with a remark or the same as another."""
_A_CHORD = r"\(?[A-H][#b♯♭]?(?:maj|min|m|dim|sus|add|[#b♯♭]?\d{1,2}|\+|°|ø)*(?:/[A-H][#b♯♭]?)?\)?"
_ROW_OF_CHORDS = rf"{_A_CHORD}(?:[\s–-]+{_A_CHORD})+\s*(?:\(?(?:[x×]\s?\d+|\d+\s?[x×])\)?)?$"
_SHORT = re.compile(
    rf"(?P<name>R|(?:{CUT_SHORT}|V|Str)\s?\d{{0,2}}|M8|"
    rf"[A-Z]\d?(?=\s*:\s*\|)|[CBIO]\d?(?=\s*:\s*{_ROW_OF_CHORDS}))"
    r"\.?\s*(?P<colon>[:)])(?!\S)",
    re.IGNORECASE,
)
_SHORT_WITH_NUMBER = re.compile(
    r"(?:v|vs|ver|vsz|ch|cho|str|zwr|zw|estr|coup|cpl|ref|refr)\.?\s?\d{1,2}|ch|cho|br|pc|(?:ref|refr|str|zwr|estr|ch|cho|chor|br|outr|intr|int|instr|inst|vsz?|coup|interl|pre-ch)\.",
    re.IGNORECASE,
)
"""Names cut short that stand alone on a line in any letters."""
_SHORT_AND_REMARK = re.compile(
    rf"(?P<name>{_SHORT_WITH_NUMBER.pattern})\s*\((?P<said>[^\W\d][^()]{{2,40}})\)", re.IGNORECASE
)
_SHORT_VERSE = re.compile(
    r"(?:str|zwr|estr|coup|cpl|vs?|ref|refr|ch)\.|(?:vsz|zwr)\.?", re.IGNORECASE
)
_NUMBER_FIRST = re.compile(r"(\d{1,2})[.)]?\s*(?=[^\W\d])")
_NUMBER_ALONE = re.compile(r"(?P<number>\d{1,2}[.):])(?:\s*\((?P<said>[^\W\d][^()|]{2,40})\))?")
_AGAIN = re.compile(
    r"(?:repeat|rep\.|back to|wdh\.)\s+(?:the\s+)?(.+)|(.+?)\s+(?:again|repeat|wdh\.)",
    re.IGNORECASE,
)
_SAYS_AGAIN = ("repeat", "rep.", "back to", "wdh", "again")
_NO_SIGNS = re.compile(r"(?![Dd][Ee][Ll] )[A-Za-z](?:[A-Za-z0-9,.' ]|(?<! )[/#])*")
"""A line that begins with a letter and has none of the signs around names and remarks."""
_ONCE_MORE = re.compile(rf"\s*[,–-]?\s*[(\[]?{ONCE_MORE}[)\]]?[.!]?", re.IGNORECASE)
_POINTED = re.compile(r"^\s*>{1,3}\s+(?=\S)")
_REMARK_IN_BRACKETS = re.compile(r"(?<=\w)\s*\[([^\[\]|]{1,40})\]$")
_COMMENTED = re.compile(r"(?P<heading>\S.*?)\s+(?://+|#+\s|<-+|←|;)\s*(?P<said>[^|]{1,50})")
"""A heading and a comment behind it."""
_EMPHASIS = re.compile(r"(?<![^\s(\[])[*_]{1,3}(?=[^\s*_])|(?<=[^\s*_])[*_]{1,3}(?![^\s)\].:,])")
"""Stars and low lines around what is emphasised."""
_OPENS, _BEGINS_PART = frozenset("[="), frozenset("pstd")
_DECORATION = " \t-–—=*#_~•"
_BRACKETED = re.compile(
    r"\[\s*([^\[\]]{1,60}?)\s*\]\s*(?:\(?[x×]\s*(?P<times>\d{1,2})\)?|"
    r"\(?(?P<many>\d{1,2})\s?[x×]\)?)?\s*:?\s*(?P<said>\([^()]{1,40}\))?"
)
_RULED = re.compile(
    r"==\s*([^=]{1,60}?)\s*(?:\(?[x×]\s*(?P<times>\d{1,2})\)?)?\s*=*"
    r"(?:\s*(?P<said>\([^()|]{1,40}\)))?"
    r"(?:\s*(?:[x×]\s?(?P<behind>\d{1,2})|(?P<many>\d{1,2})\s?[x×]))?"
)
"""Our own way of marking a section, which may have any name, with a remark and a count behind."""
_PART_AND_TIMES = re.compile(
    r"(?P<name>(?:part|section|teil|parte|partie|del)\s[A-H])\s*[,:]?\s*"
    r"\(?(?:[x×]\s?(?P<times>\d{1,2})|(?P<many>\d{1,2})\s?[x×])\)?"
    r"(?:\s*\((?P<said>[^()|]{1,40})\))?",
    re.IGNORECASE,
)
"""A part of a tune by its letter, with its count ("Part A x2")."""
_OVER = re.compile(
    r"(?P<name>[^:|]{2,30}?)\s+(?P<remark>(?:over|on)\s+(?:the\s+)?[^:|]{2,30}\s(?:chords|changes))",
    re.IGNORECASE,
)
_DASH = re.compile(r"\s+[-–—]\s+")
_WIDE_DASH = re.compile(r"\s{2,}[-–—]\s{2,}")
"""A dash with room around it, which parts a name in small letters from a remark too."""
_LIKE_A_CHORD = re.compile(r"\(?[A-H](?:[#b♯♭m\d/]|$|maj|min|sus|dim|aug|add)")
_MOST_WORDS_OF_A_REMARK, _MOST_WORDS_OVER_KEY = 4, 8
_LONGEST_LINE, _LONGEST_CUT_SHORT = 120, 12
_LONGEST_NAME = 6
"""What is longer is no heading, though a heading may begin it."""


_ROUND_AND_MORE = re.compile(
    rf"\((?P<name>[^\W\d_][^()|]{{1,30}})\)\s*(?P<more>\([^()|]{{2,40}}\)|\(?(?:{ANY_TIMES})\)?)\s*:?",
    re.IGNORECASE,
)
"""A name in parentheses, and what is said of it behind them."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A section's heading: ``rest_at`` is where more stands behind it on its line, ``remark``
    what is said to the players behind a dash."""

    name: str
    times: int = 1
    rest_at: int | None = None
    remark: str = ""


@lru_cache(maxsize=MOST_LINES_KEPT)
def heading_of(text: str) -> Heading | None:
    """The heading that a line is, or begins with; None for any other line."""
    if is_plainest_name(text):
        return Heading(section_name(text))
    return None if names_nothing(text) else heading_among_signs(text)


def heading_among_signs(text: str) -> Heading | None:
    """The heading that a line is, or begins with, whatever signs stand around its name."""
    short = text.strip() if len(text) <= _LONGEST_LINE else ""
    if _has_comment(short) and (commented := _COMMENTED.fullmatch(short)) is not None:
        named = heading_of(commented["heading"])
        if named is not None and named.rest_at is None and not named.remark:
            return replace(named, remark=commented["said"])
    if "*" in short or "_" in short:
        text = short = _EMPHASIS.sub("", short)
    if (heading := _between_signs(short) or _number_alone(short)) is not None:
        return heading
    inside = _ROUND_AND_MORE.fullmatch(short) if short[:1] == "(" else None
    if inside is not None and is_known_name(inside["name"]):
        return heading_of(f"{inside['name']} {inside['more']}")
    lettered = _PART_AND_TIMES.fullmatch(short) if short[:1].casefold() in _BEGINS_PART else None
    if lettered is not None:
        times = lettered["times"] or lettered["many"]
        said = lettered["said"] or ""
        return Heading(section_name(lettered["name"]), times_from(times), remark=said)
    if len(text) > _LONGEST_LINE:
        text = text[:_LONGEST_LINE] + "…"
    text = text if text.isascii() else text.translate(NARROW)
    plain = (_POINTED.sub("", text) if ">" in text else text).strip(_DECORATION)
    plain = _REMARK_IN_BRACKETS.sub(r" (\1)", plain) if plain.endswith("]") else plain
    wrapped = plain[:1] + plain[-1:] in ("[]", "()", "<>", "{}")
    bare = plain[1:-1].strip() if wrapped else plain
    for read in _WHOLE_LINE:
        if (heading := read(plain if read is _cut_short else bare)) is not None:
            return heading
    at = text.find(plain[:_LONGEST_NAME])
    return _short_with_colon(bare, at) or _named(bare, None if wrapped else at)


def names_nothing(text: str) -> bool:
    """Whether a line of words or of chords, without signs, surely names no section; a quick look
    at what most lines are."""
    if not _LONGEST_CUT_SHORT < len(text) <= _LONGEST_LINE or _NO_SIGNS.fullmatch(text) is None:
        return False
    return not may_begin_full_name(text, 0) and not has_any(text.lower(), _SAYS_AGAIN)


def _has_comment(text: str) -> bool:
    """Whether there is a sign in a line behind which a comment may stand."""
    return "//" in text or "#" in text or ";" in text or "<-" in text or "←" in text


def _between_signs(text: str) -> Heading | None:
    """A name in square brackets, or behind our own "==": it may be any."""
    if text[:1] not in _OPENS:
        return None
    match = _BRACKETED.fullmatch(text) or _RULED.fullmatch(text)
    if match is None:
        return None
    remark, times = match["said"], match["times"] or match["many"]
    if match.re is _RULED:
        times = times or match["behind"]
    if remark is None and times is None and (inner := _inner(match[1])) is not None:
        return inner
    if match.re is _RULED and remark is not None:
        return Heading(section_name(match[1]), times_from(times), remark=remark[1:-1].strip())
    return Heading(section_name(f"{match[1]} {remark or ''}"), times_from(times))


def _number_alone(text: str) -> Heading | None:
    match = _NUMBER_ALONE.fullmatch(text) if text[:1].isdecimal() else None
    return Heading(match["number"].strip(":"), remark=match["said"] or "") if match else None


def _cut_short(text: str) -> Heading | None:
    """A name cut short alone on its line."""
    if len(text) > _LONGEST_CUT_SHORT and not ("(" in text or "[" in text or "=" in text):
        return None
    match = _ALONE.fullmatch(text)
    if match is not None:
        remark = match["said"] or (f"same as {match['other']}" if match["other"] else "")
        return Heading(section_name(match["name"]), remark=remark)
    if (remarked := _SHORT_AND_REMARK.fullmatch(text)) is not None:
        return Heading(section_name(remarked["name"]), remark=remarked["said"])
    return Heading(section_name(text)) if _SHORT_WITH_NUMBER.fullmatch(text) else None


def _over_another(text: str) -> Heading | None:
    """A name and whose chords are played ("Solo over the verse chords")."""
    match = _OVER.fullmatch(text) if text.endswith(("chords", "changes")) else None
    if match is None or _HEADING.fullmatch(match["name"]) is None:
        return None
    return Heading(section_name(match["name"]), remark=match["remark"])


def _said_behind_brackets(text: str) -> Heading | None:
    """A name in brackets and, behind a comma, what is said of it ("{Chorus}, only voices")."""
    match = _BRACKETS_AND_REMARK.fullmatch(text)
    heading = _named(match["name"], None) if match is not None else None
    if match is None or heading is None or _LIKE_A_CHORD.match(match["said"]):
        return None
    return replace(heading, remark=match["said"].strip())


def _said_behind_times(text: str) -> Heading | None:
    """A heading with its count and, in parentheses, what is said of it."""
    match = _SAID_BEHIND_TIMES.fullmatch(text) if text.endswith((")", "]")) else None
    heading = _named(match["heading"], None) if match is not None else None
    if match is None or heading is None or _LIKE_A_CHORD.match(match["said"]):
        return None
    return replace(heading, remark=match["said"].strip())


_WHOLE_LINE: tuple[Callable[[str], Heading | None], ...] = (
    _cut_short,
    _over_another,
    _said_behind_times,
    _said_behind_brackets,
)


def _short_with_colon(text: str, at: int) -> Heading | None:
    """A name cut short before a colon; ``at`` is where the text begins in its line."""
    colon = ":" in text or ")" in text
    match = _SHORT.match(text) if colon and _heading_at_start(text) is None else None
    if match is None:
        return None
    rest = at + match.end() if match.end() < len(text) else None
    return Heading(section_name(match["name"]), 1, rest)


@lru_cache(maxsize=16)
def _heading_at_start(text: str) -> re.Match[str] | None:
    may_be_one = may_begin_full_name(text, 0) and may_have_full_name(text)
    return _HEADING.match(text) if may_be_one else None


def _named(text: str, at: int | None) -> Heading | None:
    """A heading by a full name; ``at`` is where the text begins in its line, None where more
    cannot stand behind the name."""
    match = _heading_at_start(text)
    if match is None:
        return _with_more(text)
    name, times = section_name(match["name"]), times_in(match)
    times = 2 if times == 1 and name.casefold().startswith("double ") else times
    if match.end() == len(text) or _ONCE_MORE.fullmatch(text, match.end()):
        return Heading(name, times)
    if match["colon"] == ":":
        if times == 1 and (played := times_of(text[match.end() :])):
            return Heading(name, played)
        if at is not None:
            return Heading(name, times, at + match.end())
    heading = _remark_behind(text)
    low = text[0].islower() and _WIDE_DASH.match(text, match.end("name")) is None
    if heading is None or low or match["name"].lower() in SUNG_OR_SAID:
        return None
    return replace(heading, name=name, times=times)


def _inner(text: str) -> Heading | None:
    """The heading within brackets where more than a name stands there: how often it is played,
    or a remark behind a dash."""
    if (said := _said_behind_comma(text)) is not None:
        return said
    remarked = _remark_behind(text, any_case=True)
    match = _HEADING.fullmatch(remarked.name if remarked is not None else text)
    if match is None:
        return None
    remark = remarked.remark if remarked else ""
    return Heading(section_name(match["name"]), times_in(match), None, remark)


def _said_behind_comma(text: str) -> Heading | None:
    """A name cut short and, behind a comma, how it is played ("last ch, up a step")."""
    name, comma, said = text.partition(", ")
    if not comma or not is_known_name(name) or _HEADING.fullmatch(name) is not None:
        return None
    words = said.split()
    more = is_known_name(words[0].strip(",;")) or any(map(_LIKE_A_CHORD.match, words[:1]))
    return None if more else Heading(section_name(name), remark=said.strip())


def _remark_behind(text: str, any_case: bool = False) -> Heading | None:
    """A heading with a remark behind a dash, parted there, its name not yet read; None where
    what stands behind is long, has chords, or begins with a capital letter."""
    name, *more = _DASH.split(text.strip(), maxsplit=1)
    remark = more[0] if more else ""
    words = remark.split()
    if not (0 < len(words) <= _MOST_WORDS_OVER_KEY and (names_a_key(remark) or _is_said(words))):
        return None
    small = remark[0].islower() or text.isupper()
    if not any_case and (not small or _HEADING.fullmatch(name) is None):
        return None
    return Heading(name, remark=remark)


def _is_said(words: Sequence[str]) -> bool:
    """Whether some words behind a dash are few and no chords."""
    return len(words) <= _MOST_WORDS_OF_A_REMARK and not any(map(_LIKE_A_CHORD.match, words))


def _with_more(text: str) -> Heading | None:
    """A heading after its number ("1. Strophe"), or one with words that play it again."""
    number = _NUMBER_FIRST.match(text) if text[:1].isdecimal() else None
    if number is None and not has_any(text.lower(), _SAYS_AGAIN):
        return None
    again = _AGAIN.fullmatch(text)
    inner = text[number.end() :] if number else (again[1] or again[2]) if again else ""
    bare = inner.strip("() ") if inner.count("(") != inner.count(")") else inner.strip()
    match = _HEADING.fullmatch(bare) if bare else None
    if number is not None and _SHORT_VERSE.fullmatch(bare):
        return Heading(section_name(f"{number[1]}. {bare}"))
    if match is None:
        return None
    name = section_name(f"{number[1]}. {match['name']}" if number else match["name"])
    return Heading(name, times_in(match))


def name_before_more(text: str) -> int:
    """Where a section's name ends with which a line begins and after which more stands; 0 for
    any other line."""
    if len(text) > _LONGEST_LINE or is_plainest_name(text):
        return 0
    start = len(text) - len(text.lstrip())
    if not may_begin_full_name(text, start):
        return 0
    match = _HEADING.match(text, start)
    more = (
        match is not None
        and match["colon"] == ""
        and match["times"] == match["many"] == match["word"]
    )
    return match.end("name") if match is not None and more and match.end() < len(text) else 0
