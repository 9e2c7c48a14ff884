"""Songs that change key: which part loses its open shapes under one capo, and what helps.

Three ways are offered (common practice, no source): another capo from the start that leaves no
key dead, a move of the capo where the guitar can be silent for as long as it takes, or a second
guitar with a capo of its own.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from chartkit.advise.ranked import RankedOption
from chartkit.advise.song import Song
from chartkit.advise.stage import StageCosts
from chartkit.phrases import listed
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.naming import key_words
from chartkit.theory.note import pitch_class_of

DEAD = 0.35
"""A key with less of its time on open shapes has gone dead (ours)."""
WORTH = 0.25
"""Another way must gain at least this share of open shapes to be worth saying (ours)."""
_SHORTEST_BEATS = 8.0
"""A key, or a passage in it, that is no longer than this is only a passing colour (ours)."""
_RAISED = 3
"""The most half steps of a lift that the capo follows (ours)."""
_BARRES_SPARED = 0.1
"""The least share of a raised part's time on barres that a move of the capo must spare (ours)."""
_DEARER = 1.5
"""Another capo is offered if it scores at most this much lower than the best (ours)."""

_MOST_ROWS = 4
"""The most rows to write that are named one by one (ours)."""

Ranker = Callable[[Song], Sequence[RankedOption]]
"""A song to its options, best first."""


@dataclass(frozen=True, slots=True)
class CapoMove:
    """A move of the capo between two keys: its place, the time it takes, the silence there.

    ``before`` names the section where the key begins, or the key itself; ``inside`` says that it
    begins in the middle of that section.  ``beats`` is None where the chart names no tempo.
    """

    before: str
    to_key: str
    inside: bool
    from_capo: Capo
    to_capo: Capo
    seconds: float
    beats: float | None
    rest_beats: float


@dataclass(frozen=True, slots=True)
class Modulations:
    """The keys that go dead under the best option, and what can be done.

    ``dead`` holds each such key's words and share of time on open shapes, none where only a lift is
    easier with the capo moved along; ``from_start`` an
    option that leaves none of them dead, if there is one; ``moves`` the moves of the capo that
    give each key its own place; ``second_guitar`` the capo of a guitar that takes the dead keys.
    ``dead_text`` is a sentence on those keys, ``helps`` one on the ways.
    """

    dead: tuple[tuple[str, float], ...]
    from_start: RankedOption | None
    moves: tuple[CapoMove, ...]
    second_guitar: Capo | None
    dead_text: str
    helps: str


def modulations_of(song: Song, ranked: Sequence[RankedOption], rank: Ranker) -> Modulations | None:
    """The effect of the key changes under the first option; None if every key keeps open shapes,
    and no lift is easier with the capo moved along."""
    best = ranked[0]
    own = {
        area: _own_place(song, area, best, rank)
        for area, share in enumerate(best.open_shares)
        if len(song.keys) > 1 and share < DEAD and song.area_beats(area) > _SHORTEST_BEATS
    }
    dead = {
        area: place
        for area, place in own.items()
        if place.measures.open_share >= best.open_shares[area] + WORTH
    }
    if not dead:
        return _raised(song, best, rank)
    places = {
        area: dead[area].option if area in dead else best.option for area in range(len(song.keys))
    }
    words = tuple((song.area_words(area), best.open_shares[area]) for area in dead)
    keys = tuple(key_words(song.keys[area]) for area in dead)
    start = _from_start(best, ranked, list(dead))
    moves = _moves(song, places)
    second = (
        next(iter(dead.values())).option if len({o.option for o in dead.values()}) == 1 else None
    )
    ways = [_start_words(start)] if start is not None else []
    ways += [_move_words(moves, best.option)] if moves else []
    ways += [f"a second guitar with {second} takes {listed(keys)}"] if second is not None else []
    return Modulations(
        dead=words,
        from_start=start,
        moves=moves,
        second_guitar=second,
        dead_text=_dead_text(words),
        helps=f"What helps: {'; or '.join(ways)}." if ways else "",
    )


def _start_words(start: RankedOption) -> str:
    least = min(start.open_shares)
    return f"{start.option} from the start keeps every key open {least:.0%} or more"


def _raised(song: Song, best: RankedOption, rank: Ranker) -> Modulations | None:
    """A move of the capo with the song where it goes up, so that the shapes stay; None where the
    first option plays what is raised as easily."""
    places = {0: best.option}
    for area in range(1, len(song.keys)):
        up = pitch_class_of(song.keys[area].tonic - song.keys[0].tonic)
        moved = replace(best.option, fret=best.option.fret + up)
        places[area] = best.option
        if up <= _RAISED and song.area_beats(area) > _SHORTEST_BEATS:
            here, there = (_alone_at(song, area, option, rank) for option in (best.option, moved))
            if here and there and here.measures.barres >= there.measures.barres + _BARRES_SPARED:
                places[area] = moved
    moves = _moves(song, places)
    if not moves or moves[0].from_capo != best.option:
        return None
    words = listed([song.area_words(area) for area in places if places[area] != best.option])
    helps = f"With the same shapes in {words}: {_move_words(moves, best.option)}."
    return Modulations(
        dead=(), from_start=None, moves=moves, second_guitar=None, dead_text="", helps=helps
    )


