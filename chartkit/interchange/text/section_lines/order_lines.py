"""Recognises lines that give the order of a whole song, once its sections are known."""

import re
from collections.abc import Iterator, Sequence

from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Words,
)
from chartkit.interchange.text.kinds.sheet_lines import LONGEST
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.section_lines.foot_lines import put_steps_of_foot
from chartkit.interchange.text.section_lines.order_paragraphs import put_orders_of_lines
from chartkit.interchange.text.section_lines.said_order_lines import (
    OrderedLines,
    RowReader,
    ordered_lines,
)
from chartkit.interchange.text.section_lines.sheet_blocks import Block, SheetBlocks, starts_in
from chartkit.interchange.text.song_form.counts_of_bars import (
    bars_written,
    played_for,
    without_counts_of_bars,
)
from chartkit.interchange.text.song_form.roadmap import (
    FEWEST_STOPS,
    Key,
    Stop,
    are_by_letters,
    go_on,
    label_end,
    own_label_end,
    place_of,
    playing_order,
    says_last_chord,
    stops_of,
)
from chartkit.interchange.text.song_form.said_of_times import (
    LONGEST_SAID,
    count_of_all,
    said_of_one,
)
from chartkit.interchange.text.song_form.said_orders import names_all, said_order
from chartkit.interchange.text.tokens import IsChords, Token
from chartkit.interchange.text.vocabulary.order_words import is_of_last_chords
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key

_FEWEST_WRITTEN = 2
_MOST_WRITTEN = 60
"""The most sections of which an order can be given; more are a songbook's."""
_MOST_STARTS = 200
_MOST_SAID_BELOW = 8
"""So many lines of remarks stand together below a song at most (ours)."""
_LETTER = re.compile(r"[A-Z]\d?(?: \([^()]*\))?")
"""A name that is a letter, which could be a chord."""
_TALK_BEFORE = re.compile(
    r"\s*(?:(?:ok(?:ay)?|so|right|well|and)[\s,:]+)*"
    r"(?:(?:it|this|we)['’]?(?:s| goes| go| is| play)|goes|here goes)[\s,:]+",
    re.IGNORECASE,
)
"""Talk that leads to an order without a label ("ok so it's …")."""
_APART = re.compile(r"[^\W_]\s*[,–—>|/→-]+\s*[^\W_]")


def with_roadmaps(
    known: Sequence[KnownLine], lines: Sequence[Line], row_of: RowReader, is_chords: IsChords
) -> tuple[list[KnownLine], list[KnownLine]]:
    """The lines, those that list all sections in the order in which they are played as roadmaps,
    and sentences that say what is played as the sections that they name; and the sections that
    these add behind all others, as ``with_added`` puts them.

    ``lines`` are those of the sheet, of which each became one or several known ones; ``row_of``
    and ``is_chords`` read rows of chords.
    """
    if sum(isinstance(one.kind, SectionStart) for one in known) > _MOST_STARTS:
        return list(known), []
    parted = list(_parted(known, lines))
    sheet = SheetBlocks([block for block, _ in parted])
    if not _FEWEST_WRITTEN <= len(sheet.starts) <= _MOST_WRITTEN + 1:
        return list(known), []
    _put_said_of_times(sheet, [text for _, text in parted], is_chords)
    read = put_orders_of_lines(sheet, [text for _, text in parted], row_of, is_chords)
    settled = set[int]()
    for at, (_, text) in enumerate(parted):
        if at in read:
            continue
        if _is_as_written(sheet, at, text):
            sheet.put(at, Note())
            settled |= {at} if label_end(text) else set()
        elif (stops := _stops(sheet, at, text, is_chords)) and not says_last_chord(text):
            sheet.put(at, Roadmap(stops))
        elif said := _said(sheet, at, text, row_of, is_chords):
            sheet.put_order(at, said)
            settled |= {at} if label_end(text) else set()
        elif stops:
            sheet.put(at, Roadmap(stops))
        elif begins := _begins_with(sheet, at, text):
            sheet.put(at, Roadmap(begins))
        elif label_end(text):
            _put_over_repeats(sheet, at, text, is_chords)
    put_steps_of_foot(sheet, [text for _, text in parted], settled, row_of, is_chords)
    return [one for block in sheet.blocks for one in block], sheet.added


