"""``direction`` and ``sound`` elements: marks, rehearsal signs, tempo, words to the players.

Source of the words that lead through a piece ("D.S. al Coda", "To Coda", "Fine"): common
practice, no source.
"""

import re
from dataclasses import dataclass, field
from typing import Literal
from xml.etree.ElementTree import Element

from chartkit.chart.model import Mark, MarkKind
from chartkit.interchange.musicxml.elements import number, text_of
from chartkit.interchange.wording import cue_text, section_name

_UNTIL: dict[str, Literal["", "fine", "coda"]] = {"fine": "fine", "coda": "coda"}
_JUMP = re.compile(
    r"(?P<kind>d\.?\s?c\.?|d\.?\s?s\.?|da\s?capo|dal\s?segno)"
    r"(?:\s+al?\s+(?P<until>fine|(?:the\s+)?coda)[.\s]*)?[.\s]*",
    re.IGNORECASE,
)
_NAMED_MARKS: tuple[tuple[re.Pattern[str], MarkKind], ...] = (
    (re.compile(r"(?:al|to)\s+(?:the\s+)?coda[.\s]*", re.IGNORECASE), "to-coda"),
    (re.compile(r"fine[.\s]*", re.IGNORECASE), "fine"),
    (re.compile(r"(?:al\s+)?segno[.\s]*", re.IGNORECASE), "segno"),
)
NO_CHORD = re.compile(r"(?:n\.?\s?c\.?|no\s+chord|tacet)", re.IGNORECASE)
_SECTION = re.compile(
    r"(?:intro(?:duction)?|verse|pre-?chorus|chorus|refrain|bridge|middle|solo|interlude|tag|"
    r"outro|coda|vamp|ending|turnaround|instrumental)(?:\s*\d{1,2})?[.:]?",
    re.IGNORECASE,
)
_BEAT_QUARTERS = {"whole": 4.0, "half": 2.0, "quarter": 1.0, "eighth": 0.5, "16th": 0.25}
_SOUND_MARKS: tuple[tuple[str, MarkKind], ...] = (
    ("segno", "segno"), ("coda", "coda"), ("tocoda", "to-coda"), ("fine", "fine"),
    ("dacapo", "D.C."), ("dalsegno", "D.S."),
)  # fmt: skip


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


def read_direction(element: Element) -> Direction:
    """A ``direction``, with the ``sound`` in it."""
    said = Direction()
    for kind in element.iter("direction-type"):
        for child in kind:
            _read_type(child, said)
    sound = element.find("sound")
    if sound is not None:
        read_sound(sound, said)
    return said


def read_sound(sound: Element, said: Direction) -> None:
    """What a ``sound`` element adds to a direction: marks that no words gave, the tempo."""
    given = {mark.kind for mark in said.marks}
    for attribute, kind in _SOUND_MARKS:
        wanted = sound.get(attribute)
        if wanted and wanted != "no" and kind not in given:
            if kind == "to-coda" and "coda" in given:
                said.marks = [m for m in said.marks if m.kind != "coda"]
            said.marks.append(Mark(kind))
    tempo = sound.get("tempo")
    if tempo is not None and number(tempo) > 0:
        said.tempo = float(number(tempo))


def _read_type(child: Element, said: Direction) -> None:
    match child.tag:
        case "segno":
            said.marks.append(Mark("segno"))
        case "coda":
            said.marks.append(Mark("coda"))
        case "rehearsal":
            said.section = section_name(f"{said.section} {child.text or ''}")
        case "metronome":
            said.tempo = _metronome(child) or said.tempo
        case "words":
            read_words(cue_text(child.text or ""), said)


def _metronome(metronome: Element) -> float | None:
    """Quarter notes a minute; None where no number is given (or one note equals another)."""
    found = re.search(r"\d{1,3}(?:\.\d{1,3})?", text_of(metronome, "per-minute"))
    quarters = _BEAT_QUARTERS.get(text_of(metronome, "beat-unit"))
    if found is None or quarters is None:
        return None
    dots = len(metronome.findall("beat-unit-dot"))
    return float(found[0]) * quarters * (2 - 0.5**dots if dots < 4 else 1)


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
