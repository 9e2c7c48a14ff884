"""Chooses how a song stands best on its pages: the size of the type, and its form in full or
folded.

Every way is measured once and tried at several sizes (``way.py``).  On loose sheets and screens the
fewest pages come first, down to the smallest size: somebody who plays cannot turn pages.  In a book
a facing pair is as good as one page, unless few rows stand on its second.  Among those the largest
type wins, but a section torn by a page turn, a row of the writer's cut in two, and most of all a
torn bar outweigh some size.  The weights are ours, set by looking at pages.
"""

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Literal, NamedTuple

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import PHONES, SCREENS, PageLook
from chartkit.layout.choices import Choices
from chartkit.layout.compose import Composer
from chartkit.layout.metrics import Typesetter
from chartkit.layout.shared_rows import SharedRows
from chartkit.layout.sizes import forms_of, sheets_of, sizes_of
from chartkit.layout.song_form import SongForm, folded_form
from chartkit.layout.style import PAPERS, FootLine, Style, paper_of
from chartkit.layout.way import Way

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape

_MOST_UPRIGHT = 3
"""Landscape paper is tried for songs of at most this many portrait pages: somebody who turns pages
more often gains little by one page less."""
_MOST_PARTED = 12
"""A song of more pages in full is not folded where a folded section goes on over a page turn."""


def best_choices(
    arrangement: Arrangement,
    look: PageLook,
    typesetter: Typesetter,
    shapes: "tuple[NamedShape, ...]" = (),
    foot: FootLine = "own",
) -> tuple[Choices, SongForm]:
    """The best way for the song: its form, and of ``SIZES``, or of as many between the limits of
    the look, the best size; and the sections in that form.  In a book, where the song's pages
    have no ``foot`` of their own, all pages lie alike, and those of paper face each other."""
    chosen = _Chooser(arrangement, look, typesetter, shapes, foot).chosen
    forms = forms_of(arrangement, look.form)
    best, apart = chosen(forms), list[int]()
    if look.form == "auto" and (best.torn or (best.pages > 1 and forms[-1][1].repeats_words)):
        whole = chosen(forms[:1]) if best.choices.folded else best
        parted = best if best.choices.folded else chosen(forms[1:])
        while parted.torn and parted.pages < whole.pages <= _MOST_PARTED:
            # Nobody turns back for each verse.
            torn = parted.torn
            apart += [i for i, one in enumerate(parted.printed.entries) if one.printed in torn]
            parted = chosen([(True, folded_form(forms[0][1], apart))])
        best = parted if parted.pages < whole.pages and not parted.torn else whole
    apart *= best.choices.folded
    return replace(best.choices, apart=tuple(apart)), best.printed


class _Chosen(NamedTuple):
    """The best choices among some forms, the sections in that form, the numbers of those that
    should not be folded in it, and how many pages it takes."""

    choices: Choices
    printed: SongForm
    torn: set[int]
    pages: int


class _Chooser:
    """Chooses among forms of one song; each is measured once, also where it is asked for again."""

    def __init__(
        self,
        arrangement: Arrangement,
        look: PageLook,
        typesetter: Typesetter,
        shapes: "tuple[NamedShape, ...]",
        foot: FootLine,
    ) -> None:
        self._look, self._foot, self._shapes = look, foot, shapes
        bound = foot != "own"
        self._sheets, self._sizes = sheets_of(look, bound), sizes_of(look)
        self._facing = bound and look.paper not in SCREENS
        phone = look.paper in PHONES
        self._columns = look.columns == "auto" and not (bound or look.large or phone)
        self._compose = partial(
            Composer, arrangement, typesetter=typesetter, look=look, shared=SharedRows()
        )
        self._known: dict[tuple[int, Choices], Way] = {}
        self._tops: dict[tuple[int, bool], dict[float, float]] = {}

    def chosen(self, forms: list[tuple[bool, SongForm]]) -> _Chosen:
        """The best choices among some forms."""
        sizes, sheets, (folded, first) = self._sizes, self._sheets, forms[0]
        one_way = len(forms) == len(sizes) == len(sheets) == 1
        if one_way and not (self._columns or first.is_folded):
            return _Chosen(Choices(sizes[0], folded), first, set(), 1)
        if self._look.paper in PHONES and self._look.size is None:
            sizes = self._way(first, folded).sizes_without_tears(self._look, sizes)
        ways = self._ways(forms, sizes)
        fewest = min(way.fewest(sizes) for way in ways)
        if self._columns and 1 < fewest <= _MOST_UPRIGHT:
            folded, printed = forms[-1]
            if ways[0].may_save_a_page(printed, sizes, fewest):
                ways.append(self._way(printed, folded, landscape=True, columns=2))
        size = (way := _best(ways, sizes)).best_size(sizes)
        choices = replace(way.choices, size=size)
        return _Chosen(choices, way.printed, way.folds_apart(size), way.fewest(sizes))

    def _ways(self, forms: list[tuple[bool, SongForm]], sizes: tuple[float, ...]) -> list[Way]:
        """Each form on each sheet, the preferred one first, up to one that cannot be bettered."""
        ways: list[Way] = []
        for folded, printed in forms:
            if ways and not (printed.repeats_words or ways[0].may_be_shorter(printed, sizes)):
                break
            for landscape in self._sheets:
                ways.append(self._saving_pages(self._way(printed, folded, landscape), sizes))
                if ways[-1].fewest(sizes) == 1:
                    break
            again = forms[-1][1].repeats_words
            if not again and ways[-1].fewest(sizes) == 1 and ways[-1].fits_one_page(sizes):
                break
        return ways

    def _saving_pages(self, way: Way, sizes: tuple[float, ...]) -> Way:
        """The way itself, or the same with the same music cut as it fits, where that saves a
        page."""
        if way.fewest(sizes) == 1:
            return way
        choices = way.choices
        apart = self._way(way.printed, choices.folded, choices.landscape, cut_alike=False)
        fewer = apart.rows(sizes[0]) < way.rows(sizes[0])
        return apart if fewer and apart.fewest(sizes) < way.fewest(sizes) else way

    def _way(
        self,
        printed: SongForm,
        folded: bool,
        landscape: bool = False,
        columns: Literal[1, 2] = 1,
        cut_alike: bool = True,
    ) -> Way:
        """A form on a sheet; the one that was made before if it has been asked for."""
        choices = Choices(
            size=1.0, folded=folded, landscape=landscape, columns=columns, cut_alike=cut_alike
        )
        # A way keeps its form, so that the form's identity stays its own.
        way = self._known.get((id(printed), choices))
        if way is None:
            sheet = paper_of(self._look, landscape, self._foot)
            style = Style(sheet, PAPERS[self._look.paper].scale)
            composer = self._compose(printed, style=style, choices=choices)
            loose = self._look.paper not in SCREENS
            tops = self._tops.setdefault((id(printed), landscape), {})
            way = Way(
                composer,
                printed,
                sheet,
                choices,
                shapes=self._shapes,
                facing=self._facing,
                loose=loose,
                tops=tops,
            )
            self._known[id(printed), choices] = way
        return way


def _best(ways: list[Way], sizes: tuple[float, ...]) -> Way:
    """The form with the fewest pages, the first of several; on one page another one is taken if it
    gains some size."""
    fewest = min(way.fewest(sizes) for way in ways)
    able = [way for way in ways if way.fewest(sizes) == fewest]
    if fewest > 1 or len(able) == 1:
        return able[0]
    costs = [way.least(sizes).cost + way.less_liked * (i > 0) for i, way in enumerate(able)]
    return able[costs.index(min(costs))]
