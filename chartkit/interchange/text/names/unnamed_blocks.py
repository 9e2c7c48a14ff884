"""Names for the blocks of a sheet that has none: its refrain is set in, or comes again between the
verses with all its words.

Source of both ways to show a refrain: common practice of song books, no source.
"""

import itertools
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.kinds.sheet_lines import letters_of
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.rows.inline_chords import chords_within
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.wording import counted

_MOST_LINES = 400
_SET_IN, _MARGIN = 3, 1
"""The fewest blanks before a refrain that is set in, and the most before a verse."""
_FEWEST_BLOCKS = 2
_FEWEST_LINES = 2


@dataclass(frozen=True, slots=True)
class _Block:
    """Lines between blanks: the place of the first, how far its words are set in, and these as
    letters; ``has_chords`` says whether chords stand over or among them."""

    start: int
    indent: int
    words: tuple[str, ...]
    has_chords: bool


def with_names_of_blocks(
    lines: Sequence[Line], tokens: TokenReader, findings: Findings
) -> list[Line]:
    """The lines; where the sheet names no section and its refrain can be told from its verses, a
    name above each block."""
    if len(lines) > _MOST_LINES or any(map(_may_be_named, lines)):
        return list(lines)
    blocks = list(_blocks_of(lines, tokens))
    first = next((at for at, block in enumerate(blocks) if block.has_chords), len(blocks))
    sung = [block for block in blocks[first:] if len(block.words) >= _FEWEST_LINES]
    refrain = _set_in(sung) or _said_again(sung)
    verses = [block for block in sung if block not in refrain]
    if len(sung) < len(blocks) - first or len(verses) < _FEWEST_BLOCKS or not refrain:
        return list(lines)
    findings.guess(
        "blocks-named",
        f"no section has a name: {counted(len(refrain), 'block')} set in or said again "
        "are read as the chorus, the others as verses",
        lines[refrain[0].start].place(),
    )
    names = {block.start: f"[Verse {n}]" for n, block in enumerate(verses, 1)}
    names |= {block.start: "[Chorus]" for block in refrain}
    named = []
    for at, line in enumerate(lines):
        named += [replace(line, text=names[at], columns=None)] if at in names else []
        named.append(line)
    return named


def _may_be_named(line: Line) -> bool:
    heading = heading_of(line.text.strip()) if line.text.strip() else None
    return heading is not None


def _blocks_of(lines: Sequence[Line], tokens: TokenReader) -> list[_Block]:
    """The blocks of a sheet."""
    blocks: list[_Block] = []
    start = -1
    for at, line in enumerate((*lines, Line(0, ""))):
        if line.text.strip():
            start = at if start < 0 else start
        elif start >= 0:
            blocks.append(_block(lines[start:at], start, tokens))
            start = -1
    return blocks


def _block(lines: Sequence[Line], start: int, tokens: TokenReader) -> _Block:
    words = [line for line in lines if tokens.row(line) is None]
    indent = min((len(one.text) - len(one.text.lstrip()) for one in words), default=0)
    within = [chords_within(line, tokens) for line in words]
    plain = [
        one[0].text.replace("-", "") if one is not None else line.text
        for one, line in zip(within, words, strict=True)
    ]
    chords = len(words) < len(lines) or any(one is not None for one in within)
    return _Block(start, indent, tuple(map(letters_of, plain)), chords)


def _set_in(blocks: Sequence[_Block]) -> list[_Block]:
    """The blocks that are set in, if others begin at the margin."""
    inner = [block for block in blocks if block.indent >= _SET_IN]
    outer = [block for block in blocks if block.indent <= _MARGIN]
    both = len(inner) + len(outer) == len(blocks)
    return inner if both and min(len(inner), len(outer)) >= _FEWEST_BLOCKS else []


def _said_again(blocks: Sequence[_Block]) -> list[_Block]:
    """The blocks whose words are those of another one, with a block between."""
    times = Counter(block.words for block in blocks)
    again = [block for block in blocks if times[block.words] > 1]
    places = [at for at, block in enumerate(blocks) if block in again]
    apart = all(after - before > 1 for before, after in itertools.pairwise(places))
    return again if apart and len({block.words for block in again}) == 1 else []
