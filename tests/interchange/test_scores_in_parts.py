"""Chords that stand in several parts of a score: over the voice, over the piano, or over both.

Each was written with the chart that a musician would make of it; common practice, no source.
"""

from chartkit.chart.walk import iter_bars
from tests.each import each
from tests.interchange.reading import body, codes, codes_read_as, taken
from tests.interchange.scores import score

PARTS: dict[str, tuple[tuple[str, ...], str, str]] = {
    "the chorus over the piano": (
        (
            "time=4/4 <C> n16:one\n<F> n16:two\nn16:three\nn16:four",
            "time=4/4 n16\nn16\n<G> n16\n<C> n16",
        ),
        "| C | F | G | C |\n: | one | two | three | four |",
        "chords-of-part",
    ),
    "symbols over the voice are typed, over the piano are symbols": (
        (
            'time=4/4 "C" n16:one\n"F" n8:two "G7" n8:x\n"C" n16',
            "time=4/4 <C> n16\n<F> n16\n<C> n16",
        ),
        "| C | F G7 | C |\n: | one | two / x | |",
        "chords-of-part typed-chord",
    ),
    "two verses over the voice, one over the part with the chords": (
        (
            "time=4/4 n16:one;three\nn16:two;four",
            "time=4/4 <C> n16:one\n<F> n16:two",
        ),
        "| C | F |\n1: | one | two |\n2: | three | four |",
        "chords-of-part words-of-part",
    ),
    "silence over the voice, chords over the piano": (
        (
            'time=4/4 n16:one\n"N.C." n16:two\n"Tacet" r16\nn16:four',
            "time=4/4 <C> n16\nn16\n<F> n16\n<G> n16",
        ),
        '| C | N.C. | "Tacet" F | G |\n: | one | two | | four |',
        "chords-of-part",
    ),
    "letters over one part, names over another": (
        ("time=4/4 [A] r16\n[B] r16", 'time=4/4 "Verse" <C> n16:one\n"Chorus" <F> n16:two'),
        "== A Verse\n| C |\n: | one |\n== B Chorus\n| F |\n: | two |",
        "section-by-words",
    ),
    "names of sections over a part that only plays": (
        ("time=4/4 r16\nr16", "time=4/4 [A] r16\n[B] r16", "time=4/4 <C> n16:one\n<F> n16:two"),
        "== A\n| C |\n: | one |\n== B\n| F |\n: | two |",
        "form-of-part",
    ),
    "a fermata over a part without words and chords": (
        ("time=4/4 <C> n16\n<F> n16", "time=4/4 n16\nn16*fermata"),
        "| C | F @fermata |",
        "",
    ),
    "an intro over the piano": (
        (
            "time=4/4 r16\nr16\n<C> n16:low\n<F> n16:tide",
            "time=4/4 <Am> n16\n<G> n16\n<C> n16\n<F> n16",
        ),
        "| Am | G | C | F |\n: | | | low | tide |",
        "chords-of-part",
    ),
    "more chords over the piano": (
        (
            "time=4/4 <C> n16:one\n<F> n16:two\nn16:three",
            "time=4/4 <C> n8 <Am> n8\n<F> n16\n<F> n8 <G> n8",
        ),
        "| C Am | F | / / G / |\n: | one | two | three |",
        "chords-of-part",
    ),
    "the same chords in two spellings, over a part that transposes": (
        (
            "time=4/4 <C#m> n16:one\n<F#> n16:two",
            "trans=-1,-2 time=4/4 <Ebm> n16\n<Ab> n16",
        ),
        "| C#m | F# |\n: | one | two |",
        "",
    ),
    "a part that plays something else": (
        ("time=4/4 <C> n16:one\n<F> n16:two", "time=4/4 <Am> n16\n<F> n8 <G> n8"),
        "| C | F |\n: | one | two |",
        "chords-of-other-part",
    ),
    "chords typed over the piano": (
        (
            "time=4/4 <C> n16:one\n<F> n16:two\nn16:three\nn16:four",
            'time=4/4 n16\nn16\n"Dm7" n8 "G7" n8\n"C" n16',
        ),
        "| C | F | Dm7 G7 | C |\n: | one | two | three | four |",
        "chords-of-part",
    ),
    "the singer rests, the band plays": (
        (
            "time=4/4 <C> n16:one\nmulti=2 r16\nr16\n<F> n16:two",
            "time=4/4 <C> n16\n<G> n16\n<Am> n16\n<F> n16",
        ),
        "| C | G | Am | F |\n: | one | | | two |",
        "chords-of-part",
    ),
    "two chords twice over a long note": (
        ("time=4/4 <C> <F> <C> <F> n16:one\n<G> n16:two",),
        "| C F C F | G |\n: | one | two |",
        "chords-spread",
    ),
    "chords over a long note, whose beats the piano has": (
        ("time=4/4 <C> <F> n16:one\n<G> n16:two", "time=4/4 <C> n12 <F> n4\n<G> n16"),
        "| C / / F | G |\n: | one | two |",
        "chords-of-part chords-spread",
    ),
    "only the bass changes over the piano": (
        ("time=4/4 <C/E> n16:one\nn16:two\n<F> n16:three", "time=4/4 n16\n<C> n16\nn16"),
        "| C/E | C | F |\n: | one | two | three |",
        "chords-of-part",
    ),
    "a bass that the piano leaves out": (
        ("time=4/4 <C/E> n16:one\nn16:two\n<F> n16:three", "time=4/4 <C> n16\n<C> n16\n<F> n16"),
        "| C/E | % | F |\n: | one | two | three |",
        "",
    ),
    "a chord with more notes over the piano": (
        ("time=4/4 <C> n16:one\nn16:two\nn16:low", "time=4/4 <C6> n16\n<C6> n16\n<G7> n16"),
        "| C | % | G7 |\n: | one | two | low |",
        "chords-of-part",
    ),
    "one chord of many that differs": (
        (
            "time=4/4 <C> n16:one\n<F> n16:two\n<G> n16:three\n<C> n16:four\n<F> n16:low\nn16:sea",
            "time=4/4 <C> n16\n<F> n16\n<Bb> n8 <F> n8\n<C> n16\n<F> n16\n<G> n16",
        ),
        "| C | F | G | C |\n: | one | two | three | four |\n| F | G |\n: | low | sea |",
        "chords-of-part",
    ),
    "a chord over a bar in which the other part has one too": (
        ("time=4/4 <C> n16:one\n<F> n16:two", "time=4/4 n8 <Am> n8\nn16"),
        "| C Am | F |\n: | one | two |",
        "chords-of-part",
    ),
    "chords over the part that sings one verse of two": (
        (
            "time=4/4 n8:one;two n8:low;far\nn8:tide;lamp n8:day;sea",
            "time=4/4 <C> n16:one\n<F> n16:tide",
        ),
        "| C | F |\n1: | one low | tide day |\n2: | two far | lamp sea |",
        "chords-of-part words-of-part",
    ),
    "the singer rests, another part has all chords": (
        (
            "time=4/4 n16:one\nmulti=2 r16\nr16\nn16:two",
            "time=4/4 <C> n16\n<G> n16\n<Am> n16\n<F> n16",
        ),
        "| C | G | Am | F |\n: | one | | | two |",
        "chords-of-part",
    ),
}


