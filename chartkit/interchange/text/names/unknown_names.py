"""Names of sections that nobody else uses ("KAZOOS", "Washboard"), known by where they stand:
alone over chords as the sheet's other headings do, and later alone where the section is played
again."""

import re
from collections.abc import Iterator, Sequence

from chartkit.interchange.text.lines import Line, is_empty
from chartkit.interchange.text.names.headings import Heading
from chartkit.interchange.text.names.name_shapes import is_slip
from chartkit.interchange.text.rows.cues import marks_of
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction, is_term
from chartkit.interchange.text.vocabulary.facts import facts_of
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of
from chartkit.interchange.wording import section_name

_COUNT_AND_REMARK = (
    rf"(?P<more>(?:\s*[(\[]?(?P<times>{ANY_TIMES})[)\]]?)?"
    r"(?:\s*\((?P<said>[^\W\d][^()|]{1,40})\))?)"
)
_NAME = re.compile(
    r"(?P<name>(?:\d{1,2}[ -])?[^\W\d_][^\W\d_'’.-]{2,15}(?:[ -][^\W\d_]{2,12}){0,3}(?:\s?\d)?)"
    r"(?P<end>\s?[:!.]|)"
    rf"{_COUNT_AND_REMARK}",
    re.IGNORECASE,
)
_CUT_SHORT = frozenset({"rit", "ritor", "ritorn"})
"""Refrains cut short, which may be other words elsewhere (in Italian)."""
_OFTEN_MISTYPED = (
    "verse",
    "chorus",
    "bridge",
    "intro",
    "outro",
    "refrain",
    "interlude",
    "instrumental",
    "strophe",
    "estribillo",
    "estrofa",
    "couplet",
    "ritornello",
    "strofa",
    "refrein",
    "refrão",
    "refräng",
    "refren",
    "zwrotka",
    "vorspiel",
    "zwischenspiel",
    "nachspiel",
)
_ALSO_DIRECTIONS = frozenset(
    ["lead", "drop", "build", "groove", "loop", "jam", "tutti", "fade out", "ad lib", "ad-lib"]
)
"""What the band is to do, and the name of a section as well."""
_TWO_NAMES = re.compile(
    r"(?P<name>(?P<one>[^\W\d_][\w -]{2,15}?)\s?/\s?(?P<other>[^\W\d_][\w -]{2,15}?))(?P<end>:?)"
    rf"{_COUNT_AND_REMARK}",
    re.IGNORECASE,
)
"""One section that is two ("Intro/Outro")."""
_WORDS = frozenset(["verses", "versed", "versa", "chords", "couples", "bridged", "vers", "verso"])
"""Words that are no slips."""
_ASKING_IN_WORDS = """
    play sing same like to into over with no and then now after before is here here's comes back
    the a an of for in on der die das den dem zum la le il el de het du des un una une ein eine en
"""
_ASKING = frozenset(_ASKING_IN_WORDS.split())
"""Words before a kind of section that ask for one, or speak of one in a sentence."""
_FEWEST_LETTERS, _MOST_LETTERS = 5, 14
_FEWEST_NAMED, _FEWEST_OF_KIND = 2, 4
_LONGEST = 60
_MOST_LINES = 2_000


def is_also_a_name(text: str) -> bool:
    """Whether words say what the band is to do, and name a section as well ("Drop")."""
    return text.casefold() in _ALSO_DIRECTIONS


def with_unknown_names(
    lines: Sequence[Line], are_rows: Sequence[bool], headings: Sequence[Heading | None]
) -> list[Heading | None]:
    """The headings, with those whose names are not known by themselves."""
    apart = sum(
        one is not None and one.rest_at is None and is_empty(lines, at - 1)
        for at, one in enumerate(headings)
    )
    first = next((at for at, one in enumerate(headings) if one is not None), len(lines))
    if _are_in_capitals(lines, are_rows, headings):
        first = -1
    elif apart < _FEWEST_NAMED:
        first = len(lines)
    over = dict(_over_chords(lines, are_rows, headings, first))
    if not over:
        return list(headings)
    names = {match["name"].casefold() for match in over.values()}
    return [
        _heading(over[at])
        if at in over
        else one
        or (_heading(again) if (again := _again(lines, headings, at, names)) is not None else None)
        for at, one in enumerate(headings)
    ]


