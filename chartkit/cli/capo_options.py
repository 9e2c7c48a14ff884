"""The options of ``chartkit capo``."""

from pathlib import Path
from typing import Annotated

import typer

from chartkit.cli.options import capo_fret, steps_down
from chartkit.syntax.symbol import chord_or_none
from chartkit.typed_values import file_path, whole_number

Studio = Annotated[
    bool,
    typer.Option(
        "--studio/--live",
        help="Whether there is time to tune the guitar down: in the studio there is.",
    ),
]
Highest = Annotated[
    int,
    typer.Option(
        "--highest",
        metavar="FRET",
        parser=capo_fret,
        help="The highest fret that is welcome for the capo, 0 to 11.",
    ),
]
TuneDown = Annotated[
    int,
    typer.Option(
        "--tune-down",
        metavar="STEPS",
        parser=steps_down,
        help="How many half steps the guitar may be tuned down, 0 to 5.",
    ),
]
Beside = Annotated[
    str | None,
    typer.Option(
        "--beside",
        metavar="FRET|CHART",
        show_default=False,
        help="Ranks for a second guitar: the first guitar's capo, or a chart of its part.",
    ),
]
Guitars = Annotated[
    int | None,
    typer.Option(
        "--guitars",
        metavar="NUMBER",
        parser=whole_number(2, 4),
        show_default=False,
        help="Spreads that many guitars over the neck, 2 to 4.",
    ),
]
Sheet = Annotated[
    Path | None,
    typer.Option(
        "--sheet",
        metavar="PDF",
        show_default=False,
        parser=file_path,
        help="Draws the options on a page as well.",
    ),
]


def chord_names(text: str) -> str:
    """A list of chord symbols as it was given.  Raises ValueError where one is none."""
    for name in text.replace(",", " ").split():
        if chord_or_none(name) is None:
            raise ValueError(f'"{name}" is not a chord: write symbols such as "G C D Em"')
    return text


Thumb = Annotated[
    bool,
    typer.Option("--thumb", help="The thumb may reach over the neck to the lowest string."),
]
Knows = Annotated[
    str | None,
    typer.Option(
        "--knows",
        metavar="CHORDS",
        parser=chord_names,
        show_default=False,
        help="The chords the player knows, such as 'G C D Em': others count as new. Without it, "
        "a beginner's twenty.",
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Prints the result as JSON.")]
Every = Annotated[bool, typer.Option("--all", help="Shows every option, not only the first few.")]
