"""The player's own shapes as ``frame`` elements: chord diagrams under the harmonies they belong to.

Source: MusicXML 4.0, ``frame``: strings are counted from the treble side, muted ones have no
note, and ``first-fret`` says where a diagram begins that does not begin at the nut.  Frets are
counted from the capo, as players read them.
"""

from xml.etree.ElementTree import Element, SubElement

from chartkit.chart.model import Chart, GivenShape
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord
from chartkit.theory.note import pitch_class_of
from chartkit.theory.shape_text import Frets

_FRETS_SHOWN = 4
"""How many frets a diagram has at least; common practice, no source."""

ShapeKey = tuple[int, frozenset[str], int]
"""What a shape is played for: the pitch class of its root, its degrees, that of its bass."""


def shapes_by_key(chart: Chart) -> dict[ShapeKey, Frets]:
    """The shapes that a chart gives, the first for each chord."""
    shapes: dict[ShapeKey, Frets] = {}
    for row in chart.shapes():
        if isinstance(row.value, GivenShape):
            shapes.setdefault(_key(row.value.chord, 0), row.value.frets)
    return shapes


def shape_of(chord: Chord, capo: Capo, shapes: dict[ShapeKey, Frets]) -> Frets | None:
    """The shape in which a sounding chord is fingered with a capo; None where none is given."""
    return shapes.get(_key(chord, capo.raised)) if shapes else None


def _key(chord: Chord, raised: int) -> ShapeKey:
    bass = chord.root if chord.bass is None else chord.bass
    root, lowest = pitch_class_of(chord.root), pitch_class_of(bass)
    return (root - raised) % 12, frozenset(chord.quality.degrees), (lowest - raised) % 12


def frame_element(frets: Frets) -> Element:
    """The diagram of a shape."""
    frame = Element("frame")
    pressed = [fret for fret in frets if fret]
    high = max(pressed, default=0) > _FRETS_SHOWN
    first = min(pressed) if high else 1
    shown = max(_FRETS_SHOWN, max(pressed, default=1) - first + 1)
    SubElement(frame, "frame-strings").text = str(len(frets))
    SubElement(frame, "frame-frets").text = str(shown)
    if high:
        SubElement(frame, "first-fret").text = str(first)
    for string, fret in zip(range(len(frets), 0, -1), frets, strict=True):
        if fret is not None:
            note = SubElement(frame, "frame-note")
            SubElement(note, "string").text = str(string)
            SubElement(note, "fret").text = str(fret)
    return frame
