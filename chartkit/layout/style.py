"""Sizes: papers and type; gaps between systems and sections are in ``paginate.py``.

Every distance is given in points at scale 1 and multiplied by the scale.  The proportions
are ours, chosen by looking at proofs on A4, Letter and a screen; a music stand is read from
about half a metre to a metre, so words are no smaller than a book's and shapes a third
larger, bold.
"""

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from chartkit.arrange.page_look import SCREENS, PageLook, PaperName

FootLine = Literal["own", "book", "none"]
"""Whose line stands at the foot of a page: the song's, a bound book's, or, on a screen that shows
page and song beside it, nobody's."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A page size in points, its margins, and the type scale that suits it.

    ``foot`` is what the lines at the foot keep clear above the bottom margin, whatever the size
    of the song's own type: in a book they are of one size throughout.  A song that has a single
    page of ``footless`` paper goes without: everything in its foot line stands in its head.  The
    title stands ``raised`` over the top margin, which has room for the number of a bar over the
    first row of a page.
    """

    width: float
    height: float
    side: float
    top: float
    bottom: float
    scale: float = 1.0
    foot: float = 25.0
    raised: float = 0.0
    footless: bool = False


_SMALL, _BAND, TITLE = 8.5, 11.0, 22.0
_LYING_SIDE, _LYING_TOP, _LYING_BOTTOM, _LYING_FOOT = 0.55, 0.6, 0.46, 0.55
"""The margins of landscape paper and the room of its foot line, as parts of those in portrait:
margins no less than the 5 mm that printers leave white (common practice, no source)."""
_BETWEEN_COLUMNS = 28.0
"""Room between columns, at scale 1."""
_LEAST_TOP, _LEAST_BOTTOM, _LEAST_FOOT = 16.0, 5.5, 12.0
"""Room for the number of a bar over the first row of a page, for what hangs under its foot line,
and for the line itself, in points."""

_NARROW = 220.0
"""A line shorter than this, in points at scale 1, is a phone's."""
_OVER_ROW = 9.0
"""Room at the head of a page for what stands over its first row, the number of its bar or
"(continued)", at scale 1: type larger than the paper's own needs more than the margin."""

PAPERS: dict[PaperName, Paper] = {
    "a4": Paper(width=595.28, height=841.89, side=45, top=42, bottom=32),
    "letter": Paper(width=612, height=792, side=48, top=40, bottom=30),
    "tablet": Paper(width=576, height=768, side=24, top=18, bottom=7, scale=1.12, foot=17),
    "phone": Paper(width=186, height=330, side=7, top=7, bottom=5, scale=1.17, foot=16),
    "phone-side": Paper(width=390, height=157, side=8, top=7, bottom=5, scale=1.17, foot=16),
}
"""A4 by ISO 216, US Letter (8.5 x 11 in), a screen page of three by four, and the screen of a phone
in its own size, upright (66 mm wide) and on its side, where lines of the book stand over and under
it.  On both the letter x of sung words is 2.5 mm high (measured on our serif face): a third more
than a book's, for a phone stands at arm's length."""


