"""Recognises lines that give the order of a whole song, once its sections are known."""

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    KnownLine,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Words,
)
from chartkit.interchange.text.kinds.sheet_lines import LONGEST
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.section_lines.said_order_lines import (
    OrderedLines,
    RowReader,
    ordered_lines,
)
from chartkit.interchange.text.song_form.roadmap import (
    FEWEST_STOPS,
    Key,
    Stop,
    are_by_letters,
    label_end,
    own_label_end,
    playing_order,
    stops_of,
)
from chartkit.interchange.text.song_form.said_orders import (
    LONGEST_SAID,
    count_of_all,
    said_of_one,
    said_order,
)
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.order_words import is_of_last_chords
from chartkit.interchange.text.vocabulary.section_names import section_key

_FEWEST_WRITTEN = 2
_MOST_WRITTEN = 60
"""The most sections of which an order can be given; more are a songbook's."""
_MOST_STARTS = 200
_MOST_SAID_BELOW = 8
"""So many lines of remarks stand together below a song at most (ours)."""
_LETTER = re.compile(r"[A-Z]\d?(?: \([^()]*\))?")
"""A name that is a letter, which could be a chord."""
_APART = re.compile(r"[^\W_]\s*[,–—>|/→-]+\s*[^\W_]")
Block = tuple[KnownLine, ...]
"""What one line of the sheet became."""


def with_roadmaps(
    known: Sequence[KnownLine], lines: Sequence[Line], row_of: RowReader, is_chords: IsChords
) -> list[KnownLine]:
    """The lines, those that list all sections in the order in which they are played as roadmaps,
    and sentences that say what is played as the sections that they name.

    ``lines`` are those of the sheet, of which each became one or several known ones; ``row_of``
    and ``is_chords`` read rows of chords.
    """
    if sum(isinstance(one.kind, SectionStart) for one in known) > _MOST_STARTS:
        return list(known)
    parted = list(_parted(known, lines))
    sheet = _Blocks([block for block, _ in parted])
    if not _FEWEST_WRITTEN <= len(sheet.starts) <= _MOST_WRITTEN + 1:
        return list(known)
    for at, (_, text) in enumerate(parted):
        if _is_as_written(sheet, at, text):
            sheet.put(at, Note())
        elif stops := _stops(sheet, at, text):
            sheet.put(at, Roadmap(stops))
        elif said := _said(sheet, at, text, row_of, is_chords):
            sheet.put_order(at, said)
    return [one for block in sheet.blocks for one in block]


def _parted(known: Sequence[KnownLine], lines: Sequence[Line]) -> Iterator[tuple[Block, str]]:
    """What each line became, with its text; several may stand for one line of the source."""
    texts: dict[tuple[int, str], list[str]] = {}
    for line in lines:
        texts.setdefault((line.number, line.where), []).append(line.text)
    block: list[KnownLine] = []
    text, left = "", list[str]()
    for one in known:
        fresh = not block or _place(block[-1]) != _place(one)
        left = texts.get(_place(one), [])[:] if fresh else left
        if block and (fresh or left[:1] == [one.line.text]):
            yield tuple(block), text
            block = []
        if not block:
            text = left.pop(0) if left else one.line.text
        block.append(one)
    if block:
        yield tuple(block), text


def _place(one: KnownLine) -> tuple[int, str]:
    return one.line.number, one.line.where


def _starts(block: Block) -> list[SectionStart]:
    return [one.kind for one in block if isinstance(one.kind, SectionStart)]


