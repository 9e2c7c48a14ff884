"""Every row, bar, strike or chord of some sections, in the order in which they are written."""

from collections.abc import Iterable, Iterator

from chartkit.chart.model import Bar, MusicRow, Row, Section, Strike
from chartkit.theory.chord import Chord


def iter_rows(sections: Iterable[Section]) -> Iterator[Row]:
    """Every row under a heading."""
    for section in sections:
        yield from section.rows


def iter_music(sections: Iterable[Section]) -> Iterator[MusicRow]:
    """Every row of music."""
    return (row for row in iter_rows(sections) if isinstance(row, MusicRow))


def iter_bars(sections: Iterable[Section]) -> Iterator[Bar]:
    """Every written bar."""
    for row in iter_music(sections):
        yield from row.bars


def iter_strikes(sections: Iterable[Section]) -> Iterator[Strike]:
    """Every written strike, N.C. among them."""
    for bar in iter_bars(sections):
        yield from bar.strikes


def iter_chords(sections: Iterable[Section]) -> Iterator[Chord]:
    """Every written chord."""
    return (strike.chord for strike in iter_strikes(sections) if strike.chord is not None)


def row_chords(row: MusicRow) -> Iterator[Chord]:
    """The chords of one row of music, N.C. left out."""
    return (strike.chord for bar in row.bars for strike in bar.strikes if strike.chord is not None)
