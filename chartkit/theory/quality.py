"""The one table of chord qualities.

Conventions
-----------
A tone is written as a scale degree above the root: ``1 b3 5 b7 9 #11``.  Ninths, elevenths and
thirteenths keep those names even if a symbol says 2, 4 or 6 ("sus4" contains an 11), except the
sixth of a sixth chord.  ``DEGREE_PLACES`` gives each degree's place on the line of fifths relative
to the root, so a spelled tone is ``root + place``.

Eleventh and thirteenth chords keep their third and their eleventh in the tone list, as the MusicXML
4.0 schema defines the kinds dominant-11th and dominant-13th; players leave them out, so both are
marked omissible.  Which tones may be left out is common practice, no source: the natural fifth of
any chord of four tones or more, the major third of an eleventh, the ninth below an eleventh or
thirteenth.  Three rows are exceptions: ``sus2sus4``, ``2`` and ``7alt``.
"""

from dataclasses import dataclass
from functools import lru_cache

from chartkit.theory.alterations import ADDED, ALTERATIONS

DEGREE_PLACES = {
    "1": 0,
    "b9": -5,
    "9": 2,
    "#9": 9,
    "b3": -3,
    "3": 4,
    "11": -1,
    "#11": 6,
    "b5": -6,
    "5": 1,
    "#5": 8,
    "6": 3,
    "b13": -4,
    "13": 3,
    "bb7": -9,
    "b7": -2,
    "7": 5,
}
"""Degree to place on the line of fifths above the root."""

_PRINTED_ORDER = "1 b3 3 b5 5 #5 6 bb7 b7 7 b9 9 #9 11 #11 b13 13"
_ORDER = tuple(_PRINTED_ORDER.split())

MINOR = ("m", "mi", "min", "-", "Mi", "Min", "MI", "MIN")
MAJOR = ("maj", "ma", "M", "Maj", "Ma", "MAJ", "MA")
HALF_DIMINISHED = ("ø", "Ø")
DIMINISHED = ("dim", "°", "o", "º", "Dim", "DIM")
TRIANGLE = ("△", "Δ", "∆")


@dataclass(frozen=True, slots=True)
class Quality:
    """A chord quality.

    ``text`` is its one printed form in ASCII (``m7``, ``7(b9,#11)``), ``degrees`` its tones
    in the order root, third, fifth, seventh, tensions, ``omissible`` those a player may
    leave out.
    """

    text: str
    degrees: tuple[str, ...]
    omissible: tuple[str, ...] = ()

    @property
    def places(self) -> tuple[int, ...]:
        """The tones as places on the line of fifths above the root."""
        return tuple(DEGREE_PLACES[degree] for degree in self.degrees)


@dataclass(frozen=True, slots=True)
class QualityRow:
    """One row of the table: a quality and every way players write it."""

    quality: Quality
    spellings: tuple[str, ...]


def _each(prefixes: tuple[str, ...], *rests: str) -> tuple[str, ...]:
    return tuple(prefix + rest for rest in rests for prefix in prefixes)


def _row(
    text: str, degrees: str, omissible: str = "", spellings: tuple[str, ...] = ()
) -> QualityRow:
    written = tuple(dict.fromkeys((text, *spellings)))
    return QualityRow(Quality(text, tuple(degrees.split()), tuple(omissible.split())), written)


