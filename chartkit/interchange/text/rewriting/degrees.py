"""Rows of numbers that count the chords by the degrees of the scale, written out as chords in the
key of the sheet ("1 4 1 5" in G is G C G D).

Source of the ways to write numbers: common practice of players in studios, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_head.head_facts import head_facts
from chartkit.interchange.text.song_head.head_phrases import head_phrases
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.facts import facts_and_rest, without_parentheses
from chartkit.interchange.text.vocabulary.section_names import full_name_at, is_known_name
from chartkit.theory.key import Key
from chartkit.theory.note import note_name

_LONGEST = 160
_MOST_LINES = 2_000
_HEAD_LINES = 12
_FEWEST_ROMAN = 2
_FEWEST_ROWS = 2
_SHARP = 7
"""A half step up by the same letter, on the line of fifths."""
_DEGREE = r"[b#♭♯]?[1-7]"
_CHORD = re.compile(
    rf"(?P<sign>[b#♭♯]?)(?P<degree>[1-7])(?P<minor>-|m(?!aj)|min)?"
    r"(?P<more>(?:maj7|7|6|9|sus[24]?|dim7?|°7?|ø7?|\+|aug|add9|\((?:[^()\s]{1,8})\))*)"
    rf"(?:/(?P<bass>{_DEGREE}))?"
)
_OTHER = re.compile(r"\||\|\||:\||\|:|%|/|-|–|\(?(?:[x×]\d{1,2}|\d{1,2}[x×])\)?")
_ENDS_ON = re.compile(
    rf"(?P<said>\s*(?:end|ends|ending|stop|finish|hold)\s+(?:(?:on|with)\s+)?(?:the\s+|an?\s+)?)"
    rf"(?P<chord>{_DEGREE}(?:-|m)?)[.!]?",
    re.IGNORECASE,
)
_REMARK_BEHIND = re.compile(r"\s\((?=[^()|]*[^\W\d_]{3})[^()|]{3,60}\)\s*$")
"""What is said to the players behind a row of numbers."""
_TOKEN = re.compile(r"\S+")
_LABEL = re.compile(r"\s*(?:[:=–-]\s*|\s{2,}|\s)")
_MINOR_IN_MAJOR, _MINOR_IN_MINOR = (2, 3, 6), (1, 4)
_RELATIVE = 6
"""The degree of a major scale on which the minor one of the same signature begins."""


@dataclass(frozen=True, slots=True)
class _Row:
    """A line of numbers: where they begin behind a section's name."""

    at: int
    start: int


