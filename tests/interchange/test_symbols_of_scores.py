"""Chord symbols of scores that say more than root and kind, and chords between the beats.

Source: the MusicXML 4.0 specification for what the elements mean; common practice for what a
musician writes, no source.
"""

from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.scores import score, with_elements


def _symbol(root: str, kind: str, text: str | None = None, more: str = "", attrs: str = "") -> str:
    said = "" if text is None else f' text="{text}"'
    return (
        f"<harmony{attrs}><root><root-step>{root}</root-step></root>"
        f"<kind{said}>{kind}</kind>{more}</harmony>"
    )


def _added(*degrees: int) -> str:
    return "".join(
        f"<degree><degree-value>{one}</degree-value><degree-alter>0</degree-alter>"
        "<degree-type>add</degree-type></degree>"
        for one in degrees
    )


def _bass_alone(kind: str = '<kind text="">none</kind>') -> str:
    return (
        f'<harmony><root><root-step text="">C</root-step></root>{kind}'
        "<bass><bass-step>B</bass-step></bass></harmony>"
    )


_TIED = (
    "<note><pitch><step>G</step><octave>4</octave></pitch><duration>{}</duration>"
    '<tie type="start"/><notations><tied type="start"/></notations></note>'
)
_ELEMENTS = {
    "13": _symbol("C", "dominant", "13", _added(9, 13)),
    "m13": _symbol("C", "minor-seventh", "m13", _added(9, 13)),
    "13alone": _symbol("C", "dominant", "13", _added(13)),
    "11": _symbol("C", "dominant", "11", _added(11)),
    "7(13)": _symbol("C", "dominant", "7(13)", _added(13)),
    "untold": _symbol("C", "dominant", None, _added(9, 13)),
    "maj7": _symbol("C", "major", "Maj7", _added(7)),
    "m(maj7)": _symbol("C", "minor", "m(maj7)", _added(7)),
    "m7": _symbol("C", "minor", "m7", _added(7)),
    "orAm": _symbol("A", "minor", "m", attrs=' type="alternate"'),
    "orE7": _symbol("E", "dominant", "7", attrs=' type="alternate"'),
    "/B": _bass_alone(),
    "C/B": _bass_alone("<kind>none</kind>").replace(' text=""', ""),
    "alt.": _symbol("C", "dominant", "7(alt.)"),
    "odd": _symbol("C", "dominant", "7 grumble"),
    "7_sus": _symbol("C", "dominant", "7 sus"),
    "poly": _symbol("C", "major", more="<root><root-step>G</root-step></root><kind>major</kind>"),
    "tied1": _TIED.format(1),
    "tied2": _TIED.format(2),
    "tied4": _TIED.format(4),
}
_SCORES: dict[str, tuple[str, str, str]] = {
    "the highest tone is the name": ("{13} n16\n{m13} n16\n{11} n16", "| C13 | Cm13 | C11 |", ""),
    "a seventh that its text calls a major one": (
        "{maj7} n16\n{m(maj7)} n16\n{m7} n16",
        "| Cmaj7 | Cm(maj7) | Cm7 |",
        "major-seventh",
    ),
    "a tone left out below it": ("{13alone} n16\n{7(13)} n16", "| C13 | C7(13) |", ""),
    "no text": ("{untold} n16\n<F> n16", "| C9(13) | F |", ""),
    "another chord over the same note": (
        "<F> {orAm} n16\n{orE7} <C> n8 <G> n8",
        '| "or Am" F | "or E7" C G |',
        "alternate-chord",
    ),
    "an optional chord over its own note": ("<F> n8 {orAm} n8\n<C> n16", "| F (Am) | C |", ""),
    "a bass without a root": ("<C> n8 {/B} n8\n<Am> n16", "| C /B | Am |", "bass-alone"),
    "a bass without a root in the next bar": ("<C> n16\n{/B} n16", "| C | /B |", "bass-alone"),
    "a bass under a root without a kind": (
        "<C> n16\n<Cm> n8 {C/B} n8\n<F> n8 {C/B} n8",
        "| C | Cm Cm/B | F C/B |",
        "kind-guessed",
    ),
    "an alteration spelled with a full stop": (
        "{alt.} n16\n<F> n16",
        "| C7alt | F |",
        "kind-text-says-more",
    ),
    "a text that nobody knows": ("{odd} n16\n<F> n16", "| C7 | F |", "kind-text-unread"),
    "a text with blanks": ("{7_sus} n16\n<F> n16", "| C7sus4 | F |", "kind-text-says-more"),
    "two chords in one symbol": (
        "{poly} n16\n<F> n16",
        '| "with G" C | F |',
        "stacked-chord",
    ),
    "a chord behind the last note, before another": (
        "<C> n16\n<G> n16 <Am>\n<F> n16",
        "| C | G / / Am | F |",
        "chord-after-end",
    ),
    "a chord behind the last note, before the same one": (
        "<C> n16\n<G> n16 <F>\n<F> n16",
        "| C | G | F |",
        "",
    ),
    "silence behind the last note, before a chord": (
        "<C> n16\n<G> n16 <N.C.>\n<F> n16",
        "| C | G | F |",
        "chord-after-end",
    ),
    "half notes in a triplet": (
        "divisions=12 <C> n16 <F> n16 <G> n16\n<C> n48",
        "| C _,F,_ _,_,G _ | C |",
        "",
    ),
    "a swung push": (
        "divisions=12 <C> n48\n<F> n32 <G> n16\n<C> n48",
        "| C | F / / <G | C |",
        "pushed-chord",
    ),
    "tied over from half a beat before": ("<C> n14 <F> {tied2}\nn16", "| C | <F |", ""),
    "tied over from a third of a beat before": (
        "divisions=12 <C> n44 <F> {tied4}\nn48",
        "| C | <F |",
        "",
    ),
    "tied over from a sixteenth before": ("<C> n15 <F> {tied1}\nn16", "| C | <F |", "pushed-chord"),
    "tied over inside a bar": ("<C> n7 <F> {tied1} n8\n<C> n16", "| C <F | C |", "pushed-chord"),
}


