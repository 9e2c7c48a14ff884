"""Sheets whose chords stand under the words: each row is put above the line it belongs to.

Where chords stand above, a block of lines with words begins with chords or a name and ends with
words; where they stand under, all blocks begin with words and end with chords (common practice, no
source).
"""

from collections.abc import Iterator, Sequence

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords

_MOST_LINES = 2_000
_FEWEST_ROWS, _FEWEST_BLOCKS, _FEWEST_PAIRS = 3, 2, 2
"""Of rows, blocks, and lines of words with their chords in one block at least, so that no names
over lists of chords are taken for words (ours)."""
_FEWEST_WORDS = 3
"""A shorter line first in its block may be a name that nobody knows (ours)."""


def with_chords_above(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, rows of chords above the words that they stand under, where all of a sheet do."""
    if len(lines) > _MOST_LINES or any(line.where for line in lines):
        return list(lines)
    are_rows = [bool(line.text.strip()) and is_chords(line.text) for line in lines]
    if sum(are_rows) < _FEWEST_ROWS:
        return list(lines)
    under: list[int] = []
    pairs: list[int] = []
    for block in _blocks(lines):
        rows = [at for at in block if are_rows[at]]
        if not rows or len(rows) == len(block):
            continue  # words or chords alone
        if not are_rows[block[-1]] or not _begins_with_words(lines, block, are_rows):
            return list(lines)
        here = [at for at in rows if at > block[0] and not are_rows[at - 1]]
        under += here
        pairs.append(len(here))
    if len(under) < _FEWEST_ROWS or len(pairs) < _FEWEST_BLOCKS or max(pairs) < _FEWEST_PAIRS:
        return list(lines)
    if any("|" in lines[at].text for at in under) or not _are_set_apart(lines, under):
        return list(lines)
    findings.guess(
        "chords-under-words",
        "all blocks of lines begin with words and end with chords: the chords stand under the "
        "words they belong to",
        lines[under[0]].place(),
    )
    result = list(lines)
    for at in under:
        result[at - 1], result[at] = result[at], result[at - 1]
    return result


def _blocks(lines: Sequence[Line]) -> Iterator[list[int]]:
    """The places of the lines between blank ones and names of sections."""
    block: list[int] = []
    for at, line in enumerate(lines):
        if not line.text.strip() or heading_of(line.text) is not None:
            if block:
                yield block
            block = []
        else:
            block.append(at)
    if block:
        yield block


def _are_set_apart(lines: Sequence[Line], rows: Sequence[int]) -> bool:
    """Whether most rows have wide gaps, as chords have that are set under words."""
    wide = sum("  " in lines[at].text.strip() for at in rows)
    return 2 * wide >= len(rows)


def _begins_with_words(lines: Sequence[Line], block: Sequence[int], rows: Sequence[bool]) -> bool:
    """Whether a block begins with a line of words over a row of chords, or two of them."""
    first = lines[block[0]].text
    return not rows[block[0]] and len(first.split()) >= _FEWEST_WORDS and "|" not in first
