"""Which lines of a sheet are rows of numbers that count chords, and what stands in each.

Source of the ways to write numbers: common practice of players in studios, no source; the signs
for stops and diamonds from memory.
"""

import re
from dataclasses import dataclass
from typing import Literal

from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.section_names import full_name_at, is_known_name

DEGREE = r"(?:[b#♭♯]?[1-7]|[1-7][b#♭♯](?![\w]))"
NUMBER = re.compile(
    r"(?P<sign>[b#♭♯]?)(?P<degree>[1-7])(?P<behind>[b♭#♯](?!\d))?"
    r"(?P<minor>-|m(?!aj)|min)?"
    r"(?P<more>(?:maj7?|M7|Δ7?|7|6|9|11|13|sus[24]?|dim7?|°7?|ø7?|\+|aug|add9|[b#](?:5|9|11|13)|"
    r"\((?:[^()\s]{1,8})\))*)"
    rf"(?:/(?P<bass>{DEGREE}))?"
)
"""A chord by its degree of the scale."""
OTHER = re.compile(
    r"\||\|\||:\||\|:|\|\|:|:\|\||%|/|\.|-|–|—|\(?(?:[x×]\d{1,2}|\d{1,2}[x×])\)?", re.IGNORECASE
)
"""What stands between numbers: bar lines, beats, dashes, counts."""
_PIECE = re.compile(r"[(\[{][^()\[\]{}|]*[)\]}](?!\S)|\S+")
_SPLIT = re.compile(r"[(\[{]\s*([^()\[\]{}]+?)\s*[)\]}]|([^\s_,]+[_,][^\s_,]+)")
"""Numbers that share a bar: in brackets, or joined."""
_JOINT = re.compile(r"[\s_,]+")
_SIGNED = re.compile(
    r"(?P<before>[<◇◆⋄♢^>!?~*'\"]*)(?P<number>[^<>]*?)(?P<behind>[<>◇◆⋄♢^!?~*'\"]*)"
)
_HELD = ("<>", "◇", "◆", "⋄", "♢")
"""A diamond: the chord rings through its bar."""
_STOPS = ("^", "!")
LONGEST = 160
_FEWEST_BEATS = 2
"""A number with so many dots behind it is a row (ours)."""
_MOST_UNREAD = 3
"""At most one sign in so many pieces of a row cannot be read."""
_FIRST_GAP = re.compile(r"\s{2,}")
_LABEL = re.compile(r"\s*(?:[:=–-]\s*|\s{2,}|\s)")
_LETTER = re.compile(r"[A-Z]\d?")
"""A section's name cut short to a letter, which is no chord in a row of numbers."""
_SHORT = re.compile(r"[^\W\d_]{1,3}\s?\d?")
"""A name cut short in the sheet's own way ("In: 1 4 1 5")."""
_BEFORE_BARS = re.compile(r"[^\W\d_][^\W_]+(?: [^\W_]+){0,2}\s*\|(?:[^|]*\d[^|]*\|){2,}\s*")
"""A name that nobody else uses, before bars of numbers and nothing behind them."""
_WORD = re.compile(r"[^\W\d_]{2}")
_FEWEST_BEFORE_WORDS = 3
_COUNTED = re.compile(
    r"(?:bars?|beats?|times?|counts?|measures?|takte?|mal|mesures?|temps|fois|compases|veces|maten|"
    r"keer|takter|gånger|battute|volte|st|nd|rd|th)\b",
    re.IGNORECASE,
)
"""What a figure right before it counts, which is no chord then."""


@dataclass(frozen=True, slots=True)
class Piece:
    """What stands between two blanks of a row: numbers that share a bar, any other sign, what is
    said in parentheses, or what cannot be read; ``signs`` are signs of numbers that are not read.
    """

    kind: Literal["numbers", "other", "said", "unread"]
    at: int
    text: str
    numbers: tuple[str, ...] = ()
    signs: str = ""


@dataclass(frozen=True, slots=True)
class DegreeRow:
    """A line of numbers: where they begin behind a section's name, its pieces, and what is said to
    the players behind them."""

    start: int
    pieces: tuple[Piece, ...]
    said: str = ""

    @property
    def splits(self) -> bool:
        """Whether some of its numbers share a bar."""
        return any(len(one.numbers) > 1 for one in self.pieces)

    @property
    def numbers(self) -> list[re.Match[str]]:
        """Its chords in order."""
        found = (NUMBER.match(bare(one)) for piece in self.pieces for one in piece.numbers)
        return [one for one in found if one is not None]


def bare(number: str) -> str:
    """A number without the manner in which it is played, or its parentheses."""
    number = number.rstrip("!~")
    return number[1:-1].rstrip("!~") if number.startswith("(") else number


@kept
def degree_row(text: str) -> DegreeRow | None:
    """The row of numbers that a line is, alone or behind a section's name; None for any other."""
    if not 0 < len(text) <= LONGEST or not any(map(str.isdigit, text)):
        return None
    start, end = _start(text), _end_of_bars(text)
    pieces = [_piece(match) for match in _PIECE.finditer(text, start, end)] if start >= 0 else []
    pieces, said = _without_said(text[:end], pieces)
    said = said or text[end:].strip()
    numbers = [one for piece in pieces for one in piece.numbers]
    barred = any("|" in piece.text for piece in (*pieces[:1], *pieces[-1:]))
    unread = sum(piece.kind == "unread" for piece in pieces)
    beats = sum(piece.text == "." for piece in pieces)
    fewest = 1 if barred or beats >= _FEWEST_BEATS else 2
    if len(numbers) < fewest or unread * _MOST_UNREAD > len(numbers):
        return None
    counts_in = numbers == [*map(str, range(1, len(numbers) + 1))]
    if counts_in and len(numbers) > 2:
        return None
    return DegreeRow(start, tuple(pieces), said)


