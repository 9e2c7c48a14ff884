"""Chart to MusicXML and back: valid against the schema, and nothing lost but what is listed."""

from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import assume, example, given, settings

from chartkit.chart.model import Bar, Chart
from chartkit.chart.sung_lines import sung_lines, with_own_verses
from chartkit.chart.systems import all_systems, section_systems
from chartkit.diagnostics import Source
from chartkit.interchange.musicxml.losses import losses_of
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.syntax.reader import read_chart
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.schema import schema_errors
from tests.strategies import charts

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.chart"))


def trip(chart: Chart) -> Chart:
    """The chart that comes back."""
    return taken(musicxml_bytes(chart)).chart


def bars(chart: Chart) -> list[Bar]:
    """Every bar that is played, sections that share music written out."""
    return [
        bar
        for i in range(len(chart.sections))
        for system in section_systems(chart, i)
        if system.music is not None
        for bar in system.music.bars
    ]


def struck(chart: Chart) -> list[tuple[object, ...]]:
    """What is struck, in order, and how, as far as MusicXML can say."""
    return [
        (strike.chord, strike.stopped, strike.ringing, strike.optional)
        for bar in bars(chart)
        for strike in bar.strikes
    ]


def words(chart: Chart) -> list[str]:
    """The letters of every row of words, in any order, since pick-ups may change their row; each
    section has the verses that it sings."""
    rows = [
        segment.text
        for systems in with_own_verses(all_systems(chart), sung_lines(chart))
        for system in systems
        for row in system.words
        for cell in row.cells
        for segment in cell
    ]
    return sorted("".join(rows).replace(" ", ""))


def marks(chart: Chart) -> list[object]:
    """Every navigation mark, in order of bars."""
    return [sorted(map(str, bar.marks)) for bar in bars(chart) if bar.marks]