def _put_said_of_times(sheet: SheetBlocks, texts: Sequence[str], is_chords: IsChords) -> None:
    """Makes remarks of lines below all music that were read as a section of the sheet again and say
    of one of its times how that is played ("2nd V2: rubato"), where a line with a label gives the
    order: that says when the section is played."""
    labelled = [at for at, text in enumerate(texts) if label_end(text)]
    music = [i for i, block in enumerate(sheet.blocks) if any(map(_is_sung_or_played, block))]
    below = [i for i in sheet.starts if i > music[-1]] if labelled and music else []
    said = {at: one for at in below if (one := _said_of_a_time(sheet, at, texts[at]))}
    if not said:
        return
    blocks = [
        (KnownLine(block[0].line, Remark(said[at])),) if at in said else block
        for at, block in enumerate(sheet.blocks)
    ]
    if any(_stops(SheetBlocks(list(blocks)), at, texts[at], is_chords) for at in labelled):
        for at, one in said.items():
            sheet.put(at, Remark(one))


def _said_of_a_time(sheet: SheetBlocks, at: int, text: str) -> str:
    """What a line that starts one section says of one of its times; empty for any other line."""
    starts = starts_in(sheet.blocks[at])
    if len(starts) != 1 or not starts[0].remarks or starts[0].times > 1:
        return ""
    text = text.strip(" *•-–")
    if text.startswith("=="):  # a name by evidence, written in our own way
        text = f"{starts[0].name}: {', '.join(starts[0].remarks)}"
    names = [one.name for one in sheet.others(at)]
    long = len(text) > LONGEST_SAID
    return "" if long or said_of_one(text, names, True) is None else text


def _is_sung_or_played(one: KnownLine) -> bool:
    return isinstance(one.kind, Words | Chords | ChordsBehind | ChordsWithin)


def _put_over_repeats(sheet: SheetBlocks, at: int, text: str, is_chords: IsChords) -> None:
    """Takes a line with a label as the order of all sections, where names of sections that come
    again stand between them as well: these are steps of the order."""
    bare = sheet.bare_repeats(at)
    if not bare:
        return
    blocks = list(sheet.blocks)
    for place in bare:
        blocks[place] = (KnownLine(blocks[place][0].line, Blank()),)
    if stops := _stops(SheetBlocks(blocks), at, text, is_chords):
        for place in bare:
            sheet.put(place, Blank())
        sheet.put(at, Roadmap(stops))


_FIRST = re.compile(
    r"\(?(?:we\s+)?(?:(?P<leads>(?:start|begin)s?\s+(?:with|on))\s+)?(?:the\s+)?"
    r"(?P<name>[^\W\d_][^,;:()]{1,20}?)(?P<first>\s+first)?[.!]*\)?",
    re.IGNORECASE,
)
"""What says with which section a song begins ("Chorus first!")."""


def _begins_with(sheet: SheetBlocks, at: int, text: str) -> tuple[Stop, ...]:
    """The order of a song that begins with another section than the first, as a line above or
    below all sections says; none for any other line."""
    match = _FIRST.fullmatch(text.strip()) if "irst" in text or "(" in text else None
    if match is None or not (match["leads"] or match["first"]) or not _is_beside_all(sheet, at):
        return ()
    keys = sheet.written(at)
    key = section_key(match["name"])
    if len({*keys}) < len(keys) or key not in keys[1:]:
        return ()
    return (Stop(key), *map(Stop, keys))


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


