"""Who plays where, bar by bar: first guitar, voice and second guitar over time.

Bars run along, pitch upwards.  The first guitar is grey, the second black, the voice a pale band
over the bars that are sung: one look tells who is where.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from chartkit.advise.part.chord_occurrences import BarStart, bar_starts
from chartkit.advise.part.propose import PartProposal
from chartkit.advise.part.who_plays import FIRST_GUITAR, heard
from chartkit.advise.register import Moment
from chartkit.arrange.page_look import PaperName
from chartkit.chart.model import Chart
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Document, Item, Page, Shape, Stroke, moved_item
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.style import Style, style_for
from chartkit.theory.pitch import PitchRange

BARS_A_ROW = (8, 12, 16)
"""How many bars a row may have: the fewest with which the song takes one page, or the most."""
_MOST_BARS = 960
_STEP, _TALLEST_STEP = 1.7, 3.4
"""The height of a half step, in points at scale 1, and up to how high it is to fill a page."""
_THICKEST = 2.4
"""The half step whose height a sounding note has at most, in points at scale 1."""
_TOLERANCE = 0.01
_LABELS = 30.0
_ROW_GAP = 26.0
_VOICE_INK, _FIRST_INK, _PART_INK = 0.12, 0.42, 1.0
_LINE_INK = 0.25


def part_sheet(
    title: str,
    chart: Chart,
    first: Sequence[Moment],
    proposal: PartProposal,
    metrics: Metrics,
    paper: PaperName = "a4",
) -> Document:
    """The registers of first guitar, voice and part over the whole song, some bars a row."""
    typesetter = Typesetter(metrics)
    drawing = _Drawing(Fitter(typesetter), style_for(paper), chart, first, proposal)
    pages = drawing.pages(title)
    return Document(
        title=f"A second guitar: {title}",
        author="",
        language="en",
        subject=proposal.reason,
        pages=pages,
        missing=frozenset(typesetter.missing),
    )


@dataclass(frozen=True, slots=True)
class _Row:
    """Some bars in playing order: their starts, with the end of the last one after them."""

    bars: tuple[BarStart, ...]

    @property
    def beats(self) -> float:
        return self.bars[-1].beat - self.bars[0].beat


def _rows(starts: Sequence[BarStart], count: int) -> list[_Row]:
    last = len(starts) - 1
    ends = range(0, min(last, _MOST_BARS), count)
    return [_Row(tuple(starts[at : min(at + count, last) + 1])) for at in ends]


class _Drawing:
    """Draws the rows on as many pages as they take."""

    def __init__(
        self,
        fitter: Fitter,
        style: Style,
        chart: Chart,
        first: Sequence[Moment],
        proposal: PartProposal,
    ) -> None:
        self._fitter, self._style, self._chart = fitter, style, chart
        self._first = heard(first, chart, FIRST_GUITAR)
        self._part = heard(proposal.moments, chart)
        self._reason = proposal.reason
        sung = chart.setting("range")
        self._sung = sung if isinstance(sung, PitchRange) else None
        pitches = [p for moment in (*first, *proposal.moments) for p in moment.pitches]
        if self._sung is not None:
            pitches += [self._sung.lowest.midi, self._sung.highest.midi]
        self._lowest, self._highest = min(pitches) - 1, max(pitches) + 1
        self._left = style.pt(_LABELS)
        self._whole = 0.0
        self._step = style.pt(_STEP)

    def pages(self, title: str) -> tuple[Page, ...]:
        """Every page, the first with title and legend."""
        paper = self._style.paper
        bottom = paper.height - paper.top - paper.bottom
        items, y = self._head(title)
        rows = self._filling(bottom - y)
        self._whole = max((row.beats for row in rows), default=1.0) or 1.0
        height = self._height() + self._style.pt(_ROW_GAP)
        pages: list[list[Item]] = [items]
        for row in rows:
            if y + height > bottom + _TOLERANCE:
                pages.append([])
                y = self._style.pt(16)
            pages[-1] += [moved_item(item, 0, y) for item in self._row(row)]
            y += height
        return tuple(
            Page(
                paper.width, paper.height, tuple(moved_item(i, paper.side, paper.top) for i in page)
            )
            for page in pages
        )

    def _filling(self, room: float) -> list[_Row]:
        """The rows of a song that fill one page, as high as they can be there; those of a longer
        song have as many bars as may be."""
        starts, gap = bar_starts(self._chart), self._style.pt(_ROW_GAP)
        for count in BARS_A_ROW:
            rows = _rows(starts, count)
            step = (room / max(1, len(rows)) - gap) / (self._highest - self._lowest)
            if step >= self._step:
                self._step = min(step, self._style.pt(_TALLEST_STEP))
                return rows
        return rows

    def _height(self) -> float:
        return (self._highest - self._lowest) * self._step

    def _head(self, title: str) -> tuple[list[Item], float]:
        style, fitter = self._style, self._fitter
        y = style.title
        size = fitter.fitting_size(title, "title", style.title, style.line_width)
        items: list[Item] = [fitter.text(title, 0, y, "title", size, role="title")]
        sentence = self._reason[0].upper() + self._reason[1:] + "."
        for line in fitter.wrapped(sentence, "plain", style.cue, style.line_width):
            y += style.pt(15)
            items.append(fitter.text(line, 0, y, "plain", style.cue, role="reason"))
        y += style.pt(18)
        legend = [("first guitar", _FIRST_INK), ("second guitar", _PART_INK)]
        if self._sung is not None:
            legend.append((f"voice {self._sung.printed()}, where it sings", _VOICE_INK))
        x = 0.0
        for words, ink in legend:
            items.append(_box(x, y - style.pt(6), style.pt(14), style.pt(5), ink))
            text = fitter.text(words, x + style.pt(18), y, "plain", style.small, role="legend")
            items.append(text)
            x += text.width + style.pt(40)
        return items, y + style.pt(26)

    # ---- one row of bars
    def _row(self, row: _Row) -> list[Item]:
        items: list[Item] = []
        if self._sung is not None:
            items += self._voice(row, self._sung)
        items += self._lines(row)
        items += self._sounding(row, self._first, _FIRST_INK, 1.0)
        items += self._sounding(row, self._part, _PART_INK, 0.62)
        return items

    def _x(self, row: _Row, beat: float) -> float:
        width = self._style.line_width - self._left
        return self._left + (beat - row.bars[0].beat) / self._whole * width

    def _y(self, pitch: float) -> float:
        return (self._highest - pitch) * self._step

    def _voice(self, row: _Row, sung: PitchRange) -> list[Item]:
        top = self._y(sung.highest.midi + 0.5)
        height = self._y(sung.lowest.midi - 0.5) - top
        return [
            _box(
                self._x(row, one.beat),
                top,
                self._x(row, other.beat) - self._x(row, one.beat),
                height,
                _VOICE_INK,
            )
            for one, other in pairwise(row.bars)
            if one.sung
        ]

    def _lines(self, row: _Row) -> list[Item]:
        """Lines at each C with its name, bar lines, and the names of sections over them."""
        style, thin = self._style, self._style.pt(0.4)
        end = self._x(row, row.bars[-1].beat)
        items: list[Item] = []
        for pitch in range(self._lowest, self._highest + 1):
            if pitch % 12 == 0:
                y = self._y(pitch)
                items.append(Stroke(self._left, y, end, y, thin, _LINE_INK))
                name = f"C{pitch // 12 - 1}"
                items.append(
                    self._fitter.text(
                        name, 0, y + style.small / 3, "plain", style.small, role="scale"
                    )
                )
        for bar in row.bars:
            x = self._x(row, bar.beat)
            items.append(Stroke(x, 0, x, self._height(), thin, _LINE_INK))
        return [*items, *self._names(row)]

    def _names(self, row: _Row) -> list[Item]:
        """The names of sections over their first bars, each cut where the next one begins."""
        style = self._style
        begin = [
            one
            for before, one in pairwise((None, *row.bars[:-1]))
            if one is not None and (before is None or before.section != one.section)
        ]
        ends = [*(self._x(row, bar.beat) for bar in begin[1:]), style.line_width + style.pt(6)]
        items: list[Item] = []
        for bar, end in zip(begin, ends, strict=True):
            x, name = self._x(row, bar.beat), self._chart.sections[bar.section].name
            room = end - x - style.pt(6)
            short = self._fitter.shortened(name, "strong", style.small, room)
            items.append(
                self._fitter.text(short, x, -style.pt(4), "strong", style.small, role="section")
            )
        return items

    def _sounding(
        self, row: _Row, moments: Sequence[Moment], ink: float, thickness: float
    ) -> list[Item]:
        start, end = row.bars[0].beat, row.bars[-1].beat
        height = min(self._step, self._style.pt(_THICKEST)) * thickness
        gap = self._style.pt(0.8)
        items: list[Item] = []
        for moment in moments:
            begins, ends = max(moment.start, start), min(moment.end, end)
            if ends > begins:
                x, width = self._x(row, begins), self._x(row, ends) - self._x(row, begins) - gap
                items += [
                    _box(x, self._y(pitch) - height / 2, max(gap, width), height, ink)
                    for pitch in moment.pitches
                ]
        return items


def _box(x: float, y: float, width: float, height: float, ink: float) -> Shape:
    return Shape(((x, y), (x + width, y), (x + width, y + height), (x, y + height)), 0.0, ink)