class _Blocks:
    """What each line of a sheet became, and the sections that start there.

    What is asked of every line must not take a time that grows with the sheet, so the sections are
    counted once, with how many lines stand under each.
    """

    def __init__(self, blocks: list[Block]) -> None:
        self.blocks = blocks
        self._count()

    def _count(self) -> None:
        self.starts: list[int] = []
        """The blocks in which sections start."""
        self.sections: list[SectionStart] = []
        self._filled: list[int] = []
        """How many lines stand under each section, itself as one if it says more than its name."""
        self._last: list[int] = []
        """The last of the sections that start in each of these blocks."""
        for at, block in enumerate(self.blocks):
            for kind in (one.kind for one in block):
                if isinstance(kind, SectionStart):
                    self.sections.append(kind)
                    self._filled.append(bool(kind.with_chords or kind.remarks or kind.like))
                elif not isinstance(kind, Blank) and self._filled:
                    self._filled[-1] += 1
            if _starts(block):
                self.starts.append(at)
                self._last.append(len(self.sections) - 1)
        self.ordered = any(isinstance(block[0].kind, Roadmap) for block in self.blocks)
        """Whether a line has already given the order of all sections."""
        self.keys = tuple(section_key(one.name) for one in self.sections)
        self._givers = self._chords_for_words()

    def _chords_for_words(self) -> set[int]:
        """The sections of chords alone whose words stand below, under a name of their own."""
        under = [[False, False] for _ in self.sections]
        at = -1
        for one in (one for block in self.blocks for one in block):
            at += isinstance(one.kind, SectionStart)
            if at >= 0:
                under[at][0] |= isinstance(one.kind, Chords)
                under[at][1] |= isinstance(one.kind, Words)
        sung: set[Key] = set()
        givers = set()
        for at in reversed(range(len(under))):
            kind, number = self.keys[at]
            if under[at] == [True, False] and {(kind, number), (kind, "")} & sung:
                givers.add(at)
            elif under[at] == [False, True]:
                sung |= {(kind, number), (kind, "")}
        return givers

    def _keys_played(self) -> tuple[Key, ...]:
        return tuple(key for at, key in enumerate(self.keys) if at not in self._givers)

    def put(self, at: int, kind: Note | Roadmap) -> None:
        """Makes one line of a kind of a block."""
        before, self.blocks[at] = self.blocks[at], (KnownLine(self.blocks[at][0].line, kind),)
        self.ordered = self.ordered or isinstance(kind, Roadmap)
        if _starts(before):
            self._count()
        elif (section := self._section_above(at)) >= 0:
            self._filled[section] += 1 - _lines_in(before)

    def put_order(self, at: int, said: OrderedLines) -> None:
        """Puts what a sentence makes of the sheet in its place."""
        starts = iter(range(len(self.sections)))
        for place, block in enumerate(self.blocks):
            if place != at and _starts(block):
                self.blocks[place] = tuple(_counted(block, starts, said.counts))
        self.blocks[at] = said.lines or (KnownLine(self.blocks[at][0].line, Roadmap(())),)
        self._count()

    def _section_above(self, at: int) -> int:
        """The section under which a block stands where none starts; -1 above all."""
        above = bisect_left(self.starts, at)
        return self._last[above - 1] if above else -1

    def others(self, at: int) -> list[SectionStart]:
        """The sections that start in other blocks."""
        if not _starts(self.blocks[at]):
            return self.sections
        return [one for i in self.starts if i != at for one in _starts(self.blocks[i])]

    def written(self, at: int) -> tuple[Key, ...]:
        """What the names of all sections mean without a block; none where one has nothing under
        it."""
        if _starts(self.blocks[at]):
            rest = _Blocks([*self.blocks[:at], *self.blocks[at + 1 :]])
            return rest._keys_played() if all(rest._filled) else ()
        above = self._section_above(at)
        without = _lines_in(self.blocks[at])
        filled = (n - without if i == above else n for i, n in enumerate(self._filled))
        return self._keys_played() if all(filled) else ()


def _counted(
    block: Block, places: Iterator[int], counts: dict[int, tuple[int, str]]
) -> Iterator[KnownLine]:
    """The lines of a block, the starts of sections in it, which have the next places, with what
    is said of these."""
    for one in block:
        times, said = 1, ""
        if isinstance(one.kind, SectionStart):
            times, said = counts.get(next(places), (1, ""))
        if isinstance(one.kind, SectionStart) and (times > 1 or said):
            remarks = (*one.kind.remarks, *filter(None, [said]))
            times = max(times, one.kind.times)
            yield replace(one, kind=replace(one.kind, times=times, remarks=remarks))
        else:
            yield one


def _lines_in(block: Block) -> int:
    return sum(not isinstance(one.kind, Blank) for one in block)


def _stops(sheet: _Blocks, at: int, text: str) -> tuple[Stop, ...]:
    """The stops of a line, if it is an order of all sections; none for any other line."""
    kinds = Words | Note | Remark | SectionStart | Chords
    if len(text) > LONGEST or not any(isinstance(one.kind, kinds) for one in sheet.blocks[at]):
        return ()
    start = label_end(text)
    own = 0 if start else own_label_end(text)
    if own and sheet.starts[0] < at < sheet.starts[-1]:
        own = 0
    keys = sheet.written(at)
    if not _FEWEST_WRITTEN <= len(keys) <= _MOST_WRITTEN:
        return ()
    if own:
        return _order_of_all(text[own:], keys, [one.name for one in sheet.sections])
    if not start and not _may_be_order(sheet, at, keys):
        return ()
    stops = stops_of(text[start:], keys, [one.name for one in sheet.sections])
    return stops if stops and playing_order(stops, keys) is not None else ()


def _order_of_all(text: str, keys: Sequence[Key], names: Sequence[str]) -> tuple[Stop, ...]:
    """The stops of a text behind a label of the sheet's own, which name each section; none for any
    other text."""
    stops = stops_of(text, keys, names)
    order = playing_order(stops, keys) if len(stops) > FEWEST_STOPS else None
    return stops if order is not None and len(order) == len(stops) else ()


