"""A count behind a line of words under its chords: the line is sung so often, chords and all."""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import parts_of

_LINE = "drink up, you've homes to go to"
_SUNG = "drinkupyouvehomestogoto"


def _song(line: str) -> str:
    return f"Chorus\nD               A\n{line}\nD       E       A\nand mind the wooden leg\n"


@each("count", ["(x2)", "  (2x)", "(bis)", "[2x]", "(2 mal)", "(2 fois)", "(twice)"])
def test_a_line_sung_twice(count: str) -> None:
    """It is written twice, each time with its chords, and a finding says so."""
    result = taken(_song(f"{_LINE} {count}"))
    (part,) = parts_of(result.chart)
    assert part.words == f"{_SUNG}{_SUNG}andmindthewoodenleg"
    assert part.music == ["D", "A", "D", "A", "D", "E", "A"]
    assert "line-again" in codes(result)


@each("behind", ["twice", "to boot", "(mind the leg)", "x2y"])
def test_a_line_sung_once(behind: str) -> None:
    """Words that are sung are no counts."""
    (part,) = parts_of(taken(_song(f"{_LINE} {behind}")).chart)
    assert part.words.startswith(_SUNG + "".join(c for c in behind if c.isalnum()))
    assert part.music == ["D", "A", "D", "E", "A"]


def test_a_line_sung_often() -> None:
    """A line that is sung more often than four times is written once, and its count is a cue."""
    (part,) = parts_of(taken(_song(f"{_LINE} (x8)")).chart)
    assert part.music == ["D", "A", "D", "E", "A"]
    assert "x8" in " ".join(part.cues)


def test_bars_over_a_line_sung_twice() -> None:
    """Bars over it are repeated."""
    (part,) = parts_of(taken(f"Chorus\n| D | A |\n{_LINE} (x2)\n| E | A |\nand mind it\n").chart)
    assert part.played == ["D", "A", "D", "A", "E", "A"]
