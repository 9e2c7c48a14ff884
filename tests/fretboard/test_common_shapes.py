"""The search against the shapes that beginners' books print."""

from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.store import shared_boards
from chartkit.syntax.symbol import chord_or_none
from chartkit.theory.shape_text import shape_text
from tests.fretboard.common_shapes import common_shapes

MISSES: dict[str, str] = {}
"""Chords whose usual shape is not first, with the shape that is."""


def ranks() -> dict[str, int]:
    """For each chord of the table the place, from 0, of the first accepted shape."""
    board = shared_boards().board(GUITAR)
    rank_by_name = {}
    for name, shapes in common_shapes().items():
        offered = [voicing.frets for voicing in board.voicings(chord_or_none(name))]
        places = [offered.index(shape) for shape in shapes if shape in offered]
        rank_by_name[name] = min(places, default=len(offered))
    return rank_by_name


def test_usual_shapes_come_first() -> None:
    """Of at least 100 common chords 98 in 100 have a book's shape first, all in the first three."""
    rank_by_name = ranks()
    assert len(rank_by_name) >= 100
    assert sum(rank == 0 for rank in rank_by_name.values()) >= 0.98 * len(rank_by_name)
    assert [name for name, rank in rank_by_name.items() if rank > 2] == []


def test_misses_are_the_listed_ones() -> None:
    """The chords whose usual shape is not first are exactly those explained here."""
    assert {name for name, rank in ranks().items() if rank} == set(MISSES)


def test_first_lesson_shapes_and_fingers() -> None:
    """The first shapes of a beginner come out with the fingers books print."""
    board = shared_boards().board(GUITAR)
    taught = {
        "C": ("x32010", "032010"),
        "Em": ("022000", "012000"),
        "Am": ("x02210", "002310"),
        "E": ("022100", "023100"),
        "A": ("x02220", "001230"),
        "D": ("xx0232", "000132"),
        "Dm": ("xx0231", "000231"),
        "G": ("320003", "210003"),
        "F": ("133211", "134211"),
        "Bm": ("x24432", "013421"),
        "B7": ("x21202", "021304"),
        "Fm": ("133111", "134111"),
    }
    shapes = {}
    for name in taught:
        voicing = board.voicings(chord_or_none(name))[0]
        shapes[name] = (shape_text(voicing.frets), "".join(map(str, voicing.fingers)))
    assert shapes == taught
