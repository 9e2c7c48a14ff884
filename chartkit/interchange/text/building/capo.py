"""Decides what a capo means for a sheet: rows of shapes over sounding chords, and the key beside a
capo.

People type the key of the shapes or the sounding one (common practice, no source). The chords
decide: they lie in the scale of the key as typed, or in that of the key lower by the capo's fret.
"""

from collections.abc import Collection, Sequence

from chartkit.chart.walk import iter_chords
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.kinds.line_kinds import Blank, Chords, KnownLine
from chartkit.interchange.text.tokens import roots_of
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key, spellings
from chartkit.theory.key_estimate import likely_key
from chartkit.theory.note import note_name, pitch_class_of

_HIGHEST_FRET = 7
"""Beyond it the upper row is rather what sounds, and the lower the shapes."""
_FEWEST_PAIRS = 2
_FEWEST_ROOTS = 3
_MOST_INSIDE = 0.8
"""The share of chords in the scale of a key from which it is surely theirs."""


def doubled_capo(known: Sequence[KnownLine]) -> int:
    """The fret of a capo where every row of chords has the same row right under it, raised by
    that many half steps; 0 for any other sheet.

    Only pairs right above words are counted: a tune without words may well go up a step.
    """
    capo = pairs = at = 0
    while at < len(known):
        if not (shapes := _raisable_roots(known[at])):
            at += 1
            continue
        raised = _raised(shapes, _raisable_roots(known[at + 1]) if at + 1 < len(known) else [])
        if not 0 < raised <= _HIGHEST_FRET or capo not in (0, raised):
            return 0
        capo, at = raised, at + 2
        pairs += at < len(known) and not isinstance(known[at].kind, Blank | Chords)
    return capo if pairs >= _FEWEST_PAIRS else 0


def _raisable_roots(one: KnownLine) -> list[int | None]:
    """The roots of a row; none where nothing in it can be raised."""
    roots = roots_of(one.kind.tokens) if isinstance(one.kind, Chords) else []
    return roots if any(root is not None for root in roots) else []


def _raised(shapes: Sequence[int | None], sounding: Sequence[int | None]) -> int:
    """The half steps by which all roots of a row lie above those of another; 0 if they differ."""
    if len(shapes) != len(sounding):
        return 0
    steps = {
        0 if above is None or below is None else (below - above) % 12
        for above, below in zip(shapes, sounding, strict=True)
        if above is not None or below is not None  # N.C. over N.C. tells nothing
    }
    return steps.pop() if len(steps) == 1 else 0


_EASIEST = {("G", "major"), ("C", "major"), ("D", "major"), ("E", "minor"), ("A", "minor")}
_EASY = _EASIEST | {("A", "major"), ("E", "major"), ("D", "minor")}
"""Keys of open shapes, for which a capo is put on, the easiest with no chord across all strings
or one that can be left out (common practice, no source)."""


def settle_key(sheet: Sheet) -> None:
    """Makes the key above the song that of its chords as they are written.

    The key by its name is the one that sounds.  Chords in that key sound too, if the shapes are
    then in a key for which a capo is put on, and no harder than those of the chords as typed;
    chords in the key of the shapes are shapes.
    """
    key, capo = sheet.top.get("key"), sheet.top.get("capo")
    if sheet.shapes_key is not None:
        _settle_by_shapes(sheet, sheet.shapes_key)
        return
    if not isinstance(key, Key):
        return
    if not isinstance(capo, int):
        _settle_without_capo(sheet, key)
        return
    if sheet.top.get("chords") != "shapes":
        return
    lower = _lowered(key, capo)
    chords = _chords(sheet)
    typed, shapes = _inside(key, chords), _inside(lower, chords)
    if shapes > typed:
        sheet.top["key"] = lower
        sheet.findings.guess(
            "key-sounds",
            f"the key {key} is taken as what sounds: with capo {capo} the shapes are in {lower}",
        )
    elif (
        typed > shapes
        and _is_in(_EASY, lower)
        and not (_is_in(_EASIEST, key) and not _is_in(_EASIEST, lower))
    ):
        sheet.top["chords"] = "sounding"
        sheet.findings.take_back("chords-are-shapes")
        sheet.findings.guess(
            "chords-are-sounding",
            f"the chords are in {key} as it is given: they are taken as what sounds, with shapes "
            f"in {lower} at capo {capo}; if they are shapes, write chords: shapes",
        )


def _settle_without_capo(sheet: Sheet, key: Key) -> None:
    """Keeps the key of the chords where the one that is named is asked for and not theirs.

    "I sing it in Bb" over chords in G is a wish: with no chord on B flat, a page in that key would
    be wrong, and so would every capo.
    """
    chords = _chords(sheet)
    roots = {pitch_class_of(chord.root) for chord in chords}
    if len(roots) < _FEWEST_ROOTS or pitch_class_of(key.tonic) in roots:
        return
    written = likely_key(chords)
    inside = _inside(written, chords)
    if inside < _MOST_INSIDE * len(chords) or _inside(key, chords) > inside / 2:
        return
    sheet.top["key"] = written
    up = (pitch_class_of(key.tonic) - pitch_class_of(written.tonic)) % 12
    capo = (
        f"put a capo at fret {up} or " if up <= _HIGHEST_FRET and key.mode == written.mode else ""
    )
    sheet.findings.guess(
        "key-asked",
        f"{key} is asked for, but the chords are in {written} and stay so: "
        f"to sound in {key}, {capo}write the chart in that key",
    )


def _settle_by_shapes(sheet: Sheet, shapes: Key) -> None:
    """Decides if the key of the shapes is given: the chords are shapes, unless more of them lie in
    the sounding key."""
    key, capo = sheet.top.get("key"), sheet.top.get("capo")
    if not isinstance(capo, int):
        sheet.top.setdefault("key", shapes)
        return
    sounding = key if isinstance(key, Key) else _lowered(shapes, -capo)
    chords = _chords(sheet)
    if sheet.top.get("chords") != "shapes":
        sheet.top["key"] = sounding
    elif _inside(sounding, chords) > _inside(shapes, chords):
        sheet.top |= {"chords": "sounding", "key": sounding}
        sheet.findings.take_back("chords-are-shapes")
        sheet.findings.guess(
            "chords-are-sounding",
            f"{sounding} sounds and the shapes are said to be in {shapes}: "
            f"the chords are taken as what sounds, with capo {capo}",
        )
    else:
        sheet.top["key"] = shapes
        sheet.findings.guess("key-of-shapes", f"the key of the shapes is said to be {shapes}")


def _lowered(key: Key, steps: int) -> Key:
    """The key so many half steps lower, with the fewest signs."""
    result = spellings((pitch_class_of(key.tonic) - steps) % 12, key.mode)
    return min(result, key=lambda one: abs(one.signature))


def _chords(sheet: Sheet) -> list[Chord]:
    return list(iter_chords(sheet.earlier.sections))


def _inside(key: Key, chords: Sequence[Chord]) -> int:
    """How many of the chords have all their tones in the key's scale."""
    scale = {pitch_class_of(note) for note in key.scale}
    return sum(chord.pitch_classes <= scale for chord in chords)


def _is_in(keys: Collection[tuple[str, str]], key: Key) -> bool:
    return (note_name(key.tonic), key.mode) in keys
