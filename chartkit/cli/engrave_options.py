"""The options of ``chartkit engrave``: where the pages go, what they say, how they look."""

from pathlib import Path
from typing import Annotated, NamedTuple

import typer

from chartkit.arrange.view import Kind, Show, reader_named
from chartkit.cli.values import any_of, decimal_number, file_path
from chartkit.layout.song_form import Form
from chartkit.layout.style import PaperName
from chartkit.syntax.settings import capo_number
from chartkit.theory.naming import Major, Minor, Notes


class Sizes(NamedTuple):
    """The least and the largest scale of the type; equal where one is given."""

    least: float
    largest: float


LARGE = Sizes(1.7, 2.2)
"""The sizes of large print: chord names of 24 points and more, whose capitals are 6 mm high.
That is 10 minutes of arc at two metres, twice what normal sight can just tell apart (5 minutes,
the letters of Snellen's chart)."""


def size_limits(text: str) -> Sizes:
    """One scale, or the least and the largest one: ``1.2`` or ``0.9-1.3``.  Raises ValueError."""
    low, dash, high = text.replace("–", "-").partition("-")
    least = decimal_number(low) if low or not dash else 0.0
    found = Sizes(least, decimal_number(high) if dash and low else least)
    if not 0.5 <= found.least <= found.largest <= 3:
        raise ValueError(f"{text} is out of reach: sizes go from 0.5 to 3, the smaller one first")
    return found


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
        "--show", metavar=any_of(Show),
        help="What to print: shapes over sounding chords, one of the two, scale degrees as "
        "numbers, or the words alone.",
    ),
]  # fmt: skip
SecondCapo = Annotated[
    int | None,
    typer.Option(
        "--second-capo", metavar="FRET", show_default=False, parser=capo_number,
        help="Adds a line of shapes for a second guitar with its capo there.",
    ),
]  # fmt: skip
Reads = Annotated[
    str | None,
    typer.Option(
        "--reads", metavar="PITCH", show_default=False, parser=reader_named,
        help="Writes the sounding chords for an instrument in B flat, E flat, F or A.",
    ),
]  # fmt: skip
Upper = Annotated[
    Kind,
    typer.Option("--upper", metavar=any_of(Kind), help="Which line of chords stands on top."),
]
Strong = Annotated[
    Kind, typer.Option("--strong", metavar=any_of(Kind), help="Which line is large and bold.")
]
NotesOption = Annotated[
    Notes,
    typer.Option(
        "--notes", metavar=any_of(Notes),
        help="Note names: letters, German ones with H and B, or syllables (Do Re Mi).",
    ),
]  # fmt: skip
MinorOption = Annotated[
    Minor,
    typer.Option(
        "--minor", metavar=any_of(Minor),
        help="How minor is written; small is a small letter alone.",
    ),
]  # fmt: skip
MajorOption = Annotated[
    Major,
    typer.Option(
        "--major", metavar=any_of(Major), help="How the major seventh is written before its 7."
    ),
]  # fmt: skip
Paper = Annotated[
    PaperName,
    typer.Option("--paper", metavar=any_of(PaperName), help="The page; tablet is a 3:4 screen."),
]
Size = Annotated[
    Sizes | None,
    typer.Option(
        "--size", metavar="SCALE", show_default=False, parser=size_limits,
        help="Scales all type: 1 is the paper's own, 1.2 a fifth larger, 0.9-1.3 the best between "
        "the two. Without it the best between 0.85 and 1.25 without another page.",
    ),
]  # fmt: skip
Large = Annotated[
    bool, typer.Option("--large", help="Large print: chords that can be read at two metres.")
]
Dark = Annotated[bool, typer.Option("--dark", help="Light on dark, for a screen on a dark stage.")]
FormOption = Annotated[
    Form,
    typer.Option(
        "--form", metavar=any_of(Form),
        help="How sections that come again are printed: in full; folded, verses under one set of "
        "bars and a repeated chorus once; words, their words alone; line, one line that names "
        "them. auto folds where that saves a page or a section repeats word for word.",
    ),
]  # fmt: skip
BarNumbers = Annotated[
    bool,
    typer.Option(
        "--bar-numbers/--no-bar-numbers", help="Prints the number of its first bar at each row."
    ),
]
Diagrams = Annotated[
    bool,
    typer.Option(
        "--diagrams", help="Draws the shapes the song uses: under the title, many after the song."
    ),
]
FontFile = Annotated[
    Path | None,
    typer.Option(
        "--font", metavar="FILE", show_default=False, parser=file_path,
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
