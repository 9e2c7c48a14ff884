"""A ``harmony`` element to a chord, with what its symbol says and the chord cannot."""

from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.chord_kinds import chord_of_kind, degree_change
from chartkit.interchange.musicxml.harmony_context import HarmonyContext, Parts, ReadHarmony
from chartkit.interchange.musicxml.roots import root_of, with_bass
from chartkit.interchange.wording import cue_text
from chartkit.theory.chord import moved_chord


def read_harmony(harmony: Element, context: HarmonyContext) -> ReadHarmony | None:
    """The chord of a harmony; None (with a finding) where it names no root."""
    stacked = _stacked(harmony)
    if not stacked:
        return None
    first = _one_chord(stacked[0], context)
    if len(stacked) == 1:
        return first
    others = [_one_chord(parts, context) for parts in stacked[1:]]
    names = ", ".join(str(o.chord) for o in others if o is not None and o.chord is not None)
    context.findings.guess(
        "stacked-chord", f"several chords in one symbol: the first is struck, {names} is a cue",
        context.place,
    )  # fmt: skip
    return first and ReadHarmony(first.chord, cue_text(f"{first.cue} with {names}"))


def hides_root(harmony: Element) -> bool:
    """Whether only the bass of a harmony is shown: its root and kind are given no text."""
    root, kind = harmony.find("root/root-step"), harmony.find("kind")
    return (
        root is not None and kind is not None and harmony.find("bass") is not None
        and root.get("text") == "" and kind.get("text") == ""
    )  # fmt: skip


def _stacked(harmony: Element) -> list[Parts]:
    """The children of a harmony, parted where a new root, numeral or function begins."""
    found: list[Parts] = []
    for child in harmony:
        if child.tag in ("root", "numeral", "function"):
            found.append({"root": [child]})
        elif found:
            found[-1].setdefault(child.tag, []).append(child)
    return found


def _one_chord(parts: Parts, context: HarmonyContext) -> ReadHarmony | None:
    kind = parts["kind"][0] if "kind" in parts else None
    name = (kind.text or "").strip() if kind is not None else ""
    if name == "none":
        return ReadHarmony(None)
    root = root_of(parts["root"][0], context)
    if root is None:
        return None
    changes = tuple(filter(None, (degree_change(e, context) for e in parts.get("degree", ()))))
    text = "" if kind is None else (kind.get("text") or "").strip()
    read = chord_of_kind(name, text, root, changes, context)
    assert read.chord is not None
    chord = with_bass(read.chord, parts, context)
    return ReadHarmony(moved_chord(chord, context.interval), read.cue)
