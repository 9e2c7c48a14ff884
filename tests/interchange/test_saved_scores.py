"""Scores as programs save them: texts of several lines, endings drawn once more on the next line,
verses numbered in words, names that stand on the page alone.

Each was written with the chart that a musician would make of it.  Source: the MusicXML 4.0
specification for what the elements mean; common practice for the charts, no source.
"""

from tests.each import each
from tests.interchange.reading import body, codes, codes_read_as, taken
from tests.interchange.scores import score, with_elements


def _said(text: str) -> str:
    return f"<direction><direction-type><words>{text}</words></direction-type></direction>"


def _ending(number: str, side: str, kind: str, repeat: bool = False) -> str:
    again = '<repeat direction="backward"/>' if repeat else ""
    ending = f'<ending number="{number}" type="{kind}"/>'
    return f'<barline location="{side}">{ending}{again}</barline>'


def _sung(number: str, text: str) -> str:
    return (
        "<note><pitch><step>G</step><octave>4</octave></pitch><duration>16</duration>"
        f'<voice>1</voice><lyric number="{number}" name="Verse"><text>{text}</text></lyric></note>'
    )


def _symbol(kind: str) -> str:
    return f"<harmony><root><root-step>C</root-step></root>{kind}</harmony>"


def _sound(tempo: int) -> str:
    return f'<sound tempo="{tempo}"/>'


def _long(duration: int) -> str:
    return (
        "<note><pitch><step>G</step><octave>4</octave></pitch>"
        f"<duration>{duration}</duration><voice>1</voice></note>"
    )


