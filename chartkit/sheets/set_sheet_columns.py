"""Where the columns of the set sheet stand, in rows of one line and of two."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.layout.style import Style

_NARROW = 52.0
"""A guitarist's column of fewer points has no room for words (ours)."""
_BOX = 0.6
"""The share of a guitarist's column that the setting takes; the rest is the first shape's."""


@dataclass(frozen=True, slots=True)
class SheetColumns:
    """Where the columns stand, in points, where all of a song is on one line."""

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
        return self.first_chord[0] - 48, 42

    @property
    def first_chord(self) -> tuple[float, float]:
        """The first chord that sounds."""
        return self.tempo[0] - 48, 38

    @property
    def tempo(self) -> tuple[float, float]:
        """The tempo."""
        return self.guitar(0)[0] - 36, 30

    @property
    def right(self) -> float:
        """Where the right margin begins, in points from the left edge."""
        return self.style.paper.width - self.style.paper.side

    def guitar(self, number: int) -> tuple[float, float]:
        """A guitarist's column: two take two fifths of the page, four half of it."""
        share = min(0.5, 0.3 + 0.05 * self.guitars)
        width = min(104.0, self.style.line_width * share / max(1, self.guitars))
        right = self.style.paper.width - self.style.paper.side
        return right - width * (self.guitars - number), width - 6

    def box(self, number: int) -> tuple[float, float]:
        """The part of a guitarist's column that the setting takes."""
        left, width = self.guitar(number)
        return left, width * _BOX

    def shape(self, number: int) -> tuple[float, float]:
        """The part of a guitarist's column that the first shape takes."""
        left, width = self.guitar(number)
        return left + width * (_BOX + 0.04), width * (0.96 - _BOX)

    @property
    def narrow(self) -> bool:
        """Whether a guitarist's column has room for signs only, not for words."""
        return self.guitars > 0 and self.guitar(0)[1] < _NARROW

    @property
    def short_moves(self) -> bool:
        """Whether a move of the capo inside a song is shown as ``capo 3>5``, to stay large."""
        return True

    @property
    def stacked(self) -> bool:
        """Whether the guitarists have a line of their own."""
        return False


@dataclass(frozen=True, slots=True)
class RoomyColumns(SheetColumns):
    """The columns if the titles leave room: every setting has so many points more, or fewer where
    what is special tonight needs them."""

    extra: float

    def guitar(self, number: int) -> tuple[float, float]:
        """A guitarist's column."""
        left, width = SheetColumns.guitar(self, number)
        return left - self.extra * (self.guitars - number), width + self.extra

    def box(self, number: int) -> tuple[float, float]:
        """The part of a guitarist's column that the setting takes."""
        left, width = self.guitar(number)
        return left, (width - self.extra) * _BOX + self.extra

    def shape(self, number: int) -> tuple[float, float]:
        """The part of a guitarist's column that the first shape takes."""
        left, width = self.guitar(number)
        own = width - self.extra
        return left + self.extra + own * (_BOX + 0.04), own * (0.96 - _BOX)


# The columns of the line under a title, in ems of its type.
_KEY = 2.6
_FIRST = 3.5
"""The first chord."""
_TEMPO = 2.5
_SETTING = 4.9
"""A setting in words."""
_SIGN = 2.0
"""A setting in signs."""
_SHAPE = 3.3
"""Its first shape."""
_APART = 0.5
"""What is between two columns."""
_LEAST_WORDS = 10.0
"""The size in points below which settings are shown as signs (ours)."""


