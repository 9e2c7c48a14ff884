"""How music comes home: on which chord it begins and ends, and how it goes to a tonic.

A chord of the fifth degree before the tonic says more of a key than the last chord alone; in
mixolydian and dorian the chords of the seventh and the fourth degree stand there (common practice,
no source; the weights are ours).
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Literal

from chartkit.chart.model import Bar, MusicRow
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of

_FIFTH, _FOURTH, _LOW_SEVENTH = 7, 5, 10
_ENOUGH = 3
"""What cadences say together that leave no doubt: one with a seventh two, any other one."""


def keeps_major(rows: Sequence[MusicRow], key: Key, minor: Key) -> bool:
    """Whether music that ends on the chord of the sixth degree is in its major key all the same: it
    begins on the major tonic, which lasts longer and is reached from the fifth degree again and
    again, and the minor tonic never is."""
    first = _first_chord(rows)
    begins = first is not None and _is_on(first, key.tonic) and not is_minor(first)
    if not begins or _cadences(rows, minor.tonic, (_FIFTH,)):
        return False
    longer = _length_of(rows, key.tonic) >= 2 * _length_of(rows, minor.tonic)
    return longer and _cadences(rows, key.tonic, (_FIFTH,)) >= _ENOUGH


def is_in_major(rows: Sequence[MusicRow], minor: Key, major: Key) -> bool:
    """Whether music with a minor signature is in its major key: it begins and ends on the major
    tonic, and the minor one is never struck."""
    chords = [chord for row in rows for bar in row.bars for chord in _chords_in(bar)]
    if not chords or any(_is_on(chord, minor.tonic) for chord in chords):
        return False
    return all(_is_on(one, major.tonic) and not is_minor(one) for one in (chords[0], chords[-1]))


def modal_key(rows: Sequence[MusicRow], key: Key, last: Chord) -> Key | None:
    """The mixolydian or dorian key of a major signature, where the music begins and ends on its
    tonic, which lasts longest and is reached from the seventh or the fourth degree, and not from
    there to the major tonic."""
    first = _first_chord(rows)
    if first is None or first.root != last.root or is_minor(first) != is_minor(last):
        return None
    if {"b7", "7"} & {*first.quality.degrees, *last.quality.degrees} and not is_minor(last):
        return None
    mode: Literal["dorian", "mixolydian"] = "dorian" if is_minor(last) else "mixolydian"
    meant = Key(key.tonic + (2 if is_minor(last) else 1), mode)
    if not _is_on(last, meant.tonic):
        return None
    plagal = mode == "mixolydian" and _double_plagal(rows, meant.tonic)
    longer = _length_of(rows, meant.tonic) > 2 * _length_of(rows, key.tonic) - plagal
    home = _cadences(rows, meant.tonic, (_LOW_SEVENTH, _FOURTH))
    low_seventh = _cadences(rows, meant.tonic, (_LOW_SEVENTH,))
    away = _cadences(rows, key.tonic, (_FIFTH,))
    known = low_seventh or plagal if mode == "mixolydian" else home
    return meant if longer and known and home > away else None


def is_minor(chord: Chord) -> bool:
    """Whether a chord has a minor third."""
    return "b3" in chord.quality.degrees


def _is_on(chord: Chord, note: int) -> bool:
    return pitch_class_of(chord.root) == pitch_class_of(note)


def _first_chord(rows: Sequence[MusicRow]) -> Chord | None:
    """The first chord, but for that of a pick-up."""
    bars = (bar for row in rows for bar in row.bars if not bar.pickup)
    return next((chord for bar in bars for chord in _chords_in(bar)), None)


def _chords_in(bar: Bar) -> Iterator[Chord]:
    return (strike.chord for strike in bar.strikes if strike.chord is not None)


def _cadences(rows: Sequence[MusicRow], tonic: int, degrees: Sequence[int]) -> int:
    """What the steps to a tonic say that come from chords with a major third some half steps above
    it; one with a seventh counts twice."""
    chords = [chord for row in rows for bar in row.bars for chord in _chords_in(bar)]
    above = {(pitch_class_of(tonic) + degree) % 12 for degree in degrees}
    return sum(
        1 + ("b7" in one.quality.degrees)
        for one, two in pairwise(chords)
        if pitch_class_of(one.root) in above and _is_on(two, tonic) and not is_minor(one)
    )


def _double_plagal(rows: Sequence[MusicRow], tonic: int) -> bool:
    """Whether music goes home by the chords of the low seventh and the fourth degree."""
    chords = [chord for row in rows for bar in row.bars for chord in _chords_in(bar)]
    home = pitch_class_of(tonic)
    way = [(home + step) % 12 for step in (_LOW_SEVENTH, _FOURTH, 0)]
    roots = [pitch_class_of(chord.root) for chord in chords]
    return any(roots[at : at + 3] == way for at in range(len(roots) - 2))


def turns_on_fifth(rows: Sequence[MusicRow], last: Chord, minor: Key) -> bool:
    """Whether music begins on a minor tonic and stops on the major chord of its fifth degree, which
    leads back to it."""
    fifth = (pitch_class_of(last.root) - pitch_class_of(minor.tonic)) % 12 == _FIFTH
    return fifth and "3" in last.quality.degrees and begins_on_minor(rows, minor)


def begins_on_minor(rows: Sequence[MusicRow], minor: Key) -> bool:
    """Whether music begins on the chord of a minor tonic."""
    first = _first_chord(rows)
    return first is not None and _is_on(first, minor.tonic) and is_minor(first)


def _length_of(rows: Sequence[MusicRow], root: int) -> int:
    """How long the chords on a root sound, in ticks."""
    strikes = (strike for row in rows for bar in row.bars for strike in bar.strikes)
    return sum(s.length for s in strikes if s.chord is not None and _is_on(s.chord, root))