_ELEMENTS = {
    "fine": "<attributes><divisions>480</divisions></attributes>",
    "third": _long(159),
    "quarter": _long(480),
    "half": _long(960),
    "bar": _long(1920),
    "well": _sung("1", "well\u2011"),
    "soft": _sung("1", "lan\xad"),
    "known": _sung("1", "known"),
    "tempo": "<direction><direction-type><metronome><beat-unit>quarter</beat-unit>"
    "<per-minute>96</per-minute></metronome></direction-type></direction>",
    "equal": "<direction><direction-type><metronome><beat-unit>quarter</beat-unit>"
    "<beat-unit>quarter</beat-unit><beat-unit-dot/></metronome></direction-type></direction>",
    "refrain": _sung("part1chorus1", "home"),
    "120": _sound(120),
    "110": _sound(110),
    "88": _sound(88),
    "60": _sound(60),
    "mf1": _said("mf").replace("</direction>", "<staff>1</staff></direction>"),
    "mf2": _said("mf").replace("</direction>", "<staff>2</staff></direction>"),
    "verse": _said("Verse 1\nHalf-time feel"),
    "chorus": _said("Chorus\nFull feel"),
    "remark": _said("slowly at first,\nthen faster"),
    "1": _ending("1", "left", "start"),
    "/1": _ending("1", "right", "stop"),
    "/1:|": _ending("1", "right", "stop", repeat=True),
    "2": _ending("2", "left", "start"),
    "/2": _ending("2", "right", "stop"),
    "low": _sung("part1verse1", "low"),
    "tide": _sung("part1verse1", "tide"),
    "second": _sung("part1verse2", "moon"),
    "nine": _symbol('<kind use-symbols="yes" text="9">major-ninth</kind>'),
}
SCORES: dict[str, tuple[str, str, str]] = {
    "a name and a feel in two lines of one text": (
        "time=4/4 {verse} <C> n16\n<F> n16\n{chorus} <G> n16\n{remark} <C> n16",
        '== Verse 1\n| "Half-time feel" C | F |\n== Chorus\n'
        '| "Full feel" G | "slowly at first, then faster" C |',
        "section-by-words",
    ),
    "an ending drawn once more on the next line": (
        "time=4/4 |: <C> n16\n{1} <F> n16 {/1}\n{1} <G> n16 {/1:|}\n{2} <C> n16 {/2}\n<F> n16",
        "|: C |1. F | G :|\n|2. C | F |",
        "",
    ),
    "two first endings, each of its own repeat": (
        "time=4/4 |: <C> n16\n{1} <F> n16 {/1:|}\n|: <G> n16\n{1} <C> n16 {/1:|}\n{2} <F> n16",
        "|: C |1. F :|\n|: G |1. C :|2. F |",
        "",
    ),
    "one verse with a number in words": (
        "time=4/4 <C> {low}\n<F> {tide}",
        "| C | F |\n: | low | tide |",
        "",
    ),
    "the second verse alone": (
        "time=4/4 <C> {low}\n<F> {second}",
        "| C | F |\n: | low | moon |",
        "plain-lines",
    ),
    "a count that the repeat gives too": (
        'time=4/4 |: <C> n16\n<F> "Play_4x" n16 :|x4\n|: "(3x)" <G> n16 :|x4',
        '|: C | F :| x4\n|: "(3x)" G :| x4',
        "",
    ),
    "signs that stand in for a segno and a coda": (
        'time=4/4 "$" <C> n16\n<F> n16 "To_Φ"\n<G> n16 "D.S._al_Φ"\n"Φ_CODA" <C> n16',
        "| @segno C | F @to-coda | G @D.S. al Coda |\n== CODA\n| @coda C |",
        "section-by-words",
    ),
    "the sign of a bar played again, typed": (
        'time=4/4 <C> n8 <F> n8\n"%" r16\n<G> n16\n"%" n16',
        "| C F | % | G | % |",
        "typed-simile",
    ),
    "the playback of a rit.": (
        'time=4/4 {120} <C> n16\n"rit." {110} <F> n8 {88} n8\n{60} <G> n16\n{120} <C> n16',
        '| C | "rit." F | G | C |',
        "heard-tempo",
    ),
    "the playback of a fermata": (
        "time=4/4 {120} <C> n16\n<F> n8 {60} n8*fermata\n{120} <G> n16\n<C> n16",
        "| C | F / / @fermata / | G | C |",
        "heard-tempo",
    ),
    "another tempo that is only heard": (
        "time=4/4 {120} <C> n16\n<F> n16\n<G> n16\n<C> n16\n{88} <F> n16\n<C> n16",
        "| C | F | G | C |\ntempo: 88\n| F | C |",
        "",
    ),
    "a slower end that stays": (
        'time=4/4 {120} <C> n16\n"rit." {110} <F> n16\n{88} <G> n16\n<C> n16\n<F> n16\n<C> n16\n'
        "<F> n16\n<C> n16",
        '| C | "rit." F |\ntempo: 88\n| G | C | F | C |\n| F | C |',
        "heard-tempo",
    ),
    "words over both staves": (
        'time=4/4 {mf1} {mf2} <C> n16\n"low" "low" <F> n16',
        '| "mf" C | "low" "low" F |',
        "",
    ),
    "an upbeat behind a rest": (
        "time=4/4 <C> n16:low\n<F> n16:tide\n<G> n16:runs\n<C> n8:out r4 n4:and\n<C> n16:back\n"
        "<F> n16:in\n<G> n8:to r4 n4:the\n<C> n16:shore",
        "| C | F | G | C |\n: | low | tide | runs | out |\n| C | F | G | C |\n"
        ": and | back | in | to the | shore |",
        "",
    ),
    "an end behind a rest": (
        "time=4/4 <C> n16:low\n<F> n16:tide\n<G> n16:runs\n<C> n4:a- r8 n4:way\n<C> r8 n8:back\n"
        "<F> n16:in\n<G> n16:to\n<C> n16:shore",
        "| C | F | G | C |\n: | low | tide | runs | away |\n| C | F | G | C |\n"
        ": | back | in | to | shore |",
        "",
    ),
    "thirds of a beat that were rounded": (
        "time=4/4 {fine} <C> {third} {third} <G> {third} <F> {quarter} {half}\n<C> {bar}",
        "| C,_,G F / / | C |",
        "",
    ),
    "hyphens of other kinds": (
        "time=4/4 <C> {well}\n<F> {known}\n<G> {soft}\n<C> {known}",
        "| C | F | G | C |\n: | well-- | known | lan- | known |",
        "",
    ),
    "raised figures": (
        'time=4/4 "C⁶" n16\n"Dm⁷." n16\n"G⁷" n8 "G⁹" n8\n"C∆" n16',
        "| C6 | Dm7 | G7 G9 | Cmaj7 |",
        "typed-chord",
    ),
    "a jump with more behind it": (
        'time=4/4 seg <C> n16\n<F> n16 "D.S._and_fade"\n<G> n16 "D.C._al_2nd_ending"',
        '| @segno C | "and fade" F @D.S. |\n| "al 2nd ending" G @D.C. |',
        "",
    ),
    "a tempo that is shown again at the next line": (
        "time=4/4 {tempo} <C> n16\n<F> n16\n{tempo} <G> n16\n<C> n16",
        "| C | F | G | C |",
        "",
    ),
    "a tempo that is shown again behind a rit.": (
        'time=4/4 {tempo} <C> n16\n"rit." <F> n16\n{tempo} <G> n16\n<C> n16',
        '| C | "rit." F |\ntempo: 96\n| G | C |',
        "",
    ),
    "a chord typed beside another": (
        'time=4/4 <C> "(A)" n16\n<F> "Dm7" n16',
        '| "(A)" C | "Dm7" F |',
        "chord-beside-symbol",
    ),
    "all words in the second line": (
        "time=4/4 <C> n16:;low\n<F> n16:;tide",
        "| C | F |\n: | low | tide |",
        "",
    ),
    "one of two codas": (
        'time=4/4 seg <C> n16\n<F> n16 "To_Coda_1"\n<G> n16 "D.S._al_Coda_1"\n"Coda_1" <C> n16',
        '| @segno C | "Coda 1" F @to-coda | "Coda 1" G @D.S. al Coda |\n== Coda 1\n| @coda C |',
        "section-by-words",
    ),
    "a symbol that nobody reads": (
        'time=4/4 "C" n16\n"Dm7" n16\n"G7^" n16\n"C" n16',
        '| C | Dm7 | % "G7^" | C |',
        "typed-chord chord-among-words",
    ),
    "signs over beats without a chord": (
        'time=4/4 <C> n12 n4*fermata\n<F> n8 "pp" n8\n<G> n16',
        '| C / / / @fermata | F / "pp" / / | G |',
        "",
    ),
    "an upbeat that goes back": (
        'time=4/4 seg <C> n16:low\n<F> n16:tide\n<G> n8:runs r4 n4:and "D.S._al_Fine"',
        "| @segno C | F | G @D.S. al Fine |\n: | low | tide | runs and |",
        "no-fine",
    ),
    "an upbeat of a repeat": (
        "time=4/4 |: <C> n16:low\n<F> n8:tide. r4 n4:And :|\n<G> n16:runs",
        "|: C | F :|\n: | low | tide. And |\n| G |\n: | runs |",
        "",
    ),
    "a silence in words over a chord": (
        'time=4/4 <C> n16\n"Tacet" <F> n16\n<G> n16',
        '| C | "Tacet" F | G |',
        "no-chord-beside-symbol",
    ),
    "words of a refrain": (
        "time=4/4 <C> {low}\n<F> {tide}\n<C> n16:sun;sea\n<G> {refrain}",
        "| C | F | C | G |\n1: | low | tide | sun | home |\n2: | | | sea | |",
        "",
    ),
    "notes as long as others": (
        "time=4/4 <C> n16\n{equal} <F> n16",
        '| C | "♩ = ♩." F |',
        "",
    ),
    "a number behind a printed sign": ("time=4/4 {nine} n16\n<F> n16", "| Cmaj9 | F |", ""),
}


