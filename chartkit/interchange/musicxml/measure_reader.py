"""Reads the contents of one measure: its directions and bar lines, its chords, its written
rhythm."""

from dataclasses import dataclass, field, replace
from xml.etree.ElementTree import Element

from chartkit.chart.marks import MARKS, Mark, MarkKind, printed_mark
from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.instructions import Direction
from chartkit.interchange.intake_result import Findings, SymbolReader
from chartkit.interchange.marks_in_words import mark_of
from chartkit.interchange.musicxml.attributes import PartState
from chartkit.interchange.musicxml.chords_at_one_place import instead_of, said_once
from chartkit.interchange.musicxml.directions import read_sound
from chartkit.interchange.musicxml.endings import UNNUMBERED, endings_of, ends_ending
from chartkit.interchange.musicxml.harmony import Known, known_harmony
from chartkit.interchange.musicxml.harmony_values import HarmonyContext
from chartkit.interchange.musicxml.mark_elements import NOTATION_KINDS, SIGN_KINDS
from chartkit.interchange.musicxml.notes import articulations_of
from chartkit.interchange.musicxml.xml import text_of, whole_number
from chartkit.interchange.score.events import (
    NO_EDGE,
    Edge,
    MeasureDraft,
    PlayerInstruction,
    StruckChord,
    Strum,
    StrumSign,
)
from chartkit.interchange.score.feel import without_tempo
from chartkit.interchange.score.heard_tempos import changes_tempo
from chartkit.theory.chord import Chord

_CAESURA = "articulations/caesura"
_HEADS: dict[str, StrumSign] = {"slash": "slash", "x": "mute"}


@dataclass(slots=True)
class Rhythm:
    """Gathers the rhythm of one measure.

    Rests and crosses are those of whoever plays the chords only in a voice that has slashes, or
    where the measure is one of slashes and ``pitched`` notes do not tell another story: a singer
    rests too, and drummers write crosses.
    """

    pitched: bool = False
    _signs: list[tuple[Strum, str]] = field(default_factory=list)

    def strike(self, note: Element, onset: int, voice: str) -> None:
        """Takes a note that has a head of its own kind."""
        sign = _HEADS.get(text_of(note, "notehead"))
        if sign is not None:
            held = any(tie.get("type") == "stop" for tie in note.iterfind("tie"))
            self._signs.append((Strum(onset, held and sign == "slash", sign), voice))

    def rest(self, rest: Element, onset: int, length: int, voice: str) -> None:
        """Takes a rest that is a part of the measure."""
        if length and rest.get("measure") != "yes":
            self._signs.append((Strum(onset, held=False, sign="silence", length=length), voice))

    def strums(self, slashes: bool) -> list[Strum]:
        """The rhythm of the chords; ``slashes`` says that the measure is one of slashes."""
        if not self._signs:
            return []
        with_slashes = {voice for strum, voice in self._signs if strum.sign == "slash"}
        whole = slashes and not self.pitched
        return [
            strum
            for strum, voice in self._signs
            if strum.sign == "slash" or whole or voice in with_slashes
        ]


_DOUBLE = ("light-light", "light-heavy", "heavy-heavy", "heavy-light")
ODD_LINES = ("dashed", "dotted", "heavy", "tick", "short")
"""Styles of single bar lines that a chart does not tell apart."""


def with_barline(edge: Edge, barline: Element, left: bool) -> Edge:
    """The edge with what a bar line adds to it."""
    repeat = barline.find("repeat")
    wanted = "forward" if left else "backward"
    repeats = repeat is not None and repeat.get("direction") == wanted
    times = whole_number(repeat.get("times")) if repeat is not None and repeats else 0
    style = (barline.findtext("bar-style") or "").strip()
    return Edge(
        edge.repeat or repeats,
        max(edge.times, times),
        edge.endings or (endings_of(barline) if left else ()),
        edge.double or style in _DOUBLE,
        edge.closes or (not left and ends_ending(barline)),
    )


def _starts_repeat(barline: Element) -> bool:
    repeat = barline.find("repeat")
    return repeat is not None and repeat.get("direction") == "forward"


_TYPED_MANNER = CompiledLater(
    r"\(?(?:(?P<fermata>hold)|(?P<stopped>stop)|(?P<ringing>(?:let\s+(?:it\s+)?ring|l\.\s?v\.)))[.!]?\)?"
)
"""What is said over one chord: common practice, no source."""


