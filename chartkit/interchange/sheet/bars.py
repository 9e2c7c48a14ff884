"""Tokens of a chord row to music: bars where bar lines were typed, free time where not."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.chart.model import (
    OPENING_MARKS,
    TICKS_PER_BEAT,
    Bar,
    BarLine,
    BarLineKind,
    Cue,
    Mark,
    Meter,
    MusicRow,
    Strike,
)
from chartkit.interchange.musicxml.directions import Direction, read_words
from chartkit.interchange.sheet.tokens import Played, Token
from chartkit.interchange.taken import Findings
from chartkit.interchange.wording import cue_text
from chartkit.theory.chord import Chord
from chartkit.theory.quality import BY_SPELLING

_MOST_IN_A_BEAT = 4


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
                self._aside(token, len(strikes), cues, marks)
        if not strikes:
            strikes, columns = [Strike(None)], [tokens[0].column]
        bar = Bar(tuple(strikes), cues=tuple(cues), marks=_ordered(marks))
        return ReadRow(MusicRow((bar,)), (tuple(columns),))

    def _aside(self, token: Token, onset: int, cues: list[Cue], marks: list[Mark]) -> None:
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
        cells, lines = _cells(tokens)
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
        slots = _slots(tokens)
        beats = self.meter.beats
        pickup = unopened and self.first_in_section and 0 < len(slots) < beats
        similes = [token for token in tokens if token.kind == "simile"]
        if similes and not slots:
            bar = self._simile(similes[0])
        elif pickup:
            bar = _on_beats([_group(slot) for slot in slots], pickup=True)
        else:
            bar = self._counted(slots, place)
        bar = self._with_chords(bar, slots, place)
        bar = _with_asides(self, bar, tokens)
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
        groups = [_group(slot) for slot in _joined_by_commas(list(slots), beats)]
        if not any(groups):
            return Bar((), beats * TICKS_PER_BEAT, True)
        chords = [group for group in groups if group]
        beaten = len(chords) != len(groups) or any(len(group) > 1 for group in chords)
        if len(groups) == beats and (beaten or len(chords) == beats):
            return _on_beats(groups, written=beaten)
        if not beaten and beats % len(chords) == 0:
            share = beats // len(chords)
            return _on_beats([g for one in chords for g in (one, *[()] * (share - 1))], False)
        self.findings.guess(
            "beats-shared-out", f"{len(chords)} chords in a bar of {self.meter} are shared out "
            "over its beats", place,
        )  # fmt: skip
        shared = _shared(chords, beats)
        return _on_beats(shared, written=any(len(group) != 1 for group in shared))

    def _with_chords(self, bar: Bar, slots: Sequence[Token], place: str) -> Bar:
        """The bar with its strikes filled in from the tokens, in order."""
        played = [one for slot in slots for one in slot.played]
        strikes = []
        for strike, one in zip(bar.strikes, played, strict=True):
            named = self._strike(one, place)
            strikes.append(replace(named, onset=strike.onset, length=strike.length))
        return replace(bar, strikes=tuple(strikes))


_POWER = BY_SPELLING["5"]
_Group = tuple[Played, ...]


def _slots(tokens: Sequence[Token]) -> list[Token]:
    """The tokens that take a beat or strike a chord; ``///`` takes three."""
    found: list[Token] = []
    for token in tokens:
        if token.kind in ("chord", "bass", "none"):
            found.append(token)
        elif token.kind == "beat":
            found += [token] * len(token.text)
    return found


def _joined_by_commas(slots: list[Token], beats: int) -> list[Token]:
    """The slots with chords that end in a comma joined to the next, as one beat, where that
    gives the beats of the bar."""
    found: list[Token] = []
    for token in slots:
        before = found[-1] if found else None
        if before is not None and before.text.endswith(",") and token.kind != "beat":
            found[-1] = replace(before, text=token.text, played=before.played + token.played)
        else:
            found.append(token)
    return found if len(found) == beats else slots


def _group(token: Token) -> _Group:
    return token.played