@each("name", sorted(PARTS))
def test_chords_of_all_parts(name: str) -> None:
    """No chord is lost that only one of the parts has, and a part that differs is reported."""
    parts, wanted, code = PARTS[name]
    found = codes_read_as(score(*parts), wanted)
    assert found - {"no-key"} == set(code.split())


TURNS: dict[str, tuple[tuple[str, ...], str, str]] = {
    "one has the verse, the other the chorus": (
        (
            "time=4/4 <C> n16:one\n<F> n16:two\n<G> r16\n<C> r16",
            "time=4/4 r16\nr16\nn16:three\nn16:four",
        ),
        "| C | F | G | C |\n: | one | two | three | four |",
        "words-of-parts",
    ),
    "line after line": (
        (
            "time=4/4 <C> n16:one\n<F> r16\n<G> n16:three\n<C> r16",
            "time=4/4 r16\nn16:two\nr16\nn16:four",
        ),
        "| C | F | G | C |\n: | one | two | three | four |",
        "words-of-parts",
    ),
    "an upbeat in the last bar of the other": (
        ("time=4/4 <C> n8:one n4:low r4\n<F> r16", "time=4/4 r12 n4:oh\nn16:two"),
        "| C | F |\n: | one low oh | two |",
        "words-of-parts",
    ),
    "three singers": (
        (
            "time=4/4 <C> n16:one\n<F> r16\n<G> r16",
            "time=4/4 r16\nn16:two\nr16",
            "time=4/4 r16\nr16\nn16:three",
        ),
        "| C | F | G |\n: | one | two | three |",
        "words-of-parts",
    ),
    "a word that the first one holds": (
        ("time=4/4 <C> n16:one_\n<F> n16", "time=4/4 r16\nn16:two"),
        "| C | F |\n: | one | two |",
        "words-of-parts",
    ),
    "two verses each, then both at once": (
        (
            "time=4/4 <C> n16:one\n<F> n16:low\n<C> r16\n<F> r16\n<G> n16:we\n<C> n16:sing",
            "time=4/4 r16\nr16\nn16:two\nn16:high\nn16:we\nn16:sing",
        ),
        "| C | F | C | F |\n: | one | low | two | high |\n| G | C |\n: | we | sing |",
        "words-of-parts words-of-part",
    ),
    "an echo in one bar beside words at once": (
        ("time=4/4 <C> n16:one\n<F> r16\n<G> n16:we", "time=4/4 n16:ooh\nn16:hey\nn16:ah"),
        "| C | F | G |\n: | one | | we |",
        "words-of-part",
    ),
    "no words where the other rests": (
        ("time=4/4 r16\n<C> n16:one\n<F> n16:two\nr16", "time=4/4 n16:ooh\nr16\nr16\nn16:Ah,"),
        "| N.C. | C | F | % |\n: | | one | two | |",
        "no-chord-yet words-of-part",
    ),
    "both at once throughout": (
        ("time=4/4 <C> n16:one\n<F> n16:two", "time=4/4 n16:ooh\nn16:ah"),
        "| C | F |\n: | one | two |",
        "words-of-part",
    ),
}