@each("name", sorted(SCORES))
def test_scores_of_many_programs(name: str) -> None:
    """Each comes out as a musician would write it, and what was guessed is reported."""
    source, wanted, code = SCORES[name]
    found = codes_read_as(with_elements(score(source), _ELEMENTS), wanted)
    assert found - {"no-key"} == set(code.split())


@each(
    ("mark", "rows"),
    [
        ("[Refrain_(2x)]", '== Refrain\n| "2x" C | F |'),
        ("[Chorus_-_softly]", '== Chorus\n| "softly" C | F |'),
        ('"Interlude_/_Solo"', "== Interlude / Solo\n| C | F |"),
        ('"Verse_&_Chorus"', "== Verse & Chorus\n| C | F |"),
        ('"Bass_/_Solo"', '| "Bass / Solo" C | F |'),
    ],
)
def test_names_with_more_beside_them(mark: str, rows: str) -> None:
    """What is said beside the name of a section is a cue; two names may be one section."""
    codes_read_as(score(f"time=4/4 {mark} <C> n16\n<F> n16"), rows)


@each(
    ("first", "second"),
    [
        ("1st time", "2nd time"),
        ("1st ending", "2nd ending:"),
        ("First time", "Second time"),
        ("1.", "2."),
        ("1x", "2x"),
        ("1. Mal", "2. Mal"),
        ("1ère fois", "2ème fois"),
        ("1a volta", "2a volta"),
        ("primera vez", "segunda vez"),
    ],
)
def test_endings_in_words(first: str, second: str) -> None:
    """Words that name both endings of a repeat are its endings; one alone stays a cue."""
    one, two = (said.replace(" ", "_") for said in (first, second))
    source = f'time=4/4 |: <C> n16\n"{one}" <F> n16 :|\n"{two}" <G> n16\n<C> n16'
    assert codes_read_as(score(source), "|: C |1. F :|2. G | C |") >= {"typed-endings"}
    alone = body(taken(score(source.replace(f'"{two}" ', ""))).chart)
    assert alone.startswith(f'|: C | "{first}" F :|')


