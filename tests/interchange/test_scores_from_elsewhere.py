"""Scores in which programs and people say things in further ways, each with the chart that a
musician would make of it.

Source: the MusicXML 4.0 specification for what the elements mean; common practice for the charts,
no source.
"""

from tests.each import each
from tests.interchange.reading import body, reads_back, taken
from tests.interchange.scores import score, with_elements

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
    "an ending for the first to the third time": (
        "time=4/4 |: <C> n16\n1-3[ <F> n16 :| ]1-3\n4[ <G> n16 || ]4",
        "|: C |1.2.3. F :|4. G ||",
    ),
    "hyphens on both sides": (
        "time=4/4 <C> n8:lan- n8:-tern\n<F> n16:light",
        "| C | F |\n: | lantern | light |",
    ),
    "names in another language": (
        'time=4/4 "Estrofa" <C> n16\n<F> n16\n"Coro" <G> n16\n<C> n16',
        "== Estrofa\n| C | F |\n== Coro\n| G | C |",
    ),
    "the choir asked in": (
        'time=4/4 "Verse" <C> n16\n<F> n16\n"Coro" <G> n16\n<C> n16',
        '== Verse\n| C | F | "Coro" G | C |',
    ),
    "names before the words to be sung": (
        "time=4/4 <C> n16:Verse:~Low\n<F> n16:tide\n<G> n16:[Chorus]~Come\n<C> n16:home",
        "== Verse\n| C | F |\n: | Low | tide |\n== Chorus\n| G | C |\n: | Come | home |",
    ),
    "names of verses one over another": (
        "time=4/4 <C> n16:Verse~1:~Low;Verse~2:~High\n<F> n16:tide;wind",
        "== Verse\n| C | F |\n1: | Low | tide |\n2: | High | wind |",
    ),
    "a name before an upbeat": (
        "time=4/4 <C> n16:Low\n<F> n12:tide n4:(Chorus)~Come\n<G> n16:home\n<C> n16:now",
        "| C | F |\n: | Low | tide Come |\n== Chorus\n| G | C |\n: | home | now |",
    ),
    "words that only look like names": (
        "time=4/4 <C> n16:He~said:~go\n<F> n16:(bridge~over)",
        "| C | F |\n: | He said: go | (bridge over) |",
    ),
}


@each("name", sorted(SCORES))
def test_further_ways(name: str) -> None:
    """Each is the chart that was written for it, and reads back."""
    source, wanted = SCORES[name]
    chart = taken(score(source)).chart
    reads_back(chart)
    assert body(chart).replace("\n\n", "\n") == wanted


def test_a_jump_in_two_lines() -> None:
    """A jump that is typed in two lines is one, and no name of a section stands in it."""
    text = "<direction><direction-type><words>D. S. al\n Coda</words></direction-type></direction>"
    data = with_elements(score("time=4/4 <C> n16\n<F> n16 {jump}"), {"jump": text})
    assert body(taken(data).chart) == "| C | F @D.S. al Coda |"


def test_few_chords_typed_in_another_part() -> None:
    """One symbol that is more than a letter, and a letter beside it, make a part one of chords."""
    voice = score("time=4/4 n16:low\nn16:tide").decode()
    part = '<part id="P2">{}</part>'
    words = "<direction><direction-type><words>{}</words></direction-type></direction>"
    rest = '<note><rest measure="yes"/><duration>16</duration></note>'
    measures = "".join(
        f'<measure number="{i}">{words.format(text)}{rest}</measure>'
        for i, text in enumerate(("C", "Am7"), 1)
    )
    both = voice.replace("</part>", f"</part>{part.format(measures)}")
    assert body(taken(both.encode()).chart) == "| C | Am7 |\n: | low | tide |"


@each(
    ("swing", "words", "feel"),
    [
        ("<first>2</first><second>1</second><swing-type>eighth</swing-type>", "", "swing"),
        ("<first>2</first><second>1</second><swing-type>16th</swing-type>", "", "swing sixteenths"),
        ("<first>2</first><second>1</second>", '"Lazy_swing" ', "Lazy swing"),
        ("<first>1</first><second>1</second>", "", ""),
        ("<straight/>", "", ""),
    ],
)
def test_swing_of_playback(swing: str, words: str, feel: str) -> None:
    """A song whose playback swings has that feel, in the words of the page where it says it."""
    sound = f'<sound tempo="120"><swing>{swing}</swing></sound>'
    data = with_elements(score(f"time=4/4 {words}{{sound}} <C> n16\n<F> n16"), {"sound": sound})
    chart = taken(data).chart
    assert (chart.text("feel"), chart.setting("tempo"), body(chart)) == (feel, 120, "| C | F |")


