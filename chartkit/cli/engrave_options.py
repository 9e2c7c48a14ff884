"""The options of ``chartkit engrave``: where the pages go, what they say, how they look."""

from pathlib import Path
from typing import Annotated

import typer

from chartkit.arrange.view import Kind, Show, reader_named
from chartkit.cli.options import fret
from chartkit.cli.telling import wrong_usage
from chartkit.layout.style import Again, PaperName
from chartkit.theory.naming import Major, Minor, Notes

LARGE = (1.7, 2.2)
"""The sizes of large print: chord names of 24 points and more, whose capitals are 6 mm high.
That is 10 minutes of arc at two metres, twice what normal sight can just tell apart (5 minutes,
the letters of Snellen's chart)."""


def _reader(text: str) -> str:
    try:
        return reader_named(text)
    except ValueError as reason:
        raise typer.BadParameter(str(reason)) from None


def size_limits(text: str) -> tuple[float, float]:
    """One scale twice, or the least and the largest one: ``1.2`` or ``0.9-1.3``.

    Ends the run when it is neither.
    """
    low, dash, high = text.replace("–", "-").partition("-")
    try:
        least = float(low)
        largest = float(high) if dash else least
    except ValueError:
        raise wrong_usage(
            f'--size: "{text}" is not a size: write a number such as 1.2, or limits such as 0.9-1.3'
        ) from None
    if not 0.5 <= least <= largest <= 3:
        raise wrong_usage(f"--size {text}: sizes go from 0.5 to 3, the smaller one first")
    return least, largest


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
        "--show", case_sensitive=False,
        help="Which chords to print: shapes over sounding ones, one of the two, "
        "or scale-degree numbers.",
    ),
]  # fmt: skip
SecondCapo = Annotated[
    int | None,
    typer.Option(
        "--second-capo", metavar="FRET", show_default=False, parser=fret,
        help="Adds a line of shapes for a second guitar with its capo there.",
    ),
]  # fmt: skip
Reads = Annotated[
    str | None,
    typer.Option(
        "--reads", metavar="PITCH", show_default=False, parser=_reader,
        help="Writes the sounding chords for an instrument in B flat, E flat, F or A.",
    ),
]  # fmt: skip
Upper = Annotated[Kind, typer.Option("--upper", help="Which line of chords stands on top.")]
Strong = Annotated[Kind, typer.Option("--strong", help="Which line is large and bold.")]
NotesOption = Annotated[
    Notes,
    typer.Option(
        "--notes", help="Note names: letters, German ones with H and B, or syllables (Do Re Mi)."
    ),
]
MinorOption = Annotated[
    Minor, typer.Option("--minor", help="How minor is written; small is a small letter alone.")
]
MajorOption = Annotated[
    Major, typer.Option("--major", help="How the major seventh is written before its 7.")
]
Paper = Annotated[
    PaperName,
    typer.Option("--paper", case_sensitive=False, help="The page; tablet is a 3:4 screen."),
]
Size = Annotated[
    str | None,
    typer.Option(
        "--size", metavar="SCALE", show_default=False,
        help="Scales all type: 1 is the paper's own, 1.2 a fifth larger, 0.9-1.3 the best between "
        "the two. Without it the type is as large as the song allows without another page.",
    ),
]  # fmt: skip
Large = Annotated[
    bool, typer.Option("--large", help="Large print: chords that can be read at two metres.")
]
Dark = Annotated[bool, typer.Option("--dark", help="Light on dark, for a screen on a dark stage.")]
AgainOption = Annotated[
    Again,
    typer.Option(
        "--again",
        help="How a section with the music of an earlier one is printed: in full, or its words "
        "alone; line is a single line, unless it has words of its own.",
    ),
]
Diagrams = Annotated[
    bool, typer.Option("--diagrams", help="Draws the shapes the song uses under the title.")
]
FontFile = Annotated[
    Path | None,
    typer.Option(
        "--font", metavar="FILE", show_default=False,
        help="A TrueType font for letters that the program's own fonts lack: they have Latin, "
        "Greek and Cyrillic.",
    ),
]  # fmt: skip
Png = Annotated[bool, typer.Option("--png", help="Writes each page as a PNG picture as well.")]
WithSource = Annotated[
    bool,
    typer.Option(
        "--source/--no-source", help="Puts the chart itself into the PDF, to be saved from there."
    ),
]
