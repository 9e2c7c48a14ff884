"""Short names of sections that the sheet explains ("i = intro, v = verse, c = chorus"), written out
where they stand; and a lone "c" among "v1" and "v2", which is the chorus rather than a chord.

Source of both forms: common practice, no source.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.rows.inline_chords import chords_within
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.vocabulary.directions import is_direction, speaks_of_music
from chartkit.interchange.text.vocabulary.form_words import PLAYED_AGAIN
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES
from chartkit.interchange.wording import one_line

_LONGEST, _MOST_LINES, _MOST_ABOVE = 200, 2_000, 40
_PAIR = re.compile(
    r"(?P<lead>^\W*(?:[^\W\d_]{3,12}\s*:\s*)?|[,;/|•·]\s*|\s{2,}|\s(?:and|und|et|y|e|en|och|og)\s)"
    r"(?P<code>[^\W\d_]{1,3})\.?\s*(?:=|:|\s(?:is|for|means|ist|heißt|est|es|è)(?=\s))\s*"
    r"(?:the\s|der\s|die\s|das\s|le\s|la\s|"
    r"el\s)?(?P<name>[^\W\d_][^\W\d_-]{2,14}(?:[ -][^\W\d_]{2,10})?)"
    r"(?=\s*(?:$|[,;/|•·.!)]|\s{2,}|\s(?:and|und|et|y|e|en|och|og)\s))",
    re.IGNORECASE,
)
_FEWEST = 2
_ALONE = re.compile(
    r"(?P<before>[-–—=*#\[(<]{0,3}\s?)(?P<code>[^\W\d_]{1,3})(?P<number>\s?\d{1,2})?\.?"
    rf"(?P<more>\s*[:;,–-]?\s*(?:[(\[]?(?:{ANY_TIMES})[)\]]?)?(?:\s*\([^()|]{{1,60}}\))?"
    r"(?:\s*[:–—-]\s+[^|]{2,80})?)(?P<after>\s?[-–—=*#\])>:]{0,3})",
    re.IGNORECASE,
)
_NUMBER_BEHIND = re.compile(r"\s*\((?P<number>\d)(?:st|nd|rd|th|\.|e|o|a|º|ª)\)\s*")
_INITIAL = re.compile(r"[Cc](?![^\W_])[.:]{0,2}")
_COUNT_BEHIND = re.compile(rf"(?:\s*[(\[]?(?:{ANY_TIMES})[)\]]?)?", re.IGNORECASE)
_VERSE = re.compile(r"[Vv]\d")


def with_names_of_legend(
    lines: Sequence[Line], tokens: TokenReader, findings: Findings
) -> list[Line]:
    """The lines, short names of sections that a line above explains written out; that line keeps
    what it says of the music."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    at, names = _legend(lines)
    if at < 0:
        return _with_initials(lines, tokens)
    result = list(lines)
    text = lines[at].text
    pairs = [one for one in _PAIR.finditer(text) if one["code"].casefold() in names]
    rest = text[pairs[-1].end() :].lstrip(" ,;.!)")
    said = speaks_of_music(rest) or is_direction(rest)
    result[at] = replace(lines[at], text=rest if said else "", columns=None)
    findings.guess(
        "legend-of-names",
        f'"{one_line(text)}" says how names of sections are cut short: they are written out',
        lines[at].place(),
    )
    for place, line in enumerate(lines):
        whole = _written_out(result, place, names, tokens) if place != at else ""
        if whole:
            result[place] = replace(line, text=whole, columns=None)
    return result


def _legend(lines: Sequence[Line]) -> tuple[int, Mapping[str, str]]:
    """The line that explains short names, and the whole names by the short ones; -1 for none."""
    for at, line in enumerate(lines[:_MOST_ABOVE]):
        if len(line.text) > _LONGEST or not ("=" in line.text or ":" in line.text):
            continue
        pairs = [(one["code"].casefold(), one["name"]) for one in _PAIR.finditer(line.text)]
        names = {
            code: name for code, name in pairs if is_known_name(name) and len(name) > len(code)
        }
        if len(names) >= _FEWEST and len(names) == len(pairs):
            return at, names
    return -1, {}


def _written_out(
    lines: Sequence[Line], at: int, names: Mapping[str, str], tokens: TokenReader
) -> str:
    """A line with the whole names for the short ones that it is; empty for any other line."""
    text = lines[at].text.strip()
    if not text or len(text) > _LONGEST:
        return ""
    codes = [word.casefold() for word in re.split(r"[\s,>/-]+", text) if word]
    if len(codes) > 1 and all(code in names for code in codes) and not tokens.is_chords(text):
        return ", ".join(names[code] for code in codes)
    match = _ALONE.fullmatch(text)
    name = names.get(match["code"].casefold()) if match is not None else None
    if match is None or name is None or (match["more"].strip(" :") and not _may_be_said(match)):
        return ""
    above = lines[at - 1].text.strip() if at else ""
    if tokens.is_chords(match["code"]) and above and above not in names.values():
        return ""
    number, more = (match["number"] or "").strip(), match["more"]
    counted = _NUMBER_BEHIND.fullmatch(more) if not number else None
    if counted is not None:
        number, more = counted["number"], ""
    return f"{match['before']}{name}{f' {number}' * bool(number)}{more}{match['after']}"


def _may_be_said(match: re.Match[str]) -> bool:
    """Whether a sign parts what stands behind a short name from it."""
    return match["more"].lstrip()[0] in "(:;,–-[x×X0123456789" or match["more"][:1] == " "


def _with_initials(lines: Sequence[Line], tokens: TokenReader) -> list[Line]:
    """The lines, a "c" alone as the name of a section where others are "v1" and "v2" and the words
    below have their chords among them."""
    named = [line.text.strip().rstrip(".:") for line in lines if len(line.text) <= _LONGEST]
    if not tokens.within and not tokens.naming.small:
        return list(lines)
    if sum(_VERSE.fullmatch(name) is not None for name in named) < _FEWEST:
        return list(lines)
    result, begun = list(lines), False
    for at, line in enumerate(lines):
        text = line.text.strip()
        again = PLAYED_AGAIN.match(text) if begun and len(text) <= _LONGEST else None
        bare = text[again.end() :] if again is not None else text
        initial = _INITIAL.match(bare)
        if initial is None or not _COUNT_BEHIND.fullmatch(bare[initial.end() :]):
            continue
        over = _stands_over_chords(lines, at, tokens)
        if over or (begun and (again is not None or _stands_alone(lines, at))):
            begun = True
            name = initial[0].rstrip(".:")
            text = f"[{name}]{bare[initial.end() :]}"
            result[at] = replace(line, text=text, columns=None)
    return result


def _stands_alone(lines: Sequence[Line], at: int) -> bool:
    """Whether nothing stands right above a line and right below it."""
    return is_empty(lines, at - 1) and is_empty(lines, at + 1)


def _stands_over_chords(lines: Sequence[Line], at: int, tokens: TokenReader) -> bool:
    """Whether a line with nothing above it stands over a row of chords or words with some."""
    below = text_at(lines, at + 1)
    if not below or (at and not is_empty(lines, at - 1)) or heading_of(below.strip()) is not None:
        return False
    return tokens.is_chords(below) or chords_within(Line(0, below), tokens) is not None