def test_a_tempo_in_the_last_part() -> None:
    """A tempo that only a part has which is not taken holds all the same."""
    voice = score("time=4/4 <C> n16:low\n<F> n16:tide").decode()
    mark = "<metronome><beat-unit>quarter</beat-unit><per-minute>88</per-minute></metronome>"
    rest = '<note><rest measure="yes"/><duration>16</duration></note>'
    part = (
        f'<part id="P2"><measure number="1"><direction><direction-type>{mark}</direction-type>'
        f'</direction>{rest}</measure><measure number="2">{rest}</measure></part>'
    )
    chart = taken(voice.replace("</part>", f"</part>{part}").encode()).chart
    assert (chart.setting("tempo"), body(chart)) == (88, "| C | F |\n: | low | tide |")


@each("mark", ["<rehearsal>x4</rehearsal>", '<words enclosure="rectangle">4x</words>'])
def test_a_count_in_a_box(mark: str) -> None:
    """How often a repeat is played is no name of a section, whatever stands around it."""
    said = f"<direction><direction-type>{mark}</direction-type></direction>"
    data = with_elements(score("time=4/4 |: <C> n16\n{said} <F> n16 :|\n<G> n16"), {"said": said})
    assert body(taken(data).chart) == "|: C | F :| x4\n| G |"


def test_signs_without_width_are_not_sung() -> None:
    """Blanks and joiners without width, and marks of byte order, say nothing."""
    chart = taken(score("time=4/4 <C> n16:\ufefflow\n<F> n16:tide\u200b")).chart
    assert body(chart) == "| C | F |\n: | low | tide |"


@each(
    ("kind", "text", "chord"),
    [
        ("dominant", "7(b9,#5)", "C7(#5,b9)"),
        ("minor-seventh", "m7b5", "Cm7(b5)"),
        ("major", "m", "C"),
        ("dominant", "maj7", "C7"),
    ],
)
def test_a_fifth_that_only_the_text_alters(kind: str, text: str, chord: str) -> None:
    """What is printed is taken where it says another fifth; where it says another chord, the kind
    is."""
    symbol = (
        f'<harmony><root><root-step>C</root-step></root><kind text="{text}">{kind}</kind></harmony>'
    )
    data = with_elements(score("time=4/4 {symbol} n16\n<F> n16"), {"symbol": symbol})
    assert body(taken(data).chart) == f"| {chord} | F |"


@each(
    "name",
    [
        *("Verse I", "Verse two", "Head", "Head out", "A Section", "Part B", "Section C"),
        *("Verses 1-3", "Sax solo", "Middle 8", "Last Chorus", "Kehrvers", "Strofa 1"),
    ],
)
def test_names_of_sections_in_words(name: str) -> None:
    """Words over a bar that are nothing but the name of a section begin it."""
    text = name.replace(" ", "_")
    chart = taken(score(f'time=4/4 <C> n16\n<F> n16\n"{text}" <G> n16\n<C> n16')).chart
    assert body(chart).replace("\n\n", "\n") == f"| C | F |\n== {name}\n| G | C |"


@each("words", ["Headroom", "part of it", "a section leader", "Verse ends", "Break", "Drop"])
def test_words_that_name_no_section(words: str) -> None:
    """Words that only begin like a name stay words to the players."""
    text = words.replace(" ", "_")
    chart = taken(score(f'time=4/4 <C> n16\n<F> n16\n"{text}" <G> n16\n<C> n16')).chart
    assert body(chart) == f'| C | F | "{words}" G | C |'


def _parts(*sources: str) -> bytes:
    """A score of several parts, each typed in short."""
    first, *others = (score(source).decode() for source in sources)
    parts = (other[other.index("<part id") : other.index("</score-partwise>")] for other in others)
    more = (part.replace('id="P1"', f'id="P{i}"') for i, part in enumerate(parts, 2))
    return first.replace("</score-partwise>", "".join(more) + "</score-partwise>").encode()


def test_repeats_that_only_the_part_with_chords_has() -> None:
    """Bar lines of the part whose chords are taken stand in the chart too."""
    piano = "time=4/4 |: <C> n16\n<F> n16 :|\n<G> n16 ||"
    voice = "time=4/4 n16:low\nn16:tide\nn16:home"
    chart = taken(_parts(piano, voice)).chart
    assert body(chart) == "|: C | F :|\n: | low | tide |\n| G ||\n: | home |"


def test_signs_that_only_another_part_has() -> None:
    """Signs and jumps of a part that is not taken are taken where no other part has any."""
    voice = "time=4/4 <C> n16:low\n<F> n16:tide"
    result = taken(_parts(voice, "time=4/4 n16\nn16", 'time=4/4 seg n16\nn16 "D.S."'))
    assert body(result.chart) == "| @segno C | F @D.S. |\n: | low | tide |"
    assert any(finding.code == "form-of-part" for finding in result.findings)
