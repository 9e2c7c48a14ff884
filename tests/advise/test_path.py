"""The path through a song is the best of all paths, and its cost is the reported score."""

import random
from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.advise.beside import rank_beside, spread_guitars
from chartkit.advise.hand_position import hand_position, movement
from chartkit.advise.measures import contributions
from chartkit.advise.path import ShortestPath, shortest_path, steady_path
from chartkit.advise.play_through import play_through
from chartkit.advise.ranking import played_option, rank_song
from chartkit.advise.register import part_of
from chartkit.advise.requests import own_shapes, unusable_shapes
from chartkit.advise.settings import AdviceSettings, MovementCosts, ScoreWeights
from chartkit.advise.song import HeldChord, Song, moved_song
from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.instruments import GUITAR, instrument_named
from chartkit.fretboard.store import shared_boards
from chartkit.fretboard.voicing import Voicing
from chartkit.syntax.symbol import chord_or_none
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord
from chartkit.theory.key import parse_key
from chartkit.theory.shape_text import Frets, parse_shape
from tests.advise.songs import PROGRESSIONS, chart_of, song
from tests.each import each


@settings(max_examples=60, deadline=None)
@given(st.randoms(use_true_random=False), st.lists(st.integers(0, 3), min_size=1, max_size=6))
def test_shortest_path_is_the_cheapest_of_all(chance: random.Random, names: list[int]) -> None:
    """On random graphs no path is cheaper than the one that is found."""
    sizes = [1 + chance.randrange(4) for _ in range(4)]
    nodes = [[chance.uniform(-1, 1) for _ in range(sizes[name])] for name in names]
    edges = {
        (a, b): [[chance.uniform(-1, 1) for _ in range(sizes[b])] for _ in range(sizes[a])]
        for a in range(4)
        for b in range(4)
    }

    def cost(choices: tuple[int, ...]) -> float:
        total = sum(nodes[place][choice] for place, choice in enumerate(choices))
        for (one, other), (a, b) in zip(pairwise(choices), pairwise(names), strict=True):
            total += edges[a, b][one][other]
        return total

    path = shortest_path(names, lambda place: nodes[place], lambda a, b: edges[a, b])
    best = min(cost(choices) for choices in product(*(range(sizes[name]) for name in names)))
    assert path.cost == pytest.approx(best)
    assert cost(path.choices) == pytest.approx(best)


@settings(max_examples=80, deadline=None)
@given(st.randoms(use_true_random=False), st.lists(st.integers(0, 2), min_size=1, max_size=6))
def test_the_steady_path_is_the_cheapest_of_all(chance: random.Random, names: list[int]) -> None:
    """On random graphs none is cheaper where every name that varies costs extra."""
    sizes = [1 + chance.randrange(3) for _ in range(3)]
    nodes = [[chance.uniform(-1, 1) for _ in range(sizes[name])] for name in names]
    edges = {
        (a, b): [[chance.uniform(-1, 1) for _ in range(sizes[b])] for _ in range(sizes[a])]
        for a in range(3)
        for b in range(3)
    }
    extra = chance.choice([0.0, 0.2, 0.7])

    def cost(choices: tuple[int, ...]) -> float:
        total = sum(nodes[place][choice] for place, choice in enumerate(choices))
        for (one, other), (a, b) in zip(pairwise(choices), pairwise(names), strict=True):
            total += edges[a, b][one][other]
        pairs = set(zip(names, choices, strict=True))
        return total + extra * sum(sum(n == name for n, _ in pairs) > 1 for name in set(names))

    path = steady_path(names, lambda place: nodes[place], lambda a, b: edges[a, b], extra)
    best = min(cost(choices) for choices in product(*(range(sizes[name]) for name in names)))
    assert path.cost == pytest.approx(best)
    assert cost(path.choices) == pytest.approx(best)


def test_no_place_no_path() -> None:
    """A song without chords has an empty path that costs nothing."""
    assert shortest_path([], lambda _: [], lambda _, __: []).choices == ()


