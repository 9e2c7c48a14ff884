"""From chords at any time in a measure to chords on the beats of a bar.

The language strikes chords on beats, in equal parts of one (two, three, four or six), or pushed:
early, before the beat.  A chord anywhere else goes to the nearest quarter of its beat, which is
noted as a guess. Rhythm written with slash heads is kept.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations, groupby, pairwise
from typing import NamedTuple

from chartkit.chart.model import TICKS_PER_BEAT, Strike
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import StruckChord, Strum

_MOST_IN_A_BEAT = 4
_MOST_BEATS_TRIED = 12
"""The most beats of one note for which every way to share it is tried; no bar of a song has
more."""
_PARTS = (1, 2, 3, 4, 6)
_FINEST_PART = 12
"""Parts of a beat among which all others are."""
_ROUNDED = 48
"""The share of a beat by which programs miss a part of it at most (ours)."""


class Grid(NamedTuple):
    """The beats of a bar: the length of one in units, how many there are, and how many units
    ``early`` a chord may be struck that belongs to the next."""

    beat: int
    beats: int
    early: int


class PlacedStrikes(NamedTuple):
    """The strikes of a bar.

    ``from_units`` says where, in units from the start of the measure, each of them is
    really struck: words are shared out by that.  ``crowded`` are chords for which there was
    no room.  The rest are onsets of what is written besides, as in a bar.
    """

    strikes: tuple[Strike, ...]
    from_units: tuple[int, ...]
    written: bool
    crowded: tuple[StruckChord, ...] = ()
    holds: tuple[int, ...] = ()
    slashes: tuple[int, ...] = ()
    silences: tuple[int, ...] = ()
    mutes: tuple[int, ...] = ()


@dataclass(slots=True)
class _Beat:
    """One beat: its chords, and the slashes of its rhythm, from its start in units."""

    start: int
    chords: list[StruckChord]
    strums: list[Strum] = field(default_factory=list)

    def parts(self, beat: int) -> int:
        """The number of equal parts in which the beat has a place for everything in it; 0 if none
        is fine enough."""
        alone = len(self.chords) < 2 and not self.strums
        if alone and all(chord.onset == self.start for chord in self.chords):
            return 1
        onsets = [chord.onset for chord in self.chords] + [strum.onset for strum in self.strums]
        within = {onset - self.start for onset in onsets}
        if len({chord.onset for chord in self.chords}) < len(self.chords):
            return 0
        if any(at >= beat for at in within):
            return 0
        return next((n for n in _PARTS if all(at * n % beat == 0 for at in within)), 0)


def chords_sharing_a_note(
    struck: tuple[StruckChord, ...], beat: int, strong: Sequence[int]
) -> tuple[StruckChord, ...]:
    """Gives each of several chords over one note a place of its own; returns the measure's chords.

    They change on beats, the first lasting longest where the beats do not come out even (two,
    one, one of four), but on a ``strong`` beat, given by its place in units, where that is as
    even.  More chords than beats share the last beats equally.
    """
    placed_chords: list[StruckChord] = []
    for _, group in groupby(struck, key=lambda one: (one.onset, one.over)):
        together = list(group)
        first = together[0]
        if len(together) < 2 or not first.over:
            placed_chords += together
            continue
        onsets = _shares(first.onset, first.over, len(together), beat, strong)
        placed_chords += [
            one._replace(onset=onset, over=0) for one, onset in zip(together, onsets, strict=True)
        ]
    return tuple(sorted(placed_chords, key=lambda one: one.onset))


def _shares(start: int, length: int, count: int, beat: int, strong: Sequence[int]) -> list[int]:
    """Where each of ``count`` chords begins that share a note from ``start`` on."""
    end = start + length
    points = [start, *range((start // beat + 1) * beat, end, beat)]
    if count > len(points):
        return _within_beats(points, end, count)
    if len(points) > _MOST_BEATS_TRIED:
        return [points[i * len(points) // count] for i in range(count)]

    def unevenness(changes: tuple[int, ...]) -> tuple[int, int, tuple[int, ...]]:
        bounds = (0, *changes, len(points))
        sizes = [b - a for a, b in pairwise(bounds)]
        weak = sum(points[at] not in strong for at in changes)
        return max(sizes) - min(sizes), weak, tuple(-size for size in sizes)

    best = min(combinations(range(1, len(points)), count - 1), key=unevenness)
    return [points[at] for at in (0, *best)]


def _within_beats(points: list[int], end: int, count: int) -> list[int]:
    """The places of more chords than there are beats: each has as many, the last one more."""
    each, more = divmod(count, len(points))
    onsets = []
    for i, (begins, ends) in enumerate(pairwise((*points, end))):
        here = each + (len(points) - i <= more)
        onsets += [begins + (ends - begins) * k // here for k in range(here)]
    return onsets


def placed_strikes(
    struck: Sequence[StruckChord],
    grid: Grid,
    findings: Findings,
    place: str,
    slashes: bool = False,
    strums: Sequence[Strum] = (),
) -> PlacedStrikes:
    """The chords on the beats of a bar.

    ``slashes`` asks for the beats to be written out where they need not be.
    """
    beat, beats = grid.beat, grid.beats
    if not strums and (plain := _plain(struck, beat, beats, slashes)):
        return plain
    groups = _by_beat([_rounded(one, beat) for one in struck], strums, beat, beats)
    for kind in dict.fromkeys(_settle(groups, beat, grid.early)):
        findings.guess(*MOVES[kind], place)
    crowded = _take_crowded(groups, beat)
    signs = [sign for i, group in enumerate(groups) for sign in _signs(group, i, beat)]
    signs = signs if strums or slashes else _with_beats_held(signs, groups, beat)
    holds, again, silences, mutes = (
        tuple(at for at, sign in signs if sign == wanted)
        for wanted in ("hold", "slash", "silence", "mute")
    )
    needed = bool(holds or again or silences or mutes) or not _shared_evenly(groups)
    chords = [(at, one) for at, one in signs if isinstance(one, StruckChord)]
    strikes = _strikes(chords, len(groups))
    written = needed or (slashes and len(strikes) < len(groups))  # else there is no slash
    return PlacedStrikes(
        strikes=strikes,
        from_units=_places(groups, struck, beat),
        written=written,
        crowded=crowded,
        holds=holds,
        slashes=again,
        silences=silences,
        mutes=mutes,
    )


def _rounded(struck: StruckChord, beat: int) -> StruckChord:
    """A chord on the part of a beat that its place misses by no more than programs round: a third
    of a beat is no whole number in many of them."""
    parts = round(_FINEST_PART * struck.onset / beat)
    onset, rest = divmod(parts * beat, _FINEST_PART)
    off = abs(struck.onset - onset)
    if rest or not 0 < off * _ROUNDED <= beat:
        return struck
    return struck._replace(onset=onset)


def _places(groups: Sequence[_Beat], struck: Sequence[StruckChord], beat: int) -> tuple[int, ...]:
    """Where chords are struck, those that were rounded to later where they stood: their words
    begin there."""
    stood = {_rounded(one, beat).onset: one.onset for one in struck}
    onsets = (one.onset for group in groups for one in group.chords)
    return tuple(min(onset, stood.get(onset, onset)) for onset in onsets)


def _crosses_in_thirds(groups: Sequence[_Beat], beat: int) -> bool:
    """Whether chords change in triplets that last longer than a beat: one does after the first
    third of a beat, where swung rhythm has none."""
    return any(3 * (one.onset % beat) == beat for group in groups for one in group.chords)


def _take_crowded(groups: Sequence[_Beat], beat: int) -> tuple[StruckChord, ...]:
    """Takes the chords out of the beats that have no room for them."""
    crowded: list[StruckChord] = []
    for group in groups:
        if not group.parts(beat):
            crowded += group.chords[_MOST_IN_A_BEAT:]
            group.chords = group.chords[:_MOST_IN_A_BEAT]
    return tuple(crowded)


def _plain(
    struck: Sequence[StruckChord], beat: int, beats: int, slashes: bool
) -> PlacedStrikes | None:
    """The same for chords of which each begins a beat of its own, as nearly all do."""
    if len(struck) == 1 and not struck[0].onset:
        return PlacedStrikes(_strikes([(0, struck[0])], beats), (0,), slashes and beats > 1)
    onsets = tuple([one.onset for one in struck])
    numbers = [onset // beat for onset in onsets]
    on_beats = all(number * beat == onset for number, onset in zip(numbers, onsets, strict=True))
    if not numbers or not on_beats or numbers[-1] >= beats or len(set(numbers)) < len(numbers):
        return None
    strikes = _strikes(
        [(at * TICKS_PER_BEAT, one) for at, one in zip(numbers, struck, strict=True)], beats
    )
    written = numbers != list(range(0, beats, max(1, beats // len(numbers))))
    return PlacedStrikes(strikes, onsets, written or (slashes and len(numbers) < beats))


MOVES = {
    "pushed": ("pushed-chord", "a chord struck before its beat is written as pushed"),
    "tied": (
        "pushed-chord",
        "a chord tied over from more or less than half a beat before is written as pushed",
    ),
    "moved": ("chord-moved", "a chord struck off the beat is written on the nearest part of it"),
    "shared": ("chord-moved", "chords within one beat are written in equal shares of it"),
}
"""The finding for each way in which a chord is not written where it is struck."""


def _by_beat(
    struck: Sequence[StruckChord], strums: Sequence[Strum], beat: int, beats: int
) -> list[_Beat]:
    groups = [_Beat(i * beat, []) for i in range(beats)]
    for one in struck:
        groups[min(one.onset // beat, beats - 1)].chords.append(one)
    for strum in strums:
        inside = strum.onset % beat != 0
        # What is held inside a beat follows from nothing being struck there.
        if strum.onset < beats * beat and not (strum.held and inside):
            groups[strum.onset // beat].strums.append(strum)
        if strum.sign == "silence":
            for number in range(strum.onset // beat + 1, beats):
                if number * beat < strum.onset + strum.length:
                    groups[number].strums.append(strum._replace(onset=number * beat))
    return groups


def _settle(groups: list[_Beat], beat: int, most_early: int) -> list[str]:
    """Moves what stands between the parts of a beat; reports each kind once.  Chords that change
    in thirds across beats stay where they are."""
    moves: list[str] = []
    in_thirds = _crosses_in_thirds(groups, beat)
    fresh = [True] * len(groups)
    for i, group in enumerate(groups):
        if not group.chords or not fresh[i]:
            continue
        last = group.chords[-1]
        before_next = (i + 1) * beat - last.onset
        early = (len(group.chords) == 1 or last.tied) and _pushes(last, before_next, most_early)
        early = early and (last.tied or not in_thirds or 3 * before_next % beat != 0)
        if early and i + 1 < len(groups) and _is_open(groups[i + 1]):
            groups[i + 1].chords = [group.chords.pop()._replace(pushed=True)]
            group.strums = [strum for strum in group.strums if strum.onset < last.onset]
            groups[i + 1].strums = []
            fresh[i + 1] = False
            struck = (*(one.onset for one in group.chords), *(one.onset for one in group.strums))
            if not (last.tied and is_push(last.onset, (i + 1) * beat, most_early, struck)):
                moves.append("tied" if last.tied else "pushed")
        if group.chords and not group.parts(beat):
            group.strums = []
            if not group.parts(beat):
                group.chords = _on_quarters(group, beat)
                moves.append("moved" if group.parts(beat) else "shared")
    return moves


def _on_quarters(group: _Beat, beat: int) -> list[StruckChord]:
    """The chords of a beat, each on the nearest quarter of it where no two meet."""
    inside = [one.onset - group.start for one in group.chords]
    quarters = [min(3, (8 * at + beat) // (2 * beat)) for at in inside]
    if len(set(quarters)) < len(quarters):
        return group.chords
    onsets = [group.start + quarter * beat // 4 for quarter in quarters]
    return [one._replace(onset=at) for one, at in zip(group.chords, onsets, strict=True)]


def _is_open(group: _Beat) -> bool:
    """Whether a chord struck just before a beat may be written as pushed: nothing is struck on the
    beat."""
    return not group.chords and all(strum.held for strum in group.strums)


def _pushes(struck: StruckChord, before_next: int, most_early: int) -> bool:
    """Whether a chord, alone in its beat or tied over, is early for the next; silence never is."""
    return before_next <= most_early and struck.chord is not None


def is_push(onset: int, end: int, early: int, struck: Iterable[int]) -> bool:
    """Whether a place is where a push into the beat at ``end`` is struck: half a beat before it,
    a third of one in swung rhythm, or half way from what is ``struck`` within that."""
    last = max((at for at in struck if at < onset), default=0)
    before = (early, 2 * early / 3, (end - max(last, end - 2 * early)) / 2)
    return any(abs(end - onset - one) * _ROUNDED <= 2 * early for one in before)


def _shared_evenly(groups: list[_Beat]) -> bool:
    """Whether the chords share the bar as they do when no beat is written."""
    count = sum(len(group.chords) for group in groups)
    if not count or len(groups) % count:
        return False
    share = len(groups) // count
    return all(len(group.chords) == (i % share == 0) for i, group in enumerate(groups))


def _signs(group: _Beat, number: int, beat: int) -> Iterator[tuple[int, StruckChord | str]]:
    """The contents of a beat with their ticks: chords, slashes where they are struck again, holds.

    A beat with nothing inside it has none of these: its slash follows by itself.
    """
    start, chords = number * TICKS_PER_BEAT, group.chords
    if not chords and not group.strums:
        return
    parts = group.parts(beat) if not (len(chords) == 1 and chords[0].pushed) else 0
    if not parts:
        share = TICKS_PER_BEAT // max(1, len(chords))
        yield from ((start + i * share, chord) for i, chord in enumerate(chords))
        return
    struck = {(chord.onset - group.start) * parts // beat: chord for chord in chords}
    again = {(strum.onset - group.start) * parts // beat: strum for strum in group.strums}
    for part in range(parts):
        at, strum = start + part * TICKS_PER_BEAT // parts, again.get(part)
        if part in struck:
            yield at, struck[part]
        elif strum is None or strum.held:
            if parts > 1 or strum is not None:
                yield at, "hold"
        elif parts > 1 or strum.sign != "slash":
            yield at, strum.sign


def _with_beats_held(
    signs: list[tuple[int, StruckChord | str]], groups: Sequence[_Beat], beat: int
) -> list[tuple[int, StruckChord | str]]:
    """The signs, with holds on the beats that a chord struck inside a beat lasts through: where
    only symbols say what is played, nothing says that it is struck again."""
    last: StruckChord | None = None
    held = list[tuple[int, StruckChord | str]]()
    for number, group in enumerate(groups):
        if group.chords:
            last = group.chords[-1]
        elif last is not None and _lasts(last, beat):
            held.append((number * TICKS_PER_BEAT, "hold"))
    return sorted([*signs, *held], key=lambda one: one[0])


def _lasts(struck: StruckChord, beat: int) -> bool:
    """Whether a chord begins inside a beat and sounds on."""
    inside = struck.onset % beat != 0 and not struck.pushed
    return inside and struck.chord is not None and not struck.stopped


def _strikes(struck: list[tuple[int, StruckChord]], beats: int) -> tuple[Strike, ...]:
    strikes: list[Strike] = []
    following = beats * TICKS_PER_BEAT
    for onset, one in reversed(struck):
        strikes.append(
            Strike(
                chord=one.chord,
                onset=onset,
                length=following - onset,
                bass_only=one.bass_only,
                pushed=one.pushed,
                stopped=one.stopped,
                ringing=one.ringing,
                optional=one.optional,
            )
        )
        following = onset
    return tuple(reversed(strikes))
