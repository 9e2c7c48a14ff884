"""The verses of a score: their numbers among the words, lines that are no verse, and how often a
repeat is played for them.

Each score was written with the chart that a musician would make of it.  Common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import body, codes_read_as, taken
from tests.interchange.scores import score

NUMBERS = (
    *("1. The|2. My", "1.The|2.My", "1) The|2) My", "(1) The|(2) My", "[1] The|[2] My"),
    *("1.-3. The|2. My", "1./3. The|2./4. My", "1,3. The|2,4. My", "1.3. The|2. My"),
    *("1 The|2 My", "1, 3. The|2. My", "1 + 3. The|2. My", "1. & 3. The|2. My", "1-3 The|2. My"),
    *("1. und 3. The|2. My", "1° The|2° My", "I. The|II. My", "① The|② My", "1.) The|2.) My"),
    *("1: The|2: My", "1,3 The|2,4 My", "1 The|My"),
    *("The|2x: My", "1x: The|2x: My", "The|2nd time: My", "The|(2nd) My"),
)
SUNG = (
    "1 the|My",
    "2 hearts|My",
    "2 Hearts|My",
    "1 HEART|My",
    "1, 2, buckle|My",
    "2x: my|My",
    "2nd hand|My",
    "9 to|My",
    "I. The|My",
    "i. the|ii. my",
)


def _stacked(typed: str) -> bytes:
    one, two = (text.replace(" ", "~") for text in typed.split("|"))
    return score(f"time=4/4 |: <C> n8:{one};{two} n8:a;b\n<F> n16:c;d :|")


@each("typed", NUMBERS)
def test_numbers_of_verses_are_not_sung(typed: str) -> None:
    """Numbers that are printed before the words tell which verse it is, in any form."""
    wanted = "|: C | F :|\n1: | The a | c |\n2: | My b | d |"
    assert body(taken(_stacked(typed)).chart) == wanted


@each("typed", SUNG)
def test_numbers_that_are_sung(typed: str) -> None:
    """A number without a sign is sung where the other verses have none."""
    one, two = typed.split("|")
    assert f"1: | {one} a | c |\n2: | {two} b | d |" in body(taken(_stacked(typed)).chart)


LINES: dict[str, tuple[str, str, str]] = {
    "numbers of verses that are written out one after another": (
        "time=4/4 [Verse] <C> n16:1.~The\n<F> n16:sea\n[Verse] <C> n16:2.~My\n<F> n16:sky",
        "== Verse\n| C | F |\n: | The | sea |\n== Verse\n| C | F |\n: | My | sky |",
        "",
    ),
    "a refrain on the second line": (
        "time=4/4 [A] <C> n16:one\n<F> n16:low\n[B] <G> n16:;Come\n<C> n16:;home",
        "== A\n| C | F |\n: | one | low |\n== B\n| G | C |\n: | Come | home |",
        "plain-lines",
    ),
    "a refrain on the third line, under two verses": (
        "time=4/4 [A] |: <C> n16:one;two\n<F> n16:low;high :|\n[B] <G> n16:;;Come\n<C> n16:;;home",
        "== A\n|: C | F :|\n1: | one | low |\n2: | two | high |\n"
        "== B\n| G | C |\n: | Come | home |",
        "plain-lines",
    ),
    "a refrain on the first line, over two verses": (
        "time=4/4 [A] |: <C> n16:;one;two\n<F> n16:;low;high :|\n[B] <G> n16:Come\n<C> n16:home",
        "== A\n|: C | F :|\n1: | one | low |\n2: | two | high |\n"
        "== B\n| G | C |\n: | Come | home |",
        "plain-lines",
    ),
    "a refrain whose upbeat is in the last bar of the verse": (
        "time=4/4 [A] <C> n16:one\n<F> n8:low n8:;oh\n[B] <G> n16:;Come\n<C> n16:;home",
        "== A\n| C | F |\n: | one | low oh |\n== B\n| G | C |\n: | Come | home |",
        "plain-lines",
    ),
    "a refrain that is typed under both verses": (
        "time=4/4 [A] |: <C> n16:one;two\n<F> n16:low;high\n[B] <G> n16:Come;Come\n"
        "<C> n16:home;home :|",
        "== A\n|: C | F |\n1: | one | low |\n2: | two | high |\n"
        "== B\n| G | C :|\n: | Come | home |",
        "",
    ),
    "two verses with the same words": (
        "time=4/4 |: <C> n16:one;one\n<F> n16:low;low :|",
        "|: C | F :|\n1: | one | low |\n2: | one | low |",
        "",
    ),
    "a refrain behind two verses without a repeat": (
        "time=4/4 [Verse] <C> n16:one;two\n<F> n16:low;high\n[Chorus] <G> n16:Come\n"
        "<C> n16:home\n[Outro] <F> n16",
        "== Verse\n| C | F |\n1: | one | low |\n2: | two | high |\n"
        "== Chorus\n| G | C |\n: | Come | home |\n== Verse\n== Chorus\n== Outro\n| F |",
        "refrain-between",
    ),
    "a refrain behind two verses, with a third verse written out": (
        "time=4/4 [Verse] <C> n16:one;two\n[Chorus] <G> n16:Come\n[Verse] <F> n16:three",
        "== Verse\n| C |\n1: | one |\n2: | two |\n"
        "== Chorus\n| G |\n: | Come |\n== Verse\n| F |\n: | three |",
        "",
    ),
    "a second verse that begins later": (
        "time=4/4 |: <C> n16:one\n<F> n16:low;high\n<G> n16:;and :|",
        "|: C | F | G :|\n1: | one | low | |\n2: | | high | and |",
        "",
    ),
    "three verses under a repeat": (
        "time=4/4 |: <C> n16:one;two;three\n<F> n16:low;high;deep :|",
        "|: C | F :| x3\n1: | one | low |\n2: | two | high |\n3: | three | deep |",
        "times-of-verses",
    ),
    "four verses and their refrain in one repeat": (
        "time=4/4 [A] |: <C> n16:a;b;c;d\n<F> n16:e;f;g;h\n[B] <G> n16:i\n<C> n16:k :|",
        "== A\n|: C | F |\n1: | a | e |\n2: | b | f |\n3: | c | g |\n4: | d | h |\n"
        "== B\n| G | C :| x4\n: | i | k |",
        "times-of-verses",
    ),
    "three verses and two endings": (
        "time=4/4 |: <C> n16:a;b;c\n1[ <F> n16:d;e ]1 :|\n2[ <G> n16:;;f ]2",
        "|: C |1.2. F :|3. G |\n1: | a | d | |\n2: | b | e | |\n3: | c | | f |",
        "times-of-verses",
    ),
    "three verses and two endings without words": (
        "time=4/4 |: <C> n16:a;b;c\n1[ <F> n16 ]1 :|\n2[ <G> n16 ]2\n<C> n16:end",
        "|: C |1.2. F :|\n1: | a | |\n2: | b | |\n3: | c | |\n|3. G | C |\n: | | end |",
        "times-of-verses",
    ),
    "four verses, two of them in the second ending": (
        "time=4/4 |: <C> n16:a;b;c;d\n1[ <F> n16:e;;f ]1 :|\n2[ <G> n16:;g;;h ]2",
        "|: C |1. F :|2. G |\n1: | a | e | |\n2: | b | | g |\n3: | c | f | |\n4: | d | | h |",
        "verses-not-sung",
    ),
    "words on the second line behind a repeat": (
        "time=4/4 |: <C> n16:a;b\n<F> n16:c;d :|\n<G> n16:;e\n<C> n16:;f",
        "|: C | F :|\n1: | a | c |\n2: | b | d |\n| G | C |\n: | e | f |",
        "plain-lines",
    ),
    "words on the second line behind the last ending": (
        "time=4/4 |: <C> n16:a;b\n1[ <F> n16:c ]1 :|\n2[ <F> n16:;d ]2 ||\n"
        "[B] <G> n16:;e\n<C> n16:;f",
        "|: C |1. F :|2. F ||\n1: | a | c | |\n2: | b | | d |\n== B\n| G | C |\n: | e | f |",
        "plain-lines",
    ),
    "words on the second line behind a repeat that comes again": (
        'time=4/4 |: <C> n16:a;b\n<F> n16:c;d :|\n<G> n16:;e\n<C> n16:;f "D.C."',
        "|: C | F :|\n1: | a | c |\n2: | b | d |\n| G | C @D.C. |\n2: | e | f |",
        "",
    ),
    "three verses, the last of them after a jump": (
        'time=4/4 |: <C> n16:a;b;c\n<F> n16:d;e;f :|\n<G> n16 "D.C."',
        "|: C | F :|\n1: | a | d |\n2: | b | e |\n3: | c | f |\n| G @D.C. |",
        "",
    ),
    "three verses before the sign of a jump": (
        'time=4/4 |: <C> n16:a;b;c\n<F> n16:d;e;f :|\nseg <G> n16 "D.S."',
        "|: C | F :| x3\n1: | a | d |\n2: | b | e |\n3: | c | f |\n| @segno G @D.S. |",
        "times-of-verses",
    ),
    "three verses and a number of times": (
        "time=4/4 |: <C> n16:a;b;c\n<F> n16:d;e;f :|x4",
        "|: C | F :| x4\n1: | a | d |\n2: | b | e |\n3: | c | f |",
        "",
    ),
}


@each("name", sorted(LINES))
def test_lines_of_words(name: str) -> None:
    """Lines are verses where others stand with them, and each verse is sung."""
    source, wanted, code = LINES[name]
    found = codes_read_as(score(source), wanted)
    assert found - {"no-key"} >= ({code} - {""})


def test_a_refrain_that_is_called_one() -> None:
    """Lyrics that say they are the chorus' are plain words, whatever their number."""
    source = score("time=4/4 [A] |: <C> n16:one;two :|\n[B] <G> n16:;;Come")
    named = source.replace(b'<lyric number="3">', b'<lyric number="3" name="Chorus">')
    assert body(taken(named).chart).endswith("| G |\n: | Come |")


