"""Verses stacked by number under one row of chords, where the sheet names each of them.

Hymn books and copyists write several verses under each row ("1. ...", "2. ...").  Stacked they
stay, unless an order names them one by one ("verse 1, chorus, verse 2"), a heading below asks for
one of them, or something is played after one of them: then each becomes a section of its own.  What
all of them sing stands behind their numbers ("1-3. And the river rolls on").  Source: common
practice, no source.
"""

import re
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key

_NUMBER = re.compile(r"\s*(\d{1,2})[.):]\s+(?=\S)")
_NUMBERS = re.compile(
    r"\s*\d{1,2}(?:\s?[.)]?\s?[-–+&,]\s?\d{1,2}|[.)]\s?\d{1,2})+(?:[.):]+|\s?[.):])\s+(?=[^\W\d])"
)
"""Numbers of several verses before words that all of them sing."""
_FIGURES = re.compile(r"\d+")
_TOKEN = re.compile(r"[^\W\d_]+\.?|\d{1,2}\.?")
_AFTER = re.compile(
    r"\b(?:after|follows|nach|après|después de|depois de|dopo|na|efter|etter|po)\s(?P<what>.+)",
    re.IGNORECASE,
)
_PLURALS = ("s", "n", "es", "en", "ten")
"""Endings of the names of several verses, the shortest first ("Verses", "Strophen",
"Coupletten")."""
_STEM = re.compile(r"[^\W\d_]+")
_MOST_LINES, _MOST_VERSES = 2_000, 20


@dataclass(slots=True)
class _Stack:
    """Verses under the same rows: the place of their heading, -1 for none, of the line behind
    them, and for each row of chords its place and those of the words of each verse; 0 has words
    that all of them sing."""

    heading: int
    end: int = 0
    systems: list[tuple[int, dict[int, int]]] = field(default_factory=list)

    @property
    def verses(self) -> range:
        return range(1, 1 + max(max(words) for _, words in self.systems))