def with_chords_for_degrees(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, rows of numbers as the chords that they count in the key of the sheet."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    typed = lines
    lines = [_with_figures(line) for line in lines]
    rows = [row for at, line in enumerate(lines) if (row := _row_of(at, line.text)) is not None]
    enough = len(rows) >= _FEWEST_ROWS or not any(is_chords(line.text) for line in lines)
    key = _key_of(typed) if rows and enough else None
    if key is None:
        return list(typed)
    texts = [lines[row.at].text[row.start :] for row in rows]
    scale = _scale(key, texts)
    minor = _minor_degrees(key, scale, texts)
    findings.guess(
        "numbers-as-chords",
        f"numbers are read as the chords on these degrees of {key}; "
        + (f"{', '.join(map(str, minor))} are minor chords" if minor else "alone they are major"),
        lines[rows[0].at].place(),
    )
    result = list(typed)
    for at, line in enumerate(typed):
        ends = _ENDS_ON.fullmatch(line.text) if len(line.text) <= _LONGEST else None
        if ends is not None:
            chord = _chord(ends["chord"], scale, minor)
            result[at] = replace(line, text=f"{ends['said']}{chord}", columns=None)
    for row in rows:
        text = lines[row.at].text
        chords = _in_columns(text[row.start :], scale, minor)
        name = text[: row.start].rstrip(" :=–-")
        before = f"{name}: ".ljust(row.start) if name else " " * row.start
        if is_chords(chords):
            result[row.at] = replace(lines[row.at], text=before + chords, columns=None)
    return result


_ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII")
_ROMAN_CHORD = re.compile(
    r"(?P<sign>[b#♭♯]?)(?P<roman>VII|VI|V|IV|III|II|I|vii|vi|v|iv|iii|ii|i)"
    r"(?P<more>(?:maj7|M7|m(?=$|7)|7|6|9|sus[24]?|dim7?|°7?|o7?(?=$)|ø7?|\+|aug|add9)*)"
    r"(?:/(?P<bass>VII|VI|V|IV|III|II|I))?"
)


def _with_figures(line: Line) -> Line:
    """A line of Roman numerals with figures for them, small ones as minor chords; any other as it
    is."""
    text = line.text
    if not 0 < len(text) <= _LONGEST or not ("I" in text or "V" in text or "i" in text):
        return line
    start = text.find(":") + 1
    tokens = text[start:].split()
    degrees = sum(_ROMAN_CHORD.fullmatch(one) is not None for one in tokens)
    others = sum(_OTHER.fullmatch(one) is not None for one in tokens)
    if degrees < _FEWEST_ROMAN or degrees + others < len(tokens):
        return line
    result = text[:start]
    for match in _TOKEN.finditer(text, start):
        result = f"{result} " if result and not result.endswith(" ") else result
        result = result.ljust(match.start()) + _figure(match[0])
    return replace(line, text=result, columns=None)


def _figure(token: str) -> str:
    match = _ROMAN_CHORD.fullmatch(token)
    if match is None:
        return token
    roman, more = match["roman"], match["more"].replace("M7", "maj7")
    dim = re.sub(r"^o(?=7?$)", "°", more)
    minor = roman.islower() and not dim.startswith(("°", "ø", "dim", "m"))
    bass = f"/{_ROMAN.index(match['bass']) + 1}" if match["bass"] else ""
    degree = _ROMAN.index(roman.upper()) + 1
    return f"{match['sign']}{degree}{'m' if minor else ''}{dim}{bass}"


def _row_of(at: int, text: str) -> _Row | None:
    """The row of numbers that a line is, alone or behind a section's name."""
    if not text or len(text) > _LONGEST or not any(map(str.isdigit, text)):
        return None
    start = 0
    if text.lstrip()[:1].isalpha():
        name, colon, _ = text.split("  ")[0].partition(":")
        name = name if colon else name.split(" 1")[0]  # "Verse 1: 1 4", but "Intro 1 4"
        known = full_name_at(text, len(text) - len(text.lstrip())) or is_known_name(name)
        end = len(name.rstrip()) if known else 0
        label = _LABEL.match(text, end) if end else None
        if label is None:
            return None
        start = label.end()
    tokens = _REMARK_BEHIND.sub("", text[start:]).split()
    degrees = [one for one in tokens if _CHORD.fullmatch(one)]
    fewest = 1 if "|" in tokens[:1] + tokens[-1:] else 2
    if len(degrees) < fewest or not all(
        _CHORD.fullmatch(one) or _OTHER.fullmatch(one) for one in tokens
    ):
        return None
    counts_in = [*map(str, range(1, len(degrees) + 1))]
    return None if degrees == counts_in and len(degrees) > 2 else _Row(at, start)


def _key_of(lines: Sequence[Line]) -> Key | None:
    """The key that the head of the sheet names."""
    for line in lines[:_HEAD_LINES]:
        text = without_parentheses(line.text.strip())
        for facts in (facts_and_rest(text)[0], head_facts(text).facts, head_phrases(text).facts):
            key = next((one.value for one in facts if one.name == "key"), None)
            if isinstance(key, Key):
                return key
    return None


def _scale(key: Key, texts: Sequence[str]) -> tuple[int, ...]:
    """The notes that the numbers count: the key's scale, or that of the major key of the same
    signature where a song in minor begins and ends on its sixth."""
    first = texts[0].strip(" |:")[:1]
    last = [one for one in map(_CHORD.fullmatch, texts[-1].split()) if one is not None][-1]
    if key.mode != "minor" or first != str(_RELATIVE) or last["degree"] != str(_RELATIVE):
        return key.scale
    notes = key.scale
    return (*notes[2:], *notes[:2])


def _minor_degrees(key: Key, scale: Sequence[int], texts: Sequence[str]) -> tuple[int, ...]:
    """The degrees on which a number alone is a minor chord; none where a sign among the numbers
    says which chords are minor."""
    chords = map(_CHORD.fullmatch, " ".join(texts).split())
    if any(one is not None and one["minor"] is not None for one in chords):
        return ()
    return _MINOR_IN_MINOR if key.mode == "minor" and scale == key.scale else _MINOR_IN_MAJOR


def _chord(token: str, scale: Sequence[int], minor_degrees: Sequence[int]) -> str:
    """The chord for a number; any other token as it is."""
    match = _CHORD.fullmatch(token)
    if match is None:
        return token
    degree = int(match["degree"])
    minor = match["minor"] is not None or (not match["sign"] and degree in minor_degrees)
    name = _note(match["sign"], degree, scale) + ("m" if minor else "") + match["more"]
    bass = match["bass"]
    return name if bass is None else f"{name}/{_note(bass[:-1], int(bass[-1]), scale)}"


def _note(sign: str, degree: int, scale: Sequence[int]) -> str:
    raised = _SHARP if sign in ("#", "♯") else -_SHARP if sign else 0
    return note_name(scale[degree - 1] + raised)


def _in_columns(text: str, scale: Sequence[int], minor_degrees: Sequence[int]) -> str:
    """A row of numbers as chords in their columns, or behind the one before."""
    result = ""
    said = _REMARK_BEHIND.search(text)
    for match in _TOKEN.finditer(text, 0, said.start() if said is not None else len(text)):
        result = f"{result} " if result and not result.endswith(" ") else result
        result = result.ljust(match.start()) + _chord(match[0], scale, minor_degrees)
    return result + (f"  {said[0].strip()}" if said is not None else "")