def _alone_at(song: Song, area: int, option: Capo, rank: Ranker) -> RankedOption | None:
    """An option for one key alone; None where it is not welcome."""
    alone = [replace(s, area=0) for s in song.held_chords if s.area == area]
    options = rank(Song(tuple(alone), (song.keys[area],), song.tempo))
    return next((placed for placed in options if placed.option == option), None)


def _own_place(song: Song, area: int, best: RankedOption, rank: Ranker) -> RankedOption:
    """The best place for one key alone, on a guitar tuned as it is."""
    alone = [replace(s, area=0) for s in song.held_chords if s.area == area]
    options = rank(Song(tuple(alone), (song.keys[area],), song.tempo))
    tuned = best.option.tuned_down
    return next((o for o in options if o.option.tuned_down == tuned), options[0])


def _from_start(
    best: RankedOption, ranked: Sequence[RankedOption], dead: Sequence[int]
) -> RankedOption | None:
    """The best other option under which no key is dead, if it does not score much lower."""
    for option in ranked[1:]:
        lifted = all(option.open_shares[a] >= best.open_shares[a] + WORTH for a in dead)
        if (
            lifted
            and min(option.open_shares) >= DEAD
            and option.score >= best.score - _DEARER
            and not option.option.tuned_down
        ):
            return option
    return None


def _moves(song: Song, places: dict[int, Capo]) -> tuple[CapoMove, ...]:
    seconds = StageCosts().capo_move_seconds
    beats = None if song.tempo is None else seconds * song.tempo / 60
    if not song.key_passages:
        return ()
    moves = []
    before = places[song.key_passages[0].area]
    for passage, lasts in zip(song.key_passages[1:], _passage_beats(song)[1:], strict=True):
        after = places[passage.area] if lasts > _SHORTEST_BEATS else before
        if before != after:
            key = key_words(song.keys[passage.area])
            moves.append(
                CapoMove(
                    before=passage.sections[0] if passage.sections else key,
                    to_key=key,
                    inside=passage.inside and bool(passage.sections),
                    from_capo=before,
                    to_capo=after,
                    seconds=seconds,
                    beats=beats,
                    rest_beats=passage.rest_beats,
                )
            )
        before = after
    return tuple(moves)


def _passage_beats(song: Song) -> list[float]:
    """How long each passage in a key lasts."""
    in_turn = groupby(song.held_chords, key=lambda held: held.area)
    return [sum(held.beats for held in passage) for _, passage in in_turn]


def _dead_text(dead: tuple[tuple[str, float], ...]) -> str:
    parts = " and ".join(
        f"{words} is on open shapes {share:.0%} of the time" for words, share in dead
    )
    return f"{parts[:1].upper()}{parts[1:]}."


def _move_words(moves: tuple[CapoMove, ...], best: Capo) -> str:
    """The capo's moves: the rows to write and the time they take.

    If the song begins in another place than its best one for the whole song, that comes first.
    """
    first = moves[0]
    begins_elsewhere = first.from_capo != best
    begin = f"begin with {first.from_capo} and " if begins_elsewhere else ""
    back = len(moves) == 2 and moves[1].to_capo == first.from_capo
    returns = f" and {_back_to_capo(moves[1])} {_place(moves[1])}" if back else ""
    time = f"some {first.seconds:.0f} seconds"
    if first.beats is not None:
        time += f", {first.beats:.0f} beats at this tempo"
    needed = first.beats if first.beats is not None else first.seconds
    if first.rest_beats >= needed:
        silence = f"the guitar rests {first.rest_beats:.0f} beats there"
    else:
        silence = "leave that many beats of rest there, or add an interlude"
    again = f"; {len(moves)} moves in all" if len(moves) > 1 and not back else ""
    each = "each takes" if len(moves) > 1 else "that takes"
    where = f"{begin}{_to_capo(first)} {_place(first)}{returns}"
    rows = _rows_to_write(moves, begins_elsewhere)
    return f"{where} (write {rows}{again}); {each} {time}: {silence}"


def _rows_to_write(moves: Sequence[CapoMove], begins_elsewhere: bool) -> str:
    """The rows of the chart that move the capo so, each with its place."""
    top = [f"capo: {moves[0].from_capo.raised} at the top"] if begins_elsewhere else []
    places = dict.fromkeys((move.to_capo.raised, _row_place(move)) for move in moves)
    under = [f"capo: {capo} {place}" for capo, place in places]
    rows = top + under
    if len(rows) > _MOST_ROWS:
        rows = [*rows[:_MOST_ROWS], "and so on at every change of key"]
    return f"the row{'s' * (len(rows) > 1)} {listed(rows)}"


def _place(move: CapoMove) -> str:
    """Where the capo moves: ``before Bridge``, ``where Bridge goes to G major``."""
    return f"where {move.before} goes to {move.to_key}" if move.inside else f"before {move.before}"


def _row_place(move: CapoMove) -> str:
    """Where the row of the chart stands: under a section's heading or inside it."""
    return _place(move) if move.inside else f"under {move.before}"


def _to_capo(move: CapoMove) -> str:
    return "take the capo off" if move.to_capo == NO_CAPO else f"move to {move.to_capo}"


def _back_to_capo(move: CapoMove) -> str:
    return "take it off again" if move.to_capo == NO_CAPO else f"go back to {move.to_capo}"
