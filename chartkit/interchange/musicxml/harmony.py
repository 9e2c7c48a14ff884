"""From a ``harmony`` element to a chord, with a cue for what the chord cannot hold."""

from collections.abc import Callable
from xml.etree.ElementTree import Element

from chartkit.interchange.instructions import NO_CHORD
from chartkit.interchange.musicxml.harmony_kinds import chord_of_kind, degree_change
from chartkit.interchange.musicxml.harmony_notes import root_of, with_bass
from chartkit.interchange.musicxml.harmony_values import HarmonyContext, Parts, ReadHarmony
from chartkit.interchange.musicxml.xml import (
    text_of,
)
from chartkit.interchange.wording import cue_text
from chartkit.theory.chord import Chord, moved_chord, simple_chord
from chartkit.theory.note import accidentals_of

Spelling = tuple[object, ...]
"""Everything a symbol says, so that a repeated symbol is read once."""
Known = dict[Spelling, ReadHarmony]
"""Symbols that were read without a finding, by their contents."""
_BESIDE = ("offset", "staff", "frame")
"""Children of a harmony that do not name its chord."""
_LONGEST_TEXT = 60
_MOST_ACCIDENTALS = 2


def spelling_of(harmony: Element, interval: int) -> Spelling:
    """What a symbol says in a part that sounds an interval away: every element with its text, its
    attributes and the number of its children."""
    said: list[object] = [interval]
    for child in harmony:
        if child.tag not in _BESIDE:
            for one in child.iter() if len(child) else (child,):
                said += one.tag, one.text, len(one), *one.items()
    return tuple(said)


def known_harmony(
    harmony: Element, interval: int, known: Known, context_of: Callable[[], HarmonyContext]
) -> ReadHarmony | None:
    """The chord of a harmony, looked up where the same symbol was read before in a part that sounds
    an interval away; ``context_of`` is asked only for a new one."""
    spelling = spelling_of(harmony, interval)
    before = known.get(spelling)
    if before is not None:
        return before
    context = context_of()
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
    if context.before is not None and text_of(harmony, "kind") == "none" and _hides_root(harmony):
        return _bass_alone(harmony, context.before, context)
    first = _one_chord(stacked[0], context)
    if first is not None and _hides_root(harmony):
        first = first._replace(bass_only=True)
    if len(stacked) == 1:
        return first
    others = [_one_chord(parts, context) for parts in stacked[1:]]
    names = ", ".join(str(o.chord) for o in others if o is not None and o.chord is not None)
    context.findings.guess(
        "stacked-chord",
        f'several chords in one symbol: the first is struck, "with {names}" is a cue',
        context.place,
    )
    return first and first._replace(cue=cue_text(f"{first.cue} with {names}"))


def _rootless(harmony: Element, context: HarmonyContext) -> ReadHarmony | None:
    """The chord of a harmony without a root: N.C., or a whole symbol as the text of its kind."""
    kind = harmony.find("kind")
    text = "" if kind is None else (kind.get("text") or "").strip()
    if not text and harmony.find("bass") is not None and context.before is not None:
        return _bass_alone(harmony, context.before, context)
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


def _bass_alone(harmony: Element, before: Chord, context: HarmonyContext) -> ReadHarmony | None:
    """The chord before over the bass of a symbol that names nothing else."""
    bass = with_bass(Chord(0, before.quality), {"bass": harmony.findall("bass")}, context).bass
    if bass is None:
        return None
    context.findings.guess(
        "bass-alone", f"a symbol is a bass alone: it is that of {before}", context.place
    )
    chord = Chord(before.root, before.quality, bass + context.interval)
    return ReadHarmony(_in_writable_notes(chord), bass_only=True)


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
    if kind is not None and kind.get("use-symbols") == "yes" and text.isdecimal():
        text = ""  # a sign is printed before the number
    if name == "none" and "degree" in parts:
        name = "other"  # a chord that its degrees make
    bare = name == "none" and not _names_quality(text, context)
    if (bare and "bass" not in parts) or NO_CHORD.fullmatch(text):
        return ReadHarmony(None)
    root = root_of(parts["root"][0], context)
    if root is None:
        return None
    if bare:
        return _over_bass(root, parts, context)
    bass = _bass_in_text(text, parts, context)
    text = text if bass is None else text.rpartition("/")[0]
    changes = tuple(filter(None, (degree_change(e, context) for e in parts.get("degree", ()))))
    read = chord_of_kind(name, text, root, changes, context)
    assert read.chord is not None
    chord = Chord(read.chord.root, read.chord.quality, bass) if bass is not None else read.chord
    chord = moved_chord(with_bass(chord, parts, context), context.interval)
    return ReadHarmony(_in_writable_notes(chord), read.cue)


def _over_bass(root: int, parts: Parts, context: HarmonyContext) -> ReadHarmony:
    """A root over a bass without a kind, as "C/B" is shown after C: the chord before over a new
    bass where it has that root, else a major chord.  N.C. has no bass."""
    chord = chord_of_kind("major", "", root, (), context).chord
    assert chord is not None
    if context.before is not None and context.before.root == root + context.interval:
        chord = Chord(root, context.before.quality)
    chord = moved_chord(with_bass(chord, parts, context), context.interval)
    context.findings.guess(
        "kind-guessed", f"a symbol over a bass has no kind: it is read as {chord}", context.place
    )
    return ReadHarmony(_in_writable_notes(chord))


def _bass_in_text(text: str, parts: Parts, context: HarmonyContext) -> int | None:
    """The bass that stands in the text of a kind and nowhere else ("m7/G")."""
    if "/" not in text or "bass" in parts or len(text) > _LONGEST_TEXT:
        return None
    chord = context.read_symbol(f"C{text}") or context.read_symbol(text)
    if chord is None or chord.bass is None:
        return None
    context.findings.guess(
        "kind-text-says-more", f'the bass in "{cue_text(text)}" is taken', context.place
    )
    return chord.bass


def _names_quality(text: str, context: HarmonyContext) -> bool:
    """Whether the text of a kind is that of a chord: then "none" is not what is printed."""
    return 0 < len(text) <= _LONGEST_TEXT and context.read_symbol(f"C{text}") is not None


def _in_writable_notes(chord: Chord) -> Chord:
    """The chord without accidentals that a note name cannot have, such as triple flats: those
    come from moved parts, and from functions of a root that is altered itself."""
    bass = chord.root if chord.bass is None else chord.bass
    most = max(abs(accidentals_of(note)) for note in (chord.root, bass))
    return simple_chord(chord) if most > _MOST_ACCIDENTALS else chord
