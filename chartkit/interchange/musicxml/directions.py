"""``direction`` and ``sound`` elements: marks, rehearsal signs, tempo, words to the players."""

import re
from collections.abc import Iterable
from itertools import groupby
from xml.etree.ElementTree import Element

from chartkit.chart.marks import Mark, MarkKind
from chartkit.interchange.instructions import (
    NO_CHORD,
    Direction,
    add_instruction,
    name_and_remark,
    says_more_than_words,
)
from chartkit.interchange.marks_in_words import mark_of
from chartkit.interchange.musicxml.mark_elements import SIGN_KINDS, SOUND_KINDS
from chartkit.interchange.musicxml.xml import number, text_of
from chartkit.interchange.wording import cue_text, section_name

_BEAT_QUARTERS = {"whole": 4.0, "half": 2.0, "quarter": 1.0, "eighth": 0.5, "16th": 0.25}
_WEDGES = {"crescendo": "cresc.", "diminuendo": "dim."}
_LONGEST_TEMPO = 60
_LONGEST_BOXED = 3
"""Letters of words in a box that are taken for a rehearsal mark; ours."""

_COUNT = re.compile(r"\s*(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\s*", re.IGNORECASE)
"""How often something is played, which people set in boxes too."""


def read_direction(element: Element, ours: bool = False) -> Direction:
    """A ``direction``, with the ``sound`` in it.  In a score that is ``ours`` words alone are a
    cue, whatever they say: our marks sound or are bold, and our tempos have a sign."""
    direction = Direction(staff=(element.findtext("staff") or "").strip())
    kinds = element.findall("direction-type")
    said = kinds[0].findall("words") if ours and len(kinds) == len(element) == 1 else []
    if said and said[0].get("font-weight") != "bold":
        direction.words += [cue_text(words.text or "") for words in said]
        return direction
    if len(kinds) == 1 and len(kinds[0]) == 1 and kinds[0][0].tag == "words":  # as nearly all have
        _read_typed(kinds[0][0], kinds[0][0].text or "", direction)
        kinds = []
    whole = _with_signs(kinds) if kinds else None
    if whole is not None:
        direction.marks.append(whole)
    children = [child for kind in kinds for child in kind] if whole is None else []
    for typed, run in groupby(children, lambda child: child.tag == "words"):
        if typed:
            for words, text in _texts(run):
                _read_typed(words, text, direction)
        else:
            for child in run:
                _read_type(child, direction, ours)
    sound = element.find("sound")
    if sound is not None:
        read_sound(sound, direction)
    return direction


_TYPED_SIGNS = {"segno": "𝄋", "coda": "𝄌"}


def _with_signs(kinds: list[Element]) -> Mark | None:
    """The mark that words and signs of one direction say together, "To" before the sign of the
    coda; None where they are no more than each by itself."""
    if len(kinds) == 1 and len(kinds[0]) == 1:
        return None
    children = [child for kind in kinds for child in kind]
    tags = {_name_of_sign(child) for child in children}
    if "words" not in tags or not tags <= {"words", *_TYPED_SIGNS} or len(tags) < 2:
        return None
    texts = (_TYPED_SIGNS.get(_name_of_sign(child)) or child.text or "" for child in children)
    mark = mark_of(" ".join(" ".join(texts).split()))
    return mark if mark is not None and mark.kind not in tags else None


def _name_of_sign(child: Element) -> str:
    """The name of an element, that of the sign where it stands for one of a music font."""
    return (child.text or "").strip().lower() if child.tag == "symbol" else child.tag


def read_sound(sound: Element, direction: Direction) -> None:
    """Adds a ``sound`` element to a direction: marks that no words gave, the tempo."""
    given = {mark.kind for mark in direction.marks}
    for attribute, kind in SOUND_KINDS.items():
        wanted = sound.get(attribute)
        if wanted and wanted != "no" and kind not in given:
            if kind == "to-coda" and "coda" in given:
                direction.marks = [m for m in direction.marks if m.kind != "coda"]
            direction.marks.append(Mark(kind))
    swing = sound.find("swing")
    if swing is not None and text_of(swing, "first") != text_of(swing, "second"):
        sixteenths = text_of(swing, "swing-type") == "16th"
        direction.feel = "swing sixteenths" if sixteenths else "swing"
    tempo = sound.get("tempo")
    if tempo is not None and number(tempo) > 0:
        direction.heard = direction.tempo is None
        direction.tempo = float(number(tempo))


