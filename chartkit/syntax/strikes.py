"""The strikes of a bar: chord symbols read, new basses put under the chord before."""

from dataclasses import dataclass, field, replace

from chartkit.chart.model import Meter, Strike
from chartkit.diagnostics import Span
from chartkit.syntax.elements import UNSTRUCK, Element, StrikeText
from chartkit.syntax.holds import hold_without_space
from chartkit.syntax.report import Report
from chartkit.syntax.symbol import NotAChord, read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.note import parse_note


@dataclass(slots=True)
class MusicContext:
    """The facts of the text before a music row that its reader needs.

    ``struck`` says whether anything was struck at all; ``silence`` is what keeps the beat
    before from being held, in words, and empty while a chord sounds.
    """

    meter: Meter = Meter(4, 4)
    chord: Chord | None = None
    bars_before: int = 0
    first_in_section: bool = True
    struck: bool = False
    silence: str = ""

    def begin_section(self) -> None:
        """A section begins: its first row may be a pick-up, and no silence reaches into it."""
        self.first_in_section, self.silence = True, ""


@dataclass(slots=True)
class BarStrikes:
    """The strikes and holds of a bar: strikes, the onsets of holds, of slashes inside beats that
    are split, of rests and of muted strokes."""

    strikes: list[Strike] = field(default_factory=list)
    holds: list[int] = field(default_factory=list)
    slashes: list[int] = field(default_factory=list)
    silences: list[int] = field(default_factory=list)
    mutes: list[int] = field(default_factory=list)

    def goes_on(self, onset: int, end: int, kind: str, split: bool) -> None:
        """Notes a part that strikes no new chord: the chord before it lasts to its end."""
        if self.strikes:
            self.strikes[-1] = replace(self.strikes[-1], length=end - self.strikes[-1].onset)
        if kind != "slash" or split:  # slashes on whole beats follow by themselves
            self._onsets(kind).append(onset)

    def _onsets(self, kind: str) -> list[int]:
        kinds = {"hold": self.holds, "slash": self.slashes, "silence": self.silences}
        return kinds.get(kind, self.mutes)


def bar_strikes(
    slots: list[Element], starts: list[int], context: MusicContext, report: Report
) -> BarStrikes:
    """The strikes and holds of a bar; ``starts`` has each slot's onset in ticks and the bar's
    end."""
    struck = BarStrikes()
    for slot, start, end in zip(slots, starts, starts[1:], strict=False):
        parts: list[StrikeText] = slot.value
        share = (end - start) // len(parts)
        for i, part in enumerate(parts):
            onset = start + i * share
            if part.kind in UNSTRUCK:
                _go_on(part, i, len(parts) > 1, context, report)
                struck.goes_on(onset, onset + share, part.kind, len(parts) > 1)
            else:
                struck.strikes.append(strike_of(part, onset, share, context, report))
    return struck


def _go_on(
    part: StrikeText, number: int, split: bool, context: MusicContext, report: Report
) -> None:
    """Reports a beat that begins with a held silence, once; later holds in it only make a part
    longer.  A slash ends a rest, and inside a beat also a stop."""
    if part.kind in _SILENT_PARTS:
        context.silence = _SILENT_PARTS[part.kind]
        return
    if part.kind == "slash":
        if context.silence in _SILENT_PARTS.values() or (split and context.silence == STOPPED):
            context.silence = ""
        return
    if context.struck and not (context.silence and number == 0):
        return
    if context.struck:
        report.add(
            "nothing-to-hold",
            part.start,
            part.end,
            f"there is nothing to hold: {context.silence}",
            _TO_SOUND[context.silence],
        )
    else:
        report.add(
            "nothing-to-hold",
            part.start,
            part.end,
            "there is no chord before this one to hold",
            'a hold "_" ties over what was struck before it: | C / / F | _ / C / |',
        )
    context.struck, context.silence = True, ""


REST = "the rest before this is silent"
_NO_CHORD = "N.C. before this is silent"
_MUTED = "a muted stroke does not keep sounding"
_SILENT_PARTS = {"silence": REST, "mute": _MUTED}
"""The kind of silence after a part of a bar that strikes no chord."""
STOPPED = 'the chord before this is stopped with "!"'
_TO_SOUND = {
    REST: 'to be silent for longer write another "r"; to play on, a slash or a chord',
    _MUTED: 'mute again with another "x", rest with "r", or play on with a slash or a chord',
    _NO_CHORD: "a slash makes N.C. last longer: | N.C. / F / |",
    STOPPED: 'take out the "!" to let the chord sound; to be silent write "r" or N.C.',
}
"""The silences that may stand before a hold, and what to write instead of the hold."""


def _silence_after(written: StrikeText) -> str:
    if written.kind == "no_chord":
        return _NO_CHORD
    return STOPPED if written.stopped and not written.ringing else ""


def strike_of(
    written: StrikeText, onset: int, length: int, context: MusicContext, report: Report
) -> Strike:
    """One strike; its chord is remembered for a new bass under it."""
    chord: Chord | None = None
    if written.kind == "chord":
        chord = _chord(written, report)
    elif written.kind == "new_bass":
        chord = _over_new_bass(written, context, report)
    if chord is not None:
        context.chord = chord
    context.struck = True
    context.silence = _silence_after(written)
    return Strike(
        chord=chord,
        onset=onset,
        length=length,
        bass_only=written.kind == "new_bass",
        pushed=written.pushed,
        stopped=written.stopped,
        ringing=written.ringing,
        optional=written.optional,
        span=Span(written.start + report.offset, written.end + report.offset),
    )


def _chord(written: StrikeText, report: Report) -> Chord | None:
    symbol = read_symbol(written.text)
    offset = written.symbol_at
    if isinstance(symbol, NotAChord):
        symbol = hold_without_space(written.text) or symbol
        report.add(
            symbol.code, offset + symbol.start, offset + symbol.end, symbol.message, *symbol.hints
        )
        return None
    if written.text.startswith("Do"):
        report.warn(
            "reads-as-diminished",
            offset,
            offset + len(written.text),
            f'"{written.text}" is read as D with a diminished quality, not as a syllable',
            f'write "Ddim" for the diminished chord, "C{written.text[2:]}" for the note do',
        )
    return symbol


def _over_new_bass(written: StrikeText, context: MusicContext, report: Report) -> Chord | None:
    if context.chord is None:
        report.add(
            "bass-without-chord",
            written.start,
            written.end,
            f'"/{written.text}" is a new bass under the chord before, and there is none',
            f'write the whole chord, such as "C/{written.text}"',
        )
        return None
    if context.silence == _NO_CHORD:
        whole = replace(context.chord, bass=parse_note(written.text))
        report.warn(
            "bass-after-silence",
            written.start,
            written.end,
            f'"/{written.text}" is a new bass, but nothing sounds after N.C. to put it under',
            f'write the whole chord, "{whole}"',
        )
    return replace(context.chord, bass=parse_note(written.text))
