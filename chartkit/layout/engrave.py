"""Layout from end to end: choose, collect, break into lines, place, fill pages."""

from dataclasses import replace
from typing import TYPE_CHECKING

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.choices import Choices
from chartkit.layout.choose import Wishes, best_choices
from chartkit.layout.compose import Composer
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Document
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.paginate import pages
from chartkit.layout.song_form import Form, folded_form, full_form
from chartkit.layout.style import PaperName, style_for
from chartkit.layout.top import told_in_full
from chartkit.layout.words_only import words_laid_out

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape


def laid_out(
    arrangement: Arrangement,
    paper: PaperName,
    metrics: Metrics,
    size: float | tuple[float, float] | None = None,
    shapes: "tuple[NamedShape, ...]" = (),
    form: Form = "auto",
    with_foot: bool = True,
    bar_numbers: bool = True,
    choices: Choices | None = None,
) -> Document:
    """The arrangement as finished pages, and what was chosen for them.

    ``size`` scales the type; two numbers are the least and the largest scale, between which
    the best for the song is chosen, as it is between the usual ones when none is given.
    ``shapes`` are drawn as diagrams under the title; ``form`` says how sections that come again
    are printed.  Pages that go into a book get their foot lines there, so they can be made
    without.  With the ``choices`` of another time nothing is tried out.
    """
    typesetter = Typesetter(metrics)
    if not arrangement.lines:
        return words_laid_out(arrangement, paper, typesetter, size, with_foot)
    if choices is None:
        facing = not with_foot and paper != "tablet"
        wishes = Wishes(paper, size, form, facing, bar_numbers, shapes)
        choices = best_choices(arrangement, wishes, typesetter)
    style, fitter = style_for(paper, choices.size), Fitter(typesetter)
    sections = arrangement.sections
    printed = folded_form(sections) if choices.folded else full_form(sections)
    composer = Composer(arrangement, printed, typesetter, style, form, bar_numbers)
    placed, _ = composer.blocks(composer.sections())
    top, blocks = composer.framed(placed, shapes)
    made = pages(arrangement, fitter, top, blocks, style, with_foot)
    document = Document(
        arrangement.title, arrangement.writer, arrangement.language, told_in_full(arrangement),
        made, frozenset(typesetter.missing),
    )  # fmt: skip
    return replace(document, choices=choices)
