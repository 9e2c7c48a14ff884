"""Chords typed among the words: in parentheses each is struck where it stands; in square
brackets they are left out, and a finding at each line names them.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.tokens import STRUCK, WORDS_TOO, Token
from chartkit.interchange.text.vocabulary.part_words import part_named
from chartkit.interchange.text.vocabulary.section_names import full_name_at, is_known_name
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES
from chartkit.interchange.wording import counted

_IN_PARENTHESES = re.compile(r"\(([^()\[\]\s][^()\[\]]{0,40})(\))( ?)")
_TOUCHES_A_WORD = re.compile(r"\([A-Ha-h][^()\s]{0,12}\)[^\W\d_]")
_BEGINS_A_WORD = re.compile(r"\((?:A|[A-H]m)\)[^\W\d_a-zß-ÿ]")
"""What could be a word but for the word in a capital letter that it touches."""
_BEGINS_LINE = re.compile(r"\s*\((?:A|Am|Em)\)\s*[^\W\d_]")
_IN_SQUARE = re.compile(r"\[([^()\[\]\s][^()\[\]]{0,40})\]")
_LETTER_IN_SQUARE = re.compile(r"\[[A-H]\d?\]")
"""What could as well be the name of a part, as "A" and "B2" are."""
_SAID = re.compile(r"\([^()]{0,200}\)")
_WORD = re.compile(r"[^\W\d_]{2,}")
_AROUND = "()[],.;:!?"
_LONGEST = 1000


def chords_within(line: Line, tokens: TokenReader) -> tuple[Line, list[Token]] | None:
    """The words of a line and the chords that stood in parentheses among them; None where none
    did.  A lone (A) or (Am) is rather a word, unless it touches a word ("(Am)Lift it") or begins a
    line of a sheet that has other chords so."""
    text = line.text
    if len(text) > _LONGEST or "(" not in text:
        return None
    words, chords = _taken_apart(text, tokens)
    sure = any(token.text not in WORDS_TOO for token in chords)
    sure = sure or _BEGINS_A_WORD.search(text) is not None
    sure = sure or (tokens.within and _BEGINS_LINE.match(text) is not None)
    if not chords or not any(map(str.isalpha, words)) or not (sure or len(chords) > 1):
        return None
    return replace(line, text=words.rstrip(), columns=None), chords


def are_sung_with_chords(line: Line, tokens: TokenReader) -> bool:
    """Whether a line is plainly words to be sung: several chords in parentheses touch the words
    that they are struck on ("(C)Hands on the (G)wheel")."""
    touching = len(line.text) <= _LONGEST and len(_TOUCHES_A_WORD.findall(line.text)) > 1
    within = chords_within(line, tokens) if touching else None
    return within is not None and len(within[1]) > 1


def _taken_apart(text: str, tokens: TokenReader) -> tuple[str, list[Token]]:
    """The words, with a hyphen where a chord stood within one; and the chords in their places."""
    words, at = "", 0
    collected: list[Token] = []
    for match in _IN_PARENTHESES.finditer(text):
        own = _chords(match[1], tokens)
        if not own:
            continue
        words += text[at : match.start()]
        at = match.end() if words[-1:] in ("", " ") else match.end(2)
        if words[-1:].isalpha() and text[at : at + 1].isalpha():
            words += "-"
        start = len(words) + (text[at : at + 1] == " " and bool(words))
        collected += [replace(one, column=start, end=start) for one in own]
    return words + text[at:], collected


_MOST_REPORTED = 4
"""On so many lines each is reported; on more of them one message says it for all (ours)."""


def squared_chords(text: str, tokens: TokenReader) -> list[str]:
    """The chords that stand in square brackets in a text, among words."""
    if len(text) > _LONGEST or "[" not in text:
        return []
    return [match[1] for match in _IN_SQUARE.finditer(text) if _chords(match[1], tokens)]


def without_squared_chords(
    lines: Sequence[Line], tokens: TokenReader, findings: Findings
) -> list[Line]:
    """The lines, those of words without the chords in square brackets among them; a few of these
    lines are reported each, more of them once.  A letter that stands apart before words
    ("[A] slowly") is rather a name, and several chords in one pair behind a section's name are
    its row ("Break [Am E] 4x"), which is put in parentheses."""
    lines = [_with_row_behind_name(line, tokens) for line in lines]
    squared = {
        at: names for at, line in enumerate(lines) if (names := _squared_among_words(line, tokens))
    }
    top = next((at for at, line in enumerate(lines) if line.text.strip()), -1)
    if list(squared) == [top] and lines[top].text.rstrip().endswith("]"):
        squared = {}  # the key behind a title: "Mill Pond [Bb]"
    if len(squared) >= _FEWEST_SQUARED:
        squared |= {
            at: names
            for at, line in enumerate(lines)
            if at not in squared and (names := _letters_behind_words(line, tokens))
        }
    if len(squared) > _MOST_REPORTED:
        every = [name for names in squared.values() for name in names]
        first, last = (lines[at] for at in (min(squared), max(squared)))
        end = last.where or f"line {last.number}"
        said = f"on {len(squared)} lines, up to {end}: {said_of_squared(every)}"
        findings.leave_out("chords-in-brackets", said, first.place())
    else:
        for at, names in squared.items():
            findings.leave_out("chords-in-brackets", said_of_squared(names), lines[at].place())
    return [
        _without_squared(line, tokens) if at in squared else line for at, line in enumerate(lines)
    ]


_ROW_BEHIND_NAME = re.compile(
    r"(?P<before>\s*[^\W_][^\[\]()|]{1,40}?)(?P<sign>[\[(])(?P<row>[^()\[\]|]*\s[^()\[\]|]*)[\])]"
    rf"(?P<behind>\s*|\s*[,;–—-].*|\s*(?:{ANY_TIMES}).*)",
    re.IGNORECASE,
)


def _may_have_row(text: str) -> bool:
    """Whether a row in brackets may stand behind a name: a quick look."""
    if len(text) > _LONGEST or not ("[" in text or "(" in text):
        return False
    return "[" in text or ": (" in text or ":(" in text or part_named(text.strip()) is not None


def _with_row_behind_name(line: Line, tokens: TokenReader) -> Line:
    """A line with the row of chords that stands in one pair of brackets behind a section's name, as
    it usually stands: behind a colon without them, else in parentheses; any other line as it
    is."""
    text = line.text
    match = _ROW_BEHIND_NAME.fullmatch(text) if _may_have_row(text) else None
    if match is None or not tokens.is_chords(match["row"]):
        return line
    before = match["before"]
    indent = len(before) - len(before.lstrip())
    first = before.split()[0].strip(":")
    part = part_named(text.strip()) is not None  # "Dance break (G D D G) x2"
    if full_name_at(before, indent) == indent and not is_known_name(first) and not part:
        return line
    if part and not before.rstrip().endswith(":"):
        before = f"{before.rstrip()}:"
    if before.rstrip().endswith(":"):
        return replace(line, text=f"{before} {match['row']} {match['behind']}")
    return replace(line, text=f"{before}({match['row']}){match['behind']}")


def _squared_among_words(line: Line, tokens: TokenReader) -> list[str]:
    """The chords in square brackets in a line that has words beside them; none in a row."""
    names = squared_chords(line.text, tokens)
    if not names or not _are_chords(line.text):
        return []
    if tokens.row(line) is not None:
        return []
    rest = _SAID.sub(" ", _IN_SQUARE.sub(" ", line.text))
    words = _WORD.search(rest) is not None and tokens.row(Line(0, rest)) is None
    return names if words else []


def _letters_behind_words(line: Line, tokens: TokenReader) -> list[str]:
    """The chords of one letter each in square brackets behind the words of a line ("all the paint
    and the tears [E]"); none where something else stands there."""
    names = squared_chords(line.text, tokens)
    first = line.text.find("[") if names else 0
    words = _WORD.findall(line.text[:first])
    plain = not _WORD.search(_IN_SQUARE.sub(" ", line.text[first:]))
    return names if plain and len(words) > _FEW_WORDS else []


_FEWEST_SQUARED, _FEW_WORDS = 3, 2
"""Where so many lines have chords in square brackets among words, a letter behind more words than
these is one too (ours)."""


def _are_chords(text: str) -> bool:
    """Whether what stands in square brackets can be no name of a part: it stands behind words,
    touches a word, is more than a letter, or stands several times among many words."""
    marks = sum(1 for _ in _IN_SQUARE.finditer(text))
    if marks > 1 and len(_WORD.findall(_IN_SQUARE.sub(" ", text))) >= 2 * marks:
        return True
    return any(
        text[max(0, match.start() - 1) : match.start()].isalpha()
        or text[match.end() : match.end() + 1].isalpha()
        or _LETTER_IN_SQUARE.fullmatch(match[0]) is None
        for match in _IN_SQUARE.finditer(text)
    )


def _without_squared(line: Line, tokens: TokenReader) -> Line:
    """A line of words without the chords in square brackets among them."""
    words, at = "", 0
    for match in _IN_SQUARE.finditer(line.text):
        if not _chords(match[1], tokens):
            continue
        words += line.text[at : match.start()]
        at = match.end()
        if words[-1:] in ("", " ") and line.text[at : at + 1] == " ":
            at += 1
    return replace(line, text=(words + line.text[at:]).rstrip(), columns=None)


def said_of_squared(names: Sequence[str]) -> str:
    """What is said of chords in square brackets among words, and where to type them instead."""
    one = len(names) == 1
    return (
        f"{counted(len(names), 'chord')} in square brackets among the words "
        f"{'is' if one else 'are'} not read: set {'it' if one else 'them'} above the words, or "
        f"in ( ): {', '.join(dict.fromkeys(names))}"
    )


def chords_in_cues(row: Sequence[Token], tokens: TokenReader) -> list[str]:
    """The chords named in the remarks among a row of chords."""
    collected: list[str] = []
    for token in row:
        if token.kind == "cue" and len(token.text) <= _LONGEST:
            words = (word.strip(_AROUND) for word in token.text.split())
            collected += [word for word in words if word not in WORDS_TOO and tokens.symbol(word)]
            collected += [
                name for name in squared_chords(token.text, tokens) if name not in collected
            ]
    return collected


def _chords(inside: str, tokens: TokenReader) -> list[Token]:
    """The chords that stand in parentheses; none where anything else does."""
    row = tokens.row(Line(0, inside))
    if row is None or any(token.kind not in STRUCK for token in row):
        return []
    return list(row)