def _are_in_capitals(
    lines: Sequence[Line], are_rows: Sequence[bool], headings: Sequence[Heading | None]
) -> bool:
    """Whether the sections of a sheet have names in capitals that nobody else uses: no name is
    known, and one that stands over chords stands alone on a later line again."""
    if len(lines) > _MOST_LINES or any(headings):
        return False
    capitals = [line.text.strip() if line.text.isupper() else "" for line in lines]
    over = {text for text, row in zip(capitals, are_rows[1:], strict=False) if row}
    again = {text for text, row in zip(capitals, [*are_rows[1:], False], strict=False) if not row}
    return bool((over & again) - {""})


def _heading(match: re.Match[str]) -> Heading:
    said, _, last = (match["said"] or "").rpartition(",")
    times = times_of(match["times"] or "") or times_of(last.strip())
    remark = said.strip() if times_of(last.strip()) else match["said"] or ""
    return Heading(section_name(match["name"]), times or 1, remark=remark)


def _over_chords(
    lines: Sequence[Line],
    are_rows: Sequence[bool],
    headings: Sequence[Heading | None],
    first: int,
) -> Iterator[tuple[int, re.Match[str]]]:
    """The lines of one or two words that stand apart, right over a row of chords."""
    begun = next((at for at, line in enumerate(lines) if line.text.strip()), 0)
    spaced = _are_spaced(lines, are_rows, headings)
    for at in range(begun + 1, len(lines) - 1):
        text = lines[at].text
        if headings[at] is not None or are_rows[at]:
            continue
        if spaced and first < at and (match := _spaced_name(lines, are_rows, headings, at)):
            yield at, match
        if not are_rows[at + 1] and not _is_shouted(lines, headings, at):
            continue
        apart, under_name = is_empty(lines, at - 1), headings[at - 1] is not None
        if not text or len(text) > _LONGEST or not (apart or under_name):
            continue
        if (match := of_two_names(text)) is not None and apart:
            yield at, match
        match = _NAME.fullmatch(text.strip()) if match is None else None
        if match is None:
            continue
        barred = "|" in lines[at + 1].text
        apart = apart or (under_name and barred and match["name"].isupper())
        if apart and barred and match["end"] == ":":
            yield at, match
            continue
        slipped = match["name"].casefold() in _CUT_SHORT or meant_by_slip(match["name"]) != ""
        below_first = first < at or (barred and first < len(lines))
        unsung = is_empty(lines, at + 2) or are_rows[at + 2]
        if slipped or (apart and below_first and _may_be_name(match, barred, unsung)):
            yield at, match


def _are_spaced(
    lines: Sequence[Line], are_rows: Sequence[bool], headings: Sequence[Heading | None]
) -> bool:
    """Whether a sheet has an empty line between the names of its sections and their chords."""
    named = [at for at, one in enumerate(headings) if one is not None and one.rest_at is None]
    right_above = sum(are_rows[at + 1 : at + 2] == [True] for at in named)
    spaced = sum(is_empty(lines, at + 1) and are_rows[at + 2 : at + 3] == [True] for at in named)
    return spaced >= _FEWEST_NAMED and spaced > right_above


def _spaced_name(
    lines: Sequence[Line],
    are_rows: Sequence[bool],
    headings: Sequence[Heading | None],
    at: int,
) -> re.Match[str] | None:
    """A line between empty lines above a row of chords that names a section, of a known kind
    ("STOP VERSE:"), or in capitals where all names are; None for any other line."""
    text = lines[at].text.strip()
    alone = is_empty(lines, at - 1) and is_empty(lines, at + 1) and are_rows[at + 2 : at + 3]
    match = _NAME.fullmatch(text) if alone == [True] and 0 < len(text) <= _LONGEST else None
    if match is None:
        return None
    name = match["name"]
    of_a_kind = _is_of_a_kind(match)
    named = [one.name.partition("(")[0] for one in headings if one is not None]
    shouted = name.isupper() and len(named) >= _FEWEST_NAMED and all(map(str.isupper, named))
    shouted = shouted and not (is_direction(name) or count_words(name).strong)
    may_be = (of_a_kind or shouted) and _may_be_name(match, False, is_empty(lines, at + 3))
    return match if may_be else None


