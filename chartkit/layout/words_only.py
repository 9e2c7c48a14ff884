"""Lays a song out for somebody who only sings: its words in verses, large, without bars.

The words stand in the order in which they are sung, repeats and jumps written out; a row of words
is a line.  Sections without words say how long they last.  Sections stay in one piece where they
can.  Long songs in short lines stand in two columns where that saves a page.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from typing import NamedTuple

from chartkit.arrange.arrangement import ArrangedSection, Arrangement
from chartkit.arrange.page_look import PHONES, PageLook
from chartkit.chart.marks import Mark, spoken_mark
from chartkit.layout.boxes import SectionBox
from chartkit.layout.document import document_of
from chartkit.layout.fit import Fitter, ends_clause
from chartkit.layout.frame_lines import heading
from chartkit.layout.frames import Document, Glyph, Item
from chartkit.layout.held_words import held_words
from chartkit.layout.metrics import Typesetter, runs_from_right
from chartkit.layout.outlines import glyph_aspect
from chartkit.layout.paginate import (
    Block,
    PagePart,
    page_turns,
    pages,
    parts_of,
    set_pages,
)
from chartkit.layout.place import PlacedSystem
from chartkit.layout.style import FootLine, Paper, Style, column_style, paper_of
from chartkit.layout.sung_again import line_numbers, said_above, stanza_texts
from chartkit.layout.sung_order import Phrase, sung_line
from chartkit.layout.sung_words import SectionWords, has_words, line_text, words_in_sung_order
from chartkit.layout.top import fitting_top
from chartkit.layout.word_columns import sections_in_columns
from chartkit.layout.words_alone import at_its_end, pieces

SIZES = (1.5, 1.35, 1.25, 1.15, 1.05, 0.95, 0.85)
"""The sizes tried: the best that takes no more pages than the smallest does."""
_ALL_BROKEN, _LARGE_ENOUGH = 0.7, 1.15
"""The cost, as a part of the type's size, of breaking every line of the song in two, and the
smallest size that is used to avoid it, but for the next, if that breaks none (ours)."""
_LEAST_IN_COLUMNS, _MOST_BROKEN = 0.95, 1.12
"""The smallest size worth a second column, and how much longer the words may get by it."""
_LEADING, _HANGING = 1.42, 1.6
"""Line distance and the indent of a line that goes on, in type sizes."""
_ASIDE = 9.0
"""The room before what follows words, at scale 1."""
_SIGN_RAISED, _SIGN_HEIGHT, _SIGN_ROOM = 0.9, 0.42, 0.34
"""How far the sign of a fermata stands over the baseline of the words it holds, how high it is, and
the room that its line gets over it, in type sizes."""
_LEAST_SILENCE = 2
"""The fewest bars without words inside a section that are printed (ours)."""
_LEFT = "no repeat comes to these words:"
_SAID_ONCE = 3
"""A line sung at least this often in a row is printed once, with the number of times."""


_Way = Sequence[SectionWords]


def words_laid_out(
    arrangement: Arrangement, look: PageLook, typesetter: Typesetter, foot: FootLine = "own"
) -> Document:
    """The song's words as finished pages, at the look's size, or as large as they go."""
    fitter, paper = Fitter(typesetter), paper_of(look, landscape=False, foot=foot)
    way = words_in_sung_order(arrangement)
    columns: float | None = None
    limits = look.sizes
    if limits is not None and limits.least == limits.largest:
        size = limits.least
    else:
        sizes = _sizes(look)
        size, count = _largest(arrangement, way, paper, fitter, sizes)
        if look.columns == "auto":
            columns = _in_columns(arrangement, way, paper, fitter, sizes, count)
    style = Style(paper, paper.scale * (columns or size))
    if columns:
        top, columns_made = _columns(arrangement, way, fitter, style)
        made = set_pages(
            arrangement, fitter, top, columns_made, style, with_foot=foot == "own", per_page=2
        )
    else:
        top, blocks = _parts(arrangement, way, fitter, style)
        made = pages(arrangement, fitter, top, blocks, style, with_foot=foot == "own")
    return document_of(arrangement, made, typesetter)


def _sizes(look: PageLook) -> tuple[float, ...]:
    """The sizes to try, the largest first.  On a phone none is smaller than its own."""
    least, most = look.sizes or (1.0 if look.paper in PHONES else SIZES[-1], SIZES[0])
    return (most, *(size for size in SIZES if least < size < most), least)


def _largest(
    arrangement: Arrangement, way: _Way, paper: Paper, fitter: Fitter, sizes: tuple[float, ...]
) -> tuple[float, int]:
    """The best size that takes no more pages than the smallest does, and their number: the larger
    the better, unless too many lines of the song have to be broken for it."""

    def page_count(size: float) -> int:
        style = Style(paper, paper.scale * size)
        top, blocks = _parts(arrangement, way, fitter, style)
        return page_turns(top, parts_of(blocks, style), style)[0]

    fewest = page_count(sizes[-1])
    at = next((i for i, size in enumerate(sizes) if page_count(size) <= fewest), len(sizes) - 1)
    large = [size for size in sizes[at:] if size >= _LARGE_ENOUGH] or [sizes[at]]
    for smaller in sizes[at + len(large) : at + len(large) + 1]:
        large += [smaller] * (not _broken_count(way, fitter, Style(paper, paper.scale * smaller)))
    lines = {size: _line_count(way, fitter, Style(paper, paper.scale * size)) for size in large}
    least = max(1, min(lines.values()))
    return max(lines, key=lambda size: size - _ALL_BROKEN * lines[size] / least), fewest


def _in_columns(
    arrangement: Arrangement,
    way: _Way,
    paper: Paper,
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
        style = Style(paper, paper.scale * size)
        whole = _line_count(way, fitter, style)
        if _line_count(way, fitter, column_style(style)) > whole * _MOST_BROKEN:
            continue
        if (len(_columns(arrangement, way, fitter, style)[1]) + 1) // 2 < count:
            return size
    return None


def _line_count(way: _Way, fitter: Fitter, style: Style) -> int:
    """The printed lines of the song, one more for each that is broken inside a clause."""
    verses = [verse for stop in way for verse in _verses(stop, fitter, style)]
    torn = (
        bool(below.indent) and not ends_clause(line.words)
        for verse in verses
        for line, below in pairwise(verse)
    )
    return sum(map(len, verses)) + sum(torn)


def _broken_count(way: _Way, fitter: Fitter, style: Style) -> int:
    return sum(
        bool(line.indent)
        for stop in way
        for verse in _verses(stop, fitter, style)
        for line in verse
    )


def _columns(
    arrangement: Arrangement, way: _Way, fitter: Fitter, style: Style
) -> tuple[PlacedSystem, list[list[PagePart]]]:
    top = fitting_top(arrangement, fitter, style)
    return top, sections_in_columns(_blocks(way, fitter, column_style(style)), top, style)


def _parts(
    arrangement: Arrangement, way: _Way, fitter: Fitter, style: Style
) -> tuple[PlacedSystem, list[Block]]:
    top = fitting_top(arrangement, fitter, style)
    return top, _blocks(way, fitter, style)


def _blocks(way: _Way, fitter: Fitter, style: Style) -> list[Block]:
    blocks = []
    for stop in way:
        section, verses = stop.section, _verses(stop, fitter, style)
        alike = len(verses) > 1 and all(verse == verses[0] for verse in verses)
        box = SectionBox(section.name, len(verses) if alike else 1, (), source=section.span)
        stanzas = tuple(
            _stanza(lines[start:end], fitter, style, start > 0, end < len(lines))
            for lines in verses[: 1 if alike else None]
            for start, end in pieces(lines, style, _LEADING)
        )
        blocks.append(Block(section.name, heading(box, fitter, style), stanzas))
    return blocks


class _Line(NamedTuple):
    """A printed line: its words, what follows in italics, its indent in points, and the places of
    the words that are held."""

    words: str
    aside: str
    indent: float
    held: tuple[int, ...] = ()


def _stanza(
    lines: list[_Line], fitter: Fitter, style: Style, goes_on: bool, goes_further: bool
) -> PlacedSystem:
    """Lines of a stanza, or of a piece of it that begins or ends inside the stanza."""
    items: list[Item] = []
    y = style.words * (1 - _LEADING)
    for line in lines:
        y += style.words * (_LEADING + _SIGN_ROOM * bool(line.held))
        items += _line_items(line, y, fitter, style)
    height = y + style.words * (_LEADING - (1.0 if goes_further else 1.1))
    return PlacedSystem(tuple(items), height, gap=0.0 if goes_on else None)


def _line_items(line: _Line, y: float, fitter: Fitter, style: Style) -> Iterator[Item]:
    """The texts of a line on a baseline, and the signs of fermatas over the words they hold, each
    with an invisible text that is read aloud in its place."""
    aside_x = 0.0
    if line.words:
        text = fitter.text(line.words, line.indent, y, "words", style.words, role="words")
        text = at_its_end(text, style)
        yield text
        for place in line.held:
            yield from _held_sign(line, place, text.x, y, fitter, style)
        aside_x = text.x + text.width + style.pt(_ASIDE)
    if line.aside:
        aside = fitter.text(line.aside, aside_x, y, "italic", style.cue, role="cue")
        if runs_from_right(line.words):
            aside = aside._replace(x=text.x - style.pt(_ASIDE) - aside.width)
        yield aside


def _held_sign(
    line: _Line, place: int, line_x: float, y: float, fitter: Fitter, style: Style
) -> Iterator[Item]:
    """The sign of a fermata over the middle of a word of the line."""
    words = line.words.split(" ")
    begins, ends = (
        fitter.width(before, "words", style.words)
        for before in ("".join(f"{word} " for word in words[:place]), " ".join(words[: place + 1]))
    )
    height = style.words * _SIGN_HEIGHT
    x = line_x + (begins + ends - height * glyph_aspect("fermata")) / 2
    x, top = max(0.0, x), y - style.words * _SIGN_RAISED
    yield Glyph(x, top, height, "fermata")
    blank = fitter.text(" ", x, y, "plain", 1.0, role="spoken")
    yield blank._replace(spoken=spoken_mark(Mark("fermata")))


def _verses(stop: SectionWords, fitter: Fitter, style: Style) -> list[list[_Line]]:
    """The lines of each time through a section; a verse's number stands before its first line."""
    section, visit = stop.section, stop.sung
    if not has_words(section):
        return [_without_words(stop, fitter, style)]
    verses = []
    for time, phrases in enumerate(visit.times):
        body, shown = list[_Line](), -1
        lines_here = [
            (said, held_words(section, phrase, said))
            for phrase, said in zip(phrases, stop.said[time], strict=True)
        ]
        number, silent = "", 0
        for phrase, said, aside, held in _repeated(phrases, lines_here):
            between = list[_Line]()
            if visit.first and not time:
                between = _between(section, shown + 1, phrase.system, fitter, style)
                shown = max(shown, phrase.system)
            if said or between:
                body += [*_silence(silent, fitter, style), *between]
                silent = 0
            silent += 0 if said else _bars_without_words(section, phrase)
            own = _verse_number(section, phrase) if said and stop.is_numbered else ""
            if own not in ("", number):
                number = own
                if runs_from_right(said):  # It is in the order in which it is drawn.
                    said = f"{said} .{own}"
                else:
                    said, held = f"{own}. {said}", tuple(place + 1 for place in held)
            body += _wrapped(said, aside, fitter, style, held)
        body += _silence(silent, fitter, style)
        if visit.left and body:
            body = [*_aside(_LEFT, fitter, style), *body]
        if visit.first and not time:
            body += _between(section, shown + 1, len(section.systems), fitter, style)
        verses.append(body)
    return [verse for verse in verses if verse]


