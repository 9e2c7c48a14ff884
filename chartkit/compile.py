"""The pipeline from chart to PDF, as a list of calls."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View
from chartkit.chart.capos import capos_in_order, chart_under, moves_capo
from chartkit.chart.model import Chart
from chartkit.layout.choices import Choices
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document
from chartkit.layout.style import FootLine
from chartkit.pdf.draw import DrawnPage, drawn_pages
from chartkit.pdf.fonts import Fonts
from chartkit.pdf.write import pdf_bytes
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.chord_parts import NamePart, PrintedChord, letter_name
from chartkit.theory.naming import PLAIN, Naming, in_naming
from chartkit.theory.note import parse_note, pitch_class_of

if TYPE_CHECKING:
    from chartkit.layout.diagram import NamedShape


_NOT_IN_NAMES, _LONGEST_NAME = '/\\:*?"<>|', 80


@dataclass(frozen=True, slots=True)
class EmbeddedChart:
    """A chart's text, to travel inside the PDF, and the name of the file it is there."""

    text: str
    name: str = "song.chart"

    @classmethod
    def named(cls, text: str, stem: str) -> "EmbeddedChart":
        """A chart under the name of its own file, made safe for any system."""
        fit = "".join(c for c in stem if c.isprintable() and c not in _NOT_IN_NAMES)
        return cls(text, f"{fit.strip(' .')[:_LONGEST_NAME] or 'song'}.chart")


def engraved_pdf(
    chart: Chart, view: View, look: PageLook | None = None, source: EmbeddedChart | None = None
) -> tuple[Document, bytes]:
    """A chart as one player reads it: its pages, and the PDF they make.

    Raises UnusableFont for a font of the user's that cannot be embedded.
    """
    document, fonts = song_document(chart, view, look or PageLook(), source)
    return document, pdf_bytes(document, fonts)


def song_document(
    chart: Chart,
    view: View,
    look: PageLook,
    source: EmbeddedChart | None = None,
    choices: Choices | None = None,
) -> tuple[Document, Fonts]:
    """The pages, and the fonts they were measured with.

    With the ``choices`` of an earlier run nothing is tried out.  Raises UnusableFont.
    """
    fonts = Fonts(look.font)
    look = look_with_grips(chart, look)
    shapes = song_shapes(chart, view, look.naming) if look.diagrams else ()
    pages = laid_out(arrange(chart, view, look), look, fonts, shapes, choices=choices)
    if source is not None:
        pages = replace(pages, source=source.text, source_name=source.name)
    return replace(pages, dark=look.dark), fonts


def look_with_grips(chart: Chart, look: PageLook) -> PageLook:
    """The look, with diagrams where the chart is a guitar's part: its grips are the part, and full
    chords under the same names would be another one."""
    if chart.text("part") and chart.shapes() and look.show in ("both", "shapes"):
        return replace(look, diagrams=True)
    return look


def pages_for_book(
    chart: Chart,
    view: View,
    notes: tuple[str, ...],
    look: PageLook,
    foot: FootLine = "book",
    says_no_capo: bool = False,
) -> tuple[Arrangement, Document, Fonts]:
    """A song's pages with tonight's notes added and without feet: a book on paper adds them, one
    on a screen has none.  With ``says_no_capo`` a page without a capo says so in its head."""
    fonts = Fonts(look.font)
    arrangement = arrange(chart, view, look)
    notes = (*arrangement.notes, *notes)
    arrangement = replace(arrangement, notes=notes, says_no_capo=says_no_capo)
    shapes = song_shapes(chart, view, look.naming) if look.diagrams else ()
    return arrangement, laid_out(arrangement, look, fonts, shapes, foot=foot), fonts


def drawn_for_book(
    chart: Chart, view: View, notes: tuple[str, ...], look: PageLook, says_no_capo: bool = False
) -> tuple[Arrangement, Document, tuple[DrawnPage, ...]]:
    """The pages of ``pages_for_book`` drawn, to be bound into a PDF."""
    arrangement, document, fonts = pages_for_book(
        chart, view, notes, look, says_no_capo=says_no_capo
    )
    return arrangement, document, drawn_pages(document.pages, fonts, look.dark)


def song_shapes(chart: Chart, view: View, naming: Naming = PLAIN) -> "tuple[NamedShape, ...]":
    """The shapes a player fingers in the song, each once, in order of appearance, named as the
    music names them: one shape has two diagrams where its music has two names for it."""
    from chartkit.advise.ranking import played_option
    from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes
    from chartkit.advise.song import song_of
    from chartkit.fretboard.instrument import under_capo
    from chartkit.layout.diagram import NamedShape

    instrument, boards = instrument_of(chart), boards_on_disk()
    own = own_shapes(chart, instrument)
    names = _names_in_music(chart, view)
    shapes: dict[tuple[object, ...], NamedShape] = {}
    for capo, part in _parts_by_capo(moved_chart(chart, view), view):
        played = played_option(song_of(part), capo, instrument, None, own, boards)
        beside_capo = under_capo(instrument, capo).beside_capo
        for use in played.shapes:
            if use.voicing is None:
                continue
            letters = letter_name(use.shape)
            for name in names.get(_sound_of(letters), {letters: None}):
                shape = NamedShape(in_naming(name, naming), use.voicing, beside_capo)
                shapes.setdefault((shape.name, shape.voicing.frets), shape)
    boards.save()
    return tuple(shapes.values())


def _names_in_music(chart: Chart, view: View) -> dict[object, dict[PrintedChord, None]]:
    """By what a shape sounds like, the names that the line of shapes has for it."""
    names: dict[object, dict[PrintedChord, None]] = {}
    for section in arrange(chart, view, PageLook(show="shapes")).sections:
        for system in section.systems:
            for strike in (strike for bar in system.bars for strike in bar.strikes):
                if strike.names and (name := strike.names[0]) is not None:
                    whole = name._replace(bass_only=False)
                    names.setdefault(_sound_of(whole), {})[whole] = None
    return names


def _sound_of(name: PrintedChord) -> tuple[object, ...]:
    """A chord's name in letters, whatever its root and bass are spelled as."""
    parts = (name.root, name.bass)
    return name.quality, *(None if part is None else _pitch_class(part) for part in parts)


def _pitch_class(part: NamePart) -> int:
    return (pitch_class_of(parse_note(part.symbol)) + part.alteration) % 12


def _parts_by_capo(chart: Chart, view: View) -> list[tuple[Capo, Chart]]:
    """The chords played at each capo of the song, in order of the page."""
    if view.capo is not None or not moves_capo(chart):
        return [(chart.capo if view.capo is None else view.capo, chart)]
    return [(capo, chart_under(chart, capo)) for capo in dict.fromkeys(capos_in_order(chart))]


def best_capo(chart: Chart, view: View) -> Capo:
    """The adviser's first choice for the song."""
    from chartkit.advise.ranking import rank_options
    from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes

    instrument = instrument_of(chart)
    own = own_shapes(chart, instrument)
    advice = rank_options(moved_chart(chart, view), instrument, None, own, boards_on_disk())
    return advice.best.option if advice.best is not None else NO_CAPO
