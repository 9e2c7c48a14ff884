"""What a chart itself asks of the adviser: its instrument, the player's own shapes."""

from collections.abc import Mapping
from functools import cache

from chartkit.chart.model import Chart, GivenShape
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR, instrument_named
from chartkit.fretboard.own_shape import why_unusable
from chartkit.fretboard.store import BoardStore
from chartkit.fretboard.voicing_cache import cache_folder
from chartkit.theory.chord import Chord
from chartkit.theory.shape_text import Frets


def instrument_of(chart: Chart, asked: str | None = None) -> Instrument:
    """The instrument asked for, else the chart's where the program knows it, else a guitar.

    Raises ValueError when the instrument asked for is none the program knows.
    """
    if asked is not None:
        return instrument_named(asked)
    try:
        return instrument_named(chart.text("instrument"))
    except ValueError:
        return GUITAR


def own_shapes(chart: Chart) -> dict[Chord, Frets]:
    """The player's own fingerings that the chart gives, by shape."""
    return {
        row.value.chord: row.value.frets
        for row in chart.shapes()
        if isinstance(row.value, GivenShape)
    }


def unusable_shapes(own: Mapping[Chord, Frets], instrument: Instrument) -> dict[Chord, str]:
    """The player's own shapes that are passed over on that instrument, and why, in words.

    A shape that reaches past the end of the neck under some capo is passed over there, and
    is not among these.
    """
    reasons = {chord: why_unusable(instrument, chord, frets) for chord, frets in own.items()}
    return {chord: "; ".join(found) for chord, found in reasons.items() if found}


@cache
def boards_on_disk() -> BoardStore:
    """The fretboards of this run, kept in the user's own cache folder where there is one."""
    return BoardStore(cache_folder())
