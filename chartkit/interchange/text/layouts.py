"""Lines that hold what other sheets have on several lines, or have signs beside it: lists with
numbers, tables, sentences in a row, labels before rows, numbers of pages.

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.taken import Findings
from chartkit.interchange.text.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.headings import heading_of
from chartkit.interchange.text.lines import Line, is_picture
from chartkit.interchange.text.reference_lines import is_about_the_song
from chartkit.interchange.text.section_names import full_name_at, is_known_name, section_key
from chartkit.interchange.text.times_played import ONCE_MORE, times_of
from chartkit.interchange.wording import one_line

IsChords = Callable[[str], bool]
"""Whether a text is a row of chords and nothing else."""

_PAGE = re.compile(
    r"\s*[-–—(\[]*\s*(?:(?:page|seite|blatt|página|pagina|folha|hoja|blad|sida|side|strona|p\.)"
    r"\s*\d{1,3}(?:\s*(?:/|of|von|de|di|van|av|z|sur)\s*\d{1,3})?|-\s*\d{1,3}\s*-)\s*[-–—)\]]*\s*",
    re.IGNORECASE,
)
_PAGE_AT_MARGIN = re.compile(
    r"\s{3,}(?:page|seite|blatt|página|pagina|folha|hoja|blad|sida|side|strona|p\.)\s*\d{1,3}"
    r"(?:\s*(?:/|of|von|de|di|van|av|z|sur)\s*\d{1,3})?\s*$",
    re.IGNORECASE,
)
_IMPRINT = re.compile(
    r"\s*(?:©|\(c\)\s*\d{4}|copyright\b|all rights reserved|alle rechte vorbehalten|"
    r"tous droits réservés|todos los derechos|tutti i diritti|alle rechten voorbehouden|"
    r"for (?:private|internal|rehearsal)|nur (?:für|zum|zu) .{0,20}(?:gebrauch|zwecken)).{0,100}",
    re.IGNORECASE,
)
"""Who has the rights in a song, as programs print it below."""
_BULLET = re.compile(r"\s*[→➤▶►✔✅•·]\s*(?=[^\W\d_])")
_FEWEST_BULLETS = 3
_LONGEST_NUMBER, _LONGEST_NUMBERED = 8, 50
_ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X")
_SPACED = re.compile(r"\s*([^\W\d_](?: [^\W\d_]){3,12})(\s+\d{1,2}|\s*:)?\s*")
_FEWEST_SPACED = _FEWEST_IN_CAPITALS = 4
_COUNTER = re.compile(r"(?P<indent>\s*)(?P<number>\d{1,2})(?P<sign>[).])\s+(?=[^\W\d_])")
_FEWEST_COUNTED = 4
_AT_MARGIN = re.compile(r"(\d{1,2})[.):]?\s{2,}(?=[^\W\d_])")
_RULE = re.compile(r"\s*\|?(?:\s*:?-{2,}:?\s*\|)+\s*(?::?-{2,}:?)?\s*")
_LABEL = re.compile(
    r"(?P<name>[^\W\d_][^\W\d_’'-]{0,15}(?:[ -][^\W\d_]{2,12})?(?: ?\d)?)[.!]?"
    r"(?:\s{2,}|\s*[:=–-]\s+|\s+(?=\|))(?=\S)"
)
_REST = re.compile(
    r"\s*[:=]?\s*(?P<times>\(?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×]|twice)\)?)?\s*"
    rf"(?:{ONCE_MORE})?\s*(?P<said>\([^\W\d][^()|]{{1,40}}\))?\s*",
    re.IGNORECASE,
)
_FIRST_NAME = re.compile(r"[^\W\d_]+\s?\d{0,2}")
_LETTER = re.compile(r"[A-H]\d?")
_SENTENCE = re.compile(r"(?<=[^\s.])[.;]\s+(?=[^\W\d_]{3})")
_SAYS = re.compile(r"\s+(?:is|are|goes|geht|ist|sind|es|est|è|é|är|er)\s+(?=\(?[A-H|])")
_LONGEST = 400
_MOST_LINES = 2_000


def unfolded(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines as sheets usually have them: each section's name, chords and words apart."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    lines = [_closed(line) for line in lines]
    result = _without_imprint(_without_pages(lines, findings), findings)
    result = _without_counters(_without_bullets(result))
    result = [part for line in _without_tables(result, is_chords) for part in _sentences(line)]
    result = list(_with_numbers_before(result))
    return _with_numbers(_with_labels(result, is_chords))


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
        and (at == 0 or not lines[at - 1].text.strip())
        and at + 1 < len(lines)
        and lines[at + 1].text.strip()
    }
    counted = [*numbers.values()]
    figures = [str(number) for number in range(1, len(numbers) + 1)]
    if len(numbers) < 2 or counted not in (figures, [*_ROMAN[: len(numbers)]]):
        return list(lines)
    return [
        replace(line, text=_number(numbers[at], line.text), columns=None) if at in numbers else line
        for at, line in enumerate(lines)
    ]


def _with_numbers_before(lines: Sequence[Line]) -> Iterator[Line]:
    """The lines, those of the verses of a song with their numbers at the margin as a number alone
    and the rest, where the numbers count on and all other lines are indented."""
    numbered = {
        at: match for at, line in enumerate(lines) if (match := _AT_MARGIN.match(line.text))
    }
    counted = [int(match[1]) for match in numbered.values()]
    if len(counted) < 2 or counted != [*range(1, len(counted) + 1)]:
        yield from lines
        return
    for at, line in enumerate(lines):
        match = numbered.get(at)
        below = lines[at + 1].text if at + 1 < len(lines) else ""
        if (
            match is None
            or not below.startswith("  ")
            or full_name_at(line.text, match.end()) > (match.end())
        ):
            yield line
            continue
        yield replace(line, text=f"{match[1]}.", columns=None)
        yield replace(line, text=" " * match.end() + line.text[match.end() :])


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


def _without_pages(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines without numbers of pages, which are reported."""
    result = []
    for line in lines:
        text = line.text if len(line.text) <= _LONGEST else ""
        margin = _PAGE_AT_MARGIN.search(text)
        if margin is not None:
            findings.leave_out(
                "page-number", f'the number of a page: "{one_line(margin[0])}"', line.place()
            )
            line = replace(line, text=text[: margin.start()], columns=None)
        elif _PAGE.fullmatch(text) is not None:
            findings.leave_out(
                "page-number", f'the number of a page: "{one_line(line.text)}"', line.place()
            )
            line = replace(line, text="", columns=None)
        result.append(line)
    return result


