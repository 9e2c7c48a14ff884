"""Time signatures where they change, one number over the other."""

from chartkit.chart.model import Meter
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Text
from chartkit.layout.labels import CAPITAL
from chartkit.layout.style import Style


def signature_size(lines: int, style: Style) -> float:
    """The size of type of both numbers, for a system with so many lines of chords."""
    return style.strong * (0.92 if lines > 1 else 0.8)


def opening_signature(
    meter: Meter, x: float, baseline: float, middle: float, size: float, fitter: Fitter
) -> Text:
    """The same as one text on the line of chords: the head of the page says it in words."""
    upper, lower = signature_items(meter, x, middle, size, fitter)
    (over,), (under,) = upper.pieces, lower.pieces
    pieces = (
        over._replace(rise=baseline - upper.y),
        under._replace(rise=baseline - lower.y, back=upper.x + upper.width - lower.x),
    )
    width = lower.x + lower.width - upper.x
    return Text(upper.x, baseline, width, pieces, "opening-meter")


def signature_items(
    meter: Meter, x: float, middle: float, size: float, fitter: Fitter
) -> list[Text]:
    """Both numbers, centred one over the other in the column from ``x``, around a height."""
    half = size * 0.06
    texts = [
        fitter.text(str(meter.count), x, middle - half, "strong", size, role="meter"),
        fitter.text(
            str(meter.unit), x, middle + half + size * CAPITAL, "strong", size, role="meter"
        ),
    ]
    widest = max(text.width for text in texts)
    return [text._replace(x=x + (widest - text.width) / 2) for text in texts]
