"""Everyday substitutions: offered where they spare barres or a capo, never forced.

What players do (common practice, no source): a dominant's seventh for its triad, B7 for B; a
colour over ringing strings for a barre, C sharp minor seventh x46600; slash basses left to the
bass player; triads for sevenths.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from chartkit.advise.drop_d import best_in_drop_d, drop_d_offer
from chartkit.advise.good_places import is_good
from chartkit.advise.harmony import is_closed_harmony
from chartkit.advise.ranked import RankedOption, ShapeUse
from chartkit.advise.ranking import Advice, in_order, played_option
from chartkit.advise.reasons import chord_name, shape_key_name
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song
from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.instrument import under_capo
from chartkit.fretboard.store import BoardStore, shared_boards
from chartkit.fretboard.voicing import Voicing
from chartkit.phrases import listed
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of
from chartkit.theory.quality import BY_SPELLING

FEWER_BARRES = 0.1
"""The least share of the time on barres that a substitution must save to be offered (ours)."""
MOST_OFFERED = 3
_DOMINANT = 7

_PLAINER = {
    "maj7": "",
    "maj9": "",
    "6": "",
    "6/9": "",
    "add9": "",
    "m7": "m",
    "m9": "m",
    "m11": "m",
    "m6": "m",
    "m(add9)": "m",
    "9": "7",
    "13": "7",
    "7(b9)": "7",
    "7(#9)": "7",
    "7sus4": "sus4",
    "9sus4": "sus4",
    "11": "sus4",
    "7(#5)": "7",
    "m7(b5)": "dim",
    "dim7": "dim",
    "maj7(#11)": "",
}
"""The plainer chord that stands in for one with more tones."""


@dataclass(frozen=True, slots=True)
class Substitution:
    """One offer: what is played for what, where, and what that does.

    ``chords`` are shapes with what replaces them and, where it matters, the frets, none where only
    the tuning changes; ``option``
    the place it is offered for, ``barres`` the time left on barres there, ``good`` whether the
    place is good then.
    """

    chords: tuple[tuple[Chord, Chord, Voicing | None], ...]
    option: Capo
    barres: float
    good: bool
    text: str


def substitutions_for(
    advice: Advice, settings: AdviceSettings | None = None, boards: BoardStore | None = None
) -> tuple[Substitution, ...]:
    """The substitutions worth offering for a ranked song, at most three; empty if there are
    none."""
    settings, boards = settings or AdviceSettings(), boards or shared_boards()
    if advice.best is None or advice.no_capo is None:
        return ()
    places = list(dict.fromkeys((advice.best, advice.no_capo)))
    offers = [*_reduced(advice, settings, boards)]
    for place in places:
        under = under_capo(advice.instrument, place.option)
        board = boards.board(under, place.option.fret, place.option.tuned_down)
        ringing = _over_ringing_strings(place, board)
        offers += [
            substitution for substitution in ringing if substitution.good or place is advice.best
        ]
    low = best_in_drop_d(advice, settings, boards)
    if low is not None:
        barres, good = low.measures.barres, is_good(low)
        offers.append(Substitution((), low.option, barres, good, drop_d_offer(advice, low)))
    return tuple(offers[:MOST_OFFERED])


def _reduced(
    advice: Advice, settings: AdviceSettings, boards: BoardStore
) -> Iterator[Substitution]:
    """Offers without slash basses, and with triads for sevenths, if that changes the best place or
    its score. Jazz and bossa get no triads: without its colours such a song is another one.
    """
    assert advice.best is not None
    colours_stay = advice.good or is_closed_harmony(advice.song)
    for words, change in (("the slash basses", _without_bass), ("colours", _plainer)):
        song = _changed(advice.song, change)
        if song == advice.song or (colours_stay and change is _plainer):
            continue
        wanted = [NO_CAPO] if advice.good else [placed.option for placed in advice.options]
        played = [
            played_option(song, option, advice.instrument, settings, None, boards)
            for option in dict.fromkeys(wanted)
        ]
        best = in_order(played)[0]
        old = next(placed for placed in advice.options if placed.option == best.option)
        moved = advice.good and advice.best.option != NO_CAPO and best.score > advice.best.score
        if is_good(best) and (moved or not advice.good):
            chords = _differences(old.shapes, change)
            yield Substitution(
                chords,
                best.option,
                best.measures.barres,
                good=True,
                text=_reduced_words(words, best, chords),
            )


Change = Callable[[Chord], Chord]


def _without_bass(chord: Chord) -> Chord:
    return replace(chord, bass=None)


def _plainer(chord: Chord) -> Chord:
    plain = _PLAINER.get(chord.quality.text)
    return chord if plain is None else replace(chord, quality=BY_SPELLING[plain or "maj"])


def _changed(song: Song, change: Change) -> Song:
    """The song with other chords; neighbours that become equal are merged."""
    held_chords = list(song.held_chords[:0])
    for held in song.held_chords:
        chord = change(held.chord)
        last = held_chords[-1] if held_chords else None
        if last is not None and last.chord == chord and last.area == held.area:
            held_chords[-1] = replace(last, beats=last.beats + held.beats)
        else:
            held_chords.append(replace(held, chord=chord))
    return replace(song, held_chords=tuple(held_chords))


def _differences(
    shapes: Sequence[ShapeUse], change: Change
) -> tuple[tuple[Chord, Chord, None], ...]:
    changed = ((use.shape, change(use.shape), None) for use in shapes)
    return tuple(dict.fromkeys(pair for pair in changed if pair[0] != pair[1]))


def _reduced_words(
    words: str, best: RankedOption, chords: tuple[tuple[Chord, Chord, None], ...]
) -> str:
    place = "the song plays well without a capo"
    if best.option != NO_CAPO:
        place = f"{best.option} is good"
    place = f"{place} ({shape_key_name(best)} shapes)"
    names = listed([chord_name(old) for old, _, _ in chords[:_MOST_NAMED]])
    more = len(chords) - _MOST_NAMED
    if more > 0:
        names = f"{names} and {more} more"
    if words == "colours":
        pairs = ", ".join(f"{chord_name(new)} for {chord_name(old)}" for old, new, _ in chords[:2])
        return f"With plainer chords ({pairs}{' …' if len(chords) > 2 else ''}), {place}."
    return f"Leave {words} ({names}) to the bass player, and {place}."


_MOST_NAMED = 3
"""The most slash chords that an offer names (ours)."""


def _over_ringing_strings(place: RankedOption, board: Fretboard) -> Iterator[Substitution]:
    """Open shapes for the barres of a place: the dominant's seventh, or a colour."""
    stand_ins: dict[Chord, tuple[Chord, Voicing]] = {}
    measures = place.measures
    spared, opened, effort = 0.0, measures.open_share, measures.effort
    for use in place.shapes:
        if use.voicing is None or not use.voicing.has_wide_barre:
            continue
        stand_in = _stand_in(use.shape, place.shape_keys[0], board)
        if stand_in is not None:
            stand_ins.setdefault(use.shape, stand_in)
            voicing = stand_in[1]
            spared += use.share
            opened += use.share * voicing.in_open_position
            effort += use.share * (voicing.effort - use.voicing.effort)
    if spared < FEWER_BARRES:
        return
    left = measures.barres - spared
    then = replace(measures, barres=left, open_share=opened, effort=effort)
    chords = tuple((old, new, voicing) for old, (new, voicing) in stand_ins.items())
    good = is_good(replace(place, measures=then))
    yield Substitution(chords, place.option, left, good, _ringing_words(place.option, chords, left))