def _without_imprint(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines without those in their second half that say who has the rights in the song."""
    result = list(lines)
    for at in range(len(lines) // 2, len(lines)):
        text = lines[at].text
        if len(text) <= _LONGEST and _IMPRINT.fullmatch(text) is not None:
            findings.leave_out(
                "imprint", f'who has the rights: "{one_line(text)}"', lines[at].place()
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


def _without_counters(lines: Sequence[Line]) -> list[Line]:
    """The lines, those of a list of sections without the numbers that count them."""
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
    return [
        replace(line, text=line.text[counted[at].end() :], columns=None) if at in counted else line
        for at, line in enumerate(lines)
    ]


def _without_tables(lines: Sequence[Line], is_chords: IsChords) -> Iterator[Line]:
    """The lines, those of a table with a section in each row as its name and its chords."""
    inside = False
    for at, line in enumerate(lines):
        text = line.text if len(line.text) <= _LONGEST else ""
        ruled = "--" in text and _RULE.fullmatch(text) is not None and "|" in text
        below = lines[at + 1].text[:_LONGEST] if at + 1 < len(lines) else ""
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


def _sentences(line: Line) -> Iterator[Line]:
    """The sentences of a line, of which several give a section by its name; else the line."""
    pieces = _SENTENCE.split(line.text) if len(line.text) <= _LONGEST and ". " in line.text else []
    named = sum(
        ":" in piece[full_name_at(piece, 0) :][:2]
        or _SAYS.match(piece, full_name_at(piece, 0)) is not None
        for piece in pieces
        if full_name_at(piece, 0)
    )
    if named < 2:
        yield line
        return
    for piece in pieces:
        end = full_name_at(piece, 0)
        says = _SAYS.match(piece, end) if end else None
        text = f"{piece[:end]}: {piece[says.end() :]}" if says is not None else piece
        yield replace(line, text=text.rstrip(" ."), columns=None)


def _with_labels(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, those with a section's name before a row of chords with that in brackets on a
    line of its own; the same name alone on a later line is one again."""
    labels = _labels(lines, is_chords)
    named = [at for at in labels if heading_of(lines[at].text) is None]
    names = list(dict.fromkeys(match["name"] for match in labels.values()))
    letters = [name for name in names if _LETTER.fullmatch(name)]
    small = [name for name in names if name in _SMALL_LETTERS]
    if len(names) < 2 or (letters and not _go_on_from_a(letters, names)):
        return list(lines)
    if small and not {"i", "v", "o"} & {*names}:
        return list(lines)
    bracketed = any(_LETTER.fullmatch(labels[at]["name"]) for at in named)
    result: list[Line] = []
    ordered = any(_order_of(line.text, names, is_chords) for line in lines)
    for at, line in enumerate(lines):
        if at in named or (at in labels and bracketed):
            name, start = _SAYS_CHORDS.sub("", labels[at]["name"]), labels[at].end()
            if full_name_at(name, 0) == len(name):
                text = f"{name}:".ljust(start) + line.text[start:]
                result.append(replace(line, text=text))
                continue
            result.append(replace(line, text=f"[{name}]", columns=None))
            result.append(replace(line, text=" " * start + line.text[start:]))
        elif ordered and (order := _order_of(line.text, names)) is not None:
            again = order[len(names) :] if order[: len(names)] == names else []
            if again:
                result += [replace(line, text=f"[{name}]", columns=None) for name in again]
            else:
                whole = {*order} == {*names}
                texts = [f"Form: {' '.join(order)}"] if whole else [f"[{name}]" for name in order]
                result += [replace(line, text=text, columns=None) for text in texts]
        else:
            result.append(_named_again(line, names))
    return result


def _order_of(
    text: str, names: Sequence[str], is_chords: IsChords = lambda _: False
) -> list[str] | None:
    """The names of sections that a line is made of, one after another, which are no row of
    chords; None for any other line."""
    pieces = re.split(r"[\s,–—>-]+", text.strip()) if len(text) <= _LONGEST else []
    if len(pieces) < 2 or not all(piece in names for piece in pieces):
        return None
    return None if is_chords(" ".join(pieces)) else pieces


_SAYS_CHORDS = re.compile(rf"\s+(?:{WORDS_FOR_CHORDS})\Z", re.IGNORECASE)
"""What is said behind a section's name whose chords follow."""


_SAID_AT_END = re.compile(r"\s*\([^()|]{2,60}\)\s*\Z")


def _labels(lines: Sequence[Line], is_chords: IsChords) -> dict[int, re.Match[str]]:
    """The lines with a name before a row of chords.  A name that nobody knows counts right
    under or above one that is known, as in a list of a song's sections."""
    matches = {
        at: match
        for at, line in enumerate(lines)
        if len(line.text) <= _LONGEST
        and (match := _LABEL.match(line.text)) is not None
        and (not is_chords(match["name"]) or _is_lettered(match))
        and is_chords(_SAID_AT_END.sub("", line.text[match.end() :]))
    }
    loose = {at for at, match in matches.items() if _stands_loose(match)}
    if len(loose) < len(matches):  # "C    F" is two chords, but in a list of sections
        loose = {at for at in loose if not {at - 1, at + 1} & matches.keys()}
        matches = {at: match for at, match in matches.items() if at not in loose}
    known = {at for at, match in matches.items() if _may_be_label(match["name"])}
    if known:
        known |= {
            at
            for at, match in matches.items()
            if match["name"].isupper() and len(match["name"]) >= _FEWEST_IN_CAPITALS
        }
    for order in (sorted(matches), sorted(matches, reverse=True)):
        for at in order:
            if {at - 1, at + 1} & known and not is_about_the_song(lines[at].text):
                known.add(at)
    return {at: match for at, match in matches.items() if at in known}


def _stands_loose(match: re.Match[str]) -> bool:
    """Whether nothing but blanks stand between a letter and the chords behind it."""
    bare = not match[0].removeprefix(match["name"]).strip()
    return (
        bare and _LETTER.fullmatch(match["name"]) is not None and match.string[match.end()] != "|"
    )


def _is_lettered(match: re.Match[str]) -> bool:
    """Whether a name that could be a chord is rather a letter for a section: no dash joins it to
    the chords behind it."""
    sign = match[0].removeprefix(match["name"]).strip(" .")
    return _LETTER.fullmatch(match["name"]) is not None and sign not in ("-", "–")


def _may_be_label(name: str) -> bool:
    return _LETTER.fullmatch(name) is not None or name.casefold() in _LABELS or is_known_name(name)


_LABELS = frozenset({"i", "in", "o", "c", "b", "v", "s"})
_SMALL_LETTERS = frozenset({"b", "c"})
"""Labels that may be chords, where these are typed in small letters."""


def _go_on_from_a(letters: Sequence[str], names: Sequence[str]) -> bool:
    """Whether letters name sections: from A on, or beside other names cut short."""
    if len(letters) < len(names):
        return not {"A", "D", "E", "F", "G", "H"} & {name[0] for name in letters}
    firsts = list(dict.fromkeys(name[0] for name in letters))
    return firsts == list("ABCDEFGH"[: len(firsts)])


def _named_again(line: Line, names: Sequence[str]) -> Line:
    """A line of one of the names alone as a name in brackets."""
    text = line.text.strip()
    name = next((one for one in names if text == one or text.startswith(f"{one} ")), None)
    rest = _REST.fullmatch(text[len(name) :]) if name is not None else None
    if rest is None:
        return line
    times = times_of(rest["times"] or "")
    more = f"x{times} " * (times > 1) + (rest["said"] or "")
    return replace(line, text=f"[{name}] {more}".rstrip(), columns=None)
