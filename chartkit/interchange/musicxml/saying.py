"""What directions and bar lines say, written into the measure in which they stand."""

from dataclasses import dataclass
from xml.etree.ElementTree import Element

from chartkit.chart.model import Mark, MarkKind
from chartkit.interchange.musicxml.barlines import with_barline
from chartkit.interchange.musicxml.directions import Direction, read_sound
from chartkit.interchange.musicxml.events import MeasureDraft, Said, Struck
from chartkit.interchange.taken import Findings

_SIGNS: tuple[tuple[str, MarkKind], ...] = (("segno", "segno"), ("coda", "coda"))
_SAME_TEMPO = 1.0
"""Quarter notes a minute within which two tempos of a measure are one, rounded twice."""


@dataclass(slots=True)
class Sayings:
    """Writes into the draft of one measure; findings are placed there."""

    draft: MeasureDraft
    findings: Findings

    @property
    def _place(self) -> str:
        return f"measure {self.draft.number}"

    def say(self, said: Direction, onset: int) -> None:
        """Adds what a direction says, at its place in units."""
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
        elif abs(self.draft.tempo - quarters) > _SAME_TEMPO:
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

    def draw(self, barline: Element) -> None:
        """Adds a bar line: its repeat and ending, the signs over it, what it sounds like."""
        draft = self.draft
        location = barline.get("location", "right")
        if location == "left":
            draft.left = with_barline(draft.left, barline, True)
        elif location == "middle" and barline.find("repeat") is not None:
            self.findings.leave_out("mid-measure-repeat", "a repeat within a measure", self._place)
        elif location != "middle":
            draft.right = with_barline(draft.right, barline, False)
        for tag, kind in _SIGNS:
            if barline.find(tag) is not None:
                self._mark(Mark(kind))
        said = Direction()
        read_sound(barline, said)
        for mark in said.marks:
            self._mark(mark)
