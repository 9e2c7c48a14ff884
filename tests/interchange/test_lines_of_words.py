"""Rows of a score that begin with the lines of its words, where only capitals show these.

Common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import body, reads_back, taken
from tests.interchange.scores import score

_UPBEATS = (
    "imp no=0 n4:Oh\n<C> n16:low\n<F> n16:tide\n<G> n16:turns\n<C> n12:out n4:And\n"
    "<Am> n16:all\n<F> n16:lamps\n<G> n16:go\n<C> n12:out n4:We\n"
    "<F> n16:sail\n<C> n16:on\n<G> n16:past\n<C> n12:it n4:No\n"
    "<Am> n16:one\n<F> n16:knows\n<G> n16:the\n<C> n16:way"
)
SCORES = {
    "upbeats": (
        _UPBEATS,
        "| C | F | G | C |\n: Oh | low | tide | turns | out |\n"
        "| Am | F | G | C |\n: And | all | lamps | go | out |\n"
        "| F | C | G | C |\n: We | sail | on | past | it |\n"
        "| Am | F | G | C |\n: No | one | knows | the | way |",
    ),
    "no upbeats, lines of six bars": (
        "<C> n16:Low\n<F> n16:tide\n<G> n16:turns\n<C> n16:out\nn16\nn16\n"
        "<F> n16:Lamps\n<C> n16:all\n<G> n16:are\n<C> n16:lit\nn16\nn16\n"
        "<F> n16:We\n<C> n16:sail\n<G> n16:right\n<C> n16:by\nn16\nn16\n"
        "<F> n16:No\n<C> n16:one\n<G> n16:knows\n<C> n16:why",
        "| C | F | G | C | % | % |\n: | Low | tide | turns | out | | |\n"
        "| F | C | G | C | % | % |\n: | Lamps | all | are | lit | | |\n"
        "| F | C | G | C | % | % |\n: | We | sail | right | by | | |\n"
        "| F | C | G | C |\n: | No | one | knows | why |",
    ),
    "a capital on every noun": (
        "<C> n8:der n8:Wind\n<F> n8:geht n8:leis\n<G> n8:am n8:Tor\n<C> n8:vorbei n8:Laub\n"
        "<Am> n8:fällt n8:ab\n<F> n8:vom n8:Baum\n<G> n8:im n8:Hof\n<C> n16:dort",
        "| C | F | G | C |\n: | der Wind | geht leis | am Tor | vorbei Laub |\n"
        "| Am | F | G | C |\n: | fällt ab | vom Baum | im Hof | dort |",
    ),
    "I, and one name": (
        "<C> n16:when\n<F> n16:will\n<G> n16:I\n<C> n8:see n8:I\n"
        "<Am> n16:asked\n<F> n16:if\n<G> n8:she n8:Ann\n<C> n16:knew",
        "| C | F | G | C |\n: | when | will | I | see I |\n"
        "| Am | F | G | C |\n: | asked | if | she Ann | knew |",
    ),
}


@each("name", sorted(SCORES))
def test_rows_begin_with_lines(name: str) -> None:
    """Where capitals stand at even distances they begin the lines of a song, and rows and their
    pick-ups follow them; nouns, names and I do not."""
    source, wanted = SCORES[name]
    chart = taken(score(f"time=4/4 {source}")).chart
    assert body(chart) == wanted
    reads_back(chart)
