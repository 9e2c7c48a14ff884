"""One player's changes over a night, song by song, in type that can be read in the dark."""

from collections.abc import Sequence

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Page, Stroke
from chartkit.layout.place import SECOND_INK
from chartkit.layout.style import Style

_HEAD = 62.0
_LARGEST_ROW, _SMALLEST_ROW = 50.0, 24.0
"""The height of a song's row in points, its title and its change one above the other (ours)."""


def change_pages(
    name: str,
    player: str,
    titles: Sequence[str],
    changes: Sequence[str],
    fitter: Fitter,
    style: Style,
) -> list[Page]:
    """A player's pages, none where nothing is said: every song, and what to do before it."""
    room = style.paper.height - style.paper.top - style.paper.bottom - _HEAD
    most = max(1, int(room // _SMALLEST_ROW))
    height = min(_LARGEST_ROW, room / max(1, min(most, len(changes))))
    pages = []
    for start in range(0, len(changes), most):
        items = _head(name, player, fitter, style)
        for i, change in enumerate(changes[start : start + most]):
            y = style.paper.top + _HEAD + i * height
            title = f"{start + i + 1}. {titles[start + i]}"
            items += _row(title, change, y, height, fitter, style)
        pages.append(Page(style.paper.width, style.paper.height, tuple(items)))
    return pages


def _head(name: str, player: str, fitter: Fitter, style: Style) -> list[Item]:
    side, y = style.paper.side, style.paper.top + 24
    shown = fitter.shortened(player, "title", style.title, style.line_width)
    heading = fitter.shortened(f"{name}: before each song", "italic", style.band, style.line_width)
    return [
        fitter.text(shown, side, y, "title", style.title, role="player"),
        fitter.text(heading, side, y + style.band * 1.6, "italic", style.band, role="place"),
    ]


def _row(
    title: str, change: str, y: float, height: float, fitter: Fitter, style: Style
) -> list[Item]:
    """The song in small type and what to do below it, large and bold, or small if nothing
    changes."""
    side, width = style.paper.side, style.line_width
    small, large = height * 0.28, height * 0.42
    items: list[Item] = [Stroke(side, y, side + width, y, 0.35, 0.45)]
    shown = fitter.shortened(title, "plain", small, width)
    items.append(
        fitter.text(shown, side, y + height * 0.36, "plain", small, role="song", ink=SECOND_INK)
    )
    if change:
        size = max(fitter.fitting_size(change, "strong", large, width), large * 0.5)
        sentence = fitter.shortened(change, "strong", size, width)
        items.append(fitter.text(sentence, side, y + height * 0.84, "strong", size, role="change"))
    return items
