"""Where the jumps of a score lead, when each mark says only a part of it.

Each score was written with the chart that a musician would make of it.  Common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import body, codes_read_as, taken
from tests.interchange.scores import score, with_elements

_CODA = "| @segno C | F @to-coda | G @D.S. al Coda |\n| @coda C |"
_FINE = "| C | F @fine | G @D.C. al Fine |"
_IN_TYPEFACES = {
    "fine": "<direction><direction-type><words>Fine</words></direction-type></direction>",
    "jump": "<direction>"
    + "".join(
        f"<direction-type><words>{words}</words></direction-type>"
        for words in ("D.C. ", "al ", "Fine")
    )
    + "</direction>",
}
"""Words of one direction, each typeface in a type of its own."""
JUMPS: dict[str, tuple[str, str, str]] = {
    "sounds alone": (
        "time=4/4 snd:segno=s <C> n16\n<F> n16 snd:tocoda=c\n<G> n16 snd:dalsegno=s\n"
        "snd:coda=c <C> n16",
        _CODA,
        "end-of-jump",
    ),
    "sounds alone, to the Fine": (
        "time=4/4 <C> n16\n<F> n16 snd:fine=yes\n<G> n16 snd:dacapo=yes",
        _FINE,
        "end-of-jump",
    ),
    "D.S. in words": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S."\ncoda <C> n16',
        _CODA,
        "end-of-jump",
    ),
    "D.C. in words, to the Fine": (
        'time=4/4 <C> n16\n<F> n16 "Fine"\n<G> n16 "D.C."',
        _FINE,
        "end-of-jump",
    ),
    "the words of one and the sounds of the others": (
        'time=4/4 seg <C> n16\n<F> n16 snd:tocoda=c\n<G> n16 "D.S."\nsnd:coda=c <C> n16',
        _CODA,
        "end-of-jump",
    ),
    "a coda that only a name shows": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S."\n[Coda] <C> n16',
        "| @segno C | F @to-coda | G @D.S. al Coda |\n== Coda\n| @coda C |",
        "end-of-jump",
    ),
    "a coda that only a name shows, and no jump to it": (
        'time=4/4 <C> n16\n<F> n16 "To_Coda"\n<G> n16\n[Coda] <C> n16',
        "| C | F @to-coda | G |\n== Coda\n| @coda C |",
        "",
    ),
    "a section of that name, for which nobody leaves": (
        "time=4/4 <C> n16\n<F> n16\n[Coda] <C> n16",
        "| C | F |\n== Coda\n| C |",
        "",
    ),
    "a jump in several typefaces": (
        "time=4/4 <C> n16\n<F> n16 {fine}\n<G> n16 {jump}",
        _FINE,
        "",
    ),
    "a coda that nothing shows": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S."\n<C> n16',
        _CODA,
        "coda-behind-jump",
    ),
    "two jumps, one to the coda and one to the Fine": (
        'time=4/4 <C> n16 "Fine"\nseg <F> n16 "To_Coda"\n<G> n16 "D.S."\ncoda <C> n16 "D.C."',
        "| C @fine | @segno F @to-coda | G @D.S. al Coda |\n| @coda C @D.C. al Fine |",
        "end-of-jump",
    ),
    "a Fine only behind the jump": (
        'time=4/4 <C> n16\n<F> n16 "D.C."\n<G> n16 "Fine"',
        "| C | F @D.C. |\n| G @fine |",
        "",
    ),
    "a Fine before the sign": (
        'time=4/4 <C> n16 "Fine"\nseg <F> n16\n<G> n16 "D.S."',
        "| C @fine | @segno F | G @D.S. |",
        "",
    ),
    "no end at all": (
        'time=4/4 <C> n16\nseg <F> n16\n<G> n16 "D.S."',
        "| C | @segno F | G @D.S. |",
        "",
    ),
    "a Fine in other words": (
        'time=4/4 <C> n16\n<F> n16 "The_End"\n<G> n16 "D.C._al_Fine"',
        _FINE,
        "typed-fine",
    ),
    "the segno as a sign of percent": (
        'time=4/4 <C> n16\n"%" <F> n16\n<G> n16 "D.S."',
        "| C | @segno F | G @D.S. |",
        "typed-segno",
    ),
    "the segno as a sign of percent behind the bar before": (
        'time=4/4 <C> n16 "%"\n<F> n16\n<G> n16 "D.S."',
        "| C | @segno F | G @D.S. |",
        "typed-segno",
    ),
    "the segno as a letter": (
        'time=4/4 <C> n16\n"(S)" <F> n16\n<G> n16 "D.S."',
        "| C | @segno F | G @D.S. |",
        "typed-segno",
    ),
    "one percent over a melody without a chord": (
        'time=4/4 <C> n16\n"%" n16\n<G> n16 "D.S."',
        "| C | @segno % | G @D.S. |",
        "typed-segno",
    ),
    "percents for bars played again beside the one at the sign": (
        'time=4/4 <C> n16\n"%" r16\n"%" <F> n16\n"%" r16\n<G> n16 "D.S."',
        "| C | % | @segno F | % | G @D.S. |",
        "typed-segno",
    ),
    "percents that only play bars again": (
        'time=4/4 <C> n16\n"%" r16\n<F> n16\n"%" r16\n<G> n16 "D.S."',
        "| C | % | F | % | G @D.S. |",
        "no-segno",
    ),
    "no segno": (
        'time=4/4 <C> n16\n<F> n16\n<G> n16 "D.S."',
        "| C | F | G @D.S. |",
        "no-segno",
    ),
    "no Fine": ('time=4/4 <C> n16\n<F> n16 "D.C._al_Fine"', "| C | F @D.C. al Fine |", "no-fine"),
    "no place to leave": (
        'time=4/4 <C> n16\n<F> n16 "D.C._al_Coda"\ncoda <G> n16',
        "| C | F @D.C. al Coda |\n| @coda G |",
        "no-to-coda",
    ),
    "no coda": ('time=4/4 <C> n16\n<F> n16 "To_Coda"', "| C | F @to-coda |", "no-coda"),
    "Coda at the end of the bar to leave": (
        'time=4/4 seg <C> n16\n<F> n16 "Coda"\n<G> n16 "D.S._al_Coda"\ncoda <C> n16',
        _CODA,
        "coda-to-leave",
    ),
    "Coda at the end of the bar to leave, and over the coda": (
        'time=4/4 seg <C> n16\n<F> n16 "Coda"\n<G> n16 "D.S._al_Coda"\n"Coda" <C> n16',
        "| @segno C | F @to-coda | G @D.S. al Coda |\n== Coda\n| @coda C |",
        "coda-to-leave",
    ),
    "Coda behind the jump": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S._al_Coda" "Coda"\n<C> n16',
        "| @segno C | F @to-coda | G @D.S. al Coda |\n== Coda\n| @coda C |",
        "section-by-words",
    ),
    "words about a jump that nobody knows": (
        'time=4/4 seg <C> n16\n<F> n16\n"when_the_D.S._comes,_soft" <G> n16',
        '| @segno C | F | "when the D.S. comes, soft" G |',
        "jump-among-words",
    ),
}


@each("name", sorted(JUMPS))
def test_where_jumps_lead(name: str) -> None:
    """A jump leads where the rest of the score says, and what is guessed is reported."""
    source, wanted, code = JUMPS[name]
    found = codes_read_as(with_elements(score(source), _IN_TYPEFACES), wanted)
    assert found - {"no-key"} >= {code} if code else found <= {"no-key"}


IN_WORDS: dict[str, tuple[str, str]] = {
    "from the front to the end": (
        'time=4/4 <C> n16\n<F> n16 "Ende"\n<G> n16 "Von_vorn_bis_Ende"',
        _FINE,
    ),
    "from the front, where no end is marked": (
        'time=4/4 <C> n16\n<F> n16\n<G> n16 "Noch_einmal_von_vorne"',
        "| C | F | G @D.C. |",
    ),
    "from the sign to the Fine": (
        'time=4/4 <C> n16\nseg <F> n16 "Fine"\n<G> n16 "Vom_Zeichen_bis_Fine"',
        "| C | @segno F @fine | G @D.S. al Fine |",
    ),
    "back to the sign, then the coda": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "Back_to_the_sign"\ncoda <C> n16',
        _CODA,
    ),
    "by signs": (
        'time=4/4 seg <C> n16\n<F> n16 "To_𝄌"\n<G> n16 "da_𝄋_a_𝄌"\ncoda <C> n16',
        _CODA,
    ),
    "from the beginning": (
        'time=4/4 <C> n16\n<F> n16 "Fine"\n<G> n16 "From_the_beginning"',
        _FINE,
    ),
    "in French": ('time=4/4 <C> n16\n<F> n16\n<G> n16 "Reprise_au_début"', "| C | F | G @D.C. |"),
    "in Spanish": (
        'time=4/4 <C> n16\n<F> n16 "Fin"\n<G> n16 "Desde_el_principio_hasta_Fin"',
        _FINE,
    ),
    "over the first bar": (
        'time=4/4 "From_the_top" <C> n16\n<F> n16\n<G> n16',
        '| "From the top" C | F | G |',
    ),
    "in a sentence": (
        'time=4/4 <C> n16\n<F> n16\n"softer_from_the_beginning_on" <G> n16',
        '| C | F | "softer from the beginning on" G |',
    ),
}


@each("name", sorted(IN_WORDS))
def test_jumps_in_plain_words(name: str) -> None:
    """A jump is one in whatever words, and that it was read so is reported."""
    source, wanted = IN_WORDS[name]
    found = codes_read_as(score(source), wanted)
    assert ("jump-in-words" in found) == ("@D" in wanted)


SYMBOLS = {
    "segno": "| @segno C | F |",
    "segnoSerpent1": "| @segno C | F |",
    "codaSquare": "| @coda C | F |",
    "fermataAbove": "| C @fermata | F |",
    "fermataLongBelow": "| C @fermata | F |",
    "daCapo": "| C @D.C. |\n| F |",
    "caesuraThick": '| "caesura" C | F |',
}


@each("name", sorted(SYMBOLS))
def test_signs_by_their_names(name: str) -> None:
    """A sign that a score gives by its name in music fonts is the mark."""
    said = f"<direction><direction-type><symbol>{name}</symbol></direction-type></direction>"
    read = taken(with_elements(score("time=4/4 {said} <C> n16\n<F> n16"), {"said": said}))
    assert body(read.chart) == SYMBOLS[name]