def _shared(chords: list[_Group], beats: int) -> list[_Group]:
    """Groups of chords, one for each beat, empty where a chord goes on."""
    flat = [one for group in chords for one in group]
    if len(flat) > beats:
        size, more = divmod(len(flat), beats)
        sizes = [size + (i < more) for i in range(beats)]
        starts = [sum(sizes[:i]) for i in range(beats)]
        return [tuple(flat[a : a + n]) for a, n in zip(starts, sizes, strict=True)]
    size, more = divmod(beats, len(flat))
    return [
        group for i, one in enumerate(flat) for group in ((one,), *[()] * (size + (i < more) - 1))
    ]


def _on_beats(groups: Sequence[_Group], written: bool = True, pickup: bool = False) -> Bar:
    """A bar of groups, one for each beat, with empty strikes to be filled in."""
    onsets = [
        i * TICKS_PER_BEAT + k * TICKS_PER_BEAT // len(group)
        for i, group in enumerate(groups)
        for k in range(len(group))
    ]
    length = len(groups) * TICKS_PER_BEAT
    strikes = tuple(
        Strike(None, at, following - at)
        for at, following in zip(onsets, [*onsets[1:], length], strict=False)
    )
    return Bar(strikes, length, written, 0, pickup)


def _with_asides(reader: BarReader, bar: Bar, tokens: Sequence[Token]) -> Bar:
    """The bar with the cues and marks that stand among its chords."""
    cues: list[Cue] = []
    marks: list[Mark] = []
    slots = (
        range(0, bar.length, TICKS_PER_BEAT)
        if bar.beats_written
        else [strike.onset for strike in bar.strikes]
    )
    starts = [*slots, reader.meter.beats * TICKS_PER_BEAT if not bar.pickup else bar.length]
    passed = 0
    for token in tokens:
        if token.kind in ("chord", "bass", "none"):
            passed += 1
        elif token.kind == "beat":
            passed += len(token.text)
        elif token.kind != "simile":
            reader._aside(token, starts[min(passed, len(starts) - 1)], cues, marks)
    return replace(bar, cues=tuple(cues), marks=_ordered(marks))


def _ordered(marks: list[Mark]) -> tuple[Mark, ...]:
    return tuple(sorted(marks, key=lambda mark: mark.kind not in OPENING_MARKS))


_Cell = tuple[int, list[Token]]


def _cells(tokens: Sequence[Token]) -> tuple[list[_Cell], list[BarLine]]:
    """What stands between bar lines, with the column where it begins, and the lines."""
    cells: list[_Cell] = []
    lines: list[BarLine] = []
    opening: BarLine | None = None
    start, inside = 0, list[Token]()
    for token in tokens:
        if token.kind != "bar":
            inside.append(token)
            continue
        line = _line(token.text)
        if inside or (opening is not None and cells):
            _close(cells, lines, start, inside, opening)
        elif opening is not None:
            cells_needed = line.kind != "repeat-start"
            if cells_needed:
                _close(cells, lines, start, inside, opening)
        opening, start, inside = line, token.end, []
    if any(token.kind in ("chord", "bass", "none", "beat", "simile") for token in inside):
        _close(cells, lines, start, inside, opening)
        opening = BarLine()
    elif inside and cells:
        cells[-1][1].extend(inside)
    return cells, [*lines, opening or BarLine()]


def _close(
    cells: list[_Cell], lines: list[BarLine], start: int, inside: list[Token],
    opening: BarLine | None,
) -> None:  # fmt: skip
    cells.append((start, list(inside)))
    lines.append(opening or BarLine("none"))


def _line(text: str) -> BarLine:
    sign = text.rstrip("0123456789.")
    endings = tuple(int(n) for n in text[len(sign) :].split(".") if n)
    kinds: dict[tuple[bool, bool], BarLineKind] = {
        (True, True): "repeat-both",
        (True, False): "repeat-end",
        (False, True): "repeat-start",
        (False, False): "double" if "||" in sign else "single",
    }
    return BarLine(kinds[sign.startswith(":"), sign.endswith(":")], endings)