@dataclass(frozen=True, slots=True)
class TallColumns(SheetColumns):
    """Where the columns stand under a title that has a line to itself.

    ``indent`` is the room of its number, ``size`` that of the type under it, in points;
    ``setting`` the room of a setting in words, in ems.
    """

    indent: float
    size: float
    signs: bool
    setting: float

    @property
    def title(self) -> tuple[float, float]:
        """The whole line after the number."""
        return self._column(0, self.style.line_width - self.indent)

    @property
    def key(self) -> tuple[float, float]:
        """The key that sounds."""
        return self._column(0, _KEY * self.size)

    @property
    def first_chord(self) -> tuple[float, float]:
        """The first chord that sounds."""
        return self._column(_KEY + _APART, _FIRST * self.size)

    @property
    def tempo(self) -> tuple[float, float]:
        """The tempo."""
        return self._column(_KEY + _FIRST + 2 * _APART, _TEMPO * self.size)

    def guitar(self, number: int) -> tuple[float, float]:
        """A guitarist's column, all of them flush with the right margin."""
        width = _guitar_ems(self.signs, self.setting) * self.size
        right = self.style.paper.width - self.style.paper.side
        return right - width * (self.guitars - number), width - _APART * self.size

    def box(self, number: int) -> tuple[float, float]:
        """The part of a guitarist's column that the setting takes."""
        return self.guitar(number)[0], (_SIGN if self.signs else self.setting) * self.size

    def shape(self, number: int) -> tuple[float, float]:
        """The part of a guitarist's column that the first shape takes."""
        left, width = self.box(number)
        return left + width + 0.3 * self.size, (_SHAPE - 0.3) * self.size

    @property
    def narrow(self) -> bool:
        """Whether a guitarist's column has room for signs only, not for words."""
        return self.signs

    @property
    def short_moves(self) -> bool:
        """Whether moves are written short: only as signs, since words have room here."""
        return self.signs

    def _column(self, ems: float, width: float) -> tuple[float, float]:
        return self.style.paper.side + self.indent + ems * self.size, width


@dataclass(frozen=True, slots=True)
class StackedColumns(TallColumns):
    """Where the columns stand in rows so high that the guitarists have a line of their own.

    ``cell`` is the size of the type in that line, in points.
    """

    cell: float

    @property
    def stacked(self) -> bool:
        """Whether the guitarists have a line of their own."""
        return True

    def guitar(self, number: int) -> tuple[float, float]:
        """A guitarist's column, all of them beginning under the titles."""
        width = _guitar_ems(self.signs) * self.cell
        return self.style.paper.side + self.indent + width * number, width - _APART * self.cell

    def box(self, number: int) -> tuple[float, float]:
        """The part of a guitarist's column that the setting takes."""
        return self.guitar(number)[0], _SETTING * self.cell

    def shape(self, number: int) -> tuple[float, float]:
        """The part of a guitarist's column that the first shape takes."""
        left, width = self.box(number)
        return left + width + 0.3 * self.cell, (_SHAPE - 0.3) * self.cell


def stacked_columns(
    guitars: int, indent: float, line: float, cell: float, style: Style
) -> StackedColumns | None:
    """The columns in type of these sizes or smaller, guitarists on their own line; None where that
    has no room for words."""
    room = style.line_width - indent
    size = min(line, room / (_KEY + _FIRST + _TEMPO + 3 * _APART))
    cell = min(cell, room / (_guitar_ems(signs=False) * max(1, guitars)))
    if not guitars or cell < _LEAST_WORDS:
        return None
    return StackedColumns(guitars, style, indent, size, signs=False, setting=_SETTING, cell=cell)


def tall_columns(
    guitars: int, indent: float, size: float, style: Style, setting: float = _SETTING
) -> TallColumns:
    """The columns in type of that size, or smaller where the guitarists need the room.

    A ``setting`` of more ems than usual takes what room is left.
    """

    def fitting(signs: bool) -> float:
        ems = _KEY + _FIRST + _TEMPO + 3 * _APART + _guitar_ems(signs) * guitars
        return min(size, (style.line_width - indent) / ems)

    signs = guitars > 0 and fitting(signs=False) < min(size, _LEAST_WORDS)
    made = TallColumns(guitars, style, indent, fitting(signs), signs, _SETTING)
    if not guitars or signs or setting <= _SETTING:
        return made
    spare = made.guitar(0)[0] - sum(made.tempo)
    return replace(made, setting=min(setting, _SETTING + spare / guitars / made.size))


def _guitar_ems(signs: bool, setting: float = _SETTING) -> float:
    return (_SIGN if signs else setting) + _SHAPE + _APART


def common_size(fitting: Sequence[float], size: float) -> float:
    """One size for all of a column from those at which each fits: that at which nine in ten
    do, or all but one where there are few; the longest get smaller alone."""
    if not fitting:
        return size
    least = min(len(fitting) - 1, max(1, len(fitting) // 10)) if len(fitting) > 3 else 0
    return max(sorted(fitting)[least], size * 0.5)
