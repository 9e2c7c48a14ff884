"""What ``attributes`` set and what holds from then on: divisions, transposition, key, meter,
styles of measures, the capo."""

from dataclasses import dataclass
from xml.etree.ElementTree import Element

from chartkit.chart.model import LONGEST_REST
from chartkit.interchange.musicxml.attributes import (
    transposition,
    usable_key,
    written_key,
    written_meter,
)
from chartkit.interchange.musicxml.elements import whole_number
from chartkit.interchange.musicxml.events import MeasureDraft
from chartkit.interchange.musicxml.manner import capo_of
from chartkit.interchange.taken import Findings
from chartkit.theory.key import Key


@dataclass(slots=True)
class Holding:
    """What holds from measure to measure.

    ``interval`` and ``semitones`` bring the part to sounding pitch; ``waiting`` is a key that
    came within a measure and is written at the next.  ``rests`` counts the measures of rest
    still to come.
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
        time = attributes.find("time")
        if time is not None:
            self.free = time.find("senza-misura") is not None
            if not self.free:
                draft.meter = written_meter(time, self.findings, place)
        self._styles(attributes)

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

    def _styles(self, attributes: Element) -> None:
        for details in attributes.iterfind("staff-details"):
            self.capo = capo_of(details) or self.capo
        for style in attributes.iterfind("measure-style"):
            repeat, slash = style.find("measure-repeat"), style.find("slash")
            if repeat is not None:
                wanted = whole_number(repeat.text, 1) if repeat.get("type") == "start" else 0
                self.simile = wanted if wanted in (1, 2) else 0
            rests = style.find("multiple-rest")
            if rests is not None:
                self.rests = min(LONGEST_REST, max(0, whole_number(rests.text, 1)))
            if slash is not None:
                self.slashes = slash.get("type") == "start"
