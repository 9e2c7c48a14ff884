"""The capos and tunings that are compared."""

from collections.abc import Iterator

from chartkit.advise.settings import AdviceSettings
from chartkit.theory.capo import Capo


def options(settings: AdviceSettings) -> Iterator[Capo]:
    """Every capo and tuning the player allows, no capo first."""
    for fret in range(settings.highest_capo + 1):
        yield Capo(fret)
    for down in range(1, settings.most_down + 1):
        yield Capo(0, down)
        if settings.capo_when_down:
            for fret in range(1, settings.highest_capo + 1):
                yield Capo(fret, down)