def _stops(sheet: SheetBlocks, at: int, text: str, is_chords: IsChords) -> tuple[Stop, ...]:
    """The stops of a line, if it is an order of all sections; none for any other line."""
    kinds = Words | Note | Remark | SectionStart | Chords | ChordsBehind
    if len(text) > LONGEST or not any(isinstance(one.kind, kinds) for one in sheet.blocks[at]):
        return ()
    start = label_end(text)
    own = 0 if start else own_label_end(text)
    if own and sheet.starts[0] < at < sheet.starts[-1]:
        own = 0
    if not (start or own or _is_beside_all(sheet, at)):
        return ()
    keys = sheet.written(at)
    if not _FEWEST_WRITTEN <= len(keys) <= _MOST_WRITTEN:
        return ()
    if own:
        return _order_of_all(text[own:], keys, [one.name for one in sheet.sections])
    mixed = any(is_known_name(word) and not is_chords(word) for word in text.split())
    if not start and not _may_be_order(sheet, at, keys, mixed):
        return ()
    begins = _TALK_BEFORE.match(text) if not start else None
    start = begins.end() if begins is not None else start
    bare, counts = without_counts_of_bars(text[start:])
    stops = stops_of(bare, keys, [one.name for one in sheet.sections])
    order = playing_order(stops, keys) if stops else None
    if order is None:
        return ()
    places = [place_of(stop.key, keys, ()) for stop in stops]
    if not label_end(text) and at > sheet.starts[-1] and go_on(places, len(keys)):
        return ()
    return _with_counts(sheet, stops, counts, keys) if len(counts) == len(stops) else stops


def _with_counts(
    sheet: SheetBlocks, stops: Sequence[Stop], counts: Sequence[int], keys: Sequence[Key]
) -> tuple[Stop, ...]:
    """The stops of an order that counts the bars of each, as often as these are played."""
    rows: dict[Key, list[tuple[Token, ...]]] = {}
    key: Key = ("", "")
    for kind in (one.kind for block in sheet.blocks for one in block):
        if isinstance(kind, SectionStart):
            key = section_key(kind.name)
        elif isinstance(kind, Chords):
            rows.setdefault(key, []).append(kind.tokens)
    result: list[Stop] = []
    order: list[int] = []
    for stop, bars in zip(stops, counts, strict=True):
        at = place_of(stop.key, keys, order)
        order += [at] if at is not None else []
        written = bars_written(rows.get(keys[at], ())) if at is not None else 0
        result.append(played_for(stop, bars, written))
    return tuple(result)


def _order_of_all(text: str, keys: Sequence[Key], names: Sequence[str]) -> tuple[Stop, ...]:
    """The stops of a text behind a label of the sheet's own, which name each section; none for any
    other text."""
    stops = stops_of(text, keys, names)
    order = playing_order(stops, keys) if len(stops) > FEWEST_STOPS else None
    return stops if order is not None and len(order) == len(stops) else ()


def _said(
    sheet: SheetBlocks, at: int, text: str, row_of: RowReader, is_chords: IsChords
) -> OrderedLines | None:
    """What a sentence makes of the sheet that says in what order its sections are played; None
    for any other line."""
    kinds = Words | Note | Remark | SectionStart | Chords | ChordsBehind
    if len(text) > LONGEST_SAID or not any(isinstance(one.kind, kinds) for one in sheet.blocks[at]):
        return None
    others = sheet.others(at)
    apart = _stands_apart(sheet, at)
    if (one := _said_of_one(sheet, at, text, apart)) is not None:
        bare = text.strip()
        bare = bare[1:-1].strip() if bare[:1] + bare[-1:] in ("()", "[]") else bare
        return OrderedLines((), {one: (1, bare)})
    own = 0 if label_end(text) else own_label_end(text)
    label = label_end(text) or own
    called = label > 0 and not _PARTS_A_LABEL.isdisjoint(text[:label])
    if not (called or apart):
        return None
    if times := count_of_all(text):
        each = {i: (times, "") for i, one in enumerate(others) if one.times == 1}
        return OrderedLines((), each) if times > 1 else None
    written = [(one.name, one.times) for one in others]
    order = said_order(text[label:], written, is_chords, called, sheet.count_above(at))
    whole = order is not None and names_all(order, [one.name for one in others])
    if order is None or (own and not whole):
        return None
    if not whole and len(order.steps) <= len(starts_in(sheet.blocks[at])):
        return None  # a line of form that was read as well
    below = all(i < at or i in sheet.closing for i in sheet.starts if i != at)
    if not below and (order.goes_on or len(order.steps) < FEWEST_STOPS):
        return None
    return ordered_lines(order, others, sheet.blocks[at][0].line, row_of)


