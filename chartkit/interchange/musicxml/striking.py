"""The chords of one measure: struck where their symbols stand, in the manner of their notes."""

from dataclasses import dataclass, field, replace
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.events import MeasureDraft, Said, Struck
from chartkit.interchange.musicxml.harmony import hides_root, read_harmony
from chartkit.interchange.musicxml.harmony_context import HarmonyContext
from chartkit.interchange.musicxml.holding import Holding
from chartkit.interchange.musicxml.manner import manner_of
from chartkit.interchange.taken import Findings, SymbolReader


@dataclass(slots=True)
class Striking:
    """Writes chords into the draft of one measure; findings are placed there.

    ``hidden`` takes chord symbols that are not printed.  ``run`` are the chords written at one
    place so far, ``played`` the manners of the notes at each place.
    """

    draft: MeasureDraft
    read_symbol: SymbolReader
    findings: Findings
    hidden: bool
    run: list[int] = field(default_factory=list)
    played: dict[int, set[str]] = field(default_factory=dict)

    @property
    def _place(self) -> str:
        return f"measure {self.draft.number}"

    def strike(self, harmony: Element, onset: int, holding: Holding) -> None:
        """Adds the chord of a symbol that stands at a place in units."""
        if harmony.get("print-object") == "no" and not self.hidden:
            said = " ".join("".join(harmony.itertext()).split())[:30]
            self.findings.leave_out(
                "hidden-chord", f'a chord symbol that is not printed ("{said}")', self._place
            )
            return
        context = HarmonyContext(
            holding.interval, holding.written, self.read_symbol, self.findings, self._place
        )
        read = read_harmony(harmony, context)
        if read is None:
            return
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

    def spread(self, units: int) -> None:
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

    def play(self, note: Element, onset: int) -> None:
        """Hears how a note is played that may stand under a chord."""
        self.played.setdefault(onset, set()).update(manner_of(note))

    def tell_manner(self) -> None:
        """Gives each chord the manner of the note it stands over."""
        for i, struck in enumerate(self.draft.struck):
            manner = self.played.get(struck.onset)
            if manner:
                self.draft.struck[i] = replace(
                    struck, tied="tied" in manner, stopped="stopped" in manner,
                    ringing="ringing" in manner,
                )  # fmt: skip
