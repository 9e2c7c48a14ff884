"""Scores as many hands type them: names of sections and chords in words, marks in brackets, lines
typed with underscores, offsets that lead out of the bar.

Each was written with the chart that a musician would make of it.  Source: the MusicXML 4.0
specification for what the elements mean; common practice for the charts, no source.
"""

from tests.each import each
from tests.interchange.reading import codes_read_as
from tests.interchange.scores import harmony, score, with_elements


def _offset(symbol: str, divisions: int) -> str:
    return harmony(symbol).replace("</harmony>", f"<offset>{divisions}</offset></harmony>")


def _ending(numbers: str, kind: str, times: str = "") -> str:
    side = "left" if kind == "start" else "right"
    repeat = f'<repeat direction="backward" times="{times}"/>' if times else ""
    ending = f'<ending number="{numbers}" type="{kind}"/>'
    return f'<barline location="{side}">{ending}{repeat}</barline>'


def _sung(text: str) -> str:
    return (
        "<note><pitch><step>G</step><octave>4</octave></pitch><duration>16</duration>"
        f'<voice>1</voice><lyric number="1"><text>{text}</text></lyric></note>'
    )


_ELEMENTS = {
    "low": _sung("low__"),
    "held": _sung("_"),
    "early": _offset("F", -2),
    "drawn-early": _offset("F", -1),
    "late": _offset("F", 16),
    "123": _ending("1,2,3", "start"),
    "/123": _ending("1,2,3", "stop", "4"),
    "4": _ending("4", "start"),
    "/4": _ending("4", "discontinue"),
}
SCORES: dict[str, tuple[str, str, str]] = {
    "a chord before its bar": (
        "time=4/4 <C> n16\n{early} n16\n<G> n16",
        "| C | <F | G |",
        "pushed-chord",
    ),
    "a chord drawn before its bar": (
        "time=4/4 <C> n16\n{drawn-early} n16\n<G> n16",
        "| C | F | G |",
        "",
    ),
    "a chord behind its bar": (
        "time=4/4 <C> {late} n16\nn16\n<G> n16",
        "| C | F | G |",
        "chord-after-end",
    ),
    "how a chord is played, in words": (
        'time=4/4 <C> n16\n"(hold)" <F> n16\n"(let_ring)" <G> n16\n"(stop)" <C> n16',
        "| C | F @fermata | G~ | C! |",
        "",
    ),
    "the same words over no chord": (
        'time=4/4 <C> n8 "(hold)" n8\n<F> n8 "(stop)" n8\n<G> n16',
        '| C / "(hold)" / / | F / "(stop)" / / | G |',
        "",
    ),
    "silence in brackets": (
        'time=4/4 <C> n16\n"(N.C.)" n16\n<F> n16',
        "| C | N.C. | F |",
        "",
    ),
    "endings for three times and a fourth": (
        "time=4/4 |: <C> n16\n{123} <F> n16 {/123}\n{4} <G> n16 {/4}\n<C> n16",
        "|: C |1.2.3. F :|\n|4. G | C |",
        "",
    ),
    "underscores for a held syllable": (
        "time=4/4 <C> {low}\n<F> n16\n<G> {held}\n<C> n16:tide",
        "| C | F | G | C |\n: | low | _ | _ | tide |",
        "",
    ),
    "names with what is said beside them": (
        'time=4/4 "Verse_1,_2_&_3" <C> n16\n<F> n16\n"Chorus_(x2)" <G> n16\n<C> n16\n'
        '"Last_Chorus_-_loud" <F> n16\n<C> n16\n"Pre_Chorus:" <G> n16\n<F> n16',
        '== Verse 1, 2 & 3\n| C | F |\n== Chorus\n| "x2" G | C |\n'
        '== Last Chorus\n| "loud" F | C |\n== Pre Chorus\n| G | F |',
        "section-by-words",
    ),
    "names in other languages": (
        'time=4/4 "Strophe_2" <C> n16\n<F> n16\n"Estribillo" <G> n16\n<C> n16',
        "== Strophe 2\n| C | F |\n== Estribillo\n| G | C |",
        "section-by-words",
    ),
    "words that only begin like names": (
        'time=4/4 "2nd_ending" <C> n16\n"Solo_on_chorus" <F> n16\n"Intro_4_bars" <G> n16\n<C> n16',
        '| "2nd ending" C | "Solo on chorus" F | "Intro 4 bars" G | C |',
        "",
    ),
}


@each("name", sorted(SCORES))
def test_scores_of_many_hands(name: str) -> None:
    """Each comes out as a musician would write it, and what was guessed is reported."""
    source, wanted, code = SCORES[name]
    found = codes_read_as(with_elements(score(source), _ELEMENTS), wanted)
    assert found - {"no-key"} == set(code.split())
