"""A song for somebody who only sings: its words in verses, large, without bars.

A row of words is a line; sections without words say how long they last.  What leads
elsewhere in the song stands in italics at the end of its line.  Sections stay in one piece
where they can.  Long songs in short lines stand in two columns where that saves a page.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.arrange.arrangement import ArrangedSection, ArrangedSystem, Arrangement, WordsLine
from chartkit.arrange.page_look import PaperName
from chartkit.chart.marks import said_mark
from chartkit.layout.bars_played import bars_played, bars_written
from chartkit.layout.boxes import SectionBox
from chartkit.layout.columns import column_pages, column_style, columns_of
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import heading
from chartkit.layout.frames import Document, Item
from chartkit.layout.metrics import Typesetter
from chartkit.layout.paginate import Block, Part, pages, turns
from chartkit.layout.place import PlacedSystem
from chartkit.layout.song_form import ordinal
from chartkit.layout.style import Style, style_for
from chartkit.layout.sung_again import SPLIT_INSIDE, kind_of, stanza_texts
from chartkit.layout.top import capo_and_keys, fitting_top

SIZES = (1.5, 1.35, 1.25, 1.15, 1.05, 0.95, 0.85)
"""The sizes tried: the largest that takes no more pages than the smallest does."""
_LEAST_IN_COLUMNS, _MOST_BROKEN = 0.95, 1.12
"""The smallest size worth a second column, and how much longer the words may get by it."""
_LEADING, _HANGING, _STANZA = 1.42, 1.6, 8
"""Line distance and the indent of a line that goes on, in type sizes; about how many lines
stay together where a section has more."""
_TIME, _AGAIN = "time", "again"
_TIMES = re.compile(r"\d+ times$")


def words_laid_out(
    arrangement: Arrangement,
    paper: PaperName,
    typesetter: Typesetter,
    size: float | tuple[float, float] | None = None,
    with_foot: bool = True,
) -> Document:
    """The song's words as finished pages, at a size, or as large as they go.

    Two numbers are the least and the largest size.
    """
    fitter = Fitter(typesetter)
    columns: float | None = None
    if not isinstance(size, float | int):
        sizes = _sizes(size)
        size, count = _largest(arrangement, paper, fitter, sizes)
        columns = _in_columns(arrangement, paper, fitter, sizes, count)
    style = style_for(paper, columns or size)
    if columns:
        top, columns_made = _columns(arrangement, fitter, style)
        made = column_pages(arrangement, fitter, top, columns_made, style, with_foot)
    else:
        top, blocks = _parts(arrangement, fitter, style)
        made = pages(arrangement, fitter, top, blocks, style, with_foot)
    return Document(
        title=arrangement.title,
        author=arrangement.writer,
        language=arrangement.language,
        subject=capo_and_keys(arrangement),
        pages=made,
        missing=frozenset(typesetter.missing),
    )


def _sizes(limits: tuple[float, float] | None) -> tuple[float, ...]:
    """The sizes to try, the largest first."""
    least, most = limits or (SIZES[-1], SIZES[0])
    return (most, *(size for size in SIZES if least < size < most), least)


def _largest(
    arrangement: Arrangement, paper: PaperName, fitter: Fitter, sizes: tuple[float, ...]
) -> tuple[float, int]:
    """The largest size that takes no more pages than the smallest does, and their number."""

    def page_count(size: float) -> int:
        style = style_for(paper, size)
        return turns(*_parts(arrangement, fitter, style), style)[0]

    fewest = page_count(sizes[-1])
    return next((size for size in sizes if page_count(size) <= fewest), sizes[-1]), fewest


def _in_columns(
    arrangement: Arrangement,
    paper: PaperName,
    fitter: Fitter,
    sizes: tuple[float, ...],
    count: int,
) -> float | None:
    """The largest size at which two columns save pages and few lines have to be broken for
    them; None where there is none."""
    if count < 2:
        return None
    for size in sizes:
        if size < _LEAST_IN_COLUMNS:
            return None
        style = style_for(paper, size)
        whole = _line_count(arrangement, fitter, style)
        if _line_count(arrangement, fitter, column_style(style)) > whole * _MOST_BROKEN:
            continue
        if (len(_columns(arrangement, fitter, style)[1]) + 1) // 2 < count:
            return size
    return None


def _line_count(arrangement: Arrangement, fitter: Fitter, style: Style) -> int:
    sections = with_words_again(arrangement.sections)
    return sum(len(_lines(section, fitter, style)) for section in sections)


def with_words_again(sections: Sequence[ArrangedSection]) -> list[ArrangedSection]:
    """The sections as they are sung: one with the music of an earlier one of its kind and no
    words of its own (a chorus after a chorus) is sung with the other's words."""
    sung: dict[str, ArrangedSection] = {}
    result = []
    for section in sections:
        before = sung.get(section.again.casefold())
        alike = kind_of(section.name) == kind_of(section.again)
        if before is not None and alike and not _has_words(section):
            pairs = zip(section.systems, before.systems, strict=False)
            systems = tuple(replace(own, words=other.words) for own, other in pairs)
            section = replace(section, systems=systems)
        sung[section.name.casefold()] = section
        result.append(section)
    return result


