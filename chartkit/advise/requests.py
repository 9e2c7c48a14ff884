"""A chart's own wishes for the adviser: its instrument, the player's own shapes."""

from collections.abc import Mapping
from functools import cache

from chartkit.chart.model import Chart, GivenShape
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR, chosen_instrument, instrument_named
from chartkit.fretboard.player_shape import why_unusable
from chartkit.fretboard.store import BoardStore
from chartkit.fretboard.voicing_cache import cache_folder
from chartkit.theory.chord import Chord
from chartkit.theory.shape_text import Frets


def instrument_of(chart: Chart, asked: str | None = None) -> Instrument:
    """The instrument asked for, else the chart's if the program knows it, else a guitar.

    Raises ValueError if the instrument asked for is unknown.
    """
    if asked is not None:
        return instrument_named(asked)
    return chosen_instrument(chart.text("instrument"))


def own_shapes(chart: Chart, instrument: Instrument | None = None) -> dict[Chord, Frets]:
    """The player's own fingerings that the chart gives, by shape.

    With an instrument, only those that are played on it; ``unusable_shapes``, with the chart's own
    instrument as home, gives the others.
    """
    given = {
        row.value.chord: row.value.frets
        for row in chart.shapes()
        if isinstance(row.value, GivenShape)
    }
    if instrument is None:
        return given
    passed_over = unusable_shapes(given, instrument, instrument_of(chart))
    return {chord: frets for chord, frets in given.items() if chord not in passed_over}


def unusable_shapes(
    own: Mapping[Chord, Frets], instrument: Instrument, home: Instrument = GUITAR
) -> dict[Chord, str]:
    """The player's own shapes that are passed over on that instrument, and why, in words.

    ``home`` is the instrument that they were written for.  A shape that reaches past the
    end of the neck under some capo is passed over there, and is not among these.
    """
    reasons = {chord: why_unusable(instrument, chord, frets, home) for chord, frets in own.items()}
    return {chord: "; ".join(problems) for chord, problems in reasons.items() if problems}


@cache
def boards_on_disk(thumb: bool = False) -> BoardStore:
    """The fretboards of this run, kept in the user's own cache folder if there is one.

    ``thumb`` is for a hand that reaches over the neck with it.
    """
    return BoardStore(cache_folder(), hand=Hand(thumb=thumb))
