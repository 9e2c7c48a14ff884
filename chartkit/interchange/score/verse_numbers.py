"""Numbers of verses that are printed among the words to be sung: "1. The", "1.-3. The", "2 My".

They are said to the singers and never sung.  Common practice, no source.
"""

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure, SungSyllable
from chartkit.phrases import listed

_BETWEEN = r"\s*(?:[.):]\s*(?:[-–/,+&]|and|und|et|y)?|[-–/,+&]|and|und|et|y)\s*"
_TIME = r"(?P<time>\s?(?:[x×]|st|nd|rd|th)(?:\s+(?:time|verse))?(?=\s*[:)\]]))?"
_SIGNED = CompiledLater(
    rf"\s*[(\[#]?\s*(?P<first>\d{{1,2}}){_TIME}(?P<more>(?:{_BETWEEN}\d{{1,2}}){{0,5}})\s*"
    r"[.):\]º°ª]+\s*(?!\s|\d)"
)
"""A number or several, with a sign behind them; also those of times ("2x:", "2nd time:")."""
_SEVERAL = CompiledLater(
    r"\s*(?P<first>\d{1,2})(?P<more>(?:\s*[-–/,+&]\s*\d{1,2}){1,5})\s+(?=[^\W\d])"
)
_BARE = CompiledLater(r"\s*(?P<first>\d{1,2})(?P<more>)\s+(?=[^\W\d])")
_ROMAN = CompiledLater(r"\s*(?P<roman>I{1,3}|IV|VI{0,3}|V|I?X)\s*[.):]\s*(?=[^\W\d])", re.NOFLAG)
_ROMANS = {
    roman: number
    for number, roman in enumerate(("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X"), 1)
}
_RINGED = re.compile(r"\s*([\u2460-\u2468])\s*")
_DIGITS = re.compile(r"\d{1,2}")
_RUN = re.compile(r"[-–]")
_MOST_IN_RUN = 9


class _Printed(NamedTuple):
    """The numbers that a syllable begins with, and its text behind them; ``time`` says that they
    count times, and not verses."""

    numbers: tuple[int, ...]
    text: str
    time: bool = False


_Reader = Callable[[str], _Printed | None]


def _signed(text: str) -> _Printed | None:
    """A number that is surely one of a verse."""
    if not (text[:1].isascii() and text[:1].isalpha()):
        if (found := _SIGNED.match(text)) is not None:
            return _Printed(_numbers(found), text[found.end() :], bool(found["time"]))
        if (found := _SEVERAL.match(text)) is not None and not _counts(found):
            return _Printed(_numbers(found), text[found.end() :])
        if (ringed := _RINGED.match(text)) is not None:
            return _Printed((ord(ringed[1]) - 0x245F,), text[ringed.end() :])
    return None


def _doubtful(text: str) -> _Printed | None:
    """A number that could be a word of the song, were it not for those of the other verses."""
    if (bare := _BARE.match(text) or _SEVERAL.match(text)) is not None:
        return _Printed(_numbers(bare), text[bare.end() :])
    if (roman := _ROMAN.match(text)) is not None:
        return _Printed((_ROMANS[roman["roman"]],), text[roman.end() :])
    return None


def _counts(found: re.Match[str]) -> bool:
    """Whether numbers follow one another, as those that are sung to count a song in."""
    second = _DIGITS.search(found["more"])
    return second is not None and int(second[0]) == int(found["first"]) + 1


def _numbers(found: re.Match[str]) -> tuple[int, ...]:
    first, more = int(found["first"]), [int(one) for one in _DIGITS.findall(found["more"])]
    if len(more) == 1 and _RUN.search(found["more"]) and 0 < more[0] - first < _MOST_IN_RUN:
        return tuple(range(first, more[0] + 1))
    return first, *more