def score_by_hand(
    shapes: Song, voicings: tuple[Voicing, ...], best: dict[Chord, float], board: Fretboard
) -> float:
    """The score of one way through a song, summed up straight from its definition."""
    weights, total = ScoreWeights(), 0.0
    for held, voicing in zip(shapes.held_chords, voicings, strict=True):
        share = held.beats / shapes.beats
        ring = sum(fret == 0 for fret in voicing.frets) / 6
        barre = voicing.barre is not None and voicing.barre[2] - voicing.barre[1] >= 2
        played = [i for i, fret in enumerate(voicing.frets) if fret is not None]
        mutes: float = played[-1] - played[0] + 1 - len(played)
        mutes += 0.5 * (5 - played[-1])
        mutes += 0.5 * (played[0] >= 2 and not any(fret == 0 for fret in voicing.frets))
        total += share * (
            weights.open_share * voicing.in_open_position
            + weights.ring * ring
            + weights.barres * barre
            + weights.mutes * mutes
            + weights.effort * voicing.effort
            + weights.oddness * (voicing.cost - best[held.chord])
        )
    total += weights.home_closed * home_closed_by_hand(shapes, voicings)
    used: dict[Chord, set[Frets]] = {held.chord: set() for held in shapes.held_chords}
    for held, voicing in zip(shapes.held_chords, voicings, strict=True):
        used[held.chord].add(voicing.frets)
    total += weights.second_shapes * sum(len(frets) > 1 for frets in used.values())
    changes = len(voicings) - 1
    for one, other in pairwise(voicings):
        kept = sum(a == b == 0 for a, b in zip(one.frets, other.frets, strict=True)) / 6
        kept_fingers = (
            sum(
                bool(f) and f == g and a == b
                for f, g, a, b in zip(
                    one.fingers, other.fingers, one.frets, other.frets, strict=True
                )
            )
            / 6
        )
        moved = movement(hand_position(one, board), hand_position(other, board), MovementCosts())
        total += (
            weights.kept * kept + weights.held * kept_fingers + weights.movement * moved
        ) / changes
    return total


def home_closed_by_hand(shapes: Song, voicings: tuple[Voicing, ...]) -> float:
    """Of the time on chords over the tonic (one key only) the share on closed shapes."""
    tonic = shapes.keys[0].tonic * 7 % 12
    home = [
        (held.beats, voicing)
        for held, voicing in zip(shapes.held_chords, voicings, strict=True)
        if held.chord.root * 7 % 12 == tonic
    ]
    closed = sum(beats for beats, voicing in home if not voicing.in_open_position)
    return closed / sum(beats for beats, _ in home) if home else 0.0


SHORT = (
    "| C | F | G | Am |",
    "| E | B7 | C#m |",
    "| Dm7 / / G7 | Cmaj7 |",
    "| Bb | Eb/G | F |",
    "| G | Cadd9 | G | Em |",
    "| C / F / | C / G / |",
)


@each("bars", SHORT)
@each("option", [Capo(0), Capo(3), Capo(0, 1)], ids=str)
def test_the_way_through_is_the_best_of_all(bars: str, option: Capo) -> None:
    """Of every combination of candidates the chosen one has the highest score, by hand."""
    limits = AdviceSettings(candidates=4, cost_margin=9.0)
    shapes = moved_song(song(bars), -option.raised)
    board = shared_boards().board(GUITAR, option.fret, option.tuned_down)
    offered = [board.voicings(held.chord)[:4] for held in shapes.held_chords]
    best = {s.chord: v[0].cost for s, v in zip(shapes.held_chords, offered, strict=True)}
    highest = max(score_by_hand(shapes, ways, best, board) for ways in product(*offered))
    path = play_through(shapes, board, limits)
    assert -path.cost == pytest.approx(highest)
    assert score_by_hand(shapes, path.voicings, best, board) == pytest.approx(highest)
    reported = sum(contributions(path.measures, limits.score).values())
    assert reported == pytest.approx(highest)


@each("name", PROGRESSIONS)
def test_score_is_measures_less_price(name: str) -> None:
    """An option's score is the weighted sum of its measures less the price of the capo."""
    limits = AdviceSettings()
    asked = song("key: {}\n{}".format(*PROGRESSIONS[name]))
    for option in (Capo(0), Capo(4), Capo(0, 2)):
        played = played_option(asked, option, settings=limits)
        total = sum(contributions(played.measures, limits.score).values())
        assert played.score == pytest.approx(total - played.price)


def test_own_shapes_are_played() -> None:
    """A player's own shape is used wherever its chord comes, whatever it costs."""
    own = {chord_or_none("G"): parse_shape("355433")}
    asked = song("key: A\n| A | D | E |")
    played = played_option(asked, Capo(2), own=own)
    shapes = {str(use.shape): str(use.voicing) for use in played.shapes}
    assert shapes["G"] == "355433"
    assert shapes["C"] == "x32010"


def test_own_shapes_are_found_however_spelled() -> None:
    """A shape given for G flat is played where the shapes say F sharp."""
    own = {chord_or_none("Gb"): parse_shape("xx4322")}
    played = play_through(song("| B | F# |"), shared_boards().board(GUITAR), AdviceSettings(), own)
    assert str(played.voicings[1]) == "xx4322"


