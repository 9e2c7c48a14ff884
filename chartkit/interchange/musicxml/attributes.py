"""Reads ``attributes`` elements: keys, meters, transposition and styles, which hold from measure to
measure."""

import re
from dataclasses import dataclass
from fractions import Fraction
from xml.etree.ElementTree import Element

from chartkit.chart.model import LONGEST_REST, Meter
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.musicxml.capo import capo_of
from chartkit.interchange.musicxml.xml import text_of, whole_number
from chartkit.interchange.score.events import MeasureDraft
from chartkit.interchange.wording import one_line
from chartkit.theory.key import MODES, Key, spellings
from chartkit.theory.note import SEMITONE_PLACES, pitch_class_of


@dataclass(slots=True)
class PartState:
    """The state that holds from measure to measure.

    ``capo`` is the one that the song begins with, ``capo_now`` the one that holds.
    ``interval`` and ``semitones`` bring the part to sounding pitch; ``waiting`` is a key that
    came within a measure and is written at the next.  ``rests`` counts the measures of rest
    still to come, ``staves`` the staves of the part.
    """

    findings: Findings
    divisions: int = 1
    written: Key = Key(0)
    sounding: Key | None = None
    waiting: Key | None = None
    interval: int = 0
    semitones: int = 0
    free: bool = False
    simile: int = 0
    slashes: bool = False
    rests: int = 0
    capo: int = 0
    capo_now: int | None = None
    staves: int = 1

    def take(self, attributes: Element, draft: MeasureDraft, at_start: bool) -> None:
        """Takes an ``attributes`` element; what changes is written into the measure's draft."""
        place = f"measure {draft.number}"
        divisions = attributes.findtext("divisions")
        if divisions is not None:
            self.divisions = max(1, whole_number(divisions, 1))
        transpose = attributes.find("transpose")
        if transpose is not None:
            self.interval, self.semitones = transposition(transpose)
        key = attributes.find("key")
        if key is not None:
            self.written = written_key(key, self.findings, place) or self.written
        if key is not None or transpose is not None:
            given = key is not None and key.find("fifths") is not None
            self._key_holds(given, draft, at_start)
        if attributes.find("staves") is not None:
            self.staves = whole_number(attributes.findtext("staves"), 1)
        time = attributes.find("time")
        if time is not None:
            self.free = time.find("senza-misura") is not None
            if not self.free:
                draft.meter = written_meter(time, self.findings, place)
        self._styles(attributes, draft)

    def _capo_holds(self, details: Element, draft: MeasureDraft) -> None:
        """The first capo is the song's; another one later is a move."""
        capo = capo_of(details)
        if self.capo_now is None:
            if capo or details.find("capo") is not None:
                self.capo = self.capo_now = capo
        elif details.find("capo") is not None and 0 <= capo != self.capo_now:
            draft.capo = self.capo_now = capo

    def _key_holds(self, given: bool, draft: MeasureDraft, at_start: bool) -> None:
        place = f"measure {draft.number}"
        moved = Key(self.written.tonic + self.interval, self.written.mode)
        sounding = usable_key(moved, self.findings, place)
        if sounding == self.sounding or not (given or self.sounding is not None):
            return
        self.sounding = sounding
        if at_start:
            draft.key = sounding
        else:
            self.waiting = sounding
            self.findings.guess(
                "key-mid-measure",
                f"the key changes to {sounding} within this measure: written at the next",
                place,
            )

    def _styles(self, attributes: Element, draft: MeasureDraft) -> None:
        for details in attributes.iterfind("staff-details"):
            self._capo_holds(details, draft)
        for style in attributes.iterfind("measure-style"):
            repeat, slash = style.find("measure-repeat"), style.find("slash")
            if repeat is not None:
                wanted = whole_number(repeat.text, 1) if repeat.get("type") == "start" else 0
                self.simile = max(0, wanted)
            rests = style.find("multiple-rest")
            if rests is not None:
                self.rests = min(LONGEST_REST, max(0, whole_number(rests.text, 1)))
            if slash is not None:
                self.slashes = slash.get("type") == "start"