def test_numbers_with_a_nought_before_them() -> None:
    """Verse "01" is verse 1."""
    named = score("time=4/4 <C> n16:one;three\n<F> n16:two;four")
    first, _, second = named.partition(b'number="2"')
    odd = first.replace(b'<lyric number="1">', b'<lyric number="01">')
    read = taken(odd + b'number="2"' + second)
    assert body(read.chart) == "| C | F |\n1: | one | two |\n2: | three | four |"


def test_a_lyric_written_twice_is_one() -> None:
    """The same syllable with the same number under one note is sung once."""
    lyric = b'<lyric number="1"><syllabic>single</syllabic><text>one</text></lyric>'
    twice = score("time=4/4 <C> n16:one\n<F> n16:two").replace(lyric, lyric * 2)
    assert body(taken(twice).chart) == "| C | F |\n: | one | two |"


@each(
    ("typed", "row", "words"),
    [
        ("(x2)", '| C / "x2" / / | F |', "low"),
        ("2x", '| C / "2x" / / | F |', "low"),
        ("(Repeat)", '| C / "Repeat" / / | F |', "low"),
        ("D.C.~al~Fine", "| C @D.C. al Fine |", "low"),
        ("(To~Coda)", "| C @to-coda | F |", "low"),
        ("(to~Verse~2)", '| C / "to Verse 2" / / | F |', "low"),
        ("(spoken:)", '| C / "spoken" / / | F |', "low"),
        ("[All]", '| C / "All" / / | F |', "low"),
        ("(Girls:)", '| C / "Girls" / / | F |', "low"),
        # sung
        ("(ooh)", "| C | F |", "low (ooh)"),
        ("(all)", "| C | F |", "low (all)"),
        ("(fine)", "| C | F |", "low (fine)"),
        ("fine", "| C | F |", "low fine"),
        ("(to~the~sea)", "| C | F |", "low (to the sea)"),
    ],
)
def test_what_is_said_among_words_is_not_sung(typed: str, row: str, words: str) -> None:
    """What tells the players or singers what to do stays with the music, as a cue or a mark."""
    rows = body(taken(score(f"time=4/4 <C> n8:low n8:{typed}\n<F> n16:tide")).chart).splitlines()
    assert rows[0] == row
    assert rows[1].split("|")[1].strip() == words


def test_voices_with_other_words_at_once_are_told() -> None:
    """The words of a second voice stand on a line of their own, and a finding says whose."""
    found = codes_read_as(
        score("time=4/4 <C> n16:low b16 v2 n16:ooh\nv1 <F> n16:tide b16 v2 n16:aah"),
        "| C | F |\n1: | low | tide |\n2: | ooh | aah |",
    )
    assert "voice-as-verse" in found
