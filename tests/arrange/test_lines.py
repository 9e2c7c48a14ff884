"""Every line of chords against music21: shapes, a second guitar, what sounds, what is read."""

from collections.abc import Iterator

from music21 import interval, pitch

from chartkit.arrange.page_look import TRANSPOSING_INSTRUMENTS, PageLook
from chartkit.arrange.rewrite import moved_chart, rewritten_chart
from chartkit.arrange.view import View
from chartkit.chart.keys import keys_at_start
from chartkit.chart.model import Chart, MusicRow
from chartkit.theory.capo import Capo
from chartkit.theory.key import Key, parse_key
from chartkit.theory.note import pitch_class_of
from tests.arrange.test_arrange import names
from tests.charts import arranged, chart_of
from tests.each import each

SONG = "key: Eb\n{more}\n| Eb | Ab/C | Bb7 | Cm |\nkey: F\n| F | Bb/D | C7 | Dm |\n"
WRITTEN = ["Eb", "Ab/C", "Bb7", "Cm", "F", "Bb/D", "C7", "Dm"]


def pitch_classes(name: str) -> list[int]:
    """Root and bass of a chord's name as music21 hears them."""
    plain = name.replace("♭", "-").replace("♯", "#")
    parts = (part for part in plain.split("/"))
    notes = (part[:2] if part[1:2] in ("-", "#") else part[:1] for part in parts)
    return [pitch.Pitch(note).pitchClass for note in notes]


def raised(written: str, semitones: int) -> list[int]:
    """Root and bass of a written chord that many half steps up, by music21."""
    return [
        pitch.Pitch(f"{note}4").transpose(interval.Interval(semitones)).pitchClass
        for note in (
            p[:2].replace("b", "-") if p[1:2] == "b" else p[:1] for p in written.split("/")
        )
    ]


def views() -> Iterator[tuple[View, str, int, dict[str, int]]]:
    """Views, who reads them, how far they move the song, how far each line is above what sounds."""
    for by in (0, 1, 4, -3):
        for capo, second in ((1, 3), (5, 8), (-2, 4)):
            for reads, above in TRANSPOSING_INSTRUMENTS.items():
                view = View(Capo.from_number(capo), by=by, second_capo=Capo(second))
                yield view, reads, by, {"shape": -capo, "second": -second, "sounding": above}


@each(("view", "reads", "by", "above"), list(views()), ids=str)
def test_each_line_lies_where_it_must(
    view: View, reads: str, by: int, above: dict[str, int]
) -> None:
    """In every key area each line is the written chord moved by the line's own half steps."""
    song = arranged(SONG.format(more=""), view, PageLook(reads=reads))
    assert song.chord_lines == ("shape", "second", "sounding")
    for number, line in enumerate(song.chord_lines):
        moved = [raised(chord, by + above[line]) for chord in WRITTEN]
        assert [pitch_classes(name) for name in names(song, number)] == moved


def test_who_reads_a_transposing_instrument_has_no_shapes() -> None:
    """Where the chart has the capo, a page for a reader in B flat has the chords to read alone."""
    text = SONG.format(more="").replace("\n\n", "\ncapo: 2\n\n", 1)
    assert arranged(text, look=PageLook()).chord_lines == ("shape", "sounding")
    assert arranged(text, look=PageLook(reads="B flat")).chord_lines == ("sounding",)
    assert arranged(text, View(Capo(2)), PageLook(reads="B flat")).chord_lines == (
        "shape",
        "sounding",
    )


@each("key", ["C", "Db", "D", "F#", "Gb", "A", "B"])
@each("capo", [0, 3])
def test_a_key_asked_for_is_the_one_that_sounds(key: str, capo: int) -> None:
    """Asked for a key, the song sounds in it, letter for letter, and the later area as far on."""
    view = View(Capo(capo), parse_key(key))
    song = arranged(SONG.format(more=""), view, PageLook(show="sounding"))
    steps = (pitch_class_of(parse_key(key).tonic) - 3) % 12
    assert names(song, 0)[0] == str(parse_key(key)).split()[0].replace("b", "♭").replace("#", "♯")
    assert [pitch_classes(n) for n in names(song, 0)] == [raised(c, steps) for c in WRITTEN]
    degrees = arranged(SONG.format(more=""), view, PageLook(show="numbers"))
    assert names(degrees, 0) == ["1", "4/6", "57", "6m", "1", "4/6", "57", "6m"]