def _has_words(section: ArrangedSection) -> bool:
    return any(_said(line) for system in section.systems for line in system.words)


def _columns(
    arrangement: Arrangement, fitter: Fitter, style: Style
) -> tuple[PlacedSystem, list[list[Part]]]:
    top = fitting_top(arrangement, fitter, style)
    return top, columns_of(_blocks(arrangement, fitter, column_style(style)), top, style)


def _parts(
    arrangement: Arrangement, fitter: Fitter, style: Style
) -> tuple[PlacedSystem, list[Block]]:
    top = fitting_top(arrangement, fitter, style)
    return top, _blocks(arrangement, fitter, style)


def _blocks(arrangement: Arrangement, fitter: Fitter, style: Style) -> list[Block]:
    blocks = []
    for section in with_words_again(arrangement.sections):
        box = SectionBox(section.name, section.times, (), source=section.span)
        stanzas = tuple(_stanzas(section, fitter, style))
        blocks.append(Block(section.name, heading(box, fitter, style), stanzas))
    return blocks


_Line = tuple[str, str, float]
"""A printed line: its words, what follows in italics, and its indent in points."""


def _stanzas(section: ArrangedSection, fitter: Fitter, style: Style) -> list[PlacedSystem]:
    """The lines of a section as stanzas: each verse, long ones in parts of about one size; no
    part begins with the end of a broken line."""
    return [
        _stanza(part, fitter, style)
        for lines in _verses(section, fitter, style)
        for part in _parted(lines)
    ]


def _parted(lines: list[_Line]) -> Iterator[list[_Line]]:
    count = max(1, round(len(lines) / _STANZA))
    starts = [_whole_from(lines, round(len(lines) * i / count)) for i in range(count)]
    for start, end in zip(starts, [*starts[1:], len(lines)], strict=True):
        if start < end:
            yield lines[start:end]


def _whole_from(lines: list[_Line], start: int) -> int:
    """The first line from ``start`` on that does not go on with the one before."""
    return next((i for i in range(start, len(lines)) if not lines[i][2]), len(lines))


def _stanza(lines: list[_Line], fitter: Fitter, style: Style) -> PlacedSystem:
    items: list[Item] = []
    for number, (words, aside, indent) in enumerate(lines):
        y = style.words + number * style.words * _LEADING
        text = fitter.text(words, indent, y, "words", style.words, "words")
        if words:
            items.append(text)
            indent += text.width + style.pt(9)
        if aside:
            items.append(fitter.text(aside, indent, y, "italic", style.cue, "cue"))
    height = style.words * (1.32 + _LEADING * (len(lines) - 1))
    return PlacedSystem(tuple(items), height)


def _lines(section: ArrangedSection, fitter: Fitter, style: Style) -> list[_Line]:
    """The lines of a section, those of all its verses."""
    return [line for verse in _verses(section, fitter, style) for line in verse]


def _verses(section: ArrangedSection, fitter: Fitter, style: Style) -> list[list[_Line]]:
    """The lines of each verse, one after another where several share the music.

    A verse's number stands before its first line alone.
    """
    verses = max((len(system.words) if system.bars else 1 for system in section.systems), default=0)
    if not any(_said(line) for system in section.systems for line in system.words):
        return [_without_words(section, fitter, style)]
    whole: list[list[_Line]] = []
    for verse in range(verses):
        numbered, body = verses > 1, list[_Line]()
        for system in section.systems:
            asides = [] if verse else [one.text for one in system.above]
            body += [line for aside in asides for line in _aside(aside, fitter, style)]
            if not system.bars:
                alone = () if verse else stanza_texts(system)
                body += [line for text in alone for line in _wrapped(text, "", fitter, style)]
            elif not system.words and not verse:
                body += _aside(", ".join(_leads(system)), fitter, style) if _leads(system) else []
            elif verse < len(system.words):
                lines = _system_lines(system, verse, numbered, fitter, style)
                body += lines
                numbered = numbered and not any(words for words, _, _ in lines)
        whole.append(body)
    return whole


