"""How grips that players know are written in tables, and how they are read.

``kind A, B`` opens one kind of chord or several that share grips, named by the suffix of the
symbol (``maj`` for none).  Lines ``6``, ``5`` and ``4`` list movable grips whose lowest note is on
that string; they are written with their lowest finger at fret 1 and slide to any fret.  A movable
grip slid one fret lower leaves its lowest finger to the nut.  ``=`` lists grips that stay at the
nut, each after its chord's root.  Under ``kind slash`` the ``=`` lines give whole symbols, and
movable lines begin with the symbol that they sound as written.  A minus marks a second choice.  A
grip is six frets from the bass side, x where a string is damped.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from chartkit.theory.chord import Chord
from chartkit.theory.note import parse_note
from chartkit.theory.quality import BY_SPELLING, Quality, altered_quality
from chartkit.theory.shape_text import Frets, parse_shape

SECOND_CHOICE = 0.7
"""The strength of a grip that players know but use as a second choice (ours)."""

_ROOTS = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")


@dataclass(frozen=True, slots=True)
class KnownGrip:
    """One entry: the chord that it sounds as written, its frets, and how it may be used.

    ``strength`` is 1, less for a second choice.  ``movable`` says that it slides along the neck.
    """

    chord: Chord
    frets: Frets
    strength: float
    movable: bool


def grips_in_table(table: str, opened: tuple[int, ...]) -> Iterator[KnownGrip]:
    """The grips of a table for strings whose open notes are these pitch classes."""
    kinds: list[str] = []
    for line in filter(None, table.split("\n")):
        head, *words = line.split()
        if head == "kind":
            kinds = [word.rstrip(",") for word in words]
        else:
            yield from _line_entries(kinds, words, opened, movable=head != "=")


def _line_entries(
    kinds: list[str], words: list[str], opened: tuple[int, ...], *, movable: bool
) -> Iterator[KnownGrip]:
    name = ""
    for word in words:
        shape = word.lstrip("-")
        if shape.strip("x0123456789"):
            name = word
            continue
        frets = parse_shape(shape)
        strength = 1.0 if shape == word else SECOND_CHOICE
        for kind in kinds:
            root = name or _lowest(frets, opened)
            chord = chord_of_symbol(name) if kind == "slash" else _chord(root, kind)
            yield KnownGrip(chord, frets, strength, movable)


def _lowest(frets: Frets, opened: tuple[int, ...]) -> str:
    """The name of the lowest note, which is a movable grip's root."""
    string = next(string for string, fret in enumerate(frets) if fret is not None)
    return _ROOTS[(opened[string] + (frets[string] or 0)) % 12]


def _chord(root: str, kind: str, bass: str = "") -> Chord:
    return Chord(parse_note(root), _quality(kind), parse_note(bass) if bass else None)


def _quality(kind: str) -> Quality:
    """The quality of a kind, whose changes stand in parentheses: ``7(b9,b13)``."""
    if kind in BY_SPELLING:
        return BY_SPELLING[kind]
    base, _, changes = kind.rstrip(")").partition("(")
    return altered_quality(BY_SPELLING[base], tuple(changes.split(",")))


def chord_of_symbol(symbol: str) -> Chord:
    """The chord of a symbol of the table, ``D/F#`` or ``Am7``."""
    name, _, bass = symbol.partition("/")
    root = name[:2] if name[1:2] in ("b", "#") else name[:1]
    return _chord(root, name.removeprefix(root) or "maj", bass)
