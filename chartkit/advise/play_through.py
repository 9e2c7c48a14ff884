"""Plays one option through: the best voicing for each chord of the song, and the measures."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from chartkit.advise.hand_position import HandPosition, hand_position
from chartkit.advise.measures import (
    OVER_CHANGES,
    Measures,
    change_measures,
    mean_measures,
    voicing_measures,
    weights_by_name,
)
from chartkit.advise.path import ShortestPath, steady_path
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song
from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.player_shape import neck_problems, why_unusable
from chartkit.fretboard.tones import Tones, tones_of
from chartkit.fretboard.voicing import Voicing
from chartkit.theory.chord import Chord
from chartkit.theory.note import pitch_class_of
from chartkit.theory.shape_text import Frets

OwnShapes = Mapping[Chord, Frets]
"""Shape chords and the player's own frets for them."""


@dataclass(frozen=True, slots=True)
class PlayThrough:
    """A voicing for each held chord of a song (None where there is none) and the measures."""

    voicings: tuple[Voicing | None, ...]
    measures: Measures
    cost: float


@dataclass(frozen=True, slots=True)
class _Candidate:
    voicing: Voicing | None
    grip: HandPosition
    moment: dict[str, float]
    cost: float
    opened: bool


_NO_HAND = HandPosition(0, 0, (None,) * 5, None)


def play_through(
    shapes: Song, board: Fretboard, settings: AdviceSettings, own: OwnShapes | None = None
) -> PlayThrough:
    """The path through the song's shapes that scores highest on this fretboard.

    ``shapes`` is the song as fingered above the capo.  A chord in ``own`` is played as given there,
    however it is spelled, unless this fretboard cannot.  ``cost`` is the negative of the measures'
    contribution to the score.
    """
    number_of: dict[Chord, int] = {}
    chords = [number_of.setdefault(s.chord, len(number_of)) for s in shapes.held_chords]
    usable = _usable(own or {}, board)
    candidates = [_candidates(chord, board, settings, usable) for chord in number_of]
    strings = len(board.instrument.strings)
    beats = [held.beats for held in shapes.held_chords]
    home_shares = _home_shares(shapes)

    def nodes(place: int) -> list[float]:
        share = beats[place] / shapes.beats
        home = -settings.score.home_closed * home_shares[place]
        return [share * c.cost + home * (not c.opened) for c in candidates[chords[place]]]

    def edges(one: int, other: int) -> list[list[float]]:
        return _change_costs(candidates[one], candidates[other], shapes.changes, strings, settings)

    path = steady_path(chords, nodes, edges, -settings.score.second_shapes)
    chosen = [candidates[chord][choice] for chord, choice in zip(chords, path.choices, strict=True)]
    home_closed = sum(
        share for share, candidate in zip(home_shares, chosen, strict=True) if not candidate.opened
    )
    counted = {"home_closed": home_closed, "second_shapes": float(_second_shapes(chords, path))}
    measures = _measured(chosen, beats, counted, strings, settings)
    return PlayThrough(tuple(candidate.voicing for candidate in chosen), measures, path.cost)


def _usable(own: OwnShapes, board: Fretboard) -> dict[Tones, Frets]:
    """The player's own shapes that are played on this fretboard, by their sound."""
    return {
        tones_of(chord): frets
        for chord, frets in own.items()
        if not why_unusable(board.instrument, chord, frets)
        and not neck_problems(board.instrument, frets, board.capo)
    }


def _change_costs(
    before: Sequence[_Candidate],
    after: Sequence[_Candidate],
    changes: int,
    strings: int,
    settings: AdviceSettings,
) -> list[list[float]]:
    """What each change from one candidate to another subtracts from the song's score."""
    weights = weights_by_name(settings.score)
    kept, held, moved = (-weights[name] / changes for name in OVER_CHANGES)
    rows = []
    for earlier in before:
        row = []
        for other in after:
            k, h, m = change_measures(earlier.grip, other.grip, strings, settings.movement)
            row.append(kept * k + held * h + moved * m)
        rows.append(row)
    return rows


def _candidates(
    chord: Chord, board: Fretboard, settings: AdviceSettings, usable: Mapping[Tones, Frets]
) -> list[_Candidate]:
    weights = weights_by_name(settings.score)
    voicings: Sequence[Voicing]
    frets = usable.get(tones_of(chord))
    if frets is not None:
        voicings = [board.voicing_of(chord, frets)]
    else:
        voicings = board.voicings(chord)[: settings.candidates]
    best = voicings[0].cost if voicings else 0.0
    close: list[Voicing | None] = [
        voicing for voicing in voicings if voicing.cost <= best + settings.cost_margin
    ]
    candidates = []
    for voicing in close or [None]:
        moment = voicing_measures(voicing, best)
        cost = -sum(weights[name] * value for name, value in moment.items())
        grip = _NO_HAND if voicing is None else hand_position(voicing, board)
        opened = voicing is not None and voicing.in_open_position
        candidates.append(_Candidate(voicing, grip, moment, cost, opened))
    return candidates


def _second_shapes(chords: Sequence[int], path: ShortestPath) -> int:
    """How many chords are played in more than one shape."""
    shapes = Counter(chord for chord, _ in set(zip(chords, path.choices, strict=True)))
    return sum(count > 1 for count in shapes.values())


def _home_shares(song: Song) -> list[float]:
    """For each held chord its part of the time on chords rooted on the tonic.

    Each key area that has such chords counts by its time, whatever part of it they take; all
    other held chords have none.
    """
    at_home = [
        pitch_class_of(s.chord.root - song.keys[s.area].tonic) == 0 for s in song.held_chords
    ]
    beats = [0.0] * len(song.keys)
    for held, home in zip(song.held_chords, at_home, strict=True):
        beats[held.area] += held.beats * home
    areas = [song.area_beats(area) / song.beats for area in range(len(song.keys))]
    return [
        home and areas[s.area] * s.beats / beats[s.area]
        for s, home in zip(song.held_chords, at_home, strict=True)
    ]


def _measured(
    chosen: Sequence[_Candidate],
    beats: Sequence[float],
    counted: Mapping[str, float],
    strings: int,
    settings: AdviceSettings,
) -> Measures:
    moments = [(beat, candidate.moment) for beat, candidate in zip(beats, chosen, strict=True)]
    changes = [
        change_measures(one.grip, other.grip, strings, settings.movement)
        for one, other in pairwise(chosen)
    ]
    return mean_measures(moments, changes, counted)
