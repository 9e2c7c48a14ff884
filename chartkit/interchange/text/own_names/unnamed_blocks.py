"""Names for the blocks of a sheet that has none: its refrain is set in, or comes again between the
verses with all its words.  Stanzas over the same rows of chords are verses, and so are the blocks
of a sheet that names its refrain alone.

Source of these ways to type a song: common practice of song books, no source.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import compress, pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, letters_of
from chartkit.interchange.text.names.headings import Heading, heading_of
from chartkit.interchange.text.rows.inline_chords import chords_within
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.ends_on import ENDS_ON
from chartkit.interchange.text.vocabulary.note_names import has_chords_at_end
from chartkit.interchange.text.vocabulary.section_names import full_name_at, section_key
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES
from chartkit.interchange.wording import counted

_MOST_LINES = 400
_SET_IN, _MARGIN = 3, 1
"""The fewest blanks before a refrain that is set in, and the most before a verse."""
_FEWEST_BLOCKS = 2
_FEWEST_LINES = 2
_LETTER = re.compile(r"[A-H]\d?")
_NUMBERED = re.compile(r"\s*(\d{1,2})\s*[.):]")
"""The number of a verse at the start of a line, which names it already."""


@dataclass(frozen=True, slots=True)
class _Block:
    """Lines between blanks: the place of the first, how far its words are set in, and these as
    letters; ``chords`` are the rows over them, without their places, and ``has_chords`` says
    whether chords stand over, behind or among them; ``said`` that it is a remark alone."""

    start: int
    indent: int
    words: tuple[str, ...]
    chords: tuple[str, ...]
    has_chords: bool
    said: bool


def with_names_of_blocks(
    lines: Sequence[Line], tokens: TokenReader, findings: Findings
) -> list[Line]:
    """The lines; where the sheet names no section and its refrain differs from its verses, or
    all its stanzas have the same chords, or where it names its refrain alone, a name above each
    block."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    named = [at for at, line in enumerate(lines) if _may_be_named(line)]
    blocks = list(_blocks_of(lines, tokens))
    first = next((at for at, block in enumerate(blocks) if block.has_chords), len(blocks))
    blocks = blocks[first:]
    beside = _beside_refrain(blocks, named, lines) if named else []
    beside = beside or _after_intros(blocks, lines, tokens)
    verses, refrain = (beside, []) if named else _verses_and_refrain(blocks)
    if not verses or any(_LETTER.fullmatch(lines[block.start].text.strip()) for block in verses):
        return list(lines)  # what begins with a letter alone is a part of that name
    _report(findings, lines, verses, refrain, by_name=bool(named))
    lines = _without_numbers(lines, verses)
    names = {block.start: f"[Verse {n}]" for n, block in enumerate(verses, 1)}
    names |= {block.start: "[Chorus]" for block in refrain}
    if not named:
        names |= _names_of_chords_alone(blocks)
    result = []
    for at, line in enumerate(lines):
        result += [replace(line, text=names[at], columns=None)] if at in names else []
        result.append(line)
    return result


def _without_numbers(lines: Sequence[Line], verses: Sequence[_Block]) -> list[Line]:
    """The lines, blanks for the numbers with which verses begin that count from 1: their names say
    them."""
    begin = [_first_words(lines, block.start) for block in verses]
    if [_number_of(lines[at].text) for at in begin] != [*range(1, len(verses) + 1)]:
        return list(lines)
    result = list(lines)
    for at in begin:
        text = lines[at].text
        result[at] = replace(lines[at], text=_NUMBERED.sub(lambda one: " " * len(one[0]), text, 1))
    return result


def _first_words(lines: Sequence[Line], start: int) -> int:
    """The first of a block's first two lines that begins with a number; the first where none
    does."""
    return next((at for at in (start, start + 1) if _number_of(lines[at].text)), start)


def _number_of(text: str) -> int:
    """The number with which a line begins; 0 for others."""
    match = _NUMBERED.match(text)
    return int(match[1]) if match is not None else 0


def _report(
    findings: Findings,
    lines: Sequence[Line],
    verses: Sequence[_Block],
    refrain: Sequence[_Block],
    by_name: bool,
) -> None:
    """Reports how the verses of a sheet were recognised."""
    first = min(block.start for block in (*verses, *refrain))
    if refrain:
        said = (
            f"no section has a name: {counted(len(refrain), 'block')} set in or said again "
            "are read as the chorus, the others as verses"
        )
        first = refrain[0].start
    elif by_name:
        said = f"only the refrain has a name: {len(verses)} blocks beside it are read as verses"
    else:
        said = f"no section has a name: {len(verses)} blocks over the same chords are verses"
    findings.guess("blocks-named", said, lines[first].place())


def _verses_and_refrain(blocks: Sequence[_Block]) -> tuple[list[_Block], list[_Block]]:
    """The verses and the refrain of a sheet that names no section; nothing where they do not show
    themselves."""
    blocks = [block for block in blocks if not block.said]
    music = [block for block in blocks if not block.words and block.chords]
    sung = [block for block in blocks if len(block.words) >= _FEWEST_LINES]
    whole = len(sung) + len(music) == len(blocks)
    refrain = _set_in(sung) or _said_again(sung)
    verses = [block for block in sung if block not in refrain]
    if not whole or len(verses) < _FEWEST_BLOCKS:
        return [], []
    return (verses, refrain) if refrain or _are_stanzas(verses) else ([], [])


