"""How notes and strings say what a chart says of its chords: tied over, stopped, ringing, and
where the capo sits."""

from collections.abc import Iterator
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.elements import note_of, text_of, whole_number
from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN
from chartkit.theory.pitch import Pitch, parse_pitch

OPEN_STRINGS = ("E2", "A2", "D3", "G3", "B3", "E4")
"""Standard guitar tuning, sixth string first; common practice, no source."""


def manner_of(note: Element) -> Iterator[str]:
    """``tied`` for a note tied to the next; for a slash also ``stopped`` (staccato) and
    ``ringing`` (tied to nothing)."""
    if any(tie.get("type") == "start" for tie in note.iterfind("tie")):
        yield "tied"
    if text_of(note, "notehead") == "slash":
        if note.find("notations/articulations/staccato") is not None:
            yield "stopped"
        if any(tied.get("type") == "let-ring" for tied in note.iterfind("notations/tied")):
            yield "ringing"


def capo_of(details: Element) -> int:
    """The capo that staff details tell; below zero for six strings all tuned down alike."""
    capo = whole_number(details.findtext("capo"))
    if 0 < capo <= HIGHEST_CAPO:
        return capo
    strings = sorted(filter(None, (_midi(t) for t in details.iterfind("staff-tuning"))))
    standard = [parse_pitch(name).midi for name in OPEN_STRINGS]
    if len(strings) != len(standard):
        return 0
    shifts = {string - open_string for string, open_string in zip(strings, standard, strict=True)}
    shift = shifts.pop()
    return shift if not shifts and -MOST_TUNED_DOWN <= shift < 0 else 0


def _midi(tuning: Element) -> int | None:
    note = note_of(text_of(tuning, "tuning-step"), tuning.findtext("tuning-alter"))
    octave = whole_number(tuning.findtext("tuning-octave"), -1)
    return None if note is None or not 0 <= octave <= 9 else Pitch(note, octave).midi
