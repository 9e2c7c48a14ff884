"""The lines around the systems: section headings and the foot line of each page."""

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.boxes import LineAlone, SectionBox
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import FontName, Item, Stroke, Text
from chartkit.layout.gutter import CONTINUED, CONTINUED_SIZE, OVER_BOX
from chartkit.layout.place import SECOND_INK, PlacedSystem
from chartkit.layout.style import Style
from chartkit.layout.top import capo_and_keys, says_key
from chartkit.layout.words_alone import (
    alone_height,
    alone_items,
    at_its_end,
    lines_alone,
    pieces,
)

_UNDER_CUE = 3.0
"""Room between what is said of a section and its words, at scale 1."""
_BESIDE_NUMBER = 6.0
"""Room between the number of a row's first bar and the name of the section, at scale 1."""


def heading(section: SectionBox, fitter: Fitter, style: Style) -> PlacedSystem | None:
    """A section's name, how often it is played, and a hairline to the margin: to the left one where
    the name runs from right to left."""
    if not section.name and section.times == 1:
        return None
    size = style.heading
    times = f"  × {section.times}" if section.times > 1 else ""
    if section.left_out:
        again = f"  music of {section.same_as}" if section.words else f": {section.same_as} again"
        if section.same_as.casefold() == section.name.casefold():
            again = "" if section.words else " again"
        times = fitter.shortened(again + times, "strong", size, style.line_width * 0.5)
    room = max(style.line_width * 0.85 - fitter.width(times, "strong", size), size)
    *lines, end = fitter.wrapped(section.name, "strong", size, room)
    texts = [
        fitter.text(
            line, 0, size * (1 + 1.2 * i), "strong", size, role="heading", source=section.source
        )
        for i, line in enumerate([*lines, end + times])
    ]
    texts = [at_its_end(text, style) for text in texts]
    last = texts[-1]
    y = last.y - size * 0.34
    start, stop = last.x + last.width + style.pt(8), style.line_width
    if last.x > 0:
        start, stop = 0.0, last.x - style.pt(8)
    rule = Stroke(start, y, stop, y, style.pt(0.5), 0.45)
    return PlacedSystem((*texts, rule), last.y + size * 0.3)


def words_again(section: SectionBox, fitter: Fitter, style: Style) -> tuple[PlacedSystem, ...]:
    """What is said of a section whose music is not printed again, and its words, some lines in one
    piece."""
    placed = []
    for one in section.said:
        words = f"Key: {one.text}" if one.kind == "key" else one.text
        font: FontName = "italic" if one.kind == "cue" else "strong"
        shown = fitter.wrapped(words, font, style.cue, style.line_width)
        said = [
            fitter.text(line, 0, style.cue * (1 + 1.35 * i), font, style.cue, role="cue")
            for i, line in enumerate(shown)
        ]
        placed.append(PlacedSystem(tuple(said), style.cue * 1.35 * len(said)))
    sung = [LineAlone(text, 0.0) for text in section.words]
    lines = lines_alone(sung, fitter, style)
    for start, end in pieces(lines, style):
        items = alone_items(lines[start:end], 0.0, fitter, style)
        gap = 0.0 if start else style.pt(_UNDER_CUE) if section.said else None
        placed.append(PlacedSystem(items, alone_height(end - start, style), gap=gap))
    return tuple(placed)


def goes_on_line(name: str, system: PlacedSystem, fitter: Fitter, style: Style) -> Text:
    """The name of a section that has a heading, over the system with which it goes on at the head
    of a later page, in its margin; right of the bar's number where there is one."""
    numbers = [i for i in system.items if isinstance(i, Text) and i.role == "bar-number"]
    first = min(numbers, key=lambda number: number.x, default=None)
    x = 0.0 if first is None else first.x + first.width + style.pt(_BESIDE_NUMBER)
    end = min(
        (i.x - style.pt(_BESIDE_NUMBER) for i in numbers if i.x > x), default=style.line_width
    )
    size = style.heading * CONTINUED_SIZE
    room = end - x - fitter.width(f" {CONTINUED}", "italic", size)
    said = f"{fitter.shortened(name, 'italic', size, room)} {CONTINUED}"
    return fitter.text(said, x, -style.pt(OVER_BOX), "italic", size, role="continued")


def foot_line(
    arrangement: Arrangement, number: int, count: int, y: float, fitter: Fitter, style: Style
) -> list[Item]:
    """Title, capo and keys at the left, the page number at the right."""
    size = style.foot
    page = f"page {number} of {count}"
    width = fitter.width(page, "plain", size)
    room = style.line_width - width - 2 * size
    says = says_key(arrangement) or arrangement.uses_capo or arrangement.counts_bars
    details = f" — {capo_and_keys(arrangement)}" if says else ""
    for_title = room - fitter.width(details, "plain", size)
    title = fitter.shortened(arrangement.title, "plain", size, max(for_title, room / 4))
    left = fitter.shortened(title + details, "plain", size, room)
    return [
        fitter.text(left, 0, y, "plain", size, role="foot", ink=SECOND_INK),
        fitter.text(page, style.line_width - width, y, "plain", size, role="foot", ink=SECOND_INK),
    ]