def _are_stanzas(blocks: Sequence[_Block]) -> bool:
    """Whether blocks are stanzas to one tune: as many lines, over the same rows of chords, or with
    none behind the first."""
    lengths = {len(one.words) for one in blocks}
    rows = {one.chords for one in blocks[1:]} - {()} | {blocks[0].chords}
    return len(lengths) == len(rows) == 1 and min(lengths) >= _FEWEST_OF_STANZA and rows != {()}


_FEWEST_OF_STANZA = 4
"""Blocks of fewer lines over the same chords may be parts of one verse (ours)."""


def _names_of_chords_alone(blocks: Sequence[_Block]) -> dict[int, str]:
    """A name for each block of chords alone, by where it stands in the song."""
    names = {}
    for at, block in enumerate(blocks):
        if not block.words:
            place = "Intro" if at == 0 else "Outro" if at == len(blocks) - 1 else "Interlude"
            names[block.start] = f"[{place}]"
    return names


def _beside_refrain(
    blocks: Sequence[_Block], named: Sequence[int], lines: Sequence[Line]
) -> list[_Block]:
    """The verses of a sheet that names its refrain and nothing else: the first block, and those
    of as many lines that stand apart from the name; none on any other sheet.  Where the refrain is
    set in, two lines are a verse too."""
    keys = {section_key(heading.name)[0] for at in named if (heading := _heading(lines[at]))}
    alone = {*keys} - {"end", ""} in ({"chorus"}, {"r"}) and bool(blocks)
    alone = alone and blocks[0].start < named[0]
    alone = alone and not any(_NUMBERED.match(lines[block.start].text) for block in blocks)
    name = lines[named[0]].text if named else ""
    set_in = alone and len(name) - len(name.lstrip()) >= blocks[0].indent + _SET_IN
    if not alone or len(blocks[0].words) < (_FEWEST_LINES if set_in else _FEWEST_OF_STANZA):
        return []
    names = tuple(lines[at].text.strip(" .:").casefold() for at in named)
    verses = [blocks[0]]
    for block in blocks[1:]:
        again = len(block.words) == 1 and lines[block.start].text.casefold().startswith(names)
        ends = ENDS_ON.fullmatch(lines[block.start].text.strip(" .!")) is not None
        if again or ends or block.start in named:
            continue
        if len(block.words) != len(blocks[0].words):
            return []
        verses.append(block)
    return verses if len(verses) >= _FEWEST_BLOCKS else []


def _after_intros(
    blocks: Sequence[_Block], lines: Sequence[Line], tokens: TokenReader
) -> list[_Block]:
    """The stanzas that stand apart below a section that nobody sings and that has its chords on the
    line of its name ("Intro: G D"): the row ends that section, and each of them is a verse."""
    stanzas = []
    for block in blocks:
        above = next((at for at in range(block.start - 1, -1, -1) if lines[at].text.strip()), -1)
        if not block.has_chords or len(block.words) < _FEWEST_LINES or above < 0:
            continue
        first = lines[block.start].text.split(maxsplit=1)[0].strip("()|")
        chord = not first or tokens.is_chords(first)
        if chord and _is_row_of_its_own(lines[above].text, tokens):
            stanzas.append(block)
    return stanzas


def _is_row_of_its_own(text: str, tokens: TokenReader) -> bool:
    """Whether a line is the name of a section that nobody sings and its chords."""
    end = full_name_at(text, 0) if len(text) <= _LONGEST else 0
    rest = _COUNT.sub("", text[end:].lstrip(" :=–-"))
    return section_key(text[:end])[0] in _NOT_SUNG and bool(rest) and tokens.is_chords(rest)


_LONGEST = 200
_NOT_SUNG = frozenset({"intro", "interlude", "instrumental", "solo", "break", "turnaround", "riff"})
_COUNT = re.compile(rf"(?<![\s(\[])[\s(\[]*+(?:{ANY_TIMES})[)\]\s]*\Z", re.IGNORECASE)


def _heading(line: Line) -> Heading | None:
    return heading_of(line.text.strip()) if line.text.strip() else None


def _may_be_named(line: Line) -> bool:
    return _heading(line) is not None


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
    are_rows = [tokens.row(line) is not None for line in lines]
    words = [line for line, is_row in zip(lines, are_rows, strict=True) if not is_row]
    indent = min((len(one.text) - len(one.text.lstrip()) for one in words), default=0)
    within = [chords_within(line, tokens) for line in words]
    plain = [
        one[0].text.replace("-", "") if one is not None else line.text
        for one, line in zip(within, words, strict=True)
    ]
    rows = tuple(" ".join(line.text.split()) for line in compress(lines, are_rows))
    chords = bool(rows) or any(one is not None for one in within)
    chords = chords or (tokens.behind and any(has_chords_at_end(line.text) for line in words))
    return _Block(
        start=start,
        indent=indent,
        words=tuple(map(letters_of, plain)),
        chords=rows,
        has_chords=chords,
        said=len(lines) == 1 and not chords and _is_said(lines[0].text.strip()),
    )


def _is_said(text: str) -> bool:
    """Whether a line alone is said to the players: in parentheses, or by its words."""
    within = text.startswith("(") and text.endswith(")")
    return within or (text[0].isalpha() and is_direction(text.strip(".!")))


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
    apart = all(after - before > 1 for before, after in pairwise(places))
    return again if apart and len({block.words for block in again}) == 1 else []
