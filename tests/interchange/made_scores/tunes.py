"""Melodies of phrases with their words, and the chords over them."""

from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import pairwise
from random import Random

from tests.interchange.made_scores.lyrics import line_of
from tests.interchange.made_scores.song import Bar, Note, Placed, Q, Syllable, Symbol, beat_of, full
from tests.interchange.made_scores.symbols import chord_in

_H, _T, _D = Q(1, 2), Q(1, 3), Q(3, 2)
_RHYTHMS: dict[tuple[int, int], list[tuple[Fraction | int, ...]]] = {
    (4, 4): [
        (1, 1, 1, 1), (2, 2), (1, 1, 2), (2, 1, 1), (_D, _H, 1, 1), (_H, _H, 1, 1, 1), (3, 1), (4,),
        (_H, _H, _H, _H, 1, 1), (_H, 1, _H, 1, 1), (_D, _H, 2), (_T, _T, _T, 1, 2), (1, _H, _H, 2),
        (Q(3, 4), Q(1, 4), 1, 2), (_D, _D, 1), (_D, Q(5, 2)),
    ],
    (3, 4): [(1, 1, 1), (2, 1), (1, 2), (3,), (_D, _H, 1), (_H, _H, 1, 1), (_T, _T, _T, 1, 1)],
    (2, 4): [(1, 1), (2,), (_H, _H, 1), (_D, _H), (_H, 1, _H)],
    (6, 8): [(_H,) * 6, (1, _H, 1, _H), (_D, _D), (1, _H, _D), (3,), (_H, _H, _H, 1, _H)],
    (5, 4): [(1, 1, 1, 1, 1), (2, 1, 2), (3, 2), (1, 2, 2)],
    (7, 8): [(1, 1, _D), (1, _H, _H, _D), (2, _D)],
    (9, 8): [(_D, _D, _D), (1, _H, 1, _H, _D), (3, _D)],
    (12, 8): [(_D, _D, _D, _D), (1, _H, _D, 1, _H, _D), (3, 3), (3, 1, _H, _D)],
}  # fmt: skip
_RHYTHMS[2, 2] = _RHYTHMS[4, 4]
_RHYTHMS[3, 2] = [(2, 2, 2), (4, 2), (3, 1, 2), (6,)]
_ODD = {(4, 4): (2, 4), (3, 4): (2, 4), (2, 2): (3, 2), (6, 8): (9, 8)}
"""The meter of a single bar among others."""
_VALUES = (Q(6), Q(4), Q(3), Q(2), Q(3, 2), Q(1), Q(3, 4), Q(1, 2), Q(1, 4))
"""Lengths that one note can have, dotted or not."""


def values_of(length: Fraction) -> list[Fraction]:
    """The lengths of tied notes that fill a time."""
    values = []
    while length > 0:
        value = next((one for one in _VALUES if one <= length), length)
        values.append(value)
        length -= value
    return values


@dataclass
class Manner:
    """How a song is made: its upbeat, how lines of words look, how melodies move."""

    meter: tuple[int, int]
    upbeat: Fraction
    language: str
    capitals: bool
    signs: tuple[str, ...]
    tonic: int
    minor: bool
    rich: float
    busy: float
    melisma: float
    rests: bool
    pushes: float
    again: float
    odd: float
    step: int = 0


@dataclass
class Phrase:
    """A phrase: its bars, and the notes of its upbeat, timed from its first bar (below 0)."""

    bars: list[Bar] = field(default_factory=list)
    upbeat: list[Note] = field(default_factory=list)

    def notes(self) -> list[Note]:
        """All notes in order, the upbeat first."""
        return [*self.upbeat, *(note for bar in self.bars for note in bar.notes)]


def phrase_of(
    count: int, verses: list[int], upbeat: bool, manner: Manner, chance: Random
) -> Phrase:
    """A phrase of so many bars with words for each verse; its last bar rests at its end for as long
    as an upbeat needs."""
    odd = chance.randrange(1, count) if count > 2 and chance.random() < manner.odd else count
    short = replace(manner, meter=_ODD.get(manner.meter, manner.meter))
    phrase = Phrase(
        [
            _bar(short if i == odd and i < count - 1 else manner, i == count - 1, chance)
            for i in range(count)
        ]
    )
    phrase.bars[0].phrase = True
    for at in range(4, count - 1, 4):
        phrase.bars[at].middle = True
    if upbeat and manner.upbeat:
        phrase.upbeat = _upbeat(manner, chance)
    _tie_over_bars(phrase, chance)
    _walk(phrase.notes(), manner, chance)
    if verses:
        _sing(phrase.notes(), verses, manner, chance)
    return phrase


def _bar(manner: Manner, last: bool, chance: Random) -> Bar:
    length = full(manner.meter)
    bar = Bar(length, manner.meter)
    rhythm = [Q(one) for one in chance.choice(_RHYTHMS[manner.meter])]
    if last:
        rest = beat_of(manner.meter) if manner.rests else Q(0)
        tail = manner.upbeat + (rest if manner.upbeat + rest < length else Q(0))
        rhythm = values_of(length - tail) if tail < length else []
        _fill(bar, rhythm, tied=True)
        bar.notes += [
            Note(length - tail + sum(values_of(tail)[:i], Q(0)), one, None)
            for i, one in enumerate(values_of(tail))
        ]
        return bar
    _fill(bar, rhythm, tied=False)
    return bar


