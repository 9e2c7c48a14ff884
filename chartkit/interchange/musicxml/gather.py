"""A part of the score to measures: one walk through its elements, with a clock.

The clock counts units, so that ``backup``, ``forward`` and changing divisions come out in
whole numbers.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import lcm
from xml.etree.ElementTree import Element

from chartkit.chart.model import Mark
from chartkit.interchange.musicxml.attributes import (
    transposition,
    usable_key,
    written_key,
    written_meter,
)
from chartkit.interchange.musicxml.barlines import with_barline
from chartkit.interchange.musicxml.directions import Direction, read_direction, read_sound
from chartkit.interchange.musicxml.elements import note_of, number, text_of, whole_number
from chartkit.interchange.musicxml.events import (
    Measure,
    MeasureDraft,
    Melody,
    Part,
    Said,
    Struck,
)
from chartkit.interchange.musicxml.harmony import HarmonyContext, hides_root, read_harmony
from chartkit.interchange.musicxml.manner import capo_of, manner_of
from chartkit.interchange.musicxml.syllables import Singing
from chartkit.interchange.taken import Findings, SymbolReader
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of
from chartkit.theory.pitch import Pitch, transposed_pitch

_FINEST = 1_000_000
_COARSE = 10_080
"""Units to a quarter note where the score's own divisions have no small common multiple;
divisible by all that music divides a beat into."""
_PLAIN_DIGITS = 10
_LONGEST_UNITS = 10**9


def units_in_quarter(root: Element) -> int:
    """The units to a quarter note in which every duration of the score is whole."""
    units = 8  # so that the beat of every meter, down to 32nds, is whole too
    for divisions in root.iter("divisions"):
        units = lcm(units, max(1, whole_number(divisions.text, 1)))
        if units > _FINEST:
            return 8 * _COARSE
    return units


@dataclass(slots=True)
class _State:
    """What holds from measure to measure."""

    divisions: int = 1
    written: Key = Key(0)
    sounding: Key | None = None
    interval: int = 0
    semitones: int = 0
    free: bool = False
    simile: int = 0
    slashes: bool = False
    capo: int = 0


class Gatherer:
    """Walks through one part.

    ``units`` are those to a quarter note; ``hidden`` takes chord symbols that are not
    printed; ``apart`` are voices whose words are verses of their own.
    """

    def __init__(
        self,
        units: int,
        read_symbol: SymbolReader,
        findings: Findings,
        hidden: bool,
        apart: frozenset[str] = frozenset(),
    ) -> None:
        self.units = units
        self.read_symbol = read_symbol
        self.findings = findings
        self.hidden = hidden
        self.state = _State()
        self.singing = Singing(apart)
        self.weights = [0] * 12
        self.sung_pitches: list[Pitch] = []
        self.all_pitches: list[Pitch] = []
        self.key_waiting: Key | None = None
        self.draft = MeasureDraft("", False)
        self.clock = self.length = self.chord_onset = 0
        self.run: list[int] = []
        self.played: dict[int, set[str]] = {}
        self.steps: dict[str, Callable[[Element], None]] = {
            "note": self._note,
            "harmony": self._harmony,
            "attributes": self._attributes,
            "direction": self._direction,
            "barline": self._barline,
            "backup": self._backup,
            "forward": self._forward,
            "sound": self._sound,
            "print": self._print,
        }

    def part(self, part_id: str, name: str, measures: Sequence[Element]) -> Part:
        """The part with all its measures."""
        found = tuple(self._measure(element) for element in measures)
        if self.key_waiting is not None:
            self.findings.leave_out(
                "key-after-end", f"a change to {self.key_waiting} within the last measure",
                self._place,
            )  # fmt: skip
        pitches = self.sung_pitches or self.all_pitches
        melody = Melody(
            tuple(self.weights),
            min(pitches, key=lambda pitch: pitch.midi, default=None),
            max(pitches, key=lambda pitch: pitch.midi, default=None),
            bool(self.sung_pitches),
        )
        return Part(part_id, name, found, melody, self.state.capo)

    @property
    def _place(self) -> str:
        return f"measure {self.draft.number}"

    def _measure(self, element: Element) -> Measure:
        label = (element.get("number") or "?")[:12]
        self.draft = MeasureDraft(label, element.get("implicit") == "yes", key=self.key_waiting)
        self.key_waiting = None
        self.clock = self.length = self.chord_onset = 0
        self.run, self.played = [], {}
        self.singing.begin_measure()
        for child in element:
            step = self.steps.get(child.tag)
            if step is not None:
                step(child)
        self._spread(0)
        self._tell_manner()
        state = self.state
        return self.draft.finished(self.length, state.free, state.simile, state.slashes)

    # ---- time
    def _units(self, text: str | None) -> int:
        if text is not None and len(text) < _PLAIN_DIGITS and text.isdecimal():
            return min(_LONGEST_UNITS, int(text) * self.units // self.state.divisions)
        length = round(number(text) * self.units / self.state.divisions)
        return max(0, min(_LONGEST_UNITS, length))

    def _advance(self, units: int) -> None:
        self.clock = min(_LONGEST_UNITS, self.clock + units)
        self.length = max(self.length, self.clock)

    def _backup(self, element: Element) -> None:
        self._spread(0)
        self.clock = max(0, self.clock - self._units(element.findtext("duration")))

    def _forward(self, element: Element) -> None:
        units = self._units(element.findtext("duration"))
        self._spread(units)
        self._advance(units)

    def _offset(self, element: Element) -> int:
        """Where an element with an offset stands, in units from the measure's start."""
        text = element.findtext("offset")
        if text is None:
            return self.clock
        shift = round(number(text) * self.units / self.state.divisions)
        return max(0, min(_LONGEST_UNITS, self.clock + shift))

    # ---- notes
    def _note(self, note: Element) -> None:
        parts = {child.tag: child for child in note}
        joins, grace = "chord" in parts, "grace" in parts
        units = 0 if grace or "duration" not in parts else self._units(parts["duration"].text)
        voice = ((parts["voice"].text if "voice" in parts else None) or "1").strip() or "1"
        if not joins:
            if not grace:
                self._spread(units)
            self.chord_onset = self.clock
        if "rest" in parts:
            self.singing.rest(voice)
        if not grace and ("tie" in parts or "notehead" in parts):
            self.played.setdefault(self.chord_onset, set()).update(manner_of(note))
        sings = "lyric" in parts or self.singing.holding
        sung = self.singing.sing(note, voice, self.chord_onset) if sings else []
        self.draft.sung += sung
        if "pitch" in parts:
            self._pitch(parts["pitch"], units, bool(sung))
        if not joins:
            self._advance(units)

    def _pitch(self, pitch: Element, units: int, sung: bool) -> None:
        place = note_of(text_of(pitch, "step"), pitch.findtext("alter"))
        octave = whole_number(pitch.findtext("octave"), -1)
        if place is None or not 0 <= octave <= 9:
            return
        sounding = transposed_pitch(Pitch(place, octave), self.state.interval, self.state.semitones)
        self.weights[pitch_class_of(sounding.note)] += units
        if 0 <= sounding.octave <= 9:
            self.all_pitches.append(sounding)
            if sung:
                self.sung_pitches.append(sounding)

    def _tell_manner(self) -> None:
        """Gives each chord the manner of the note it stands over."""
        for i, struck in enumerate(self.draft.struck):
            manner = self.played.get(struck.onset)
            if manner:
                self.draft.struck[i] = replace(
                    struck, tied="tied" in manner, stopped="stopped" in manner,
                    ringing="ringing" in manner,
                )  # fmt: skip

    # ---- chords
    def _harmony(self, harmony: Element) -> None:
        hidden = harmony.get("print-object") == "no"
        if hidden and not self.hidden:
            said = " ".join("".join(harmony.itertext()).split())[:30]
            self.findings.leave_out(
                "hidden-chord", f'a chord symbol that is not printed ("{said}")', self._place
            )
            return
        context = HarmonyContext(
            self.state.interval, self.state.written, self.read_symbol, self.findings, self._place
        )
        read = read_harmony(harmony, context)
        if read is None:
            return
        onset = self._offset(harmony)
        if harmony.find("offset") is None:
            self.run.append(len(self.draft.struck))
        self.draft.struck.append(
            Struck(
                onset, read.chord, optional=harmony.get("type") == "alternate",
                bass_only=hides_root(harmony),
            )
        )  # fmt: skip
        if read.cue:
            self.draft.said.append(Said(onset, read.cue))

    def _spread(self, units: int) -> None:
        """Spreads chords that were written at one place over the note that follows them."""
        count, run = len(self.run), self.run
        self.run = []
        if count < 2:
            return
        for i, at in enumerate(run):
            struck = self.draft.struck[at]
            self.draft.struck[at] = replace(struck, onset=struck.onset + units * i // count)
        self.findings.guess(
            "chords-spread", f"{count} chords stand over one note: they share its length",
            self._place,
        )  # fmt: skip

    # ---- attributes
    def _attributes(self, attributes: Element) -> None:
        state = self.state
        divisions = attributes.findtext("divisions")
        if divisions is not None:
            state.divisions = max(1, whole_number(divisions, 1))
        transpose = attributes.find("transpose")
        if transpose is not None:
            state.interval, state.semitones = transposition(transpose)
        key = attributes.find("key")
        if key is not None:
            state.written = written_key(key, self.findings, self._place) or state.written
        if key is not None or transpose is not None:
            self._key_holds(key is not None and key.find("fifths") is not None)
        time = attributes.find("time")
        if time is not None:
            state.free = time.find("senza-misura") is not None
            if not state.free:
                self.draft.meter = written_meter(time, self.findings, self._place)
        self._styles(attributes)

    def _key_holds(self, given: bool) -> None:
        state = self.state
        moved = Key(state.written.tonic + state.interval, state.written.mode)
        sounding = usable_key(moved, self.findings, self._place)
        if sounding == state.sounding or not (given or state.sounding is not None):
            return
        state.sounding = sounding
        if self.clock == 0:
            self.draft.key = sounding
        else:
            self.key_waiting = sounding
            self.findings.guess(
                "key-mid-measure",
                f"the key changes to {sounding} within this measure: written at the next",
                self._place,
            )

    def _print(self, element: Element) -> None:
        if "yes" in (element.get("new-system"), element.get("new-page")):
            self.draft.new_row = True

    def _styles(self, attributes: Element) -> None:
        for details in attributes.iterfind("staff-details"):
            self.state.capo = capo_of(details) or self.state.capo
        for style in attributes.iterfind("measure-style"):
            repeat, slash = style.find("measure-repeat"), style.find("slash")
            if repeat is not None:
                wanted = whole_number(repeat.text, 1) if repeat.get("type") == "start" else 0
                self.state.simile = wanted if wanted in (1, 2) else 0
            if slash is not None:
                self.state.slashes = slash.get("type") == "start"

    # ---- directions and bar lines
    def _direction(self, element: Element) -> None:
        self._say(read_direction(element), self._offset(element))

    def _sound(self, element: Element) -> None:
        said = Direction()
        read_sound(element, said)
        self._say(said, self.clock)

    def _say(self, said: Direction, onset: int) -> None:
        draft = self.draft
        for mark in said.marks:
            self._mark(mark)
        if said.no_chord:
            draft.struck.append(Struck(onset, None))
        if said.section or said.named:
            self._name(said)
        if said.tempo is not None:
            self._tempo(said.tempo)
        words = said.words
        if said.tempo is not None and words and onset == 0 and not draft.feel:
            draft.feel, words = " ".join(words), []
        draft.said += [Said(onset, text) for text in words]

    def _tempo(self, quarters: float) -> None:
        if self.draft.tempo is None:
            self.draft.tempo = quarters
        elif abs(self.draft.tempo - quarters) > 1:
            self.findings.leave_out(
                "second-tempo", f"a second tempo in one measure, {quarters:g} quarter notes a "
                "minute", self._place,
            )  # fmt: skip

    def _mark(self, mark: Mark) -> None:
        """Adds a mark once; one that says where it leads takes the place of one that does not."""
        same = [m for m in self.draft.marks if m.kind == mark.kind]
        if not same:
            self.draft.marks.append(mark)
        elif mark.until and not same[0].until:
            self.draft.marks[self.draft.marks.index(same[0])] = mark

    def _name(self, said: Direction) -> None:
        """A rehearsal mark is a section for sure; words that name one are a guess."""
        name = said.section or said.named
        if said.named and not said.section:
            self.findings.guess("section-by-words", f'the words "{name}" begin a section',
                                self._place)  # fmt: skip
            if name.lower() == "coda":
                self._mark(Mark("coda"))
        draft = self.draft
        draft.section = (
            f"{draft.section} {name}".strip() if said.section else (draft.section or name)
        )

    def _barline(self, barline: Element) -> None:
        draft = self.draft
        location = barline.get("location", "right")
        if location == "left":
            draft.left = with_barline(draft.left, barline, True)
        elif location == "middle" and barline.find("repeat") is not None:
            self.findings.leave_out("mid-measure-repeat", "a repeat within a measure", self._place)
        elif location != "middle":
            draft.right = with_barline(draft.right, barline, False)
        for tag, kind in (("segno", "segno"), ("coda", "coda")):
            if barline.find(tag) is not None:
                self._mark(Mark(kind))  # type: ignore[arg-type]
        said = Direction()
        read_sound(barline, said)
        for mark in said.marks:
            self._mark(mark)
