"""What each line of a sheet became, and the sections that start there, for whatever gives their
order."""

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
from chartkit.interchange.text.section_lines.said_order_lines import OrderedLines
from chartkit.interchange.text.song_form.roadmap import Key
from chartkit.interchange.text.vocabulary.order_words import endings_from, is_of_last_chords
from chartkit.interchange.text.vocabulary.section_names import section_key

Block = tuple[KnownLine, ...]
"""What one line of the sheet became."""


def starts_in(block: Block) -> list[SectionStart]:
    """The sections that start in a block."""
    return [one.kind for one in block if isinstance(one.kind, SectionStart)]


def _is_last_chord(block: Block) -> bool:
    """Whether a block is the name of a song's last chord, or says on which it ends."""
    return any(
        is_of_last_chords(one.name) or (one.guessed and section_key(one.name)[0] == "end")
        for one in starts_in(block)
    )


class SheetBlocks:
    """What each line of a sheet became, and the sections that start there.

    What is asked of every line must not take a time that grows with the sheet, so the sections are
    counted once, with how many lines stand under each.
    """

    def __init__(self, blocks: list[Block]) -> None:
        self.blocks = blocks
        self.added: list[KnownLine] = []
        """The sections that an order adds behind all others (``with_added``)."""
        self._count()

    def _count(self) -> None:
        self._written: dict[int, tuple[Key, ...]] = {}
        """What the names of all others mean without some of the blocks in which sections start."""
        self._closing: frozenset[int] | None = None
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
            if starts_in(block):
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

    def put(self, at: int, kind: Blank | Note | Remark | Roadmap) -> None:
        """Makes one line of a kind of a block."""
        before, self.blocks[at] = self.blocks[at], (KnownLine(self.blocks[at][0].line, kind),)
        self.ordered = self.ordered or isinstance(kind, Roadmap)
        if starts_in(before):
            self._count()
        elif (section := self._section_above(at)) >= 0:
            self._filled[section] += 1 - _lines_in(before)
            self._written.clear()

    def put_lines(self, at: int, lines: Block) -> None:
        """Puts other lines in place of those of a block."""
        self.blocks[at] = lines
        self._count()

    def put_order(self, at: int, said: OrderedLines, end: int = 0) -> None:
        """Puts what a sentence makes of the sheet in its place, or in that of the lines from it on,
        up to ``end``."""
        starts = iter(range(len(self.sections)))
        end = max(end, at + 1)
        for place, block in enumerate(self.blocks):
            if at < place < end:
                self.blocks[place] = (KnownLine(block[0].line, Roadmap(())),)
            elif place != at and starts_in(block):
                self.blocks[place] = tuple(_counted(block, starts, said.counts))
        order = tuple(one for one in said.lines if isinstance(one.kind, Roadmap))
        self.blocks[at] = order or (KnownLine(self.blocks[at][0].line, Roadmap(())),)
        self._count()
        if order or any(start > at for start in self.starts):
            self.added += (one for one in said.lines if one not in order)
        else:
            self.blocks[at] = said.lines or self.blocks[at]
            self._count()

    def without(self, first: int, end: int) -> "SheetBlocks":
        """The sheet without the lines from one on, up to ``end``."""
        return SheetBlocks([*self.blocks[:first], *self.blocks[end:]])

    def bare_repeats(self, apart: int) -> list[int]:
        """The blocks, but for one, that are nothing but the name of a section written above."""
        repeats = []
        for at, last in zip(self.starts, self._last, strict=True):
            block = self.blocks[at]
            alone = at != apart and len(block) == 1 and not self._filled[last]
            above = {key for i, key in enumerate(self.keys[:last]) if self._filled[i]}
            if alone and self.sections[last].times == 1 and self.keys[last] in above:
                repeats.append(at)
        return repeats

    def are_all_filled(self) -> bool:
        """Whether something stands under each section, or beside its name."""
        return all(self._filled)

    @property
    def closing(self) -> frozenset[int]:
        """The blocks with a song's last chord, which may stand below its order."""
        if self._closing is None:
            closing = (at for at in self.starts if _is_last_chord(self.blocks[at]))
            self._closing = frozenset(closing)
        return self._closing

    def _section_above(self, at: int) -> int:
        """The section under which a block stands where none starts; -1 above all."""
        above = bisect_left(self.starts, at)
        return self._last[above - 1] if above else -1

    def count_above(self, at: int) -> int:
        """How many sections start above a block."""
        return sum(len(starts_in(self.blocks[i])) for i in self.starts if i < at)

    def others(self, at: int) -> list[SectionStart]:
        """The sections that start in other blocks."""
        if not starts_in(self.blocks[at]):
            return self.sections
        return [one for i in self.starts if i != at for one in starts_in(self.blocks[i])]

    def written(self, at: int) -> tuple[Key, ...]:
        """What the names of all sections mean without a block; none where one has nothing under
        it."""
        if at in self._written:
            return self._written[at]
        if starts_in(self.blocks[at]):
            rest = self.without(at, at + 1)
            self._written[at] = rest._keys_played() if all(rest._filled) else ()
            return self._written[at]
        above = self._section_above(at)
        without = _lines_in(self.blocks[at])
        filled = (n - without if i == above else n for i, n in enumerate(self._filled))
        return self._keys_played() if all(filled) else ()


def with_added(known: Sequence[KnownLine], added: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines, with sections that an order adds behind all others, but before those that end the
    song: they lend from those above, wherever the order stands that names them."""
    starts = [(at, one.kind) for at, one in enumerate(known) if isinstance(one.kind, SectionStart)]
    first = endings_from([kind.name for _, kind in starts]) if added else len(starts)
    place = starts[first][0] if first < len(starts) else len(known)
    return [*known[:place], *added, *known[place:]]


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
