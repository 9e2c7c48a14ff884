"""Scores as notation programs export them, a class of its own each, with the chart that a musician
would write.

They were written down before the reader was tried on them: of the first thirty 22 were right at
first sight, and five in another way that is as good.
"""

from tests.interchange.scores import score, with_elements


def _symbol(root: str, kind: str, more: str = "", text: str = "") -> str:
    shown = f' text="{text}"' if text else ""
    letter, alter = root[0], {"b": "-1", "#": "1", "": ""}[root[1:]]
    sign = f"<root-alter>{alter}</root-alter>" if alter else ""
    return (
        f"<harmony><root><root-step>{letter}</root-step>{sign}</root>"
        f"<kind{shown}>{kind}</kind>{more}</harmony>"
    )


def _degree(value: int, alter: int, what: str) -> str:
    return (
        f"<degree><degree-value>{value}</degree-value><degree-alter>{alter}</degree-alter>"
        f"<degree-type>{what}</degree-type></degree>"
    )


def _signed(words: str, sign: str) -> str:
    return (
        f"<direction><direction-type><words>{words}</words></direction-type>"
        f"<direction-type><{sign}/></direction-type></direction>"
    )


def _sung(length: int, *lyrics: str, tie: str = "") -> str:
    return (
        "<note><pitch><step>G</step><octave>4</octave></pitch>"
        f"<duration>{length}</duration>{tie}<voice>1</voice>{''.join(lyrics)}</note>"
    )


_FRAME = (
    "<frame><frame-strings>6</frame-strings><frame-frets>4</frame-frets>"
    + "".join(
        f"<frame-note><string>{string}</string><fret>{fret}</fret></frame-note>"
        for string, fret in ((6, 3), (5, 2), (4, 0), (3, 0), (2, 0), (1, 3))
    )
    + "</frame>"
)
_UNPITCHED = (
    "<note><unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched>"
    "<duration>4</duration><voice>1</voice><notehead>x</notehead></note>"
)
_PERCUSSION = "<attributes><clef><sign>percussion</sign></clef></attributes>"
_ELIDED = (
    "<lyric number='1'><syllabic>end</syllabic><text>ry</text><elision>‿</elision>"
    "<syllabic>single</syllabic><text>old</text></lyric>"
)

