"""Strings against ISO 16, equal temperament and Mersenne's law."""

from math import sqrt

import pytest

from chartkit.advise.strings import (
    STIFFNESS_TO_TENSION,
    CapoAssumptions,
    capo_cents,
    frequency_hz,
    report_strings,
    tension_change,
)
from chartkit.fretboard.instruments import GUITAR, UKULELE, instrument_named
from chartkit.theory.capo import Capo
from tests.each import each

ISO_16 = {"E2": 82.407, "A2": 110.000, "D3": 146.832, "G3": 195.998, "B3": 246.942, "E4": 329.628}


def test_open_strings_against_iso_16() -> None:
    """With A4 at 440 Hz the open strings have their published frequencies."""
    report = report_strings()
    frequencies = {str(string.sounding): string.frequency_hz for string in report.strings}
    assert frequencies == pytest.approx(ISO_16, abs=0.0006)
    assert [string.number for string in report.strings] == [6, 5, 4, 3, 2, 1]
    assert frequency_hz(69) == 440.0


def test_another_reference_pitch() -> None:
    """Every frequency goes with the reference pitch, and a silly one is refused."""
    low, usual = report_strings(reference_hz=415), report_strings()
    for one, other in zip(low.strings, usual.strings, strict=True):
        assert one.frequency_hz / other.frequency_hz == pytest.approx(415 / 440)
        assert one.tension_change == pytest.approx((415 / 440) ** 2 - 1)
    with pytest.raises(ValueError, match="400 and 480"):
        report_strings(reference_hz=4400)


@each(
    ("half_steps", "change"),
    [(-1, -0.109), (-2, -0.206), (-3, -0.293), (1, 0.122), (2, 0.260), (0, 0.0)],
)
def test_tension_goes_with_the_square_of_the_frequency(half_steps: int, change: float) -> None:
    """Tension follows Mersenne's law f = (1/2L) √(T/µ) at one length and weight."""
    assert tension_change(half_steps) == pytest.approx(change, abs=0.0005)
    length_m, weight = 0.648, 0.00042
    tension = 71.0
    before = sqrt(tension / weight) / (2 * length_m)
    after = sqrt(tension * (1 + tension_change(half_steps)) / weight) / (2 * length_m)
    assert after / before == pytest.approx(2 ** (half_steps / 12))


def test_capo_and_tuning_give_the_sounding_notes() -> None:
    """A half step down with a capo at 3 sounds a whole step above the open strings."""
    report = report_strings(option=Capo(3, 1))
    assert " ".join(str(s.sounding) for s in report.strings) == "F#2 B2 E3 A3 C#4 F#4"
    assert " ".join(str(s.tuned) for s in report.strings) == "Eb2 Ab2 Db3 Gb3 Bb3 Eb4"
    for string in report.strings:
        assert string.tension_change == pytest.approx(2 ** (-2 / 12) - 1)


@each("option", [Capo(c, d) for c in (0, 1, 7, 9) for d in (0, 1, 2)], ids=str)
def test_notes_and_frequencies_agree(option: Capo) -> None:
    """The note that is named is the one whose frequency is given, at every option."""
    for string, opened in zip(report_strings(option=option).strings, ISO_16.values(), strict=True):
        assert string.frequency_hz == pytest.approx(opened * 2 ** (option.raised / 12), rel=1e-5)
        assert frequency_hz(string.sounding.midi) == pytest.approx(string.frequency_hz)


def test_capo_cents_lie_in_the_estimated_range() -> None:
    """A gentle push pulls 1.5 to 6 cents, a middling one 4.5 to 13, a hard one 9 to 28.

    The bands are an estimate from the same physics, not a measurement; the thickest core
    gains least in none of them and the low E most in all.
    """
    assumed = CapoAssumptions()
    for fret in (1, 2, 3, 5):
        height = assumed.height_at_first_mm + assumed.height_a_fret_mm * (fret - 1)
        bands = ((0.2, 4.0, 1.2, 6.0), (0.4, 4.0, 3.5, 16.0), (0.9, 12.0, 9.0, 28.0))
        for push, behind, low, high in bands:
            cents = [capo_cents(fret, k, push, behind, height) for k in STIFFNESS_TO_TENSION]
            assert low <= min(cents) and max(cents) <= high, (fret, push, cents)
            assert cents[0] == max(cents)
            assert min(cents) == cents[3]


def test_harder_and_higher_pulls_sharper() -> None:
    """More push, more height and a stiffer string each pull the pitch further up."""
    base = capo_cents(2, 200, 0.3, 6.0, 0.7)
    assert capo_cents(2, 200, 0.5, 6.0, 0.7) > base
    assert capo_cents(2, 200, 0.3, 6.0, 1.2) > base
    assert capo_cents(2, 280, 0.3, 6.0, 0.7) > base
    assert 0 < base < 20


def test_slack_strings_are_pulled_further() -> None:
    """A lowered string has less tension, so a capo pulls it sharper by more."""
    usual, lowered = report_strings(option=Capo(2)), report_strings(option=Capo(2, 2))
    for one, other in zip(usual.strings, lowered.strings, strict=True):
        assert one.capo_cents is not None and other.capo_cents is not None
        assert other.capo_cents[0] > one.capo_cents[0]
        assert other.capo_cents[1] > one.capo_cents[1]
        assert one.capo_cents[0] < one.capo_cents[1]


def test_no_cents_without_a_capo_or_a_known_set() -> None:
    """Cents are given with a capo on a guitar's strings only, and with what was assumed."""
    assert all(s.capo_cents is None for s in report_strings(option=Capo(0, 1)).strings)
    assert all(s.capo_cents is None for s in report_strings(UKULELE, Capo(2)).strings)
    assert report_strings(UKULELE, Capo(2)).assumptions == ()
    (assumption,) = report_strings(option=Capo(2)).assumptions
    assert ".012-.053" in assumption and "mm" in assumption


def cautions(option: Capo, tuning: str = "guitar") -> str:
    """The cautions of an option as one text."""
    return " ".join(report_strings(instrument_named(tuning), option).cautions)


def test_cautions() -> None:
    """Floppy below two half steps, breaking above pitch, a capo to be tuned with."""
    assert report_strings().cautions == ()
    assert "tune again" in cautions(Capo(2))
    assert "slack" not in cautions(Capo(0, 2)) and "buzz" in cautions(Capo(0, 2))
    assert "slack" in cautions(Capo(0, 3))
    assert "break" in cautions(Capo(), "E2 B2 E3 G#3 B3 E4")
    assert "break" not in cautions(Capo(), "DADGAD")
    assert "buzz" in cautions(Capo(), "DADGAD")


def test_altered_tunings_are_measured_against_the_usual_one() -> None:
    """In drop D only the lowest string is slacker, by a fifth."""
    report = report_strings(instrument_named("drop D"))
    changes = [string.tension_change for string in report.strings]
    assert changes[0] == pytest.approx(-0.206, abs=0.001)
    assert changes[1:] == [0.0] * 5
    assert report_strings(GUITAR).strings[0].tension_change == 0.0
