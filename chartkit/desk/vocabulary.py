"""The words of the chart language that the text pane completes."""

from functools import cache

from chartkit.chart.marks import typed_names
from chartkit.chart.model import SETTING_NAMES
from chartkit.fretboard.instruments import KNOWN
from chartkit.theory.quality import TABLE

_KEYS = ("C", "G", "D", "A", "E", "B", "F#", "Db", "Ab", "Eb", "Bb", "F")
"""Keys by the circle of fifths, as they are usually spelled."""
_METERS = ("4/4", "3/4", "6/8", "12/8", "2/4", "2/2", "5/4")
_SECTIONS = (
    "Intro",
    "Verse 1",
    "Verse 2",
    "Pre-Chorus",
    "Chorus",
    "Bridge",
    "Solo",
    "Interlude",
    "Outro",
    "Coda",
    "Tag",
)
"""Names that sections usually have (common practice, no source)."""


@cache
def vocabulary() -> dict[str, object]:
    """Settings and what they may be, qualities, names of sections, marks."""
    return {
        "settings": {name: _values(name) for name in SETTING_NAMES},
        "qualities": list(dict.fromkeys(row.quality.text for row in TABLE)),
        "sections": _SECTIONS,
        "marks": typed_names(),
    }


def _values(name: str) -> tuple[str, ...]:
    match name:
        case "key":
            majors = tuple(f"{key} major" for key in _KEYS)
            return (*majors, *(f"{key} minor" for key in _KEYS))
        case "meter":
            return _METERS
        case "capo":
            return ("best", *map(str, range(10)))
        case "chords":
            return ("sounding", "shapes")
        case "instrument":
            return tuple(dict.fromkeys(instrument.name for instrument in KNOWN))
    return ()
