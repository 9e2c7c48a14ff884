"""How hard a song's chords are to play, judged by its vocabulary and its changes.

Source for what counts: M. Velez Vasquez, M. Baelemans, J. Driedger, W. Zuidema, J. A. Burgoyne,
"Quantifying the Ease of Playing Song Chords on the Guitar", ISMIR 2023.  On their rated songs
the number of distinct chords, how uncommon they are, how their shapes lie and how fast they
change rank songs as experts do; means over time hide the hard chord of a song.  The weights
are ours, set by reason, not fitted to ratings: the index compares songs roughly, and the
figures stand beside it.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import log2

from chartkit.advise.ranked import RankedOption, ShapeUse
from chartkit.advise.song import Song
from chartkit.fretboard.grip_tables import chord_of_symbol
from chartkit.fretboard.hand import OPEN_POSITION, THUMB
from chartkit.fretboard.voicing import Voicing
from chartkit.theory.chord import Chord
from chartkit.theory.note import pitch_class_of
from chartkit.theory.quality import BY_SPELLING

_TWENTY = "A Am A7 Am7 B7 C C7 Cadd9 D Dm D7 Dsus4 E Em E7 Em7 F Fmaj7 G G7"
BEGINNERS_TWENTY: tuple[Chord, ...] = tuple(chord_of_symbol(name) for name in _TWENTY.split())
"""The chords of a player's first year (common practice, no source); F as a small shape."""

DIFFICULTY_SCALE = "up to 4 a beginner's song, from 15 a hard one"
"""The scale of the index: of 140 songs of our own, nearly all on three or four open chords
lie below 4, and those of eight closed jazz chords between 12 and 16."""

_HIGH_UP = 5
"""From this fret on, counted from the capo, a whole shape lies up the neck (ours)."""

MOST_PRACTISED = 3
"""How many chords a player is advised to practise first (ours)."""


@dataclass(frozen=True, slots=True)
class DifficultyWeights:
    """The weight of each figure in the index (ours, by judgement).

    ``grip`` for each distinct shape and ``grip_cost`` for what the hand pays for it;
    ``unknown`` for each chord outside the player's list, as much as two easy shapes more;
    ``kind`` for each kind of chord after the first; ``change`` for each different change
    past one for each shape; ``speed`` for each doubling of the fastest usual change past one
    in four beats, or past 25 a minute where the tempo is known.
    """

    grip: float = 0.35
    grip_cost: float = 0.30
    unknown: float = 0.70
    kind: float = 0.50
    change: float = 0.06
    speed: float = 0.50


@dataclass(frozen=True, slots=True)
class Practice:
    """A chord worth practising: the shape, how it is played, and why in a few words."""

    shape: Chord
    voicing: Voicing | None
    why: str


@dataclass(frozen=True, slots=True)
class Difficulty:
    """How hard the chords of a song are, as played with one option.

    ``index`` is without unit: some 1 for two easy chords, up to 4 for a beginner's song, 10 for one
    with barres, 15 and more for jazz.
    ``distinct_shapes`` to know (power chords that slide are one), ``unknown_shapes`` those outside
    the player's list, ``kinds`` of chord (major, minor seventh …), ``vocabulary_cost`` what the
    hand pays for all distinct shapes together, ``distinct_changes`` the different changes from
    shape to shape.
    ``changes_per_beat`` and, where the tempo is known, ``changes_per_minute`` are means;
    ``fastest_beats`` is how long the tenth of the chords that goes by fastest lasts at most.
    ``repetition`` is the share of changes that were played before, 0 to 1.  ``effort`` is the
    mean of the hand's effort.  ``practise`` names up to three chords to practise first.
    """

    index: float
    distinct_shapes: int
    unknown_shapes: int
    kinds: int
    vocabulary_cost: float
    distinct_changes: int
    changes_per_beat: float
    changes_per_minute: float | None
    fastest_beats: float
    repetition: float
    effort: float
    practise: tuple[Practice, ...]


def difficulty_of(
    song: Song,
    option: RankedOption,
    known: Iterable[Chord] | None = None,
    weights: DifficultyWeights | None = None,
) -> Difficulty:
    """The difficulty of a song as played with one option.

    ``known`` are the chords that the player knows as shapes, ``BEGINNERS_TWENTY`` for None.
    """
    sounds = {_sound(chord) for chord in (BEGINNERS_TWENTY if known is None else known)}
    known_first = sorted(option.shapes, key=lambda use: not _is_known(use.shape, sounds))
    uses = _distinct(known_first)
    unknown = [use for use in uses if not _is_known(use.shape, sounds)]
    changes = list(pairwise(voicing and voicing.frets for voicing in option.voicings))
    rate = song.changes / song.beats
    measured = Difficulty(
        index=0.0,
        distinct_shapes=len(uses),
        unknown_shapes=len(unknown),
        kinds=len({use.shape.quality for use in uses}),
        vocabulary_cost=sum(grip_cost(use.voicing) for use in uses),
        distinct_changes=len(set(changes)),
        changes_per_beat=rate,
        changes_per_minute=None if song.tempo is None else rate * song.tempo,
        fastest_beats=_fastest_beats(song),
        repetition=1 - len(set(changes)) / len(changes) if changes else 0.0,
        effort=option.measures.effort,
        practise=_to_practise(uses, unknown),
    )
    return replace(measured, index=_index(measured, song.tempo, weights or DifficultyWeights()))


