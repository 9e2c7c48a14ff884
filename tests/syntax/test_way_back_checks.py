"""Sections that go on in the key or the meter of the text, not of the section before them."""

from chartkit.diagnostics import Source
from chartkit.syntax.reader import read_chart
from tests.each import each

TOP = "key: C\n\n== Verse\n| C | F |\n\n"
TRIO = "== Trio\nkey: F\nmeter: 3/4\n| F | Bb |\n\n"


@each(
    ("text", "warned"),
    [
        (f"{TOP}{TRIO}== Verse\n\n== End\n| C | C |\n", ["F major", "3/4"]),
        (f"{TOP}{TRIO}== Verse\n\n== End\nkey: C\nmeter: 4/4\n| C | C |\n", []),
        (f"{TOP}{TRIO}== Verse\n\n== End\nkey: F\nmeter: 3/4\n| F | C |\n", []),
        (f"{TOP}{TRIO}== Verse\n\n== End\nkey: C\n| 4/4 C | C |\n", []),
        (f"{TOP}{TRIO}== End\n| F | C |\n", []),
        (f"{TOP}== Verse\nkey: D\n\n== Out\n| D | G |\n", []),
        (f"{TOP}{TRIO}== Verse\nkey: D\n\n== Out\nmeter: 4/4\n| D | G |\n", []),
        (f"{TOP}{TRIO}== Verse\nkey: D\n\n== Out\n| D | G |\n", ["3/4"]),
        (f"{TOP}{TRIO}== Verse\n\n== Solo as Verse\n\n== Trio\n", []),
    ],
)
def test_a_key_or_meter_from_further_up_is_told(text: str, warned: list[str]) -> None:
    """What differs from the section before is told, unless it is written under the heading or
    that section was moved to it."""
    found = read_chart(Source(text)).diagnostics
    said = [one.message for one in found if one.code == "written-last"]
    assert len(said) == len(warned)
    assert all(f" is in {value}, " in one for value, one in zip(warned, said, strict=True))
