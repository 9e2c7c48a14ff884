"""Closes up sheets that are typed with an empty line between all lines and more than one between
sections.

Source of the form: common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Sequence

from chartkit.interchange.text.raw_text.decode import Numbered

_MOST_LINES = 2_000
_MOST_TOGETHER = 2
"""A row of chords and its words stand together."""
_FEWEST_NARROW, _FEWEST_WIDE = 6, 2
_MOST_WIDE = 0.5
"""The share of wide gaps to narrow ones (ours)."""


def closed_up(lines: Numbered) -> Numbered:
    """The lines without the single empty ones, where these part lines and wider gaps sections."""
    if len(lines) > _MOST_LINES:
        return lines
    blocks, gaps = _blocks_and_gaps([bool(text.strip()) for _, text in lines])
    narrow = [at for at, size in gaps if size == 1]
    wide = len(gaps) - len(narrow)
    if len(narrow) < _FEWEST_NARROW or wide < _FEWEST_WIDE or wide > _MOST_WIDE * len(narrow):
        return lines
    if max(blocks) > _MOST_TOGETHER:
        return lines
    dropped = frozenset(narrow)
    return [line for at, line in enumerate(lines) if at not in dropped]


def _blocks_and_gaps(filled: list[bool]) -> tuple[list[int], list[tuple[int, int]]]:
    """How many lines each block has, and where the gaps between blocks begin, with their sizes."""
    blocks: list[int] = []
    gaps: list[tuple[int, int]] = []
    for at, one in enumerate(filled):
        if one:
            begins = at == 0 or not filled[at - 1]
            blocks += [0] * begins
            blocks[-1] += 1
        elif blocks and filled[at - 1]:
            gaps.append((at, 1))
        elif blocks:
            gaps[-1] = (gaps[-1][0], gaps[-1][1] + 1)
    if filled and not filled[-1] and gaps:
        gaps.pop()  # it stands between no blocks
    return blocks or [0], gaps


_LIKE_A_CHORD = r"[A-Ha-h][^\s]{0,6}"
_TAIL = re.compile(
    r"(?P<words>.*[^\W\d_]{3}.*\S)\t"
    rf"(?P<tail>\s*{_LIKE_A_CHORD}(?:[ ,/-]+{_LIKE_A_CHORD}){{0,5}}\s*)"
)
_LONGEST_WORDS = 200


_TAIL_AT_COLUMN = re.compile(
    rf".*?[^\W\d_]{{3}}.*?\S {{2,}}(?P<tail>{_LIKE_A_CHORD}(?:[ ,/-]+{_LIKE_A_CHORD}){{0,5}})\s*"
)
_CHORDS_ALONE = re.compile(rf"{_LIKE_A_CHORD}(?:[ ,/-]+{_LIKE_A_CHORD}){{0,5}}\s*")
_LAST_OF_CHORDS = frozenset("ABCDEFGHabcdefgh,/-")
"""How the last piece between blanks of such chords can begin."""
_WORD = re.compile(r"[^\W\d_]{3}")
_FEWEST_IN_COLUMN = 3


def _with_tails_in_column(lines: Numbered) -> Numbered:
    """The lines, one blank before chords behind words as a gap, where the chords of several other
    lines begin in that column behind a gap: the words of this one leave no more room."""
    tails = Counter(
        match.start("tail")
        for _, line in lines
        if "  " in line
        and len(line) <= _LONGEST_WORDS
        and (match := _TAIL_AT_COLUMN.fullmatch(line)) is not None
    )
    columns = [column for column, times in tails.items() if times >= _FEWEST_IN_COLUMN]
    return [
        (number, _widened(line, columns) if columns and len(line) <= _LONGEST_WORDS else line)
        for number, line in lines
    ]


def _widened(line: str, columns: Sequence[int]) -> str:
    if line.rstrip().rpartition(" ")[2][:1] not in _LAST_OF_CHORDS:
        return line  # a quick look
    for at in columns:
        parted = line[at - 1 : at] == " " and not line[: at - 1][-1:].isspace()
        if not parted or _CHORDS_ALONE.fullmatch(line, at) is None:
            continue
        if _WORD.search(words := line[: at - 1]):
            return f"{words}  {line[at:]}"
    return line


def with_wide_tails(lines: Numbered) -> Numbered:
    """The lines, a tab before what may be chords behind words as a gap: to the next column that
    tabs go to may be one blank only; so may be what is left before the column of the chords."""
    return [
        (number, f"{match['words']}  \t{match['tail']}")
        if "\t" in line
        and len(line) <= _LONGEST_WORDS
        and (match := _TAIL.fullmatch(line)) is not None
        else (number, line)
        for number, line in _with_tails_in_column(lines)
    ]