_MOST_SIGNS = 7
_MOST_BEATS = 32
_MOST_DIGITS = 6
"""Digits of a number that are read; far more than any meter has."""
_UNITS = (1, 2, 4, 8, 16, 32)
_MODE_NAMES = {"ionian": "major", "aeolian": "minor", "none": "major", "": "major"}


def written_key(key: Element, findings: Findings, place: str) -> Key | None:
    """The key as written, with any number of signs; None (with a finding) for one that is
    given sign by sign."""
    fifths = key.findtext("fifths")
    if fifths is None:
        findings.leave_out("odd-key", "a key signature that names its signs one by one", place)
        return None
    name = text_of(key, "mode").lower()
    mode = _MODE_NAMES.get(name, name)
    if mode not in MODES:
        findings.guess("odd-mode", f'the mode "{name[:20]}" is taken as major', place)
        mode = "major"
    signs = max(-14, min(14, whole_number(fifths)))
    return Key(signs - MODES[mode], mode)


def usable_key(key: Key, findings: Findings, place: str) -> Key:
    """The key, or with more than seven signs its equal with fewer."""
    if abs(key.signature) <= _MOST_SIGNS:
        return key
    equal = min(spellings(pitch_class_of(key.tonic), key.mode), key=lambda k: abs(k.signature))
    findings.guess(
        "key-respelled", f"a key with {abs(key.signature)} signs is written as {equal}", place
    )
    return equal


def written_meter(time: Element, findings: Findings, place: str) -> Meter | None:
    """The meter; several fractions are added up.  None (with a finding) for no usable one."""
    counts = [child.text or "" for child in time if child.tag == "beats"]
    units = [whole_number(child.text) for child in time if child.tag == "beat-type"]
    if not counts or len(counts) != len(units) or any(unit <= 0 for unit in units):
        findings.leave_out("odd-meter", "a meter without beats", place)
        return None
    total = sum((Fraction(_sum(c), u) for c, u in zip(counts, units, strict=True)), Fraction(0))
    unit = max(units)
    count = total * unit
    if count.denominator != 1 or not 0 < count <= _MOST_BEATS or unit not in _UNITS:
        findings.leave_out("odd-meter", f"a meter of {_as_written(counts, units)}", place)
        return None
    if len(counts) > 1 or "+" in counts[0]:
        findings.guess(
            "meter-added-up", f"a meter of several parts is written as {int(count)}/{unit}", place
        )
    return Meter(int(count), unit)


def _sum(count: str) -> int:
    return sum(int(n[:_MOST_DIGITS]) for n in re.findall(r"\d+", count))


def _as_written(counts: list[str], units: list[int]) -> str:
    """The parts of a meter as the score has them."""
    parts = [f"{one_line(c)[:20]}/{u}" for c, u in zip(counts[:4], units[:4], strict=True)]
    return " + ".join(parts)


def transposition(transpose: Element) -> tuple[int, int]:
    """From written to sounding: the interval's place on the line of fifths, and half steps.

    Source: MusicXML 4.0, ``transpose``: diatonic and chromatic steps from written to
    sounding pitch, octaves apart.  An interval of d letters and c half steps stands at
    7c - 12d on the line of fifths (a fifth, 4 and 7, at 1).  Without diatonic steps the
    usual interval of that size is taken.
    """
    chromatic = max(-60, min(60, whole_number(transpose.findtext("chromatic"))))
    octaves = max(-5, min(5, whole_number(transpose.findtext("octave-change"))))
    semitones = chromatic + 12 * octaves
    diatonic = transpose.findtext("diatonic")
    place = 7 * chromatic - 12 * whole_number(diatonic)
    if diatonic is None or abs(place) > _MOST_SIGNS + 5:
        place = SEMITONE_PLACES[chromatic % 12]
    return place, semitones