def _bars_without_words(section: ArrangedSection, phrase: Phrase) -> int:
    """The bars of a phrase whose line is empty on the page; 0 in free time, and where its first bar
    has words, which a line before took in."""
    system, sung = section.systems[phrase.system], sung_line(section, phrase)
    if not system.bar_lines or (sung and line_text(sung[0], phrase.bars[:1])):
        return 0
    bars = (system.bars[at].bar for at in phrase.bars)
    return sum(bar.lasts for bar in bars if not bar.pickup)


def _silence(bars: int, fitter: Fitter, style: Style) -> list[_Line]:
    """How long nobody sings between lines or after them; nothing for the end of a line."""
    return _aside(f"{bars} bars without words", fitter, style) if bars >= _LEAST_SILENCE else []


def _verse_number(section: ArrangedSection, phrase: Phrase) -> str:
    """The number of the verse that a phrase belongs to, as the players read it; empty for a
    refrain."""
    words = section.systems[phrase.system].words
    if not words:
        return ""
    typed = words[phrase.line].verse
    return line_numbers(words)[phrase.line] or ("" if typed is None else str(typed))


def _between(
    section: ArrangedSection, start: int, end: int, fitter: Fitter, style: Style
) -> list[_Line]:
    """The announcements above the systems up to ``end``, and words alone before it."""
    body: list[_Line] = []
    for system in section.systems[start : end + 1]:
        body += [line for text in said_above(system) for line in _aside(text, fitter, style)]
        if not system.bars:
            texts = stanza_texts(system)
            body += [line for text in texts for line in _wrapped(text, "", fitter, style)]
    return body


