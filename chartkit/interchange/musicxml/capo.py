"""Reads the capo from staff details, or from words over the first music."""

from collections.abc import Iterable
from xml.etree.ElementTree import Element

from chartkit.interchange.capo_words import capo_in_words, short_capo_of_words
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.musicxml.xml import note_of, text_of, whole_number
from chartkit.interchange.score.events import Part
from chartkit.interchange.wording import one_line
from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN, Capo
from chartkit.theory.pitch import Pitch, parse_pitch

OPEN_STRINGS = ("E2", "A2", "D3", "G3", "B3", "E4")
"""Standard guitar tuning, sixth string first; common practice, no source."""


def capo_of_score(root: Element, parts: Iterable[Part], findings: Findings) -> int | Capo:
    """The capo of the first part that has one in its staff details, else the first in words.

    A number as a chart's setting has it, or a capo over some strings, which only words can say.

    Words are a guess: they do not say whether the chords under them are shapes, and here they
    are what sounds, as everywhere in a score.
    """
    read_parts = tuple(parts)
    sure = next((part.capo for part in read_parts if part.capo), 0)
    if sure:
        for said in dict.fromkeys(part.capo_words for part in read_parts if part.capo_words):
            if capo_in_words(said) != sure:
                findings.leave_out("other-capo", f'the words "{said[:40]}": the staff says {sure}')
        return sure
    words = [part.capo_words for part in read_parts]
    words += [one_line(credit.text) for credit in root.iterfind("credit/credit-words")]
    for said in words:
        if capo := capo_in_words(said) or short_capo_of_words(said) or 0:
            findings.guess(
                "capo-by-words",
                f'the words "{said[:40]}" are taken as the capo, and the chords as what sounds',
            )
            return capo
    return 0


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
