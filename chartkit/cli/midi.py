"""``chartkit export --to midi``: the guitars of a song to listen to."""

from pathlib import Path
from typing import TYPE_CHECKING

from chartkit.arrange.rewrite import moved_chart
from chartkit.chart.model import Chart
from chartkit.cli.first_guitar import first_chart
from chartkit.cli.options import view_for
from chartkit.cli.reporting import say
from chartkit.files import Unusable
from chartkit.theory.capo import Capo

if TYPE_CHECKING:
    from chartkit.interchange.midi.performance import Performance


def midi_file(
    chart: Chart,
    capo: Capo | None,
    key: str | None,
    beside: list[str],
    count_in: bool,
    click: bool,
) -> bytes:
    """A Standard MIDI File of the chart and of the charts played beside it.

    Raises Unusable for a chart that cannot be read or has no bars.
    """
    from chartkit.interchange.midi.performance import performance
    from chartkit.interchange.midi.write import MOST_PLAYERS, Listening, MidiTrack, midi_bytes

    if len(beside) >= MOST_PLAYERS:
        raise Unusable(f"a MIDI file has room for {MOST_PLAYERS} guitars")
    title = chart.text("title") or "Untitled"
    first = performance(moved_chart(chart, view_for(chart, capo, key)), capo)
    if not first.bars:
        raise Unusable(f"{title}: there is nothing to play in this chart")
    _report_cut(title, first)
    players = [MidiTrack("guitar", first)]
    for name in beside:
        other = first_chart(name)
        if other is None:
            raise Unusable(f"{name}: there is no such chart")
        played = performance(moved_chart(other, view_for(other, None, key)))
        _report_cut(name, played)
        own = other.text("title")
        players.append(MidiTrack(own if own and own != title else Path(name).stem, played))
    return midi_bytes(title, players, Listening(count_in, click))


def _report_cut(name: str, played: "Performance") -> None:
    if played.cut_short:
        say(f"{name}: longer than {len(played.bars):,} bars; the rest is left out")
