"""One form of a song on one sheet, tried at several sizes of type.

It is measured once; then every size is tried by shrinking or widening the paper around it, which is
the same thing.
"""

from collections import Counter
from math import isfinite
from typing import TYPE_CHECKING, NamedTuple

from chartkit.arrange.page_look import PageLook
from chartkit.layout.choices import Choices
from chartkit.layout.compose import Composer, SetLines
from chartkit.layout.paginate import (
    Block,
    columns_of,
    height_of,
    page_turns,
    parts_of,
    rows_too_high,
    turned_back,
    turned_inside,
)
from chartkit.layout.place import PlacedSystem
from chartkit.layout.sizes import FACING_PAIR, cost_of_blank, last_with, middle_of, worth_of
from chartkit.layout.song_form import SongForm
from chartkit.layout.style import Paper, Style, in_landscape, page_room, paper_for_type_size

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape

_LEAST_FOR_ONE_PAGE = 0.95
"""In a book, a facing pair needs no turn either. Below this part of the middle size it is as good
as one page."""
_PER_TORN_SECTION = 0.2
"""The cost, as a part of the type's size, of a section torn by a page turn."""
_NO_AIR, _ENOUGH_AIR = 0.2, 8.0
"""The cost, as a part of the type's size, of rows that stand as close as possible, and how many
points more between them are enough."""
_OTHER_WAY, _PER_JUMP = 0.06, 0.01
"""How much type size the full form, or the preferred paper, is worth, as a part of the size; and,
where a section is sung again word for word, the square of how often the eye jumps on a folded page:
once is easy."""
_NEVER = 10**6
"""The number of pages that stands for columns too narrow for a name, so that they are never
chosen."""
_TURNED_BACK = 2
"""A folded section that goes on over a page turn may come so often: one turn back is as good as one
page more."""
_SURELY = 0.98
"""Another form prints a section in at least this part of its height."""


class Badness(NamedTuple):
    """The badness of a form and size: its pages before all else, then the rest."""

    pages: int
    cost: float


class _Tried(NamedTuple):
    """A size that is tried: its style and lines."""

    style: Style
    composer: Composer
    lines: SetLines


