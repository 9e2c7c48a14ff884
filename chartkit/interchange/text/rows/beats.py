"""From the tokens of a row to bars and beats: cells between bar lines, the slots of each,
pick-ups."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from chartkit.chart.bar_lines import typed_bar_line
from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, BarLineKind, Strike
from chartkit.interchange.text.tokens import HOLD, PICK_UP, SLASH, STRUCK, TIMED, Played, Token
from chartkit.interchange.text.vocabulary.times_played import times_of

Group = tuple[Played, ...]
MOST_IN_A_BEAT = 4
"""How many chords may share one beat, as in the chart language."""


@dataclass(frozen=True, slots=True)
class Slot:
    """An item that takes up time in a bar: what is played, its token among those of the bar, and
    whether a comma joins it to the next."""

    played: Group
    at: int
    joins: bool = False

    @property
    def held(self) -> bool:
        """Whether it is a lone ``_``, which may be a mere filler."""
        return self.played == (HOLD,)


def slots_of(tokens: Sequence[Token]) -> list[Slot]:
    """The tokens that take a beat or strike a chord; ``///`` takes three."""
    collected: list[Slot] = []
    for at, token in enumerate(tokens):
        if token.kind in (*STRUCK, "hold"):
            collected.append(Slot(token.played, at, token.text.endswith(",")))
        elif token.kind == "beat":
            collected += [Slot((), at)] * len(token.text)
    return collected


def with_dashes_as_beats(tokens: Sequence[Token], beats: int) -> list[Slot]:
    """The tokens that take a beat; dashes do where they fill the bar, as in ``Am - - G``."""
    slots = slots_of(tokens)
    dashes = [
        at
        for at, token in enumerate(tokens)
        if token.kind == "filler" and not token.text.strip("-–—")
    ]
    if not dashes or len(slots) + len(dashes) != beats:
        return slots
    return sorted([*slots, *(Slot((), at) for at in dashes)], key=lambda slot: slot.at)


def fitted(slots: Sequence[Slot], beats: int) -> list[Slot]:
    """The slots read so that they are one for each beat, where they can be: those that a comma
    ends joined to the next, a lone hold a beat or a filler.  Else without lone holds."""
    struck = [slot for slot in slots if not slot.held]
    for some in (joined_by_commas(slots), slots, joined_by_commas(struck)):
        if len(some) == beats and not crowded(some):
            return list(some)
    return struck


def joined_by_commas(slots: Sequence[Slot]) -> list[Slot]:
    """The slots with those that end in a comma joined to the next, as one beat."""
    collected: list[Slot] = []
    for slot in slots:
        before = collected[-1] if collected else None
        if before is not None and before.joins and slot.played:
            collected[-1] = replace(before, played=before.played + slot.played, joins=slot.joins)
        else:
            collected.append(slot)
    return collected


def crowded(slots: Sequence[Slot]) -> bool:
    """Whether a beat has more in it than can be written."""
    return any(len(slot.played) > MOST_IN_A_BEAT for slot in slots)


def shared(chords: Sequence[Played], beats: int) -> list[Group]:
    """Groups of chords, one for each beat, empty where a chord goes on."""
    if len(chords) > beats:
        size, more = divmod(len(chords), beats)
        sizes = [size + (i < more) for i in range(beats)]
        starts = [sum(sizes[:i]) for i in range(beats)]
        return [tuple(chords[a : a + n]) for a, n in zip(starts, sizes, strict=True)]
    size, more = divmod(beats, len(chords))
    return [
        group for i, one in enumerate(chords) for group in ((one,), *[()] * (size + (i < more) - 1))
    ]


def with_nothing_held(groups: Sequence[Group]) -> list[Group]:
    """The groups with slashes for the holds before the first chord, for a place in the song
    where there is nothing yet to hold."""
    collected: list[Group] = []
    struck = False
    for group in groups:
        parts = []
        for part in group:
            struck = struck or not part.sign
            parts.append(SLASH if part == HOLD and not struck else part)
        collected.append(() if parts == [SLASH] else tuple(parts))
    return collected


