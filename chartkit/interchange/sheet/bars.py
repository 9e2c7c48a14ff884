"""Tokens of a chord row to music: bars where bar lines were typed, free time where not."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.chart.model import (
    OPENING_MARKS,
    TICKS_PER_BEAT,
    Bar,
    BarLine,
    Cue,
    Mark,
    Meter,
    MusicRow,
    Strike,
)
from chartkit.interchange.musicxml.directions import Direction, read_words
from chartkit.interchange.sheet.bar_lines import cells_of
from chartkit.interchange.sheet.beats import joined_by_commas, on_beats, shared, slots_of
from chartkit.interchange.sheet.tokens import Played, Token
from chartkit.interchange.taken import Findings
from chartkit.interchange.wording import counted, cue_text
from chartkit.theory.chord import Chord
from chartkit.theory.quality import BY_SPELLING


@dataclass(frozen=True, slots=True)
class ReadRow:
    """A row of music, and under which columns its words stand: one tuple a bar, the first
    column of each being where the bar's words begin."""

    music: MusicRow
    columns: tuple[tuple[int, ...], ...]


@dataclass(slots=True)
class BarReader:
    """Reads rows one after another.  ``chord`` is the last one struck, for new basses."""

    findings: Findings
    meter: Meter = Meter(4, 4)
    chord: Chord | None = None
    bars_before: int = 0
    first_in_section: bool = True

    def row(self, tokens: Sequence[Token], place: str) -> ReadRow:
        """The music of a row; places of findings are where the row stands."""
        if any(token.kind == "bar" for token in tokens):
            read = self._barred(tokens, place)
        else:
            read = self._free(tokens, place)
        self.first_in_section = False
        return read

    # ---- free time
    def _free(self, tokens: Sequence[Token], place: str) -> ReadRow:
        """Chords in order.  Slashes and similes are kept as cues: there is no beat to count."""
        strikes: list[Strike] = []
        cues: list[Cue] = []
        columns: list[int] = []
        marks: list[Mark] = []
        for token in tokens:
            if token.kind in ("chord", "bass", "none"):
                strikes += [self._strike(played, place) for played in token.played]
                columns += [token.column] * len(token.played)
            else:
                self._aside(token, len(strikes), cues, marks, place)
        if not strikes:
            strikes, columns = [Strike(None)], [tokens[0].column]
        bar = Bar(tuple(strikes), cues=tuple(cues), marks=ordered_marks(marks))
        return ReadRow(MusicRow((bar,)), (tuple(columns),))

    def _aside(
        self, token: Token, onset: int, cues: list[Cue], marks: list[Mark], place: str
    ) -> None:
        """A token that is not struck: a mark where its words are one, else a cue."""
        if token.kind == "filler":
            return
        said = Direction()
        if token.kind in ("cue", "word"):
            read_words(token.text.strip("() "), said)
        if said.marks:
            marks += said.marks
            return
        text = token.text[1:-1] if token.text.startswith("(") else token.text
        if text := cue_text(text):
            cues.append(Cue(text, onset))
            if token.kind == "word":
                self.findings.guess("no-chord-known", f'"{text}" among chords is no chord known '
                                    "here: written as a cue", place)  # fmt: skip

    def _strike(self, played: Played, place: str) -> Strike:
        chord, bass_only = played.chord, False
        if played.bass is not None and self.chord is not None:
            chord, bass_only = replace(self.chord, bass=played.bass), True
        elif played.bass is not None:
            self.findings.guess(
                "bass-without-chord", "a bass stands before any chord: it is written as a cue "
                "of its own chord", place,
            )  # fmt: skip
            chord = Chord(played.bass, _POWER)
        self.chord = chord or self.chord
        return Strike(
            chord, 0, 0, bass_only, played.pushed, played.stopped, played.ringing, played.optional
        )

    # ---- bars
    def _barred(self, tokens: Sequence[Token], place: str) -> ReadRow:
        cells, lines = cells_of(tokens)
        bars: list[Bar] = []
        columns: list[tuple[int, ...]] = []
        for (start, inside), line in zip(cells, lines, strict=False):
            bar, own = self._bar(inside, start, line.kind == "none", place)
            bars.append(bar)
            columns.append(own)
            self.bars_before += max(1, bar.simile)
        if not bars:
            return self._free(tokens, place)
        lines[0] = self._first_line(lines[0], place)
        return ReadRow(MusicRow(tuple(bars), tuple(lines)), tuple(columns))

    def _first_line(self, line: BarLine, place: str) -> BarLine:
        """The line that opens a row; a repeat cannot end before it has begun."""
        if line.kind not in ("repeat-end", "repeat-both"):
            return line
        self.findings.leave_out("repeat-end-first", "a repeat that ends where a row begins", place)
        return replace(line, kind="single" if line.kind == "repeat-end" else "repeat-start")

    def _bar(
        self, tokens: Sequence[Token], start: int, unopened: bool, place: str
    ) -> tuple[Bar, tuple[int, ...]]:
        slots = slots_of(tokens)
        beats = self.meter.beats
        pickup = unopened and self.first_in_section and 0 < len(slots) < beats
        similes = [token for token in tokens if token.kind == "simile"]
        if similes and not slots:
            bar = self._simile(similes[0])
        elif pickup:
            bar = on_beats([slot.played for slot in slots], pickup=True)
        else:
            bar = self._counted(slots, place)
        bar = self._with_chords(bar, slots, place)
        bar = self._with_asides(bar, tokens, place)
        struck = [t.column for t in slots for _ in t.played]
        begins_struck = bool(bar.strikes) and bar.strikes[0].onset == 0
        return bar, (start, *(struck[1:] if begins_struck else struck))

    def _simile(self, token: Token) -> Bar:
        count = 2 if token.text == "%%" else 1
        length = self.meter.beats * TICKS_PER_BEAT
        if self.bars_before < count:
            return Bar((), length, True)
        return Bar((), length * count, False, count)

    def _counted(self, slots: Sequence[Token], place: str) -> Bar:
        """The bar with its chords on beats; where they do not fit, shared out as evenly as may
        be, which is a guess."""
        beats = self.meter.beats
        groups = [slot.played for slot in joined_by_commas(list(slots), beats)]
        if not any(groups):
            return Bar((), beats * TICKS_PER_BEAT, True)
        chords = [group for group in groups if group]
        beaten = len(chords) != len(groups) or any(len(group) > 1 for group in chords)
        if len(groups) == beats and (beaten or len(chords) == beats):
            return on_beats(groups, written=beaten)
        if not beaten and beats % len(chords) == 0:
            share = beats // len(chords)
            return on_beats([g for one in chords for g in (one, *[()] * (share - 1))], False)
        self.findings.guess(
            "beats-shared-out", f"what stands in a bar ({counted(len(chords), 'chord')}) does not "
            f"fill {self.meter}: shared out over its beats", place,
        )  # fmt: skip
        groups = shared(chords, beats)
        return on_beats(groups, written=any(len(group) != 1 for group in groups))

    def _with_chords(self, bar: Bar, slots: Sequence[Token], place: str) -> Bar:
        """The bar with its strikes filled in from the tokens, in order."""
        played = [one for slot in slots for one in slot.played]
        strikes = []
        for strike, one in zip(bar.strikes, played, strict=True):
            named = self._strike(one, place)
            strikes.append(replace(named, onset=strike.onset, length=strike.length))
        return replace(bar, strikes=tuple(strikes))

    def _with_asides(self, bar: Bar, tokens: Sequence[Token], place: str) -> Bar:
        """The bar with the cues and marks that stand among its chords."""
        cues: list[Cue] = []
        marks: list[Mark] = []
        slots = (
            range(0, bar.length, TICKS_PER_BEAT)
            if bar.beats_written
            else [strike.onset for strike in bar.strikes]
        )
        starts = [*slots, self.meter.beats * TICKS_PER_BEAT if not bar.pickup else bar.length]
        passed = 0
        for token in tokens:
            if token.kind in ("chord", "bass", "none"):
                passed += 1
            elif token.kind == "beat":
                passed += len(token.text)
            elif token.kind != "simile":
                self._aside(token, starts[min(passed, len(starts) - 1)], cues, marks, place)
        return replace(bar, cues=tuple(cues), marks=ordered_marks(marks))


_LONGEST_MARK = 30
_POWER = BY_SPELLING["5"]


def ordered_marks(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """Marks as a bar has them: those at its start first."""
    return tuple(sorted(marks, key=lambda mark: mark.kind not in OPENING_MARKS))


def marks_of(text: str) -> tuple[Mark, ...]:
    """The marks that a line of words is, such as "D.C. al Fine"; none for any other."""
    if len(text) > _LONGEST_MARK:
        return ()
    said = Direction()
    read_words(text.strip("() "), said)
    return tuple(said.marks)
