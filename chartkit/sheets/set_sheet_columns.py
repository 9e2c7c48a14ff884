"""Where the columns of the set sheet stand."""

from dataclasses import dataclass

from chartkit.layout.style import Style

_NARROW = 52.0
"""A guitarist's column of fewer points has no room for words (ours)."""


@dataclass(frozen=True, slots=True)
class SheetColumns:
    """Where the columns of the sheet stand, in points."""

    guitars: int
    style: Style

    @property
    def title(self) -> tuple[float, float]:
        """The left edge and the width of the title's column, after the number's."""
        left = self.style.paper.side + 26
        return left, self.key[0] - left - 6

    @property
    def key(self) -> tuple[float, float]:
        """The key that sounds."""
        return self.first[0] - 48, 42

    @property
    def first(self) -> tuple[float, float]:
        """The first chord that sounds."""
        return self.tempo[0] - 48, 42

    @property
    def tempo(self) -> tuple[float, float]:
        """The tempo."""
        return self.guitar(0)[0] - 36, 30

    def guitar(self, number: int) -> tuple[float, float]:
        """A guitarist's column: two take two fifths of the page, four half of it."""
        share = min(0.5, 0.3 + 0.05 * self.guitars)
        width = min(104.0, self.style.line_width * share / max(1, self.guitars))
        right = self.style.paper.width - self.style.paper.side
        return right - width * (self.guitars - number), width - 6

    @property
    def narrow(self) -> bool:
        """Whether a guitarist's column has room for signs only, not for words."""
        return self.guitars > 0 and self.guitar(0)[1] < _NARROW