def _index(measured: Difficulty, tempo: int | None, weights: DifficultyWeights) -> float:
    return (
        weights.grip * measured.distinct_shapes
        + weights.grip_cost * measured.vocabulary_cost
        + weights.unknown * measured.unknown_shapes
        + weights.kind * (measured.kinds - 1)
        + weights.change * max(0, measured.distinct_changes - measured.distinct_shapes)
        + weights.speed * _speed(measured.fastest_beats, tempo)
    )


_NO_SHAPE = 5.0
"""The cost of a chord that the instrument cannot play, more than the hardest grip (ours)."""
_UP_THE_NECK = 0.15
"""The cost of each fret past the open position when learning a grip (ours)."""


def grip_cost(voicing: Voicing | None) -> float:
    """The cost of learning one grip: its effort, and its place on the neck."""
    if voicing is None:
        return _NO_SHAPE
    highest = max((fret for fret in voicing.frets if fret), default=0)
    return voicing.effort + _UP_THE_NECK * max(0, highest - OPEN_POSITION)


def _sound(chord: Chord) -> tuple[object, ...]:
    """The identity of a chord, however it is spelled; its bass is left to the bass player."""
    return pitch_class_of(chord.root), chord.quality


_POWER = "5"
_WITH_THIRDS = (BY_SPELLING["maj"], BY_SPELLING["m"])


def _is_known(shape: Chord, sounds: Collection[tuple[object, ...]]) -> bool:
    """Whether the player knows a chord; a player who knows E or E minor can play E5 with two of its
    fingers."""
    root, quality = pitch_class_of(shape.root), shape.quality
    if quality.text == _POWER:
        return any((root, whole) in sounds for whole in (quality, *_WITH_THIRDS))
    return (root, quality) in sounds


def _distinct(shapes: Sequence[ShapeUse]) -> list[ShapeUse]:
    """The shapes without repeats: another spelling is not another shape to learn, and power chords
    that are the same grip on other frets or strings count once."""
    uses: dict[tuple[object, ...], ShapeUse] = {}
    for use in shapes:
        bass = None if use.shape.bass is None else pitch_class_of(use.shape.bass)
        frets = None if use.voicing is None else use.voicing.frets
        grip = None if use.voicing is None else _sliding_grip(use.shape, use.voicing)
        uses.setdefault(grip or (*_sound(use.shape), bass, frets), use)
    return list(uses.values())


def _sliding_grip(shape: Chord, voicing: Voicing) -> tuple[int, ...] | None:
    """A power chord's frets counted from its lowest one, which stay the same when it slides; None
    for other chords.

    Strings a fourth apart have the same grip; two fingers on open strings are another.
    """
    pressed = [fret for fret in voicing.frets if fret is not None]
    if shape.quality.text != _POWER or 0 in pressed or shape.bass is not None:
        return None
    return tuple(fret - min(pressed) for fret in pressed)


_FASTEST_SHARE = 0.1
"""The share of the chords, the shortest first, that counts as the fastest usual change (ours)."""
_USUAL_BEATS, _USUAL_A_MINUTE = 4.0, 25.0
"""The beats between two changes and the changes a minute that are no difficulty (ours)."""


def _fastest_beats(song: Song) -> float:
    """How many beats the fastest tenth of the chords last at most."""
    lasting = sorted(held.beats for held in song.held_chords)
    return lasting[int(_FASTEST_SHARE * (len(lasting) - 1))]


def _speed(fastest_beats: float, tempo: int | None) -> float:
    """Doublings of the fastest usual change past one in four beats, or 25 a minute."""
    usual = _USUAL_BEATS / fastest_beats
    if tempo is not None:
        usual = tempo / fastest_beats / _USUAL_A_MINUTE
    return log2(max(1.0, usual))


def _to_practise(uses: Sequence[ShapeUse], unknown: Sequence[ShapeUse]) -> tuple[Practice, ...]:
    """The hardest chords first, those outside the player's list before the others."""

    def hardness(use: ShapeUse) -> tuple[bool, float, float]:
        return use not in unknown, -round(grip_cost(use.voicing), 6), -round(use.share, 9)

    worth = [use for use in uses if use in unknown or grip_cost(use.voicing) >= 1]
    first = sorted(worth, key=hardness)[:MOST_PRACTISED]
    return tuple(Practice(use.shape, use.voicing, _why(use)) for use in first)


_LONG = 0.3
"""From this share of the song on, a chord is called most of it (ours)."""


def _why(use: ShapeUse) -> str:
    if use.voicing is None:
        return "no shape on this instrument"
    reasons = []
    if use.voicing.barre is not None and use.voicing.barre[2] > use.voicing.barre[1] + 1:
        reasons.append("a barre")
    if THUMB in use.voicing.fingers:
        reasons.append("the thumb over the neck")
    if set(use.voicing.fingers) >= {1, 2, 3, 4}:
        reasons.append("all four fingers")
    if min((fret for fret in use.voicing.frets if fret), default=0) >= _HIGH_UP:
        reasons.append("up the neck")
    return ", ".join(reasons) or ("new to the hand" if use.share < _LONG else "most of the song")