TABLE: tuple[QualityRow, ...] = (
    _row("", "1 3 5", "", (*MAJOR, "major")),
    _row("m", "1 b3 5", "", (*MINOR, "minor")),
    _row("5", "1 5", "", ("(no3)", "no3", "omit3")),
    _row("dim", "1 b3 b5", "", (*DIMINISHED, *_each(MINOR, "b5", "(b5)"))),
    _row("aug", "1 3 #5", "", ("+", "Aug", "AUG", "#5", "(#5)", "+5", "5+", "5#")),
    _row("sus4", "1 11 5", "", ("sus", "Sus", "Sus4", "SUS", "4")),
    _row("sus2", "1 9 5", "", ("Sus2",)),
    _row("sus2sus4", "1 5 9 11", "", ("sus24", "sus42", "sus4sus2", "sus2/4", "sus4/2")),
    _row("6", "1 3 5 6", "5", ("(6)", *_each(MAJOR, "6"))),
    _row("m6", "1 b3 5 6", "5", _each(MINOR, "6", "(6)")),
    _row(
        "6/9",
        "1 3 5 6 9",
        "5",
        (
            "69",
            "6(9)",
            "6add9",
            "(6/9)",
            "(6,9)",
            "(69)",
            *_each(MAJOR, "6/9", "69"),
        ),
    ),
    _row(
        "m6/9",
        "1 b3 5 6 9",
        "5",
        _each(MINOR, "6/9", "69", "6(9)", "6add9", "(6/9)", "(6,9)"),
    ),
    _row("7", "1 3 5 b7", "5", ("dom7", "(7)")),
    _row("9", "1 3 5 b7 9", "5", ("7add9", "dom9")),
    _row("11", "1 3 5 b7 9 11", "3 5 9"),
    _row("13", "1 3 5 b7 9 11 13", "5 9 11"),
    _row(
        "maj7",
        "1 3 5 7",
        "5",
        (
            *_each(MAJOR, "7", "(7)"),
            *_each(("7",), *MAJOR),
            "7(M)",
            "j7",
            *TRIANGLE,
            *_each(TRIANGLE, "7"),
        ),
    ),
    _row("maj9", "1 3 5 7 9", "5", (*_each(MAJOR, "9"), *_each(TRIANGLE, "9"), "7M9")),
    _row("maj11", "1 3 5 7 9 11", "3 5 9", (*_each(MAJOR, "11"), *_each(TRIANGLE, "11"))),
    _row("maj13", "1 3 5 7 9 11 13", "5 9 11", (*_each(MAJOR, "13"), *_each(TRIANGLE, "13"))),
    _row("m7", "1 b3 5 b7", "5", _each(MINOR, "7", "(7)")),
    _row("m9", "1 b3 5 b7 9", "5", _each(MINOR, "9")),
    _row("m11", "1 b3 5 b7 9 11", "5 9", _each(MINOR, "11")),
    _row("m13", "1 b3 5 b7 9 11 13", "5 9 11", _each(MINOR, "13")),
    _row(
        "m(maj7)",
        "1 b3 5 7",
        "5",
        tuple(
            minor + joined
            for minor in MINOR
            for major in MAJOR + TRIANGLE
            for joined in (f"({major}7)", f"/{major}7", f"{major}7")
        )
        + _each(MINOR, *TRIANGLE, "7M", "#7", "(#7)", "+7", "(7+)"),
    ),
    _row(
        "m(maj9)",
        "1 b3 5 7 9",
        "5",
        tuple(
            minor + joined
            for minor in MINOR
            for major in MAJOR + TRIANGLE
            for joined in (f"({major}9)", f"/{major}9", f"{major}9")
        ),
    ),
    _row("dim7", "1 b3 b5 bb7", "", _each(DIMINISHED, "7", "(7)")),
    _row("dim7(9)", "1 b3 b5 bb7 9", "", _each(DIMINISHED, "9")),
    _row("dim7(9,11)", "1 b3 b5 bb7 9 11", "", _each(DIMINISHED, "11")),
    _row(
        "dim(maj7)",
        "1 b3 b5 7",
        "",
        tuple(
            dim + joined
            for dim in DIMINISHED
            for major in MAJOR + TRIANGLE
            for joined in (f"({major}7)", f"{major}7")
        ),
    ),
    _row(
        "m7(b5)",
        "1 b3 b5 b7",
        "",
        (
            *_each(HALF_DIMINISHED, "", "7"),
            "dimb7",
            *_each(MINOR, "7b5", "7(b5)", "7-5"),
        ),
    ),
    _row("m9(b5)", "1 b3 b5 b7 9", "", _each(HALF_DIMINISHED, "9")),
    _row("m11(b5)", "1 b3 b5 b7 9 11", "9", _each(HALF_DIMINISHED, "11")),
    _row("7(#5)", "1 3 #5 b7", "", ("7#5", "7+", "+7", "aug7", "7aug", "7+5")),
    _row("9(#5)", "1 3 #5 b7 9", "", ("9#5", "9+", "+9", "aug9", "9+5")),
    _row("maj7(#5)", "1 3 #5 7", "", (*_each(MAJOR, "7#5", "7+"), "+maj7", "+M7", "augmaj7")),
    _row(
        "7sus4",
        "1 11 5 b7",
        "5",
        ("7sus", "sus7", "sus47", "7Sus", "7Sus4", "4/7", "sus4/7", "sus/7"),
    ),
    _row("7sus2", "1 9 5 b7", "5"),
    _row("9sus4", "1 11 5 b7 9", "5", ("9sus", "sus9")),
    _row("13sus4", "1 11 5 b7 9 13", "5 9", ("13sus", "sus13", "7sus13")),
    _row("maj7sus4", "1 11 5 7", "5", _each(MAJOR, "7sus4", "7sus")),
    _row("add9", "1 3 5 9", "5", ("(add9)", "Add9")),
    _row("add11", "1 3 5 11", "5", ("(add11)", "add4", "(add4)")),
    _row("m(add9)", "1 b3 5 9", "5", _each(MINOR, "add9", "(add9)", "add2", "(add2)")),
    _row("m(add11)", "1 b3 5 11", "5", _each(MINOR, "add11", "(add11)", "add4", "(add4)")),
    _row("add2", "1 3 5 9", "5", ("(add2)",)),
    _row("2", "1 3 5 9", "3 5"),
    _row("7alt", "1 3 b5 #5 b7 b9 #9", "b5 #5 b9 #9", ("alt", "7(alt)", "Alt")),
)
"""Every base quality.  The first row with given degrees is their printed form."""

