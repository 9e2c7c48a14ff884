"""Names of sections that the whole sheet shows: those that are underlined as others are, a word
that is counted on ("1. Gstanzl", "2. Gstanzl"), and codes that a line of the head lists in the
order in which they are played.

Source of all forms: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, stands_over
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.wording import counted

_MOST_LINES, _LONGEST = 2_000, 80
_RULE = re.compile(r"\s*(?P<sign>[-=~_–—*^])(?P=sign){1,79}\s*")
_OTHER_LENGTH = 4
"""By so much a rule may be longer or shorter than the name above it (ours)."""
_FEWEST_RULED = 3
_NAME_AND_MORE = re.compile(
    r"(?P<name>[^\W_][\w .'’-]{0,30}?)\s*(?P<more>\([^()]*\)|[:–—]\s.*|-\s.*)?"
)


def with_underlined_names(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines; where several names of sections are underlined, other lines with such a rule stand
    in square brackets."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    ruled = [at for at in range(len(lines) - 1) if _is_underlined(lines, at)]
    known = [at for at in ruled if _is_named(lines[at].text.strip())]
    signs = {lines[at + 1].text.strip()[0] for at in known}
    others = (
        [
            at
            for at in ruled
            if at not in known
            and lines[at + 1].text.strip()[0] in signs
            and at > known[0] - _MOST_ABOVE
            and not is_chords(lines[at].text)
        ]
        if len(known) >= _FEWEST_RULED - 1 and len(ruled) >= _FEWEST_RULED
        else []
    )
    result = list(lines)
    for at in others:
        match = _NAME_AND_MORE.fullmatch(lines[at].text.strip())
        if match is None or not _has_more_below(lines, at):
            continue
        name, more = match["name"], match["more"]
        text = f"[{name}] {more}" if more else f"== {name} =="  # even if it is a word to the band
        result[at] = replace(lines[at], text=text, columns=None)
        findings.guess(
            "underlined-name",
            f'"{match["name"]}" is underlined as names of sections are: taken for one',
            lines[at].place(),
        )
    return result


_MOST_ABOVE = 12
"""So many lines above the first known name an underlined one may still be a section's."""


def _is_underlined(lines: Sequence[Line], at: int) -> bool:
    """Whether a line has a rule of about its length right below it."""
    text, below = lines[at].text.rstrip(), lines[at + 1].text.rstrip()
    if not 0 < len(text) <= _LONGEST or _RULE.fullmatch(below) is None:
        return False
    alone = any(map(str.isalpha, text))
    return alone and abs(len(below) - len(text)) <= _OTHER_LENGTH


def _is_named(text: str) -> bool:
    heading = heading_of(text)
    return heading is not None and heading.rest_at is None and is_known_name(heading.name)


def _has_more_below(lines: Sequence[Line], at: int) -> bool:
    """Whether something else stands below a line and its rule; a title in the first line does not
    count."""
    first = next((i for i, line in enumerate(lines) if line.text.strip()), at)
    return at > first


# ---- words counted on
_COUNTED = re.compile(
    r"\s*(?P<number>\d{1,2})(?:[.)]|er|e|ª|º|°|st|nd|rd|th)?\s*"
    r"(?P<word>[^\W\d_]{3,20}(?:[- ][^\W\d_]{2,12})?)\s*[.:]?\s*(?P<more>\([^()|]{2,60}\))?\s*"
)
_FEWEST_COUNTED = 2


def with_counted_names(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines; where the same word stands apart and alone behind one number after another, each
    over lines of its own, these are names in square brackets."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    counted_on: dict[str, dict[int, re.Match[str]]] = {}
    for at, line in enumerate(lines):
        text = line.text
        match = _COUNTED.fullmatch(text) if text[:4].strip()[:1].isdecimal() else None
        if match is not None and len(text) <= _LONGEST and stands_over(lines, at):
            counted_on.setdefault(match["word"].casefold(), {})[at] = match
    result = list(lines)
    for word, places in counted_on.items():
        numbers = [int(match["number"]) for match in places.values()]
        on = numbers == [*range(1, len(numbers) + 1)] and len(numbers) >= _FEWEST_COUNTED
        if not on or is_known_name(word) or is_chords(word):
            continue
        for at, match in places.items():
            name = match[0].strip().removesuffix(match["more"] or "").rstrip(" .:")
            text = f"== {name} {match['more'] or ''}".rstrip()
            result[at] = replace(lines[at], text=text, columns=None)
            findings.guess(
                "counted-name",
                f'"{name}" is taken as the name of a section: the sheet counts on with that word',
                lines[at].place(),
            )
    return result


# ---- codes
_CODE = re.compile(r"[A-Z][A-Za-z]{0,2}\d{0,2}")
_BETWEEN = re.compile(r"[\s,;>/|·–—-]+|\s*->\s*")
_ALONE = re.compile(r"(?P<code>[A-Z][A-Za-z]{0,2}\d{0,2})\s*:?\s*(?P<more>\([^()|]{1,40}\))?")
_FEWEST_STEPS, _FEWEST_CODES = 4, 3
_MOST_STEPS = 40


def with_codes_as_names(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines; where one lists codes that each stand alone above lines of their own, these are
    names in square brackets, also those that could be chords, and that line is the order."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    alone = {
        match["code"]: at
        for at, line in reversed([*enumerate(lines)])
        if len(line.text) <= _LONGEST and (match := _ALONE.fullmatch(line.text.strip()))
        if stands_over(lines, at)
    }
    like_chords = {code for code in alone if is_chords(code)}
    if len(alone) < _FEWEST_CODES or not like_chords:
        return list(lines)
    order = next((at for at, line in enumerate(lines) if _lists(line.text, alone)), None)
    if order is None:
        return list(lines)
    result = list(lines)
    for at, line in enumerate(lines):
        match = _ALONE.fullmatch(line.text.strip()) if len(line.text) <= _LONGEST else None
        if match is not None and match["code"] in alone and stands_over(lines, at):
            text = f"[{match['code']}] {match['more'] or ''}".rstrip()
            result[at] = replace(line, text=text, columns=None)
    text = lines[order].text.strip()
    steps = ", ".join(_steps(text))
    result[order] = replace(lines[order], text=f"Form: {steps}", columns=None)
    findings.guess(
        "codes-as-names",
        f'"{text}" lists {counted(len(alone), "section")} by their codes: a letter alone above '
        "lines of its own is a name here, no chord",
        lines[order].place(),
    )
    return result


def _steps(text: str) -> list[str]:
    return [step for step in _BETWEEN.split(text[label_end(text) :].strip(" .")) if step]


def _lists(text: str, codes: dict[str, int]) -> bool:
    """Whether a text lists all of some codes, some of them several times, and nothing else."""
    steps = _steps(text) if len(text) <= 2 * _LONGEST else []
    whole = _FEWEST_STEPS <= len(steps) <= _MOST_STEPS and {*steps} == {*codes}
    return whole and len(steps) > len(codes) and all(map(_CODE.fullmatch, steps))
