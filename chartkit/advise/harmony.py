"""The kind of harmony of a song, as far as it decides where the song is played."""

from collections.abc import Callable, Sequence
from itertools import pairwise

from chartkit.advise.song import Song
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of
from chartkit.theory.quality import Quality

OPEN_KEYS: frozenset[tuple[int, bool]] = frozenset(
    [(0, False), (2, False), (4, False), (7, False), (9, False), (9, True), (4, True), (2, True)]
)
"""The keys of open shapes, C, D, E, G, A, A minor, E minor and D minor: the pitch class of the
tonic, and whether the third is minor (common practice, no source)."""


_MINOR = ("minor", "dorian", "phrygian", "locrian")


def is_open_key(key: Key) -> bool:
    """Whether players put a capo on to play the shapes of this key."""
    return (pitch_class_of(key.tonic), key.mode in _MINOR) in OPEN_KEYS


_COLOURED = (0.75, 0.95)
"""The share of time on chords of four tones and more at which a song begins to lie on closed grips,
and from which it does so fully (ours)."""
_CLOSED_CHORDS = 2
"""The fewest different chords that are rarely played with open strings (ours).  In a vamp of fewer
than four chords half of its chords are enough, and one is if nearly all chords have five tones."""
_DENSE = (0.3, 0.5)
"""The same for the share of time on such chords and on chords of five tones and more (ours)."""
_NEARLY_ALL = 0.8
"""The share of time on those that counts as nearly all (ours)."""
_ROOTS, _ROOTS_OF_BALLADS = 3, 2
"""A song moves through keys as a standard does if its ii-V pairs lead to this many roots, the
relative key not counted. The smaller number holds if all chords are sevenths or larger, or if
several are rarely played with open strings, as in a ballad.  Soul songs have pairs to their key and
its relative minor; swing songs are full of sixths (ours)."""
_CLOSED_IN_BALLADS = 3
"""The number of different chords rarely played with open strings in such a ballad (ours)."""
_SEVENTHS_OF_STANDARDS = (0.8, 1.0)
"""The share of time on sevenths and large chords, as ``_COLOURED``, in a song whose pairs lead to
so many roots: the more time swing spends on triads and sixths, the more it gains from open shapes
(ours)."""
_SEVENTHS = frozenset({"7", "b7", "bb7"})
_TENSE = frozenset({"b9", "#9", "#5", "b13", "#11", "bb7"})
_CLOSED = frozenset({"m6", "6/9", "m6/9", "m7(b5)", "m(maj7)", "dim7", "9", "13"})
_EXTENDED = 5
"""The fewest tones of a chord that is played on a closed grip as a rule (ours)."""
_MOSTLY = 0.5
"""From this degree on, a song is said to lie on closed grips (ours)."""


def closed_degree(song: Song) -> float:
    """How far a song is played on closed grips that lie anywhere on the neck, 0 to 1.

    Fully, where nearly all of it is on coloured chords and one of these holds; less, the more
    plain chords there are besides:

    - two chords or more with an altered tone, half-diminished, diminished, minor sixth, six-nine,
      dominant ninth or thirteenth (fewer in a vamp, one where nearly all chords have five tones,
      and none where all have, as in a vamp of minor ninths), and half of the time on these and on
      other chords of five tones;
    - ii-V pairs that lead to three roots or more besides the relative key's, to two where every
      chord has a seventh or three chords are of that kind;
    - sevenths throughout, with two of that kind among them, as in a bossa nova.

    Players of such songs use no capo; swing with triads and sixths among its sevenths gains from
    open shapes (common practice, no source).
    """
    coloured = _share(song, lambda quality: len(quality.degrees) > 3)
    degree = _ramp(coloured, _COLOURED)
    if not degree:
        return 0.0
    chords = frozenset((pitch_class_of(s.chord.root), s.chord.quality) for s in song.held_chords)
    qualities = [quality for _, quality in chords]
    return degree * max(_as_a_standard(song, qualities), _on_large_chords(song, qualities))


def is_closed_harmony(song: Song) -> bool:
    """Whether a song is played mostly on closed grips: ``closed_degree`` is at least a half."""
    return closed_degree(song) >= _MOSTLY