def _said_of_one(sheet: SheetBlocks, at: int, text: str, apart: bool) -> int | None:
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


def _stands_apart(sheet: SheetBlocks, at: int) -> bool:
    """Whether a line stands alone, above all sections or below all of them."""
    starts = [i for i in sheet.starts if i != at and i not in sheet.closing]
    if not starts or starts[0] < at < starts[-1]:
        return False
    around = (*sheet.blocks[max(0, at - 1) : at], *sheet.blocks[at + 1 : at + 2])
    return all(isinstance(one[0].kind, Blank | Roadmap) or _is_order(one) for one in around)


def _is_below(sheet: SheetBlocks, at: int) -> bool:
    """Whether a line stands in a block without chords below all sections."""
    if not sheet.starts or at < sheet.starts[-1]:
        return False
    above = sheet.blocks[max(0, at - _MOST_SAID_BELOW) : at]
    first = next((one for one in reversed(above) if not (_are_words(one) or _is_order(one))), None)
    return first is not None and isinstance(first[0].kind, Blank)


def _are_words(block: Block) -> bool:
    return all(isinstance(one.kind, Words | Note | Remark | Roadmap) for one in block)


def _is_order(block: Block) -> bool:
    return any(one.guessed for one in starts_in(block))


def _is_as_written(sheet: SheetBlocks, at: int, text: str) -> bool:
    """Whether a line above or below all sections lists them as they stand on the sheet."""
    between = bool(sheet.starts) and sheet.starts[0] < at < sheet.starts[-1]
    if len(text) > LONGEST or between or not (label_end(text) or _APART.search(text)):
        return False
    others = sheet.others(at)
    keys = [section_key(start.name) for start in others]
    bare, _ = without_counts_of_bars(text[label_end(text) :])
    stops = stops_of(bare, keys, [start.name for start in others])
    plain = all(
        stop.times == 1 or stop.times == one.times for stop, one in zip(stops, others, strict=False)
    )
    return len(stops) == len(keys) and plain and all(map(_means, stops, keys))


def _means(stop: Stop, key: Key) -> bool:
    return stop.key == key or (stop.key[0] == key[0] and "" in (stop.key[1], key[1]))


def _is_beside_all(sheet: SheetBlocks, at: int) -> bool:
    """Whether a line stands above the first section or below the last, and not under words."""
    above = sheet.blocks[at - 1] if sheet.starts[0] < at else ()
    if any(not isinstance(one.kind, Blank | Chords | SectionStart) for one in above):
        return False
    others = [i for i in sheet.starts if i != at and i not in sheet.closing]
    return bool(others) and not others[0] < at < others[-1]


def _may_be_order(sheet: SheetBlocks, at: int, keys: Sequence[Key], mixed: bool) -> bool:
    """Whether a line without a label above all sections or below them may be the order of a song.
    ``mixed`` says that not all its words could be chords ("V1 C V2 C")."""
    blocks = sheet.blocks
    alone = at + 1 == len(blocks) or isinstance(blocks[at + 1][0].kind, Blank)
    chords = isinstance(blocks[at][-1].kind, Chords) and not starts_in(blocks[at])
    names = (one.name for one in sheet.others(at) if not is_of_last_chords(one.name))
    lettered = chords and (are_by_letters(keys) or all(map(_LETTER.fullmatch, names)))
    return not chords or ((lettered or mixed) and alone)
