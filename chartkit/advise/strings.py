"""What a capo or another tuning does to the strings: pitch, frequency, tension, cents.

Sources: ISO 16:1975 (A4 = 440 Hz) and equal temperament for frequencies; Mersenne's law
f = (1/2L) √(T/µ) for tension, so that at one length tension goes with the square of the
frequency.  The cents a capo pulls a string sharp follow from its stretch: 600 log2(1 +
ΔT/T) with ΔT/T = (EA/T) (ΔL/L); no published measurement of capos is known to us, so a
range is given, an upper estimate, with what was assumed.
"""

from dataclasses import dataclass
from math import log2

from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.retuning import TUNED_UP, is_guitar, usual_pitches
from chartkit.theory.capo import Capo
from chartkit.theory.note import SEMITONE_PLACES, notes_of_pitch_class
from chartkit.theory.pitch import Pitch, transposed_pitch

REFERENCE_HZ = 440.0
"""A4, ISO 16:1975."""
_A4 = 69

STIFFNESS_TO_TENSION = (288.0, 203.0, 171.0, 127.0, 249.0, 140.0)
"""EA/T from the low E to the high one, for a .012-.053 set at 648 mm and standard pitch,
with E = 200 GPa on the core; core sizes are assumed."""

FLOPPY_BELOW = -2
"""The most half steps that strings can be tuned down before they are floppy (common practice)."""


@dataclass(frozen=True, slots=True)
class CapoAssumptions:
    """How a capo lies and presses; lengths in mm (assumptions)."""

    height_at_first_mm: float = 0.6
    height_a_fret_mm: float = 0.12
    """The string's height over the first fret, and how much it grows with each fret."""
    gentle_push_mm: float = 0.2
    gentle_behind_mm: float = 4.0
    hard_push_mm: float = 0.9
    hard_behind_mm: float = 12.0
    """How far the string is pushed below the crowns, and how far behind the fret."""

    def __str__(self) -> str:
        return (
            f"a .012-.053 set, the string {self.height_at_first_mm} mm over the first fret and "
            f"{self.height_a_fret_mm} mm more with each one, pushed {self.gentle_push_mm} to "
            f"{self.hard_push_mm} mm below the frets, no slip at nut and saddle"
        )


