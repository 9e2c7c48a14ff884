"""Layout from end to end: choose, collect, break into lines, place, fill pages."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from chartkit.arrange.arrangement import ArrangedSection, ArrangedSystem, Arrangement
from chartkit.arrange.page_look import PageLook
from chartkit.layout.choices import Choices
from chartkit.layout.choose import best_choices
from chartkit.layout.compose import Composer
from chartkit.layout.document import document_of
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Document
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.paginate import pages
from chartkit.layout.set_texts import with_set_texts
from chartkit.layout.song_form import folded_form, full_form
from chartkit.layout.style import FootLine, Style, paper_of
from chartkit.layout.words_only import words_laid_out

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape


def laid_out(
    arrangement: Arrangement,
    look: PageLook,
    metrics: Metrics,
    shapes: "tuple[NamedShape, ...]" = (),
    foot: FootLine = "own",
    choices: Choices | None = None,
) -> Document:
    """The arrangement as finished pages, in the best size and form that the look allows.

    ``shapes`` are drawn as diagrams under the title.  ``foot`` says whose foot lines there are:
    pages that go into a book get theirs there.  The document holds the choices made; with the
    ``choices`` of an earlier run nothing is tried out.
    """
    typesetter = Typesetter(metrics)
    arrangement = with_set_texts(arrangement)
    if not arrangement.chord_lines:
        return words_laid_out(arrangement, look, typesetter, foot)
    sections = _with_opening_meter(arrangement.sections)
    arrangement = replace(arrangement, sections=sections)
    if choices is None:
        choices, printed = best_choices(arrangement, look, typesetter, shapes, foot)
    else:
        printed = full_form(sections)
        printed = folded_form(printed, choices.apart) if choices.folded else printed
    sheet = paper_of(look, choices.landscape, foot)
    style, fitter = Style(sheet, sheet.scale * choices.size), Fitter(typesetter)
    composer = Composer(arrangement, printed, typesetter, style, look=look, choices=choices)
    top, blocks = composer.framed(composer.blocks(composer.sections()), shapes)
    made = pages(
        arrangement, fitter, top, blocks, style, with_foot=foot == "own", columns=choices.columns
    )
    return replace(document_of(arrangement, made, typesetter), choices=choices)


def _with_opening_meter(sections: Sequence[ArrangedSection]) -> tuple[ArrangedSection, ...]:
    """The sections with the time signature in the first bar that is counted: a chart gives it only
    in its settings."""
    result = list(sections)
    for s, section in enumerate(sections):
        for i, system in enumerate(section.systems):
            if not system.bar_lines or not system.bars:
                continue
            systems = (*section.systems[:i], _signed(system), *section.systems[i + 1 :])
            result[s] = replace(section, systems=systems)
            return tuple(result)
    return tuple(result)


def _signed(system: ArrangedSystem) -> ArrangedSystem:
    first, *others = system.bars
    if first.bar.meter is not None:
        return system
    signed = replace(first, bar=replace(first.bar, meter=first.meter), opens=True)
    return replace(system, bars=(signed, *others))
