"""Recognises lines that give the order of a whole song, once its sections are known."""

import re
from collections import Counter
from collections.abc import Sequence
from itertools import groupby

from chartkit.interchange.text.line_kinds import (
    Blank,
    Chords,
    KnownLine,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Words,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.roadmap import (
    Key,
    Stop,
    are_by_letters,
    label_end,
    playing_order,
    stops_of,
)
from chartkit.interchange.text.section_names import section_key
from chartkit.interchange.text.sheet_lines import LONGEST

_FEWEST_WRITTEN = 2
_MOST_WRITTEN = 60
"""The most sections of which an order can be given; more are a songbook's."""
_MOST_STARTS = 200
_APART = re.compile(r"[^\W_]\s*[,–—>|/→-]+\s*[^\W_]")
Block = tuple[KnownLine, ...]
"""What one line of the sheet became."""


def with_roadmaps(known: Sequence[KnownLine], lines: Sequence[Line]) -> list[KnownLine]:
    """The lines, those that list all sections in the order in which they are played as roadmaps.

    ``lines`` are those of the sheet, of which each became one or several known ones.
    """
    if sum(isinstance(one.kind, SectionStart) for one in known) > _MOST_STARTS:
        return list(known)
    blocks = [tuple(lines) for _, lines in groupby(known, _place)]
    starts = [at for at, block in enumerate(blocks) if _starts(block)]
    if not _FEWEST_WRITTEN <= len(starts) <= _MOST_WRITTEN + 1:
        return list(known)
    whole = {(line.number, line.where): line.text for line in lines}
    once = Counter((line.number, line.where) for line in lines)
    for at, block in enumerate(blocks):
        place = _place(block[0])
        if once[place] == 1 and _is_as_written(blocks, at, whole[place]):
            blocks[at] = (KnownLine(block[0].line, Note()),)
        elif once[place] == 1 and (stops := _stops(blocks, at, whole[place])):
            blocks[at] = (KnownLine(block[0].line, Roadmap(stops)),)
    return [one for block in blocks for one in block]


def _place(one: KnownLine) -> tuple[int, str]:
    return one.line.number, one.line.where


def _starts(block: Block) -> list[SectionStart]:
    return [one.kind for one in block if isinstance(one.kind, SectionStart)]


def _stops(blocks: Sequence[Block], at: int, text: str) -> tuple[Stop, ...]:
    """The stops of a line, if it is an order of all sections; none for any other line."""
    kinds = Words | Note | Remark | SectionStart | Chords
    if len(text) > LONGEST or not any(isinstance(one.kind, kinds) for one in blocks[at]):
        return ()
    start = label_end(text)
    keys = _written([*blocks[:at], *blocks[at + 1 :]])
    if not _FEWEST_WRITTEN <= len(keys) <= _MOST_WRITTEN:
        return ()
    if not start and not _may_be_order(blocks, at, keys):
        return ()
    names = [start.name for block in blocks for start in _starts(block)]
    stops = stops_of(text[start:], keys, names)
    return stops if stops and playing_order(stops, keys) is not None else ()


def _is_as_written(blocks: Sequence[Block], at: int, text: str) -> bool:
    """Whether a line above or below all sections lists them as they stand on the sheet."""
    above = any(_starts(block) for block in blocks[:at])
    below = any(_starts(block) for block in blocks[at + 1 :])
    if len(text) > LONGEST or (above and below) or not _APART.search(text):
        return False
    others = [start for i, block in enumerate(blocks) if i != at for start in _starts(block)]
    keys = [section_key(start.name) for start in others]
    stops = stops_of(text[label_end(text) :], keys, [start.name for start in others])
    plain = all(
        stop.times == 1 or stop.times == one.times for stop, one in zip(stops, others, strict=False)
    )
    return len(stops) == len(keys) and plain and all(map(_means, stops, keys))


def _means(stop: Stop, key: Key) -> bool:
    return stop.key == key or (stop.key[0] == key[0] and "" in (stop.key[1], key[1]))


def _may_be_order(blocks: Sequence[Block], at: int, keys: Sequence[Key]) -> bool:
    """Whether a line without a label stands where the order of a song may: above its first
    section or below its last, and not under chords."""
    above = blocks[at - 1] if any(map(_starts, blocks[:at])) else ()
    if any(not isinstance(one.kind, Blank | Chords | SectionStart) for one in above):
        return False
    others = [i for i, block in enumerate(blocks) if i != at and _starts(block)]
    if others[0] < at < others[-1]:
        return False
    alone = at + 1 == len(blocks) or isinstance(blocks[at + 1][0].kind, Blank)
    chords = isinstance(blocks[at][-1].kind, Chords) and not _starts(blocks[at])
    return not chords or (are_by_letters(keys) and alone)


def _written(blocks: Sequence[Block]) -> tuple[Key, ...]:
    """What the names of all sections mean; none where one has nothing under it."""
    keys: list[Key] = []
    empty = False
    for one in (one for block in blocks for one in block):
        if isinstance(one.kind, SectionStart):
            if empty:
                return ()
            keys.append(section_key(one.kind.name))
            empty = not (one.kind.with_chords or one.kind.remarks or one.kind.like)
        elif not isinstance(one.kind, Blank):
            empty = False
    return () if empty else tuple(keys)
