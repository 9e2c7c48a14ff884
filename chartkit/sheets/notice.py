"""A page that says something instead of a song: a broken chart, or a page left blank."""

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Page, Shape
from chartkit.layout.style import Style

_MOST_LINES = 30


def broken_page(title: str, messages: tuple[str, ...], fitter: Fitter, style: Style) -> Page:
    """A page that nobody can overlook, with what is wrong with the song's chart."""
    paper, pt = style.paper, style.pt
    left, right, top = paper.side, paper.width - paper.side, paper.top + pt(24)
    foot = top + pt(46)
    corners = ((left, top), (right, top), (right, foot), (left, foot))
    words = "This song could not be engraved"
    size = fitter.fitting_size(words, "strong", style.title, right - left - pt(20))
    items: list[Item] = [
        Shape(corners),
        fitter.text(words, left + pt(10), top + pt(31), "strong", size, "broken", 0.0),
    ]
    name = fitter.shortened(title, "title", style.title, right - left)
    y = foot + style.title * 1.4
    items.append(fitter.text(name, left, y, "title", style.title, "title"))
    told = (line for message in messages for line in message.splitlines())
    lines = [
        part for line in told for part in fitter.wrapped(line, "plain", style.cue, right - left)
    ]
    for line in lines[:_MOST_LINES]:
        y += style.cue * 1.4
        items.append(fitter.text(line, left, y, "plain", style.cue, "mistake"))
    return Page(paper.width, paper.height, tuple(items))


def blank_page(told: str, fitter: Fitter, style: Style) -> Page:
    """An empty page that says why it is one."""
    paper = style.paper
    shown = fitter.shortened(told, "italic", style.cue, style.line_width)
    x = (paper.width - fitter.width(shown, "italic", style.cue)) / 2
    text = fitter.text(shown, x, paper.height / 2, "italic", style.cue, "blank", 0.6)
    return Page(paper.width, paper.height, (text,))