BY_SPELLING: dict[str, Quality] = {}
for _table_row in TABLE:
    for _spelling in _table_row.spellings:
        BY_SPELLING.setdefault(_spelling, _table_row.quality)

_BY_DEGREES: dict[frozenset[str], Quality] = {}
for _table_row in TABLE:
    _BY_DEGREES.setdefault(frozenset(_table_row.quality.degrees), _table_row.quality)


def _number(degree: str) -> str:
    return degree.lstrip("b#")


def _altered_degrees(degrees: frozenset[str], change: str) -> frozenset[str]:
    """The degrees after one change: an alteration, ``add9``, ``no3``, ``sus4`` ..."""
    if change.startswith("no"):
        return frozenset(d for d in degrees if _number(d) != change[2:])
    if change.startswith("sus"):
        return (degrees - {"3", "b3"}) | {"9" if change == "sus2" else "11"}
    if change.startswith("add"):
        return degrees | {change[3:]}
    if change == BOTH_SEVENTHS:
        return degrees | {"7"}
    if change == MAJOR_FOR_MINOR:
        return (degrees - _OTHER_SEVENTHS) | {"7"}
    return (degrees - {_number(change)}) | {change}


BOTH_SEVENTHS = "maj7"
"""A change that adds a major seventh to any chord, even to one that has a seventh."""
MAJOR_FOR_MINOR = "7"
"""A change that makes the seventh of a chord a major one."""
_OTHER_SEVENTHS = {"b7", "bb7"}


def names_seventh(spelling: str) -> bool:
    """Whether a base quality as written names its seventh: m7 does, while that of m9 is implied,
    so that m9 with a major seventh has no other (music21 lists such a chord as 1 b3 5 7 9)."""
    return "7" in spelling


def _kind_and_number(change: str) -> tuple[int, int]:
    """Suspensions are 0, left-out tones 1, alterations 2, added tones 3; and the number."""
    stem = change.rstrip("#b0123456789")
    kind = {"sus": 0, "no": 1, "": 2, "add": 3, "maj": 3}[stem]
    return kind, int("".join(c for c in change if c.isdigit()))


def _apply_order(change: str) -> tuple[int, int, bool, str]:
    """Suspensions, tones left out, alterations, added tones.

    A natural tension is added after alterations of the same number, so that both stay.
    """
    kind, number = _kind_and_number(change)
    return kind, number, change.isdigit(), change


def _print_order(change: str) -> tuple[int, int, int, str]:
    """Alterations, then added and left-out tones; by number, and flat before sharp."""
    kind, number = _kind_and_number(change)
    place = (3, 2, 0, 1)[kind]
    return place, number, change.count("#") - change.count("b"), change


