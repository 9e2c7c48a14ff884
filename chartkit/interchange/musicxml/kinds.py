"""The 33 kinds of MusicXML as degrees above the root, and degrees as kinds again.

Source: the MusicXML 4.0 schema, simple type ``kind-value``, which names the tones of each
kind, and ``degree-alter``: the alteration of an ``add`` is relative to a dominant chord (so
``add 7`` without alteration is a flat seventh), that of an ``alter`` or ``subtract`` to the
chord's own tone.
"""

from typing import Literal, NamedTuple

from chartkit.theory.quality import DEGREE_PLACES

KIND_DEGREES: dict[str, tuple[str, ...]] = {
    "major": ("1", "3", "5"),
    "minor": ("1", "b3", "5"),
    "augmented": ("1", "3", "#5"),
    "diminished": ("1", "b3", "b5"),
    "dominant": ("1", "3", "5", "b7"),
    "major-seventh": ("1", "3", "5", "7"),
    "minor-seventh": ("1", "b3", "5", "b7"),
    "diminished-seventh": ("1", "b3", "b5", "bb7"),
    "augmented-seventh": ("1", "3", "#5", "b7"),
    "half-diminished": ("1", "b3", "b5", "b7"),
    "major-minor": ("1", "b3", "5", "7"),
    "major-sixth": ("1", "3", "5", "6"),
    "minor-sixth": ("1", "b3", "5", "6"),
    "dominant-ninth": ("1", "3", "5", "b7", "9"),
    "major-ninth": ("1", "3", "5", "7", "9"),
    "minor-ninth": ("1", "b3", "5", "b7", "9"),
    "dominant-11th": ("1", "3", "5", "b7", "9", "11"),
    "major-11th": ("1", "3", "5", "7", "9", "11"),
    "minor-11th": ("1", "b3", "5", "b7", "9", "11"),
    "dominant-13th": ("1", "3", "5", "b7", "9", "11", "13"),
    "major-13th": ("1", "3", "5", "7", "9", "11", "13"),
    "minor-13th": ("1", "b3", "5", "b7", "9", "11", "13"),
    "suspended-second": ("1", "9", "5"),
    "suspended-fourth": ("1", "11", "5"),
    "power": ("1", "5"),
    "other": ("1",),
}
"""The kinds whose tones the schema gives.  "other" is made of its degrees alone."""


class Functional(NamedTuple):
    """A kind that the schema names without tones: the chord it is read as.

    ``root`` and ``bass`` are intervals (places on the line of fifths) above the written
    root; what a symbol cannot say is kept as ``cue``.
    """

    degrees: tuple[str, ...]
    root: int
    bass: int | None
    cue: str


FUNCTIONAL_KINDS: dict[str, Functional] = {
    "Neapolitan": Functional(("1", "3", "5"), -5, -1, "Neapolitan"),
    "Italian": Functional(("1", "3", "b7"), -4, None, "Italian sixth"),
    "French": Functional(("1", "3", "b5", "b7"), -4, None, "French sixth"),
    "German": Functional(("1", "3", "5", "b7"), -4, None, "German sixth"),
    "pedal": Functional(("1", "5"), 0, None, "pedal"),
    "Tristan": Functional(("1", "b3", "b5", "b7"), 0, None, "Tristan chord"),
}
"""The sixths are read as chords of the key whose tonic is the written root, the augmented
sixth sounding as a flat seventh (harmony handbooks); the schema does not say, so each is a
guess."""

ChangeType = Literal["add", "alter", "subtract"]


class DegreeChange(NamedTuple):
    """A ``degree`` element: what it does, to which degree, by how many half steps."""

    type: ChangeType
    value: int
    alter: int


_FLAT_SEVENTH = DegreeChange("add", 7, -1)
_PLAIN_SEVENTH = DegreeChange("add", 7, 0)


def with_plain_sevenths(
    degrees: tuple[str, ...], changes: tuple[DegreeChange, ...]
) -> tuple[DegreeChange, ...]:
    """The changes with a seventh that was lowered once too often taken for a flat seventh.

    The schema counts an added seventh from the dominant chord's, which is flat already.  Some
    programs count it from the major scale; a doubly flat seventh belongs to a diminished chord
    alone (common practice, no source).
    """
    lowered_fifth = "b5" in degrees or any(one.value == 5 and one.alter < 0 for one in changes)
    has_seventh = any(number_of(degree) == 7 for degree in degrees)
    if lowered_fifth or has_seventh:
        return changes
    return tuple(_PLAIN_SEVENTH if one == _FLAT_SEVENTH else one for one in changes)