def _repeated(
    phrases: Sequence[Phrase], lines: Sequence[tuple[str, tuple[int, ...]]]
) -> Iterator[tuple[Phrase, str, str, tuple[int, ...]]]:
    """The lines, what is said of each and which words are held; one that a repeat brings several
    times in a row once."""
    pairs = zip(phrases, lines, strict=True)
    for (_, (said, held)), same in groupby(pairs, key=lambda one: (one[0].system, one[1])):
        run = [phrase for phrase, _ in same]
        if said and len(run) >= _SAID_ONCE:
            yield run[0], said, f"{len(run)} times", held
        else:
            yield from ((phrase, said, "", held) for phrase in run)


def _without_words(stop: SectionWords, fitter: Fitter, style: Style) -> list[_Line]:
    section, visit = stop.section, stop.sung
    said = [text for system in section.systems for text in said_above(system) if visit.first]
    asides = [line for text in said for line in _aside(text, fitter, style)]
    if not visit.bars:
        return asides
    # The length of a row in free time is not known.
    timed = all(system.bar_lines or not system.bars for system in section.systems)
    bars = f"{visit.bars} bar{'s' * (visit.bars != 1)} without words" if timed else "without words"
    return asides + _aside(bars, fitter, style)


def _aside(words: str, fitter: Fitter, style: Style) -> list[_Line]:
    """Something said in italics, on lines of its own."""
    lines = fitter.wrapped(words, "italic", style.cue, style.line_width)
    return [_Line("", line, 0.0) for line in lines]


def _wrapped(
    said: str, aside: str, fitter: Fitter, style: Style, held: tuple[int, ...] = ()
) -> list[_Line]:
    """A line of words in as many printed lines as it takes, the later ones indented."""
    if not said:
        return _aside(aside, fitter, style) if aside else []
    hanging = style.words * _HANGING
    width = fitter.width(aside, "italic", style.cue) + style.pt(_ASIDE) if aside else 0.0
    if width > style.line_width / 2:
        return _wrapped(said, "", fitter, style, held) + _aside(aside, fitter, style)
    room = style.line_width - width
    lines = list[_Line]()
    begun = 0
    for sentence in fitter.sentences(said, "words", style.words, room):
        for i, part in enumerate(fitter.hung(sentence, "words", style.words, room, hanging)):
            count = len(part.split())
            here = tuple(place - begun for place in held if 0 <= place - begun < count)
            lines.append(_Line(part, "", hanging if i else 0.0, here))
            begun += count
    return [*lines[:-1], lines[-1]._replace(aside=aside)]