def _as_a_standard(song: Song, qualities: Sequence[Quality]) -> float:
    """How far a song lies on closed grips by its ii-V pairs or by its sevenths throughout.

    ``qualities`` has one entry for each different chord.
    """
    of_ballads = sum(
        _closed(quality) and quality.text != "dim7"  # swing has these too
        for quality in qualities
    )
    roots = len(_two_five_roots(song))
    sevenths = _share(song, lambda quality: _has_seventh(quality) or _dense(quality))
    throughout = all(map(_has_seventh, qualities))
    if throughout and (of_ballads >= _CLOSED_CHORDS or roots >= _ROOTS_OF_BALLADS):
        return 1.0
    if of_ballads >= _CLOSED_IN_BALLADS and roots >= _ROOTS_OF_BALLADS:
        return 1.0
    return _ramp(sevenths, _SEVENTHS_OF_STANDARDS) if roots >= _ROOTS else 0.0


def _on_large_chords(song: Song, qualities: Sequence[Quality]) -> float:
    """The same by its chords of five tones and its altered ones."""
    if all(map(_dense, qualities)):
        return 1.0
    dense = _share(song, _dense)
    closed = sum(map(_closed, qualities))
    enough = 1.0 if dense >= _NEARLY_ALL else min(_CLOSED_CHORDS, len(qualities) / 2)
    return _ramp(dense, _DENSE) if closed >= enough else 0.0


def _share(song: Song, wanted: Callable[[Quality], bool]) -> float:
    """The share of time, 0 to 1, on chords whose quality is wanted."""
    return sum(s.beats for s in song.held_chords if wanted(s.chord.quality)) / song.beats


def _ramp(share: float, ends: tuple[float, float]) -> float:
    """0 up to the first end, 1 from the second one, and in proportion between them."""
    low, high = ends
    return min(1.0, max(0.0, (share - low) / (high - low)))


def _has_seventh(quality: Quality) -> bool:
    return bool(_SEVENTHS & set(quality.degrees))


def _two_five_roots(song: Song) -> frozenset[int]:
    """The roots to which pairs of a minor seventh and a dominant a fourth higher lead.

    They are where the pair would resolve, whether or not it does; the relative minor of a major key
    and the relative major of a minor one are left out.
    """
    return frozenset(
        pitch_class_of(five.chord.root - 1)
        for two, five in pairwise(song.held_chords)
        if {"b3", "b7"} <= set(two.chord.quality.degrees)
        and {"3", "b7"} <= set(five.chord.quality.degrees)
        and pitch_class_of(five.chord.root) == pitch_class_of(two.chord.root - 1)
        and pitch_class_of(five.chord.root - 1) != _relative(song.keys[five.area])
    )


def _relative(key: Key) -> int:
    """The pitch class of the relative minor's or major's tonic."""
    return pitch_class_of(key.tonic + (-3 if key.mode in _MINOR else 3))


_POWER_SHARE = 0.9
"""The least share of the time on power chords of a song of power chords (ours)."""


def is_power_chords(song: Song) -> bool:
    """Whether nearly all of a song is power chords: one grip that slides, so that a capo gains
    nothing (common practice, no source)."""
    power = sum(s.beats for s in song.held_chords if s.chord.quality.text == "5")
    return power >= _POWER_SHARE * song.beats


_LOW_E = 4
_LOW_STRINGS = frozenset({_LOW_E, 9})
"""The pitch classes of the open E and A strings."""


def is_riff_on_open_string(song: Song, home: Key) -> bool:
    """Whether shapes in this key put a song of power chords on an open E or A string: riffs are
    played on a guitar tuned down to the singer's key for that (common practice, no source)."""
    return is_power_chords(song) and pitch_class_of(home.tonic) in _LOW_STRINGS


def is_on_low_e(home: Key) -> bool:
    """Whether shapes in this key have the open low E string for their root: for those whole bands
    tune down a half step (common practice, no source)."""
    return pitch_class_of(home.tonic) == _LOW_E


def lies_anywhere(song: Song) -> float:
    """How far a song is played on grips that lie anywhere on the neck, where no capo helps: 0 to
    1."""
    return 1.0 if is_power_chords(song) else closed_degree(song)


def _dense(quality: Quality) -> bool:
    return _closed(quality) or len(quality.degrees) >= _EXTENDED


def _closed(quality: Quality) -> bool:
    return quality.text in _CLOSED or bool(_TENSE & set(quality.degrees))
