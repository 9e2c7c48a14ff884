"""The table of kinds against the schema, and degrees there and back."""

from xml.etree import ElementTree

from hypothesis import given

from chartkit.interchange.musicxml.kinds import (
    FUNCTIONAL_KINDS,
    KIND_DEGREES,
    DegreeChange,
    changed_degrees,
    kind_and_changes,
)
from chartkit.theory.quality import quality_with
from tests.by_mir_eval import encoded
from tests.each import each
from tests.interchange.reading import reads_back, strikes, taken
from tests.interchange.schema import musicxml_schema_text
from tests.strategies import qualities

XSD = "{http://www.w3.org/2001/XMLSchema}"
HARTE = {
    "major": "maj",
    "minor": "min",
    "augmented": "aug",
    "diminished": "dim",
    "dominant": "7",
    "major-seventh": "maj7",
    "minor-seventh": "min7",
    "diminished-seventh": "dim7",
    "half-diminished": "hdim7",
    "major-minor": "minmaj7",
    "major-sixth": "maj6",
    "minor-sixth": "min6",
    "dominant-ninth": "9",
    "major-ninth": "maj9",
    "minor-ninth": "min9",
    "suspended-second": "sus2",
    "suspended-fourth": "sus4",
}


def test_every_kind_of_the_schema_is_known() -> None:
    """The table, the functional kinds and "none" are the 33 kinds of the MusicXML 4.0 schema
    (its copy in the package musicxml)."""
    schema = ElementTree.fromstring(musicxml_schema_text())
    kind_value = next(t for t in schema.iter(f"{XSD}simpleType") if t.get("name") == "kind-value")
    values = {e.get("value") for e in kind_value.iter(f"{XSD}enumeration")}
    assert len(values) == 33
    assert values == {*KIND_DEGREES, *FUNCTIONAL_KINDS, "none"}


@each("kind", sorted(HARTE))
def test_tones_of_kinds_against_mir_eval(kind: str) -> None:
    """The pitch classes of a kind are those that mir_eval gives for the same chord."""
    quality = quality_with(frozenset(KIND_DEGREES[kind]))
    assert quality is not None
    bitmap = encoded(f"C:{HARTE[kind]}")[1]
    theirs = {i for i, on in enumerate(bitmap) if on}
    assert {7 * place % 12 for place in quality.places} | _ninth(kind) == theirs | _ninth(kind)


def _ninth(kind: str) -> set[int]:
    """mir_eval leaves ninths out of the bitmap."""
    return {2} if "ninth" in kind else set()


@given(qualities())
def test_kind_and_changes_there_and_back(quality: object) -> None:
    """A quality's kind with its degree changes gives the same tones again."""
    degrees = quality.degrees  # type: ignore[attr-defined]
    kind, changes = kind_and_changes(degrees)
    assert changed_degrees(KIND_DEGREES[kind], changes) == (frozenset(degrees), ())


@each(
    ("kind", "changes", "degrees"),
    [
        ("major", [("add", 7, 0)], "1 3 5 b7"),
        ("major", [("add", 7, 1)], "1 3 5 7"),
        ("major-seventh", [("alter", 7, -1)], "1 3 5 b7"),
        ("dominant", [("alter", 5, -1), ("add", 9, 1)], "1 3 b5 b7 #9"),
        ("minor", [("alter", 3, 1)], "1 3 5"),
        ("augmented", [("alter", 5, -1)], "1 3 5"),
        ("suspended-fourth", [("add", 7, 0), ("add", 9, -1)], "1 11 5 b7 b9"),
        ("dominant", [("subtract", 3, 0)], "1 5 b7"),
        ("dominant-13th", [("alter", 11, 1)], "1 3 5 b7 9 #11 13"),
        ("major", [("add", 2, 0)], "1 3 5 9"),
        ("other", [("add", 3, -1), ("add", 5, -1)], "1 b3 b5"),
    ],
)
def test_degrees_as_the_schema_says(
    kind: str, changes: list[tuple[str, int, int]], degrees: str
) -> None:
    """``add`` is relative to a dominant chord, ``alter`` and ``subtract`` to the kind
    (MusicXML 4.0, degree-alter)."""
    given_changes = tuple(DegreeChange(*change) for change in changes)  # type: ignore[arg-type]
    held, unnamed = changed_degrees(KIND_DEGREES[kind], given_changes)
    assert (held, unnamed) == (frozenset(degrees.split()), ())


HARMONY = (
    '<score-partwise><part id="P1"><measure number="1"><attributes>{attributes}</attributes>'
    "<harmony{attribute}>{inside}</harmony><note><rest/><duration>4</duration></note>"
    "</measure></part></score-partwise>"
)