def _fill(bar: Bar, rhythm: list[Fraction], tied: bool) -> None:
    at = Q(0)
    for length in rhythm:
        parts = values_of(length) if length.denominator != 3 else [length]
        for i, part in enumerate(parts):
            joins = (tied and at > 0) or i > 0
            note = Note(at, part, 0, triplet=part.denominator == 3, holds=joins, tied_from=joins)
            if joins:
                bar.notes[-1].tied = True
            bar.notes.append(note)
            at += part


def _upbeat(manner: Manner, chance: Random) -> list[Note]:
    unit = Q(1, 2)
    if manner.upbeat in (1, 2) and chance.random() < 0.6:
        unit = Q(1)
    count = int(manner.upbeat / unit)
    return [Note(unit * i - manner.upbeat, unit, 0, upbeat=True) for i in range(count)]


def _tie_over_bars(phrase: Phrase, chance: Random) -> None:
    for one, two in pairwise(phrase.bars):
        if chance.random() < 0.05 and one.notes and two.notes and two.notes[0].step is not None:
            one.notes[-1].tied = True
            two.notes[0].tied_from = two.notes[0].holds = True


def _walk(notes: list[Note], manner: Manner, chance: Random) -> None:
    """Gives the notes pitches of the key, by steps; ``manner.step`` is where the tune is."""
    scale = [0, 2, 4, -1, 1, 3, 5] if not manner.minor else [0, 2, -3, -1, 1, -4, -2]
    for note in notes:
        if note.step is None:
            continue
        if not note.tied_from:
            manner.step += chance.choice((-2, -1, -1, 0, 1, 1, 2))
            manner.step = max(-3, min(6, manner.step))
        note.step = manner.tonic + scale[manner.step % 7]
        note.octave = manner.step // 7


def _sing(notes: list[Note], verses: list[int], manner: Manner, chance: Random) -> None:
    """Puts the syllables of a line under the notes, for each verse."""
    sounding = [note for note in notes if note.step is not None]
    for i, note in enumerate(sounding):
        may = 0 < i < len(sounding) - 1 and not note.triplet
        note.holds = note.holds or (may and chance.random() < manner.melisma)
    slots = [note for note in sounding if not note.holds]
    end = chance.choice(manner.signs)
    for verse in verses:
        mine = list(slots)
        if verse > 1 and len(mine) > 4 and chance.random() < 0.12:
            del mine[chance.randrange(1, len(mine) - 1)]
        line = line_of(len(mine), manner.language, manner.capitals, end, chance)
        for note, syllable in zip(mine, _elided(line, mine, manner, chance), strict=True):
            note.sung[verse] = syllable


def _elided(
    line: list[Syllable], notes: list[Note], manner: Manner, chance: Random
) -> list[Syllable]:
    """The syllables of a line, a first word of the next sung on the same note here and there."""
    if manner.language not in ("it", "es", "fr") or len(notes) < 4:
        return line
    return [
        replace(one, second="e" if manner.language != "es" else "y")
        if not one.goes_on and one.text[-1].isalpha() and i and chance.random() < 0.06
        else one
        for i, one in enumerate(line)
    ]


# ---- chords


def harmonise(bars: list[Bar], manner: Manner, chance: Random) -> None:
    """Puts chords over the bars of a phrase, in the usual places."""
    last: Symbol | None = None
    for i, bar in enumerate(bars):
        for at in _places(bar, manner, i, chance):
            symbol = chord_in(manner.tonic, manner.minor, manner.rich, chance)
            if last and at == 0 and chance.random() < manner.again:
                symbol, last = last, None
            while symbol == last:
                symbol = chord_in(manner.tonic, manner.minor, manner.rich, chance)
            last = symbol
            bar.chords.append(Placed(at, symbol))
    for one, two in pairwise(bars):
        if one.meter in ((4, 4), (3, 4), (2, 4)) and chance.random() < manner.pushes:
            late = one.length - Q(1, 2)
            if two.chords and not two.chords[0].at and all(c.at < late for c in one.chords):
                one.chords.append(Placed(late, two.chords.pop(0).symbol))


def _places(bar: Bar, manner: Manner, index: int, chance: Random) -> list[Fraction]:
    beat, length = beat_of(bar.meter), bar.length
    number = int(length / beat)
    roll = chance.random()
    if index and roll < 0.12:
        return []
    if roll < 1 - manner.busy or number < 2:
        return [Q(0)]
    if bar.meter == (7, 8):
        return [Q(0), Q(2)]
    if bar.meter == (5, 4):
        return [Q(0), Q(3)]
    half = beat * (number // 2) if number % 2 == 0 else beat * (number - 1)
    pick = chance.random()
    if pick < 0.7:
        return [Q(0), half]
    if pick < 0.8 and number >= 3:
        return [Q(0), beat * (number - 1)]
    if pick < 0.85 and number == 4:
        return [Q(0), half, beat * 3]
    if pick < 0.9 and bar.meter in ((4, 4), (3, 4)):
        return [Q(0), Q(3, 2)]
    if pick < 0.93:
        return [half]
    if number <= 4:
        return [beat * i for i in range(number)]
    return [Q(0), half]
