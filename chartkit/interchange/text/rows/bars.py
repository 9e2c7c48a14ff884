"""From the tokens of a chord row to music: bars if bar lines were typed, else free time."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, Meter, MusicRow, Strike
from chartkit.interchange.held_rests import Silence, silence_after, without_held_silence
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.rows.beats import (
    MOST_IN_A_BEAT,
    Cell,
    Group,
    Slot,
    cells_of,
    crowded,
    fitted,
    is_counted,
    joined_by_commas,
    on_beats,
    repeat_times,
    shared,
    slots_of,
    takes_pick_up,
    with_dashes_as_beats,
    with_nothing_held,
)
from chartkit.interchange.text.rows.counted_tokens import (
    with_count_last,
    with_counted_bars,
    with_counts_written_out,
)
from chartkit.interchange.text.rows.cues import Asides, with_asides
from chartkit.interchange.text.rows.read_rows import KeptRows, ReadRow
from chartkit.interchange.text.tokens import STRUCK, Played, Token, strikes
from chartkit.interchange.text.vocabulary.facts import meter_of
from chartkit.interchange.text.vocabulary.rests import rest_of
from chartkit.interchange.text.vocabulary.times_played import times_of
from chartkit.interchange.wording import counted
from chartkit.theory.chord import Chord
from chartkit.theory.quality import BY_SPELLING


@dataclass(slots=True)
class BarReader:
    """Reads rows one after another.  ``chord`` is the last one struck, for new basses;
    ``struck`` says whether there is anything yet that could be held."""

    findings: Findings
    meter: Meter = Meter(4, 4)
    beats_are_counted: bool = False
    """Whether the sheet gives its meter, or signs behind its chords show it."""
    dashes_are_beats: bool = False
    chord: Chord | None = None
    struck: bool = False
    bars_before: int = 0
    first_in_section: bool = True
    silence: Silence = ""
    returning: tuple[Meter, Meter] | None = None
    """The meter of a single bar, and the one that is counted again behind it."""
    counted: dict[str, int] = field(default_factory=dict)
    """The counts behind rows, by the rows' places."""
    kept: dict[int, tuple[Played, Strike]] = field(default_factory=dict)
    """The strikes made before, by the identity of what is played: equal symbols share one."""
    rows: KeptRows = field(default_factory=KeptRows)

    def row(self, tokens: Sequence[Token], place: str) -> ReadRow:
        """The music of a row; places of findings are where the row stands."""
        tokens = with_count_last(tokens)
        if self.beats_are_counted:
            tokens = with_counted_bars(
                tokens, self.meter, self.dashes_are_beats, self.findings, place
            )
        barred = any(token.kind == "bar" for token in tokens)
        read = self._barred(tokens, place) if barred else self._free(tokens, place)
        self.first_in_section = False
        return read

    # ---- free time
    def _free(self, tokens: Sequence[Token], place: str) -> ReadRow:
        """Chords in order, as the same tokens were read before where they are chords alone."""
        kept = self.rows.of(tokens)
        if kept is None:
            read = self._free_anew(tokens, place)
            self.rows.keep(tokens, read, self.chord)
            return read
        read, self.chord = kept
        self.struck, self.silence = True, silence_after(read.music.bars[0].strikes[-1])
        return read

    def _free_anew(self, tokens: Sequence[Token], place: str) -> ReadRow:
        """Chords in order, similes as cues; slashes are left out: there is no beat to count."""
        struck: list[Strike] = []
        columns: list[int] = []
        asides, slashed = Asides(self.findings, place), False
        tokens = with_counts_written_out(tokens, self.findings, place)
        if tokens[-1].kind == "times":
            self.findings.guess(
                "times-as-cue",
                f'"{tokens[-1].text}" behind a row without bars is written as a cue',
                place,
            )
        for token in tokens:
            if token.kind in STRUCK:
                struck += [self._strike(played, place) for played in token.struck]
                columns += [token.column] * len(token.struck)
            elif _is_slashes(token):
                slashed = True
            elif token.kind != "bar":
                asides.take(token, len(struck), max(0, len(struck) - 1))
        if slashed:
            self.findings.leave_out(
                "slashes-without-bars",
                "slashes or dots among chords that are read without bars: "
                "there are no beats to count",
                place,
            )
        if not struck:
            struck, columns = [Strike(None)], [tokens[0].column]
        bar = Bar(tuple(struck), cues=tuple(asides.cues), marks=asides.ordered_marks())
        self.silence = silence_after(struck[-1])
        return ReadRow(MusicRow((bar,)), (tuple(columns),))

    def _strike(self, played: Played, place: str) -> Strike:
        kept = self.kept.get(id(played))
        if kept is None or played.bass is not None:
            strike = self._new_strike(played, place)
            self.kept[id(played)] = played, strike
            return strike
        self.chord, self.struck = played.chord or self.chord, True
        return kept[1]

    def _new_strike(self, played: Played, place: str) -> Strike:
        chord, bass_only = played.chord, False
        if played.bass is not None and self.chord is not None:
            chord, bass_only = replace(self.chord, bass=played.bass), True
        elif played.bass is not None:
            self.findings.guess(
                "bass-without-chord",
                "a bass stands before any chord: it is written as a cue of its own chord",
                place,
            )
            chord = Chord(played.bass, _POWER)
        self.chord, self.struck = chord or self.chord, True
        return Strike(
            chord=chord,
            onset=0,
            length=0,
            bass_only=bass_only,
            pushed=played.pushed,
            stopped=played.stopped,
            ringing=played.ringing,
            optional=played.optional,
        )

    # ---- bars
    def _barred(self, tokens: Sequence[Token], place: str) -> ReadRow:
        cells, lines = cells_of(tokens)
        if not cells or self._overfull([inside for _, inside in cells], place):
            return self._free(tokens, place)
        bars: list[Bar] = []
        columns: list[tuple[int, ...]] = []
        early = self.first_in_section and lines[0].kind == "none" and self._picks_up(cells, place)
        again = None if early else self._played_again(tokens, cells, place)
        for at, (start, inside) in enumerate(cells):
            back = self._returns(inside, place, first=not at)
            bar, own = self._bar(inside, start, early and not at, place)
            self.returning = (self.meter, back) if back is not None else self.returning
            bar, self.silence = without_held_silence(bar, self.silence)
            bars.append(bar)
            columns.append(own)
            self.bars_before += bar.lasts
        lines[0] = self._first_line(lines[0], place)
        if lines[0].kind == "none" and not bars[0].pickup:
            lines[0] = BarLine()  # without it, the bar would be read as a pick-up
        if again is not None:
            lines[0], lines[-1] = BarLine("repeat-start"), BarLine("repeat-end", times=again)
        return ReadRow(MusicRow(tuple(bars), tuple(lines)), tuple(columns))

    def _played_again(
        self, tokens: Sequence[Token], cells: Sequence[Cell], place: str
    ) -> int | None:
        """How often a row of bars is played by the "x2" behind it, as the times of a repeat's end:
        0 for the usual two; None where nothing says that it is repeated."""
        last = tokens[-1]
        signs = [token.text.strip("|") for token in tokens if token.kind == "bar"]
        if last.kind != "times" or any(signs):
            return None
        self.findings.guess(
            "row-again",
            f'"{last.text}" behind a row of bars: the row is played that often',
            place,
        )
        if last in cells[-1][1]:
            cells[-1][1].remove(last)
        self.counted[place] = times_of(last.text)
        return repeat_times(last.text)

    def _picks_up(self, cells: Sequence[Cell], place: str) -> bool:
        """Whether what stands before the first line of a section is a pick-up, and not a bar
        whose first line was left off: it says so, or its beats are counted."""
        (_, first), *others = cells
        says_so = takes_pick_up(first)
        counted_out = is_counted(first) or (
            bool(others) and all(is_counted(inside) for _, inside in others)
        )
        if not (says_so or counted_out):
            if strikes(first):
                self.findings.guess(
                    "first-bar-line",
                    "a section that begins without a bar line is taken to begin with a whole bar",
                    place,
                )
            return False
        beats = (_new_meter(first) or self.meter).beats
        return bool(_before_first_line(slots_of(first), beats))

    def _overfull(self, cells: Sequence[Sequence[Token]], place: str) -> bool:
        """Whether a bar has more chords than its beats can be split for, so that the row has
        to be read in free time."""
        meter = self.meter
        for inside in cells:
            meter = _new_meter(inside) or meter
            chords = sum(len(token.struck) for token in inside)
            if chords > meter.beats * MOST_IN_A_BEAT:
                self.findings.guess(
                    "bar-overfull",
                    f"a bar has {counted(chords, 'chord')}, more than fit in a "
                    f"bar of {meter}: its row is read without bars",
                    place,
                )
                return True
        return False

    def _first_line(self, line: BarLine, place: str) -> BarLine:
        """The line that opens a row; a repeat cannot end before it has begun."""
        if line.kind not in ("repeat-end", "repeat-both"):
            return line
        self.findings.leave_out("repeat-end-first", "a repeat that ends where a row begins", place)
        return replace(line, kind="single" if line.kind == "repeat-end" else "repeat-start")

    def _bar(
        self, tokens: Sequence[Token], start: int, early: bool, place: str
    ) -> tuple[Bar, tuple[int, ...]]:
        meter = self._meter_from(tokens)
        self.meter = meter or self.meter
        slots = slots_of(tokens) if early else with_dashes_as_beats(tokens, self.meter.beats)
        alone = next((token for token in tokens if token.kind in ("simile", "rest")), None)
        if alone is not None and all(slot.held for slot in slots):
            slots = []
            bar = self._rest(alone) if alone.kind == "rest" else self._simile(alone)
        elif early:
            slots = _before_first_line(slots, self.meter.beats)
            bar = on_beats(self._groups(slots, place), pickup=True)
        else:
            slots = fitted(slots, self.meter.beats)
            bar = self._counted(slots, place)
        bar = replace(self._with_chords(bar, slots, place), meter=meter)
        end = bar.length if bar.pickup else self.meter.beats * TICKS_PER_BEAT
        bar = with_asides(
            bar, tokens, [slot.at for slot in slots], end, Asides(self.findings, place)
        )
        struck = [token.column for token in tokens for _ in token.struck]
        begins_struck = bool(bar.strikes) and bar.strikes[0].onset == 0
        return bar, (start, *(struck[1:] if begins_struck else struck))

    def _returns(self, tokens: Sequence[Token], place: str, first: bool) -> Meter | None:
        """The meter that is counted again behind a bar whose own stands in parentheses, in the
        middle or at the end of a row; None behind any other bar."""
        new = _new_meter(tokens)
        sign = next((token.text for token in tokens if token.kind == "meter"), "")
        if first or new is None or new == self.meter or not sign.startswith("("):
            return None
        self.findings.guess(
            "meter-of-one-bar",
            f"{sign} stands before one bar: {self.meter} is counted again behind it",
            place,
        )
        return self.meter

    def _meter_from(self, tokens: Sequence[Token]) -> Meter | None:
        """The meter that begins with a bar: its own, or the one before a single bar's."""
        returning, self.returning = self.returning, None
        new = _new_meter(tokens)
        single = returning is not None and returning[0] == self.meter
        return returning[1] if new is None and single and returning is not None else new

    def _rest(self, token: Token) -> Bar:
        count = rest_of(token.text)
        return Bar((), self.meter.beats * TICKS_PER_BEAT * count, rest=count)

    def _simile(self, token: Token) -> Bar:
        count = 2 if token.text == "%%" else 1
        length = self.meter.beats * TICKS_PER_BEAT
        if self.bars_before < count:
            return Bar((), length, True)
        return Bar((), length * count, False, count)

    def _groups(self, slots: Sequence[Slot], place: str) -> list[Group]:
        """What is played on each beat; a hold needs a chord before it."""
        groups = [slot.played for slot in slots]
        silent = groups if self.struck else with_nothing_held(groups)
        if silent != groups:
            self.findings.guess(
                "nothing-to-hold",
                'a hold "_" stands before any chord: it is written as a slash',
                place,
            )
        return silent

    def _counted(self, slots: Sequence[Slot], place: str) -> Bar:
        """The bar with its chords on beats. If they do not fit, they are spread as evenly as
        possible, without slashes and holds, which is a guess."""
        beats = self.meter.beats
        chords = [part for slot in slots for part in slot.played if not part.sign]
        plain = all(len(slot.played) == 1 and not slot.played[0].sign for slot in slots)
        if len(slots) == beats and not crowded(slots):
            return on_beats(self._groups(slots, place), written=not plain)
        if not chords:
            return Bar((), beats * TICKS_PER_BEAT, True)
        if plain and beats % len(chords) == 0:
            return on_beats(shared(chords, beats), False)
        self.findings.guess(
            "beats-shared-out",
            f"what stands in a bar ({counted(len(chords), 'chord')}) does not "
            f"fill {self.meter}: shared out over its beats",
            place,
        )
        groups = shared(chords, beats)
        return on_beats(groups, written=any(len(group) != 1 for group in groups))

    def _with_chords(self, bar: Bar, slots: Sequence[Slot], place: str) -> Bar:
        """The bar with its strikes filled in from the slots, in order."""
        played = [one for slot in slots for one in slot.played if not one.sign]
        filled = []
        for strike, one in zip(bar.strikes, played, strict=True):
            named = self._strike(one, place)
            filled.append(replace(named, onset=strike.onset, length=strike.length))
        return replace(bar, strikes=tuple(filled))


def _before_first_line(slots: Sequence[Slot], beats: int) -> list[Slot]:
    """The slots of a pick-up, each a beat; none where they are too many for one."""
    joined = joined_by_commas(slots)
    result = list(slots) if crowded(joined) else joined
    return result if len(result) < beats and not crowded(result) else []


def _is_slashes(token: Token) -> bool:
    return token.kind == "beat" and not token.text.strip("/.")


def _new_meter(tokens: Sequence[Token]) -> Meter | None:
    """The meter with which a bar begins, but for remarks before it; None where it has none."""
    first = next((token for token in tokens if token.kind not in ("cue", "filler")), None)
    return meter_of(first.text) if first is not None and first.kind == "meter" else None


_POWER = BY_SPELLING["5"]
