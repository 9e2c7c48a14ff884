"""The chord that the kind of a ``harmony``, its text and its degrees make on a root."""

import re
from xml.etree.ElementTree import Element

from chartkit.interchange.intake_result import SymbolReader
from chartkit.interchange.musicxml.harmony_values import HarmonyContext, ReadHarmony
from chartkit.interchange.musicxml.kinds import (
    FUNCTIONAL_KINDS,
    KIND_DEGREES,
    ChangeType,
    DegreeChange,
    changed_degrees,
    with_plain_sevenths,
)
from chartkit.interchange.musicxml.xml import (
    text_of,
    whole_number,
)
from chartkit.interchange.wording import cue_text, without_private_signs
from chartkit.theory.chord import Chord, moved_chord
from chartkit.theory.quality import Quality, quality_with

_CHANGE_TYPES: dict[str, ChangeType] = {"add": "add", "alter": "alter", "subtract": "subtract"}
_LONGEST_TEXT = 60
_PRINTED = re.compile(r"\s+|\.(?=\)|$)|(?<=[35])(?:rd|th)\b")
"""What is printed in the text of a kind and says nothing: "7 sus 4", "7(alt.)", "no 3rd"."""
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
    said = _by_text(text, root, context.read_symbol)
    if changes and degrees is not None:
        changes = _as_meant(degrees, changes, said, context)
    if degrees is None or (name == "other" and not changes):
        return _unknown_kind(name, text, said, root, changes, context)
    if said is not None and _says_more(said, degrees, changes):
        context.findings.guess(
            "kind-text-says-more",
            f'the kind "{name}" is written "{cue_text(text)}", which is more exact, and is used',
            context.place,
        )
        return ReadHarmony(Chord(root, said))
    held, unnamed = changed_degrees(degrees, changes)
    if said is not None and not unnamed and _is_said_of(held, frozenset(said.degrees)):
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
    if said is None and text and not changes:
        context.findings.guess(
            "kind-text-unread",
            f'the kind "{name}" is written "{cue_text(text)}", which is unknown: the kind is taken',
            context.place,
        )
    quality, cue = _quality(degrees, changes, context)
    return ReadHarmony(Chord(root, quality), cue)


def _as_meant(
    degrees: tuple[str, ...],
    changes: tuple[DegreeChange, ...],
    said: Quality | None,
    context: HarmonyContext,
) -> tuple[DegreeChange, ...]:
    """The changes, a seventh counted from the major scale as one counted from the dominant: one
    that is lowered, or one that the text of the kind calls a major seventh."""
    flat_or_none = said is None or "7" not in said.degrees or "b7" in said.degrees
    if not (flat_or_none or {"7", "b7", "bb7"} & set(degrees)):
        plain = DegreeChange("add", 7, 0)
        if plain in changes:
            context.findings.guess(
                "major-seventh",
                "a seventh that is added is a major one by the text of its kind",
                context.place,
            )
            return tuple(DegreeChange("add", 7, 1) if one == plain else one for one in changes)
    meant = with_plain_sevenths(degrees, changes)
    if meant != changes:
        context.findings.guess(
            "lowered-seventh",
            "a seventh that is added and lowered is read as a flat seventh",
            context.place,
        )
    return meant


def _by_text(text: str, root: int, read_symbol: SymbolReader) -> Quality | None:
    """The quality that a kind's text names, alone or after the name of the root; None for no
    text or no chord symbol."""
    if not text or len(text) > _LONGEST_TEXT:
        return None
    plain = _PRINTED.sub("", without_private_signs(text))
    chord = read_symbol(f"C{text}") or read_symbol(f"C{plain}")
    if chord is None and (whole := read_symbol(text)) is not None and whole.root == root:
        return whole.quality
    return None if chord is None or chord.root or chord.bass is not None else chord.quality


def _says_more(said: Quality, degrees: tuple[str, ...], changes: tuple[DegreeChange, ...]) -> bool:
    """Whether the text adds tones to the kind, a suspension in the place of its third, or another
    fifth to its seventh, which few kinds have, and no degree elements account for them."""
    if changes or set(said.degrees) == set(degrees):
        return False
    tones, own = set(said.degrees), set(degrees)
    suspended = "sus" in said.text and tones >= own - {"3"}
    altered = tones > own - {"5"} and bool({"b5", "#5"} & tones) and "b7" in own
    return tones > own or suspended or altered or said.text.startswith("7alt")


def _is_said_of(held: frozenset[str], said: frozenset[str]) -> bool:
    """Whether tones are those that a text names, or these but for a ninth or an eleventh under the
    highest one, which is often left out (harmony handbooks)."""
    left_out = said - held
    if "13" in held:
        return held <= said and left_out <= {"9", "11"}
    return held == said or (held < said and "11" in held and left_out == {"9"})


def _unknown_kind(
    name: str,
    text: str,
    said: Quality | None,
    root: int,
    changes: tuple[DegreeChange, ...],
    context: HarmonyContext,
) -> ReadHarmony:
    named = said or _by_text(name, root, context.read_symbol)
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
    """A degree element; None, with a finding, if the schema does not have
    it."""
    value = whole_number(element.findtext("degree-value"))
    type_name = _CHANGE_TYPES.get(text_of(element, "degree-type"))
    if type_name is None or not 1 <= value <= 13:
        said = " ".join("".join(element.itertext()).split())[:40]
        context.findings.leave_out(
            "unknown-degree", f'a degree "{cue_text(said)}" of a chord', context.place
        )
        return None
    return DegreeChange(type_name, value, whole_number(element.findtext("degree-alter")))
