"""Cues and changes stand close over their own bars, also where other bars of the row have beams.

Beams and signs make a row higher.  A cue above all of that would stand nearer to the row before it,
and be read with that one.
"""

from collections.abc import Sequence

from chartkit.layout.annotate import Annotation
from chartkit.layout.boxes import BarBox
from chartkit.layout.frames import Text

_SIGNS = ("direction", "ending")
"""The roles of texts that belong to the signs of the bars."""


def is_said(annotation: Annotation) -> bool:
    """Whether it is a cue or a change, and not a sign of the bars such as a mark or an ending."""
    return any(isinstance(i, Text) and i.role not in _SIGNS for i in annotation.items)


def with_sinking(
    annotations: Sequence[Annotation], bars: Sequence[BarBox], edges: Sequence[float]
) -> list[Annotation]:
    """The annotations of a row; cues and changes that stand over bars without stems sink to their
    chords.  ``edges`` are the places of the bar lines."""
    return [_sinking(one, bars, edges) if is_said(one) and bars else one for one in annotations]


def _sinking(one: Annotation, bars: Sequence[BarBox], edges: Sequence[float]) -> Annotation:
    under = [
        bar
        for bar, start, end in zip(bars, edges, edges[1:], strict=False)
        if start < one.end and one.start < end
    ]
    stems = any(bar.groups for bar in under)
    return one._replace(sinks=not stems, alone=not any(bar.over.signs for bar in under))