@each("shape", ["x32033", "111111", "x32019"])
def test_own_shapes_are_played_as_they_are(shape: str) -> None:
    """A shape that can be fingered is the player's choice, even where it sounds other tones."""
    own = {chord_or_none("C"): parse_shape(shape)}
    advice = rank_song(song("key: C\n| C | G |"), own=own)
    assert advice.no_capo is not None
    played = {str(use.shape): str(use.voicing) for use in advice.no_capo.shapes}
    assert played["C"] == shape
    assert unusable_shapes(own, GUITAR) == {}


@each("shape", ["xxxxxx", "0", "x-3-2-0-1-99", "x320100"])
def test_own_shapes_that_cannot_be_fingered_are_passed_over(shape: str) -> None:
    """A shape that no hand can set on the neck is ignored and named, never an error."""
    own = {chord_or_none("C"): parse_shape(shape)}
    asked = song("key: C\n| C | G |")
    assert rank_song(asked, own=own) == rank_song(asked)
    assert list(unusable_shapes(own, GUITAR)) == [chord_or_none("C")]


def test_an_own_shape_past_the_neck_under_a_capo_is_passed_over_there() -> None:
    """A shape that fits the neck without a capo is played there, and not under capo 9."""
    own = {chord_or_none("C"): parse_shape("x-3-2-0-1-12")}
    plain = played_option(song("| C |"), Capo(), own=own)
    high = played_option(song("| A |"), Capo(9), own=own)
    assert str(plain.voicings[0]) == "x-3-2-0-1-12"
    assert str(high.voicings[0]) == "x32010"


@pytest.mark.parametrize("name", ["DADGAD", "open G", "ukulele", "banjo", "C4 G4 C5"])
def test_own_shapes_of_another_instrument_are_passed_over(name: str) -> None:
    """A guitar's shape that does not sound its chord here is none of this instrument's."""
    instrument = instrument_named(name)
    own = {chord_or_none("C"): parse_shape("x32010"), chord_or_none("G"): parse_shape("320003")}
    asked = song("key: C\n| C | G |")
    assert rank_song(asked, instrument, own=own) == rank_song(asked, instrument)
    assert set(unusable_shapes(own, instrument)) == set(own)


def test_a_charts_shapes_are_its_own_instruments() -> None:
    """A chart for DADGAD asked about on a plain guitar keeps only what sounds there too."""
    chart = chart_of(
        "instrument: DADGAD\nshape: D 004200\nshape: A x02220\nshape: G x55x33\n| D | A | G |"
    )
    names = {str(chord) for chord in own_shapes(chart, GUITAR)}
    assert names == {"A", "G"}
    assert {str(chord) for chord in own_shapes(chart)} == {"D", "A", "G"}
    assert own_shapes(chart, instrument_named("DADGAD")).keys() >= {chord_or_none("D")}


def test_own_shapes_that_sound_elsewhere_too_are_played() -> None:
    """In drop D a guitar's C shape still sounds C and is played; its G shape is not."""
    instrument = instrument_named("drop D")
    own = {chord_or_none("C"): parse_shape("x35553"), chord_or_none("G"): parse_shape("320003")}
    assert list(unusable_shapes(own, instrument)) == [chord_or_none("G")]
    played = played_option(song("| C | G |"), Capo(), instrument, own=own)
    assert str(played.voicings[0]) == "x35553"


def test_a_song_without_chords_is_played_through_in_silence() -> None:
    """A chart of N.C. alone gives options that sound nothing, and no error anywhere."""
    silent = song("key: C\n| N.C. | N.C. |")
    played = played_option(silent, Capo(2))
    assert (played.voicings, played.drones, played.shapes) == ((), 0, ())
    assert part_of(silent, played, GUITAR) == ()
    assert all(option.comparison.overlap == 0 for option in rank_beside(silent, ()))
    assert all(spread.registers == (None, None) for spread in spread_guitars(silent, 2))


def test_an_odd_shape_is_used_where_it_pays() -> None:
    """A second shape of a chord is taken where the way from chord to chord rewards it."""
    chords = [chord_or_none(name) for name in ("Cadd9", "G", "Cadd9", "G")]
    shapes = Song(tuple(HeldChord(c, 4, 0) for c in chords), (parse_key("G"),))
    board = shared_boards().board(GUITAR)
    usual = [board.voicings(chord)[0] for chord in chords]
    rewarded = AdviceSettings(score=ScoreWeights(held=8.0, oddness=-0.2))
    path = play_through(shapes, board, rewarded)
    assert path.measures.oddness > 0
    assert any(a != b for a, b in zip(path.voicings, usual, strict=True))


def test_a_path_through_nothing_costs_nothing() -> None:
    """Where there is no place to play, no choice is made and none is charged."""
    assert shortest_path((), lambda _: (1.0,), lambda _a, _b: ((1.0,),)) == ShortestPath((), 0.0)