@dataclass(slots=True)
class Harmonies:
    """Writes chords into the draft of one measure; findings are placed there.

    ``hidden`` takes chord symbols that are not printed like others, ``known`` are those read
    before, ``before`` is the last chord of earlier measures.  ``run`` are the chords written at one
    place so far, ``staves`` those of the part over which they may stand, ``played`` the manners of
    the notes at each place.
    """

    draft: MeasureDraft
    read_symbol: SymbolReader
    findings: Findings
    hidden: bool
    known: Known
    before: Chord | None = None
    run: list[int] = field(default_factory=list)
    staves: set[str] = field(default_factory=set)
    played: dict[int, set[str]] = field(default_factory=dict)

    @property
    def _place(self) -> str:
        return f"measure {self.draft.number}"

    def strike(self, harmony: Element, onset: int, state: PartState) -> None:
        """Adds the chord of a symbol that stands at a place in units."""

        def context() -> HarmonyContext:
            before = self.draft.struck[-1].chord if self.draft.struck else self.before
            reading = self.read_symbol, self.findings, self._place
            return HarmonyContext(state.interval, state.written, *reading, before)

        read = known_harmony(harmony, state.interval, self.known, context)
        if read is None:
            return
        if harmony.get("print-object") == "no" and not self.hidden:
            self.draft.hidden.append(StruckChord(onset, read.chord))
            return
        if not whole_number(harmony.findtext("offset")):
            self.run.append(len(self.draft.struck))
            staff = "" if state.staves == 1 else harmony.findtext("staff")
            self.staves |= {"upper", "lower"} if staff is None else {staff}
        self.draft.struck.append(
            StruckChord(
                onset,
                read.chord,
                optional=harmony.get("type") == "alternate",
                bass_only=read.bass_only,
            )
        )
        if read.cue:
            self.draft.instructions.append(PlayerInstruction(onset, read.cue))

    def spread(self, units: int) -> None:
        """Notes that chords written at one place share the length of the note that follows; what
        two staves say alike is one chord."""
        if not self.run:
            return
        run, self.run = self.run, []
        staves, self.staves = self.staves, set()
        if len(run) < 2:
            return
        struck = self.draft.struck
        once = said_once([struck[at] for at in run], len(staves) > 1)
        kept, cues = instead_of(once, self.findings, self._place)
        self.draft.instructions += cues
        over = units if len(kept) > 1 else 0
        self.draft.struck = struck[: run[0]] + [one._replace(over=over) for one in kept]
        if len(kept) > 1:
            self.findings.guess(
                "chords-spread",
                f"{len(kept)} chords stand over one note: they share its length",
                self._place,
            )

    def play(self, note: Element, onset: int) -> None:
        """Notes how a note is played that may stand under a chord."""
        self.played.setdefault(onset, set()).update(articulations_of(note))

    def take_typed_manners(self) -> None:
        """Words over a chord that say how it is played, "(let ring)", become its manner."""
        draft = self.draft
        if not (draft.instructions and draft.struck):
            return
        for said in tuple(draft.instructions):
            match = _TYPED_MANNER.fullmatch(said.text)
            if match is None or not self._strikes(said.onset):
                continue
            draft.instructions.remove(said)
            if match.lastgroup == "fermata":
                draft.marks.append(Mark("fermata", onset=said.onset))
            else:
                self.played.setdefault(said.onset, set()).add(match.lastgroup or "")

    def _strikes(self, onset: int) -> bool:
        return any(one.onset == onset and one.chord is not None for one in self.draft.struck)

    def apply_articulations(self) -> None:
        """Gives each chord the articulation of the note it stands over, or of words over it."""
        for i, struck in enumerate(self.draft.struck if self.played else ()):
            manner = self.played.get(struck.onset)
            if manner:
                self.draft.struck[i] = struck._replace(
                    tied="tied" in manner,
                    stopped="stopped" in manner,
                    ringing="ringing" in manner,
                )


_CODA = CompiledLater(r"coda(?:\s*\d)?")
_AT_THE_END = 1 << 30
"""A place after every chord of a measure."""
_SAME_TEMPO = 1.0
"""Quarter notes a minute within which two tempos of a measure are one, rounded twice."""


