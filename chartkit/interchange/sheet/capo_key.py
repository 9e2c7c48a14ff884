"""What a key beside a capo means: the key of the shapes, or the one that sounds.

People type either above a sheet (common practice, no source).  The chords tell: they lie in the
scale of the key as typed, or in that of the key as many half steps lower as the capo is high.
"""

from collections.abc import Sequence

from chartkit.chart.model import MusicRow
from chartkit.interchange.sheet.state import Sheet
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key, spellings
from chartkit.theory.note import note_name, pitch_class_of

_EASY = {("C", "major"), ("G", "major"), ("D", "major"), ("A", "major"), ("E", "major"),
         ("A", "minor"), ("E", "minor"), ("D", "minor")}  # fmt: skip
"""Keys of open shapes, for which a capo is put on (common practice, no source)."""


def settle_key(sheet: Sheet) -> None:
    """Makes the key above the song that of its chords as they are written.

    A key that sounds becomes the shapes' own.  Chords that fit a key for which a capo is put
    on are what sounds.
    """
    key, capo = sheet.top.get("key"), sheet.top.get("capo")
    if sheet.shapes_key is not None:
        _settle_by_shapes(sheet, sheet.shapes_key)
        return
    if not isinstance(key, Key) or not isinstance(capo, int):
        return
    if sheet.top.get("chords") != "shapes":
        return
    lower = _lowered(key, capo)
    chords = _chords(sheet)
    typed, shapes = _inside(key, chords), _inside(lower, chords)
    if shapes > typed:
        sheet.top["key"] = lower
        sheet.findings.guess(
            "key-sounds", f"the key {key} is taken as what sounds: with capo {capo} the shapes "
            f"are in {lower}",
        )  # fmt: skip
    elif typed > shapes and _is_easy(lower) and not _is_easy(key):
        sheet.top["chords"] = "sounding"
        sheet.findings.take_back("chords-are-shapes")
        sheet.findings.guess(
            "chords-are-sounding", f"the chords are in {key} as it is given: they are taken as "
            f"what sounds, with shapes in {lower} at capo {capo}",
        )  # fmt: skip


def _settle_by_shapes(sheet: Sheet, shapes: Key) -> None:
    """Settles it where the key of the shapes is said: the chords are these, unless more of them
    lie in what then sounds."""
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
            "chords-are-sounding", f"{sounding} sounds and the shapes are said to be in {shapes}: "
            f"the chords are taken as what sounds, with capo {capo}",
        )  # fmt: skip
    else:
        sheet.top["key"] = shapes
        sheet.findings.guess("key-of-shapes", f"the key of the shapes is said to be {shapes}")


def _lowered(key: Key, steps: int) -> Key:
    """The key so many half steps lower, with the fewest signs."""
    found = spellings((pitch_class_of(key.tonic) - steps) % 12, key.mode)
    return min(found, key=lambda one: abs(one.signature))


def _chords(sheet: Sheet) -> list[Chord]:
    return [
        strike.chord
        for section in sheet.sections
        for row in section.rows
        if isinstance(row, MusicRow)
        for bar in row.bars
        for strike in bar.strikes
        if strike.chord is not None
    ]


def _inside(key: Key, chords: Sequence[Chord]) -> int:
    """How many of the chords have all their tones in the key's scale."""
    scale = {pitch_class_of(note) for note in key.scale}
    return sum(chord.pitch_classes <= scale for chord in chords)


def _is_easy(key: Key) -> bool:
    return (note_name(key.tonic), key.mode) in _EASY
