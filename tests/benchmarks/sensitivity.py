"""How much the ranking hangs on each weight: a Markdown table.

Run as ``python -m tests.benchmarks.sensitivity`` for the weights of the score, and with
``--fingering`` for those of the voicing cost too (some minutes).  Each weight is halved and
doubled alone; counted are the songs, of nine progressions in twelve keys, whose first
option changes.
"""

import sys
from collections.abc import Iterator
from dataclasses import fields, replace

from chartkit.advise.ranking import rank_song
from chartkit.advise.settings import AdviceSettings, CapoPrices, ScoreWeights
from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.store import BoardStore
from chartkit.fretboard.weights import Weights
from tests.advise.songs import MAJOR_KEYS, MINOR_KEYS, PROGRESSIONS, progression

Winners = tuple[str, ...]


def winners(settings: AdviceSettings, boards: BoardStore) -> Winners:
    """The first option of every progression in every key."""
    best_options = []
    for name, (home, _) in PROGRESSIONS.items():
        for key in MINOR_KEYS if home.endswith("m") else MAJOR_KEYS:
            best = rank_song(progression(name, key), GUITAR, settings, boards=boards).best
            best_options.append(str(best.option if best else None))
    return tuple(best_options)


def changed(one: Winners, other: Winners) -> int:
    """In how many songs the winner differs."""
    return sum(a != b for a, b in zip(one, other, strict=True))


def score_rows(boards: BoardStore) -> Iterator[tuple[str, float, int, int]]:
    """Name, value, winners changed by halving and by doubling, for the score's numbers: on stage,
    but for those that count in the studio alone."""
    venues = {"live": AdviceSettings(), "studio": AdviceSettings(place="studio")}
    usual = {place: winners(settings, boards) for place, settings in venues.items()}
    for holder, values in (("score", ScoreWeights()), ("prices", CapoPrices())):
        for field in fields(values):
            value = getattr(values, field.name)
            if isinstance(value, int):
                continue
            place = "studio" if field.name.startswith("studio") else "live"
            counts = []
            for factor in (0.5, 2.0):
                other = replace(values, **{field.name: value * factor})
                tried = replace(venues[place], **{holder: other})  # type: ignore[arg-type]
                counts.append(changed(usual[place], winners(tried, boards)))
            yield f"{holder}.{field.name}", value, counts[0], counts[1]


def fingering_rows(usual: Winners) -> Iterator[tuple[str, float, int, int]]:
    """The same for the weights of the voicing cost; every fretboard is worked out anew."""
    for field in fields(Weights):
        value = getattr(Weights(), field.name)
        counts = []
        for factor in (0.5, 2.0):
            boards = BoardStore(weights=replace(Weights(), **{field.name: value * factor}))
            counts.append(changed(usual, winners(AdviceSettings(), boards)))
        yield f"voicing.{field.name}", value, counts[0], counts[1]


def main() -> None:
    """Prints the table."""
    boards = BoardStore()
    usual = winners(AdviceSettings(), boards)
    print(f"| weight | value | halved | doubled |  winners changed of {len(usual)}")
    print("|---|---:|---:|---:|")
    rows = list(score_rows(boards))
    if "--fingering" in sys.argv:
        rows += fingering_rows(usual)
    for name, value, halved, doubled in rows:
        print(f"| {name} | {value:g} | {halved} | {doubled} |", flush=True)


if __name__ == "__main__":
    main()
