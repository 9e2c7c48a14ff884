"""The whole way from chart to PDF, as a list of calls."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document
from chartkit.layout.song_form import Form
from chartkit.layout.style import PaperName
from chartkit.pdf.draw import DrawnPage, drawn_pages
from chartkit.pdf.fonts import Fonts
from chartkit.pdf.write import pdf_bytes

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape


@dataclass(frozen=True, slots=True)
class Look:
    """How the pages look: the paper, the type's size or its limits, and what is on them.

    ``diagrams`` draws the shapes the song uses under the title; ``form`` says how sections that
    come again are printed, ``bar_numbers`` whether rows have the numbers of their first bars;
    ``source`` is the chart's text, to travel inside the PDF as the file ``source_name``; ``font``
    a TrueType file for characters that ours lack.
    """

    paper: PaperName = "a4"
    size: float | tuple[float, float] | None = None
    diagrams: bool = False
    form: Form = "auto"
    bar_numbers: bool = True
    dark: bool = False
    source: str = ""
    source_name: str = "song.chart"
    font: Path | None = None


def engraved(chart: Chart, view: View, look: Look | None = None) -> tuple[Document, bytes]:
    """A chart as one player reads it: its pages, and the PDF they make.

    Raises UnusableFont for a font of the user's that cannot be embedded.
    """
    look = look or Look()
    shapes = song_shapes(chart, view) if look.diagrams else ()
    arrangement = arrange(chart, view)
    fonts = Fonts(look.font)
    pages = laid_out(
        arrangement, look.paper, fonts, look.size, shapes, look.form, bar_numbers=look.bar_numbers
    )
    document = replace(pages, dark=look.dark, source=look.source, source_name=look.source_name)
    return document, pdf_bytes(document, fonts)


def drawn_for_book(
    chart: Chart, view: View, notes: tuple[str, ...], look: Look
) -> tuple[Arrangement, Document, tuple[DrawnPage, ...]]:
    """The same with tonight's notes added: the pages are drawn for a book, which adds feet."""
    arrangement = arrange(chart, view)
    arrangement = replace(arrangement, notes=(*arrangement.notes, *notes))
    document = laid_out(arrangement, look.paper, Fonts(), look.size, with_foot=False)
    return arrangement, document, drawn_pages(document.pages)


def song_shapes(chart: Chart, view: View) -> "tuple[NamedShape, ...]":
    """The shapes a player fingers in the song, each once, in order of appearance."""
    from chartkit.advise.option import Option
    from chartkit.advise.ranking import played_option
    from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes
    from chartkit.advise.song import song_of
    from chartkit.layout.diagram import NamedShape
    from chartkit.theory.naming import named
    from chartkit.theory.printed import letter_name

    capo = chart.capo if view.capo is None else view.capo
    option = Option(max(0, capo), max(0, -capo))
    boards = boards_on_disk()
    played = played_option(
        song_of(moved_chart(chart, view)), option, instrument_of(chart), None,
        own_shapes(chart, instrument_of(chart)), boards,
    )  # fmt: skip
    boards.save()
    ordered = (
        NamedShape(named(letter_name(use.shape), view.naming), use.voicing)
        for use in played.shapes
        if use.voicing is not None
    )
    return tuple(dict.fromkeys(ordered))


def best_capo(chart: Chart, view: View) -> int:
    """The adviser's first choice for the song: a fret, or minus the half steps down."""
    from chartkit.advise.ranking import rank_options
    from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes

    instrument = instrument_of(chart)
    own = own_shapes(chart, instrument)
    advice = rank_options(moved_chart(chart, view), instrument, None, own, boards_on_disk())
    return advice.best.option.raised if advice.best is not None else 0
