"""Pages with a notice instead of a song: a broken chart, or a page left blank."""

import re
from collections.abc import Iterator

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Page, Shape, Stroke
from chartkit.layout.style import Style

_SHOWN = 3
"""The most mistakes that a broken song's page lists: enough to recognise it; nobody corrects charts
at a music stand."""
_MARGIN = re.compile(r" *\d+ \| ?")
_CARET = re.compile(r" *\| *(\^+)")
"""A line of a chart as a message shows it, and the line below that points into it."""


def broken_page(title: str, messages: tuple[str, ...], fitter: Fitter, style: Style) -> Page:
    """A page that cannot be overlooked, with the mistakes in the song's chart."""
    paper, pt = style.paper, style.pt
    left, right, top = paper.side, paper.width - paper.side, paper.top + pt(24)
    foot = top + pt(46)
    corners = ((left, top), (right, top), (right, foot), (left, foot))
    words = "This song could not be engraved"
    size = fitter.fitting_size(words, "strong", style.title, right - left - pt(20))
    items: list[Item] = [
        Shape(corners),
        fitter.text(words, left + pt(10), top + pt(31), "strong", size, role="broken", ink=0.0),
    ]
    name = fitter.shortened(title, "title", style.title, right - left)
    y = foot + style.title * 1.4
    items.append(fitter.text(name, left, y, "title", style.title, role="title"))
    items += _mistakes(messages, y + pt(8), fitter, style)
    return Page(paper.width, paper.height, tuple(items))


def _mistakes(messages: tuple[str, ...], y: float, fitter: Fitter, style: Style) -> Iterator[Item]:
    """What is wrong, message by message below ``y``, as far as the page goes."""
    left, room, step = style.paper.side, style.line_width, style.cue * 1.4
    end = style.paper.height - style.paper.bottom - 4 * style.small - step
    for number, message in enumerate(messages[:_SHOWN]):
        y += style.cue * 0.6
        for line, mark in _lines(message):
            x = left + (style.cue if mark else 0.0)
            parts = [fitter.shortened(line, "plain", style.cue, room - style.cue)]
            if not mark:
                parts = fitter.wrapped(line, "plain", style.cue, room)
            for part in parts:
                y += step
                if y > end:
                    more = f"… and more: {len(messages) - number} of {len(messages)} are left out"
                    yield fitter.text(more, left, y, "italic", style.cue, role="mistake")
                    return
                yield fitter.text(part, x, y, "plain", style.cue, role="mistake")
                if mark:
                    yield _underline(part, mark, x, y, fitter, style)
    if len(messages) > _SHOWN:
        more = f"… and {len(messages) - _SHOWN} more: chartkit check lists them all"
        yield fitter.text(more, left, y + 2 * step, "italic", style.cue, role="mistake")


def _lines(message: str) -> Iterator[tuple[str, tuple[int, int] | None]]:
    """The lines of a message; a line of a chart with the stretch that its caret marks."""
    lines = message.splitlines()
    for i, line in enumerate(lines):
        if _CARET.fullmatch(line):
            continue
        below = _CARET.fullmatch(lines[i + 1]) if i + 1 < len(lines) else None
        margin = _MARGIN.match(line)
        if below is None or margin is None:
            yield line.strip(), None
        else:
            start, end = below.span(1)
            yield line[margin.end() :], (start - margin.end(), end - margin.end())


def _underline(
    line: str, mark: tuple[int, int], x: float, y: float, fitter: Fitter, style: Style
) -> Stroke:
    start, end = (fitter.width(line[:column], "plain", style.cue) for column in mark)
    low = y + style.cue * 0.22
    return Stroke(x + start, low, x + max(end, start + style.cue * 0.4), low, style.pt(1.4))


def blank_page(note: str, fitter: Fitter, style: Style) -> Page:
    """An empty page that says why it is empty."""
    paper = style.paper
    shown = fitter.shortened(note, "italic", style.cue, style.line_width)
    x = (paper.width - fitter.width(shown, "italic", style.cue)) / 2
    text = fitter.text(shown, x, paper.height / 2, "italic", style.cue, role="blank", ink=0.6)
    return Page(paper.width, paper.height, (text,))