def test_a_third_of_a_beat_that_is_rounded_moves_no_word() -> None:
    """Three notes of a triplet that are a little shorter than their beat: what is sung on the next
    beat stands under the chord there."""
    notes = "".join(f"n341:{word} " for word in "abc")
    source = f"divisions=1024 time=4/4 <C> {notes}<F> n1024:d <G> n2048:e\n<C> n4096:f"
    codes_read_as(score(source), "| C F G / | C |\n: | a b c / d / e | f |")


@each(
    "words",
    ["3x", "play 3 times", "(play three times)", "3 mal", "dreimal", "tres veces", "3 fois",
     "3 volte", "3 vezes", "drie keer", "3 ggr", "trzy razy", "kolme kertaa", "x3"],
)  # fmt: skip
def test_how_often_a_repeat_is_played(words: str) -> None:
    """A number of times over a repeat is read in the languages in which scores are written."""
    typed = words.replace(" ", "_")
    for source in (
        f'time=4/4 |: "{typed}" <C> n16\n<F> n16 :|\n<G> n16',
        f'time=4/4 |: <C> n16\n<F> n16 "{typed}" :|\n<G> n16',
    ):
        assert codes_read_as(score(source), "|: C | F :| x3\n| G |") >= {"typed-times"}


@each(
    ("words", "tempo", "feel"),
    [
        ("♩_=_92_Slow_swing", 92, "Slow swing"),
        ("Moderato_(q_=_96)", 96, "Moderato"),
        ("96_BPM", 96, None),
        ("Tempo:_104", 104, None),
        ("Ballad,_ca._♩=60-66", 60, "Ballad"),
    ],
)
def test_tempos_as_people_type_them(words: str, tempo: int, feel: str | None) -> None:
    """Where several numbers are typed the first is taken; words beside it are the feel."""
    chart = taken(score(f'time=4/4 "{words}" <C> n16\n<F> n16')).chart
    assert (chart.setting("tempo"), chart.setting("feel")) == (tempo, feel)
    assert body(chart) == "| C | F |"


