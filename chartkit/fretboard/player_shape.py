"""Checks a player's own shape: does it sound its chord, and can it be fingered?"""

from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.partial_grips import missing_from_part
from chartkit.fretboard.tones import Tones, tones_of
from chartkit.theory.chord import Chord
from chartkit.theory.note import (
    SEMITONE_PLACES,
    note_name,
    pitch_class_of,
    without_double_accidental,
)
from chartkit.theory.shape_text import Frets

MOST_PARTIAL = 4
"""A shape of so many strings or fewer may leave tones out: a second guitar does (common
practice, no source)."""


def shape_problems(instrument: Instrument, chord: Chord, frets: Frets) -> tuple[str, ...]:
    """The reasons why the frets are not a shape of the chord; empty if they are.

    The hand rules do not apply: a player may use the thumb, or a hand of another size.  A shape of
    two to four strings may leave out what ``partial_grips.missing_from_part`` allows.
    """
    problems = neck_problems(instrument, frets)
    return problems or _tone_problems(instrument, chord, frets)


def neck_problems(instrument: Instrument, frets: Frets, capo: int = 0) -> tuple[str, ...]:
    """Why the frets cannot be fingered with the capo at that fret; empty when they can."""
    strings = len(instrument.strings)
    if len(frets) != strings:
        return (f"the shape has {len(frets)} strings and the {instrument.name} has {strings}",)
    highest = max((fret for fret in frets if fret is not None), default=None)
    if highest is None:
        return ("every string is muted",)
    if capo + highest > instrument.frets:
        return (f"there is no fret {capo + highest}: the neck ends at {instrument.frets}",)
    return ()


def why_unusable(
    instrument: Instrument, chord: Chord, frets: Frets, written_for: Instrument = GUITAR
) -> tuple[str, ...]:
    """Why a player's own shape is passed over on this instrument; empty when it is played.

    A shape that can be fingered is the player's choice, even where it sounds other tones. But a
    shape that sounds its chord on ``written_for`` (a guitar in standard tuning by default) and not
    here was written for that instrument, and is passed over.
    """
    problems = shape_problems(instrument, chord, frets)
    if neck_problems(instrument, frets) or not shape_problems(written_for, chord, frets):
        return problems
    return ()


def _tone_problems(instrument: Instrument, chord: Chord, frets: Frets) -> tuple[str, ...]:
    sounding = [
        (string.sounding(fret), place)
        for place, (string, fret) in enumerate(zip(instrument.strings, frets, strict=True))
        if fret is not None
    ]
    tones = tones_of(chord)
    if len(sounding) <= MOST_PARTIAL and len(sounding) < len(frets):
        return tuple(_wrong_notes(chord, tones, sounding, len(frets))) or tuple(
            f"no string sounds {_name(tone, chord)}, which {chord} needs"
            for tone in missing_from_part(chord, [pitch for pitch, _ in sounding])
        )
    return tuple(_wrong_notes(chord, tones, sounding, len(frets))) or tuple(
        _missing(chord, instrument, tones, sounding)
    )


def _wrong_notes(
    chord: Chord, tones: Tones, sounding: list[tuple[int, int]], strings: int
) -> list[str]:
    wanted = chord.pitch_classes | tones.allowed | {tones.bass}
    return [
        f"string {strings - string} sounds {_name(pitch, chord)}, which is not in {chord}"
        for pitch, string in sounding
        if pitch % 12 not in wanted
    ]


def _missing(
    chord: Chord, instrument: Instrument, tones: Tones, sounding: list[tuple[int, int]]
) -> list[str]:
    classes = {pitch % 12 for pitch, _ in sounding}
    problems = [
        f"no string sounds {_name(tone, chord)}, which {chord} needs"
        for tone in sorted(tones.required - classes)
    ]
    lowest = sounding[0][0]
    if instrument.bass_counts and lowest % 12 != tones.bass:
        problems.append(
            f"the lowest string played sounds {_name(lowest, chord)}, and the bass of {chord} "
            f"is {_name(tones.bass, chord)}"
        )
    return problems


def _name(pitch: int, chord: Chord) -> str:
    """A pitch's name as the chord spells it, or the usual one above its root."""
    for place in (*chord.tones, *(() if chord.bass is None else (chord.bass,))):
        if pitch_class_of(place) == pitch % 12:
            return note_name(place)
    above = (pitch - pitch_class_of(chord.root)) % 12
    return note_name(without_double_accidental(chord.root + SEMITONE_PLACES[above]))
