"""Rehearsal letters: sections called by a letter alone above their music, and the same asked for
again ("A again (last verse)", "then last A").

Source of the words, in the languages in which sheets are often written: common practice, no
source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.rows.inline_chords import are_sung_with_chords
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.vocabulary.directions import count_words
from chartkit.interchange.text.vocabulary.ends_on import ENDS_ON
from chartkit.interchange.text.vocabulary.order_words import CLAUSES_APART
from chartkit.interchange.text.vocabulary.part_words import part_named
from chartkit.interchange.text.vocabulary.times_played import ONCE_MORE

_LONGEST_ROW = 400
_ALONE = re.compile(
    r"\s*+(?-i:\[(?P<squared>[A-H]\d?)\]|\((?P<round>[A-H]\d?)\)|(?P<bare>[A-H][1-4]?))(?P<end>\s?:|\.?)\s*+"
    r"(?:(?P<said>\(?[x×]\s?\d{1,2}\)?|\(?\d{1,2}\s?[x×]\)?|\([^\W\d][^()|]{2,40}\)|"
    r"(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\s*[,;–-]\s*(?-i:[a-zà-ÿ])[^()|]{2,40})\s*|"
    r"(?:=|same as|like)\s*(?P<like>[A-H]\d?)\s*|"
    rf"[(,–-]?\s*(?P<again>{ONCE_MORE})\)?[.!]?\s*)?",
    re.IGNORECASE,
)
_WHICH = r"last|final|first|second|third|fourth|1st|2nd|3rd|out|letztes|dernier|último"
_ONE_OF_A_LETTER = re.compile(
    rf"\s*(?P<name>(?:{_WHICH})\s(?P<letter>[A-H]))[:.]?\s*", re.IGNORECASE
)
"""A section of a letter that is not quite the others of it ("Last A")."""
_ASKED_AGAIN = re.compile(
    r"\s*\(?(?P<lead>(?:(?:and|then|now|und|dann|jetzt|et|puis|y|luego|poi|en|dan|daarna|och|sedan|"
    rf"back to|again|repeat)\s+)+)?(?:the\s+)?(?:(?P<which>{_WHICH})\s+)?"
    rf"(?-i:(?P<letter>[A-H]\d?))(?!\w)(?:\s*[,:–—-]?\s*(?P<again>{ONCE_MORE})(?!\w))?"
    r"(?:\s*[,:–—-]\s*(?P<said>[^\W\d][^()|]{2,40}?)|\s*\((?P<inside>[^\W\d][^()|]{2,40})\))?"
    r"[.!:)]*\s*",
    re.IGNORECASE,
)
"""A letter that is asked for again, with what is said of it ("Then A again, softly")."""
_LETTERS = "ABCDEFGH"
_LONGEST_LETTER = 60
_MOSTLY = 0.5


def with_named_letters(
    lines: Sequence[Line], tokens: TokenReader, findings: Findings
) -> tuple[list[Line], bool]:
    """The lines, each rehearsal letter among them in brackets as a section's name is, which is
    reported; and whether there are any.

    Two letters are wanted, or one with a colon: a lone A may well be a chord.
    """
    result = dict(_letters(lines))
    names = list(dict.fromkeys(name[0] for name, _ in result.values()))
    numbered = {name for name, _ in result.values() if len(name) > 1}
    ends = {end.strip() for _, end in result.values()}
    sure = len(names) > 1 or len(numbered) > 1 or ":" in ends
    sure = sure or (bool(names) and any(_orders(line.text, names[0]) for line in lines))
    on = _LETTERS.startswith("".join(names)) and all(
        _is_above_music(at, lines, tokens) or _is_again(at, result, lines) for at in result
    )
    if not (result and sure and on):
        return list(lines), False
    said = {at: _said_behind(lines[at]) for at in result}
    for at, line in enumerate(lines):
        one = _ONE_OF_A_LETTER.fullmatch(line.text) if len(line.text) < _LONGEST_LETTER else None
        if one is not None and one["letter"] in names and _is_above_music(at, lines, tokens):
            result[at], said[at] = (one["name"], ""), ""
        elif at > min(said) and (again := _asked_again(at, lines, names)) is not None:
            result[at], said[at] = (again[0], ""), again[1]
    findings.guess(
        "rehearsal-letters",
        f"letters alone above the music are taken as names of sections: "
        f"{', '.join(name for name, _ in result.values())}",
        lines[min(result)].place(),
    )
    return [
        replace(line, text=f"[{result[at][0]}]{said[at]}", columns=None) if at in result else line
        for at, line in enumerate(lines)
    ], True


def _asked_again(at: int, lines: Sequence[Line], names: Sequence[str]) -> tuple[str, str] | None:
    """The letter of a part above that a line asks for again, and what is said of it in parentheses;
    None for any other line."""
    text = lines[at].text
    match = _ASKED_AGAIN.fullmatch(text) if 0 < len(text) < _LONGEST_LETTER else None
    if match is None or match["letter"][0] not in names or lines[at - 1].text.strip():
        return None
    remark = (match["said"] or "").strip()
    if remark and (count_words(remark).share < _MOSTLY or _goes_on(remark)):
        return None
    if remark[-1:] in names and remark[-2:-1] == " ":
        return None  # "Back to A, then straight to C" asks for both
    first = remark.split(" ")[0]
    if first[:1] in names and (len(first) == 1 or first[1:].isdecimal()):
        return None  # "A1 again, B1 again" asks for both
    if not (match["lead"] or match["which"] or match["again"] or remark):
        return None
    said = ", ".join(filter(None, (match["which"], remark, match["inside"])))
    return match["letter"], f" ({said})" if said else ""


def _goes_on(said: str) -> bool:
    """Whether what stands behind a letter says on which chord the song ends."""
    return any(ENDS_ON.fullmatch(one.strip(" .!")) for one in CLAUSES_APART.split(said))


def _orders(text: str, letter: str) -> bool:
    """Whether a line says of itself that it is an order of sections, and has a letter in it."""
    start = label_end(text) if len(text) <= _LONGEST_ROW else 0
    return start > 0 and re.search(rf"(?<!\w){letter}(?!\w)", text[start:]) is not None


def _said_behind(line: Line) -> str:
    """How often a section is played, or what else is said of it, behind the letter it is."""
    match = _ALONE.fullmatch(line.text)
    if match is not None and match["like"]:
        return f" (same as {match['like']})"
    if match is None or not match["said"]:
        return ""
    count, comma, more = match["said"].partition(",")
    counted = comma and not count.startswith("(")  # "A 2x, second time with whammy"
    return f" {count.strip()} ({more.strip()})" if counted else f" {match['said']}"


def _letters(lines: Sequence[Line]) -> Iterator[tuple[int, tuple[str, str]]]:
    """Which lines are a letter alone: its name, and the sign behind it."""
    for at, line in enumerate(lines):
        match = _ALONE.fullmatch(line.text) if len(line.text) < _LONGEST_LETTER else None
        if match is not None:
            yield at, (match["squared"] or match["round"] or match["bare"], match["end"])


def _is_above_music(at: int, lines: Sequence[Line], tokens: TokenReader) -> bool:
    """Whether the next line that is not blank is a row of music, or has chords among its words,
    and is no letter itself."""
    following = (lines[i] for i in range(at + 1, len(lines)))  # a slice would copy them all
    below = next((line for line in following if line.text.strip()), None)
    if below is None or _ALONE.fullmatch(below.text) is not None:
        return False
    return tokens.row(below) is not None or are_sung_with_chords(below, tokens)


def _is_again(at: int, letters: dict[int, tuple[str, str]], lines: Sequence[Line]) -> bool:
    """Whether a letter names an earlier section once more: nothing stands under it."""
    earlier = any(letters[one][0] == letters[at][0] for one in letters if one < at)
    following = (i for i in range(at + 1, len(lines)) if lines[i].text.strip())
    below = next(following, None)
    match = _ALONE.fullmatch(lines[at].text)
    if match is not None and match["like"]:
        return True
    if match is not None and match["again"]:
        return earlier
    return earlier and (
        below is None
        or below > at + 1
        or below in letters
        or _ASKED_AGAIN.fullmatch(lines[below].text[:_LONGEST_LETTER]) is not None
        or heading_of(lines[below].text.strip()) is not None
        or part_named(lines[below].text.strip()) is not None
    )