_DIMINISHED = "diminished-seventh"
_NATURAL = {1: 1, 2: 9, 3: 3, 4: 11, 5: 5, 6: 6, 7: 7, 8: 1, 9: 9, 10: 3, 11: 11, 12: 5, 13: 13}
"""A degree number to the number that the table of qualities uses for it."""


def number_of(degree: str) -> int:
    """The number of a degree: 9 of ``b9``."""
    return int(degree.lstrip("b#"))


def _alteration(degree: str) -> int:
    return degree.count("#") - degree.count("b")


_MOST_ALTERATION = 2
"""Half steps; the seventh of a diminished chord is a double flat."""


def _named(number: int, alteration: int) -> str | None:
    if abs(alteration) > _MOST_ALTERATION:
        return None
    if number == 6 and alteration:
        number = 13
    name = ("#" * alteration if alteration > 0 else "b" * -alteration) + str(number)
    return name if name in DEGREE_PLACES else None


def changed_degrees(
    degrees: tuple[str, ...], changes: tuple[DegreeChange, ...]
) -> tuple[frozenset[str], tuple[DegreeChange, ...]]:
    """The degrees after all changes, and the changes that have no name in the language."""
    held = set(degrees)
    unnamed: list[DegreeChange] = []
    for change in sorted(changes, key=lambda c: ("subtract", "alter", "add").index(c.type)):
        if not _apply(held, change):
            unnamed.append(change)
    return frozenset(held), tuple(unnamed)


def _apply(held: set[str], change: DegreeChange) -> bool:
    number = _NATURAL.get(change.value)
    if number is None:
        return False
    numbers = (6, 13) if number in (6, 13) else (number,)
    own = [degree for degree in sorted(held) if number_of(degree) in numbers]
    if change.type == "subtract":
        if number == 1 or not own:
            return False
        held.difference_update(own)
        return True
    base = _alteration(own[0]) if change.type == "alter" and own else -(number == 7)
    name = _named(number, base + change.alter)
    if name is None or number == 1:
        return number == 1 and not change.alter
    if change.type == "alter":
        held.difference_update(own)
    held.add(name)
    return True


def kind_and_changes(degrees: tuple[str, ...]) -> tuple[str, tuple[DegreeChange, ...]]:
    """The kind that needs the fewest changes to have these degrees, and those changes.

    Taking the changes back into ``changed_degrees`` gives the degrees again.  A diminished seventh
    is never added to another kind, for readers take that for a flat one (``with_plain_sevenths``).
    """
    wanted = frozenset(degrees)
    kinds = (_DIMINISHED,) if "bb7" in wanted else KIND_DEGREES
    best = min(kinds, key=lambda kind: _cost(frozenset(KIND_DEGREES[kind]), wanted))
    have = frozenset(KIND_DEGREES[best])
    changes = [DegreeChange("subtract", number_of(d), 0) for d in _ordered(have - wanted)]
    for degree in _ordered(wanted - have):
        relative = _alteration(degree) + (number_of(degree) == 7)
        changes.append(DegreeChange("add", number_of(degree), relative))
    return best, tuple(_as_alterations(changes, have))


def _ordered(degrees: frozenset[str]) -> list[str]:
    return sorted(degrees, key=lambda degree: (number_of(degree), degree))


def _cost(have: frozenset[str], wanted: frozenset[str]) -> tuple[int, int]:
    lost, added = have - wanted, wanted - have
    altered = {number_of(d) for d in lost} & {number_of(d) for d in added}
    return len(lost) + len(added) - len(altered), len(lost)


def _as_alterations(changes: list[DegreeChange], have: frozenset[str]) -> list[DegreeChange]:
    """A lone tone taken away and another of its number put in its place is an alteration."""
    alterations: list[DegreeChange] = []
    for change in changes:
        same = [c for c in changes if c.value == change.value]
        if len(same) != 2 or {c.type for c in same} != {"add", "subtract"}:
            alterations.append(change)
        elif change.type == "add":
            own = next(d for d in sorted(have) if number_of(d) == change.value)
            by = change.alter - (change.value == 7) - _alteration(own)
            alterations.append(DegreeChange("alter", change.value, by))
    return alterations
