"""A part of the score to measures: one walk through its elements, with a clock.

The clock counts units, so that ``backup``, ``forward`` and changing divisions come out in
whole numbers.
"""

from collections.abc import Callable, Iterable, Sequence
from math import lcm
from xml.etree.ElementTree import Element

from chartkit.interchange.capo_words import capo_in_words, short_capo_of_words
from chartkit.interchange.instructions import Direction
from chartkit.interchange.intake_result import Findings, SymbolReader
from chartkit.interchange.musicxml.attributes import PartState
from chartkit.interchange.musicxml.directions import read_direction, read_sound
from chartkit.interchange.musicxml.drawn_early import put_on_notes
from chartkit.interchange.musicxml.endings import Endings
from chartkit.interchange.musicxml.given_diagrams import GivenDiagrams
from chartkit.interchange.musicxml.harmony import Known
from chartkit.interchange.musicxml.hidden_words import HiddenWords, hides_words
from chartkit.interchange.musicxml.measure_reader import (
    ODD_LINES,
    Directions,
    Harmonies,
    Rhythm,
)
from chartkit.interchange.musicxml.next_measure import (
    NOTHING,
    carried_from,
    with_codas_to_leave,
    with_early_chords,
)
from chartkit.interchange.musicxml.notes import LyricReader, Pitches
from chartkit.interchange.musicxml.xml import number, text_of, whole_number
from chartkit.interchange.score.events import (
    MOST_SIMILE,
    REST_OF_MEASURE,
    Measure,
    MeasureDraft,
    Melody,
    Part,
    split_measure,
)
from chartkit.interchange.wording import counted
from chartkit.theory.chord import Chord

_FINEST = 1_000_000
_COARSE = 10_080
"""Units to a quarter note where the score's own divisions have no small common multiple;
divisible by all that music divides a beat into."""
_PLAIN_DIGITS = 10
_LONGEST_UNITS = 10**9


def units_in_quarter(every: Iterable[Element]) -> int:
    """The units to a quarter note in which every duration of the score is whole, by ``every``
    element of attributes in it."""
    units = 8  # so that the beat of every meter, down to 32nds, is whole too
    for attributes in every:
        divisions = attributes.findtext("divisions")
        if divisions is not None:
            units = lcm(units, max(1, whole_number(divisions, 1)))
        if units > _FINEST:
            return 8 * _COARSE
    return units


def _with_rest(measure: Measure, draft: MeasureDraft, melody: Melody) -> Measure:
    """The measure as one of rest where it holds a rest alone and that is one for the whole band:
    the rests of a part with a melody are the singer's, the chords go on."""
    silent = melody.lowest is None and not (measure.struck or measure.rests or measure.free)
    return measure._replace(rests=1) if draft.whole_rest and silent else measure


