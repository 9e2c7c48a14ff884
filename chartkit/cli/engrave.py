"""``chartkit engrave``: charts to PDF files."""

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from chartkit.arrange.kept_shapes import moves_from_its_capo
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.chart.model import BEST_CAPO, Chart
from chartkit.cli.command import option
from chartkit.cli.options import CapoOption, Files, KeyOption, Replace, capo_number, view_for
from chartkit.cli.page_options import with_page_options
from chartkit.cli.reporting import Outcome, say, wrong_usage
from chartkit.cli.targets import chart_places, source_name, targets
from chartkit.diagnostics import Source
from chartkit.files import STANDARD_INPUT, Unusable, make_folder, place_of, write_result
from chartkit.layout.frames import Document
from chartkit.layout.metrics import is_picture
from chartkit.theory.capo import NO_CAPO, Capo

if TYPE_CHECKING:
    from chartkit.compile import EmbeddedChart

Output = Annotated[
    str | None,
    option(
        "--output",
        "-o",
        metavar="PATH",
        help="The PDF to write, or a folder for several; - is standard output. "
        "Without it each PDF goes beside its chart.",
    ),
]
SecondCapo = Annotated[
    Capo | None,
    option(
        "--second-capo",
        metavar="FRET",
        read=capo_number,
        help="Adds a line of shapes for a second guitar with its capo at this fret.",
    ),
]
Png = Annotated[bool, option("--png", help="Writes each page as a PNG picture as well.")]
WithSource = Annotated[
    bool,
    option(
        "--source/--no-source",
        help="Puts the chart's text into the PDF, so that it can be saved from there.",
    ),
]
_PICTURES = (".png", ".jpg", ".jpeg", ".svg", ".gif")


@with_page_options
def engrave(
    files: Files,
    output: Output = None,
    capo: CapoOption = None,
    key: KeyOption = None,
    second_capo: SecondCapo = None,
    *,
    look: PageLook,
    png: Png = False,
    source_inside: WithSource = True,
    replace_file: Replace = False,
) -> None:
    """Engraves charts as PDFs, shapes over sounding chords.

    The upper line holds the shapes to finger, the lower one the sounding chords. The capo
    is the one given with --capo, or else the chart's own. Without a capo, shapes and sounding
    chords are the same, so one line is printed. With --key alone, the chart's capo moves along up
    to fret 5, so its shapes stay; beyond that the best place is taken.
    """
    _check_output(output, files, png)
    places = targets(files, output, ".pdf", "a PDF", "engrave them one by one")
    outcome = Outcome()
    for source, chart in outcome.charts(files):
        view = replace(view_for(chart, None, key), second_capo=second_capo)
        # A reader of a transposing instrument needs a capo only if one is asked for.
        needs_capo = look.reads is None or capo is not None
        no_capo = (replace(view, capo=None), "")
        view, choice = _with_capo(chart, view, capo) if needs_capo else no_capo
        with outcome.guarded():
            inside = _embedded(source) if source_inside else None
            document, pdf = _engraved(chart, view, look, inside)
            _report_missing(source.name, document)
            target = places[source.name]
            if target is not None:
                make_folder(target.parent, output)
                write_result(target, pdf, replace_file)
            _say_written(target, pdf, document, choice)
            if png and target is not None:
                _write_pictures(target, pdf, len(document.pages), chart_places(files), replace_file)
    outcome.finish()


def _check_output(output: str | None, files: list[str], png: bool) -> None:
    """Ends the run where no PDF can come of the output that is asked for."""
    if png and output == STANDARD_INPUT:
        raise wrong_usage(
            "--png: pictures are named after the PDF, and standard output has no name",
            "name the PDF: -o song.pdf",
        )
    if output is not None and Path(output).suffix.casefold() in _PICTURES:
        other = Path(output).with_suffix(".pdf")
        raise wrong_usage(f"{output}: engrave writes PDFs", f"-o {other} --png writes pictures too")
    if output is None and STANDARD_INPUT in files:
        raise wrong_usage(
            "when standard input is read, say where the PDF goes", "-o song.pdf, or -o -"
        )


def _with_capo(chart: Chart, view: View, asked: Capo | str | None) -> tuple[View, str]:
    """The view with the capo asked for, and a remark on one that the program has chosen."""
    far = asked is None and moves_from_its_capo(chart, view)
    if asked == BEST_CAPO or far or (asked is None and chart.wants_best_capo):
        from chartkit.compile import best_capo

        best = best_capo(chart, view)
        what = "this capo" if best.fret else "this tuning" if best != NO_CAPO else "no capo"
        return replace(view, capo=best), f"; by the fingerings {what} is best"
    if asked is None and view.capo is not None:
        return view, "; the capo moves with the key, so the shapes stay"
    return replace(view, capo=asked if isinstance(asked, Capo) else None), ""


def _engraved(
    chart: Chart, view: View, look: PageLook, inside: "EmbeddedChart | None"
) -> tuple[Document, bytes]:
    from chartkit.compile import engraved_pdf
    from chartkit.pdf.fonts import UnusableFont

    try:
        return engraved_pdf(chart, view, look, inside)
    except UnusableFont as reason:
        raise Unusable(str(reason)) from None


def _report_missing(name: str, document: Document) -> None:
    """Raises Unusable if letters would be left out; pictures are said where the chart is
    checked."""
    letters = sorted(c for c in document.missing if not is_picture(c))
    if letters:
        shown = " ".join(f"{c} (U+{ord(c):04X})" for c in letters[:8])
        raise Unusable(
            f"{name}: error[no-glyph]: no font here has {shown}: nothing was written",
            "--font FILE.ttf adds a font that has it",
        )


def _say_written(target: Path | None, pdf: bytes, document: Document, choice: str) -> None:
    """Reports what was written, or writes to standard output."""
    if target is None:
        sys.stdout.buffer.write(pdf)
        sys.stdout.buffer.flush()
        return
    count = len(document.pages)
    say(f"{target}: {count} page{'' if count == 1 else 's'}; {document.subject}{choice}")


def _embedded(source: Source) -> "EmbeddedChart":
    """The chart to travel inside its PDF, under its own name."""
    from chartkit.compile import EmbeddedChart

    own = "" if source.name == source_name(STANDARD_INPUT) else Path(source.name).stem
    return EmbeddedChart.named(source.text, own)


def _write_pictures(
    target: Path, pdf: bytes, count: int, charts: dict[object, str], replace_file: bool
) -> None:
    from chartkit.pdf.picture import page_pictures

    for number, picture in enumerate(page_pictures(pdf), 1):
        suffix = f"-{number}.png" if count > 1 else ".png"
        place = target.with_name(target.stem + suffix)
        if place_of(place) in charts:
            raise Unusable(f"{place}: cannot be written: it is a chart itself")
        write_result(place, picture, replace_file)