def chord(inside: str, attributes: str = "", attribute: str = "") -> str:
    """The chord that a harmony is read as."""
    text = HARMONY.format(inside=inside, attributes=attributes, attribute=attribute)
    return str(strikes(taken(text).chart)[0].chord)


ROOT = "<root><root-step>C</root-step></root>"


@each(
    ("inside", "name"),
    [
        (f'{ROOT}<kind text="7(b9)">dominant</kind>', "C7(b9)"),
        (f'{ROOT}<kind text="7alt">dominant</kind>', "C7alt"),
        (f'{ROOT}<kind text="7">dominant</kind>', "C7"),
        (f'{ROOT}<kind text="whatever">minor</kind>', "Cm"),
        (f'{ROOT}<kind text="m7b5">other</kind>', "Cm7(b5)"),
        (f'{ROOT}<kind text="7sus4">other</kind>', "C7sus4"),
        (f"{ROOT}<kind>major</kind><inversion>1</inversion>", "C/E"),
        (f"{ROOT}<kind>dominant</kind><inversion>3</inversion>", "C7/Bb"),
        (
            f"{ROOT}<kind>major</kind><bass><bass-step>B</bass-step><bass-alter>-1</bass-alter>"
            "</bass>",
            "C/Bb",
        ),
        ("<numeral><numeral-root>5</numeral-root></numeral><kind>dominant</kind>", "G7"),
        ("<function>V7</function><kind>dominant</kind>", "G7"),
        ("<function>ii65</function><kind>minor-seventh</kind>", "Dm7"),
        ("<function>V7/V</function><kind>dominant</kind>", "D7"),
        ("<function>V / ii</function><kind>major</kind>", "A"),
        ("<function>vii°7/vi</function><kind>diminished-seventh</kind>", "G#dim7"),
        ("<function>♯ivø7</function><kind>half-diminished</kind>", "F#m7(b5)"),
        (f"{ROOT}<kind>none</kind>", "None"),
    ],
)
def test_what_a_harmony_says(inside: str, name: str) -> None:
    """Kind texts that say more, inversions, basses and numerals make the chord they mean."""
    assert chord(inside) == name


def test_a_transposing_part_sounds() -> None:
    """A chord written for a B flat instrument is brought to sounding pitch, spelling kept."""
    down = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>"
    assert chord(f"{ROOT}<kind>major</kind>", down) == "Bb"
    up = "<transpose><diatonic>5</diatonic><chromatic>9</chromatic></transpose>"
    assert chord(f"{ROOT}<kind>minor</kind>", up) == "Am"


def test_a_hidden_chord_is_reported() -> None:
    """A symbol that is not printed is taken only where none is printed, and that is reported."""
    assert chord(f"{ROOT}<kind>major</kind>", attribute=' print-object="no"') == "C"
    mixed = HARMONY.format(inside=f"{ROOT}<kind>major</kind>", attributes="", attribute="").replace(
        "<harmony>", f'<harmony print-object="no">{ROOT}<kind>minor</kind></harmony><harmony>', 1
    )
    result = taken(mixed)
    assert [str(s.chord) for s in strikes(result.chart)] == ["C"]
    assert "hidden-chord" in {f.code for f in result.findings if f.certainty == "left-out"}


_HARMONY = (
    "<harmony><root><root-step>{step}</root-step><root-alter>{alter}</root-alter></root>"
    "<kind>{kind}</kind></harmony>"
)
_TRANSPOSE = (
    "<attributes><transpose><diatonic>{}</diatonic><chromatic>{}</chromatic></transpose>"
    "</attributes>"
)


@each("kind", [*FUNCTIONAL_KINDS, "major", "power"])
def test_every_root_has_a_name(kind: str) -> None:
    """Functions of altered roots, in parts that transpose too, are chords that a chart can write:
    a Neapolitan sixth on D double flat is not E triple flat."""
    for moved in ("", _TRANSPOSE.format(-1, -2), _TRANSPOSE.format(4, 6)):
        harmonies = "".join(
            _HARMONY.format(step=step, alter=alter, kind=kind)
            for step in "CDEFGAB"
            for alter in (-2, -1, 0, 1, 2)
        )
        source = (
            '<score-partwise><part-list><score-part id="P1"><part-name>V</part-name></score-part>'
            f'</part-list><part id="P1"><measure number="1">{moved}<attributes><time>'
            f"<senza-misura/></time></attributes>{harmonies}</measure></part></score-partwise>"
        )
        reads_back(taken(source).chart)
