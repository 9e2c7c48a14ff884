"""The notes of a part as they sound: how long each pitch class, how low and how high."""

from dataclasses import dataclass, field
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.elements import note_of, whole_number
from chartkit.interchange.musicxml.events import Melody
from chartkit.theory.note import pitch_class_of
from chartkit.theory.pitch import Pitch, transposed_pitch

_OCTAVES = range(10)


@dataclass(slots=True)
class Heard:
    """Gathers notes.  A part has few pitches, so each is worked out once."""

    weights: list[int] = field(default_factory=lambda: [0] * 12)
    sung: dict[Pitch, None] = field(default_factory=dict)
    every: dict[Pitch, None] = field(default_factory=dict)
    known: dict[tuple[str | int | None, ...], Pitch | None] = field(default_factory=dict)

    def hear(self, written: Element, units: int, sung: bool, interval: int, semitones: int) -> None:
        """Adds a ``pitch`` element that lasts so many units, moved to where it sounds."""
        step, alter, octave = _texts(written)
        key = (step, alter, octave, interval, semitones)
        if key not in self.known:
            self.known[key] = _sounding(step, alter, octave, interval, semitones)
        sounding = self.known[key]
        if sounding is None:
            return
        self.weights[pitch_class_of(sounding.note)] += units
        if sounding.octave in _OCTAVES:
            self.every[sounding] = None
            if sung:
                self.sung[sounding] = None

    def melody(self) -> Melody:
        """What was heard; the range is that of the sung notes where there are any."""
        pitches = self.sung or self.every
        return Melody(
            tuple(self.weights),
            min(pitches, key=lambda pitch: pitch.midi, default=None),
            max(pitches, key=lambda pitch: pitch.midi, default=None),
            bool(self.sung),
        )


def _texts(written: Element) -> tuple[str, str | None, str | None]:
    step, alter, octave = "", None, None
    for child in written:
        if child.tag == "step":
            step = (child.text or "").strip()
        elif child.tag == "alter":
            alter = child.text
        elif child.tag == "octave":
            octave = child.text
    return step, alter, octave


def _sounding(
    step: str, alter: str | None, octave: str | None, interval: int, semitones: int
) -> Pitch | None:
    """The sounding pitch; None for what is no note."""
    note, height = note_of(step, alter), whole_number(octave, -1)
    if note is None or height not in _OCTAVES:
        return None
    return transposed_pitch(Pitch(note, height), interval, semitones)
