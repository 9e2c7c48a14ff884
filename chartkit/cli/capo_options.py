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
        help="Whether there is time to tune the guitar down: in the studio there is.",
    ),
]
Highest = Annotated[
    int | None,
    option(
        "--highest",
        metavar="FRET",
        read=capo_fret,
        help="The highest fret you want the capo on, 0 to 11. Usually 9, or 7 for one of several "
        "guitars.",
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
        help="Ranks for a second guitar: the first guitar's capo, or a chart of its part.",
    ),
]
Guitars = Annotated[
    int | None,
    option(
        "--guitars",
        metavar="NUMBER",
        read=whole_number(2, 4),
        help="Spreads that many guitars over the neck, 2 to 4.",
    ),
]
Sheet = Annotated[Path | None, sheet_option("Draws the options on a page as well.")]


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
        help="Looks at short capos too: at fret 2 over strings 5 to 3, 5 to 1 or 6 to 2.",
    ),
]
Thumb = Annotated[
    bool,
    option("--thumb", help="The thumb may reach over the neck to the lowest string."),
]
Knows = Annotated[
    str | None,
    option(
        "--knows",
        metavar="CHORDS",
        read=chord_names,
        help="The chords the player knows, such as 'G C D Em': others count as new. Without it, "
        "a beginner's twenty.",
    ),
]
AsJson = Annotated[bool, option("--json", help="Prints the result as JSON.")]
Every = Annotated[bool, option("--all", help="Shows every option, not only the first few.")]
