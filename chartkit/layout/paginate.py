"""Step four: headings and systems to pages.

A heading stays with its first system.  A section that does not fit what is left of a page
but fits on a fresh one begins there, unless that would leave more than half the page empty.
"""

from dataclasses import dataclass, field

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import foot_line
from chartkit.layout.frames import Bookmark, Item, Page, moved
from chartkit.layout.place import PlacedSystem
from chartkit.layout.style import Style

_SYSTEM_GAP, _SECTION_GAP, _HEADING_GAP = 11.0, 17.0, 5.0
_MOST_EMPTY = 0.5


@dataclass(frozen=True, slots=True)
class Block:
    """A section ready for the page: its name, its heading and its systems."""

    name: str
    heading: PlacedSystem | None
    systems: tuple[PlacedSystem, ...]


@dataclass(slots=True)
class _Filling:
    """The page being filled."""

    items: list[Item] = field(default_factory=list)
    bookmarks: list[Bookmark] = field(default_factory=list)
    y: float = 0.0


class _Paginator:
    def __init__(self, style: Style) -> None:
        paper = style.paper
        self._style = style
        self._left, self._top = paper.side, paper.top
        self._foot = paper.height - paper.bottom - style.small * 1.6
        self._room = self._foot - self._top
        self.filled: list[_Filling] = [_Filling(y=self._top)]

    def put(self, system: PlacedSystem, gap: float) -> None:
        """Places a system under what is there already, a gap apart."""
        page = self.filled[-1]
        y = page.y + (gap if page.y > self._top else 0.0)
        page.items += [moved(item, self._left, y) for item in system.items]
        page.y = y + system.height

    def fits(self, height: float) -> bool:
        """Whether something of that height still fits on the page."""
        return self.filled[-1].y + height <= self._foot

    def turn(self) -> None:
        """Goes on to a fresh page, unless this one is fresh."""
        if self.filled[-1].y > self._top:
            self.filled.append(_Filling(y=self._top))

    def block(self, block: Block) -> None:
        """Places a section, torn only where it must be."""
        pt = self._style.pt
        section_gap, heading_gap, gap = pt(_SECTION_GAP), pt(_HEADING_GAP), pt(_SYSTEM_GAP)
        head = 0.0 if block.heading is None else block.heading.height + heading_gap
        systems = sum(system.height + gap for system in block.systems) - gap
        whole = section_gap + head + systems
        first = section_gap + head + (block.systems[0].height if block.systems else 0.0)
        empty = self._foot - self.filled[-1].y
        if not self.fits(first) or (
            not self.fits(whole) and whole <= self._room and empty < self._room * _MOST_EMPTY
        ):
            self.turn()
        page = self.filled[-1]
        if block.name:
            page.bookmarks.append(Bookmark(block.name, page.y))
        if block.heading is not None:
            self.put(block.heading, section_gap)
        for i, system in enumerate(block.systems):
            before = gap if i else (heading_gap if block.heading is not None else section_gap)
            if i and not self.fits(before + system.height):
                self.turn()
            self.put(system, before)


def pages(
    arrangement: Arrangement, fitter: Fitter, top: PlacedSystem, blocks: list[Block], style: Style
) -> tuple[Page, ...]:
    """The pages of the song, each with its foot line."""
    paginator = _Paginator(style)
    paginator.put(top, 0.0)
    for block in blocks:
        paginator.block(block)
    paper, count = style.paper, len(paginator.filled)
    made = []
    for number, page in enumerate(paginator.filled, 1):
        foot = foot_line(arrangement, number, count, paper.height - paper.bottom, fitter, style)
        items = (*page.items, *(moved(item, paper.side, 0) for item in foot))
        made.append(Page(paper.width, paper.height, items, tuple(page.bookmarks)))
    return tuple(made)