def _is_shouted(lines: Sequence[Line], headings: Sequence[Heading | None], at: int) -> bool:
    """Whether a line apart is a name in capitals with a remark ("CHANT (NO GUITARS)"), over words
    without chords, in a sheet whose headings are all in capitals."""
    text = lines[at].text.strip()
    if not text.isupper() or not text.endswith(")") or not lines[at + 1].text.strip():
        return False
    named = [one.name for one in headings if one is not None]
    return len(named) > _FEWEST_NAMED and all(map(str.isupper, named)) and is_empty(lines, at - 1)


def of_two_names(text: str) -> re.Match[str] | None:
    """A line that is two names of sections with a stroke between them."""
    match = _TWO_NAMES.fullmatch(text.strip()) if "/" in text else None
    if match is None or not (is_known_name(match["one"]) and is_known_name(match["other"])):
        return None
    return match


def meant_by_slip(name: str) -> str:
    """The name of a section that one is, or is with a letter too many, too few or wrong, or two
    that changed places ("Veres 1", "Birdge"), in small letters; empty for any other."""
    word = name.rstrip("0123456789 ").casefold()
    if not _FEWEST_LETTERS <= len(word) <= _MOST_LETTERS or word in _WORDS or not name[0].isupper():
        return ""
    return next((meant for meant in _OFTEN_MISTYPED if is_slip(word, meant)), "")


def _may_be_name(match: re.Match[str], barred: bool, unsung: bool) -> bool:
    """Whether a line apart over chords is a name; ``unsung`` says that no words stand under
    these, so that even what the band is to do may name the section."""
    name = match["name"]
    if name.casefold() in _CUT_SHORT:
        return True
    *_, last = name.split()
    if name.count(" ") > 1 and not (name.isupper() or _is_of_a_kind(match)):
        return False
    of_two = barred or name.isupper() or match["end"] == ":" or is_known_name(last)
    if name[0].islower() or (" " in name and not of_two) or match["end"] == ".":
        return False
    if name.casefold() in _ALSO_DIRECTIONS or _is_of_a_kind(match):
        return True
    said = is_direction(name) and not (unsung and " " not in name)
    return not (said or is_term(name) or marks_of(name) or facts_of(name))


def _is_of_a_kind(match: re.Match[str]) -> bool:
    """Whether a name is a word of its own and a kind of section, in capitals or with a colon
    ("STOP VERSE", "Key-change chorus:"); the word may be one to the players too."""
    *first, kind = match["name"].replace("-", " ").split()
    own = (
        bool(first) and is_known_name(kind) and _ASKING.isdisjoint(match["name"].casefold().split())
    )
    return own and len(kind) >= _FEWEST_OF_KIND and (match["end"] == ":" or match["name"].isupper())


def _again(
    lines: Sequence[Line], headings: Sequence[Heading | None], at: int, names: set[str]
) -> re.Match[str] | None:
    """A line that is one of some names alone, with nothing under it."""
    match = _named_in(lines[at].text, names)
    if match is None:
        return None
    above = is_empty(lines, at - 1) or headings[at - 1] is not None
    above = above or _named_in(lines[at - 1].text, names) is not None
    below = is_empty(lines, at + 1) or headings[at + 1] is not None
    below = below or _named_in(lines[at + 1].text, names) is not None
    return match if above and below else None


def _named_in(text: str, names: set[str]) -> re.Match[str] | None:
    match = _NAME.fullmatch(text.strip()) if text and len(text) <= _LONGEST else None
    return match if match is not None and match["name"].casefold() in names else None