def test_the_schema_finds_mistakes() -> None:
    """The validator is no rubber stamp: a wrong kind and a wrong order are found."""
    good = musicxml_bytes(chart_of("| C |\n"))
    assert schema_errors(good) == []
    assert schema_errors(good.replace(b">major</kind>", b">majorish</kind>"))
    assert (
        schema_errors(
            good.replace(b"<divisions>192</divisions>", b""),
        )
        == []
    )
    assert schema_errors(good.replace(b"<attributes>", b"<attributes><clef/>"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_are_valid_and_come_back(path: Path) -> None:
    """Each example is valid MusicXML; its chords, bar lines, words and marks come back."""
    chart = read_chart(Source(path.read_text(encoding="utf-8"))).chart
    document = musicxml_bytes(chart)
    assert schema_errors(document) == []
    back = taken(document).chart
    reads_back(back)
    if not chart.written_as_shapes:
        assert struck(back) == struck(chart)
    assert words(back) == words(chart)
    assert marks(back) == marks(chart)
    names = ("title", "writer", "key", "meter", "tempo", "feel", "range", "capo", "language")
    if not chart.written_as_shapes:
        assert [back.setting(name) for name in names] == [chart.setting(name) for name in names]  # type: ignore[arg-type]


def test_a_sung_pickup_has_the_meter_of_its_row() -> None:
    """Words before the first bar are in its meter, not in one that begins later in the row."""
    chart = chart_of(
        "meter: 4/4\ntempo: 112\n\n== A\n| C | 7/8 F / / / / / / |\n: And | so | low |\n"
    )
    back = trip(chart)
    assert (back.meter, back.setting("tempo")) == (chart.meter, 112)
    assert trip(back) == back


def test_beats_without_signs_need_not_be_written() -> None:
    """A hold after N.C. is no note: what is left of the bar is a chord on each beat."""
    back = trip(chart_of("| 2/4 C N.C.,_ |\n"))
    reads_back(back)
    assert body(back) == "| C N.C. |"


@settings(max_examples=30, deadline=None)
@given(charts(rhythm=True, times=True, moves=True))
@example(chart_of("C C7sus2(#5,b5,#11,b13,addb9,add#9)\n"))
def test_random_charts(chart: Chart) -> None:
    """Any chart is valid MusicXML; every chord and every word comes back, and what came back
    once comes back again unchanged."""
    assume(bars(chart)[0].strikes)
    document = musicxml_bytes(chart)
    assert schema_errors(document) == []
    back = taken(document).chart
    reads_back(back)
    if not chart.written_as_shapes:
        assert struck(back) == struck(chart)
    assert words(back) == words(chart)
    assert trip(back) == back


TRIPS = {
    "pushed": "| C / <F / | G / / / |",
    "pushed after a chord": "| C <F / / | G / / / |",
    "pushed over the bar line": "| C | <F |",
    "pushed out of a bar played again": "| C | % | <F | C |",
    "pushed after a chord struck again": "meter: 6/8\n| C,r,/ <G7 |",
    "pushed and split in two two": "meter: 2/2\n| C <F | G _,C | <F |",
    "shared beats": "| C,F C / / | C,F,G / Am,F,G,C / |",
    "slashes inside a beat": "| C,/ / F,/,/,/ / | Am,/,/ / / / |",
    "holds": "| C / / F | _ / G / | C _ F / |",
    "off the beat": "| C / _,F G | C,_,_,F / G / |",
    "held over the bar line": "| C / / F,/ | _,/ / G / |",
    "split in six eight": "meter: 6/8\n| C,/,/ _,F,/ | G / |",
    "rests": "| C | rest 8 | F | rest |",
    "rests inside bars": "| C r / r | r F,r r,G / | r r r r | / C,r,r / / |",
    "rests in six eight": "meter: 6/8\n| C r | C,r,/ F |",
    "muted strokes": "| C x / x | C,x,/,x x,x F / | x x x x | C |",
    "a chord pushed out of a rest": "| C r r r | <F / r <G | C |",
    "rhythm without a new chord": "| C | /,/ / _,/ / | F |",
    "a muted count-in": "| x x x x | C |",
    "a rest first, with words": '| "drums" rest 4 | C |\n: | la | la |',
    "meters inside a row": "| C | 3/4 F | G | 4/4 C |",
    "stopped and ringing": "| C! | F~ | (G7) (C)! |",
    "new bass": "| C /E F /A | G |",
    "no chord": "| N.C. | C N.C. |",
    "held start": "| C | / / F / |",
    "similes": "| C | % | F | G | %% |",
    "repeats": "|: C | F :|: G | C :|",
    "repeats played so many times": "|: C | F :| x3 |: G | C :| x4 | Am |",
    "endings": "|: C |1. F :|2. G ||",
    "endings of three": "|: C |1.3. F :|2. G :|4. C ||",
    "double": "| C || F ||",
    "marks": "| @segno C | F @to-coda | G @D.S. al Coda |\n| @coda C @fine ||",
    "pick-up": "C / | F | G |",
    "compound": "meter: 6/8\n| C F | C / |",
    "verses": "| C | F |\n1: | one | two |\n2: | three | four |",
    "words before the bar": "| C | F |\n: Oh | one | two |",
    "words before a later row": "| C | F |\n: | one | two |\n| C | F |\n: and | three | four |",
    "a capital behind a comma": "| C | F Am |\n: | low | in, / Over |\n| C | F |\n: | the | sea |",
    "split and held": "| C F | G |\n: | lan- / tern | _ |",
    "dashes sung": "| C | F |\n: | — | – |",
    "free": "== Free\nEm C B7~\n: be- / fore / dawn",
    "sections": "== Verse 1\n| C |\n\n== Chorus\n| F |",
    "slashes first": "| / / / / | / / / / | C |\n: | la | la | lo |",
    "words alone behind": "== A\n| C |\n\n== Verse 2\n: one line\n: another, with \\/ in it",
    "words alone before and between": "== Poem\n1: one\n2: two\n\n== A\n| C |\n\n== Reading\n"
    ": three\n\n== B\n| F |",
    "words alone, sung twice": "== A\n| C |\n\n== Verse 2 x2\n: one line",
    "words and nothing else": "== Verse\n: one line\n: another",
    "changes": "== A\n| C |\nkey: G major\nmeter: 3/4\ntempo: 90\n| F |",
    "two codas": "| @coda C | F | @coda G | C |",
    "two bars like a pick-up": "C / | % | %% |",
    "a pick-up played again": "== A\n| C |\n\n== B\n/ G :| C |",
    "sections of nothing": "== A\n\n== B\n| C |\n\n== C\n\n== D\n| F |\n\n== E x2\n",
    "diminished sevenths": "| Cdim7(9,no5,sus4) Dm7b5(b9) Fdim7(13,no3,no5) Gdim7(b13) |",
    "chords of every kind": "| C6/9 Dm7(b5) E7(b9,#11) F#dim7 | Gmaj7(#5)/B Am(maj9) B7alt C5 |",
}


@each("name", sorted(TRIPS))
def test_what_comes_back_letter_for_letter(name: str) -> None:
    """These come back just as they were written."""
    chart = chart_of(TRIPS[name])
    result = taken(musicxml_bytes(chart))
    sent = (
        body(chart).replace("\n\n", "\n").removeprefix("meter: 6/8\n").removeprefix("meter: 2/2\n")
    )
    assert body(result.chart) == sent
    assert not codes(result) - {"no-key"}


@pytest.mark.parametrize(
    ("chart", "is_reported"),
    [("== A\n| C |\n\n== B\n: la\n", False), ("== A\n: la\n\n| C |\n: | lo |\n", True)],
)
def test_words_beside_music_are_reported(chart: str, is_reported: bool) -> None:
    """Words that stand alone in a section of music are lost, which is said before; sections of
    words alone are not lost."""
    words = "words without music above them in a section that has music"
    assert (words in losses_of(chart_of(chart))) == is_reported


SUNG = """<score-partwise><part-list><score-part id="P1"><part-name>Voice</part-name></score-part>
</part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>
<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>
<note><pitch><step>G</step><octave>4</octave></pitch><duration>1</duration><voice>1</voice></note>
<note><rest/><duration>3</duration><voice>1</voice></note>{more}</measure></part></score-partwise>"""
STRUMMED = (
    "<backup><duration>4</duration></backup>"
    + "<note><unpitched/><duration>1</duration><voice>2</voice><notehead>slash</notehead></note>"
    + "<note><rest/><duration>2</duration><voice>2</voice></note>"
    + "<note><unpitched/><duration>1</duration><voice>2</voice><notehead>x</notehead></note>"
)


def test_a_singers_rests_are_not_the_players() -> None:
    """Rests of a melody leave the chord as it is; those of a voice of slashes are kept, one for
    each beat they last, and a cross for a head is a muted stroke."""
    assert body(taken(SUNG.format(more="").encode()).chart) == "| C |"
    assert body(taken(SUNG.format(more=STRUMMED).encode()).chart) == "| C r r x |"


def test_one_chord_to_a_beat_is_no_written_rhythm() -> None:
    """Chords held to the ends of their beats come back as chords that share the bar, and read
    back so."""
    back = trip(chart_of("meter: 2/4\n| C,_ F | G A,_ |"))
    assert body(back) == "| C F | G A |"
    reads_back(back)


def test_capo_and_tuning() -> None:
    """A capo is in the staff details, a guitar tuned down in its strings; both come back."""
    for capo in (3, -2):
        chart = chart_of(f"key: C major\ncapo: {capo}\n\n| C |\n")
        document = musicxml_bytes(chart)
        assert (b"<capo>3</capo>" in document) == (capo == 3)
        assert document.count(b"<staff-tuning") == (6 if capo < 0 else 0)
        assert trip(chart).capo.raised == capo


def test_own_shapes_are_frames() -> None:
    """The player's own shapes stand as diagrams under the harmonies they are fingered for, counted
    from the capo, the treble string first; a chord without one has none."""
    chart = chart_of("key: Bb\ncapo: 3\nshape: G 320003\nshape: D x-x-7-7-7-5\n\n| Bb | F | Eb |\n")
    document = musicxml_bytes(chart)
    assert schema_errors(document) == []
    root = ElementTree.fromstring(document)
    harmonies = list(root.iter("harmony"))
    frames = [harmony.find("frame") for harmony in harmonies]
    assert [frame is not None for frame in frames] == [True, True, False]
    assert [
        [(n.findtext("string"), n.findtext("fret")) for n in frame.iter("frame-note")]
        for frame in frames
        if frame is not None
    ] == [
        [("6", "3"), ("5", "2"), ("4", "0"), ("3", "0"), ("2", "0"), ("1", "3")],
        [("4", "7"), ("3", "7"), ("2", "7"), ("1", "5")],
    ]
    assert [None if f is None else f.findtext("first-fret") for f in frames] == [None, "5", None]
    assert [str(row.value) for row in trip(chart).shapes()] == ["G 320003", "D xx7775"]


def test_shapes_are_written_as_they_sound() -> None:
    """A chart of shapes is exported at sounding pitch, with its capo."""
    back = trip(chart_of("key: G major\nchords: shapes\ncapo: 3\n\n| G | C |\n"))
    assert (str(back.key), back.capo.raised, body(back)) == ("Bb major", 3, "| Bb | Eb |")


def test_a_section_played_twice_is_repeated() -> None:
    """A section played several times becomes a repeat that says how often."""
    assert body(trip(chart_of("== A x2\n| C | F |\n"))) == "== A\n|: C | F :|"
    assert body(trip(chart_of("== A x3\n| C | F |\n"))) == "== A\n|: C | F :| x3"


@pytest.mark.parametrize("rows", ["|: C | F :| G |", "|: C |1. F :|2. G ||"])
def test_a_section_with_repeats_of_its_own_says_how_often_it_is_played(rows: str) -> None:
    """The repeats stay as they are and the times stand over them in words, which is reported
    before; signs around the whole would make other music of it."""
    chart = chart_of(f"key: C\n\n== A x2\n{rows}\n\n== B as A\n")
    back = body(trip(chart)).splitlines()
    assert back[1] == rows.replace("|: C", '|: "2 times" C', 1)
    assert back[-1] == rows
    remark = "says so in words, and other programs play it once"
    assert any(remark in loss for loss in losses_of(chart))
    assert not any(remark in loss for loss in losses_of(chart_of("== A x2\n| C |\n")))


@each(
    ("row", "is_reported"),
    [
        ("| C / / _,F | _ / G / |", True),
        ("| C _,F _ / |", True),
        ("| C / / _,F | G |", False),
        ("| C,F / _ / |", False),
    ],
)
def test_early_chords_that_are_held_come_back_as_pushed(row: str, is_reported: bool) -> None:
    """What is lost of them is reported before; they still sound at their time."""
    chart = chart_of(f"key: C\n\n{row}\n")
    words = "come back as pushed"
    assert any(words in loss for loss in losses_of(chart)) == is_reported
    back = trip(chart)
    assert any(strike.pushed for bar in bars(back) for strike in bar.strikes) == is_reported


@each(
    ("rows", "bars_told"),
    [
        ("| C | <F,G / / / | C |", "bar 2"),
        ("|: C | F :| <G | C |", "bar 3"),
        ("| C | rest 2 | <F |", "bar 3"),
        ("| C | F | %% | <G | C |", "bar 4"),
        ("| C | <N.C. | C |", "bar 2"),
        ("| C | <F | G _,C / / |", ""),
    ],
)
def test_each_bar_whose_rhythm_is_lost_is_named(rows: str, bars_told: str) -> None:
    """What cannot come back as it is written is reported for its bar, and nothing else is."""
    losses = [loss for loss in losses_of(chart_of(f"key: C\n\n{rows}\n")) if "differently" in loss]
    wanted = [f"rhythms that come back differently: {bars_told}"] if bars_told else []
    assert losses == wanted


@each("row", ["| /,x,/ _,/ D / |", "| /,/,_ <D / / |", "| / /,_,/ D / |", "| / /,_,D / / |"])
def test_nothing_is_held_before_the_first_chord(row: str) -> None:
    """A score whose slashes are tied before any chord gives a chart that reads back, with every
    chord."""
    played = chart_of("| C |\n" + row + "\n")
    second = played.sections[0].rows[1]
    chart = replace(played, sections=(replace(played.sections[0], rows=(second,)),))
    back = trip(chart)
    reads_back(back)
    assert struck(back) == struck(chart)


def test_a_score_too_large_to_come_back_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where what we write is more than we would take in, that is one of the losses."""
    chart = chart_of("| C | F |\n")
    assert losses_of(chart) == ()
    monkeypatch.setattr("chartkit.interchange.musicxml.read.LARGEST_SCORE_BYTES", 100)
    assert any(
        "a way back into a chart (the score is too large" in loss for loss in losses_of(chart)
    )


@each(
    "said",
    [
        *("solo", "Chorus", "Verse 2 (soft)", "D.C.", "Fine", "to coda", "D.S. and fade", "segno"),
        *("Capo 3", "4x", "(2 times)", "♩ = 90", "slowly (90 bpm)", "N.C.", "Tacet", "Am7", "A"),
        *("let ring", "hold", "stop", "fermata", "%", "$", "cresc.", "swing"),
    ],
)
def test_cues_say_what_they_say(said: str) -> None:
    """In a score of our own, words are a cue, even if they would be a name or a mark elsewhere."""
    chart = chart_of(f'== B\n| "{said}" C "{said}" F | % "{said}" | G |\n')
    assert body(trip(chart)) == body(chart)


@each("lines", [":| |:", ":| |", "|| |", "| |"])
def test_upbeats_come_back_before_their_row(lines: str) -> None:
    """Words before the first bar of a row stay there, whatever bar line is before them."""
    ends, begins = lines.split()
    rows = f"| C | F {ends}\n: | one | two |\n{begins} G | C ||\n: The | river | runs |\n"
    chart = chart_of(f"| F | G |\n{rows}")
    assert body(trip(chart)) == body(chart)


@each(
    "rows",
    [
        "| C F | G |\n: | You said \\- / I | no- |",
        "| C F | G |\n: | a-- / burning | lan- |",
        "| C F | G |\n: | low \\_ / tide | out |",
        'A D A E "round and round"',
        'A "soft" D E~ "end" @fermata',
    ],
)
def test_signs_among_words_and_cues_in_free_time(rows: str) -> None:
    """A hyphen that is a word comes back as one, and a cue behind the last chord behind it."""
    chart = chart_of(f"{rows}\n")
    assert body(trip(chart)) == body(chart)


def test_names_with_remarks_come_back_whole() -> None:
    """In a score of our own, a section is called as it was, whatever its name says."""
    chart = chart_of("== Chorus - softly\n| C | F |\n== Verse (tag)\n| G | C |\n")
    assert body(trip(chart)) == body(chart)


def test_cues_at_the_ends_of_bars_stay_there() -> None:
    """A cue behind the last chord of a bar comes back behind it."""
    rows = '| C "one" | F / / / "two" | % "three" | G C "four" |\n| / / C / "five" | "six" F |\n'
    chart = chart_of(rows)
    back = taken(musicxml_bytes(chart)).chart
    assert [bar.cues for bar in bars(back)] == [bar.cues for bar in bars(chart)]
