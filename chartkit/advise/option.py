"""What can be done to a guitar: a capo, a lower tuning, or neither."""

from collections.abc import Iterator
from dataclasses import dataclass

from chartkit.advise.settings import AdviceSettings


@dataclass(frozen=True, slots=True, order=True)
class Option:
    """A capo at a fret (0 for none) on a guitar tuned ``down`` so many half steps."""

    capo: int = 0
    down: int = 0

    @property
    def raised(self) -> int:
        """How many half steps what sounds lies above the shapes; negative is below."""
        return self.capo - self.down

    def __str__(self) -> str:
        steps = f"tuned down {self.down}" if self.down else ""
        capo = f"capo {self.capo}" if self.capo else ""
        return ", ".join(filter(None, (steps, capo))) or "no capo"


def options(settings: AdviceSettings) -> Iterator[Option]:
    """Every option the player allows, no capo first."""
    for capo in range(settings.highest_capo + 1):
        yield Option(capo)
    for down in range(1, settings.most_down + 1):
        yield Option(0, down)
        if settings.capo_when_down:
            for capo in range(1, settings.highest_capo + 1):
                yield Option(capo, down)
