"""``direction`` and ``sound`` elements: marks, rehearsal signs, tempo, words to the players."""

import re
from xml.etree.ElementTree import Element

from chartkit.chart.marks import Mark, MarkKind
from chartkit.interchange.instructions import NO_CHORD, Direction, read_words
from chartkit.interchange.musicxml.xml import number, text_of
from chartkit.interchange.wording import cue_text, section_name

_BEAT_QUARTERS = {"whole": 4.0, "half": 2.0, "quarter": 1.0, "eighth": 0.5, "16th": 0.25}
_WEDGES = {"crescendo": "cresc.", "diminuendo": "dim."}
_SIGNS: tuple[tuple[str, MarkKind], ...] = (("segno", "segno"), ("coda", "coda"))
_LONGEST_BOXED = 3
"""Letters of words in a box that are taken for a rehearsal mark; ours."""
_SOUND_MARKS: tuple[tuple[str, MarkKind], ...] = (
    ("segno", "segno"),
    ("coda", "coda"),
    ("tocoda", "to-coda"),
    ("fine", "fine"),
    ("dacapo", "D.C."),
    ("dalsegno", "D.S."),
)


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
            _read_typed(child, said)
        case "dynamics":
            said.signs += [cue_text(_dynamics(sign)) for sign in child]
        case "wedge" if child.get("type") in _WEDGES:
            said.signs.append(_WEDGES[child.get("type", "")])
        case "other-direction":
            said.words += filter(None, [cue_text(child.text or "")])
        case "symbol":
            name = (child.text or "").strip().lower()
            said.marks += [Mark(kind) for tag, kind in _SIGNS if name.startswith(tag)]


def _read_typed(words: Element, said: Direction) -> None:
    """Words; a few signs in a box are a rehearsal mark."""
    text = cue_text(words.text or "")
    boxed = words.get("enclosure", "none") != "none"
    if boxed and 0 < len(text) <= _LONGEST_BOXED and NO_CHORD.fullmatch(text) is None:
        said.section = section_name(f"{said.section} {text}")
    else:
        read_words(text, said)


def _dynamics(sign: Element) -> str:
    return (sign.text or "") if sign.tag == "other-dynamics" else sign.tag


def _metronome(metronome: Element) -> float | None:
    """Quarter notes a minute; None where no number is given (or one note equals another)."""
    written = re.search(r"\d{1,3}(?:\.\d{1,3})?", text_of(metronome, "per-minute"))
    quarters = _BEAT_QUARTERS.get(text_of(metronome, "beat-unit"))
    if written is None or quarters is None:
        return None
    dots = len(metronome.findall("beat-unit-dot"))
    return float(written[0]) * quarters * (2 - 0.5**dots if dots < 4 else 1)
