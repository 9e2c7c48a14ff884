"""The one table of what MusicXML has for marks, for the writer and the reader.

A mark without a row, or with less than all three, is written in words in a direction, and read
from there by its printed words.  Source: the MusicXML 4.0 elements ``direction-type``, ``sound``
and ``notations``.
"""

from typing import NamedTuple

from chartkit.chart.marks import MarkKind


class MarkElements(NamedTuple):
    """The element of a ``direction-type`` that draws a mark; the attribute of ``sound`` that
    plays it, with the value that is written; its element among the ``notations`` of a note, as a
    path (``articulations/breath-mark``), with the type that is written, if it has one.  Empty for
    those that MusicXML does not have."""

    sign: str = ""
    sound: str = ""
    sound_value: str = "yes"
    notation: str = ""
    notation_type: str = ""


MARK_ELEMENTS: dict[MarkKind, MarkElements] = {
    "segno": MarkElements(sign="segno", sound="segno", sound_value="segno"),
    "coda": MarkElements(sign="coda", sound="coda", sound_value="coda"),
    "to-coda": MarkElements(sound="tocoda", sound_value="coda"),
    "fine": MarkElements(sound="fine"),
    "D.C.": MarkElements(sound="dacapo"),
    "D.S.": MarkElements(sound="dalsegno", sound_value="segno"),
    "fermata": MarkElements(notation="fermata", notation_type="upright"),
}
SIGN_KINDS = {row.sign: kind for kind, row in MARK_ELEMENTS.items() if row.sign}
"""The mark that each element of a ``direction-type`` or a ``barline`` draws."""
SOUND_KINDS = {row.sound: kind for kind, row in MARK_ELEMENTS.items() if row.sound}
"""The mark that each attribute of ``sound`` plays."""
NOTATION_KINDS = {row.notation: kind for kind, row in MARK_ELEMENTS.items() if row.notation}
"""The mark that each element over a note or a bar line draws, by its path."""