_SYMBOLS: dict[str, MarkKind] = {
    **SIGN_KINDS,
    "fermata": "fermata",
    "dacapo": "D.C.",
    "dalsegno": "D.S.",
}
"""The mark of a sign by the first letters of its name.  Source of the names: the Standard Music
Font Layout (SMuFL 1.4); from memory."""


def _read_type(child: Element, direction: Direction, ours: bool) -> None:
    match child.tag:
        case tag if tag in SIGN_KINDS:
            direction.marks.append(Mark(SIGN_KINDS[tag]))
        case "rehearsal" if _COUNT.fullmatch(child.text or ""):
            add_instruction(cue_text(child.text or ""), direction)
        case "rehearsal":
            name, remark = (child.text or ""), ""
            if not ours:
                name, remark = name_and_remark(cue_text(name))
            direction.section = section_name(f"{direction.section} {name}")
            direction.words += filter(None, [remark])
        case "metronome":
            direction.tempo = _metronome(child) or direction.tempo
            direction.words += _equal_notes(child)
        case "dynamics":
            direction.signs += [cue_text(_dynamics(sign)) for sign in child]
        case "wedge" if child.get("type") in _WEDGES:
            direction.signs.append(_WEDGES[child.get("type", "")])
        case "other-direction":
            direction.words += filter(None, [cue_text(child.text or "")])
        case "symbol":
            name = (child.text or "").strip().lower()
            direction.marks += [
                Mark(kind) for sign, kind in _SYMBOLS.items() if name.startswith(sign)
            ]
            direction.signs += ["caesura"] * name.startswith("caesura")


def _texts(runs: Iterable[Element]) -> list[tuple[Element, str]]:
    """Words as they are read: runs in several typefaces are one text where a blank stands at the
    end of one or before the next.  Each comes with the first element of its text."""
    texts: list[tuple[Element, str]] = []
    before = ""
    for words in runs:
        text = words.text or ""
        if before[-1:].isspace() or (before and text[:1].isspace()):
            texts[-1] = texts[-1][0], texts[-1][1] + text
        else:
            texts.append((words, text))
        before = text
    return texts


_SIGN_QUARTERS = {"♩": 1.0, "𝅘𝅥": 1.0, "♪": 0.5, "𝅘𝅥𝅮": 0.5, "𝅗𝅥": 2.0, "q": 1.0, "h": 2.0}
_DIGIT = re.compile(r"\d")
_TYPED_TEMPO = re.compile(
    r"(?P<words>.*?)(?:\bca?\.\s*)?(?:(?P<note>♩|𝅘𝅥𝅮|𝅘𝅥|♪|𝅗𝅥|(?<!\w)[qh](?=\s?\.?\s*=))(?P<dot>\s?\.)?\s*=\s*|"
    r"(?<!\w)(?:tempo|bpm|m\.?\s?m\.?)\s*[:=]?\s*|(?<!\w)(?=\d{2,3}\s*bpm\b))"
    r"(?:(?:ca?|circa|about)\.?\s*)?(?P<beats>\d{2,3})(?:\s?[-–]\s?\d{2,3})?(?:\s*bpm)?\s*\)?"
    r"(?P<behind>(?:[\s,;/–-]+\D*)?)",
    re.IGNORECASE,
)
"""A tempo typed as words, with what is said before and after it: "Slowly (♩ = 66)", "96 bpm".  The
letters q and h are the notes of fonts of signs; common practice, no source."""


