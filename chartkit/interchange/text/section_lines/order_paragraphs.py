"""Orders that stand on several lines, once the sections of the sheet are known.

A label says that the lines below it are the order of the whole song ("Routine:"); so does a list of
all sections below a legend, in which each section's chords stand beside its name.  Without either,
lines that ask for a section again add what they name behind the sheet's last section.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.text.kinds.line_kinds import Blank, Chords, SectionStart, Words
from chartkit.interchange.text.section_lines.said_order_lines import RowReader, ordered_lines
from chartkit.interchange.text.section_lines.sheet_blocks import Block, SheetBlocks, starts_in
from chartkit.interchange.text.song_form.listed_steps import ListReader, are_numbered, bare_item
from chartkit.interchange.text.song_form.roadmap import (
    FEWEST_STOPS,
    is_label_alone,
    label_end,
    place_of,
)
from chartkit.interchange.text.song_form.steps import SaidOrder, SaidStep
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.order_words import LEADS_ON
from chartkit.interchange.text.vocabulary.section_names import section_key

_LONGEST = 160
_MOST_LINES = 60
"""The most lines of an order (ours)."""
_FEWEST_LINES = 2
_LETTER = re.compile(r"[A-H]\d?")
_OWN_LABEL = re.compile(r"[^\W\d_]{3,20}(?: [^\W\d_]{2,14}){0,2}\s*:")
"""A line that may well be the sheet's own label of an order, where all sections stand below it."""
_PARTS_A_LABEL = frozenset(":=-–—")


def put_orders_of_lines(
    sheet: SheetBlocks, texts: Sequence[str], row_of: RowReader, is_chords: IsChords
) -> range:
    """Puts the sections in the order of the first paragraph that gives it, in place of its lines,
    and returns these.

    ``texts`` are those of the sheet's lines; ``row_of`` and ``is_chords`` read rows of chords.
    """
    last = max((at for at, one in enumerate(sheet.blocks) if _has_rows(one)), default=-1)
    for first, end in _paragraphs(sheet, texts):
        labelled = bool(_label(texts[first]))
        if labelled or end > last:
            read = _put(sheet, texts[first:end], first, row_of, is_chords)
            if read:
                return range(first, first + read)
    return range(0)


def _paragraphs(sheet: SheetBlocks, texts: Sequence[str]) -> Iterator[tuple[int, int]]:
    """The lines from a label to the next blank one, and those below the last blank one of all
    others; a blank line may stand behind a label alone."""
    blank = [isinstance(block[0].kind, Blank) for block in sheet.blocks]
    blank += [True]
    for at, text in enumerate(texts):
        after_blank = not blank[at] and (at == 0 or blank[at - 1])
        if blank[at] or not (after_blank or _label(text)):
            continue
        start = at
        if is_label_alone(text):
            start = next((i for i in range(at + 1, len(texts)) if not blank[i]), at)
        yield at, blank.index(True, start)


def _label(text: str) -> int:
    """Where the label of an order ends with which a line begins; 0 where none does."""
    if len(text) > _LONGEST:
        return 0
    if is_label_alone(text):
        return len(text)
    end = label_end(text)
    return end if not _PARTS_A_LABEL.isdisjoint(text[:end]) else 0


def _put(
    sheet: SheetBlocks, texts: Sequence[str], first: int, row_of: RowReader, is_chords: IsChords
) -> int:
    """Puts the order of a paragraph in the place of its first lines; of how many, 0 where it is
    none."""
    own = _OWN_LABEL.fullmatch(texts[0].strip()) is not None and not is_label_alone(texts[0])
    label = len(texts[0]) if own else _label(texts[0])
    if not _FEWEST_LINES <= len(texts) <= _MOST_LINES or any(len(one) > _LONGEST for one in texts):
        return 0
    rest = sheet.without(first, first + len(texts))
    below = not any(starts_in(block) for block in rest.blocks[first:])
    if not rest.sections or not rest.are_all_filled() or not (below or label):
        return 0
    written = [(one.name, one.times) for one in rest.sections]
    numbered = not label and are_numbered(texts)
    reader = ListReader(written, is_chords, bool(label) or numbered)
    read = _read(reader, texts, sheet.blocks[first : first + len(texts)], label)
    again = not label and _goes_on(reader, texts)
    order = SaidOrder(reader.steps, goes_on=again)
    if read < _FEWEST_LINES or len(order.steps) < _FEWEST_LINES:
        return 0
    first_line = SaidOrder(reader.first_line, goes_on=again)
    at_once = _names_all(first_line, len(rest.sections))
    whole = label or _is_whole(order, rest, at_once or numbered)
    if own and not _names_all(order, len(rest.sections)):
        return 0
    adds = again and not starts_in(sheet.blocks[first])
    adds = adds or (read == len(texts) and _goes_on_in_letters(order, reader, texts))
    if not (whole or adds):
        return 0
    order = replace(order, goes_on=not whole)
    line = sheet.blocks[first][0].line
    joined = replace(line, text=_joined(texts[:read]), columns=None)
    said = ordered_lines(order, rest.sections, joined, row_of)
    if said is not None:
        sheet.put_order(first, said, first + read)
    return read if said is not None else 0