@dataclass(frozen=True, slots=True)
class StringReport:
    """One string: its number from the treble side, its pitches and what was done to it.

    ``tension_change`` is a share of its usual tension, -0.109 for a half step down.
    ``capo_cents`` is the least and most a capo pulls it sharp; None with no capo or where
    the string's make is unknown.
    """

    number: int
    tuned: Pitch
    sounding: Pitch
    frequency_hz: float
    tension_change: float
    capo_cents: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class StringsReport:
    """Every string from the bass side, what was assumed, and what to beware of."""

    strings: tuple[StringReport, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


def frequency_hz(midi: int, reference_hz: float = REFERENCE_HZ) -> float:
    """The frequency of a MIDI number in equal temperament; the reference is the A over middle C
    (440 Hz: ISO 16), which is MIDI number 69."""
    return float(reference_hz * 2.0 ** ((midi - _A4) / 12))


def tension_change(half_steps: float) -> float:
    """The change of tension, as a share of what it is, of a string tuned so many half steps up, or
    down if negative: 0.12 is 12 % more.

    Tension goes with the square of the frequency (Mersenne's laws).
    """
    return float(2.0 ** (half_steps / 6)) - 1


def capo_cents(
    fret: int,
    stiffness_to_tension: float,
    push_mm: float,
    behind_mm: float,
    height_mm: float,
    scale_mm: float = GUITAR.scale_mm,
) -> float:
    """How many cents a capo pulls a string sharp.

    ΔL = h²/2 (1/x + 1/(L-x)) + δ²/2 (1/b + 1/(s-b)): ``height_mm`` h of the string over the
    fret at x, ``push_mm`` δ below the crowns, ``behind_mm`` b behind the fret in a space s.
    """
    place = scale_mm * (1 - 2 ** (-fret / 12))
    space = scale_mm * (2 ** (-(fret - 1) / 12) - 2 ** (-fret / 12))
    behind = min(behind_mm, space / 2)
    stretch = height_mm**2 / 2 * (1 / place + 1 / (scale_mm - place))
    stretch += push_mm**2 / 2 * (1 / behind + 1 / (space - behind))
    return 600 * log2(1 + stiffness_to_tension * stretch / scale_mm)


def report_strings(
    instrument: Instrument = GUITAR,
    option: Capo | None = None,
    reference_hz: float = REFERENCE_HZ,
    assumed: CapoAssumptions | None = None,
) -> StringsReport:
    """The pitch and tension of each string with the option's capo and tuning.

    ``reference_hz`` is the pitch of A4; between 400 and 480, or ValueError.
    """
    if not 400 <= reference_hz <= 480:
        raise ValueError(f"A4 lies between 400 and 480 Hz, not at {reference_hz:g}")
    option, assumed = option or Capo(), assumed or CapoAssumptions()
    reports = tuple(
        _string_report(i, instrument, option, reference_hz, assumed)
        for i in range(len(instrument.strings))
    )
    usual = usual_pitches(instrument)
    lowered = [string.tuned.midi - pitch for string, pitch in zip(reports, usual, strict=True)]
    assumptions = (str(assumed),) if any(report.capo_cents for report in reports) else ()
    return StringsReport(reports, assumptions, _cautions(option, lowered))


def _string_report(
    i: int,
    instrument: Instrument,
    option: Capo,
    reference_hz: float,
    assumed: CapoAssumptions,
) -> StringReport:
    opened = instrument.strings[i].pitch
    number = len(instrument.strings) - i
    fret = option.fret if option.covers(number) else 0
    tuned = _moved(opened, -option.tuned_down)
    sounding = _moved(opened, fret - option.tuned_down)
    from_usual = tuned.midi - usual_pitches(instrument)[i]
    half_steps = from_usual + 12 * log2(reference_hz / REFERENCE_HZ)
    return StringReport(
        number=number,
        tuned=tuned,
        sounding=sounding,
        frequency_hz=frequency_hz(sounding.midi, reference_hz),
        tension_change=tension_change(half_steps),
        capo_cents=_cents_range(i, instrument, fret, from_usual, assumed),
    )


def _moved(pitch: Pitch, half_steps: int) -> Pitch:
    """The pitch moved, spelled as players name it: lowered strings with flats."""
    if half_steps >= 0:
        octaves, within = divmod(half_steps, 12)
        moved = transposed_pitch(pitch, SEMITONE_PLACES[within], within)
        return Pitch(moved.note, moved.octave + octaves)
    note = notes_of_pitch_class(pitch.midi + half_steps, -6, 5)[0]
    return transposed_pitch(pitch, note - pitch.note, half_steps)


def _cents_range(
    string: int, instrument: Instrument, capo: int, from_usual: int, assumed: CapoAssumptions
) -> tuple[float, float] | None:
    if not capo or not is_guitar(instrument):
        return None
    stiffness = STIFFNESS_TO_TENSION[string] / (1 + tension_change(from_usual))
    height = assumed.height_at_first_mm + assumed.height_a_fret_mm * (capo - 1)
    gentle = capo_cents(capo, stiffness, assumed.gentle_push_mm, assumed.gentle_behind_mm, height)
    hard = capo_cents(capo, stiffness, assumed.hard_push_mm, assumed.hard_behind_mm, height)
    return gentle, hard


def _cautions(option: Capo, lowered: list[int]) -> tuple[str, ...]:
    """What to beware of (common practice, and the physics above)."""
    cautions = []
    if option.fret:
        cautions.append(
            "A capo pulls strings sharp, and more if it clamps hard: tune again with the capo on."
        )
    if max(lowered) > 0:
        cautions.append(TUNED_UP)
    if min(lowered) < 0:
        cautions.append("Strings tuned down buzz more and change the relief of the neck.")
    if min(lowered) < FLOPPY_BELOW:
        cautions.append(
            "More than two half steps down, strings are slack: heavier ones work better. Ask a "
            "qualified repairer before you change the tension on a neck for good."
        )
    return tuple(cautions)
