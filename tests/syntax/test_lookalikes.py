"""Signs that only look like those of the language, and where they may stand."""

from chartkit.diagnostics import Source
from chartkit.syntax.reader import read_chart
from tests.each import each


@each("cue", ['"a¦b"', '"say “hi” now"', '| C "x¦y" |', '"play “soft” #2"'])
def test_signs_between_straight_quotes_are_the_writers(cue: str) -> None:
    """Remarks to the players may hold any stroke and any quotes."""
    assert not read_chart(Source(f"== V\n| C |\n{cue}\n")).diagnostics


def test_signs_beside_a_cue_are_reported() -> None:
    """A stroke between two cues is a bar line, and reported once in its place."""
    source = Source('| C "x¦y" ¦ D “soft” |\n')
    codes = [(one.code, one.span.start) for one in read_chart(source).diagnostics]
    assert codes == [("odd-bar-line", 10), ("other-quotes", 14)]