def _read(reader: ListReader, texts: Sequence[str], blocks: Sequence[Block], label: int) -> int:
    """Reads the lines of a paragraph as far as they are an order; how many are."""
    for at, (text, block) in enumerate(zip(texts, blocks, strict=True)):
        bare = text[label if at == 0 else _label(text) :]
        if not bare.strip():
            continue
        if not reader.read(bare, _told(block, reader.written)):
            return at
    return len(texts)


def _told(block: Block, written: Sequence[str]) -> list[SaidStep]:
    """The steps that a line is by itself; none where it is anything else."""
    keys = [section_key(one) for one in written]
    steps: list[SaidStep] = []
    for one in block:
        if isinstance(one.kind, SectionStart):
            start = one.kind
            at = place_of(section_key(start.name), keys, ())
            remark = ", ".join(one.strip("()") for one in start.remarks)
            like = "" if at is not None else start.like
            at = -1 if at is None else at
            steps.append(SaidStep(at, start.name, start.times, like, "", remark))
        elif isinstance(one.kind, Chords) and steps and steps[-1].at < 0:
            row = " ".join(token.text for token in one.kind.tokens)
            steps[-1] = replace(steps[-1], row=row)
        else:
            return []
    return steps


def _goes_on(reader: ListReader, texts: Sequence[str]) -> bool:
    """Whether the first line says that its steps come behind what the sheet has."""
    return reader.sentence.begins_again or LEADS_ON.match(texts[0]) is not None


def _goes_on_in_letters(order: SaidOrder, reader: ListReader, texts: Sequence[str]) -> bool:
    """Whether lines name sections, some called by letters, and what is played over these, and are
    not rows of chords ("Solo on B", "A again"): other readers would take letters for chords."""
    lettered = sum(_LETTER.fullmatch(name) is not None for name in reader.written) > 1
    known = all(one.at >= 0 or one.like or one.row for one in order.steps)
    alone = all(_LETTER.fullmatch(text.strip()) for text in texts)
    return lettered and known and (alone or not all(map(reader.sentence.is_chords, texts)))


def _is_whole(order: SaidOrder, rest: SheetBlocks, at_once: bool) -> bool:
    """Whether lines without a label are the order of the whole song: they name all sections of a
    legend, or the first line names all ``at_once``, some more than once; and they add none that
    has chords of its own but the end."""
    if order.goes_on or order.steps[0].at < 0 or any(one.row for one in order.steps[:-1]):
        return False
    return _names_all(order, len(rest.sections)) and (at_once or _is_legend(rest.blocks))


def _names_all(order: SaidOrder, count: int) -> bool:
    """Whether an order names each of so many sections, some more than once."""
    named = [one.at for one in order.steps if one.at >= 0]
    return FEWEST_STOPS <= len(named) > count and {*named} == {*range(count)}


def _is_legend(blocks: Sequence[Block]) -> bool:
    """Whether each section of a sheet has its chords on the line of its name, no words, and no
    blank line between it and the next."""
    starts = [at for at, block in enumerate(blocks) if starts_in(block)]
    if not starts or any(_has(block, Words) for block in blocks[starts[0] :]):
        return False
    together = not any(isinstance(one[0].kind, Blank) for one in blocks[starts[0] : starts[-1]])
    return together and all(_on_one_line(blocks, at) for at in starts)


def _on_one_line(blocks: Sequence[Block], at: int) -> bool:
    """Whether the chords of the section that starts in a block stand on the line of its name."""
    number = blocks[at][0].line.number
    same = (one for block in blocks[at : at + 2] for one in block if one.line.number == number)
    return any(isinstance(one.kind, Chords) for one in same)


def _has(block: Block, kind: type[Words] | type[Chords]) -> bool:
    return any(isinstance(one.kind, kind) for one in block)


def _has_rows(block: Block) -> bool:
    """Whether a line is a row of chords, or a section's name before one."""
    return _has(block, Chords)


def _joined(texts: Sequence[str]) -> str:
    """The lines of an order as one, as a finding shows it."""
    label, *items = (one for one in texts if one.strip())
    items = [bare_item(one[_label(one) :]) for one in items]
    first, rest = " ".join(label.split()), [" ".join(one.split()) for one in items]
    if is_label_alone(first) and rest:
        return f"{first} {', '.join(rest)}"
    return ", ".join((first, *rest))