@dataclass(slots=True)
class Directions:
    """Writes into the draft of one measure; findings are placed there.  ``over`` is the staff over
    which each of its words stands."""

    draft: MeasureDraft
    findings: Findings
    over: dict[PlayerInstruction, str] = field(default_factory=dict)

    @property
    def _place(self) -> str:
        return f"measure {self.draft.number}"

    def say(self, direction: Direction, onset: int) -> None:
        """Adds what a direction says, at its place in units."""
        draft = self.draft
        for mark in direction.marks:
            self._mark(replace(mark, onset=onset) if mark.place == "beat" else mark)
            if mark.opens_bar and onset:
                draft.late_signs[mark.kind] = onset
        if direction.no_chord:
            draft.struck.append(StruckChord(onset, None))
        if direction.section or direction.named:
            self._name(direction, onset)
        self._say_words(direction, onset)
        draft.feel = draft.feel or direction.feel

    def _say_words(self, direction: Direction, onset: int) -> None:
        """Adds the tempo with the feel that is named beside it, and words to the players; what
        stands over two staves is said once."""
        draft, words, tempo = self.draft, direction.words, direction.tempo
        changes = direction.heard and any(map(changes_tempo, words))
        if tempo is not None and direction.heard and (changes or not words):
            draft.heard.append(tempo)
        elif tempo is not None:
            self._tempo(tempo)
            feel = without_tempo(" ".join(words), tempo)
            if feel and onset == 0 and not draft.feel:
                draft.feel, words = feel, []
        for text in (*words, *direction.signs):
            said = PlayerInstruction(onset, text)
            if self.over.setdefault(said, direction.staff) == direction.staff:
                draft.instructions.append(said)

    def join_signs(self) -> None:
        """Words and signs that only make sense together become the mark that they say: "To" or
        "D.S. al" beside the sign of a coda, "al Fine" after "D.C."."""
        draft = self.draft
        if not draft.marks:
            return
        signs = {mark.kind for mark in draft.marks}
        if "coda" in signs:
            for instruction in draft.instructions:
                whole = mark_of(f"{instruction.text} 𝄌")
                if whole is not None and whole.kind != "coda":
                    draft.instructions.remove(instruction)
                    self._drop("coda")
                    self._mark(whole)
                    return
        if "to-coda" in signs:
            self._drop("coda")  # the sign beside the words: no coda begins where players leave
        jump = next((m for m in draft.marks if MARKS[m.kind].leads_back and not m.until), None)
        if jump is not None:
            self._join_end(jump)

    def _join_end(self, jump: Mark) -> None:
        """Gives a jump the end that is said apart from it."""
        for instruction in self.draft.instructions:
            whole = mark_of(f"{printed_mark(jump)} {instruction.text}")
            if whole is not None and whole.until:
                self.draft.instructions.remove(instruction)
                self._mark(whole)
                return
        if any(mark.kind == "to-coda" for mark in self.draft.marks):  # "al Coda"
            self._drop("to-coda")
            self._mark(replace(jump, until="coda"))

    def _drop(self, kind: MarkKind) -> None:
        self.draft.marks = [mark for mark in self.draft.marks if mark.kind != kind]

    def hold(self, notations: Element, onset: int) -> None:
        """Adds what stops the time among the notations of a note that stands at a place in
        units: a fermata, or a caesura, which is written in words."""
        for tag, kind in NOTATION_KINDS.items():
            if notations.find(tag) is not None:
                self._mark(Mark(kind, onset=onset))
        caesura = PlayerInstruction(onset, "caesura")
        if (
            _CAESURA not in NOTATION_KINDS
            and notations.find(_CAESURA) is not None
            and caesura not in self.draft.instructions
        ):
            self.draft.instructions.append(caesura)

    def _tempo(self, quarters: float) -> None:
        if self.draft.tempo is None:
            self.draft.tempo = quarters
        elif abs(self.draft.tempo - quarters) > _SAME_TEMPO:
            self.findings.leave_out(
                "second-tempo",
                f"a second tempo in one measure, {quarters:g} quarter notes a minute",
                self._place,
            )

    def _mark(self, mark: Mark) -> None:
        """Adds a mark once; one that says where it leads takes the place of one that does not."""
        same = [m for m in self.draft.marks if (m.kind, m.onset) == (mark.kind, mark.onset)]
        if not same:
            self.draft.marks.append(mark)
        elif mark.until and not same[0].until:
            self.draft.marks[self.draft.marks.index(same[0])] = mark

    def _name(self, direction: Direction, onset: int) -> None:
        """A rehearsal mark is a section for sure; words that name one are a guess."""
        name = direction.section or direction.named
        if direction.named and not direction.section:
            self.findings.guess(
                "section-by-words", f'the words "{name}" begin a section', self._place
            )
            if _CODA.fullmatch(name):
                self._mark(Mark("coda"))
                if onset:
                    self.draft.late_signs["coda"] = onset
        draft = self.draft
        if name.lower() in f"{draft.section} {draft.late_section}".lower().split():
            return
        if onset:
            draft.late_section_at = onset
            draft.late_section = f"{draft.late_section} {name}".strip()
        else:
            draft.section = f"{draft.section} {name}".strip()

    def draw(self, barline: Element, onset: int) -> None:
        """Adds a bar line that stands at a place in units: its repeat and ending, the signs over
        it, what it sounds like."""
        draft = self.draft
        location = barline.get("location", "right")
        if location == "left":
            draft.left = with_barline(draft.left, barline, left=True)
            draft.before = with_barline(NO_EDGE, barline, left=False)
            if draft.before.repeat:
                draft.left = draft.left._replace(double=False)
        elif location != "middle":
            double = draft.right.double
            draft.right = with_barline(draft.right, barline, left=False)
            draft.endings_next = draft.endings_next or endings_of(barline)
            if _starts_repeat(barline):
                draft.repeats_next = True
                draft.right = draft.right._replace(double=double)
        elif barline.find("repeat") is not None:
            left = with_barline(NO_EDGE, barline, left=True)
            left = left._replace(endings=(1,)) if left.endings == UNNUMBERED else left
            left = left if left.repeat else left._replace(double=False)
            draft.cuts.append((onset, with_barline(NO_EDGE, barline, left=False), left))
        for tag, kind in SIGN_KINDS.items():
            if barline.find(tag) is not None:
                self._mark(Mark(kind))
                if location == "right":
                    draft.late_signs[kind] = _AT_THE_END
        for tag, kind in NOTATION_KINDS.items():
            if barline.find(tag) is not None and location != "left":
                self._mark(Mark(kind, onset=_AT_THE_END))
        direction = Direction()
        read_sound(barline, direction)
        for mark in direction.marks:
            self._mark(mark)