def _end_of_bars(text: str) -> int:
    """Where the last bar line of a row of bars stands that has words behind it, also with a figure
    before them ("2/4 bar before the chorus"); the end of the text for any other."""
    end = text.rfind("|") + 1 if text.count("|") > 1 else 0
    return end if _WORD.search(text, end) is not None and end else len(text)


def _start(text: str) -> int:
    """Where the numbers of a line begin; -1 where words that are no name stand first."""
    indent = len(text) - len(text.lstrip())
    first = text[indent:].split(maxsplit=1)[0]
    if not first[0].isalpha() or _piece_of(first, 0).kind == "numbers":
        return 0
    head = _FIRST_GAP.split(text[indent:], maxsplit=1)[0]
    name, colon, _ = head.partition(":")
    if not colon:
        name = _name_before_numbers(head)
    known = full_name_at(text, indent) == indent + len(name) or is_known_name(name)
    known = known or (_LETTER.fullmatch(name) is not None and len(head) < len(text) - indent)
    known = known or (colon != "" and _SHORT.fullmatch(name) is not None)
    known = known or _BEFORE_BARS.fullmatch(text, indent) is not None
    label = _LABEL.match(text, indent + len(name.rstrip())) if known else None
    return label.end() if label is not None else -1


def _name_before_numbers(head: str) -> str:
    """The name that stands one blank before numbers: "Chorus" in "Chorus 4 5 1 1", "Verse 2" in
    "Verse 2 4 5 1 1", since lines have an even count of bars (common practice, no source)."""
    words = head.split(" ")
    at = next((i for i, one in enumerate(words) if _piece_of(one, 0).kind == "numbers"), len(words))
    numbers = sum(_piece_of(one, 0).kind == "numbers" for one in words[at:])
    own = numbers > 1 and numbers % 2 == 1 and words[at].isdecimal()
    return " ".join(words[: at + own]).rstrip(" |:") if numbers > 1 else head


def _piece(match: re.Match[str]) -> Piece:
    return _piece_of(match[0], match.start())


def _piece_of(text: str, at: int) -> Piece:
    """What a text between two blanks of a row is."""
    if OTHER.fullmatch(text):
        return Piece("other", at, text)
    if (one := _number(text)) is not None:
        return Piece("numbers", at, text, (one[0],), one[1])
    split = _SPLIT.fullmatch(text)
    parts = [_number(one) for one in _JOINT.split(split[1] or split[2])] if split else []
    read = [one for one in parts if one is not None]
    if read and len(read) == len(parts):
        numbers = tuple(one for one, _ in read)
        if len(numbers) == 1 and text[0] == "(":
            numbers = (f"({numbers[0]})",)
        return Piece("numbers", at, text, numbers, "".join(signs for _, signs in read))
    said = text.startswith(("(", "[", "{")) and _WORD.search(text) is not None
    return Piece("said" if said else "unread", at, text)


def _number(text: str) -> tuple[str, str] | None:
    """A number with the manner in which it is played, as chords have it, and its signs that say
    nothing here; None for any other text."""
    if NUMBER.fullmatch(text):
        return text, ""
    match = _SIGNED.fullmatch(text)
    if match is None or not NUMBER.fullmatch(match["number"]):
        return None
    signs = match["before"] + match["behind"]
    diamond = match["before"] == "<" and match["behind"] == ">"
    held = diamond or any(sign in signs for sign in _HELD) or "~" in signs
    stops = any(sign in signs for sign in _STOPS)
    for sign in (*_HELD, *_STOPS, "~"):
        signs = signs.replace(sign, "")
    return f"{match['number']}{'!' * stops}{'~' * held}", "" if diamond else signs


def _without_said(text: str, pieces: list[Piece]) -> tuple[list[Piece], str]:
    """The pieces of a row without the words behind it, and these: words in parentheses, behind a
    gap, or such as are said to players."""
    last = max((i for i, one in enumerate(pieces) if one.kind == "numbers"), default=-1)
    first = next((i for i, one in enumerate(pieces) if _is_said(one, i > last)), 0)
    if first == 0:
        return pieces, ""
    said = text[pieces[first].at :].strip()
    apart = text[: pieces[first].at].endswith("  ") or pieces[first].kind == "said"
    counted = first < _FEWEST_BEFORE_WORDS or _COUNTED.match(said) is not None
    if not apart and (counted or not is_direction(said.strip(".!()"))):
        return pieces, ""
    return pieces[:first], said


def _is_said(piece: Piece, behind: bool) -> bool:
    """Whether words to the players begin with a piece, which may stand behind all numbers."""
    if piece.kind == "said":
        return behind
    return piece.kind == "unread" and _WORD.search(piece.text) is not None


def is_letter(name: str) -> bool:
    """Whether the name before a row of numbers is one letter that could be a chord."""
    return _LETTER.fullmatch(name) is not None and not is_known_name(name)


def is_count(piece: Piece) -> bool:
    """Whether a piece says how often the row is played."""
    return piece.kind == "other" and any(map(str.isdigit, piece.text))
