"""One line of many thousand signs is read in a time that grows with its length, and no faster."""

from contextlib import suppress
from time import process_time

from chartkit.interchange.intake_result import Findings, Refused
from chartkit.interchange.text.read import read_sheet
from chartkit.syntax.symbol import chord_or_none
from tests.each import each

_SONG = "Verse\nC G\nlow tide\n\n"
_SHORT, _LONG = 1_500, 12_000
_LINES = {
    "closed parentheses": lambda n: "| " + "(" * n + "C" + ")" * n + " |",
    "open parentheses": lambda n: "| " + "(" * n + "C |",
    "empty parentheses": lambda n: "C " + "()" * n,
    "remarks in each other": lambda n: "| C | " + "(a " * n,
    "square brackets": lambda n: "| " + "[" * n + "C" + "]" * n + " |",
    "braces": lambda n: "| " + "{" * n + "C" + "}" * n + " |",
    "words in parentheses": lambda n: "(" * n + "low" + ")" * n,
    "colons": lambda n: "| C " + ":" * n,
    "dashes": lambda n: "low" + "-" * n,
    "dots": lambda n: "C G" + " ." * n,
    "commas": lambda n: "C," * n,
    "counts": lambda n: "C G " + "x2 " * n,
    "quotes": lambda n: '| C | "' * n,
    "addresses": lambda n: "a@" * n,
    "tabs": lambda n: "\t" * n + "low",
    "blanks": lambda n: "low" + " " * n + "tide",
    "blanks in a name": lambda n: "Verse" + " " * n + "one",
    "figures": lambda n: "1(" * n + "x",
}


_WIDE = {
    "a name and a page": "Verse{}page 1 / Verse",
    "words": "(low{}tide: x2)",
    "an order": "Verse again{}and the bay, Verse",
    "a number": "1.{}Low tide = verse",
    "a setting": "Capo{}2 then key of C: low",
}
"""Short lines with a gap."""


def _seconds(line: str) -> float:
    before = process_time()
    with suppress(Refused):
        read_sheet(_SONG + line + "\n", chord_or_none, Findings())
    return process_time() - before


@each("name", sorted(_LINES))
def test_eight_times_the_signs_take_no_more_than_their_share(name: str) -> None:
    """Patterns compare no sign of a line with all others."""
    line = _LINES[name]
    _seconds(line(_SHORT // 10))
    assert _seconds(line(_LONG)) < 16 * _seconds(line(_SHORT)) + 0.4


@each("name", sorted(_WIDE))
def test_five_times_the_gap_takes_no_more_than_its_share(name: str) -> None:
    """The blanks within a short line are not parted in all ways in which patterns could share
    them."""
    lines = {gap: f"{_WIDE[name].format(' ' * gap)}\n\nC G\nhigh tide\n" * 10 for gap in (25, 125)}
    _seconds(lines[25])
    assert _seconds(lines[125]) < 6 * _seconds(lines[25]) + 0.4