def _read_typed(words: Element, typed: str, direction: Direction) -> None:
    """Words; a few signs in a box are a rehearsal mark.  Lines are read one by one where one of
    them is more than words."""
    text = cue_text(typed)
    boxed = words.get("enclosure", "none") != "none" and 0 < len(text) <= _LONGEST_BOXED
    if boxed and NO_CHORD.fullmatch(text) is None and _COUNT.fullmatch(text) is None:
        direction.section = section_name(f"{direction.section} {text}")
        return
    alone = typed.isprintable() or mark_of(text) is not None
    lines = [] if alone else [line for line in map(cue_text, typed.splitlines()) if line]
    if len(lines) > 1 and any(says_more_than_words(line) for line in lines):
        for line in lines:
            _read_typed(words, line, direction)
        return
    tempo = _TYPED_TEMPO.fullmatch(text) if _DIGIT.search(text) else None
    if tempo is None:
        add_instruction(text, direction)
    else:
        direction.tempo = direction.tempo or _quarters(tempo)
        for said in (tempo["words"], tempo["behind"]):
            add_instruction(said.strip(" (,;:/–-"), direction)


def _quarters(tempo: re.Match[str]) -> float:
    """The quarter notes a minute of a typed tempo."""
    note = _SIGN_QUARTERS[(tempo["note"] or "q").lower()] * (1.5 if tempo["dot"] else 1)
    return note * int(tempo["beats"])


def typed_tempo(text: str) -> float | None:
    """The tempo of a text in quarter notes a minute; None where it is no tempo."""
    tempo = _TYPED_TEMPO.fullmatch(text) if len(text) <= _LONGEST_TEMPO else None
    return None if tempo is None else _quarters(tempo)


def _dynamics(sign: Element) -> str:
    return (sign.text or "") if sign.tag == "other-dynamics" else sign.tag


_NOTE_SIGNS = {"half": "𝅗𝅥", "quarter": "♩", "eighth": "♪", "16th": "𝅘𝅥𝅯"}


def _equal_notes(metronome: Element) -> list[str]:
    """The words for a metronome mark that says which notes are as long as which: two eighths that
    are a quarter and an eighth of a triplet are swung."""
    sides: list[list[Element]] = [[]]
    for child in metronome:
        if child.tag == "metronome-relation":
            sides.append([])
        elif child.tag == "metronome-note":
            sides[-1].append(child)
    units: list[str] = []
    for child in metronome:
        if child.tag == "beat-unit":
            units.append((child.text or "").strip())
        elif child.tag == "beat-unit-dot" and units:
            units[-1] += "."
    if len(units) == 2:
        return [" = ".join(map(_sign_of, units))]
    if len(sides) != 2 or not all(sides):
        return []
    left, right = ([_type_of(note) for note in side] for side in sides)
    in_three = any(note.find("metronome-tuplet") is not None for note in sides[1])
    if left == ["eighth", "eighth"] and right == ["quarter", "eighth"] and in_three:
        return ["swing eighths"]
    if left == ["16th", "16th"] and right == ["eighth", "16th"] and in_three:
        return ["swing sixteenths"]
    typed = ("".join(map(_sign_of, side)) for side in (left, right))
    return [" = ".join(typed)]


def _type_of(note: Element) -> str:
    """The type of a note in a relation, with its dots behind it."""
    return text_of(note, "metronome-type") + "." * len(note.findall("metronome-dot"))


def _sign_of(note: str) -> str:
    plain = note.rstrip(".")
    return _NOTE_SIGNS.get(plain, plain) + note[len(plain) :]


def _metronome(metronome: Element) -> float | None:
    """Quarter notes a minute; None where no number is given (or one note equals another)."""
    written = re.search(r"\d{1,3}(?:\.\d{1,3})?", text_of(metronome, "per-minute"))
    quarters = _BEAT_QUARTERS.get(text_of(metronome, "beat-unit"))
    if written is None or quarters is None:
        return None
    dots = len(metronome.findall("beat-unit-dot"))
    return float(written[0]) * quarters * (2 - 0.5**dots if dots < 4 else 1)
