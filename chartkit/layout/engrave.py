"""Layout from end to end: choose a size, collect, break into lines, place, fill pages."""

from typing import TYPE_CHECKING

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import PageLook
from chartkit.layout.choose_size import best_size
from chartkit.layout.compose import Composer
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Document
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.paginate import pages
from chartkit.layout.style import style_for
from chartkit.layout.top import told_in_full
from chartkit.layout.words_only import words_laid_out

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape


def laid_out(
    arrangement: Arrangement,
    look: PageLook,
    metrics: Metrics,
    shapes: "tuple[NamedShape, ...]" = (),
    with_foot: bool = True,
) -> Document:
    """The arrangement as finished pages, in the best size that the look allows.

    ``shapes`` are drawn as diagrams under the title.  Pages that go into a book get their foot
    lines there, so they can be made without.
    """
    typesetter = Typesetter(metrics)
    paper, limits = look.paper, look.sizes
    size = limits.least if limits is not None and limits.least == limits.largest else limits
    if not arrangement.lines:
        return words_laid_out(arrangement, paper, typesetter, size, with_foot)
    if not isinstance(size, float | int):
        size = best_size(arrangement, paper, typesetter, shapes, size, look.again)
    style, fitter = style_for(paper, size), Fitter(typesetter)
    composer = Composer(arrangement, typesetter, style, look.again)
    placed, _ = composer.blocks(composer.sections())
    top, blocks = composer.framed(placed, shapes)
    made = pages(arrangement, fitter, top, blocks, style, with_foot)
    return Document(
        arrangement.title, arrangement.writer, arrangement.language, told_in_full(arrangement),
        made, frozenset(typesetter.missing),
    )  # fmt: skip