def with_stacks_apart(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, verses stacked under one row of chords one after another where the sheet names
    each of them, and without the numbers of all verses before what all of them sing."""
    numbered = any(_NUMBER.match(line.text) for line in lines)
    several = any(_NUMBERS.match(line.text) for line in lines)
    if len(lines) > _MOST_LINES or not (numbered or several) or any(one.where for one in lines):
        return list(lines)
    common = _common_numbers(lines, is_chords) if several else {}
    result = [_blanked(one, common[at]) if at in common else one for at, one in enumerate(lines)]
    stacks = [*_stacks(result, is_chords, common)]
    if len(stacks) != 1:
        return result
    return _apart(result, stacks[0], findings)


def _common_numbers(lines: Sequence[Line], is_chords: IsChords) -> dict[int, int]:
    """The places of lines right under a row of chords that begin with numbers that count up, and
    where the words behind these begin."""
    found: dict[int, int] = {}
    for at, line in enumerate(lines):
        match = _NUMBERS.match(line.text)
        if match is None or not is_chords(text_at(lines, at - 1)):
            continue
        numbers = [int(one) for one in _FIGURES.findall(match[0])]
        if numbers == sorted({*numbers}) and numbers[-1] <= _MOST_VERSES:
            found[at] = match.end()
    return found


def _blanked(line: Line, end: int) -> Line:
    return replace(line, text=" " * end + line.text[end:])


def _stacks(lines: Sequence[Line], is_chords: IsChords, common: Container[int]) -> Iterator[_Stack]:
    """The stacks of verses of a sheet; ``common`` are the places of words with numbers of their
    own for all verses."""
    at = 0
    while at < len(lines):
        stack = _stack_at(lines, at, is_chords, common)
        if stack is not None:
            yield stack
            at = stack.end
        at += 1


def _stack_at(
    lines: Sequence[Line], at: int, is_chords: IsChords, common: Container[int]
) -> _Stack | None:
    """The stack whose first row of chords stands at a place; None where none does."""
    above = next((i for i in range(at - 1, -1, -1) if lines[i].text.strip()), -1)
    named = heading_of(lines[above].text) if above >= 0 else None
    is_named = named is not None and named.rest_at is None and _kind(named.name) == "verse"
    stack = _Stack(above if is_named else -1)
    while (system := _system_at(lines, at, is_chords)) is not None:
        words, end = system
        apart = is_empty(lines, at - 1) and words.get(0) not in common
        if 0 in words and (not stack.systems or apart):
            break  # what stands apart is a section without a name
        stack.systems.append((at, words))
        at = stack.end = end
        while at < len(lines) and is_empty(lines, at):
            at += 1
    if not any(len(words) > 1 for _, words in stack.systems):
        return None
    whole = all(0 in words or [*words] == [*stack.verses] for _, words in stack.systems)
    return stack if whole else None


def _system_at(
    lines: Sequence[Line], at: int, is_chords: IsChords
) -> tuple[dict[int, int], int] | None:
    """The words under the row of chords at a place, by their verses, and where they end; None
    where there are no chords, or no words."""
    if is_empty(lines, at) or not is_chords(lines[at].text):
        return None
    words: dict[int, int] = {}
    under = at + 1
    while under < len(lines) and (match := _NUMBER.match(lines[under].text)) is not None:
        if int(match[1]) != len(words) + 1 or is_chords(lines[under].text):
            break
        words[len(words) + 1] = under
        under += 1
    alone = not words and not is_empty(lines, under) and not is_chords(lines[under].text)
    if alone and heading_of(lines[under].text) is None:
        words, under = {0: under}, under + 1
    return (words, under) if words else None


def _kind(name: str) -> str:
    return section_key(name)[0]


def _verses_named(text: str) -> set[int]:
    """The numbers of verses that a text names ("V1 C V2", "2. Strophe")."""
    tokens = _TOKEN.findall(text)
    names = [*map(" ".join, pairwise(tokens))]
    names += [first + second for first, second in pairwise(tokens)]
    keys = map(section_key, (name for name in names if not name.rstrip(".").isdecimal()))
    return {int(number) for kind, number in keys if kind == "verse" and number.isdecimal()}


def _apart(lines: Sequence[Line], stack: _Stack, findings: Findings) -> list[Line]:
    """The lines, the verses of a stack one after another where the sheet names them."""
    begin = stack.heading if stack.heading >= 0 else stack.systems[0][0]
    outside = [at for at in range(len(lines)) if not begin <= at < stack.end]
    numbers = {*stack.verses}
    said = [_verses_named(lines[at].text) for at in outside if _is_said(lines[at].text)]
    ordered = len(set[int]().union(*said) & numbers) > 1
    bare = {n: at for at in reversed(outside) if (n := _bare_verse(lines, at)) in numbers}
    bare = {} if 1 in bare else bare
    after = _played_after(lines, outside, numbers)
    if not ordered and not bare and after is None:
        return list(lines)
    findings.guess(
        "stacked-verses",
        f"{len(numbers)} verses stand under the same chords, and the sheet names each of them: "
        "each becomes a section of its own",
        lines[begin].place(),
    )
    stem = _stem_of(lines[stack.heading].text) if stack.heading >= 0 else "Verse"
    head = replace(lines[begin], columns=None)
    behind: dict[int, list[Line]] = {}
    for number in sorted(numbers):
        own = [*_verse(lines, stack, number), replace(lines[begin], text="", columns=None)]
        home, heading = stack.end - 1, [replace(head, text=f"{stem} {number}")]
        if number in bare:
            home, heading = bare[number], []
        elif after is not None and number > after[0]:
            home, heading = after[1], [replace(head, text=""), *heading]
        behind.setdefault(home, []).extend([*heading, *own])
    result: list[Line] = []
    for at, line in enumerate(lines):
        if not begin <= at < stack.end:
            result.append(line)
        result += behind.get(at, [])
    return result


def _is_said(text: str) -> bool:
    """Whether a line may say an order: it names no section alone."""
    named = heading_of(text)
    return bool(text.strip()) and (named is None or named.rest_at is not None)


def _bare_verse(lines: Sequence[Line], at: int) -> int:
    """The number of the verse that a heading with nothing under it names; 0 for any other line."""
    named = heading_of(lines[at].text)
    kind, number = section_key(named.name) if named is not None else ("", "")
    if kind != "verse" or not number.isdecimal() or (named and named.rest_at is not None):
        return 0
    below = next((i for i in range(at + 1, len(lines)) if not is_empty(lines, i)), len(lines))
    bare = below == len(lines) or heading_of(lines[below].text) is not None
    return int(number) if bare else 0


def _played_after(
    lines: Sequence[Line], places: Sequence[int], numbers: set[int]
) -> tuple[int, int] | None:
    """After which verse a section is said to be played ("Interlude (after verse 2)"), and the place
    of its last line; None where none is."""
    for at in places:
        match = _AFTER.search(lines[at].text)
        named = heading_of(lines[at].text) if match is not None else None
        if match is None or named is None or _kind(named.name) == "verse":
            continue
        said = _verses_named(match["what"]) & numbers
        if len(said) == 1 and max(said) < max(numbers):
            below = next((i for i in places if i > at and not is_empty(lines, i)), at)
            end = next((i for i in places if i > below and is_empty(lines, i)), len(lines))
            return said.pop(), end - 1
    return None


def _stem_of(text: str) -> str:
    """The name of one verse in the words of a heading ("Verses 1 and 2")."""
    named = heading_of(text)
    match = _STEM.search(named.name if named is not None else text)
    stem = match[0] if match is not None else "Verse"
    for plural in _PLURALS:
        single = stem[: -len(plural)]
        if stem.casefold().endswith(plural) and is_known_name(single) and _kind(single) == "verse":
            return single
    return stem


def _verse(lines: Sequence[Line], stack: _Stack, number: int) -> Iterator[Line]:
    """The rows of chords of a stack with the words of one verse."""
    for chords, words in stack.systems:
        yield lines[chords]
        line = lines[words[number] if number in words else words[0]]
        match = _NUMBER.match(line.text)
        yield _blanked(line, match.end()) if match is not None else line
