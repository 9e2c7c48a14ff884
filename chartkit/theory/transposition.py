"""Which key a song goes to, spelled as a musician would.

An interval is a place on the line of fifths.  It is chosen once for each key area, from
the tonic the writer named to the tonic of the new key, and then added to every root, bass
and chord tone of that area, so the writer's own choices outside the key survive: a sharp
four stays a sharp four.
"""

from collections.abc import Iterable

from chartkit.theory.chord import Chord, accidental_count, moved_chord
from chartkit.theory.key import Key, spellings
from chartkit.theory.note import pitch_class_of


def key_moved_by(
    key: Key, semitones: int, chords: Iterable[Chord] = (), preferred: int | None = None
) -> Key:
    """The key that many semitones away, in its usual spelling.

    ``chords`` are the song's chords as they stand in ``key``.  The fewest signs win.  Only
    F sharp / G flat major and D sharp / E flat minor (and the modes with the same
    signatures) are left open by that, six signs each; there the song's own chords decide:
    the spelling in which their roots and basses carry fewer accidentals, doubles counting
    twice, and if they are even, the side on which ``key`` itself lies, flats for a key with
    no signs.  Where a song has several keys, ``preferred`` is the interval, in fifths, that another
    of them has moved by: of two open spellings the one in the same direction wins, so that the
    areas of a song stay together.
    Source of the sum rule (two spellings' signatures add to twelve): M. Gardner,
    *Essentials of Music Theory*.
    """
    if semitones % 12 == 0:
        return key
    candidates = spellings(pitch_class_of(key.tonic) + semitones, key.mode)
    fewest = min(abs(candidate.signature) for candidate in candidates)
    usual = [candidate for candidate in candidates if abs(candidate.signature) == fewest]
    if len(usual) == 1:
        return usual[0]
    song = tuple(dict.fromkeys(chords))

    def clutter(candidate: Key) -> tuple[bool, int, bool]:
        interval = candidate.tonic - key.tonic
        astray = preferred is not None and interval != preferred
        signs = sum(accidental_count(moved_chord(chord, interval)) for chord in song)
        return astray, signs, (candidate.signature > 0) != (key.signature > 0)

    return min(usual, key=clutter)


def semitones_between(old: Key, new: Key) -> int:
    """How far up, 0 to 11, the new tonic lies above the old one."""
    return (pitch_class_of(new.tonic) - pitch_class_of(old.tonic)) % 12


def plain_interval(semitones: int) -> int:
    """The major, minor or perfect interval of so many half steps up, or the augmented fourth, in
    places on the line of fifths, -5 to 6, octaves dropped: 9 half steps are a major sixth, three
    fifths up."""
    return (7 * semitones + 5) % 12 - 5
