"""Lines that hold what other sheets have on several lines, or have signs beside it: lists with
numbers, tables, sentences in a row.

Source of the forms: common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_picture, stands_over, text_at
from chartkit.interchange.text.rewriting.asked_by_number import with_numbers_named, without_verbs
from chartkit.interchange.text.rewriting.labels import with_labels
from chartkit.interchange.text.rewriting.names_at_margin import with_margin_apart
from chartkit.interchange.text.rewriting.page_heads import without_page_heads
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    is_known_name,
    section_key,
)
from chartkit.interchange.wording import one_line

_IMPRINT = re.compile(
    r"\s*(?:©|\(c\)\s*\d{4}|copyright\b|all rights reserved|alle rechte vorbehalten|"
    r"tous droits réservés|todos los derechos|tutti i diritti|alle rechten voorbehouden|"
    r"(?:(?:printed|typed|copied|sheets?|copies|not) )?for (?:private|internal|rehearsal|members|"
    r"(?:our|choir|club|church|band|group) (?:use|members|only)|sale|(?:the )?use of)|"
    r"nur (?:für|zum|zu) .{0,20}(?:gebrauch|zwecken)).{0,100}",
    re.IGNORECASE,
)
"""Who has the rights in a song, as programs print it below."""
_BULLET = re.compile(r"\s*[→➤▶►✔✅•·]\s*(?=[^\W\d_])")
_FEWEST_BULLETS = 3
_LONGEST_NUMBER, _LONGEST_NUMBERED = 8, 50
_ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X")
_SPACED = re.compile(r"\s*([^\W\d_](?: [^\W\d_]){3,12})(\s+\d{1,2}|\s*:)?\s*")
_FEWEST_SPACED = 4
_COUNTER = re.compile(r"(?P<indent>\s*)(?P<number>\d{1,2})(?P<sign>[).])\s+(?=[^\W\d_])")
_FEWEST_COUNTED = 4
_RULE = re.compile(r"\s*\|?(?:\s*:?-{2,}:?\s*\|)+\s*(?::?-{2,}:?)?\s*")
_FIRST_NAME = re.compile(r"[^\W\d_]+\s?\d{0,2}")
_SENTENCE = re.compile(r"(?<=[^\s.])[.;]\s+(?=[^\W\d_]{3})")
_NAME_AND_ROW = re.compile(r"[^\W\d_][^\W_]*(?: [^\W_]+)?\s*:\s+(?P<row>[A-H].*)")
_SAYS = re.compile(r"\s+(?:is|are|goes|geht|ist|sind|es|est|è|é|är|er)\s+(?=\(?[A-H|])")
_LONGEST = 400
_MOST_LINES = 2_000


def unfolded(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines as sheets usually have them: each section's name, chords and words apart."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    lines = [_closed(line) for line in lines]
    result = _without_imprint(without_page_heads(lines, is_chords, findings), findings)
    result = without_verbs(_without_counters(_without_bullets(result), is_chords, findings))
    result = [
        part for line in _without_tables(result, is_chords) for part in _sentences(line, is_chords)
    ]
    alone = _names_alone(result)
    result = [one for line in result for one in _said_again(line, alone, is_chords)]
    result = with_margin_apart(result, is_chords)
    return _with_numbers(with_labels(result, is_chords))


def _closed(line: Line) -> Line:
    """A line of a section's name in letters that stand apart ("C H O R U S") without the
    blanks."""
    spaced = _SPACED.fullmatch(line.text) if len(line.text) <= _LONGEST else None
    joined = spaced[1].replace(" ", "") if spaced is not None else ""
    if spaced is None or not is_known_name(joined) or len(joined) < _FEWEST_SPACED:
        return line
    return replace(line, text=f"{joined}{spaced[2] or ''}", columns=None)


def _with_numbers(lines: Sequence[Line]) -> list[Line]:
    """The lines, those of a figure or a Roman number alone as names of verses, where the numbers
    count on and stand apart, right above something."""
    numbers = {
        at: text
        for at, line in enumerate(lines)
        if len(line.text) < _LONGEST_NUMBERED
        and ((text := _bare_number(line.text)).isdecimal() or text in _ROMAN)
        and stands_over(lines, at)
    }
    counted = [*numbers.values()]
    figures = [str(number) for number in range(1, len(numbers) + 2)]
    roman = [*_ROMAN[: len(numbers) + 1]]
    if len(numbers) < 2 or counted not in (figures[:-1], roman[:-1], figures[1:], roman[1:]):
        return list(lines)
    return [
        replace(line, text=_number(numbers[at], line.text), columns=None) if at in numbers else line
        for at, line in enumerate(lines)
    ]


_MOST_AGAIN = 4
_BETWEEN = re.compile(r"\s*[,;+&/]?\s+|\s*[,;+&/]\s*")
_MOST_PARTS = 12


def _names_alone(lines: Sequence[Line]) -> Counter[str]:
    """What stands alone on a line or before a colon, without signs and in small letters, and how
    often."""
    return Counter(_before_colon(line.text) for line in lines if len(line.text) <= _LONGEST)


def _before_colon(text: str) -> str:
    return text.partition(":")[0].strip(_AROUND).casefold()


_AROUND = " :.[](){}*="


def _said_again(line: Line, alone: Counter[str], is_chords: IsChords) -> list[Line]:
    """A line of one name said twice or more ("R: R:", "Chorus, Chorus") as a line for each; the
    line itself if it is any other, or if no other line has that name before it."""
    name, times = _said_often(line.text.strip() if len(line.text) <= _LONGEST_NUMBERED else "")
    if times < 2 or (is_chords(line.text) and ":" not in name):
        return [line]
    bare = name.strip(_AROUND).casefold()
    others = alone[bare] - (_before_colon(line.text) == bare)
    if not (bare and others) or not (is_known_name(bare) or name[-1] in ":]"):
        return [line]
    return [replace(line, text=name, columns=None)] * times


def _said_often(text: str) -> tuple[str, int]:
    """The words that a text says several times and nothing else, and how often; the text itself,
    once, for any other."""
    parts = _BETWEEN.split(text)
    for times in range(2, _MOST_AGAIN + 1) if 1 < len(parts) <= _MOST_PARTS else ():
        size, left = divmod(len(parts), times)
        said = {" ".join(parts[at : at + size]) for at in range(0, len(parts), size or 1)}
        if not left and size and len(said) == 1:
            return said.pop(), times
    return text, 1


def _bare_number(text: str) -> str:
    """A number alone on its line, without what is said of it in parentheses."""
    number, sign, said = text.strip().partition(" (")
    if sign and (not said.endswith(")") or len(number) > _LONGEST_NUMBER):
        return ""
    return number.strip("().") if sign or len(text) < _LONGEST_NUMBER else ""


def _number(number: str, text: str) -> str:
    """A verse's number as a section's name, with what is said of it."""
    _, sign, said = text.strip().partition(" (")
    if sign:
        return f"[{number}] ({said}" if not number.isdecimal() else f"{number}. ({said}"
    if not number.isdecimal():
        return f"[{number}]"
    return text if text.strip() != number else f"{number}."


def _without_imprint(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines without those in their second half that say who has the rights in the song."""
    result = list(lines)
    for at in range(len(lines) // 2, len(lines)):
        text = lines[at].text
        if len(text) <= _LONGEST and _IMPRINT.fullmatch(text) is not None:
            findings.leave_out(
                "imprint", f'the copyright line: "{one_line(text)}"', lines[at].place()
            )
            result[at] = replace(lines[at], text="", columns=None)
    return result


def _without_bullets(lines: Sequence[Line]) -> list[Line]:
    """The lines, those of names of sections without the arrows or points before them."""
    named = {
        at: match
        for at, line in enumerate(lines)
        if len(line.text) <= _LONGEST
        and (match := _BULLET.match(line.text)) is not None
        and is_known_name(_FIRST_NAME.match(line.text, match.end())[0])  # type: ignore[index]
    }
    if len(named) < _FEWEST_BULLETS:
        return list(lines)
    return [
        replace(line, text=_without_pictures(line.text[named[at].end() :]), columns=None)
        if at in named
        else line
        for at, line in enumerate(lines)
    ]


def _without_pictures(text: str) -> str:
    """A text without the small pictures at its end."""
    while text and is_picture(text[-1]):
        text = text[:-1].rstrip()
    return text


def _without_counters(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, those of a list of sections without the numbers that count them, and sections
    that are asked for by such a number by their names."""
    counted = {
        at: match
        for at, line in enumerate(lines)
        if (match := _COUNTER.match(line.text))
        and full_name_at(line.text, match.end()) > match.end()
    }
    numbers = [int(match["number"]) for match in counted.values()]
    kinds = {
        section_key(lines[at].text[match.end() : full_name_at(lines[at].text, match.end())])[0]
        for at, match in counted.items()
    }
    if len(kinds) < 2 or len(numbers) < _FEWEST_COUNTED:
        return list(lines)
    if numbers != [*range(numbers[0], numbers[0] + len(numbers))]:
        return list(lines)
    first = min(counted)
    if [*counted] == [*range(first, first + len(counted))] and numbers[0] == 1:
        named = any(0 < full_name_at(one.text, 0) == len(one.text.strip()) for one in lines[:first])
        if named and not any(
            is_chords(lines[at].text[match.end() :]) for at, match in counted.items()
        ):
            return list(lines)  # an order below the sections
    bare = [
        replace(line, text=line.text[counted[at].end() :], columns=None) if at in counted else line
        for at, line in enumerate(lines)
    ]
    names = {
        int(match["number"]): (bare[at].text[: full_name_at(bare[at].text, 0)].strip(), at)
        for at, match in counted.items()
    }
    return with_numbers_named(bare, names, findings)


def _without_tables(lines: Sequence[Line], is_chords: IsChords) -> Iterator[Line]:
    """The lines, those of a table with a section in each row as its name and its chords."""
    inside = False
    for at, line in enumerate(lines):
        text = line.text if len(line.text) <= _LONGEST else ""
        ruled = "--" in text and _RULE.fullmatch(text) is not None and "|" in text
        below = text_at(lines, at + 1)[:_LONGEST]
        head = "|" in text and "--" in below and "|" in below and _RULE.fullmatch(below) is not None
        inside = ruled or (inside and "|" in text)
        if (ruled or head) and not is_chords(text):
            yield replace(line, text="", columns=None)
        elif inside and (row := _row_of_table(text, is_chords)):
            yield replace(line, text=row, columns=None)
        else:
            yield line


def _row_of_table(text: str, is_chords: IsChords) -> str:
    """A row of a table as a section's name, its chords and how often; empty for any other row."""
    cells = [cell.strip() for cell in text.strip().strip("|").split("|")]
    name = next((cell for cell in cells if cell and full_name_at(cell, 0) == len(cell)), "")
    chords = next((cell for cell in cells if cell != name and is_chords(cell)), "")
    times = next((cell.strip("x× ") for cell in cells if cell.strip("x× ").isdecimal()), "1")
    if not name:
        return ""
    return f"{name}: {chords}".rstrip(": ") + (f" x{times}" if times != "1" else "")


def _names_row(text: str, is_chords: IsChords) -> bool:
    """Whether a sentence is a name, a colon and chords ("Amen: F C")."""
    match = _NAME_AND_ROW.fullmatch(text.strip(" ."))
    return match is not None and is_chords(match["row"])


def _sentences(line: Line, is_chords: IsChords) -> Iterator[Line]:
    """The sentences of a line, of which several give a section by its name; else the line."""
    pieces = _SENTENCE.split(line.text) if len(line.text) <= _LONGEST and ". " in line.text else []
    named = sum(
        ":" in piece[full_name_at(piece, 0) :][:2]
        or _SAYS.match(piece, full_name_at(piece, 0)) is not None
        for piece in pieces
        if full_name_at(piece, 0)
    )
    if named < 2 and not (len(pieces) > 1 and _names_row(pieces[-1], is_chords)):
        yield line
        return
    for piece in pieces:
        end = full_name_at(piece, 0)
        says = _SAYS.match(piece, end) if end else None
        text = f"{piece[:end]}: {piece[says.end() :]}" if says is not None else piece
        yield replace(line, text=text.rstrip(" ."), columns=None)
