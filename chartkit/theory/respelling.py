"""The spelling a writer means by a root or a bass that is written simply.

Writers avoid double flats, and C flat and F flat where they can: in D flat major they write the
flat six as A and the minor four as F sharp minor, where B double flat and G flat minor are meant
(transcribers fold roots the same way: among 112,307 of a published corpus none is double).  Moved
as written, A would become G sharp in C; so it is first read as meant.  A spelling changes only if
the writer can hardly have meant it: in C a G sharp chord stays, and so do the sharp four and every
diminished chord on a raised step, which leads upwards.
"""

from dataclasses import replace

from chartkit.theory.chord import Chord, moved_chord, simple_chord, with_plain_root
from chartkit.theory.key import Key
from chartkit.theory.note import accidentals_of
from chartkit.theory.quality import DEGREE_PLACES, Quality

_FARTHEST = 6
"""The sharp four and the flat five are the farthest places from a tonic with a use."""
_ENHARMONIC = 12


_BASS_TONES = ("3", "b3", "5", "b7", "7")
"""The tones of a chord that writers put into the bass under another name (C#/F, E/Ab)."""


def intended_chord(chord: Chord, key: Key) -> Chord:
    """The chord respelled as the key asks.

    A bass that sounds a tone of the chord is read as that tone: C#/F means C sharp over E sharp.
    Moved as written it would become A over D flat.
    """
    root = _meant_root(chord, key)
    bass = chord.bass
    if bass is not None:
        moved = bass + root - chord.root
        bass = _meant_bass(min(bass, moved, key=lambda note: abs(note - root)), root, chord.quality)
    if root == chord.root and bass == chord.bass:
        return chord
    return replace(chord, root=root, bass=bass)


def _meant_bass(bass: int, root: int, quality: Quality) -> int:
    tones = (root + DEGREE_PLACES[degree] for degree in _BASS_TONES if degree in quality.degrees)
    return next((tone for tone in tones if (tone - bass) % _ENHARMONIC == 0), bass)


def leads_up(chord: Chord) -> bool:
    """Whether it is diminished, and so may lead up to the chord a half step higher."""
    return {"b3", "b5"} <= {*chord.quality.degrees}


def _meant_root(chord: Chord, key: Key) -> int:
    root, place = chord.root, chord.root - key.tonic
    leading = leads_up(chord)
    if place > _FARTHEST and not leading and _plainer(root, root - _ENHARMONIC, key):
        return root - _ENHARMONIC
    far_down = place < -_FARTHEST or (place == -_FARTHEST and leading and root not in key.scale)
    if far_down and _plainer(root, root + _ENHARMONIC, key):
        return root + _ENHARMONIC
    return root


def _plainer(written: int, meant: int, key: Key) -> bool:
    """Whether the written name is the plainer one, or goes against the key's own signs."""
    against = accidentals_of(written) * key.signature < 0
    return abs(accidentals_of(meant)) > abs(accidentals_of(written)) or against


# ---- chords of a key that move with it
_HALF_STEP_UP = -5
"""The diatonic half step upwards on the line of fifths, E sharp to F sharp."""


def printed_chord(chord: Chord, key: Key, interval: int) -> Chord:
    """A chord of a written key moved by an interval, as it is printed.

    A chord that stays keeps its spelling; one that moves is first respelled as it was meant.  A
    root outside the key becomes C flat, F flat, E sharp or B sharp only if the writer named it so,
    if moved back another chord would come, or in a diminished chord that leads up to a step of the
    key, as E sharp does in F sharp minor: otherwise nobody reads these on a stand (common practice,
    no source).  Moved back, the chord is always the one written.
    """
    if not interval:
        return chord
    moved, there = _moved_exactly(chord, key, interval), replace(key, tonic=key.tonic + interval)
    plain = with_plain_root(moved)
    if plain == moved or moved.root in there.scale or with_plain_root(chord) != chord:
        return moved
    if leads_up(moved) and moved.root + _HALF_STEP_UP in there.scale:
        return moved
    back = _moved_exactly(plain, there, -interval)
    return plain if chord in (back, with_plain_root(back)) else moved


def _moved_exactly(chord: Chord, key: Key, interval: int) -> Chord:
    """The chord moved as it was meant, doubles aside."""
    return simple_chord(moved_chord(intended_chord(chord, key), interval))
