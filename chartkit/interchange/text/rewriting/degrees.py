"""Rows of numbers that count the chords by the degrees of the scale, written out as chords in the
key of the sheet ("1 4 1 5" in G is G C G D).

Source of the ways to write numbers: common practice of players in studios, no source.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_phrases import head_phrases
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.section_keys import key_said_in
from chartkit.interchange.text.rewriting.degree_rows import (
    DEGREE,
    LONGEST,
    NUMBER,
    OTHER,
    DegreeRow,
    Piece,
    bare,
    degree_row,
    is_count,
    is_letter,
)
from chartkit.interchange.text.rewriting.odd_rows import rows_by_strokes
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.facts import facts_and_rest, without_parentheses
from chartkit.interchange.text.vocabulary.key_words import says_how_much_higher
from chartkit.interchange.text.vocabulary.section_names import full_name_at
from chartkit.phrases import listed
from chartkit.theory.key import Key
from chartkit.theory.note import note_name

_MOST_LINES = 2_000
_HEAD_LINES = 12
_FEWEST_ROMAN = 2
_FEWEST_ROWS = 2
_SHARP = 7
"""A half step up by the same letter, on the line of fifths."""
_ENDS_ON = re.compile(
    rf"(?P<said>\s*(?:end|ends|ending|stop|finish|hold)\s+(?:(?:on|with)\s+)?(?:the\s+|an?\s+)?)"
    rf"(?P<chord>{DEGREE}(?:-|m)?)[.!]?",
    re.IGNORECASE,
)
_TOKEN = re.compile(r"\S+")
_FIGURE_IN_BRACKETS = re.compile(r"\(((?:maj)?\d{1,2}|sus\d?)\)")
_MINOR_IN_MAJOR, _MINOR_IN_MINOR = (2, 3, 6), (1, 4)
_RELATIVE = 6
"""The degree of a major scale on which the minor one of the same signature begins."""


def with_chords_for_degrees(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, rows of numbers as the chords that they count in the key of the sheet."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    typed = lines
    lines = [_with_figures(line) for line in lines]
    rows = {at: row for at, line in enumerate(lines) if (row := degree_row(line.text)) is not None}
    plain = [row for row in rows.values() if all(one.kind != "unread" for one in row.pieces)]
    enough = len(plain) >= _FEWEST_ROWS or not any(is_chords(line.text) for line in lines)
    key = _key_of(typed) if plain and enough else None
    if key is None:
        return list(typed)
    count = _count_in(key, [*rows.values()], is_chords)
    count = replace(count, minor=()) if _say_major(typed, lines) else count
    in_bars = _are_bars([*rows.values()])
    _report(lines, rows, count, findings)
    result: list[Line] = []
    keys = _keys_of_rows(typed, rows, key)
    home = count
    for at, line in enumerate(typed):
        row = rows.get(at)
        other = keys.get(at, key)
        count = replace(home, key=other, scale=other.scale) if other != key else home
        if row is None:
            result.append(_with_last_number(line, count))
            continue
        chords = replace(row, pieces=tuple(_as_chords(one, count) for one in row.pieces))
        written = _as_rows(lines[at], chords, _written(chords, in_bars))
        result += [row for one in written for row in _by_strokes(one, is_chords)]
        _report_unread(chords, line, findings)
    return result


def _keys_of_rows(
    lines: Sequence[Line], rows: Mapping[int, DegreeRow], home: Key
) -> dict[int, Key]:
    """The keys of the rows in which they are played: those said beside the names of their sections
    ("Ending (in G)") or right below them, or a new one that is kept from some section on."""
    keys: dict[int, Key] = {}
    kept = current = home
    for at, line in enumerate(lines):
        text = line.text.strip()
        if at in rows:
            keys[at] = current
        if at in rows or not 0 < len(text) <= LONGEST:
            continue
        said = key_said_in(text)
        said = replace(said, mode=home.mode) if said is not None else None
        if full_name_at(text, 0):
            kept = said if said is not None and says_how_much_higher(text) else kept
            current = said or kept
        elif said is not None and at - 1 in rows and _IN.match(text):
            above = at - 1
            while above in rows:
                keys[above] = said
                above -= 1
    return keys


_IN = re.compile(r"[(\s]*(?:in|en|em|i|auf)\s", re.IGNORECASE)


def _as_rows(line: Line, row: DegreeRow, chords: str) -> list[Line]:
    """A row of numbers as chords behind its name; below it, where the name could be a chord."""
    name = line.text[: row.start].rstrip(" :=–-")
    indent = " " * row.start
    texts = [f"{name}: ".ljust(row.start) + chords] if name else [indent + chords]
    if is_letter(name.strip()):
        texts = [f"== {name.strip()}", indent + chords]
    return [replace(line, text=text, columns=None) for text in texts]


def _by_strokes(line: Line, is_chords: IsChords) -> list[Line]:
    """A row of chords, or those that strokes part in it."""
    rows = rows_by_strokes(line.text, is_chords)
    return [replace(line, text=row, columns=None) for row in rows] or [line]


def _with_last_number(line: Line, count: "_Count") -> Line:
    """A line that says on which number the song ends, with that chord; any other as it is."""
    ends = _ENDS_ON.fullmatch(line.text) if len(line.text) <= LONGEST else None
    if ends is None:
        return line
    return replace(line, text=f"{ends['said']}{count.chord(ends['chord'])}", columns=None)


def _report(
    lines: Sequence[Line], rows: Mapping[int, DegreeRow], count: "_Count", findings: Findings
) -> None:
    """Reports how the rows of numbers are read."""
    minor = ", ".join(map(str, count.minor))
    findings.guess(
        "numbers-as-chords",
        f"numbers are read as the chords on these degrees of {count.key}; "
        + (f"{minor} are minor chords" if minor else "alone they are major"),
        lines[min(rows)].place(),
    )
    if _are_bars([*rows.values()]):
        findings.guess(
            "numbers-in-bars",
            "numbers in brackets share a bar, so each of the others is read as a bar",
            lines[next(at for at, row in rows.items() if row.splits)].place(),
        )


def _are_bars(rows: Sequence[DegreeRow]) -> bool:
    """Whether each number is a bar: some share one, and no row has bar lines or counts beats."""
    others = {piece.text for row in rows for piece in row.pieces if piece.kind == "other"}
    return any(row.splits for row in rows) and not any(
        "|" in one or one in (".", "%") for one in others
    )


def _report_unread(row: DegreeRow, line: Line, findings: Findings) -> None:
    """Reports what cannot be read in a row of numbers, in one finding."""
    unread = [one.text for one in row.pieces if one.kind == "unread"]
    signs = [one.text for one in row.pieces if one.signs]
    if unread:
        findings.guess(
            "unread-number",
            f"{_quoted(unread)} cannot be read in this row of numbers; the text stands over it",
            line.place(),
        )
    if signs:
        findings.leave_out(
            "unread-sign",
            f"the signs of {_quoted(signs)} in this row of numbers cannot be read",
            line.place(),
        )


def _quoted(texts: Sequence[str]) -> str:
    return listed(f'"{text}"' for text in dict.fromkeys(texts))


_ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII")
_ROMAN_CHORD = re.compile(
    r"(?P<sign>[b#♭♯]?)(?P<roman>VII|VI|V|IV|III|II|I|vii|vi|v|iv|iii|ii|i)"
    r"(?P<more>(?:maj[79]?|M7|[m-](?=$|[679/]|1[13]|maj)|7|6|9|1[13]|[b#][59]|sus[24]?|dim7?|°7?|o7?(?=$)|ø7?|"
    r"\+|aug|add9)*)"
    r"(?:/(?P<bass>VII|VI|V|IV|III|II|I))?"
)


_NAMED_BEFORE = re.compile(r"\s*(?:[^:|]{0,30}:|[^\W\d_][^\W_]*(?: \d{1,2})?(?=\s*\|)|)\s*")
"""A name before the numerals of a line."""
_OF_SIXTHS = re.compile(r"(?:VI|III|II)(?:7|9|13)")


def _with_figures(line: Line) -> Line:
    """A line of Roman numerals with figures for them, small ones as minor chords; any other as it
    is."""
    text = line.text
    if not 0 < len(text) <= LONGEST or not ("I" in text or "V" in text or "i" in text):
        return line
    start = _NAMED_BEFORE.match(text).end()  # type: ignore[union-attr]
    end = text.rindex("|") + 1 if text.count("|") > 1 else len(text)
    tokens = text[start:end].split()
    degrees = sum(_ROMAN_CHORD.fullmatch(one) is not None for one in tokens)
    others = sum(OTHER.fullmatch(one) is not None for one in tokens)
    if degrees < (1 if text.count("|") > 1 else _FEWEST_ROMAN) or degrees + others < len(tokens):
        return line
    result = text[:start]
    for match in _TOKEN.finditer(text, start, end):
        result = f"{result} " if result and not result.endswith(" ") else result
        result = result.ljust(match.start()) + _figure(match[0])
    return replace(line, text=result.ljust(end) + text[end:], columns=None)


def _say_major(typed: Sequence[Line], lines: Sequence[Line]) -> bool:
    """Whether large Roman numerals are major chords also where the scale has a minor one, as their
    sevenths say ("VI7" leads to "II7", and a minor one is "vi7" or "VIm7")."""
    return any(
        _OF_SIXTHS.fullmatch(token)
        for before, line in zip(typed, lines, strict=True)
        if before is not line
        for token in before.text.split()
    )


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


def _key_of(lines: Sequence[Line]) -> Key | None:
    """The key that the head of the sheet names."""
    for line in lines[:_HEAD_LINES]:
        text = without_parentheses(line.text.strip())
        for facts in (facts_and_rest(text)[0], head_facts(text).facts, head_phrases(text).facts):
            key = next((one.value for one in facts if one.name == "key"), None)
            if isinstance(key, Key):
                return key
    return None


def _scale(key: Key, rows: Sequence[DegreeRow]) -> tuple[int, ...]:
    """The notes that the numbers count: the key's scale, or that of the major key of the same
    signature where a song in minor begins and ends on its sixth."""
    numbers = [one for row in rows for one in row.numbers]
    ends = {numbers[0]["degree"], numbers[-1]["degree"]}
    if key.mode != "minor" or ends != {str(_RELATIVE)}:
        return key.scale
    notes = key.scale
    return (*notes[2:], *notes[:2])


def _minor_degrees(key: Key, scale: Sequence[int], rows: Sequence[DegreeRow]) -> tuple[int, ...]:
    """The degrees on which a number alone is a minor chord; none where a sign among the numbers
    says which chords are minor."""
    if any(one["minor"] is not None for row in rows for one in row.numbers):
        return ()
    return _MINOR_IN_MINOR if key.mode == "minor" and scale == key.scale else _MINOR_IN_MAJOR


def _count_in(key: Key, rows: Sequence[DegreeRow], is_chords: IsChords) -> "_Count":
    """How the rows of a sheet count chords."""
    scale = _scale(key, rows)
    return _Count(key, scale, _minor_degrees(key, scale, rows), is_chords)


@dataclass(frozen=True, slots=True)
class _Count:
    """What the numbers of a sheet mean: the key, the notes they count, and the degrees on which a
    number alone is a minor chord."""

    key: Key
    scale: tuple[int, ...]
    minor: tuple[int, ...]
    is_chords: IsChords

    def chord(self, number: str) -> str:
        """The chord for a number, with the manner in which it is played."""
        plain = bare(number)
        match = NUMBER.fullmatch(plain)
        if match is None:
            return number
        sign = match["sign"] or match["behind"] or ""
        degree = int(match["degree"])
        minor = match["minor"] is not None or (not sign and degree in self.minor)
        more = re.sub(r"Δ7?|M7", "maj7", _FIGURE_IN_BRACKETS.sub(r"\1", match["more"]))
        name = self._note(sign, degree) + "m" * minor + more
        if match["bass"] is not None:
            bass = match["bass"]
            sign = bass.strip("1234567")
            name += f"/{self._note(sign, int(bass.strip('b#♭♯')))}"
        return number.replace(plain, name, 1)

    def _note(self, sign: str, degree: int) -> str:
        raised = _SHARP if sign in ("#", "♯") else -_SHARP if sign else 0
        return note_name(self.scale[degree - 1] + raised)


def _as_chords(piece: Piece, count: _Count) -> Piece:
    """A piece of a row with chords for its numbers; what makes no chord cannot be read."""
    chords = tuple(map(count.chord, piece.numbers))
    if not all(map(count.is_chords, chords)):
        return replace(piece, kind="unread", numbers=())
    return replace(piece, numbers=chords)


def _written(row: DegreeRow, in_bars: bool) -> str:
    """A row of chords that were numbers, in their columns or behind the one before, and ``in_bars``
    with a bar line before each."""
    result = ""
    for piece in row.pieces:
        text, at = piece.text, piece.at - row.start
        if piece.kind == "numbers":
            text = " ".join(piece.numbers)
        elif piece.kind in ("unread", "said"):
            text = f"({text[1:-1] if text[0] in '([{' else text})"
        elif in_bars and text in ("-", "–", "—", "/"):
            continue
        if in_bars and piece.kind == "numbers":
            text, at = f"| {text}", at - 2
        if in_bars and is_count(piece):
            text = f"| {text}"
        result = f"{result} " if result and not result.endswith(" ") else result
        result = result.ljust(at) + text
    closed = in_bars and not is_count(row.pieces[-1])
    said = f"  ({row.said.strip('()')})" if row.said else ""
    return result + " |" * closed + said
