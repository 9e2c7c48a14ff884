"""Parts made for tests: songs of our own with what the first guitar plays."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from chartkit.advise.part.propose import PartProposal, PartRequest, propose_parts
from chartkit.advise.ranking import rank_song
from chartkit.advise.register import Moment, part_of
from chartkit.advise.song import song_of
from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.fretboard.instruments import GUITAR
from tests.charts import chart_of

EXAMPLES = tuple(sorted((Path(__file__).parents[3] / "examples").glob("*.chart")))
PROGRESSIONS = (
    "| C | G/B | Am7 | F | C | G | F | C |",
    "| D | A/C# | Bm7 | G | D | A | G | A7 |",
    "| G | Em | C | D | G | Em | Am7 | D7 |",
    "| Am | F | C | G | Am | F | G | E7 |",
    "| Em7 | Cmaj7 | G | D | Em7 | Cmaj7 | D | D |",
    "| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | C6 | C6 |",
    "| Bb | Gm7 | Eb | F7 | Bb | Gm7 | Cm7 | F7 |",
    "| Eb | Bb/D | Cm7 | Ab | Eb | Bb | Ab | Bb7 |",
    "| A7 | D7 | A7 | A7 | D7 | D7 | A7 | E7 |",
    "| F#m | D | A | E | F#m | D | E | E |",
    "| Cm | Ab | Eb | Bb | Cm | Fm | G7 | Cm |",
    "| E | B | C#m | A | E | B | A | E |",
    "| Bm | G | D | A | Bm | G | Em | F#7 |",
)
KEYS = ("C", "D", "G", "Am", "Em", "C", "Bb", "Eb", "A", "F#m", "Cm", "E", "Bm")
MOVES = (0, 1, 3, 6)
"""Half steps by which each progression is moved: with the 13 progressions, 52 songs."""


@dataclass(frozen=True, slots=True)
class Sounding:
    """A song of sounding chords and what the first guitar sounds at its best capo."""

    name: str
    chart: Chart
    first: tuple[Moment, ...]

    def parts(self, request: PartRequest | None = None) -> tuple[PartProposal, ...]:
        """The proposals for a second guitar."""
        return _parts(self.chart, self.first, request)


@cache
def _parts(
    chart: Chart, first: tuple[Moment, ...], request: PartRequest | None
) -> tuple[PartProposal, ...]:
    return propose_parts(chart, first, GUITAR, request)


def sounding(name: str, chart: Chart) -> Sounding:
    """The song with the first guitar at the capo that is ranked first."""
    song = song_of(chart)
    best = rank_song(song).best
    assert best is not None
    return Sounding(name, chart, part_of(song, best, GUITAR))


@cache
def examples() -> tuple[Sounding, ...]:
    """The example songs."""
    return tuple(
        sounding(path.stem, moved_chart(chart_of(path.read_text()), View())) for path in EXAMPLES
    )


@cache
def progressions() -> tuple[Sounding, ...]:
    """52 songs: progressions of many styles in several keys."""
    return tuple(
        sounding(
            f"{bars} +{steps}",
            moved_chart(chart_of(f"key: {key}\n\n== Verse\n{bars}\n"), View(by=steps)),
        )
        for bars, key in zip(PROGRESSIONS, KEYS, strict=True)
        for steps in MOVES
    )
