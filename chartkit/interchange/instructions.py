"""Words to the players: navigation marks, no chord, names of sections, or words to be kept.

Source of the words that lead through a piece ("D.S. al Coda", "To Coda", "Fine"): common
practice, no source.
"""

import re
from dataclasses import dataclass, field

from chartkit.chart.marks import Mark, MarkKind, Until
from chartkit.interchange.wording import section_name

_UNTIL: dict[str, Until] = {"fine": "fine", "coda": "coda"}
_JUMP = re.compile(
    r"(?P<kind>d\.?\s?c\.?|d\.?\s?s\.?|da\s?capo|dal\s?segno)"
    r"(?:\s+al?\s+(?P<until>fine|(?:the\s+)?coda)[.\s]*)?[.\s]*",
    re.IGNORECASE,
)
_NAMED_MARKS: tuple[tuple[re.Pattern[str], MarkKind], ...] = (
    (re.compile(r"(?:al|to)\s+(?:the\s+)?coda[.\s]*", re.IGNORECASE), "to-coda"),
    (re.compile(r"fine[.\s]*", re.IGNORECASE), "fine"),
    (re.compile(r"fermata[.\s]*", re.IGNORECASE), "fermata"),
    (re.compile(r"(?:al\s+)?segno[.\s]*", re.IGNORECASE), "segno"),
)
NO_CHORD = re.compile(r"(?:n\.?\s?c\.?|no\s+chord|tacet)", re.IGNORECASE)
_SECTION = re.compile(
    r"(?:intro(?:duction)?|verse|pre-?chorus|chorus|refrain|bridge|middle|solo|interlude|tag|"
    r"outro|coda|vamp|ending|turnaround|instrumental)(?:\s*\d{1,2})?[.:]?",
    re.IGNORECASE,
)


@dataclass(slots=True)
class Direction:
    """What one direction says.  ``tempo`` is in quarter notes a minute; ``named`` is a
    section that its words name; ``no_chord`` says that they are an N.C."""

    marks: list[Mark] = field(default_factory=list)
    section: str = ""
    named: str = ""
    tempo: float | None = None
    words: list[str] = field(default_factory=list)
    no_chord: bool = False


def read_words(text: str, said: Direction) -> None:
    """Adds what words mean: a mark, an N.C., a section, or words to the players."""
    if not text:
        return
    if NO_CHORD.fullmatch(text):
        said.no_chord = True
    elif (jump := _JUMP.fullmatch(text)) is not None:
        kind: MarkKind = "D.C." if "c" in jump["kind"].lower() else "D.S."
        until = (jump["until"] or "").lower().rpartition(" ")[2]
        said.marks.append(Mark(kind, _UNTIL.get(until, "")))
    elif (mark := _named_mark(text)) is not None:
        said.marks.append(Mark(mark))
    elif _SECTION.fullmatch(text):
        said.named = section_name(text.rstrip(".:"))
    else:
        said.words.append(text)


def _named_mark(text: str) -> MarkKind | None:
    return next((kind for pattern, kind in _NAMED_MARKS if pattern.fullmatch(text)), None)
