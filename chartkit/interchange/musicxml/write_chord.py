"""A struck chord as a ``harmony`` element."""

from xml.etree.ElementTree import Element, SubElement

from chartkit.chart.model import Strike
from chartkit.interchange.musicxml.kinds import kind_and_changes
from chartkit.theory.chord import Chord
from chartkit.theory.note import accidentals_of, letter_of


def child(parent: Element, tag: str, text: object = None, /, **attributes: str) -> Element:
    """A new child element; underscores in attribute names stand for hyphens."""
    plain = {name.replace("_", "-"): value for name, value in attributes.items()}
    element = SubElement(parent, tag, plain)
    if text is not None:
        element.text = str(text)
    return element


def harmony_element(strike: Strike) -> Element:
    """The harmony of a strike.

    An optional chord is of type "alternate"; a new bass under the chord before hides its
    root and kind.  N.C. is the kind "none", with a root that is not shown, as MusicXML 4.0
    asks.
    """
    harmony = Element("harmony")
    if strike.optional:
        harmony.set("type", "alternate")
    if strike.chord is None:
        child(child(harmony, "root"), "root-step", "C", text="")
        child(harmony, "kind", "none", text="N.C.")
    else:
        _write_chord(harmony, strike.chord, strike.bass_only)
    return harmony


def _write_chord(harmony: Element, chord: Chord, bass_only: bool) -> None:
    hidden = {"text": ""} if bass_only else {}
    _write_note(child(harmony, "root"), "root", chord.root, hidden)
    kind, changes = kind_and_changes(chord.quality.degrees)
    child(harmony, "kind", kind, text="" if bass_only else chord.quality.text)
    if chord.bass is not None:
        _write_note(child(harmony, "bass"), "bass", chord.bass, {})
    for change in changes:
        degree = child(harmony, "degree")
        degree.set("print-object", "no")
        child(degree, "degree-value", change.value)
        child(degree, "degree-alter", change.alter)
        child(degree, "degree-type", change.type)


def _write_note(parent: Element, name: str, note: int, attributes: dict[str, str]) -> None:
    SubElement(parent, f"{name}-step", attributes).text = letter_of(note)
    if signs := accidentals_of(note):
        child(parent, f"{name}-alter", signs)