def without_printed_numbers(
    measures: Sequence[Measure], verses: dict[str, int], findings: Findings
) -> tuple[tuple[Measure, ...], dict[str, int]]:
    """The measures without the numbers of verses that are typed before the words, and the number
    of each verse, which is the typed one where these tell the verses apart.

    A number that is neither the verse's nor the next one stays among the words.
    """
    first = _first_words(measures)
    read: _Reader = _signed
    typed = {verse: _signed(text) for verse, text in first.items()}
    typed = {
        verse: None if one and one.time and one.numbers != (verses[verse],) else one
        for verse, one in typed.items()
    }
    if not any(typed.values()):
        read, typed = _doubtful, {verse: _doubtful(text) for verse, text in first.items()}
        said = [one.numbers[0] for one in typed.values() if one is not None]
        if len(said) < max(2, len(first)) or len(set(said)) < len(said):
            typed = {
                verse: one
                for verse, one in typed.items()
                if one and first[verse].strip()[0].isdecimal() and _opens(one, verses[verse])
            }
            for verse in typed:
                findings.guess(
                    "verse-number", f'the number in "{first[verse].strip()}" is that of its verse'
                )
    if not any(typed.values()):
        return tuple(measures), verses
    numbers = _numbered(verses, {verse: one.numbers[0] for verse, one in typed.items() if one})
    return tuple(_without_numbers(measures, numbers, read, findings)), numbers


_OPENS = re.compile(r"[^\W\d_a-z][^\W\d_A-Z]|[^\W\d_a-z](?!\w)")


def _opens(printed: _Printed, number: int) -> bool:
    """Whether a bare number is that of its verse, before a word with a capital ("1 The")."""
    return printed.numbers == (number,) and _OPENS.match(printed.text) is not None


def _numbered(verses: dict[str, int], typed: dict[str, int]) -> dict[str, int]:
    """The number of each verse: the typed one where it has one, else its own or the next."""
    if len(set(typed.values())) < len(typed) or not all(typed.values()):
        return verses
    numbers = verses | typed
    taken = set(typed.values())
    for verse in verses:
        if verse not in typed and numbers[verse] in taken:
            numbers[verse] = max(numbers.values()) + 1
    return numbers


def _first_words(measures: Sequence[Measure]) -> dict[str, str]:
    """The first text of each verse."""
    first: dict[str, str] = {}
    for one in (one for measure in measures for one in measure.sung):
        if one.text:
            first.setdefault(one.verse, one.text)
    return first


def _without_numbers(
    measures: Sequence[Measure], numbers: dict[str, int], read: _Reader, findings: Findings
) -> list[Measure]:
    known: dict[str, set[int]] = {}
    begun: set[str] = set()
    counted: set[str] = set()
    made: list[Measure] = []
    for measure in measures:
        sung: list[SungSyllable] = []
        for one in measure.sung:
            usable = read is _signed or one.verse not in begun
            printed = read(one.text) if one.text and usable else None
            begun |= {one.verse} if one.text else set()
            own = printed is not None and printed.numbers[0] == numbers[one.verse]
            before = known.get(one.verse, set())
            follows = printed is not None and _follows(printed.numbers[0], before)
            if printed is None or not (own or follows):
                sung.append(one)
                continue
            known[one.verse] = {*before, *printed.numbers}
            counted |= set() if own else {one.verse}
            if len(printed.numbers) > 1:
                _report(one.text, printed, measure, findings)
            if printed.text:
                sung.append(one._replace(text=printed.text, named=own or one.named))
        made.append(measure._replace(sung=tuple(sung)))
    return [_unnumbered(measure, counted) for measure in made] if counted else made


def _follows(number: int, before: set[int]) -> bool:
    """Whether a number is one of those that are left, or the next one."""
    return bool(before) and number not in before and min(before) < number <= max(before) + 1


def _unnumbered(measure: Measure, counted: set[str]) -> Measure:
    """The measure where a line has one verse after another, so that it has no number itself."""
    sung = (one._replace(named=one.named and one.verse not in counted) for one in measure.sung)
    return measure._replace(sung=tuple(sung))


def _report(text: str, printed: _Printed, measure: Measure, findings: Findings) -> None:
    verses = listed(printed.numbers)
    findings.guess(
        "words-of-verses",
        f'the words from "{text.strip()}" on are those of verses {verses}',
        f"measure {measure.number}",
    )
