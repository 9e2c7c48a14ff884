"""Signs and names over the bar lines of a score: where players leave, jump and begin again.

Each score was written with the chart that a musician would make of it.  Source: the MusicXML 4.0
specification for what the elements mean; common practice for where signs stand, no source.
"""

from tests.each import each
from tests.interchange.reading import codes_read_as
from tests.interchange.scores import score, with_elements


def _said(inner: str) -> str:
    return f"<direction><direction-type>{inner}</direction-type></direction>"


def _barline(place: str, inner: str) -> str:
    return f'<barline location="{place}">{inner}</barline>'


def _right(inner: str) -> str:
    return _barline("right", inner)


def _ending(number: str, text: str) -> str:
    ending = f'<ending number="{number}" type="start">{text}</ending>'
    return f'<barline location="left">{ending}</barline>'


_ELEMENTS = {
    "to": _said("<words>To Coda </words><symbol>coda</symbol>"),
    "sign": _said("<symbol>coda</symbol>"),
    "opens": _right('<bar-style>heavy-light</bar-style><repeat direction="forward"/>'),
    "1begins": _right('<ending number="1" type="start"/>'),
    "1.+2.": _ending("1", "1. &amp; 2."),
    "3.": _ending("2", "3."),
    "1": _ending("1, 2", "1."),
    "last": _ending("3", "last time"),
    "segno": _right("<bar-style>light-light</bar-style><segno/>"),
}
_WAY = "| @segno C | F @to-coda | G @D.S. al Coda |\n| @coda C |"
SIGNS: dict[str, tuple[str, str]] = {
    "the sign beside its words": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda" coda\n<G> n16 "D.S._al_Coda"\ncoda <C> n16',
        _WAY,
    ),
    "the sign of a music font behind its words": (
        'time=4/4 seg <C> n16\n<F> n16 {to}\n<G> n16 "D.S._al_Coda"\n{sign} <C> n16',
        _WAY,
    ),
    "the sign of the coda at the end of the jump's bar": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S._al_Coda" coda\n<C> n16',
        _WAY,
    ),
    "the sign at the end of the jump's bar and again behind it": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S._al_Coda" coda\ncoda <C> n16',
        _WAY,
    ),
    "al Coda apart from D.S.": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S." "al_Coda"\ncoda <C> n16',
        _WAY,
    ),
    "al Fine apart from D.C.": (
        'time=4/4 <C> n16\n<F> n16 "Fine"\n<G> n16 "D.C." "al_Fine"',
        "| C | F @fine | G @D.C. al Fine |",
    ),
    "an ending that begins on the right of the bar before": (
        "time=4/4 |: <C> n16 {1begins}\n<F> n16 :| ]1\n2[ <G> n16 || ]2",
        "|: C |1. F :|2. G ||",
    ),
    "endings whose text is other numbers than they sound": (
        "time=4/4 |: <C> n16\n{1.+2.} <F> n16 :|\n{3.} <G> n16 ]2",
        "|: C |1.2. F :|3. G |",
    ),
    "endings whose text says less or something else": (
        "time=4/4 |: <C> n16\n{1} <F> n16 ]1 :|\n{last} <G> n16 ]3",
        "|: C |1.2. F :|3. G |",
    ),
    "a segno behind the last note of the bar before": (
        'time=4/4 <C> n16 seg\n<F> n16\n<G> n16 "D.S."',
        "| C | @segno F | G @D.S. |",
    ),
    "a segno over the bar line": (
        'time=4/4 <C> n16 {segno}\n<F> n16\n<G> n16 "D.S."',
        "| C || @segno F | G @D.S. |",
    ),
    "a repeat that begins on the right of the bar before": (
        "time=4/4 <C> n16 {opens}\n<F> n16\n<G> n16 :|\n<C> n16",
        "| C |\n|: F | G :|\n| C |",
    ),
    "a double bar line and the start of a repeat on the right": (
        "time=4/4 <C> n16 || {opens}\n<F> n16\n<G> n16 :|\n<C> n16",
        "| C ||\n|: F | G :|\n| C |",
    ),
    "a repeat that begins with a pick-up and its chord": (
        "time=4/4 imp no=0 |: <G7> n4:oh\n<C> n16:low\n<F> n16:tide\n<C> n12:home :|\n<G> n16",
        '"pick-up" G7 | C | F | C :|\n: oh | low | tide | home |\n| G |',
    ),
    "a rehearsal mark behind the last note": (
        "time=4/4 [A] <C> n16:one\n<F> n16:two [B]\n<G> n16:three\n<C> n16:four",
        "== A\n| C | F |\n: | one | two |\n== B\n| G | C |\n: | three | four |",
    ),
    "a name over the upbeat": (
        "time=4/4 [Verse] <C> n16:low\n<F> n12:tide [Chorus] n4:oh\n<G> n16:home\n<C> n16:now",
        "== Verse\n| C | F |\n: | low | tide |\n== Chorus\n| G | C |\n: oh | home | now |",
    ),
    "a name in the middle, over a chord": (
        "time=4/4 [A] <C> n16\n<F> n8 [B] <Am> n8\n<G> n16\n<C> n16",
        "== A\n| C |\n== B\n| F Am | G | C |",
    ),
    "a name behind everything": (
        "time=4/4 [A] <C> n16\n<F> n16 [End]",
        "== A\n| C |\n== End\n| F |",
    ),
}


@each("name", sorted(SIGNS))
def test_signs_belong_to_their_bars(name: str) -> None:
    """What stands at the end of a measure goes to the bar it is said of, and each thing once."""
    source, wanted = SIGNS[name]
    found = codes_read_as(with_elements(score(source), _ELEMENTS), wanted)
    assert found <= {"no-key", "section-within-measure"}


_WITHIN = {
    "|:": _barline("middle", '<bar-style>heavy-light</bar-style><repeat direction="forward"/>'),
    ":|": _barline("middle", '<bar-style>light-heavy</bar-style><repeat direction="backward"/>'),
}
WITHIN: dict[str, tuple[str, str]] = {
    "a repeat that begins within a bar and ends with a whole one": (
        "time=4/4 <C> n16\n<F> n8 {|:} n8\n<G> n16\n<C> n16 :|",
        "| C | 2/4 F |: % | 4/4 G | C :|",
    ),
    "a repeat that begins within a bar with the upbeat of its end": (
        "time=4/4 <C> n16:one\n<F> n12:low {|:} n4:the\n<G> n16:tide\nimp <C> n12:ran :|",
        "| C | F ||\n: | one | low |\n|: G | C :|\n: the | tide | ran |",
    ),
    "a repeat that ends within a bar": (
        "time=4/4 |: <C> n16\n<F> n8 {:|} <G> n8\n<C> n16",
        "|: C | 2/4 F :|\n| G | 4/4 C |",
    ),
}


@each("name", sorted(WITHIN))
def test_repeats_within_a_bar(name: str) -> None:
    """What is played again begins and ends where the sign stands, but for an upbeat to it."""
    source, wanted = WITHIN[name]
    codes_read_as(with_elements(score(source), _WITHIN), wanted)
