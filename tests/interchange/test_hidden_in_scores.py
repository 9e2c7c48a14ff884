"""What a score holds and does not print: words, notes with words, chord symbols.

Source: the MusicXML 4.0 specification for what ``print-object`` and ``print-lyric`` hide; common
practice for what a hidden chord symbol means, no source.
"""

from tests.each import each
from tests.interchange.reading import codes_read_as
from tests.interchange.scores import harmony, score, with_elements

_HIDES = ' print-object="no"'
_LYRIC = '<lyric number="1"{}><syllabic>single</syllabic><text>{}</text></lyric>'


def _note(word: str, note: str = "", lyric: str = "") -> str:
    return (
        f"<note{note}><pitch><step>G</step><octave>4</octave></pitch><duration>16</duration>"
        f"<voice>1</voice>{_LYRIC.format(lyric, word)}</note>"
    )


def _hidden(symbol: str) -> str:
    return harmony(symbol).replace("<harmony>", f"<harmony{_HIDES}>")


_ELEMENTS = {
    "aside": _note("aside", lyric=_HIDES),
    "unseen": _note("unseen", note=_HIDES),
    "seen": _note("seen", note=f'{_HIDES} print-lyric="yes"'),
    "Dm": _hidden("Dm"),
    "F": _hidden("F"),
}
SCORES: dict[str, tuple[str, str, str]] = {
    "words": (
        "time=4/4 <C> n16:low\n<F> {aside}\n<C> n16:tide",
        "| C | F | C |\n: | low | | tide |",
        "hidden-words",
    ),
    "words on a hidden note": (
        "time=4/4 <C> n16:low\n<F> {unseen}\n<C> n16:tide",
        "| C | F | C |\n: | low | | tide |",
        "hidden-words",
    ),
    "words that a hidden note prints": (
        "time=4/4 <C> n16:low\n<F> {seen}\n<C> n16:tide",
        "| C | F | C |\n: | low | seen | tide |",
        "",
    ),
    "words on hidden notes alone": (
        "time=4/4 <C> {unseen}\n<F> {unseen}",
        "| C | F |\n: | unseen | unseen |",
        "",
    ),
    "a chord where no other stands": (
        "time=4/4 <C> n8 {Dm} n8\n{F} n16\n<C> n16",
        "| C Dm | F | C |",
        "hidden-chord-alone",
    ),
    "a chord beside the one that is printed": (
        "time=4/4 <C> n16\n{F} <Dm> n16\n<C> n16",
        "| C | Dm | C |",
        "hidden-chord",
    ),
    "a chord that sounds already": (
        "time=4/4 <F> n16\n{F} n16\n<C> n16",
        "| F | % | C |",
        "hidden-chord",
    ),
    "a chord that is played before it is printed": (
        "time=4/4 <C> n14 {F} n2\n<F> n16\n<C> n16",
        "| C | F | C |",
        "hidden-chord",
    ),
    "a chord beside one that is typed": (
        'time=4/4 <C> n16\n"Fm7" {F} n16\n"Dm7" n16\n<C> n16',
        "| C | Fm7 | Dm7 | C |",
        "hidden-chord typed-chord",
    ),
}


@each("name", sorted(SCORES))
def test_what_is_not_printed(name: str) -> None:
    """Hidden words are not sung, a hidden chord is struck where no other stands, and both are
    reported."""
    source, wanted, code = SCORES[name]
    found = codes_read_as(with_elements(score(source), _ELEMENTS), wanted)
    assert found - {"no-key"} == set(code.split())


def test_what_another_part_hides_is_no_chord() -> None:
    """Hidden symbols are taken from the part alone whose chords are taken."""
    parts = score("time=4/4 <C> n16\nn16\n<F> n16", "time=4/4 n16\n{Dm} n16\nn16")
    codes_read_as(with_elements(parts, _ELEMENTS), "| C | % | F |")
