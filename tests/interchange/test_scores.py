"""Scores of our own and of others, held by an independent reader of the XML."""

from collections.abc import Iterator
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.each import each
from tests.interchange.exported_scores import EXPORTED
from tests.interchange.reading import LEAD_SHEETS, MUSIC21, SUITE, body, reads_back, taken
from tests.interchange.score_judge import faults, row_faults
from tests.interchange.scores import CASES, score


@each("name", sorted(CASES))
def test_each_class_of_score(name: str) -> None:
    """Each score comes out as a musician would write it, and its text reads back."""
    source, wanted = CASES[name]
    chart = taken(score(source)).chart
    assert body(chart).replace("\n\n", "\n") == wanted
    reads_back(chart)


@each("name", sorted(EXPORTED))
def test_each_way_of_exporting(name: str) -> None:
    """Scores as notation programs write them come out as a musician would write them."""
    data, wanted = EXPORTED[name]
    chart = taken(data).chart
    assert body(chart).replace("\n\n", "\n") == wanted
    reads_back(chart)


_WRONG = {
    "a chord": (b"<root-step>F</root-step>", b"<root-step>E</root-step>"),
    "a kind": (b"<kind>major</kind>", b"<kind>minor</kind>"),
    "a place": (b"<duration>8</duration>", b"<duration>6</duration>"),
    "a syllable": (b"<text>la</text>", b"<text>lo</text>"),
    "a repeat": (b'<repeat direction="backward"/>', b""),
}


@each("what", sorted(_WRONG))
def test_the_judge_sees(what: str) -> None:
    """The judge is no rubber stamp: what a chart has otherwise than the score is a fault."""
    source = score("time=4/4 |: <C> n8:la <F> n8:li\n<G> n16:do :|")
    chart = taken(source).chart
    assert list(faults(source, chart)) == []
    old, new = _WRONG[what]
    assert old in source
    assert list(faults(source.replace(old, new, 1), chart))


KNOWN = {
    # Two singers with one verse number, and verses that are told apart by names alone.
    "61c-Lyrics-Pianostaff.xml": [
        "words: verse 1: ...ralalijaTRALALIJA | ...ralalija",
        "verses: ['1'] wanted, ['1', '2'] written",
    ],
    "61g-Lyrics-NameNumber.xml": [
        "words: verse 1: ...Verse1AChorus1AAnoth | ...Verse1A1BVerse1CChor",
        "words: verse Verse: ...VerseE | ...Chorus1A",
        "verses: ['1', '2', 'Verse'] wanted, ['1', '2', '3', '4', '5'] written",
    ],
}
"""What the judge finds otherwise in a few scores, exactly."""


def _others() -> Iterator[Path]:
    yield from sorted(LEAD_SHEETS.glob("*.mxl"))
    yield from sorted((MUSIC21 / "corpus" / "demos").glob("*Chord*.mxl"))
    yield from sorted((MUSIC21 / "musicxml").glob("testChord*.xml"))
    for group in ("31", "46", "61", "71"):
        yield from sorted(SUITE.glob(f"{group}*.xml"))


@each("path", sorted(_others()), ids=lambda path: path.name)
def test_scores_of_others(path: Path) -> None:
    """Chords at their places, syllables, repeats and bars of other people's scores are right."""
    data = path.read_bytes()
    chart = taken(data).chart
    assert [*faults(data, chart)] == KNOWN.get(path.name, [])
    assert [*row_faults(chart)] == []


_SYMBOLS = st.sampled_from(["C", "F", "G7", "Am", "Bb", "F#m7b5", "Dm7/C", "Ebmaj7", "N.C."])
_WORDS = st.sampled_from(["", ":la", ":li-", ":So", ":end."])


@st.composite
def _measures(draw: st.DrawFn) -> str:
    """Songs in 4/4 or 3/4: notes of all lengths, chords anywhere on their starts, pick-ups,
    bars in two parts, repeats and endings."""
    beats = draw(st.sampled_from([4, 3]))
    lines: list[str] = []
    if draw(st.booleans()):
        lines.append(f"imp no=0 n4{draw(_WORDS)}")
    for i in range(draw(st.integers(2, 9))):
        cut = draw(st.sampled_from([0, 0, 0, 4, 8])) if i else 0
        inner = _bar(draw, beats * 4 - cut)
        if cut:
            line = draw(st.sampled_from(["||", ":|"]))
            lines += [f"{inner} {line}", f"imp no=X n{cut}{draw(_WORDS)}"]
        else:
            lines.append(inner)
    lines.append(f"<C> n{beats * 4}")
    lines[0] = f"time={beats}/4 {lines[0]}"
    return "\n".join(lines)


def _bar(draw: st.DrawFn, length: int) -> str:
    inner = ""
    while length:
        size = draw(st.sampled_from([n for n in (4, 4, 8, 2, 6, 12, 16, 1) if n <= length]))
        chord = f"<{draw(_SYMBOLS)}> " if draw(st.integers(0, 2)) == 0 else ""
        inner += f"{chord}n{size}{draw(_WORDS)} "
        length -= size
    return inner


@settings(max_examples=80, deadline=None)
@given(_measures())
def test_any_song(source: str) -> None:
    """Every chord, syllable and bar of a made-up song is where the judge wants it."""
    data = score(source)
    chart = taken(data).chart
    assert [*faults(data, chart)] == []
    reads_back(chart)