def on_beats(groups: Sequence[Group], written: bool = True, pickup: bool = False) -> Bar:
    """A bar of groups, one for each beat, with empty strikes to be filled in."""
    parts = [
        (i * TICKS_PER_BEAT + k * TICKS_PER_BEAT // len(group), part.sign, len(group) > 1)
        for i, group in enumerate(groups)
        for k, part in enumerate(group)
    ]
    onsets = [onset for onset, sign, _ in parts if not sign]
    length = len(groups) * TICKS_PER_BEAT
    strikes = tuple(
        Strike(None, at, following - at)
        for at, following in zip(onsets, [*onsets[1:], length], strict=False)
    )
    holds = tuple(onset for onset, sign, _ in parts if sign == "_")
    slashes = tuple(onset for onset, sign, split in parts if sign == "/" and split)
    silences = tuple(onset for onset, sign, _ in parts if sign == "r")
    mutes = tuple(onset for onset, sign, _ in parts if sign == "x")
    return Bar(
        strikes,
        length,
        written,
        0,
        pickup,
        holds=holds,
        slashes=slashes,
        silences=silences,
        mutes=mutes,
    )


_USUAL_TIMES = 2
"""How often a repeat is played by default."""
_ONCE_MORE = ("single", "repeat-start")
Cell = tuple[int, list[Token]]


def cells_of(tokens: Sequence[Token]) -> tuple[list[Cell], list[BarLine]]:
    """What stands between bar lines, with the column where it begins, and the lines.

    Remarks before the first bar line of a row, and a meter alone between two, are for the bar
    that follows.
    """
    reader = _CellReader()
    for token in tokens:
        reader.read(token)
    return reader.result()


class _CellReader:
    """Cuts a row at its bar lines."""

    def __init__(self) -> None:
        self.cells: list[Cell] = []
        self.lines: list[BarLine] = []
        self.opening: BarLine | None = None
        """The bar line before what is read now; None before the first."""
        self.start = 0
        self.inside: list[Token] = []
        self.waiting: list[Token] = []
        """What is said of the bar that follows."""
        self.counted = False
        """Whether a count ("x4") stands right behind the bar line."""

    def read(self, token: Token) -> None:
        """Reads the next token of the row."""
        ended = self.opening is not None and _ends(self.opening) and not self.inside
        if token.kind == "times" and self.opening is not None and ended:
            self.opening = replace(self.opening, times=repeat_times(token.text))
            self.counted = True
        elif token.kind == "bar":
            self._read_bar_line(typed_bar_line(token.text), token.end)
        else:
            self.inside.append(token)

    def _read_bar_line(self, line: BarLine, end: int) -> None:
        opening, once_more = self.opening, self.counted and not self.inside
        if once_more and opening is not None and line.kind in _ONCE_MORE:
            # a bar line once more behind "x4"
            kind: BarLineKind = "repeat-both" if line.kind == "repeat-start" else opening.kind
            self.opening = replace(opening, kind=kind, endings=opening.endings + line.endings)
            self.start = end
            return
        self.counted = False
        if _waits(self.inside, opening):
            self.waiting += self.inside
            line = opening if opening is not None and line == BarLine() else line
        elif self.inside or (opening is not None and (self.cells or line.kind != "repeat-start")):
            self._close()
            self.waiting = []
        self.opening, self.start, self.inside = line, end, []

    def _close(self) -> None:
        self.cells.append((self.start, [*self.waiting, *self.inside]))
        self.lines.append(self.opening or BarLine("none"))

    def result(self) -> tuple[list[Cell], list[BarLine]]:
        """The cells and the bar lines around them."""
        if any(map(_makes_a_bar, self.inside)):
            self._close()
            self.opening = BarLine()
        elif self.cells:
            self.cells[-1][1].extend([*self.waiting, *self.inside])
        return self.cells, [*self.lines, self.opening or BarLine()]


def repeat_times(text: str) -> int:
    """The times of a repeat's end for "x4" behind it; 0 for the usual two and for once."""
    times = times_of(text)
    return times if times > _USUAL_TIMES else 0


def _ends(line: BarLine) -> bool:
    return line.kind in ("repeat-end", "repeat-both")


def _waits(inside: Sequence[Token], opening: BarLine | None) -> bool:
    """Whether what stands between two bar lines is said of the bar after them."""
    kinds = {token.kind for token in inside}
    if kinds & {*TIMED, "simile", "rest"}:
        return False
    return bool(inside) and (opening is None or kinds == {"meter"})


def _makes_a_bar(token: Token) -> bool:
    """Whether it is a bar even with no bar line after it; a lone hold may be a filler."""
    return token.kind in (*TIMED, "simile", "rest") and not token.may_fill


_WALTZ = 3
_FEWEST_WALTZ_BARS = 2


def takes_pick_up(tokens: Sequence[Token]) -> bool:
    """Whether a bar says that it is a pick-up."""
    return any(token.text == PICK_UP for token in tokens)


def is_counted(tokens: Sequence[Token]) -> bool:
    """Whether the beats of a bar are counted by slashes, dots or holds."""
    return any(token.kind in ("beat", "hold") for token in tokens)


def counts_three(rows: Sequence[Sequence[Token]]) -> bool:
    """Whether all bars of a sheet have three places where they have more than one, so that it
    is rather in 3/4 than in 4/4."""
    places = list(_places(rows))
    return {*places} <= {0, 1, _WALTZ} and places.count(_WALTZ) >= _FEWEST_WALTZ_BARS


def fits_three(rows: Sequence[Sequence[Token]]) -> bool:
    """Whether no bar of a sheet has more than three places."""
    return all(places <= _WALTZ for places in _places(rows))


def _places(rows: Sequence[Sequence[Token]]) -> Iterator[int]:
    """How many places each bar of a sheet has, but for what may be a pick-up."""
    for tokens in rows:
        if not any(token.kind == "bar" for token in tokens):
            continue
        cells, lines = cells_of(tokens)
        for at, (_, inside) in enumerate(cells):
            places = len(slots_of(inside))
            if at or lines[0].kind != "none" or not 0 < places < _WALTZ:
                yield places
