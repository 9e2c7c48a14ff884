"""A song for somebody who only sings: its words in verses, large, without bars.

A row of words is a line; sections without words say how long they last.  What leads
elsewhere in the song stands in italics at the end of its line.  Sections stay in one piece
where they can.
"""

import re

from chartkit.arrange.arrangement import ArrangedSection, ArrangedSystem, Arrangement, WordsLine
from chartkit.chart.model import Mark
from chartkit.layout.boxes import SectionBox
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import heading
from chartkit.layout.frames import Document, Item
from chartkit.layout.metrics import Typesetter
from chartkit.layout.paginate import Block, pages, turns
from chartkit.layout.place import PlacedSystem
from chartkit.layout.style import PaperName, Style, style_for
from chartkit.layout.top import TopSetter, told_in_full

SIZES = (1.5, 1.35, 1.25, 1.15, 1.05, 0.95, 0.85)
"""The sizes tried: the largest that takes no more pages than the smallest does."""
_LEADING, _HANGING, _STANZA = 1.42, 1.6, 8
"""Line distance and the indent of a line that goes on, in type sizes; the lines that stay
together where a section has more."""
_INSIDE = re.compile(r"(?<=\w)- (?=\w)")
_LEADS = {"to-coda": "to the coda", "fine": "the end", "D.C.": "from the top",
          "D.S.": "from the sign", "segno": "the sign", "coda": "the coda"}  # fmt: skip
_UNTIL = {"": "", "fine": ", to the end sign", "coda": ", then the coda"}


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
    if not isinstance(size, float | int):
        size = _largest(arrangement, paper, fitter, size)
    style = style_for(paper, size)
    top, blocks = _parts(arrangement, fitter, style)
    made = pages(arrangement, fitter, top, blocks, style, with_foot)
    return Document(
        arrangement.title, arrangement.writer, arrangement.language, told_in_full(arrangement),
        made, frozenset(typesetter.missing),
    )  # fmt: skip


def _largest(
    arrangement: Arrangement,
    paper: PaperName,
    fitter: Fitter,
    limits: tuple[float, float] | None,
) -> float:
    least, most = limits or (SIZES[-1], SIZES[0])
    sizes = (most, *(size for size in SIZES if least < size < most), least)

    def page_count(size: float) -> int:
        style = style_for(paper, size)
        return turns(*_parts(arrangement, fitter, style), style)[0]

    fewest = page_count(least)
    return next((size for size in sizes if page_count(size) <= fewest), least)


def _parts(
    arrangement: Arrangement, fitter: Fitter, style: Style
) -> tuple[PlacedSystem, list[Block]]:
    blocks = []
    for section in arrangement.sections:
        box = SectionBox(section.name, section.times, ())
        stanzas = tuple(_stanzas(section, fitter, style))
        blocks.append(Block(section.name, heading(box, fitter, style), stanzas))
    return TopSetter(fitter, style).top(arrangement), blocks


def _stanzas(section: ArrangedSection, fitter: Fitter, style: Style) -> list[PlacedSystem]:
    lines = _lines(section, fitter, style)
    return [
        _stanza(lines[start : start + _STANZA], fitter, style)
        for start in range(0, len(lines), _STANZA)
    ]


_Line = tuple[str, str, float]
"""A printed line: its words, what follows in italics, and its indent in points."""


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
    """The lines of a section, verse after verse where several share the music."""
    verses = max((len(system.words) for system in section.systems), default=0)
    if not any(_said(line) for system in section.systems for line in system.words):
        return _without_words(section, fitter, style)
    found: list[_Line] = []
    for verse in range(verses):
        for system in section.systems:
            asides = [] if verse else [one.text for one in system.above]
            found += [line for aside in asides for line in _aside(aside, fitter, style)]
            if verse < len(system.words):
                aside = ", ".join(_leads(system))
                found += _wrapped(_numbered(system.words[verse], verses), aside, fitter, style)
    return found


def _without_words(section: ArrangedSection, fitter: Fitter, style: Style) -> list[_Line]:
    bars = sum(one.bar.lasts for system in section.systems for one in system.bars)
    if not bars:
        return []
    asides = [aside for system in section.systems for aside in _leads(system)]
    told = ", ".join([f"{bars} bar{'s' * (bars != 1)} without words", *asides])
    return _aside(told, fitter, style)


def _aside(told: str, fitter: Fitter, style: Style) -> list[_Line]:
    """Something said in italics, on lines of its own."""
    lines = fitter.wrapped(told, "italic", style.cue, style.line_width)
    return [("", line, 0.0) for line in lines]


def _numbered(line: WordsLine, verses: int) -> str:
    said = _said(line)
    return f"{line.verse}. {said}" if verses > 1 and line.verse is not None and said else said


def _said(line: WordsLine) -> str:
    """What is sung in a line of words, split words joined."""
    said, joined = "", True
    for segment in (line.pickup, *(one for bar in line.bars for one in bar)):
        if segment.text:
            said += segment.text if joined else f" {segment.text}"
            joined = segment.split
    return _INSIDE.sub("", said).strip()


def _leads(system: ArrangedSystem) -> list[str]:
    """What in a row of music leads elsewhere."""
    found = []
    for one, line, closing in zip(system.bars, system.lines, system.lines[1:], strict=False):
        if line.endings:
            found.append(f"time {' and '.join(map(str, line.endings))}")
        found += [_lead(mark) for mark in one.bar.marks]
        if closing.kind in ("repeat-end", "repeat-both"):
            found.append("again")
    return found


def _lead(mark: Mark) -> str:
    return _LEADS[mark.kind] + _UNTIL[mark.until]


def _wrapped(said: str, aside: str, fitter: Fitter, style: Style) -> list[_Line]:
    """A line of words in as many printed lines as it takes, the later ones indented."""
    if not said:
        return _aside(aside, fitter, style) if aside else []
    hanging = style.words * _HANGING
    width = fitter.width(aside, "italic", style.cue) + style.pt(9) if aside else 0.0
    if width > style.line_width / 2:
        return _wrapped(said, "", fitter, style) + _aside(aside, fitter, style)
    parts = fitter.wrapped(said, "words", style.words, style.line_width - hanging - width)
    return [
        (part, aside if i == len(parts) - 1 else "", hanging if i else 0.0)
        for i, part in enumerate(parts)
    ]
