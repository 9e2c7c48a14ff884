"""The root and the bass of a ``harmony``: notes, functions and numerals."""

import re
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.harmony_values import HarmonyContext, Parts
from chartkit.interchange.musicxml.xml import (
    is_plain_alteration,
    note_of,
    text_of,
    whole_number,
)
from chartkit.interchange.wording import cue_text, one_line
from chartkit.theory.chord import Chord
from chartkit.theory.key import MODES, Key
from chartkit.theory.note import note_name

_TYPED_NOTE = re.compile(r"([A-Ha-h])[b#♭♯]{0,2}")
_DEGREES = ("I", "II", "III", "IV", "V", "VI", "VII")
_DEGREE = r"[b♭#♯]{0,2}(?:VII|VI|IV|V|III|II|I)"
_FUNCTION = re.compile(
    rf"(?P<degree>{_DEGREE})(?P<figures>[°oøØ+]?\d{{0,3}})(?:/(?P<of>{_DEGREE}))?", re.IGNORECASE
)
"""A degree, its figures, and the degree of which it is one ("V7/ii").  The schema's text of a
``function`` is the numeral alone; its kind says the rest.  People type figures too."""


def root_of(element: Element, context: HarmonyContext) -> int | None:
    """The root as a place on the line of fifths; None (with a finding) where none is named."""
    if element.tag == "root":
        root = _note(element, "root", context)
    elif element.tag == "numeral":
        root = _numeral_root(element, context)
    else:
        root = _function_root((element.text or "").strip(), context)
    if root is None:
        said = cue_text("".join(element.itertext())) or "nothing"
        context.findings.leave_out(
            "chord-without-root", f'a chord symbol names no root (it says "{said}")', context.place
        )
    return root


def _note(element: Element, name: str, context: HarmonyContext) -> int | None:
    """The root or bass; an alteration that is no flat or sharp, single or double, is reported."""
    step, alter = text_of(element, f"{name}-step"), element.findtext(f"{name}-alter")
    note = note_of(step, alter)
    if note is None:
        return _note_as_typed(step, name, context)
    if note is not None and alter is not None and not is_plain_alteration(alter):
        context.findings.guess(
            "odd-alteration",
            f'a {name} {step} altered by "{one_line(alter)[:20]}" half steps is read as '
            f"{note_name(note)}",
            context.place,
        )
    return note


def _note_as_typed(step: str, name: str, context: HarmonyContext) -> int | None:
    """The note of a step that is typed with its sign ("Bb"), in a small letter, or as H."""
    typed = _TYPED_NOTE.fullmatch(step)
    if typed is None:
        return None
    letter = "B" if typed[1] in "Hh" else typed[1].upper()
    signs = step.count("#") + step.count("♯") - step[1:].count("b") - step[1:].count("♭")
    note = note_of(letter, str(signs))
    if note is not None:
        context.findings.guess(
            "odd-step", f'a {name} "{step}" is read as {note_name(note)}', context.place
        )
    return note


def _function_root(text: str, context: HarmonyContext) -> int | None:
    """The root of a function such as ``V`` or ``bVII``, a degree of the written key, or of the key
    on one of its degrees (``V7/ii``)."""
    read = _FUNCTION.fullmatch(text.replace(" ", ""))
    if read is None:
        return None
    context.findings.guess(
        "numeral", f'"{text}" is read as a degree of {_key_name(context.key)}', context.place
    )
    key = context.key
    if read["of"]:
        key = Key(_degree_of(key, read["of"]), "minor" if read["of"].islower() else "major")
    return _degree_of(key, read["degree"])


def _degree_of(key: Key, numeral: str) -> int:
    """The note of a numeral with its signs; a small vii is on the leading note in minor too
    (harmony handbooks)."""
    name = numeral.lstrip("b♭#♯")
    signs = numeral[: len(numeral) - len(name)]
    at = _DEGREES.index(name.upper())
    raised = name == "vii" and key.mode == "minor"
    altered = signs.count("#") + signs.count("♯") - signs.count("b") - signs.count("♭")
    return key.scale[at] + 7 * (altered + raised)


def _numeral_root(element: Element, context: HarmonyContext) -> int | None:
    degree = whole_number(element.findtext("numeral-root"))
    if not 1 <= degree <= 7:
        return None
    key, own = context.key, element.find("numeral-key")
    if own is not None:
        mode = text_of(own, "numeral-mode")
        mode = mode if mode in MODES else "minor" if "minor" in mode else "major"
        key = Key(whole_number(own.findtext("numeral-fifths")) - MODES[mode], mode)
    context.findings.guess(
        "numeral", f"a numeral is read as a degree of {_key_name(key)}", context.place
    )
    signs = max(-2, min(2, whole_number(element.findtext("numeral-alter"))))
    return key.scale[degree - 1] + 7 * signs


def _key_name(key: Key) -> str:
    return str(key) if abs(key.signature) <= 7 else "its key"


def with_bass(chord: Chord, parts: Parts, context: HarmonyContext) -> Chord:
    """The chord over the bass that is written, or over the tone its inversion names."""
    for element in parts.get("bass", ()):
        bass = _note(element, "bass", context)
        if bass is None:
            context.findings.leave_out("unknown-bass", "a bass that is not a note", context.place)
        else:
            return Chord(chord.root, chord.quality, bass)
    inversion = whole_number(parts["inversion"][0].text) if "inversion" in parts else 0
    if chord.bass is None and 0 < inversion < len(chord.tones):
        return Chord(chord.root, chord.quality, chord.tones[inversion])
    return chord
