"""A low D under a song of D shapes: the lowest string tuned down a whole step.

Players do so where D or D minor is home, so that its root rings on the lowest string (common
practice, no source).  It is offered, never ranked: one string is retuned by hand between songs,
and low chords are fingered anew, so these must be few.
"""

from collections.abc import Callable

from chartkit.advise.option import options
from chartkit.advise.ranked import RankedOption
from chartkit.advise.ranking import Advice, played_option
from chartkit.advise.settings import AdviceSettings
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR, instrument_named
from chartkit.fretboard.store import BoardStore, shared_boards
from chartkit.theory.note import pitch_class_of

DROP_D: Instrument = instrument_named("drop D")

WORTH_RETUNING = 0.1
"""The song must score this much higher than in its best place to be worth a retuned string
(ours)."""
_D = 2
_LOW_CAPO = 5
_OPEN_TO_PRESSED = 2
"""How many times longer the low D must ring open than it is pressed (ours)."""


def best_in_drop_d(
    advice: Advice, settings: AdviceSettings | None = None, boards: BoardStore | None = None
) -> RankedOption | None:
    """The song played with D shapes in drop D; None if that gains too little.

    Only on a guitar in its usual tuning, and only where D shapes lie at a low capo or none.
    """
    settings, boards = settings or AdviceSettings(), boards or shared_boards()
    if advice.best is None or advice.instrument.open_pitches != GUITAR.open_pitches:
        return None
    home = pitch_class_of(advice.song.keys[0].tonic)
    for option in options(settings):
        if option.tuned_down or option.fret > _LOW_CAPO or (home - option.fret) % 12 != _D:
            continue
        played = played_option(advice.song, option, DROP_D, settings, None, boards)
        gain = played.score - advice.best.score
        pressed = _share(advice, played, bool)
        if gain >= WORTH_RETUNING and _low_share(advice, played) > _OPEN_TO_PRESSED * pressed:
            return played
    return None


def drop_d_offer(advice: Advice, played: RankedOption) -> str:
    """The offer in words."""
    where = "no capo" if not played.option.fret else str(played.option)
    return (
        f"With the lowest string tuned down to D and {where}, a low D rings for "
        f"{_low_share(advice, played):.0%} of the time; chords with their root on that string lie "
        'two frets higher (--instrument "drop D").'
    )


def _low_share(advice: Advice, played: RankedOption) -> float:
    """The share of time on shapes in which the lowest string sounds open."""
    return _share(advice, played, lambda fret: fret == 0)


def _share(advice: Advice, played: RankedOption, counts: Callable[[int | None], bool]) -> float:
    """The share of time on shapes whose fret on the lowest string counts."""
    pairs = zip(advice.song.held_chords, played.voicings, strict=True)
    beats = sum(s.beats for s, v in pairs if v is not None and counts(v.frets[0]))
    return beats / advice.song.beats