@each("capo", [1, 4, 7])
def test_shapes_written_with_a_capo_stay_what_they_are(capo: int) -> None:
    """A chart of shapes keeps them letter for letter at its own capo, and sounds as far above."""
    more = f"chords: shapes\ncapo: {capo}"
    song = arranged(SONG.format(more=more), View())
    assert [n.replace("♭", "b") for n in names(song, 0)] == WRITTEN
    assert [pitch_classes(n) for n in names(song, 1)] == [raised(c, capo) for c in WRITTEN]
    moved = arranged(SONG.format(more=more), View(Capo.from_number(capo), None, 2))
    assert [pitch_classes(n) for n in names(moved, 0)] == [raised(c, 2) for c in WRITTEN]


def chords_of(chart: Chart) -> list[str]:
    """The names of a chart's written chords."""
    return [
        str(strike.chord)
        for section in chart.sections
        for row in section.rows
        if isinstance(row, MusicRow)
        for bar in row.bars
        for strike in bar.strikes
    ]


@each("by", [0, 2, 5, 7, -4])
def test_a_chart_rewritten_is_moved_the_same(by: int) -> None:
    """As text the song moves as on the page: what sounds, and the shapes under a capo."""
    chart = chart_of(SONG.format(more=""))
    sounding = chords_of(moved_chart(chart, View(Capo(3), None, by)))
    assert [pitch_classes(n.replace("b", "♭")) for n in sounding] == [
        raised(c, by) for c in WRITTEN
    ]
    shapes = chords_of(rewritten_chart(chart, View(Capo(3), None, by), as_shapes=True))
    assert [pitch_classes(n.replace("b", "♭")) for n in shapes] == [
        raised(c, by - 3) for c in WRITTEN
    ]


def test_areas_of_one_song_are_spelled_in_one_direction() -> None:
    """Where F sharp and G flat are both open, a later area goes the way of the first."""
    text = "key: {0}\n\n| {0} |\nkey: {1}\n| {1} |\n"
    sharp = arranged(text.format("E", "F"), View(by=1), PageLook(show="sounding"))
    assert names(sharp, 0) == ["F", "G♭"]
    flat = arranged(text.format("D", "F"), View(by=1), PageLook(show="sounding"))
    assert names(flat, 0) == ["E♭", "G♭"]
    shapes = arranged(text.format("A", "G"), View(capo=Capo(1)), PageLook(show="shapes"))
    assert names(shapes, 0) == ["A♭", "G♭"]


def test_each_section_begins_in_the_key_before_it() -> None:
    """A section's key is the last one given, but a shared one's is that of its music."""
    text = "key: C\n\n== A\n| C |\n\n== B\nkey: E\n| E |\n\n== C as A\n\n== D\n| E |\n"
    assert keys_at_start(chart_of(text)) == tuple(map(parse_key, ["C", "C", "C", "E"]))
    assert keys_at_start(chart_of("key: Am\n\n== A\n| Am |\n")) == (Key(3, "minor"),)


def test_shapes_in_a_key_of_seven_sharps_stay_there() -> None:
    """What is written as shapes is never respelled at its own capo, only when it moves."""
    text = "key: C#\nchords: shapes\ncapo: 1\n\n| C# | F#/A# |\n"
    assert names(arranged(text, View()), 0) == ["C♯", "F♯/A♯"]
    assert names(arranged(text, View(by=1)), 0) == ["D", "G/B"]


@each("key", ["Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B"])
def test_borrowed_chords_have_their_usual_degrees(key: str) -> None:
    """A chord of the parallel minor counts as flat, also where a double flat is spelled plainly;
    the sharp four as sharp (the notes by music21)."""
    usual = {"m3": "♭3", "A4": "♯4", "m6": "♭6", "m7": "♭7"}
    tonic = pitch.Pitch(key.replace("b", "-") + "4")
    for name, degree in usual.items():
        moved = tonic.transpose(interval.Interval(name))
        written = moved.name.replace("--", "bb").replace("-", "b")
        plain = moved.simplifyEnharmonic().name if "bb" in written else written
        song = arranged(f"key: {key}\n\n| {plain} {plain}m |\n", look=PageLook(show="numbers"))
        assert names(song, 0) == [degree, f"{degree}m"], (key, written)


def test_degrees_of_a_minor_key_are_its_own() -> None:
    """A minor key counts from its own first degree, against its own scale."""
    song = arranged("key: Cm\n\n| Cm Ab | Eb Bb | G/B D |\n", look=PageLook(show="numbers"))
    assert names(song, 0) == ["1m", "6", "3", "7", "5/♯7", "2"]
