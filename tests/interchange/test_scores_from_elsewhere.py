"""Scores in which programs and people say things in further ways, each with the chart that a
musician would make of it.

Source: the MusicXML 4.0 specification for what the elements mean; common practice for the charts,
no source.
"""

from tests.each import each
from tests.interchange.reading import body, reads_back, taken
from tests.interchange.scores import score

SCORES: dict[str, tuple[str, str]] = {
    "a jump to the sign, drawn": (
        'time=4/4 seg <C> n16\n<F> n16 "Fine"\n<G> n16 "dal_𝄋_al_Fine"',
        "| @segno C | F @fine | G @D.S. al Fine |",
    ),
    "a jump to the sign, typed as another": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S.%_al_Coda"\ncoda <C> n16',
        "| @segno C | F @to-coda | G @D.S. al Coda |\n| @coda C |",
    ),
    "the words before a section, behind a short last bar": (
        "time=4/4 [Verse] <C> n16:low\n<F> n12:tide ||\nimp no=X1 [Chorus] n4:Come\n"
        "<G> n16:home\n<C> n16:now",
        "== Verse\n| C | F ||\n: | low | tide |\n== Chorus\n| G | C |\n: Come | home | now |",
    ),
    "a dash under a note that is held": (
        "time=4/4 <C> n8:lan- n8:–\n<F> n16:tern",
        "| C | F |\n: | lan- | tern |",
    ),
}


@each("name", sorted(SCORES))
def test_further_ways(name: str) -> None:
    """Each is the chart that was written for it, and reads back."""
    source, wanted = SCORES[name]
    chart = taken(score(source)).chart
    reads_back(chart)
    assert body(chart).replace("\n\n", "\n") == wanted
