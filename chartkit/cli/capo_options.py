"""The options of ``chartkit capo``."""

from pathlib import Path
from typing import Annotated

from chartkit.cli.command import option
from chartkit.cli.options import capo_fret, sheet_option, steps_down
from chartkit.syntax.symbol import chord_or_none
from chartkit.typed_values import whole_number

Studio = Annotated[
    bool,
    option(
        "--studio/--live",
        help="In the studio there is time to tune the guitar down; live there is not.",
    ),
]
Highest = Annotated[
    int | None,
    option(
        "--highest",
        metavar="FRET",
        read=capo_fret,
        help="The highest fret for the capo, 0 to 11. Without it, 9; for one of several guitars 7.",
    ),
]
TuneDown = Annotated[
    int | None,
    option(
        "--tune-down",
        metavar="STEPS",
        read=steps_down,
        help="How many half steps the guitar may be tuned down, 0 to 5. Without it, 3; for one of "
        "several guitars 0 on stage and 2 in the studio.",
    ),
]
Beside = Annotated[
    str | None,
    option(
        "--beside",
        metavar="FRET|CHART",
        help="Ranks places for a second guitar beside the first one, which is given by its capo or "
        "by a chart of its part.",
    ),
]
Guitars = Annotated[
    int | None,
    option(
        "--guitars",
        metavar="NUMBER",
        read=whole_number(2, 4),
        help="Finds a place for each of 2 to 4 guitars that keeps them apart.",
    ),
]
Sheet = Annotated[Path | None, sheet_option("Also draws the options on a page.")]


def chord_names(text: str) -> str:
    """A list of chord symbols, unchanged. Raises ValueError if one of them is not a chord."""
    for name in text.replace(",", " ").split():
        if chord_or_none(name) is None:
            raise ValueError(f'"{name}" is not a chord: write symbols such as "G C D Em"')
    return text


Partial = Annotated[
    bool,
    option(
        "--partial",
        help="Also considers short capos: at fret 2 over strings 5 to 3, 5 to 1 or 6 to 2.",
    ),
]
Thumb = Annotated[
    bool,
    option(
        "--thumb", help="Also considers shapes with the thumb over the neck on the lowest string."
    ),
]
Knows = Annotated[
    str | None,
    option(
        "--knows",
        metavar="CHORDS",
        read=chord_names,
        help="The chords that the player knows, such as 'G C D Em'; all others count as new. "
        "Without it, the twenty chords of a beginner's first year.",
    ),
]
AsJson = Annotated[bool, option("--json", help="Prints the result as JSON.")]
Every = Annotated[bool, option("--all", help="Shows every option, not only the first few.")]
