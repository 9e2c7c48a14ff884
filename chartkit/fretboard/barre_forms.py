"""The movable barre forms, derived rather than listed.

Where a chord's root can be an open bass string, its best easy open shape (three fingers at
most, so that the index is free for the nut's work) slides up: the barre forms of E and A
shapes that every player knows are exactly these (common practice, no source).
"""

from collections.abc import Callable, Iterable

from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.patterns import window_patterns
from chartkit.fretboard.search_hit import SearchHit
from chartkit.fretboard.tones import Tones
from chartkit.theory.shape_text import Frets

_BASS_STRINGS = 2
"""Forms rest on the two lowest strings."""
_EASY_FINGERS = 3
_OPEN_POSITION = 4

Playable = Callable[[Tones, Iterable[Frets]], "list[SearchHit]"]
"""Patterns to those a hand can play, priced without the credit for movable forms."""


def open_forms(instrument: Instrument, tones: Tones, playable: Playable) -> tuple[Frets, ...]:
    """The easy open shapes of the chord's kind that slide, one for each low bass string."""
    if tones.bass != tones.root or not instrument.bass_counts:
        return ()
    forms = []
    for string in range(min(_BASS_STRINGS, len(instrument.strings))):
        moved = tones.moved(instrument.open_pitches[string] % 12 - tones.bass)
        patterns = [
            frets
            for lowest in range(_OPEN_POSITION)
            for frets in window_patterns(instrument, moved, lowest, window=_OPEN_POSITION)
            if _opens_on(frets, string)
        ]
        easy = [f for f in playable(moved, patterns) if len(f.fingering.presses) <= _EASY_FINGERS]
        if easy:
            forms.append(min(easy, key=lambda hit: hit.order).frets)
    return tuple(dict.fromkeys(forms))


def _opens_on(frets: Frets, string: int) -> bool:
    """Whether the lowest string played is that one, open, and nothing lies far up."""
    below = all(fret is None for fret in frets[:string])
    return below and frets[string] == 0 and max(f or 0 for f in frets) < _OPEN_POSITION


def moved_up(form: Frets, frets_up: int) -> Frets:
    """The form that many frets up."""
    return tuple(None if fret is None else fret + frets_up for fret in form)
