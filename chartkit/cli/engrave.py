"""``chartkit engrave``: charts to PDF files."""

import sys
from dataclasses import replace
from pathlib import Path
from typing import Annotated

import typer

from chartkit.arrange.view import Show
from chartkit.chart.model import BEST
from chartkit.cli.files import STANDARD_INPUT, make_folder, write_whole
from chartkit.cli.options import CapoOption, Files, KeyOption, view_for
from chartkit.cli.telling import Outcome, say, wrong_usage
from chartkit.layout.style import PaperName

Output = Annotated[
    str | None,
    typer.Option(
        "--output", "-o", metavar="PATH", show_default=False,
        help="The PDF to write, or a folder for several; - is standard output. "
        "Without it each PDF goes beside its chart.",
    ),
]  # fmt: skip
ShowOption = Annotated[
    Show,
    typer.Option(
        "--show",
        case_sensitive=False,
        help="Which chords to print: shapes over sounding ones, one of the two, "
        "or scale-degree numbers.",
    ),
]
Paper = Annotated[
    PaperName,
    typer.Option("--paper", case_sensitive=False, help="The page; tablet is a 3:4 screen."),
]
Size = Annotated[
    float | None,
    typer.Option(
        "--size",
        metavar="SCALE",
        min=0.5,
        max=3.0,
        show_default=False,
        help="Scales all type: 1 is the paper's own, 1.2 a fifth larger. Without it the type is "
        "as large as the song allows without taking another page.",
    ),
]
Diagrams = Annotated[
    bool, typer.Option("--diagrams", help="Draws the shapes the song uses under the title.")
]


def engrave(
    files: Files,
    output: Output = None,
    capo: CapoOption = None,
    key: KeyOption = None,
    show: ShowOption = "both",
    paper: Paper = "a4",
    size: Size = None,
    diagrams: Diagrams = False,
) -> None:
    """Engraves charts as PDFs, shapes over sounding chords.

    The upper line holds the shapes to finger, the lower one the chords that sound. The capo
    comes from --capo, else from the chart. Without one, shapes are what sounds and one line of
    chords is printed.
    """
    from chartkit.compile import best_capo, engraved

    targets = _targets(files, output)
    outcome = Outcome()
    for source, chart in outcome.charts(files):
        wants_best = capo == BEST or (capo is None and chart.wants_best_capo)
        view = view_for(chart, None if isinstance(capo, str) else capo, key, show=show)
        if wants_best:
            view = replace(view, capo=best_capo(chart, view))
        document, pdf = engraved(chart, view, paper, size, diagrams)
        if document.missing:
            shown = " ".join(f"{c} (U+{ord(c):04X})" for c in sorted(document.missing)[:8])
            say(f"{source.name}: warning[no-glyph]: the fonts cannot draw {shown}")
        target = targets[source.name]
        with outcome.guarded():
            if target is None:
                sys.stdout.buffer.write(pdf)
                sys.stdout.buffer.flush()
            else:
                make_folder(target.parent, output)
                write_whole(target, pdf)
                pages = "1 page" if len(document.pages) == 1 else f"{len(document.pages)} pages"
                chosen = " (chosen by the fingerings)" if wants_best else ""
                say(f"{target}: {pages}; {document.subject}{chosen}")
    outcome.finish()


def _targets(files: list[str], output: str | None) -> dict[str, Path | None]:
    """Where each file's PDF goes; None is standard output."""
    if output == STANDARD_INPUT:
        if len(files) > 1:
            raise wrong_usage("standard output takes one chart only; name a folder with -o")
        return {_source_name(files[0]): None}
    if output is None and STANDARD_INPUT in files:
        raise wrong_usage("reading standard input, say where the PDF goes: -o song.pdf, or -o -")
    found: dict[str, Path | None] = {}
    folder = output is not None and (output.endswith("/") or Path(output).is_dir())
    if len(files) > 1 and output is not None and not folder:
        raise wrong_usage(f"{output} is not a folder; several charts need one: -o out/")
    taken: dict[Path, str] = {}
    for name in files:
        target = _target(name, output, folder)
        if target in taken and taken[target] != name:
            raise wrong_usage(f"{taken[target]} and {name} would both become {target}")
        if name != STANDARD_INPUT and _same_file(target, Path(name)):
            raise wrong_usage(f"{target} would overwrite the chart it is made from")
        taken[target] = name
        found[_source_name(name)] = target
    return found


def _source_name(name: str) -> str:
    return "standard input" if name == STANDARD_INPUT else name


def _target(name: str, output: str | None, folder: bool) -> Path:
    stem = Path("chart" if name == STANDARD_INPUT else name).with_suffix(".pdf")
    if output is None:
        return stem
    return Path(output) / stem.name if folder else Path(output)


def _same_file(target: Path, chart: Path) -> bool:
    try:
        return target.resolve() == chart.resolve()
    except OSError:
        return False
