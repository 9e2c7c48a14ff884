"""The capos and tunings that are compared."""

from collections.abc import Iterator

from chartkit.advise.settings import AdviceSettings
from chartkit.theory.capo import Capo, parse_capo

SHORT_CAPOS = tuple(
    map(parse_capo, ("2 over strings 5-3", "2 over strings 5-1", "2 over strings 6-2"))
)
"""The short capos that players of a six-string guitar use most (common practice, no source): at
the second fret, beside which the open E strings are the root of D shapes."""


def options(settings: AdviceSettings) -> Iterator[Capo]:
    """Every capo and tuning the player allows, no capo first."""
    for fret in range(settings.highest_capo + 1):
        yield Capo(fret)
    yield from (capo for capo in settings.short_capos if capo.fret <= settings.highest_capo)
    for down in range(1, settings.most_down + 1):
        yield Capo(0, down)
        if settings.capo_when_down:
            for fret in range(1, settings.highest_capo + 1):
                yield Capo(fret, down)