@each("name", sorted(TURNS))
def test_singers_who_take_turns(name: str) -> None:
    """The words of whoever sings are written; what is taken and what is left out is reported."""
    parts, wanted, code = TURNS[name]
    found = codes_read_as(score(*parts), wanted)
    assert found - {"no-key"} == set(code.split())


def test_typed_chords_before_hidden_symbols() -> None:
    """Symbols that are not printed are no chords where another part types them."""
    source = score('time=4/4 "C" n16\n"F" n8 "G7" n8', "time=4/4 <Am> n16\n<F> n16")
    read = taken(source.replace(b"<harmony>", b'<harmony print-object="no">'))
    assert body(read.chart) == "| C | F G7 |"


def test_backing_singers_take_no_turn() -> None:
    """A part that is named as one behind the singer has no words of the song."""
    parts = TURNS["line after line"][0]
    named = score(*parts).replace(b"<part-name>Part 2<", b"<part-name>Backing Vocals<")
    assert body(taken(named).chart).splitlines()[-1] == ": | one | | three | |"


def test_a_singer_asked_for_sings_alone() -> None:
    """Whoever names a part wants its words, and no others."""
    read = taken(score(*TURNS["line after line"][0]), "Part 2")
    assert body(read.chart).splitlines()[-1] == ": | | two | | four |"


def test_signs_of_both_parts() -> None:
    """A jump over the voice is not lost beside a fermata in the part with the chords."""
    above = 'time=4/4 seg n16:one\nn16:two |: \nn16:more n16*fermata "D.S." :|'
    below = "time=4/4 <C> n16:one\n<F> n16:two\n<G> n16*fermata:more ||"
    chart = taken(score(above, below)).chart
    marks = {mark.kind for bar in iter_bars(chart.sections) for mark in bar.marks}
    assert marks == {"segno", "D.S.", "fermata"}
    assert ":|" in body(chart)


def test_a_part_asked_for_keeps_its_own_chords() -> None:
    """Whoever names a part wants what stands in it, and no chords of another."""
    read = taken(score(*PARTS["more chords over the piano"][0]), "Part 1")
    assert body(read.chart) == "| C | F | % |\n: | one | two | three |"


def test_what_a_lower_part_types_in_words() -> None:
    """A tempo, names of sections and jumps that only another part types are not lost."""
    above = "time=4/4 <C> n16:one\n<F> n16:two\n<G> n16:three\n<C> n16:four"
    below = 'time=4/4 "♩_=_88" n16\nn16 "Fine"\n"Chorus" n16\nn16 "D.C._al_Fine"'
    read = taken(score(above, below))
    assert read.chart.setting("tempo") == 88
    assert body(read.chart).replace("\n\n", "\n") == (
        "| C | F @fine |\n: | one | two |\n== Chorus\n| G | C @D.C. al Fine |\n: | three | four |"
    )
    assert "form-of-part" in codes(read)
