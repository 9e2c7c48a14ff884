"""From a ``harmony`` element to a chord, with a cue for what the chord cannot hold."""

import re
from typing import NamedTuple
from xml.etree.ElementTree import Element

from chartkit.interchange.instructions import NO_CHORD
from chartkit.interchange.musicxml.kinds import (
    FUNCTIONAL_KINDS,
    KIND_DEGREES,
    ChangeType,
    DegreeChange,
    changed_degrees,
)
from chartkit.interchange.musicxml.xml import (
    is_plain_alteration,
    note_of,
    text_of,
    whole_number,
)
from chartkit.interchange.taken import Findings, SymbolReader
from chartkit.interchange.wording import cue_text, one_line
from chartkit.theory.chord import Chord, moved_chord, simple_chord
from chartkit.theory.key import MODES, Key
from chartkit.theory.note import accidentals_of, note_name
from chartkit.theory.quality import Quality, quality_with

Parts = dict[str, list[Element]]
"""The children of one chord's harmony by their names."""


class ReadHarmony(NamedTuple):
    """A chord, None for N.C., and a cue for what its symbol says beyond it.

    ``bass_only`` says that root and kind are hidden.
    """

    chord: Chord | None
    cue: str = ""
    bass_only: bool = False


Spelling = tuple[object, ...]
"""Everything a symbol says, so that a repeated symbol is read once."""
Known = dict[Spelling, ReadHarmony]
"""Symbols that were read without a finding, by their contents."""
_BESIDE = ("offset", "staff", "frame")
"""Children of a harmony that do not name its chord."""


class HarmonyContext(NamedTuple):
    """The context in which a harmony is read.

    ``interval`` brings a transposing part to sounding pitch; ``key`` is the written key, for
    numerals; ``read_symbol`` reads the text of a kind.
    """

    interval: int
    key: Key
    read_symbol: SymbolReader
    findings: Findings
    place: str


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
    """The root of a function such as ``V`` or ``bVII``, a degree of the written key."""
    read = _FUNCTION.fullmatch(text)
    if read is None:
        return None
    context.findings.guess(
        "numeral", f'"{text}" is read as a degree of {_key_name(context.key)}', context.place
    )
    signs = read["signs"].count("#") + read["signs"].count("♯")
    signs -= read["signs"].count("b") + read["signs"].count("♭")
    return context.key.scale[_DEGREES.index(read["degree"].upper())] + 7 * signs


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


_CHANGE_TYPES: dict[str, ChangeType] = {"add": "add", "alter": "alter", "subtract": "subtract"}
_LONGEST_TEXT = 60
_MOST_ACCIDENTALS = 2
_TYPED_NOTE = re.compile(r"([A-Ha-h])[b#♭♯]{0,2}")
_DEGREES = ("I", "II", "III", "IV", "V", "VI", "VII")
_FUNCTION = re.compile(r"(?P<signs>[b♭#♯]{0,2})(?P<degree>VII|VI|IV|V|III|II|I)", re.IGNORECASE)
_MAJOR = Quality("", ("1", "3", "5"))


def chord_of_kind(
    name: str, text: str, root: int, changes: tuple[DegreeChange, ...], context: HarmonyContext
) -> ReadHarmony:
    """The chord on a root that a kind, the text it is written with and its degrees make.

    A kind that names a function may move the root.
    """
    if name in FUNCTIONAL_KINDS:
        return _functional(name, root, changes, context)
    return _plain(name, text, root, changes, context)


def _functional(
    name: str, root: int, changes: tuple[DegreeChange, ...], context: HarmonyContext
) -> ReadHarmony:
    meant = FUNCTIONAL_KINDS[name]
    quality, cue = _quality(meant.degrees, changes, context)
    bass = None if meant.bass is None else root + meant.bass
    chord = Chord(root + meant.root, quality, bass)
    sounding = moved_chord(chord, context.interval)
    context.findings.guess(
        "functional-kind", f"the kind {name} is read as {sounding}", context.place
    )
    return ReadHarmony(chord, " ".join(filter(None, (meant.cue, cue))))