@each("name", sorted(_SCORES))
def test_symbols(name: str) -> None:
    """Each is the chord that is printed, at its place, and what is not exact is told."""
    source, wanted, code = _SCORES[name]
    read = taken(with_elements(score(f"time=4/4 {source}"), _ELEMENTS))
    assert body(read.chart) == wanted
    assert codes(read) - {"no-key"} == set(filter(None, [code]))
    reads_back(read.chart)


def _diagram(frets: str, first: int = 0, barre: bool = False) -> str:
    notes = ""
    for string, fret in zip("654321", frets, strict=True):
        if fret in "x_":
            continue
        side = {"6": "start", "1": "stop"}.get(string, "") if barre else ""
        line = f'<barre type="{side}"/>' if side else ""
        notes += f"<frame-note><string>{string}</string><fret>{fret}</fret>{line}</frame-note>"
    shown = f"<first-fret>{first}</first-fret>" if first else ""
    return (
        f"<frame><frame-strings>6</frame-strings><frame-frets>4</frame-frets>{shown}{notes}</frame>"
    )


@each(
    ("root", "frame", "shape"),
    [
        ("G", _diagram("320003"), "G 320003"),
        ("D", _diagram("xx0232"), "D xx0232"),
        ("C", _diagram("x35553"), "C x35553"),
        ("C", _diagram("335553"), ""),
        ("C", _diagram("x13331", first=3), "C x35553"),  # counted from the first fret shown
        ("G", _diagram("355433", first=3), "G 355433"),
        ("G", _diagram("3554_3", barre=True), "G 355433"),  # under the finger that bars
        ("C", _diagram("320003"), ""),
        ("C", "<frame><frame-strings>4</frame-strings><frame-frets>4</frame-frets></frame>", ""),
    ],
)
def test_chord_diagrams_are_shapes(root: str, frame: str, shape: str) -> None:
    """A diagram under a chord is the player's own shape; one that does not sound it is told."""
    symbol = _symbol(root, "major", more=frame)
    read = taken(with_elements(score("time=4/4 {1} n16\n<F> n16\n{1} n16"), {"1": symbol}))
    assert [str(row.value) for row in read.chart.shapes()] == [shape] * bool(shape)
    assert ("chord-diagram" in codes(read)) == (not shape)
    reads_back(read.chart)


def test_chord_diagrams_under_a_capo_are_told() -> None:
    """Nobody says whether diagrams under a capo are those of the chords that sound."""
    symbol = _symbol("G", "major", more=_diagram("320003"))
    read = taken(with_elements(score('time=4/4 "Capo_2" {1} n16\n<F> n16'), {"1": symbol}))
    assert not read.chart.shapes()
    assert "chord-diagram" in codes(read)


@each(
    ("words", "tempo", "wanted"),
    [
        ("Ballad = 68", 68, ("Ballad", "| C | F |")),
        ("Slow waltz (= 60)", 90, ("Slow waltz", "| C | F |")),
        ("Ballad = ca. 68", 34, ("Ballad", "| C | F |")),
        ("Ballad = 68", 100, (None, '| "Ballad = 68" C | F |')),
    ],
)
def test_a_tempo_whose_note_is_not_known(
    words: str, tempo: int, wanted: tuple[str | None, str]
) -> None:
    """Where a font's note is lost, the number that the tempo gives too is no part of the feel."""
    said = (
        f"<direction><direction-type><words>{words}</words></direction-type>"
        f'<sound tempo="{tempo}"/></direction>'
    )
    chart = taken(with_elements(score("time=4/4 {said} <C> n16\n<F> n16"), {"said": said})).chart
    assert (chart.setting("feel"), body(chart)) == wanted
    assert chart.setting("tempo") == tempo
