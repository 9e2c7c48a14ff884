"""Retuning a guitar for one song to the tuning that its chart names."""

from typing import NamedTuple

from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import KNOWN
from chartkit.theory.note import signed_name

_FARTHEST = 4
"""The most half steps that a string is tuned; more would need another gauge (ours)."""


class Retuned(NamedTuple):
    """A tuning for one song: its name, and for each string, bass side first, the half steps from
    where the guitar has it, and the note it is tuned to."""

    name: str
    half_steps: tuple[int, ...]
    notes: tuple[str, ...]


def retuned(own: Instrument, wanted: Instrument) -> Retuned | None:
    """How a guitar is tuned to another tuning; None if it already has it or cannot.

    All strings higher or lower alike make another instrument, whose parts are played with a
    capo or in other shapes.
    """
    if len(own.strings) != len(wanted.strings):
        return None
    steps = tuple(
        there - here for here, there in zip(own.open_pitches, wanted.open_pitches, strict=True)
    )
    if len(set(steps)) == 1 or max(map(abs, steps)) > _FARTHEST:
        return None
    notes = tuple(signed_name(string.pitch.note) for string in wanted.strings)
    named = any(wanted.name == one.name for one in KNOWN)
    return Retuned(wanted.name if named else " ".join(notes), steps, notes)
