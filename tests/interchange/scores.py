"""Scores of our own, typed in short: one line a measure, and what a musician would make of them.

    <C> <Am7/G> <F@8>   a chord symbol, the last one offset by 8 divisions
    n4 n4:la n4:la;lo   a note, with a syllable, with a syllable for each of two verses;
    n4:la-  n4:la_      the word goes on; the syllable is held
    n4*fermata  r4  g   a sign over a note; a rest; a grace note
    b8  f8  v2  s2      backup, forward, the voice and the staff from here on
    "Soft_now"  [A]     words (with their blanks as _), a rehearsal mark
    !ff  seg  coda      dynamics and signs;  snd:dacapo=yes  a sound element
    |:  :|  :|x3  1[  ]1  ||     bar lines;  mid:|  mid||  the same in mid-measure
    time=3/4  key=-1  key=0m  trans=-1,-2  senza  mr1  mr-  multi=4  slash  slash-
    imp  no=X1  newrow           attributes of the measure and breaks
    {name}              elements in full, put in by ``with_elements``

There are four divisions to a quarter note.
"""

import re
from xml.sax.saxutils import escape, quoteattr

_KINDS = {
    "": "major",
    "m": "minor",
    "7": "dominant",
    "maj7": "major-seventh",
    "m7": "minor-seventh",
    "m7b5": "half-diminished",
    "dim7": "diminished-seventh",
    "dim": "diminished",
    "aug": "augmented",
    "6": "major-sixth",
    "m6": "minor-sixth",
    "sus4": "suspended-fourth",
    "9": "dominant-ninth",
    "m9": "minor-ninth",
    "N": "none",
}
_SYMBOL = re.compile(r"([A-G])([b#]?)([^/@]*)(?:/([A-G])([b#]?))?(?:@(-?\d+))?")
_ALTER = {"": "", "b": "<alter>-1</alter>", "#": "<alter>1</alter>"}


def _note(name: str, letter: str, sign: str) -> str:
    alter = _ALTER[sign].replace("alter", f"{name}-alter")
    return f"<{name}><{name}-step>{letter}</{name}-step>{alter}</{name}>"


def harmony(symbol: str) -> str:
    """A chord symbol as an element."""
    if symbol.startswith("N.C."):
        return (
            '<harmony><root><root-step text="">C</root-step></root>'
            '<kind text="N.C.">none</kind></harmony>'
        )
    match = _SYMBOL.fullmatch(symbol)
    assert match is not None, symbol
    letter, sign, kind, bass, bass_sign, offset = match.groups()
    inner = _note("root", letter, sign) + f"<kind>{_KINDS[kind]}</kind>"
    inner += _note("bass", bass, bass_sign) if bass else ""
    inner += f"<offset>{offset}</offset>" if offset else ""
    return f"<harmony>{inner}</harmony>"


def _lyrics(text: str) -> str:
    lyrics = ""
    for number, syllable in enumerate(text.split(";"), 1):
        if not syllable:
            continue
        extend = "<extend/>" if syllable.endswith("_") else ""
        goes_on = syllable.endswith("-")
        plain = escape(syllable.rstrip("_-").replace("~", " "))
        lyrics += (
            f'<lyric number="{number}"><syllabic>{"begin" if goes_on else "single"}</syllabic>'
            f"<text>{plain}</text>{extend}</lyric>"
        )
    return lyrics


def _timed(token: str, voice: str, staff: str, grace: bool = False) -> str:
    body, _, words = token.partition(":")
    body, *signs = body.split("*")
    pitch = "<rest/>" if body[0] == "r" else "<pitch><step>G</step><octave>4</octave></pitch>"
    length = "" if grace else f"<duration>{body[1:]}</duration>"
    notations = "".join(
        f"<{s}/>" if s == "fermata" else f"<articulations><{s}/></articulations>" for s in signs
    )
    return (
        f"<note>{'<grace/>' if grace else ''}{pitch}{length}<voice>{voice}</voice>{staff}"
        + (f"<notations>{notations}</notations>" if notations else "")
        + _lyrics(words)
        + "</note>"
    )


