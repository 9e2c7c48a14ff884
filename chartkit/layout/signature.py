"""Time signatures where they change, one number over the other."""

from collections.abc import Sequence
from typing import NamedTuple

from chartkit.arrange.view import LineName
from chartkit.chart.model import Meter
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import FontName, Text
from chartkit.layout.labels import CAPITAL
from chartkit.layout.style import Style

_APART, _FROM_COUNT = 5.0, 9.0
"""Room between a signature and the first chord, and on a road map the first count, at scale 1."""


class SignatureType(NamedTuple):
    """The type of both numbers: its font and size, and the room after them, in points."""

    font: FontName
    size: float
    room: float


def signature_type(lines: Sequence[LineName], style: Style) -> SignatureType:
    """The type for a system with such lines of chords.  On a road map it is a light serif face,
    further from what follows: in the type of the counts "4/4 4" reads as one sign."""
    if "count" in lines:
        return SignatureType("words", style.strong * 0.8, style.pt(_FROM_COUNT))
    return SignatureType(
        "strong", style.strong * (0.92 if len(lines) > 1 else 0.8), style.pt(_APART)
    )


def opening_signature(
    meter: Meter, x: float, baseline: float, middle: float, type_: SignatureType, fitter: Fitter
) -> Text:
    """The same as one text on the line of chords: the head of the page says it in words."""
    upper, lower = signature_items(meter, x, middle, type_, fitter)
    (over,), (under,) = upper.pieces, lower.pieces
    pieces = (
        over._replace(rise=baseline - upper.y),
        under._replace(rise=baseline - lower.y, back=upper.x + upper.width - lower.x),
    )
    width = lower.x + lower.width - upper.x
    return Text(upper.x, baseline, width, pieces, "opening-meter")


def signature_items(
    meter: Meter, x: float, middle: float, type_: SignatureType, fitter: Fitter
) -> list[Text]:
    """Both numbers, centred one over the other in the column from ``x``, around a height."""
    font, size, _ = type_
    half = size * 0.06
    texts = [
        fitter.text(str(meter.count), x, middle - half, font, size, role="meter"),
        fitter.text(str(meter.unit), x, middle + half + size * CAPITAL, font, size, role="meter"),
    ]
    widest = max(text.width for text in texts)
    return [text._replace(x=x + (widest - text.width) / 2) for text in texts]
