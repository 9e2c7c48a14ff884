"""Songs whose own shapes ring on the open strings of a tuning, and where they lie in another key.

A riff over a low open D is the reason for the tuning (common practice, no source), so a move to
another key takes it away unless a capo or the tuning moves with it.
"""

from chartkit.advise.requests import instrument_of
from chartkit.arrange.key_areas import sounding_key
from chartkit.chart.model import Chart, GivenShape, SettingRow
from chartkit.diagnostics import Diagnostic
from chartkit.fretboard.instruments import GUITAR
from chartkit.phrases import counted
from chartkit.theory.key import Key
from chartkit.theory.shape_text import shape_text
from chartkit.theory.transposition import semitones_between

_HIGHEST_CAPO = 5
"""The last fret at which a capo still leaves a riff low on the neck (ours)."""
_OCTAVE = 12


def riff_off_open_strings(chart: Chart, tonight: Key | None) -> tuple[Diagnostic, ...]:
    """A warning for a chart whose own shape rings on a retuned string, if the song sounds in
    another key tonight than as it is written; empty for any other.

    The hint names the capo or the tuning with which the shape rings on open strings again.
    """
    if tonight is None:
        return ()
    now = sounding_key(chart)
    up = semitones_between(now, tonight)
    row = _open_shape(chart) if up else None
    if row is None or not isinstance(row.value, GivenShape):
        return ()
    shape = f"{row.value.chord} {shape_text(row.value.frets)}"
    tuning = chart.text("instrument")
    message = f"{shape} rings on the open strings of {tuning}, but not where the song is moved to"
    fret = chart.capo.fret + up
    if fret <= _HIGHEST_CAPO:
        hint = f"it does with a capo at fret {fret} over {tuning}"
    else:
        hint = (
            f"it does with all strings {counted(_OCTAVE - up, 'half step')} lower than {tuning}, "
            "or in the key of the chart"
        )
    return (Diagnostic("riff-off-open-strings", "warning", row.span, message, (hint,)),)


def _open_shape(chart: Chart) -> SettingRow | None:
    """The first of the chart's own shapes that leaves a retuned string open; None for none."""
    tuned, usual = instrument_of(chart).open_pitches, GUITAR.open_pitches
    if len(tuned) != len(usual):
        return None
    retuned = [
        string for string, (one, other) in enumerate(zip(tuned, usual, strict=True)) if one != other
    ]
    for row in chart.shapes():
        frets = row.value.frets if isinstance(row.value, GivenShape) else ()
        if any(string < len(frets) and frets[string] == 0 for string in retuned):
            return row
    return None
