"""Chords that a sheet gives once, above all sections, by a line that says they are for all.

The words are common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_BARS = "| E7 | A7 | E7 | E7 |\n| B7 | A7 | E7 | B7 |\n"
_WORDS = "Canal don't go no faster than a man can push a pram\nIt don't know where I am\n"


@each(
    "label",
    [
        "The changes, all the way through:",
        "Changes:",
        "Chords (the same all through):",
        "Progression for every verse:",
        "Akkorde durchgehend:",
    ],
)
def test_changes_given_once(label: str) -> None:
    """All sections without chords of their own have those, also where one has others."""
    text = (
        f"Canal Water Blues\nin E\n\n{label}\n{_BARS}\nHARP INTRO - the changes once\n\n"
        f"VERSE 1\n{_WORDS}\nHARP SOLO - the changes, twice\n\nVERSE 2\n{_WORDS}\n"
        f"END\n| B7 | E7 |\n"
    )
    parts = parts_of(taken(text).chart)
    changes = ["E7", "A7", "E7", "E7", "B7", "A7", "E7", "B7"]
    assert [(part.name, part.times, part.played) for part in parts] == [
        ("HARP INTRO", 1, changes),
        ("VERSE 1", 1, changes),
        ("HARP SOLO", 2, changes),
        ("VERSE 2", 1, changes),
        ("END", 1, ["B7", "E7"]),
    ]