class Way:
    """One form of the song on one sheet, measured once at the paper's own size."""

    def __init__(
        self,
        composer: Composer,
        printed: SongForm,
        paper: Paper,
        choices: Choices,
        *,
        shapes: "tuple[NamedShape, ...]",
        facing: bool,
        loose: bool,
        tops: dict[float, float],
    ) -> None:
        """``tops`` has the heights of heads by size, shared by all ways of one form on one
        sheet."""
        self._loose = loose
        self.choices, self.printed = choices, printed
        self._paper = paper
        self._shapes = shapes
        self._facing = facing
        self._composer = composer
        self._sections = composer.sections()
        self._known: dict[float, Badness] = {}
        self._lines: dict[float, _Tried] = {}
        self._tops = tops
        self._placed: dict[float, list[Block]] = {}

    def may_be_shorter(self, other: SongForm, sizes: tuple[float, ...]) -> bool:
        """Whether another form may take fewer pages than this one in full, or larger type on the
        one page."""
        pages = self.fewest(sizes)
        room = page_room(self._tried(sizes[0]).style, pages - 1)
        least = self._tops[sizes[0]] + self._least_height(other, sizes)
        return pages == 1 or least <= room * (pages - 1)

    def may_save_a_page(self, other: SongForm, sizes: tuple[float, ...], pages: int) -> bool:
        """Whether a form in two columns on landscape paper may take fewer than so many pages."""
        style = Style(paper_for_type_size(in_landscape(self._paper), sizes[0]), self._paper.scale)
        landscape = page_room(style, pages - 1)
        room = 2 * (landscape * (pages - 1) - self._tops[sizes[0]] * _SURELY)
        return self._least_height(other, sizes) <= room

    def _least_height(self, other: SongForm, sizes: tuple[float, ...]) -> float:
        """The least that another form takes in the smallest size: it prints at least the first of
        the sections that it folds together."""
        style, firsts = self._tried(sizes[0]).style, dict[int, int]()
        heights = [height_of(parts_of([block], style)) for block in self._placed[sizes[0]]]
        if other is self.printed:
            return sum(heights) * _SURELY
        for i, entry in enumerate(other.entries):
            firsts.setdefault(entry.printed, i)
        return sum(heights[i] for i in firsts.values()) * _SURELY

    @property
    def less_liked(self) -> float:
        """How much type size this way has to gain over the preferred one."""
        if self.printed.repeats_words and self.choices.folded:
            return _PER_JUMP * self.printed.jumps**2
        return _OTHER_WAY

    def fewest(self, sizes: tuple[float, ...]) -> int:
        """How many pages the song takes at least: larger type never takes fewer."""
        return self._ranked(sizes[0], middle_of(sizes)).pages

    def rows(self, size: float) -> int:
        """How many rows the song takes at a size."""
        return sum(map(len, self._tried(size).lines.lines))

    def fits_one_page(self, sizes: tuple[float, ...]) -> bool:
        """Whether the song takes one page in type of the middle size."""
        return self._ranked(middle_of(sizes), middle_of(sizes)).pages == 1

    def least(self, sizes: tuple[float, ...]) -> Badness:
        """The badness of the best size."""
        return self._ranked(self.best_size(sizes), middle_of(sizes))

    def best_size(self, sizes: tuple[float, ...]) -> float:
        """The best size."""
        middle, fewest = middle_of(sizes), self.fewest(sizes)
        best, chosen = self._ranked(sizes[0], middle), sizes[0]
        for size in reversed(
            sizes[: last_with(sizes, fewest, lambda size: self._ranked(size, middle).pages) + 1]
        ):
            if best.pages == fewest and best.cost <= -worth_of(size, middle):
                break  # A smaller size cannot be better.
            least = self._tried(size).lines.flaws - worth_of(size, middle)
            if best.pages == (1 if self._facing else fewest) and best.cost <= least:
                continue
            tried = self._ranked(size, middle)
            if tried < best:
                best, chosen = tried, size
        return chosen

    def _ranked(self, size: float, middle: float) -> Badness:
        """The badness of a size; in a book a facing pair counts as one page."""
        pages, cost = self._badness(size, middle)
        if not self._facing:
            return Badness(pages, cost)
        if pages > FACING_PAIR:
            return Badness(max(pages, self._badness(middle, middle).pages), cost)
        return Badness(pages if size >= _LEAST_FOR_ONE_PAGE * middle else FACING_PAIR, cost)

    def _badness(self, size: float, middle: float) -> Badness:
        badness = self._known.get(size)
        if badness is None:
            style, composer, lines = self._tried(size)
            placed = composer.measured(self._sections, lines)
            top, blocks = self._framed(size, composer, placed)
            self._tops[size] = top.height
            self._placed[size] = placed
            parts = parts_of(blocks, style)
            pages, torn, blank, air = page_turns(top, parts, style, self.choices.columns)
            pages = pages if isfinite(lines.flaws) else _NEVER
            cost = (
                lines.flaws + _PER_TORN_SECTION * torn + cost_of_blank(pages, blank, self._facing)
            )
            cost += _NO_AIR * max(0.0, 1 - air / _ENOUGH_AIR) + rows_too_high(parts, style)
            badness = self._known[size] = Badness(pages, cost - worth_of(size, middle))
        return badness

    def sizes_without_tears(self, look: PageLook, sizes: tuple[float, ...]) -> tuple[float, ...]:
        """The sizes from the largest usual one on in which the fewest bars are torn and the fewest
        rows are higher than a page."""
        usual = look.sizes[0] if look.sizes else 1.0
        tried = [usual, *(size for size in reversed(sizes) if size < usual)]
        torn = {size: self._tears(size) for size in tried}
        least = min(tried, key=lambda size: (torn[size], -size))
        return tuple(size for size in sizes if size >= least)

    def _tears(self, size: float) -> int:
        """How many bars are torn at a size, and how many rows are higher than a page."""
        style, composer, lines = self._tried(size)
        blocks = composer.measured(self._sections, lines)
        return lines.torn + rows_too_high(parts_of(blocks, style), style)

    def folds_apart(self, size: float) -> set[int]:
        """The numbers of the printed sections that should not be folded, in that size: they are
        higher than a page, or than two that face each other; or they are turned back to, or go on
        over a page turn, so often that more is turned back than one page more is turned on.  Two
        loose sheets lie side by side, and are not turned."""
        style, composer, _ = self._tried(size)
        pages = self._badness(size, size).pages
        if pages == 1 or not self.printed.is_folded:
            return set()
        placed, columns = self._placed[size], self.choices.columns
        top, blocks = self._framed(size, composer, placed)
        sides = FACING_PAIR if self._facing else 1  # seen before a page is turned
        room = page_room(style) * sides
        filled = columns_of(parts_of(blocks, style), top, style, columns)
        played = [entry.printed for entry in self.printed.entries]
        times = Counter(played)
        turned, backs = set[int](), Counter[int]()
        if not (self._loose and pages == FACING_PAIR):
            turned = turned_inside(filled, columns * sides)
            backs = turned_back(filled, columns * sides, played)
        return {
            number
            for number, block in enumerate(placed)
            if block.again
            and (
                height_of(parts_of([block], style)) > room
                or (number in turned and times[number] > _TURNED_BACK)
                or backs[number] >= _TURNED_BACK
            )
        }

    def _tried(self, size: float) -> "_Tried":
        """The lines at a size."""
        if size not in self._lines:
            style = Style(paper_for_type_size(self._paper, size), self._paper.scale)
            composer = self._composer.in_style(style, size)
            lines = composer.lines(self._sections, measuring=True)
            self._lines[size] = _Tried(style, composer, lines)
        return self._lines[size]

    def _framed(
        self, size: float, composer: Composer, placed: list[Block]
    ) -> tuple[PlacedSystem, list[Block]]:
        """The head of the first page and the blocks; if the head is as high at a smaller as
        at a larger size, it has that height between them too."""
        if not self._shapes:
            if size in self._tops:
                return PlacedSystem((), self._tops[size]), placed
            smaller = {height for one, height in self._tops.items() if one < size}
            larger = {height for one, height in self._tops.items() if one > size}
            if alike := smaller & larger:
                return PlacedSystem((), alike.pop()), placed
        return composer.framed(placed, self._shapes)