EXPORTED: dict[str, tuple[bytes, str]] = {
    "a pick-up in three, two verses, a last bar that lacks it": (
        score(
            "time=3/4 key=-1M imp no=0 n4:The;A\n<F> n12:low;far\n<Bb> n8:tide n4:is;light\n"
            "<C7> n12:ris-;turn-\n<F> n8:ing;ing"
        ),
        "| F | Bb | C7 | F |\n1: The | low | tide is | ris- | ing |\n"
        "2: A | far | light | turn- | ing |",
    ),
    "three endings": (
        score(
            "time=4/4 |: <C> n16\n<F> n16\n1[ <G> n16 :| ]1\n2[ <Am> n16 :| ]2\n3[ <C> n16 || ]3"
        ),
        "|: C | F |1. G :|2. Am :|3. C ||",
    ),
    "an ending for two times": (
        score("time=4/4 |: <C> n16\n<F> n16\n1,2[ <G> n16 :| ]1,2\n3[ <C> n16 ]3"),
        "|: C | F |1.2. G :|3. C |",
    ),
    "from the sign to the coda, with a way to it inside a repeat": (
        with_elements(
            score(
                "time=4/4 <C> n16\n|: seg <F> n16\n<G> n16 {tocoda}\n<Am> n16 :|\n"
                '<Dm> n16 "D.S._al_Coda" snd:dalsegno=segno\n"Coda" coda <F> n16\n<C> n16'
            ),
            {
                "tocoda": "<direction><direction-type><words>To Coda</words></direction-type>"
                '<sound tocoda="coda"/></direction>'
            },
        ),
        "| C |\n|: @segno F | G @to-coda | Am :| Dm @D.S. al Coda |\n== Coda\n| @coda F | C |",
    ),
    "chords off the beat and late in the bar": (
        score("time=4/4 <C> n6 <G> n10\n<Am> n12 <F> n4\n<C> n14 <G> n2\n<C> n16"),
        "| C <G | Am / / F | C / / _,G | C |",
    ),
    "a chord inside a beat, which nothing strikes again": (
        score("time=6/8 <D7> n4 <G> n2 n6\n<C> n12"),
        "| D7,_,G _ | C |",
    ),
    "no chord in mid-bar": (
        score("time=4/4 <C> n8 <N.C.> n8\nn16\n<F> n16"),
        "| C N.C. | N.C. | F |",
    ),
    "a part for a tenor saxophone": (
        score("time=4/4 key=2M trans=-8,-14 <D> n16:la\n<A7> n16:lo\n<D> n16:li"),
        "| C | G7 | C |\n: | la | lo | li |",
    ),
    "two voices on a staff, each with its own words": (
        score("time=4/4 <C> n16:one b16 v2 n16:;two\nv1 <F> n16:more b16 v2 n16:;still"),
        "| C | F |\n1: | one | more |\n2: | two | still |",
    ),
    "two staves, symbols at the lower one": (
        score("time=4/4 s1 n16:la b16 s2 <C> n8 <F> n8\ns1 n16:lo b16 s2 <G> n16"),
        "| C F | G |\n: | la | lo |",
    ),
    "four verses, the last two shorter": (
        score("time=4/4 <C> n16:a;b;c;d\n<F> n16:e;f;g\n<G> n16:h;i\n<C> n16:j;k;l;m"),
        "| C | F | G | C |\n1: | a | e | h | j |\n2: | b | f | i | k |\n"
        "3: | c | g | | l |\n4: | d | | | m |",
    ),
    "a syllable held over chords and bars": (
        score("time=4/4 <C> n8:la_ <F> n8\n<G> n16\n<C> n16:lo"),
        "| C F | G | C |\n: | la / _ | _ | lo |",
    ),
    "two syllables on one note": (
        with_elements(
            score("time=4/4 <C> n8:we- {elided}\n<F> n16:tide"), {"elided": _sung(8, _ELIDED)}
        ),
        "| C | F |\n: | wery old | tide |",
    ),
    "bars of rest before a new meter": (
        score("time=4/4 <C> n16\nmulti=2 r16\nr16\ntime=3/4 <F> n12\n<G> n12"),
        "| C | rest 2 | 3/4 F | G |",
    ),
    "off the beat in six eight": (
        score("time=6/8 <C> n8 <G> n4\n<Am> n6 <F> n4 <G> n2\n<C> n12"),
        "| C _,G,_ | Am F,_,G | C |",
    ),
    "altered, added and left-out degrees": (
        with_elements(
            score("time=4/4 {1} n16\n{2} n16\n{3} n16\n{4} n16"),
            {
                "1": _symbol("C", "dominant", _degree(9, -1, "add") + _degree(11, 1, "add")),
                "2": _symbol("F", "major", _degree(9, 0, "add")),
                "3": _symbol("Bb", "dominant-ninth", _degree(5, 1, "alter")),
                "4": _symbol("G", "major", _degree(3, 0, "subtract")),
            },
        ),
        "| C7(b9,#11) | Fadd9 | Bb9(#5) | G5 |",
    ),
    "kinds with texts of many hands": (
        with_elements(
            score("time=4/4 {1} n16\n{2} n16\n{3} n16\n{4} n16"),
            {
                "1": _symbol("D", "minor-seventh", text="-7"),
                "2": _symbol("C", "major-seventh", text="Δ7"),
                "3": _symbol("F#", "half-diminished", text="ø7"),
                "4": _symbol("B", "other", text="7alt"),
            },
        ),
        "| Dm7 | Cmaj7 | F#m7(b5) | B7alt |",
    ),
    "a capo and a frame": (
        with_elements(
            score('time=4/4 key=1M "Capo_3" {1} n16\n<C> n16\n<G> n16'),
            {"1": _symbol("G", "major", _FRAME)},
        ),
        "| G | C | G |",
    ),
    "a percussion part before the voice": (
        with_elements(
            score(
                "time=4/4 {clef} {u} {u} {u} {u}\n{u} {u} {u} {u}",
                "time=4/4 <C> n16:la\n<F> n16:lo",
            ),
            {"clef": _PERCUSSION, "u": _UNPITCHED},
        ),
        "| C | F |\n: | la | lo |",
    ),
    "a chord tied over the bar line, another written again": (
        score("time=4/4 <C> n16\nn8 <F> n8\n<F> n16\n<C> n16"),
        "| C | / / F / | F | C |",
    ),
    "key and meter change in mid-song": (
        score("time=4/4 key=0M <C> n16\n<G> n16\nkey=2M time=3/4 <D> n12\n<A7> n12\n<D> n12"),
        "| C | G |\nkey: D major\nmeter: 3/4\n| D | A7 | D |",
    ),
    "sections by rehearsal marks": (
        score("time=4/4 [A] <C> n16\n<F> n16 ||\n[B] <Am> n16\n<G> n16"),
        "== A\n| C | F ||\n== B\n| Am | G |",
    ),
    "a pick-up into a repeat": (
        score(
            "time=4/4 imp no=0 n4:Oh;And\n|: <C> n16:la;lo\n<F> n12:li;le imp n4:so;no :|\n<C> n16"
        ),
        "|: C | F :|\n1: Oh | la | li so |\n2: And | lo | le no |\n| C |",
    ),
    "slash chords and inversions": (
        with_elements(
            score("time=4/4 <C/E> n8 <F> n8\n<G7/B> n16\n{1} n16"),
            {"1": _symbol("C", "major", "<inversion>2</inversion>")},
        ),
        "| C/E F | G7/B | C/G |",
    ),
    "chords in one part, words in another": (
        score("time=4/4 n16:la\nn16:lo", "time=4/4 <C> n8 <F> n8\n<G> n16"),
        "| C F | G |\n: | la | lo |",
    ),
    "a triplet of chords": (
        with_elements(
            score("time=4/4 {div} <C> n4 <F> n4 <G> n4 <Am> n36\n<C> n48"),
            {"div": "<attributes><divisions>12</divisions></attributes>"},
        ),
        "| C,F,G Am / / | C |",
    ),
    "chords behind a forward and before their place": (
        score("time=4/4 <C> n8 b8 f4 <F> f4 n8\nn8 <G@-8> n8\n<C> n16"),
        "| C F / / | G | C |",
    ),
    "a syllable under both notes of a chord": (
        with_elements(
            score("time=4/4 <C> {n} {c}\n<F> n16:lo"),
            {
                "n": _sung(16, "<lyric number='1'><text>la</text></lyric>"),
                "c": "<note><chord/><pitch><step>B</step><octave>4</octave></pitch><duration>16"
                "</duration><voice>1</voice><lyric number='1'><text>la</text></lyric></note>",
            },
        ),
        "| C | F |\n: | la | lo |",
    ),
    "five eight in two groups": (
        score("time=3+2/8 <C> n6 <F> n4\n<G> n10"),
        "| C / / F / | G |",
    ),
    "an ending that nobody closes": (
        score("time=4/4 |: <C> n16\n1[ <G> n16 :| ]1\n2[ <C> n16\n<F> n16\n<C> n16"),
        "|: C |1. G :|2. C | F | C |",
    ),
    "humming, and a verse with a name": (
        with_elements(
            score("time=4/4 <C> {h}\n<F> {w}"),
            {
                "h": _sung(16, "<lyric number='1'><humming/></lyric>"),
                "w": _sung(16, "<lyric name='verse 1'><text>la</text></lyric>"),
            },
        ),
        "| C | F |\n1: | (humming) | la |",
    ),
    "two voices that sing the same words": (
        score("time=4/4 <C> n8:la n8:lu b16 v2 n4:la n12:lu\nv1 <F> n16:lo b16 v2 n16:lo"),
        "| C | F |\n: | la lu | lo |",
    ),
    "two voices that part": (
        score("time=4/4 <C> n16:la b16 v2 n16:la\nv1 <F> n16:lo b16 v2 n16:ah"),
        "| C | F |\n1: | la | lo |\n2: | la | ah |",
    ),
    "the sign of a coda beside its words": (
        score('time=4/4 seg <C> n16\n<F> n16 "To" coda\n<G> n16 "D.S._al" coda\ncoda <C> n16'),
        "| @segno C | F @to-coda | G @D.S. al Coda |\n| @coda C |",
    ),
    "the sign of a coda between its words": (
        with_elements(
            score("time=4/4 seg <C> n16\n<F> n16 {to}\n<G> n16 {back}\ncoda <C> n16"),
            {"to": _signed("To ", "coda"), "back": _signed("D.S. al ", "coda")},
        ),
        "| @segno C | F @to-coda | G @D.S. al Coda |\n| @coda C |",
    ),
    "how often, typed over a repeat": (
        score('time=4/4 |: "Play_4x" <C> n16\n<F> n16 :|\n<G> n16\n|: <C> n16 "(3_times)" :|'),
        "|: C | F :| x4\n| G |: C :| x3",
    ),
    "a section over the chord before it": (
        score("time=4/4 [A] <F> n16\n<C> n16\nn16\n[B] n16\n<F> n16\n<C> n16"),
        "== A\n| F | C | % |\n== B\n| C | F | C |",
    ),
}
