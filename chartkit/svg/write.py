"""Pages of placed items as SVG (SVG 2, W3C).

Each piece of text stands at its measured place and is as wide as it was measured, so that a
browser cannot lay it out anew.  Text stays text: it can be selected, found and read aloud.
Lengths are points, rounded to a hundredth.

No library: a page has six kinds of elements, and a tree of them would take longer to build than
the page.
"""

from collections.abc import Iterator
from html import escape
from itertools import groupby

from chartkit.layout.faces import extra_weight
from chartkit.layout.frames import Dot, Glyph, Item, Page, Shape, Stroke, Text
from chartkit.layout.metrics import Metrics
from chartkit.layout.outlines import outline

_NO_XML = dict.fromkeys((*range(9), 11, 12, *range(14, 32), 65534, 65535), "�")
"""Characters that XML 1.0 (section 2.2) does not allow."""


def page_svg(page: Page, metrics: Metrics, label: str = "", places: bool = True) -> str:
    """The page as one ``svg`` element, for an HTML document that includes
    ``page_style``."""
    return "".join((*page_elements(page, metrics, label, places), "</svg>"))


def page_elements(
    page: Page, metrics: Metrics, label: str = "", places: bool = True
) -> tuple[str, ...]:
    """The page in pieces: its opening tag, its drawings in one group, and each of its texts.

    Every text carries ``data-at``, its start and end in the chart's source, where it has one,
    and ``data-role``; without ``places`` neither.  Drawings come first and are hidden from
    whoever reads the page aloud.
    """
    size = f"{_number(page.width)} {_number(page.height)}"
    drawings = "".join(_drawings(item for item in page.items if not isinstance(item, Text)))
    texts = [item for item in page.items if isinstance(item, Text)]
    spoken = {item.y for item in texts if item.spoken}
    named = f' aria-label="{_escaped(label)}"' if label else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sheet" viewBox="0 0 {size}" '
        f'role="group"{named}>',
        f'<g aria-hidden="true">{drawings}</g>',
        *(_text(item, metrics, places, item.y in spoken) for item in texts),
    )


def _number(value: float) -> str:
    text = f"{value:.2f}"
    if text[-1] != "0":
        return text
    return text[:-3] if text[-2] == "0" else text[:-1]


def _point(x: float, y: float) -> str:
    return f"{_number(x)} {_number(y)}"


def _escaped(text: str) -> str:
    if text.isalnum():
        return text
    return escape(text.translate(_NO_XML).encode("utf-8", "replace").decode(), quote=True)


def _ink(ink: float) -> str:
    """Attributes for an ink: the paper's own colour for 0, else so much of full ink."""
    if ink <= 0:
        return ' class="bare"'
    return "" if ink >= 1 else f' opacity="{_number(ink)}"'


# ---- text
def _text(item: Text, metrics: Metrics, places: bool, spoken: bool) -> str:
    """A text; where its line is ``spoken`` otherwise, only what is said of the line is read."""
    attributes = f' data-role="{_escaped(item.role)}"' if places else ""
    if places and item.source:
        attributes += f' data-at="{item.source.start} {item.source.end}"'
    if spoken:
        said = f' role="img" aria-label="{_escaped(item.spoken)}"'
        attributes += said if item.spoken else ' aria-hidden="true"'
    head = f"<text{attributes}{_ink(item.ink)}>"
    return f"{head}{''.join(_pieces(item, metrics))}</text>"


def _pieces(item: Text, metrics: Metrics) -> Iterator[str]:
    x = item.x
    for i, piece in enumerate(item.pieces):
        x -= piece.back
        width = metrics.width(piece.font, piece.text) * piece.size
        extra = extra_weight(item.pieces, i) * piece.size
        stroke = f' stroke-width="{_number(extra)}"' if extra else ""
        # One letter has nothing to be spread over.
        length = f' textLength="{_number(width)}"' if len(piece.text) > 1 and width > 0 else ""
        yield (
            f'<tspan class="{piece.font}" font-size="{_number(piece.size)}" x="{_number(x)}" '
            f'y="{_number(item.y - piece.rise)}"{length}{stroke}>{_escaped(piece.text)}</tspan>'
        )
        x += width


# ---- drawings
def _drawings(items: Iterator[Item]) -> Iterator[str]:
    """Neighbouring lines of one ink and thickness share a path; what is filled has its own, since
    areas that overlap in one path would leave holes."""
    for (thickness, ink, _), group in groupby(enumerate(items), key=_pen):
        path = "".join(_path(item) for _, item in group)
        line = f' class="line" stroke-width="{_number(thickness)}"' if thickness else ""
        shade = "" if line and ink <= 0 else _ink(ink)
        yield f'<path{line}{shade} d="{path}"/>'


def _pen(numbered: tuple[int, Item]) -> tuple[float, float, int]:
    """The thickness of a line, 0 where an item is filled, the ink, and a number of its own for
    what is filled."""
    number, item = numbered
    thickness = getattr(item, "thickness", 0.0)
    return thickness, item.ink, -1 if thickness else number


def _path(item: Item) -> str:
    match item:
        case Stroke():
            return f"M{_point(item.x0, item.y0)}L{_point(item.x1, item.y1)}"
        case Shape():
            return "M" + "L".join(_point(x, y) for x, y in item.points) + "Z"
        case Dot():
            left, r = _point(item.x - item.radius, item.y), _number(item.radius)
            half = f"a{r} {r} 0 1 0 "
            width = _number(2 * item.radius)
            return f"M{left}{half}{width} 0{half}-{width} 0Z"
        case Glyph():
            return _outline(item)
    return ""


def _outline(item: Glyph) -> str:
    segments, left, low, height = outline(item.name)
    scale = item.height / height
    out = []
    for command, values in segments:
        if command == "h":
            out.append("Z")
            continue
        points = (
            _point(item.x + (x - left) * scale, item.y - (y - low) * scale)
            for x, y in zip(values[::2], values[1::2], strict=True)
        )
        out.append(command.upper() + " ".join(points))
    return "".join(out)
