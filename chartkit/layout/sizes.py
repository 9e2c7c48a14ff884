"""The forms, sheets and sizes of type that are tried for a song, and what each size is worth."""

from collections.abc import Callable

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import PHONES, Form, PageLook
from chartkit.layout.song_form import SongForm, folded_form, full_form

SIZES = (0.85, 0.88, 0.91, 0.94, 0.97, 1.0, 1.04, 1.08, 1.12, 1.18, 1.25)
"""The sizes tried, as parts of the paper's own: words from 9.8 to 14.4 points on A4.  From a
music stand less cannot be read (common practice, no source)."""
_ROAD_MAP_SIZES = (0.85, 0.88, 0.91, 0.94, 0.97, 1.0, 1.08, 1.18, 1.28, 1.42, 1.57)
"""Those of a road map, which is short and read from further away: up to large print."""
_PHONE_SIZES = (0.75, 0.8, 0.85, 0.9, 0.95, 1.0, 1.04, 1.08, 1.12, 1.18, 1.25)
"""Those of a phone; below 1 only where that keeps a bar in one row, down to a book's type."""
_SMALLER, _LARGER = 2.0, 0.5
"""The value of type smaller and larger than the middle size, by how much it is so: somebody who can
read the middle size gains less by larger type than by rows in one piece and one grid."""

FACING_PAIR = 2
"""The pages of a book that are seen at once."""
_ALL_BLANK, _FEW_ROWS = 0.9, 0.3
"""The cost, as a part of the type's size, of a blank rest of a song's only page, and of few rows
alone on the second page of a facing pair."""
_SHORT, _SOME_ROWS = 0.5, 0.2
"""The part of its only page that a short song leaves blank in any size: more of it costs no more.
A second page with no more than that blank costs nothing, and all its cost with so much more of
it."""


def forms_of(arrangement: Arrangement, form: Form) -> list[tuple[bool, SongForm]]:
    """The forms to try, the one that is preferred first."""
    full = full_form(arrangement.sections)
    if form not in ("auto", "folded"):
        return [(False, full)]
    folded = folded_form(full)
    if form == "folded":
        return [(True, folded)]
    return [(False, full), (True, folded)] if folded.is_folded else [(False, full)]


def sizes_of(look: PageLook) -> tuple[float, ...]:
    """The sizes to try, the smallest first."""
    limits = look.sizes
    if look.paper in PHONES and look.size is None:
        usual = _PHONE_SIZES[-1:] if limits is None else _between(*limits)
        return (*(size for size in _PHONE_SIZES if size < usual[0]), *usual)
    if limits is None:
        return _ROAD_MAP_SIZES if look.show == "road-map" else SIZES
    return _between(*limits)


def _between(least: float, largest: float) -> tuple[float, ...]:
    """As many sizes between two as are tried at all."""
    if least == largest:
        return (least,)
    steps = len(SIZES) - 1
    return tuple(least + (largest - least) * i / steps for i in range(steps + 1))


def sheets_of(look: PageLook, bound: bool) -> tuple[bool, ...]:
    """Whether the paper is landscape, the preferred way first: in large print it may be,
    but a phone is held upright.

    In a book all pages lie alike, since nobody turns a screen between two songs: landscape, which
    keeps four bars on a row; portrait for a road map, whose rows are short.
    """
    if not look.large or look.paper in PHONES:
        return (False,)
    return (look.show != "road-map",) if bound else (True, False)


def worth_of(size: float, middle: float) -> float:
    """The value of a size: 1 in the middle; a smaller size loses more than its difference, a larger
    one gains less."""
    off = size / middle - 1
    return 1 + off * (_SMALLER if off < 0 else _LARGER)


def cost_of_blank(sides: int, blank: float, facing: bool) -> float:
    """The cost of the blank part of a song's last page, 0 to 1: of its only page, or, where pages
    are ``facing``, of a second one with few rows, for which type a little smaller on one page is
    better."""
    if facing and sides == FACING_PAIR:
        return _FEW_ROWS * min(1.0, max(0.0, blank - _SHORT) / _SOME_ROWS)
    return _ALL_BLANK * min(blank, _SHORT) * (sides == 1)


def middle_of(sizes: tuple[float, ...]) -> float:
    """The size in the middle of those tried."""
    return sizes[len(sizes) // 2]


def last_with(
    sizes: tuple[float, ...],
    fewest: int,
    sides: Callable[[float], int],
) -> int:
    """The place of the largest size with the fewest pages; larger type never takes fewer."""
    low, high = 0, len(sizes) - 1
    while low < high:
        at = (low + high + 1) // 2
        low, high = (at, high) if sides(sizes[at]) <= fewest else (low, at - 1)
    return low