def _direction(inner: str) -> str:
    return f"<direction><direction-type>{inner}</direction-type></direction>"


def _barline(token: str) -> str:
    place = {"mid": "middle", "lef": "left"}.get(token[:3], "right")
    token = token.removeprefix("mid").removeprefix("left")
    inner = ""
    if token == "|:":
        place = "left"
        inner = '<repeat direction="forward"/>'
    elif token.startswith(":|"):
        times = f' times="{token[3:]}"' if token[2:] else ""
        inner = f'<bar-style>light-heavy</bar-style><repeat direction="backward"{times}/>'
    elif token == "||":
        inner = "<bar-style>light-light</bar-style>"
    elif token.endswith("["):
        place = "left"
        inner = f'<ending number="{token[:-1]}" type="start"/>'
    elif token.startswith("]"):
        inner = f'<ending number="{token[1:]}" type="stop"/>'
    return f'<barline location="{place}">{inner}</barline>'


def _attributes(name: str, value: str) -> str:
    if name == "time":
        beats, unit = value.split("/")
        inner = f"<time><beats>{beats}</beats><beat-type>{unit}</beat-type></time>"
    elif name == "key":
        mode = {"m": "<mode>minor</mode>", "M": "<mode>major</mode>"}.get(value[-1], "")
        inner = f"<key><fifths>{value.rstrip('mM')}</fifths>{mode}</key>"
    elif name == "trans":
        diatonic, chromatic = value.split(",")
        inner = (
            f"<transpose><diatonic>{diatonic}</diatonic><chromatic>{chromatic}</chromatic>"
            "</transpose>"
        )
    elif name == "multi":
        inner = f"<measure-style><multiple-rest>{value}</multiple-rest></measure-style>"
    else:
        inner = f"<{name}>{value}</{name}>"
    return f"<attributes>{inner}</attributes>"


_PLAIN = {
    "senza": "<attributes><time><senza-misura/></time></attributes>",
    "mr1": '<attributes><measure-style><measure-repeat type="start">1</measure-repeat>'
    "</measure-style></attributes>",
    "mr-": '<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>',
    "slash": '<attributes><measure-style><slash type="start"/></measure-style></attributes>',
    "slash-": '<attributes><measure-style><slash type="stop"/></measure-style></attributes>',
    "seg": _direction("<segno/>"),
    "coda": _direction("<coda/>"),
    "newrow": '<print new-system="yes"/>',
}


def measure(line: str, number: str) -> str:
    """One measure."""
    voice, staff, inner, implicit = "1", "", "", ""
    for token in line.split():
        if token.startswith("{"):
            inner += token
        elif token == "imp":
            implicit = ' implicit="yes"'
        elif token.startswith("no="):
            number = token[3:]
        elif token in _PLAIN:
            inner += _PLAIN[token]
        elif token.startswith("<"):
            inner += harmony(token[1:-1])
        elif token.startswith('"'):
            inner += _direction(f"<words>{escape(token[1:-1].replace('_', ' '))}</words>")
        elif token.startswith("[") and token.endswith("]"):
            inner += _direction(f"<rehearsal>{escape(token[1:-1].replace('_', ' '))}</rehearsal>")
        elif token.startswith("!"):
            inner += _direction(f"<dynamics><{token[1:]}/></dynamics>")
        elif token.startswith("snd:"):
            name, _, value = token[4:].partition("=")
            inner += f"<sound {name}={quoteattr(value)}/>"
        elif "|" in token or token.endswith("[") or token.startswith("]"):
            inner += _barline(token)
        elif re.fullmatch(r"[nr]\d+.*", token):
            inner += _timed(token, voice, staff)
        elif token.startswith("g"):
            inner += _timed(token, voice, staff, grace=True)
        elif token[0] in "bf" and token[1:].isdecimal():
            name = "backup" if token[0] == "b" else "forward"
            inner += f"<{name}><duration>{token[1:]}</duration></{name}>"
        elif token[0] == "v" and token[1:].isdecimal():
            voice = token[1:]
        elif token[0] == "s" and token[1:].isdecimal():
            staff = f"<staff>{token[1:]}</staff>"
        else:
            name, _, value = token.partition("=")
            assert value, token
            inner += _attributes(name, value)
    return f'<measure number="{number}"{implicit}>{inner}</measure>'