@each(
    ("words", "feel", "cue"),
    [("Easy_swing", "Easy swing", ""), ("(softly)", None, '"(softly)" '), ("Dm7", None, "")],
)
def test_a_feel_beside_the_tempo(words: str, feel: str | None, cue: str) -> None:
    """Words at the start, beside a tempo that is shown, are the feel, unless they are chords or
    said to someone."""
    data = score(f'time=4/4 {{tempo}} "{words}" n16\n"G7" n16\n"C" n16')
    chart = taken(with_elements(data, _ELEMENTS)).chart
    assert (chart.setting("tempo"), chart.setting("feel")) == (96, feel)
    assert cue in body(chart)


@each(
    ("words", "is_feel"),
    [
        *(("Swing", True), ("Medium Swing", True), ("Slowly, with feeling", True)),
        *(("Moderato", True), ("Easy Rock beat", True), ("Andante con moto", True)),
        *(("Guitar", False), ("soft", False), ("Slow down", False), ("rock on", False)),
    ],
)
def test_a_feel_without_a_tempo(words: str, is_feel: bool) -> None:
    """A style or a pace over the first bar is the feel of the song; elsewhere words stay words."""
    text = words.replace(" ", "_")
    chart = taken(score(f'time=4/4 "{text}" <C> n16\n"{text}" <F> n16')).chart
    assert chart.text("feel") == (words if is_feel else "")
    assert body(chart) == (f'| C | "{words}" F |' if is_feel else f'| "{words}" C | "{words}" F |')


def test_no_signature_but_a_way_home() -> None:
    """A song without a key that begins and ends on one chord is in its key."""
    song = "time=4/4 <{0}> n16\n<Ab> n16\n<Bb7> n16\n<G7> n16\n<{0}> n16"
    assert str(taken(score(song.format("Cm"))).chart.key) == "C minor"


def test_a_song_in_minor_may_end_on_the_major_chord() -> None:
    """A signature without a mode is minor where the last chord is the minor tonic, also with a
    major third; not where it is a seventh, nor where the mode is named."""
    song = "time=4/4 key={} <Dm> n16\n<Gm> n16\n<A7> n16\n<{}> n16"
    for key, last, wanted in (("-1", "D", "D minor"), ("-1", "D7", "F major")):
        assert str(taken(score(song.format(key, last))).chart.key) == wanted


def _with_page(head: str, *credits: tuple[str, str]) -> bytes:
    texts = "".join(
        f"<credit><credit-type>{kind}</credit-type><credit-words>{said}</credit-words></credit>"
        for kind, said in credits
    )
    return score("time=4/4 <C> n16\n<F> n16", head=head + texts)


_CREDITS = (
    ("composer", "Words &amp; Music by Ada Vale"),
    ("arranger", "arr. Juna Pell"),
    ("subtitle", "for the harbour fair"),
)


def test_names_on_the_page_alone() -> None:
    """Who wrote the song is read from the page where nothing else says it; any other text is
    reported."""
    read = taken(_with_page("", *_CREDITS))
    assert read.chart.text("writer") == "Ada Vale"
    assert read.chart.notes() == ("arranger: Juna Pell",)
    assert {"writer-on-the-page", "kept-as-note", "text-on-the-page"} <= codes(read)


def test_names_on_the_page_beside_those_of_the_file() -> None:
    """A creator is not overruled by the page; a name that only the page has is reported."""
    creator = '<identification><creator type="composer">Ada Vale</creator></identification>'
    read = taken(_with_page(creator, *_CREDITS[:1], ("lyricist", "Ivo Crane")))
    assert read.chart.text("writer") == "Ada Vale"
    assert [f.message for f in read.findings if f.code == "text-on-the-page"] == [
        'the page says "Ivo Crane"'
    ]


def test_the_capo_of_the_guitar() -> None:
    """Words may say whose capo it is."""
    for words in ("Guitar: Capo 1 (B)", "Acoustic guitar, capo 1"):
        assert taken(_with_page("", ("", words))).chart.capo.raised == 1


def test_a_name_within_a_measure_is_told() -> None:
    """A section that is named where chords still change in the bar begins with that bar."""
    found = codes_read_as(
        score("time=4/4 [A] <C> n16\n<F> n8 [B] <G> n8\n<C> n16"),
        "== A\n| C |\n== B\n| F G | C |",
    )
    assert "section-within-measure" in found
