"""Where the capo goes when a song is moved to another key."""

from dataclasses import replace

from chartkit.arrange.key_areas import half_steps_moved, sounding_key
from chartkit.arrange.view import View
from chartkit.chart.capos import moves_capo
from chartkit.chart.model import Chart
from chartkit.theory.capo import Capo

_HIGHEST = 5
"""The highest fret that a capo follows its song to: beyond it other shapes are worth a look (ours;
the adviser's choice between near places stops there too)."""


def moves_from_its_capo(chart: Chart, view: View) -> bool:
    """Whether a view without a capo of its own moves a song away from the one place that the chart
    gives for a whole capo."""
    own = chart.capo
    moved = view.key is not None or view.by is not None
    plain = bool(own.fret) and not own.strings and not own.tuned_down and not moves_capo(chart)
    return view.capo is None and moved and plain and bool(_steps(chart, view))


def with_shapes_kept(chart: Chart, view: View) -> View:
    """The view with the chart's capo moved as far as the song is, so that its shapes stay.

    The view itself where the chart has no capo, the view has one, or the capo would go beyond fret
    5.
    """
    if not moves_from_its_capo(chart, view):
        return view
    fret = (chart.capo.fret + _steps(chart, view)) % 12
    return replace(view, capo=Capo(fret)) if fret <= _HIGHEST else view


def _steps(chart: Chart, view: View) -> int:
    """How many half steps up the view moves the song, 0 to 11."""
    return half_steps_moved(sounding_key(chart), view) % 12