def part(text: str, part_id: str = "P1") -> str:
    """A part out of one line for each measure."""
    lines = [line for line in text.strip().splitlines() if line.strip()]
    first = "<attributes><divisions>4</divisions></attributes>"
    measures = "".join(measure(line, str(i)) for i, line in enumerate(lines, 1))
    measures = measures.replace(">", f">{first}", 1) if measures else ""
    return f'<part id="{part_id}">{measures}</part>'


def score(*parts: str, head: str = "") -> bytes:
    """A score of parts, each typed in short."""
    listed = "".join(
        f'<score-part id="P{i}"><part-name>Part {i}</part-name></score-part>'
        for i, _ in enumerate(parts, 1)
    )
    body = "".join(part(text, f"P{i}") for i, text in enumerate(parts, 1))
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<score-partwise version="3.1">'
        f"{head}<part-list>{listed}</part-list>{body}</score-partwise>"
    ).encode()


def with_elements(data: bytes, elements: dict[str, str]) -> bytes:
    """A score with elements in full in the places of their names in braces."""
    for name, element in elements.items():
        data = data.replace(f"{{{name}}}".encode(), element.encode())
    return data


FOUR = "<C> n16\n<F> n16\n<G> n16\n<C> n16\n"

CASES: dict[str, tuple[str, str]] = {
    # chords typed as words
    "typed chords": (
        'time=4/4 "Cmaj7" n16\n"Dm7" n8 "G7" n8\n"C" n16\n"Am7(b5)" n16',
        "| Cmaj7 | Dm7 G7 | C | Am7(b5) |",
    ),
    "typed chords in one text": (
        'time=4/4 "Dm7__G7" n16\n"Cmaj7_-_A7" n16\n"(G7)" n16\n<C> n16',
        "| Dm7 G7 | Cmaj7 A7 | (G7) | C |",
    ),
    "a letter over a section is no chord": (
        'time=4/4 "A" <C> n16\n<Dm> n16\n"B" <F> n16\n<C> n16',
        "== A\n| C | Dm |\n== B\n| F | C |",
    ),
    "words that look like chords": (
        'time=4/4 <C> "Go" n16\n"Do" <F> n16\n"Fine" <C> n16\n"Dim." n16',
        '| "Go" C | "Do" F | C @fine | % "Dim." |',
    ),
    "chords typed in two ways": (
        'time=4/4 <C> n16\n"Dm7" n16\n<G7> "G7" n16\n<C> n16',
        "| C | Dm7 | G7 | C |",
    ),
    "letters alone are chords where nothing else is": (
        'time=4/4 "C" n16\n"F" n16\n"G" n16\n"C" n16',
        "| C | F | G | C |",
    ),
    # chords over one note
    "three over four beats": ("time=4/4 <C> <F> <G> n16\n<C> n16", "| C / F G | C |"),
    "two over three beats": ("time=3/4 <C> <F> n12\n<C> n12", "| C / F | C |"),
    "two over four beats": ("time=4/4 <C> <F> n16\n<C> n16", "| C F | C |"),
    "two over one beat": ("time=4/4 <C> <F> n4 <G> n12\n<C> n16", "| C,F G / / | C |"),
    "three over two beats": ("time=4/4 <C> n8 <F> <G> <Am> n8\n<C> n16", "| C / F G,Am | C |"),
    "two over a bar of six eight": ("time=6/8 <C> <F> n12\n<C> n12", "| C F | C |"),
    "offsets say where": ("time=4/4 <C> <F@4> <G@8> n16\n<C> n16", "| C F G / | C |"),
    "five over four beats": (
        "time=4/4 <C> <F> <G> <Am> <Dm> n16\n<C> n16",
        "| C F G Am,Dm | C |",
    ),
    # places
    "half a beat of two two early": ("time=2/2 <C> n12 <F> n4\n<G> n16", "| C _,F | G |"),
    "half a beat of two two early, nothing after": (
        "time=2/2 <C> n12 <F> n4\nn16\n<G> n16",
        "| C _,F | / / | G |",
    ),
    "an eighth early in four four": (
        "time=4/4 <C> n14 <F> n2\nn16\n<G> n16\nn16",
        "| C | <F | G | % |",
    ),
    "off the beat": ("time=4/4 <C> n2 <F> n14\n<G> n16", "| C,F _ _ _ | G |"),
    "sixteenths": ("time=4/4 <C> n3 <F> n1 <G> n12\n<C> n16", "| C,_,_,F G / / | C |"),
    # measures
    "split by a repeat": (
        "time=4/4 <C> n16\n|: <F> n16\n<G> n12 :|\nimp no=X1 n4\n<C> n16\n<F> n16",
        "| C |\n|: F | G :|\n| C | F |",
    ),
    "split by a repeat, chords in both": (
        "time=4/4 |: <C> n16\n<G> n12 :|\nimp no=X1 <G7> n4\n<C> n16\n<F> n16",
        "|: C | 3/4 G :|\nmeter: 1/4\n| G7 | 4/4 C | F |",
    ),
    "split by a double bar": (
        "time=4/4 <C> n16\n<F> n8 ||\nimp no=X1 <G> n8\n<C> n16\n<F> n16",
        "| C | F G || C | F |",
    ),
    "split where a line ends": (
        "time=4/4 <C> n16\n<F> n8\nimp no=X1 newrow <G> n8\n<C> n16",
        "| C | F G | C |",
    ),
    "a short measure in mid-song": (
        "time=4/4 <C> n16\n<F> n8\n<G> n16\n<C> n16",
        "| C | 2/4 F | 4/4 G | C |",
    ),
    "a long measure before an upbeat": (
        "time=4/4 <C> n16\n|: <F> n16\n<G> n48 :|\nimp no=X1 n4:Oh\n<C> n16:la\n<F> n16",
        "| C |\n|: F | 12/4 G :|\nmeter: 4/4\n| C | F |\n: Oh | la | |",
    ),
    "the last measure lacks the pick-up": (
        "time=4/4 imp no=0 n4:And\n<C> n16:one\n<F> n16:two\n<C> n12:three",
        "| C | F | C |\n: And | one | two | three |",
    ),
    "no meter in three": (
        "<C> n12\n<F> n12\n<G> n12\n<C> n12",
        "| C | F | G | C |",
    ),
    "a long pick-up": (
        "time=4/4 r12 n4:Come\n<C> n16:on\n<F> n16:and\n<G> n16:hear\n<C> n16:it\n"
        "<Am> n16:a\n<F> n16:b\n<G> n16:c\n<C> n16:d",
        "| N.C. |\n| C | F | G | C |\n: Come | on | and | hear | it |\n| Am | F | G | C |\n"
        ": | a | b | c | d |",
    ),
    "a pick-up with a chord": (
        "time=4/4 imp no=0 <G7> n4\n<C> n16\n<F> n16",
        '"pick-up" G7 | C | F |',
    ),
    "rows begin with a chord": (
        "time=4/4 <C> n16\n<F> n16\n<G> n16\n<C> n16\nn16\n<F> n16\n<G> n16\n<C> n16",
        "| C | F | G | C | % | F | G | C |",
    ),
    "phrases of four with a long upbeat and endings": (
        "time=4/4 r12 n4:I\n|: <F> n16:see\n<Bb> n16\n<F> n8 <C> n8\n<F> n16\nn16\n<Bb> n16\n"
        "<F> n8 <G7> n8\n<C> n16\n<Bb> n16\n<F> n8 <Bb> n8\n1[ <F> n8 <C> n8\n<F> n16 :| ]1\n"
        "2[ <F> n8 <C> n8\n<F> n16 || ]2",
        "| N.C. |\n|: F | Bb | F C | F | % | Bb | F G7 | C |\n"
        ": I | see | | | | | | | |\n"
        "| Bb | F Bb |1. F C | F :|2. F C | F ||",
    ),
    "multi-measure rest": (
        "time=4/4 <C> n16\nmulti=3 r16\nr16\nr16\n<F> n16",
        "| C | rest 3 | F |",
    ),
    "measure repeats": ("time=4/4 <C> n8 <F> n8\nmr1 r16\nmr- <G> n16", "| C F | % | G |"),
    # repeats and ways through
    "a repeat that ends on the left of the next": (
        "time=4/4 |: <C> n16\n<F> n16\nleft:| <G> n16\n<C> n16",
        "|: C | F :|\n| G | C |",
    ),
    "played three times": (
        "time=4/4 |: <C> n16\n<F> n16 :|x3\n<G> n16",
        "|: C | F :| x3\n| G |",
    ),
    "first and second ending": (
        "time=4/4 |: <C> n16\n1[ <F> n16 :| ]1\n2[ <G> n16 || ]2",
        "|: C |1. F :|2. G ||",
    ),
    "jumps without spaces": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S.alCoda"\ncoda <C> n16',
        "| @segno C | F @to-coda | G @D.S. al Coda |\n| @coda C |",
    ),
    "a fine after four times": (
        'time=4/4 <C> n16\n<F> n16 "4x_Fine"\n<G> n16 "D.C.al_fine"',
        '| C | "4x" F @fine | G @D.C. al Fine |',
    ),
    "jumps by sound alone": (
        "time=4/4 snd:segno=1 <C> n16\n<F> n16\n<G> n16 snd:dalsegno=1",
        "| @segno C | F | G @D.S. |",
    ),
    # voices and staves
    "voices and backup": (
        "time=4/4 <C> n8 n8 b16 v2 <F@8> n16\n<G> n16",
        "| C F | G |",
    ),
    "harmonies on the second staff": (
        "time=4/4 s1 n16 b16 s2 <C> n8 <F> n8\ns1 n16 b16 s2 <G> n16",
        "| C F | G |",
    ),
    "harmonies on both staves": (
        "time=4/4 s1 <C> n8 <F> n8 b16 s2 <C> n8 <F> n8\ns1 <G> s2 <G> s1 n16 b16 s2 n16\n<C> n16",
        "| C F | G | C |",
    ),
    "measures without notes": ("time=4/4 <C>\n<F> <G>\n<C>", "| C | F G | C |"),
    "a negative offset": ("time=4/4 n16 <C@-16>\nn16 <F@-16> <G@-8>", "| C | F G |"),
    "time that only goes forward": ("time=4/4 <C> f8 <F> f8\n<G> f16", "| C F | G |"),
    "a letter and a name": (
        'time=4/4 [A] "Intro" <C> n16\n<F> n16\n[B] <G> n16',
        "== A Intro\n| C | F |\n== B\n| G |",
    ),
    "verses": (
        "time=4/4 <C> n8:la;lo n8:le-;lu\n<F> n16:lu;li",
        "| C | F |\n1: | la le- | lu |\n2: | lo lu | li |",
    ),
    "verse numbers in the words": (
        "time=4/4 <C> n8:1.~La;2.~Lo n8:le;lu\n<F> n16:lu;li",
        "| C | F |\n1: | La le | lu |\n2: | Lo lu | li |",
    ),
    "sections by rehearsal marks": (
        "time=4/4 [Verse] <C> n16\n<F> n16\n[Chorus] <G> n16\n<C> n16",
        "== Verse\n| C | F |\n== Chorus\n| G | C |",
    ),
    "no chord": ("time=4/4 <C> n16\n<N.C.> n16\n<F> n16", "| C | N.C. | F |"),
    "dynamics": ("time=4/4 !ff <C> n16\n<F> !p n16", '| "ff" C | "p" F |'),
}
