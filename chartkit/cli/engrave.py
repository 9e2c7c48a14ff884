"""``chartkit engrave``: charts to PDF files."""

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from chartkit.arrange.view import Show, View
from chartkit.chart.model import BEST, Chart
from chartkit.cli.engrave_options import (
    LARGE,
    BarNumbers,
    Dark,
    Diagrams,
    FontFile,
    FormOption,
    Large,
    MajorOption,
    MinorOption,
    NotesOption,
    Output,
    Paper,
    Png,
    Reads,
    SecondCapo,
    ShowOption,
    Size,
    Strong,
    Upper,
    WithSource,
)
from chartkit.cli.files import STANDARD_INPUT, Unusable, make_folder, place_of, write_page
from chartkit.cli.options import CapoOption, Files, KeyOption, view_for
from chartkit.cli.targets import chart_places, source_name, targets
from chartkit.cli.telling import Outcome, say, wrong_usage
from chartkit.layout.frames import Document
from chartkit.theory.naming import Naming

if TYPE_CHECKING:
    from chartkit.compile import Look


def engrave(
    files: Files,
    output: Output = None,
    capo: CapoOption = None,
    key: KeyOption = None,
    show: ShowOption = "both",
    second_capo: SecondCapo = None,
    reads: Reads = None,
    upper: Upper = "shapes",
    strong: Strong = "shapes",
    notes: NotesOption = "letters",
    minor: MinorOption = "m",
    major: MajorOption = "maj",
    paper: Paper = "a4",
    size: Size = None,
    large: Large = False,
    dark: Dark = False,
    form: FormOption = "auto",
    bar_numbers: BarNumbers = True,
    diagrams: Diagrams = False,
    font: FontFile = None,
    png: Png = False,
    source_inside: WithSource = True,
) -> None:
    """Engraves charts as PDFs, shapes over sounding chords.

    The upper line holds the shapes to finger, the lower one the chords that sound. The capo
    comes from --capo, else from the chart. Without one, shapes are what sounds and one line of
    chords is printed.
    """
    from chartkit.compile import Look

    _check_together(show, second_capo, reads, png and output == STANDARD_INPUT)
    if font is not None and not font.is_file():
        raise wrong_usage(f"--font: there is no file {font}", "give a TrueType font file, *.ttf")
    if large and size is not None:
        raise wrong_usage("give --large or --size, not both")
    if output is None and STANDARD_INPUT in files:
        raise wrong_usage("reading standard input, say where the PDF goes", "-o song.pdf, or -o -")
    places = targets(files, output, ".pdf", "a PDF", "engrave them one by one")
    limits = LARGE if large else size
    fixed = limits is not None and limits.least == limits.largest
    chosen_size = limits.least if limits is not None and fixed else limits
    outcome = Outcome()
    for source, chart in outcome.charts(files):
        wants_best = capo == BEST or (capo is None and chart.wants_best_capo)
        view = replace(
            view_for(chart, None if isinstance(capo, str) else capo, key, show=show),
            second_capo=second_capo, reads=reads, upper=upper, strong=strong,
            naming=Naming(notes, minor, major),
        )  # fmt: skip
        if wants_best:
            view = _with_best_capo(chart, view)
        text = source.text if source_inside else ""
        inside = _name_inside(source.name)
        look = Look(
            paper, chosen_size, diagrams, form, bar_numbers, dark, text, inside, font
        )  # fmt: skip
        with outcome.guarded():
            document, pdf = _engraved(chart, view, look)
            _tell_missing(source.name, document)
            target = places[source.name]
            _write(target, output, pdf, document, _choice(view) if wants_best else "")
            if png and target is not None:
                _write_pictures(target, pdf, len(document.pages), chart_places(files))
    outcome.finish()


def _check_together(
    show: Show, second_capo: int | None, reads: str | None, pictures_nowhere: bool
) -> None:
    """Refuses options that would be without effect."""
    if second_capo is not None and show in ("numbers", "sounding"):
        raise wrong_usage(
            f"--second-capo adds a line of shapes, and --show {show} prints none",
            "--show both or --show shapes goes with it",
        )
    if reads is not None and show in ("numbers", "shapes"):
        raise wrong_usage(
            f"--reads is about sounding chords, and --show {show} prints none",
            "--show both or --show sounding goes with it",
        )
    if pictures_nowhere:
        raise wrong_usage("--png: pictures need a file name to go by", "name the PDF: -o song.pdf")


def _engraved(chart: Chart, view: View, look: "Look") -> tuple[Document, bytes]:
    from chartkit.compile import engraved
    from chartkit.pdf.fonts import UnusableFont

    try:
        return engraved(chart, view, look)
    except UnusableFont as reason:
        raise Unusable(str(reason)) from None


def _with_best_capo(chart: Chart, view: View) -> View:
    from chartkit.compile import best_capo

    return replace(view, capo=best_capo(chart, view))


def _tell_missing(name: str, document: Document) -> None:
    if document.missing:
        shown = " ".join(f"{c} (U+{ord(c):04X})" for c in sorted(document.missing)[:8])
        say(f"{name}: warning[no-glyph]: the fonts cannot draw {shown}; --font gives another")


def _write(
    target: Path | None, output: str | None, pdf: bytes, document: Document, choice: str
) -> None:
    if target is None:
        sys.stdout.buffer.write(pdf)
        sys.stdout.buffer.flush()
        return
    make_folder(target.parent, output)
    write_page(target, pdf)
    count = len(document.pages)
    say(f"{target}: {count} page{'' if count == 1 else 's'}; {document.subject}{choice}")


def _choice(view: View) -> str:
    """What is said of a capo that the program has chosen, or decided against."""
    what = "this capo" if (view.capo or 0) > 0 else "this tuning" if view.capo else "no capo"
    return f"; by the fingerings {what} is best"


def _name_inside(name: str) -> str:
    """The name under which a chart travels inside its PDF: its own, fit for any system."""
    own = "" if name == source_name(STANDARD_INPUT) else Path(name).stem
    stem = "".join(c for c in own if c.isprintable() and c not in _NOT_IN_NAMES)
    return f"{stem.strip(' .')[:_LONGEST_NAME] or 'song'}.chart"


_NOT_IN_NAMES, _LONGEST_NAME = '/\\:*?"<>|', 80


def _write_pictures(target: Path, pdf: bytes, count: int, charts: dict[object, str]) -> None:
    from chartkit.pdf.picture import page_pictures

    for number, picture in enumerate(page_pictures(pdf), 1):
        suffix = f"-{number}.png" if count > 1 else ".png"
        place = target.with_name(target.stem + suffix)
        if place_of(place) in charts:
            raise Unusable(f"{place}: cannot be written: it is a chart itself")
        write_page(place, picture)
