"""What stands before the first bar line of a section: a pick-up, or a bar whose first line was
left off, as the trade usually does (common practice, no source)."""

from collections.abc import Sequence

from chartkit.interchange.sheet.bar_lines import cells_of
from chartkit.interchange.sheet.beats import slots_of
from chartkit.interchange.sheet.token import PICK_UP, Token

_WALTZ = 3
_FEWEST_WALTZ_BARS = 2


def takes_pick_up(tokens: Sequence[Token]) -> bool:
    """Whether a bar says that it is a pick-up."""
    return any(token.text == PICK_UP for token in tokens)


def is_counted(tokens: Sequence[Token]) -> bool:
    """Whether the beats of a bar are counted by slashes, dots or holds."""
    return any(token.kind in ("beat", "hold") for token in tokens)


def counts_three(rows: Sequence[Sequence[Token]]) -> bool:
    """Whether all bars of a sheet have three places where they have more than one, so that it
    is rather in 3/4 than in 4/4."""
    waltz = 0
    for tokens in rows:
        cells, lines = cells_of(tokens)
        if not any(token.kind == "bar" for token in tokens):
            continue
        for at, (_, inside) in enumerate(cells):
            places = len(slots_of(inside))
            if at == 0 and lines[0].kind == "none" and 0 < places < _WALTZ:
                continue  # perhaps a pick-up
            if places not in (0, 1, _WALTZ):
                return False
            waltz += places == _WALTZ
    return waltz >= _FEWEST_WALTZ_BARS