@dataclass(frozen=True)
class Style:
    """A paper with every size of type, already scaled, worked out once.  All lengths in points."""

    paper: Paper
    scale: float
    title_size: float = TITLE

    def _scaled(self, points: float) -> float:
        return points * self.scale

    @cached_property
    def words(self) -> float:
        """Sung words."""
        return self._scaled(11.5)

    @cached_property
    def strong(self) -> float:
        """The first line of chords."""
        return self._scaled(15)

    @cached_property
    def second(self) -> float:
        """The line of chords under it."""
        return self._scaled(12.75)

    @cached_property
    def cue(self) -> float:
        """Cues and changes of key."""
        return self._scaled(10)

    @cached_property
    def jump(self) -> float:
        """Where a mark leads: read from as far away as the chords, so larger than a cue, and still
        within the level of one."""
        return self._scaled(12.5)

    @cached_property
    def heading(self) -> float:
        """Section names."""
        return self._scaled(11.5)

    @cached_property
    def bar_number(self) -> float:
        """The numbers of bars at the heads of rows."""
        return self._scaled(7.6)

    @cached_property
    def title(self) -> float:
        """The song's title."""
        return self._scaled(self.title_size)

    @cached_property
    def band(self) -> float:
        """The line under the title that tells capo, keys, meter and tempo."""
        return self._scaled(_BAND)

    @cached_property
    def small(self) -> float:
        """Ending numbers and legends."""
        return self._scaled(_SMALL)

    @cached_property
    def foot(self) -> float:
        """Foot lines: never larger than the paper's own small type, however large the song's."""
        return _SMALL * min(self.scale, self.paper.scale)

    @cached_property
    def coming(self) -> float:
        """The next song at the foot of a song in a book, no larger than the paper's own band."""
        return _BAND * min(self.scale, self.paper.scale)

    @cached_property
    def line_width(self) -> float:
        """The length of a full line."""
        return self.paper.width - 2 * self.paper.side

    @cached_property
    def is_narrow(self) -> bool:
        """Whether a line holds no more than a bar or two, as on a phone."""
        return self.line_width < self.pt(_NARROW)

    @cached_property
    def top(self) -> float:
        """Where the rows of a page begin."""
        return max(self.paper.top, self._scaled(_OVER_ROW))

    def pt(self, points: float) -> float:
        """A distance at this style's scale."""
        return points * self.scale


def in_landscape(paper: Paper) -> Paper:
    """The paper in landscape, its margins a little smaller: large print needs the room."""
    top = max(paper.top * _LYING_TOP, min(paper.top, _LEAST_TOP))
    return Paper(
        width=paper.height,
        height=paper.width,
        side=paper.side * _LYING_SIDE,
        top=top,
        bottom=max(paper.bottom * _LYING_BOTTOM, min(paper.bottom, _LEAST_BOTTOM)),
        scale=paper.scale,
        foot=max(paper.foot * _LYING_FOOT, min(paper.foot, _LEAST_FOOT)),
        raised=max(0.0, top - _LEAST_TOP),
        footless=paper.footless,
    )


def paper_of(look: PageLook, landscape: bool, foot: FootLine = "book") -> Paper:
    """The paper of a look, portrait or landscape.  On a tablet a song's own foot line is left out
    under a single page; without any, its room goes to the song."""
    paper = PAPERS[look.paper]
    if foot == "none":
        paper = replace(paper, foot=0.0)
    elif foot == "own" and look.paper in SCREENS:
        paper = replace(paper, footless=True)
    return in_landscape(paper) if landscape else paper


def column_style(style: Style, columns: int = 2) -> Style:
    """The style as one of several columns sees it: a narrower paper."""
    if columns == 1:
        return style
    between = style.pt(_BETWEEN_COLUMNS) * (columns - 1)
    width = (style.line_width - between) / columns
    return replace(style, paper=replace(style.paper, width=width + 2 * style.paper.side))


def column_step(style: Style, columns: int = 2) -> float:
    """How far, in points, the left edge of a column stands from that of the next."""
    return column_style(style, columns).line_width + style.pt(_BETWEEN_COLUMNS)


def style_for(paper: PaperName, size: float = 1.0) -> Style:
    """The style of a paper with its type scaled by ``size``."""
    sheet = PAPERS[paper]
    return Style(sheet, sheet.scale * size)


def page_room(style: Style, pages: int = 0) -> float:
    """The height between the margins and above the foot line of a song of so many pages, in
    points."""
    paper = style.paper
    foot = 0.0 if paper.footless and pages == 1 else paper.foot
    return paper.height - style.top - paper.bottom - foot


def paper_for_type_size(paper: Paper, size: float) -> Paper:
    """The paper as type of that size sees it: larger type, smaller paper."""
    return Paper(
        width=paper.width / size,
        height=paper.height / size,
        side=paper.side / size,
        top=paper.top / size,
        bottom=paper.bottom / size,
        scale=paper.scale / size,
        foot=paper.foot / size,
        raised=paper.raised / size,
        footless=paper.footless,
    )