def _ringing_words(
    place: Capo, chords: tuple[tuple[Chord, Chord, Voicing], ...], left: float
) -> str:
    pairs = listed([f"{chord_name(n)} {v} for {chord_name(o)}" for o, n, v in chords])
    where = "Without a capo" if place == NO_CAPO else f"With {place}"
    barres = "no barre is left" if left < _NONE_LEFT else f"barres fall to {left:.0%} of the time"
    return f"{where}, playing {pairs}, {barres}."


_NONE_LEFT = 0.005
"""A smaller share of the time on barres would be printed as 0% (ours)."""


def _stand_in(chord: Chord, key: Key, board: Fretboard) -> tuple[Chord, Voicing] | None:
    """An open shape that players put in the place of a barre, and the chord it is."""
    for text in _colours(chord, key):
        other = Chord(chord.root, BY_SPELLING[text], chord.bass)
        for voicing in board.voicings(other):
            known = "known_grip" in voicing.explained
            if known and voicing.open_strings and not voicing.has_wide_barre:
                return other, voicing
    return None


def _colours(chord: Chord, key: Key) -> tuple[str, ...]:
    """The kinds that may stand in for a chord of a key."""
    above = pitch_class_of(chord.root - key.tonic)
    if chord.quality.text == "":
        return ("7", "sus4") if above == _DOMINANT else ("2", "sus4")
    return ("m7", "m11") if chord.quality.text == "m" else ()