def _plain(
    name: str, text: str, root: int, changes: tuple[DegreeChange, ...], context: HarmonyContext
) -> ReadHarmony:
    degrees = KIND_DEGREES.get(name)
    said = _by_text(text, context.read_symbol)
    if degrees is None or (name == "other" and not changes):
        return _unknown_kind(name, text, said, root, changes, context)
    if said is not None and _says_more(said, degrees, changes):
        context.findings.guess(
            "kind-text-says-more",
            f'the kind "{name}" is written "{cue_text(text)}", which says more and is taken',
            context.place,
        )
        return ReadHarmony(Chord(root, said))
    held, unnamed = changed_degrees(degrees, changes)
    if said is not None and not unnamed and held == frozenset(said.degrees):
        return ReadHarmony(Chord(root, said))  # add2 and add9 have the same tones: the text tells
    if said is not None and not changes:
        context.findings.guess(
            "kind-text-differs",
            f'the kind "{name}" is written "{cue_text(text)}": the kind is taken',
            context.place,
        )
    if said is not None and (unnamed or quality_with(held) is None):
        context.findings.guess(
            "kind-by-text",
            f'no symbol has the kind "{name}" with its degrees: "{cue_text(text)}" is read',
            context.place,
        )
        return ReadHarmony(Chord(root, said))
    quality, cue = _quality(degrees, changes, context)
    return ReadHarmony(Chord(root, quality), cue)


def _by_text(text: str, read_symbol: SymbolReader) -> Quality | None:
    """The quality that a kind's text names; None for no text or no chord symbol."""
    if not text or len(text) > _LONGEST_TEXT:
        return None
    chord = read_symbol(f"C{text}")
    return None if chord is None or chord.root or chord.bass is not None else chord.quality


def _says_more(said: Quality, degrees: tuple[str, ...], changes: tuple[DegreeChange, ...]) -> bool:
    """Whether the text adds tones to the kind, and no degree elements account for them."""
    if changes:
        return False
    return set(said.degrees) > set(degrees) or (
        set(said.degrees) != set(degrees) and said.text.startswith("7alt")
    )


def _unknown_kind(
    name: str,
    text: str,
    said: Quality | None,
    root: int,
    changes: tuple[DegreeChange, ...],
    context: HarmonyContext,
) -> ReadHarmony:
    named = said or _by_text(name, context.read_symbol)
    if named is not None:
        by = f'by its text "{cue_text(text)}"' if said is not None else f"as C{named.text} is"
        context.findings.guess(
            "kind-by-text", f'a chord of kind "{cue_text(name)}" is read {by}', context.place
        )
        return ReadHarmony(Chord(root, named))
    quality, cue = _quality(_MAJOR.degrees, changes, context)
    context.findings.guess(
        "unknown-kind", f'a chord of kind "{cue_text(name)}" is read as major', context.place
    )
    return ReadHarmony(Chord(root, quality), cue_text(" ".join(filter(None, (text, cue)))))


def _quality(
    degrees: tuple[str, ...], changes: tuple[DegreeChange, ...], context: HarmonyContext
) -> tuple[Quality, str]:
    """The quality of a kind and its changes, and a cue for changes it cannot hold."""
    held, unnamed = changed_degrees(degrees, changes)
    quality = quality_with(held)
    if quality is None:
        quality, unnamed = _nearest(degrees, changes)
    if not unnamed:
        return quality, ""
    said = ", ".join(f"{c.type} {c.value} {c.alter:+d}" for c in unnamed)
    context.findings.leave_out(
        "degree-without-symbol", f"chord tones that no symbol has: {said}", context.place
    )
    return quality, f"({said})"


def _nearest(
    degrees: tuple[str, ...], changes: tuple[DegreeChange, ...]
) -> tuple[Quality, tuple[DegreeChange, ...]]:
    """The quality with as many of the changes, in order, as symbols have, and the others."""
    quality = quality_with(frozenset(degrees)) or _MAJOR
    kept: tuple[DegreeChange, ...] = ()
    unnamed: tuple[DegreeChange, ...] = ()
    for change in changes:
        held, failed = changed_degrees(degrees, (*kept, change))
        changed = None if failed else quality_with(held)
        if changed is None:
            unnamed = (*unnamed, change)
        else:
            quality, kept = changed, (*kept, change)
    return quality, unnamed


def degree_change(element: Element, context: HarmonyContext) -> DegreeChange | None:
    """A degree element; None (with a finding) when it is none the schema knows."""
    value = whole_number(element.findtext("degree-value"))
    type_name = _CHANGE_TYPES.get(text_of(element, "degree-type"))
    if type_name is None or not 1 <= value <= 13:
        said = " ".join("".join(element.itertext()).split())[:40]
        context.findings.leave_out(
            "unknown-degree", f'a degree "{cue_text(said)}" of a chord', context.place
        )
        return None
    return DegreeChange(type_name, value, whole_number(element.findtext("degree-alter")))