def _system_lines(
    system: ArrangedSystem, verse: int, numbered: bool, fitter: Fitter, style: Style
) -> list[_Line]:
    """A row of words as lines: what is sung each time, then a line for every ending."""
    line, system_lines = system.words[verse], list[_Line]()
    for start, end in _stretches(system):
        said = _said(line, start, end)
        if numbered and said and line.verse is not None:
            said, numbered = f"{line.verse}. {said}", False
        system_lines += _wrapped(said, ", ".join(_leads(system, start, end)), fitter, style)
    return system_lines


def _stretches(system: ArrangedSystem) -> list[tuple[int, int]]:
    """The bars of a row, parted where numbered endings begin."""
    count = len(system.bars)
    starts = [0, *(i for i in range(1, count) if system.lines and system.lines[i].endings)]
    return list(zip(starts, [*starts[1:], count], strict=True))


def _without_words(section: ArrangedSection, fitter: Fitter, style: Style) -> list[_Line]:
    bars = sum(one.bar.lasts for system in section.systems for one in system.bars)
    if not bars:
        return []
    asides = [aside for system in section.systems for aside in _leads(system)]
    marks = [aside for aside in asides if not _says_repeat(aside)]
    (played,) = bars_played((section,))
    if played > bars_written(section):
        bars, asides = played, marks
    repeated = ["with repeats"] * (len(marks) < len(asides))
    sentence = ", ".join([f"{bars} bar{'s' * (bars != 1)} without words", *repeated, *marks])
    return _aside(sentence, fitter, style)


def _aside(words: str, fitter: Fitter, style: Style) -> list[_Line]:
    """Something said in italics, on lines of its own."""
    lines = fitter.wrapped(words, "italic", style.cue, style.line_width)
    return [("", line, 0.0) for line in lines]


def _said(line: WordsLine, start: int = 0, end: int | None = None) -> str:
    """What is sung in some bars of a line of words, split words joined; with the first bar also
    what comes before it."""
    before = () if start else (line.pickup,)
    said, joined = "", True
    for segment in (*before, *(one for bar in line.bars[start:end] for one in bar)):
        if segment.text:
            said += segment.text if joined else f" {segment.text}"
            joined = segment.split
    return SPLIT_INSIDE.sub("", said).strip() + "-" * (joined and bool(said))


def _leads(system: ArrangedSystem, start: int = 0, end: int | None = None) -> list[str]:
    """What in some bars of a row leads elsewhere."""
    phrases = []
    bars = zip(system.bars, system.lines, system.lines[1:], strict=False)
    for one, line, closing in list(bars)[start:end]:
        if line.endings:
            phrases.append(f"{' and '.join(map(ordinal, line.endings))} {_TIME}")
        phrases += dict.fromkeys(map(said_mark, one.bar.marks))
        if closing.kind in ("repeat-end", "repeat-both"):
            phrases.append(f"{closing.times} times" if closing.times else _AGAIN)
    return phrases


def _says_repeat(aside: str) -> bool:
    return aside == _AGAIN or aside.endswith(f" {_TIME}") or _TIMES.match(aside) is not None


def _wrapped(said: str, aside: str, fitter: Fitter, style: Style) -> list[_Line]:
    """A line of words in as many printed lines as it takes, the later ones indented."""
    if not said:
        return _aside(aside, fitter, style) if aside else []
    hanging = style.words * _HANGING
    width = fitter.width(aside, "italic", style.cue) + style.pt(9) if aside else 0.0
    if width > style.line_width / 2:
        return _wrapped(said, "", fitter, style) + _aside(aside, fitter, style)
    parts = fitter.hyphenated(said, "words", style.words, style.line_width - hanging - width)
    return [
        (part, aside if i == len(parts) - 1 else "", hanging if i else 0.0)
        for i, part in enumerate(parts)
    ]