def _said(
    sheet: _Blocks, at: int, text: str, row_of: RowReader, is_chords: IsChords
) -> OrderedLines | None:
    """What a sentence makes of the sheet that says in what order its sections are played; None
    for any other line."""
    kinds = Words | Note | Remark | SectionStart | Chords
    if len(text) > LONGEST_SAID or not any(isinstance(one.kind, kinds) for one in sheet.blocks[at]):
        return None
    others = sheet.others(at)
    apart = _stands_apart(sheet, at)
    if (one := _said_of_one(sheet, at, text, apart)) is not None:
        return OrderedLines((), {one: (1, text.strip())})
    label = label_end(text)
    called = label > 0 and not _PARTS_A_LABEL.isdisjoint(text[:label])
    if not (called or apart):
        return None
    if times := count_of_all(text):
        each = {i: (times, "") for i, one in enumerate(others) if one.times == 1}
        return OrderedLines((), each) if times > 1 else None
    written = [(one.name, one.times) for one in others]
    order = said_order(text[label:], written, is_chords, called)
    if order is None or len(order.steps) <= len(_starts(sheet.blocks[at])):
        return None  # a line of form that was read as well
    below = [i for i in sheet.starts if i != at][-1] < at
    if not below and (order.goes_on or len(order.steps) < FEWEST_STOPS):
        return None
    return ordered_lines(order, others, sheet.blocks[at][0].line, row_of)


def _said_of_one(sheet: _Blocks, at: int, text: str, apart: bool) -> int | None:
    """The section of which a line says how one of its times is played; None for any other line,
    also for the heading of what stands below it."""
    names = [one.name for one in sheet.others(at)]
    below = sheet.blocks[at + 1] if at + 1 < len(sheet.blocks) else ()
    if any(isinstance(one.kind, Words | Chords) for one in below):
        following = below[0].line.text
        if len(following) > LONGEST_SAID or said_of_one(following, names) is None:
            return None
    only_said = all(isinstance(one.kind, Note | Remark) for one in sheet.blocks[at])
    if not only_said and not ((apart or _is_below(sheet, at)) and _are_words(sheet.blocks[at])):
        return None
    one = said_of_one(text, names, only_said)
    if one is None or not only_said:
        return one
    once = sum(key[0] == section_key(names[one])[0] for key in map(section_key, names)) == 1
    return one if sheet.ordered or not once else None  # else it may be one more


_PARTS_A_LABEL = frozenset(":=-–—")


def _stands_apart(sheet: _Blocks, at: int) -> bool:
    """Whether a line stands alone, above all sections or below all of them."""
    starts = [i for i in sheet.starts if i != at and not _is_last_chord(sheet.blocks[i])]
    if not starts or starts[0] < at < starts[-1]:
        return False
    around = (*sheet.blocks[max(0, at - 1) : at], *sheet.blocks[at + 1 : at + 2])
    return all(isinstance(one[0].kind, Blank | Roadmap) or _is_order(one) for one in around)


def _is_below(sheet: _Blocks, at: int) -> bool:
    """Whether a line stands in a block without chords below all sections."""
    if not sheet.starts or at < sheet.starts[-1]:
        return False
    above = sheet.blocks[max(0, at - _MOST_SAID_BELOW) : at]
    first = next((one for one in reversed(above) if not (_are_words(one) or _is_order(one))), None)
    return first is not None and isinstance(first[0].kind, Blank)


def _are_words(block: Block) -> bool:
    return all(isinstance(one.kind, Words | Note | Remark | Roadmap) for one in block)


def _is_last_chord(block: Block) -> bool:
    """Whether a block is the name of a song's last chord, which may stand below its order."""
    return any(is_of_last_chords(one.name) for one in _starts(block))


def _is_order(block: Block) -> bool:
    return any(one.guessed for one in _starts(block))


def _is_as_written(sheet: _Blocks, at: int, text: str) -> bool:
    """Whether a line above or below all sections lists them as they stand on the sheet."""
    between = bool(sheet.starts) and sheet.starts[0] < at < sheet.starts[-1]
    if len(text) > LONGEST or between or not _APART.search(text):
        return False
    others = sheet.others(at)
    keys = [section_key(start.name) for start in others]
    stops = stops_of(text[label_end(text) :], keys, [start.name for start in others])
    plain = all(
        stop.times == 1 or stop.times == one.times for stop, one in zip(stops, others, strict=False)
    )
    return len(stops) == len(keys) and plain and all(map(_means, stops, keys))


def _means(stop: Stop, key: Key) -> bool:
    return stop.key == key or (stop.key[0] == key[0] and "" in (stop.key[1], key[1]))


def _may_be_order(sheet: _Blocks, at: int, keys: Sequence[Key]) -> bool:
    """Whether a line without a label stands where the order of a song may: above its first
    section or below its last, and not under chords."""
    blocks = sheet.blocks
    above = blocks[at - 1] if sheet.starts[0] < at else ()
    if any(not isinstance(one.kind, Blank | Chords | SectionStart) for one in above):
        return False
    others = [i for i in sheet.starts if i != at and not _is_last_chord(blocks[i])]
    if not others or others[0] < at < others[-1]:
        return False
    alone = at + 1 == len(blocks) or isinstance(blocks[at + 1][0].kind, Blank)
    chords = isinstance(blocks[at][-1].kind, Chords) and not _starts(blocks[at])
    names = (one.name for one in sheet.others(at) if not is_of_last_chords(one.name))
    lettered = chords and (are_by_letters(keys) or all(map(_LETTER.fullmatch, names)))
    return not chords or (lettered and alone)