def spelling_of(harmony: Element, interval: int) -> Spelling:
    """What a symbol says in a part that sounds an interval away: every element with its text, its
    attributes and the number of its children."""
    said: list[object] = [interval]
    for child in harmony:
        if child.tag not in _BESIDE:
            for one in child.iter():
                said += one.tag, one.text, len(one), *one.items()
    return tuple(said)


def known_harmony(harmony: Element, context: HarmonyContext, known: Known) -> ReadHarmony | None:
    """The chord of a harmony, looked up where the same symbol was read before."""
    spelling = spelling_of(harmony, context.interval)
    before = known.get(spelling)
    if before is not None:
        return before
    findings = len(context.findings.collected)
    read = read_harmony(harmony, context)
    if read is not None and len(context.findings.collected) == findings:
        known[spelling] = read
    return read


def read_harmony(harmony: Element, context: HarmonyContext) -> ReadHarmony | None:
    """The chord of a harmony; None (with a finding) where it names no root."""
    stacked = _stacked(harmony)
    if not stacked:
        return _rootless(harmony, context)
    first = _one_chord(stacked[0], context)
    if first is not None and _hides_root(harmony):
        first = first._replace(bass_only=True)
    if len(stacked) == 1:
        return first
    others = [_one_chord(parts, context) for parts in stacked[1:]]
    names = ", ".join(str(o.chord) for o in others if o is not None and o.chord is not None)
    context.findings.guess(
        "stacked-chord",
        f"several chords in one symbol: the first is struck, {names} is a cue",
        context.place,
    )
    return first and first._replace(cue=cue_text(f"{first.cue} with {names}"))


def _rootless(harmony: Element, context: HarmonyContext) -> ReadHarmony | None:
    """The chord of a harmony without a root: N.C., or a whole symbol as the text of its kind."""
    kind = harmony.find("kind")
    text = "" if kind is None else (kind.get("text") or "").strip()
    if text_of(harmony, "kind") == "none" or NO_CHORD.fullmatch(text):
        return ReadHarmony(None)
    chord = context.read_symbol(text) if 0 < len(text) <= _LONGEST_TEXT else None
    if chord is None:
        said = cue_text(text or "".join(harmony.itertext()))[:_LONGEST_TEXT] or "nothing"
        context.findings.leave_out(
            "chord-without-root", f'a chord symbol names no root (it says "{said}")', context.place
        )
        return None
    context.findings.guess(
        "kind-by-text", f'a chord symbol without a root is read by its text "{text}"', context.place
    )
    return ReadHarmony(moved_chord(chord, context.interval))


def _hides_root(harmony: Element) -> bool:
    """Whether only the bass of a harmony is shown: its root and kind are given no text."""
    root, kind = harmony.find("root/root-step"), harmony.find("kind")
    return (
        root is not None
        and kind is not None
        and harmony.find("bass") is not None
        and root.get("text") == ""
        and kind.get("text") == ""
    )


def _stacked(harmony: Element) -> list[Parts]:
    """The children of a harmony, parted where a new root, numeral or function begins."""
    chords: list[Parts] = []
    for child in harmony:
        if child.tag in ("root", "numeral", "function"):
            chords.append({"root": [child]})
        elif chords:
            chords[-1].setdefault(child.tag, []).append(child)
    return chords


def _one_chord(parts: Parts, context: HarmonyContext) -> ReadHarmony | None:
    kind = parts["kind"][0] if "kind" in parts else None
    name = (kind.text or "").strip() if kind is not None else ""
    text = "" if kind is None else (kind.get("text") or "").strip()
    if name == "none" or NO_CHORD.fullmatch(text):
        return ReadHarmony(None)
    root = root_of(parts["root"][0], context)
    if root is None:
        return None
    changes = tuple(filter(None, (degree_change(e, context) for e in parts.get("degree", ()))))
    read = chord_of_kind(name, text, root, changes, context)
    assert read.chord is not None
    chord = moved_chord(with_bass(read.chord, parts, context), context.interval)
    return ReadHarmony(_in_writable_notes(chord), read.cue)


def _in_writable_notes(chord: Chord) -> Chord:
    """The chord without accidentals that a note name cannot have, such as triple flats: those
    come from moved parts, and from functions of a root that is altered itself."""
    bass = chord.root if chord.bass is None else chord.bass
    most = max(abs(accidentals_of(note)) for note in (chord.root, bass))
    return simple_chord(chord) if most > _MOST_ACCIDENTALS else chord
