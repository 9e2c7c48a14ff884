"""Retuning a guitar for one song to the tuning that its chart names, and strings tuned up."""

from typing import NamedTuple

from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR, KNOWN
from chartkit.theory.note import typographic_name

_FARTHEST = 4
"""The most half steps that a string is tuned; more would need another gauge (ours)."""

TUNED_UP = (
    "A string tuned above its usual pitch can break, an old one sooner: use a lighter set or a "
    "capo instead, keep your face away and wear eye protection."
)
"""What to beware of where a string is tuned up (common practice, and the physics of strings)."""


class SongTuning(NamedTuple):
    """A tuning for one song: its name, and for each string, bass side first, the half steps from
    where the guitar has it, and the note it is tuned to."""

    name: str
    half_steps: tuple[int, ...]
    notes: tuple[str, ...]


def song_tuning(guitar: Instrument, tuning: Instrument) -> SongTuning | None:
    """How a guitar is tuned to another tuning; None if it already has it or cannot.

    All strings higher or lower alike make another instrument, whose parts are played with a
    capo or in other shapes.
    """
    if len(guitar.strings) != len(tuning.strings):
        return None
    steps = tuple(
        there - here for here, there in zip(guitar.open_pitches, tuning.open_pitches, strict=True)
    )
    if len(set(steps)) == 1 or max(map(abs, steps)) > _FARTHEST:
        return None
    notes = tuple(typographic_name(string.pitch.note) for string in tuning.strings)
    named = any(tuning.name == known.name for known in KNOWN)
    return SongTuning(tuning.name if named else " ".join(notes), steps, notes)


def is_guitar(instrument: Instrument) -> bool:
    """Whether it has a six-string guitar's strings, however they are tuned."""
    same_length = instrument.scale_mm == GUITAR.scale_mm
    paired = any(string.paired for string in instrument.strings)
    return same_length and len(instrument.strings) == len(GUITAR.strings) and not paired


def usual_pitches(instrument: Instrument) -> tuple[int, ...]:
    """The pitches the strings are made for: a six-string guitar's are the standard ones."""
    return GUITAR.open_pitches if is_guitar(instrument) else instrument.open_pitches


def is_tuned_up(instrument: Instrument) -> bool:
    """Whether a string lies above the pitch that it is made for."""
    pairs = zip(instrument.open_pitches, usual_pitches(instrument), strict=True)
    return any(there > usual for there, usual in pairs)