class PartReader:
    """Walks through one part.

    ``units`` are those to a quarter note; ``hidden`` takes chord symbols that are not
    printed; ``apart`` are voices whose words are verses of their own.  In a score that is ``ours``
    words mean nothing but what they say.
    """

    def __init__(
        self,
        units: int,
        read_symbol: SymbolReader,
        findings: Findings,
        hidden: bool,
        apart: frozenset[str] = frozenset(),
        ours: bool = False,
    ) -> None:
        self.units, self.ours = units, ours
        self.read_symbol = read_symbol
        self.findings = findings
        self.hidden = hidden
        self.state = PartState(findings)
        self.known: Known = {}
        self.lengths: dict[tuple[str | None, int], int] = {}
        self.singing = LyricReader(apart, ours=ours)
        self.pitches = Pitches()
        self.begun, self.capo_words = False, ""
        self.hidden_words = HiddenWords(())
        self.finished: list[Measure] = []
        self.odd_lines: set[str] = set()
        self.has_figures = False
        self.carried = NOTHING
        self.diagrams = GivenDiagrams()
        self.last_chord: Chord | None = None
        self._open(MeasureDraft("", implicit=False))
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
            "figured-bass": self._figures,
        }

    def part(self, part_id: str, name: str, measures: Sequence[Element]) -> Part:
        """The part with all its measures."""
        end = len(measures)
        self.hidden_words = HiddenWords(measures)
        drafts = [(self._measure(one, i == end), self.draft) for i, one in enumerate(measures, 1)]
        drafts = drafts if self.ours else with_codas_to_leave(drafts, self.findings)
        melody = self.pitches.melody()
        pieces: list[Measure] = []
        endings = Endings()
        for measure, draft in drafts:
            before, measure = endings.read(pieces[-1] if pieces else None, measure)
            if before is not None:
                pieces[-1] = before
            if measure.struck and measure.struck[0].onset < 0 and pieces:
                pieces[-1], measure = with_early_chords(pieces[-1], measure)
            if draft.before.repeat and pieces:
                last = pieces[-1]
                right = last.right._replace(repeat=True, times=draft.before.times)
                pieces[-1] = last._replace(right=right)
            if draft.cuts or draft.whole_rest:
                pieces += split_measure(_with_rest(measure, draft, melody), draft.cuts)
            else:
                pieces.append(measure)
        self._report_end(name)
        now = self.state
        return Part(
            id=part_id,
            name=name,
            measures=tuple(pieces),
            melody=melody,
            capo=now.capo,
            capo_words=self.capo_words,
            interval=now.interval,
            shapes=self.diagrams.shapes(self.findings),
        )

    def _report_end(self, name: str) -> None:
        """Reports a key that comes too late, words that are hidden, and a part that is not written
        as it sounds."""
        waiting = self.state.waiting
        if waiting is not None:
            self.findings.leave_out(
                "key-after-end", f"a change to {waiting} within the last measure", self._place
            )
        self.hidden_words.report(self.findings)
        now = self.state
        if now.semitones % 12:
            self.findings.guess(
                "transposed",
                f'the part "{name}" is written {counted(abs(now.semitones), "half step")} '
                f"{'lower' if now.semitones > 0 else 'higher'} than it sounds: key and chords are "
                "written as they sound",
            )

    def _open(self, draft: MeasureDraft) -> None:
        """Begins a measure: the clock stands at its start, nothing is struck in it yet."""
        self.draft = draft
        self.directions = Directions(draft, self.findings)
        self.clock = self.length = self.chord_onset = 0
        self.harmonies = Harmonies(
            draft=draft,
            read_symbol=self.read_symbol,
            findings=self.findings,
            hidden=self.hidden,
            known=self.known,
            before=self.last_chord,
        )
        self.rhythm = Rhythm()

    @property
    def _place(self) -> str:
        return f"measure {self.draft.number}"

    def _measure(self, element: Element, is_last: bool) -> Measure:
        label = (element.get("number") or "?")[:12]
        implicit = element.get("implicit") == "yes"
        self._open(MeasureDraft(label, implicit, key=self.state.waiting))
        self.state.waiting = None
        if self.carried is not NOTHING:
            self.carried.give(self.draft)
        self.singing.begin_measure()
        for child in element:
            step = self.steps.get(child.tag)
            if step is not None:
                step(child)
        self.harmonies.spread(REST_OF_MEASURE)
        if not self.ours and any(one.onset % self.units for one in self.draft.struck):
            put_on_notes(self.draft, element, self.units, self._units, self.findings)
        if self.draft.struck:
            self.begun, self.last_chord = True, self.draft.struck[-1].chord
        if not self.ours:
            self.harmonies.take_typed_manners()
            self.directions.join_signs()
        self.harmonies.apply_articulations()
        self.carried = carried_from(self.draft, self.length, is_last)
        if self.draft.late_section and not self.carried.section:
            told = (
                f'"{self.draft.late_section}" stands within a measure: the section begins with it'
            )
            self.findings.guess("section-within-measure", told, self._place)
        self.draft.strums = self.rhythm.strums(self.state.slashes and self.ours)
        now = self.state
        rests = 0 if self.draft.struck else now.rests
        now.rests = max(0, rests - 1)
        simile = now.simile if now.simile <= MOST_SIMILE else 0
        measure = self.draft.finished(self.length, now.free, simile, now.slashes, rests)
        measure = measure if now.simile == simile else self._again(measure, now.simile)
        self.finished.append(measure)
        return measure

    def _again(self, measure: Measure, back: int) -> Measure:
        """A measure that stands for the one so many before it, more than a chart has a sign for:
        its chords and its rhythm are written out."""
        if measure.struck:
            return measure
        if back > len(self.finished):
            self.findings.leave_out(
                "repeat-of-nothing",
                f"{back} measures are to be repeated before there are any",
                self._place,
            )
            return measure
        self.draft.whole_rest = False
        earlier = self.finished[-back]
        return measure._replace(
            struck=earlier.struck,
            strums=earlier.strums,
            simile=earlier.simile,
            slashes=earlier.slashes,
            rests=earlier.rests,
        )

    # ---- time
    def _units(self, text: str | None) -> int:
        divisions = self.state.divisions
        known = self.lengths.get((text, divisions))
        if known is None:
            known = self.lengths[text, divisions] = self._length(text, divisions)
        return known

    def _length(self, text: str | None, divisions: int) -> int:
        """The units of a duration that is written in divisions of a quarter note."""
        if text is not None and len(text) < _PLAIN_DIGITS and text.isdecimal():
            return min(_LONGEST_UNITS, int(text) * self.units // divisions)
        return max(0, min(_LONGEST_UNITS, round(number(text) * self.units / divisions)))

    def _advance(self, units: int) -> None:
        self.clock = min(_LONGEST_UNITS, self.clock + units)
        if self.clock > self.length:
            self.length = self.clock

    def _backup(self, element: Element) -> None:
        self.harmonies.spread(0)
        self.clock = max(0, self.clock - self._units(element.findtext("duration")))

    def _forward(self, element: Element) -> None:
        units = self._units(element.findtext("duration"))
        self.harmonies.spread(units)
        self._advance(units)

    def _offset(self, element: Element, reach: int = 0) -> int:
        """Where an element with an offset stands, in units from the measure's start; before it
        where it may ``reach`` that far, and no less than an eighth note: what stands nearer is only
        drawn there (ours)."""
        text = element.findtext("offset")
        if text is None:
            return self.clock
        shift = round(number(text) * self.units / self.state.divisions)
        onset = min(_LONGEST_UNITS, self.clock + shift)
        return onset if -reach <= onset <= -self.units // 2 else max(0, onset)

    # ---- notes
    def _note(self, note: Element) -> None:
        parts = {child.tag: child for child in note}
        joins, grace = "chord" in parts, "grace" in parts
        units = 0 if grace or "duration" not in parts else self._units(parts["duration"].text)
        voice = ((parts["voice"].text if "voice" in parts else None) or "1").strip() or "1"
        if not joins:
            if not grace and self.harmonies.run:
                self.harmonies.spread(units)
            self.chord_onset = self.clock
        if "rest" in parts:
            self._rest(parts["rest"], units, voice)
        elif "notehead" in parts and not joins:
            self.rhythm.strike(note, self.clock, voice)
        if "notations" in parts and not grace:
            self.directions.hold(parts["notations"], self.chord_onset)
        if not grace and ("tie" in parts or "notehead" in parts):
            self.harmonies.play(note, self.chord_onset)
        lyrics = note.findall("lyric") if "lyric" in parts else []
        if lyrics and hides_words(note, lyrics):
            lyrics = self.hidden_words.printed(note, lyrics, self._place)
        sings = lyrics or self.singing.held
        sung = self.singing.sing(lyrics, joins, voice, self.chord_onset) if sings else []
        self.draft.sung += sung
        if "pitch" in parts:
            self._pitch(parts["pitch"], units, bool(sung))
        if not joins:
            self._advance(units)

    def _rest(self, rest: Element, units: int, voice: str) -> None:
        self.rhythm.rest(rest, self.clock, units, voice)
        if not self.state.slashes:
            self.singing.rest(voice)
        self.draft.whole_rest |= rest.get("measure") == "yes"

    def _pitch(self, pitch: Element, units: int, sung: bool) -> None:
        if self.draft.first_note is None or self.clock < self.draft.first_note:
            self.draft.first_note = self.clock
        self.rhythm.pitched = True
        self.pitches.add(pitch, units, sung, self.state.interval, self.state.semitones)

    # ---- chords
    def _harmony(self, harmony: Element) -> None:
        reach = self.finished[-1].length if self.finished else 0
        before = len(self.draft.struck)
        self.harmonies.strike(harmony, self._offset(harmony, reach), self.state)
        frame = None if self.ours else harmony.find("frame")
        if frame is not None and len(self.draft.struck) > before:
            self.diagrams.take(frame, self.draft.struck[-1].chord)

    # ---- what holds and what is said
    def _attributes(self, attributes: Element) -> None:
        self.state.take(attributes, self.draft, self.clock == 0)

    def _figures(self, _: Element) -> None:
        if not self.has_figures:
            self.has_figures = True
            self.findings.leave_out("figured-bass", "the figures of a figured bass", self._place)

    def _print(self, element: Element) -> None:
        if "yes" in (element.get("new-system"), element.get("new-page")):
            self.draft.new_row = True

    def _direction(self, element: Element) -> None:
        said = read_direction(element, self.ours)
        if not self.begun and not self.draft.struck and not self.capo_words:
            self._take_capo(said)
        self.directions.say(said, self._offset(element))

    def _take_capo(self, said: Direction) -> None:
        """Words about the capo, where they stand before the first chord."""
        about = (
            text
            for text in said.words
            if short_capo_of_words(text) or (not self.ours and capo_in_words(text))
        )
        self.capo_words = next(about, "")
        said.words = [text for text in said.words if text != self.capo_words]

    def _sound(self, element: Element) -> None:
        said = Direction()
        read_sound(element, said)
        self.directions.say(said, self.clock)

    def _barline(self, barline: Element) -> None:
        self.directions.draw(barline, self.clock)
        style = text_of(barline, "bar-style")
        if style in ODD_LINES and style not in self.odd_lines:
            self.odd_lines.add(style)
            self.findings.leave_out(
                "plain-bar-line", f"{style} bar lines are written as single ones", self._place
            )