def _changes_to(base: frozenset[str], wanted: frozenset[str]) -> tuple[str, ...]:
    """The changes that turn a base into the wanted tones."""
    removed, added = base - wanted, wanted - base
    changes: list[str] = []
    if removed & {"3", "b3"} and not wanted & {"3", "b3"}:
        sus = next((n for n in ("11", "9") if n in added), "")
        changes.append({"11": "sus4", "9": "sus2", "": "no3"}[sus])
        added -= {sus}
    numbers = {_number(degree) for degree in added}
    replaced = {degree for degree in removed if degree in numbers}
    left_out = {_number(degree) for degree in removed - replaced} - {"3"}
    changes += (f"no{number}" for number in sorted(left_out, key=int))
    seventh = bool(wanted & {"b7", "7", "bb7"})
    for degree in sorted(added, key=_ORDER.index):
        number = _number(degree)
        alone = not any(_number(other) == number and other != degree for other in wanted)
        natural = degree == number
        plain = (seventh and alone and degree != "6") if natural else number not in wanted
        if degree == "7":
            changes.append(BOTH_SEVENTHS)
        else:
            changes.append(degree if plain else f"add{degree}")
    return tuple(changes)


def _changed(degrees: frozenset[str], changes: tuple[str, ...]) -> frozenset[str]:
    for change in sorted(set(changes), key=_apply_order):
        degrees = _altered_degrees(degrees, change)
    return degrees


_STEMS = tuple(
    row.quality
    for row in TABLE
    if ("(" not in row.quality.text or "maj" in row.quality.text)
    and _BY_DEGREES[frozenset(row.quality.degrees)] is row.quality
    and row.quality.text != "7alt"
)
"""The qualities that may be printed with changes after them; 7(#5) is a stem and a change."""


_ADDABLE = {*ALTERATIONS.values(), *ADDED.values()}


@lru_cache(maxsize=4096)
def _quality_of(degrees: frozenset[str]) -> Quality:
    """The one quality with these tones: a row of the table, or the stem that needs the fewest
    changes, and among those the one that keeps most of its own tones."""
    known = _BY_DEGREES.get(degrees)
    if known is not None:
        return known
    candidates: list[tuple[int, int, int, Quality, tuple[str, ...]]] = []
    for place, stem in enumerate(_STEMS):
        own = frozenset(stem.degrees)
        addable = _ADDABLE | {"7"} if degrees & _OTHER_SEVENTHS else _ADDABLE
        if not degrees - own <= addable:
            continue
        changes = _changes_to(own, degrees)
        if BOTH_SEVENTHS in changes and own & _OTHER_SEVENTHS and not names_seventh(stem.text):
            continue
        if _changed(own, changes) == degrees:
            candidates.append((len(changes), len(own - degrees), place, stem, changes))
    *_, stem, changes = min(candidates, key=lambda candidate: candidate[:3])
    text = f"{stem.text}({','.join(sorted(changes, key=_print_order))})"
    omissible = tuple(d for d in stem.omissible if d in degrees)
    return Quality(text, tuple(sorted(degrees, key=_ORDER.index)), omissible)


@lru_cache(maxsize=4096)
def altered_quality(base: Quality, changes: tuple[str, ...]) -> Quality:
    """A base quality with changes applied, in its one printed form.

    ``changes`` holds degrees (``b9``: replaces the natural ninth or is added), ``add9``,
    ``no5``, ``sus4``.  The printed form depends on the tones alone, so m7 with a flat fifth
    and the half-diminished chord are one quality, and so are 7(b9,sus4) and 7sus4(b9).
    Changes that make no row of the table follow a base in parentheses.
    """
    before = frozenset(base.degrees)
    degrees = _changed(before, changes)
    return base if degrees == before else _quality_of(degrees)


@lru_cache(maxsize=4096)
def quality_with(degrees: frozenset[str], longest_text: int = 30) -> Quality | None:
    """The quality with exactly these degrees, in its one printed form. None if the language has no
    symbol for them (a chord with both thirds) or only a symbol too long for a page."""
    if "1" not in degrees or not degrees <= DEGREE_PLACES.keys():
        return None
    try:
        quality = _quality_of(degrees)
    except ValueError:
        return None
    items = quality.text.partition("(")[2].rstrip(")").replace(")(", ",").split(",")
    known = all(item in _SAYABLE for item in items) or quality in BY_SPELLING.values()
    return quality if known and len(quality.text) <= longest_text else None


_SAYABLE = {
    "",
    "maj7",
    "maj9",
    "sus2",
    "sus4",
    *ALTERATIONS.values(),
    *(f"add{number}" for number in ADDED),
    *(f"no{number}" for number in (3, 5, 7, 9, 11)),
}
"""The changes that the grammar of symbols has."""
