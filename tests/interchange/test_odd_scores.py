"""Scores that say things in odd ways: files not quite well formed, symbols typed in pieces or in
the wrong place, bars that are split."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.chart.model import MusicRow
from chartkit.interchange.intake_result import Refused
from tests.each import each
from tests.interchange.reading import body, codes, codes_read_as, reads_back, taken
from tests.interchange.scores import score, with_elements

_PLAIN = score('time=4/4 key=0M <C> n16:la "Sóft"\n<F> n16:lo')
_BODY = "| C | F |\n: | la | lo |"
_TEXT = _PLAIN.decode()

BROKEN = {
    "eight bits that say UTF-8": _TEXT.encode("latin-1"),
    "UTF-8 that says UTF-16": _TEXT.replace('encoding="UTF-8"', 'encoding="UTF-16"').encode(),
    "Greek letters in eight bits, with a bare ampersand": _TEXT.replace("UTF-8", "ISO-8859-7")
    .replace("ó", "ό")
    .replace("<part-name>", "<part-name>A & ")
    .encode("iso-8859-7"),
    "blanks before the declaration": b"\n  " + _PLAIN,
    "bytes behind the end": _PLAIN + b"\n\x00\x00\x1a",
    "a bare ampersand": _TEXT.replace("<part-name>", "<part-name>Tom & Ann").encode(),
    "an entity of HTML": _TEXT.replace("<part-name>", "<part-name>Tom&nbsp;Ann").encode(),
    "an entity that means markup": _TEXT.replace("<part-name>", "<part-name>&LT;b&GT;").encode(),
    "a control character": _TEXT.replace("<part-name>", "<part-name>\x0b").encode(),
}


@each("name", sorted(BROKEN))
def test_nearly_well_formed(name: str) -> None:
    """What a parser stumbles over but anybody can read is read, and the mending reported."""
    read = taken(BROKEN[name])
    assert body(read.chart).replace(' "Sóft"', "").replace(' "Sόft"', "") == _BODY
    assert "mended-xml" in codes(read)


@each(
    "data",
    [
        _PLAIN[:200],
        _PLAIN.replace(b"</measure>", b"", 1),
        b'<!DOCTYPE a [<!ENTITY b "c">]>' + _PLAIN.replace(b"la<", b"&b; & la<"),
    ],
    ids=["no measure whole", "an element left open", "entities of its own"],
)
def test_torn_files_stay_refused(data: bytes) -> None:
    """Nothing is made up: a file that breaks off before its music, leaves an element open or
    declares entities is refused as before."""
    with pytest.raises(Refused):
        taken(data)


_LATE = score("time=4/4 <C> n16:la\n<F> n16:lo\n<G> n8:li n8:le\n<C> n16:lu")


@each(
    ("end", "rows"),
    [
        ("</score-partwise>", "| C | F | G | C |\n: | la | lo | li le | lu |"),
        ("</measure></part>", "| C | F | G | C |\n: | la | lo | li le | lu |"),
        ("<text>le", "| C | F | G |\n: | la | lo | li |"),
    ],
)
def test_a_file_that_breaks_off(end: str, rows: str) -> None:
    """What is whole of a file that breaks off is read, and where it breaks off is reported."""
    read = taken(_LATE[: _LATE.index(end.encode()) + 3])
    assert body(read.chart) == rows
    (finding,) = [one for one in read.findings if one.code == "torn-score"]
    assert "breaks off" in finding.message
    assert finding.place == f"measure {rows.splitlines()[0].count('|') - 1}"


def test_letters_in_another_encoding_than_the_file_says() -> None:
    """Letters that are well-formed UTF-8 are that, whatever 8 bits the file names."""
    text = _TEXT.replace("UTF-8", "ISO-8859-1")
    read = taken(text.encode())
    assert body(read.chart) == _BODY.replace("| C", '| "Sóft" C', 1)
    assert "mended-xml" in codes(read)
    assert "mended-xml" not in codes(taken(text.encode("latin-1")))


ODD: dict[str, tuple[str, str, str]] = {
    # a bar in two measures without any sign of it
    "split with plain numbers": (
        "time=4/4 <C> n16:la\n<F> n12:lo\nn4:and\n<C> n16:li",
        "| C | F | C |\n: | la | lo and | li |",
        "",
    ),
    "split with a letter": (
        "time=4/4 <C> n16\n<F> n8\nno=2a <G> n8\n<C> n16",
        "| C | F G | C |",
        "",
    ),
    # a chord after the last note
    "behind the end": (
        "time=4/4 <C> n16 <F>\nn16\n<G> n16",
        "| C | F | G |",
        "chord-after-end",
    ),
    # finer than a chart can write
    "a sixteenth of two two": (
        "time=2/2 <C> n7 <F> n9\n<G> n8 <C> n7 <F> n1\n<C> n16",
        "| C,_,_,F _ | G C,_,_,F | C |",
        "chord-moved",
    ),
    # bars before the first chord, and songs without any
    "no chords at all": (
        "time=3/4 n12:la\nn12:lo",
        "| / / / | / / / |\n: | la | lo |",
        "no-chords",
    ),
    "slashes before the first chord": (
        "time=4/4 slash n16\nn16\nslash- <C> n16",
        "| / / / / | / / / / | C |",
        "",
    ),
    # an upbeat that fills a measure
    "a full upbeat with a chord": (
        "time=4/4 r12 <G7> n4:Oh\n<C> n16:la\n<F> n16:lo\n<G> n16\n<C> n16",
        "| / / / G7 |\n: | / Oh |\n| C | F | G | C |\n: | la | lo | | |",
        "",
    ),
    # ways through, typed
    "ways through in brackets and in full": (
        'time=4/4 <C> n16\n"(Fine)" <F> n16\n"go_to_Coda" <G> n16\n"D.S._𝄋_al_Coda_𝄌" <C> n16',
        "| C | F @fine | G @to-coda | C @D.S. al Coda |",
        "no-segno no-coda",
    ),
    "what is said behind a jump": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda"\n<G> n16 "D.S._al_Coda_w/o_repeats"\ncoda <C> n16',
        '| @segno C | F @to-coda | "w/o repeats" G @D.S. al Coda |\n| @coda C |',
        "",
    ),
    "rests under drawn slashes": (
        "time=4/4 <C> n16\nslash <F> r4 r4 <G> r4 r4\nr16\nslash- <C> n16",
        "| C | F / G / | / / / / | C |",
        "",
    ),
    "names of sections in brackets": (
        'time=4/4 "[Chorus]" <C> n16\n"Guitar_solo" <F> n16',
        "== Chorus\n| C |\n== Guitar solo\n| F |",
        "section-by-words",
    ),
    "N.C. beside a symbol": (
        'time=4/4 <C> n16\n"N.C." <F> n16\n"N.C." n16',
        "| C | F | N.C. |",
        "no-chord-beside-symbol",
    ),
    "signs of a coda": (
        'time=4/4 "𝄋_Segno" <C> n16\n<F> n16 "To_Coda_⊕"\n<G> n16 "D.S._al_⊕"\n"⊕_Coda" <C> n16',
        "| @segno C | F @to-coda | G @D.S. al Coda |\n== Coda\n| @coda C |",
        "section-by-words",
    ),
    "numbers of measures in boxes": (
        "time=4/4 [1] <C> n16\n<F> n16\n<G> n16\n<C> n16\n[5] <F> n16\n<G> n16\n"
        "<C> n16\n[8] <C> n16",
        "| C | F | G | C |\n| F | G | C | C |",
        "",
    ),
    "numbers of sections in boxes": (
        "time=4/4 [1] <C> n16\n<F> n16\n[2] <G> n16\n<C> n16",
        "== 1\n| C | F |\n== 2\n| G | C |",
        "",
    ),
    "a second ending that goes on": (
        "time=4/4 |: <C> n16\n<F> n16\n<G> n16\n<C> n16\n<Am> n16\n<F> n16\n1[ <G> n16\n"
        "<C> n16 :| ]1\n2[ <G> n16\n<Am> n16\n<F> n16\n<C> n16 || ]2",
        "|: C | F | G | C |\n| Am | F |1. G | C :|2. G | Am | F | C ||",
        "",
    ),
    # where a line of words begins
    "a capital behind a full stop": (
        "time=4/4 imp no=0 n4:Oh\n<C> n16:one\n<F> n16:two\n<G> n16:three\n<C> n12:four. n4:And\n"
        "<C> n16:five\n<F> n16:six\n<G> n16:I\n<C> n8:seven, n8:I",
        "| C | F | G | C |\n: Oh | one | two | three | four. |\n| C | F | G | C |\n"
        ": And | five | six | I | seven, I |",
        "",
    ),
    # keys by the last chord
    "no signature, minor": (
        "time=4/4 <Em> r16\n<Am> r16\n<B7> r16\n<Em> r16\n<Am> r16\n<Em> r16\n<B7> r16\n<Em> r16",
        "| Em | Am | B7 | Em |\n| Am | Em | B7 | Em |",
        "no-key",
    ),
    # chords typed as words
    "pieces of one symbol": (
        'time=4/4 "C" "maj7" n16\n"D" "m" "7" n16\n"B" "♭" n8 "F" "Softly" n8\n"G7" n16',
        '| Cmaj7 | Dm7 | Bb "Softly" F | G7 |',
        "typed-chord",
    ),
    "several over one note": (
        'time=4/4 "Dmaj7" "Bm7" n16\n"C" "C" n16\n"G7" n8 "Am7" "D7" n8\n<C> n16',
        "| Dmaj7 Bm7 | C | G7 / Am7 D7 | C |",
        "typed-chord",
    ),
    "basses alone": (
        'time=4/4 "C" n16\n"/B" n16\n"Am7" n8 "/_G" n8\n<F> "/A" n16\n"/G" n16',
        "| C | /B | Am7 /G | F/A | /G |",
        "typed-chord",
    ),
    "a bass before any chord": (
        'time=4/4 slash n16\n"/B" n16\nslash- <C> n16',
        '| / / / / | "/B" / / / / | C |',
        "chord-among-words",
    ),
    "small letters": (
        'time=4/4 "am" n16\n"dm7" n16\n"G" n16\n"C" n16',
        "| Am | Dm7 | G | C |",
        "typed-chord",
    ),
    "H for B": (
        'time=4/4 "H7" n16\n"Em" n16\n"Am" n16\n"Em" n16',
        "| B7 | Em | Am | Em |",
        "typed-chord",
    ),
    "German names": (
        'time=4/4 "Es" n16\n"As" n8 "B7" n8\n"Fism7" n16\n"Es" n16',
        "| Eb | Ab Bb7 | F#m7 | Eb |",
        "typed-chord",
    ),
    "small letters alone": (
        'time=4/4 "a" n16\n"d" n16\n"E7" n16\n"a" n16',
        "| Am | Dm | E7 | Am |",
        "typed-chord",
    ),
    "symbols with a star": (
        'time=4/4 "C" n16\n"Am7*" n16\n"Dm7" n16\n"G7*" n16',
        "| C | Am7 | Dm7 | G7 |",
        "typed-chord",
    ),
    "a row of bars over the first of them": (
        'time=4/4 "|_C_|_Am_D7_|_G_|" n16\nn16\nn16\n<C> n16',
        "| C | Am D7 | G | C |",
        "typed-chord",
    ),
    "a row of bars over one": (
        'time=4/4 "C_|_Am" n16\n"F" n16\n"G7" n16\n"C" n16',
        "| C Am | F | G7 | C |",
        "typed-chord",
    ),
    "symbols as rehearsal marks": (
        "time=4/4 [Am7] n16\n[D] n16\n[Gmaj7] n16\n[C] n16",
        "| Am7 | D | Gmaj7 | C |",
        "typed-chord",
    ),
    "letters of sections that could be chords": (
        'time=4/4 [A] "Dm7" n16\n"G" n16\n[B] "C" n16\n"As_before" n16',
        '== A\n| Dm7 | G |\n== B\n| C | % "As before" |',
        "typed-chord",
    ),
    "a row of chords under the notes": (
        "time=4/4 n8:C;la n8:G7;lo\nn16:Am;li\nn16:F;lu\nn16:C;end",
        "| C G7 | Am | F | C |\n: | la / lo | li | lu | end |",
        "sung-chords",
    ),
    "several numbers before a verse": (
        "time=4/4 <C> n16:1.3.~Ky-\n<F> n16:rie\n<G> n16:2.Chri-",
        "| C | F | G |\n: | Ky- | rie | Chri- |",
        "words-of-verses",
    ),
    "numbers of verses in parentheses": (
        "time=4/4 <C> n16:(1)~low;[2]~far\n<F> n16:tide;out",
        "| C | F |\n1: | low | tide |\n2: | far | out |",
        "",
    ),
    "offsets of nothing over one note": (
        "time=4/4 <C> <G@0> n16\n<F@0> n16",
        "| C G | F |",
        "chords-spread",
    ),
    "a syllable that could be a chord": (
        "time=4/4 <C> n8:A n8:man\n<F> n16:Am\n<G> n16:E",
        "| C | F | G |\n: | A man | Am | E |",
        "",
    ),
    "a chord among words": (
        'time=4/4 <C> n16\n<F> n16 "2x:_Dm7"',
        '| C | "2x: Dm7" F |',
        "chord-among-words",
    ),
    "a letter beside chords": (
        'time=4/4 <C> n16\n<F> "E" n16',
        '| C | "E" F |',
        "chord-among-words",
    ),
}


def test_a_score_without_a_signature_may_be_in_minor() -> None:
    """The key is that of its chords."""
    assert str(taken(score(ODD["no signature, minor"][0])).chart.key) == "E minor"


@each("name", sorted(ODD))
def test_odd_ways(name: str) -> None:
    """Each comes out as a musician would write it, and what was guessed is reported."""
    source, wanted, code = ODD[name]
    found = codes_read_as(score(source), wanted)
    assert found - {"no-key"} == set(code.split()) - {"no-key"}
    assert code != "no-key" or "no-key" in found


_ROOT = "<root><root-step>C</root-step></root>"
_C = f"{_ROOT}<kind>major</kind>"
_SEVENTH = (
    "<degree><degree-value>7</degree-value><degree-alter>-1</degree-alter>"
    "<degree-type>add</degree-type></degree>"
)
SYMBOLS = {
    "a step with its sign": (_C.replace("C<", "Bb<"), "Bb", "odd-step"),
    "a small letter": (_C.replace("C<", "c<"), "C", "odd-step"),
    "H": (_C.replace("C<", "H<"), "B", "odd-step"),
    "no root but a text": ('<kind text="Am7">minor-seventh</kind>', "Am7", "kind-by-text"),
    "no root and none": ("<kind>none</kind>", "N.C.", ""),
    "a bass in the text of a kind": (
        f'{_ROOT}<kind text="m7/G">minor-seventh</kind>',
        "Cm7/G",
        "kind-text-says-more",
    ),
    "no kind but degrees": (
        f"{_ROOT}<kind>none</kind>{_SEVENTH.replace('>7<', '>5<').replace('-1', '0')}",
        "C5",
        "",
    ),
    "a kind in short": (f"{_ROOT}<kind>min</kind>", "Cm", "kind-by-text"),
    "a kind of another program": (f"{_ROOT}<kind>maj7</kind>", "Cmaj7", "kind-by-text"),
    "a text for degrees that have no symbol": (
        f'{_ROOT}<kind text="7sus4">suspended-fourth</kind><degree><degree-value>7</degree-value>'
        "<degree-alter>-2</degree-alter><degree-type>add</degree-type></degree>",
        "C7sus4",
        "kind-by-text",
    ),
    "a flat seventh counted from the major scale": (
        f"{_ROOT}<kind>suspended-fourth</kind>{_SEVENTH}",
        "C7sus4",
        "lowered-seventh",
    ),
    "a flat seventh of a triad": (
        f"{_ROOT}<kind>minor</kind>{_SEVENTH}",
        "Cm7",
        "lowered-seventh",
    ),
    "the seventh of a diminished chord": (
        f"{_ROOT}<kind>diminished</kind>{_SEVENTH}",
        "Cdim7",
        "",
    ),
    "a suspension in the text alone": (
        f'{_ROOT}<kind text="7sus">dominant</kind>',
        "C7sus4",
        "kind-text-says-more",
    ),
    "a whole symbol as the text": (
        f'{_ROOT}<kind text="Cm7">other</kind>',
        "Cm7",
        "kind-by-text",
    ),
    "none beside the text of a chord": (
        f'{_ROOT}<kind text="7">none</kind>',
        "C7",
        "kind-by-text",
    ),
}


@each("name", sorted(SYMBOLS))
def test_odd_symbols(name: str) -> None:
    """A symbol that breaks the schema but says which chord it is is read, and reported."""
    inner, wanted, code = SYMBOLS[name]
    data = score("time=4/4 <C> n16\n<F> n16").replace(_C.encode(), inner.encode(), 1)
    read = taken(data)
    assert body(read.chart) == f"| {wanted} | F |"
    assert codes(read) - {"no-key"} == set(code.split()) - {"no-key"}
    assert code != "no-key" or "no-key" in codes(read)


def test_a_bass_alone_is_that_of_the_chord_before() -> None:
    """A symbol that names nothing but a bass, in a transposing part too, is a new bass."""
    alone = b"<bass><bass-step>E</bass-step></bass>"
    for transposed, wanted in (("", "| F | /E |"), ("trans=-1,-2 ", "| Eb | /D |")):
        source = score(f"time=4/4 {transposed}<F> n16\n<C> n16")
        read = taken(source.replace(_C.encode(), alone, 1))
        assert body(read.chart) == wanted
        assert "bass-alone" in codes(read)


def test_a_symbol_without_any_name_is_reported() -> None:
    """A harmony that names no chord at all is left out with its place."""
    data = score("time=4/4 <F> n16\n<C> n16").replace(_C.encode(), b"<kind>major</kind>", 1)
    (finding,) = [f for f in taken(data).findings if f.code == "chord-without-root"]
    assert finding.place == "measure 2"


_ROOTS = st.sampled_from(
    [
        f"<root><root-step>{step}</root-step></root>"
        for step in ("C", "Bb", "h", "", "X", "c#", "Cbb")
    ]
    + ["<function>bVII</function>", "<function>?</function>", ""]
    + ["<numeral><numeral-root>2</numeral-root></numeral>"]
    + ["<root><root-step>D</root-step><root-alter>9</root-alter></root>"]
)
_KINDS = st.sampled_from(["major", "min", "", "foo", "none", "dominant", "Tristan", "other"])
_TEXTS = st.sampled_from(["", ' text="m7"', ' text="?!"', ' text="N.C."', ' text="Am7"'])
_BEHIND = st.sampled_from(
    [
        "",
        "<inversion>7</inversion>",
        "<bass><bass-step>H</bass-step></bass>",
        "<bass><bass-step/></bass>",
        "<degree><degree-value>13</degree-value><degree-alter>-1</degree-alter>"
        "<degree-type>add</degree-type></degree>",
        "<degree><degree-value>99</degree-value><degree-type>swap</degree-type></degree>",
        "<degree/>",
    ]
)
_HIDDEN = st.sampled_from(["", "", "", ' print-object="no"'])


@st.composite
def _harmonies(draw: st.DrawFn) -> str:
    kind = f"<kind{draw(_TEXTS)}>{draw(_KINDS)}</kind>"
    inner = draw(_ROOTS) + draw(st.sampled_from([kind, ""])) + draw(_BEHIND)
    return f"<harmony{draw(_HIDDEN)}>{inner}</harmony>"


@settings(max_examples=50, deadline=None)
@given(st.lists(_harmonies(), min_size=1, max_size=6))
def test_no_symbol_is_lost_in_silence(harmonies: list[str]) -> None:
    """Whatever a harmony says, it is struck in its bar, or a finding names its measure."""
    data = score("\n".join(["time=4/4 <C> n16", *("n16" for _ in harmonies)]))
    for number, made in enumerate(harmonies, 2):
        head = f'<measure number="{number}">'.encode()
        data = data.replace(head, head + made.encode())
    read = taken(data)
    reads_back(read.chart)
    bars = [
        b for s in read.chart.sections for r in s.rows if isinstance(r, MusicRow) for b in r.bars
    ]
    places = " ".join(f"{f.place}," for f in read.findings if f.certainty != "sure")
    assert len(bars) == len(harmonies) + 1
    for number, bar in enumerate(bars[1:], 2):
        assert bar.strikes or re.search(rf"\b{number},", places), harmonies[number - 2]


def _with_credits(*texts: str) -> bytes:
    """A score with texts on its page, each with its type before a bar if it has one; runs of one
    text have a caret between them."""
    made = ""
    for text in texts:
        kind, _, words = text.rpartition("|")
        typed = f"<credit-type>{kind}</credit-type>" if kind else ""
        runs = "".join(f"<credit-words>{run}</credit-words>" for run in words.split("^"))
        made += f'<credit page="1">{typed}{runs}</credit>'
    head = "<work><work-title>Low Tide</work-title></work>"
    return score("time=4/4 key=0M <C> n16:la\n<F> n16:lo", head=head + made)


def test_verses_on_the_page_are_words_alone() -> None:
    """Blocks of text under the music become sections of words, by their numbers and blank lines."""
    data = _with_credits(
        "2. The lanterns all go out\nbefore the boats come in\n\n3. And who will light them\n"
        "when the morning is gone?",
        "Hum^and sway - _ / or\nas long as 1: the *band*\n: can bear to hear # the two of you",
    )
    read = taken(data)
    assert body(read.chart).removeprefix(f"{_BODY}\n") == (
        "== Verse 2\n: The lanterns all go out\n: before the boats come in\n"
        "== Verse 3\n: And who will light them\n: when the morning is gone?\n"
        "== Words\n: Hum\n: and sway - _ \\/ or\n: as long as 1: the *band*\n"
        ": : can bear to hear \\# the two of you"
    )
    assert "words-on-the-page" in codes(read)
    reads_back(read.chart)


def test_other_text_on_the_page_is_reported() -> None:
    """A notice or a remark is reported, once; the title and page numbers are not."""
    rights = "© 2026 The Lantern Hands\nAll rights\nreserved in every harbour of the coast"
    texts = ("title|Low Tide", "LOW  TIDE", "page number|1", "17", rights)
    data = _with_credits(*texts, "Play it twice", "Play it twice", "unknown")
    read = taken(data)
    messages = [f.message for f in read.findings if f.code == "text-on-the-page"]
    assert messages == [
        'the page says "© 2026 The Lantern Hands All rights reserved in every harbo…"',
        'the page says "Play it twice"',
    ]
    assert body(read.chart) == _BODY


@each("syllabic", ["", "<syllabic>single</syllabic>", "<syllabic>begin</syllabic>"])
def test_a_typed_hyphen_parts_a_word(syllabic: str) -> None:
    """A hyphen at the end of a syllable means that its word goes on, whatever the syllabic says."""
    made = score("time=4/4 <C> n8:lan- n8:tern\n<F> n16:la-\n<G> n16:la")
    data = made.replace(b"<syllabic>begin</syllabic><text>la", f"{syllabic}<text>la".encode())
    data = data.replace(b"lan<", b"lan-<").replace(b">la<", b">la-<", 1)
    assert body(taken(data).chart) == "| C | F | G |\n: | lantern | la- | la |"


@each(
    ("words", "tempo", "feel"),
    [
        ("♩_=_120", 120, None),
        ("Slowly_(♩._=_66)", 99, "Slowly"),
        ("Rubato_♪=100", 50, "Rubato"),
        ("Ballad_\ue1d5_=_68", 68, "Ballad"),
        ("Waltz_\ueca3\uecb7_=_50", 150, "Waltz"),
    ],
)
def test_a_typed_tempo(words: str, tempo: int, feel: str | None) -> None:
    """A tempo that is typed as words is one, and what is said before it is the feel."""
    chart = taken(score(f'time=4/4 "{words}" <C> n16\n<F> n16')).chart
    assert (chart.setting("tempo"), chart.setting("feel")) == (tempo, feel)


_METRONOME = "<direction><direction-type><metronome>{}</metronome></direction-type></direction>"
_EIGHTH = "<metronome-note><metronome-type>eighth</metronome-type></metronome-note>"
_TRIPLET = (
    "<metronome-note><metronome-type>{}</metronome-type><metronome-tuplet>"
    "<actual-notes>3</actual-notes><normal-notes>2</normal-notes></metronome-tuplet>"
    "</metronome-note>"
)


@pytest.mark.parametrize(
    ("mark", "words"),
    [
        (
            2 * _EIGHTH
            + "<metronome-relation>equals</metronome-relation>"
            + _TRIPLET.format("quarter")
            + _TRIPLET.format("eighth"),
            "swing eighths",
        ),
        ("<beat-unit>quarter</beat-unit><beat-unit>eighth</beat-unit>", "♩ = ♪"),
    ],
)
def test_equal_notes(mark: str, words: str) -> None:
    """A metronome mark that sets notes equal is kept in words, to the players or as the feel."""
    data = score("time=4/4 <C> n16\n<F> n16").replace(
        b"<harmony>", _METRONOME.format(mark).encode() + b"<harmony>", 1
    )
    chart = taken(data).chart
    feel = chart.text("feel")
    assert (feel or body(chart)) == (words if feel else f'| "{words}" C | F |')
    assert bool(feel) == ("swing" in words)


def test_figures_of_a_bass_are_told() -> None:
    """A chart has no figured bass: that is told once, at the first of them."""
    figures = "<figured-bass><figure><figure-number>6</figure-number></figure></figured-bass>"
    source = score("time=4/4 n16\n{6} n16\n{6} n16")
    read = taken(with_elements(source, {"6": figures}))
    assert [one.place for one in read.findings if one.code == "figured-bass"] == ["measure 2"]
