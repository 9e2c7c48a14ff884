"""Major or minor where the key signatures of a score name no mode."""

import pytest

from chartkit.chart.model import SettingRow
from chartkit.interchange.intake_result import IntakeResult
from chartkit.interchange.musicxml.write import musicxml_bytes
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.scores import score

MINOR = "| Am | Dm | E7 | Am |"
MAJOR = "| C | F | G7 | C |"


def without_modes(text: str) -> IntakeResult:
    """What is taken of a chart sent through MusicXML, once its modes are rubbed out."""
    lines = musicxml_bytes(chart_of(text)).decode().splitlines()
    return taken("\n".join(line for line in lines if "<mode>" not in line))


@pytest.mark.parametrize(("row", "key"), [(MINOR, "A minor"), (MAJOR, "C major")])
def test_a_signature_without_a_mode_is_heard(row: str, key: str) -> None:
    """Minor music is called minor, reported as a guess with both fits; major music stays as it is,
    and nothing is guessed of it."""
    result = without_modes(f"key: C\n\n{row}\n")
    reads_back(result.chart)
    assert str(result.chart.key) == key
    messages = [f.message for f in result.findings if f.code == "mode-guessed"]
    assert len(messages) == (key == "A minor")
    assert all("the last chord is Am" in message for message in messages)


def test_each_key_of_a_song_is_heard_by_itself() -> None:
    """A verse in minor and a chorus in major each get their own mode."""
    result = without_modes(
        f"key: C\n\n== Verse\n{MINOR}\n\n== Chorus\nkey: G\n| G | C | D7 | G |\n\n"
        "== Bridge\nkey: D\n| Bm | Em | F#7 | Bm |\n"
    )
    assert str(result.chart.key) == "A minor"
    assert [row for row in body(result.chart).splitlines() if row.startswith("key")] == [
        "key: G major",
        "key: B minor",
    ]


def test_music_that_goes_on_in_another_key_need_not_end_on_its_tonic() -> None:
    """A verse in major may stop on the chord of its sixth degree where a chorus in another key
    follows; one that is in minor throughout is minor."""
    last = "\n\n== Chorus\nkey: D\n| D | A7 | D | D |\n"
    major = without_modes(f"key: C\n\n{MAJOR}\n| F | C | G7 | Am |{last}")
    minor = without_modes(f"key: C\n\n{MINOR}\n| Dm | Am | E7 | Am |{last}")
    assert [str(one.chart.key) for one in (major, minor)] == ["C major", "A minor"]


FOREIGN = """time=4/4 key={key} {first} r16
<Dm> r16
<E7> r16
{last} r16"""


@each(
    ("key", "last", "wanted"),
    [
        ("0M", "<Am>", "A minor"),
        ("0", "<Am>", "A minor"),
        ("0M", "<C>", "C major"),
        ("0", "<C>", "C major"),
        ("0", "<G>", "C major"),
        ("0m", "<C>", "A minor"),
        ("0", "<A>", "A minor"),
        ("-3M", "<Cm>", "C minor"),
    ],
)
def test_the_last_chord_says_major_or_minor(key: str, last: str, wanted: str) -> None:
    """A signature is minor where the last chord is its minor tonic, whatever mode the file names,
    and major otherwise; a minor that is named stays."""
    first = "<Cm>" if key == "-3M" else "<Am>"
    assert str(taken(score(FOREIGN.format(key=key, first=first, last=last))).chart.key) == wanted


@pytest.mark.parametrize(("head", "key"), [("", "F major"), ("key=0M ", "F major")])
def test_a_key_that_the_music_and_its_last_chord_agree_on_is_written(head: str, key: str) -> None:
    """Without a signature, or with none of the signs that the music has, the key is the one on
    whose tonic it ends; reported as a guess."""
    song = f"time=4/4 {head}<F> r16\n<Bb> r16\n<C7> r16\n<F> r8 <Gm> r8\n<C7> r16\n<F> r16"
    result = taken(score(song))
    assert str(result.chart.key) == key
    assert codes(result) & {"no-key", "key-by-last-chord"}


def test_a_pick_up_does_not_hide_the_signature() -> None:
    """The signature is compared with the music also where an upbeat stands before it."""
    song = "time=4/4 key=0M imp no=0 r4\n<F> r16\n<Bb> r16\n<C7> r16\n<Gm> r16\n<F> r16"
    assert str(taken(score(song)).chart.key) == "F major"


def test_a_named_mode_of_our_own_is_kept() -> None:
    """What our own writer says is never guessed over."""
    assert str(taken(musicxml_bytes(chart_of(f"key: C\n\n{MINOR}\n"))).chart.key) == "C major"


@each(
    ("key", "chords", "wanted"),
    [
        ("key=0M", "Am Dm Am E7 Am Dm Am E7", "A minor"),  # a turnaround on the fifth degree
        ("key=0M", "C F G C Am F G E7", "C major"),  # the same chord, but the music is in major
        ("key=0M", "A D E7 A A D E7 A", "A major"),  # every key signed as C: the major tonic
        ("", "Em Am B7 Em Am Em B7 Em", "E minor"),
        ("", "D G A7 D Bm G A7 D", "D major"),
    ],
)
def test_the_end_of_the_music_decides(key: str, chords: str, wanted: str) -> None:
    """The key of a score without melody is that of its last chord, or of the fifth degree that it
    ends on, where the chords fit."""
    lines = "\n".join(f"<{chord}> r16" for chord in chords.split())
    assert str(taken(score(f"time=4/4 {key} {lines}")).chart.key) == wanted


def test_a_signature_that_nobody_set_gives_way_sooner() -> None:
    """Where another key fits hardly better and its tonic ends the song, it is written in place of
    the empty signature, if much of the music is outside that."""
    chords = ("Bb", "F", "F", "C", "Am", "Gm", "F", "C", "F")
    song = "\n".join(f"<{chord}> r16" for chord in chords)
    assert str(taken(score(f"time=4/4 key=0M {song}")).chart.key) == "F major"


@each(
    ("key", "chords", "wanted"),
    [
        ("key=0M", "F C F C Gm F Bb C F Gm C F", "F major"),  # C major fits as well
        ("", "G C D G C D C D7 Em D A7 D G", "G major"),  # D major fits best
        ("key=0M", "Em Bm C D Em Bm F#dim B7 Em", "E minor"),
    ],
)
def test_a_scale_that_holds_all_of_the_music(key: str, chords: str, wanted: str) -> None:
    """Where no signature was set, the key of the last chord is written if it leaves nearly nothing
    outside its scale, even if another key fits better by its profile."""
    lines = "\n".join(f"<{chord}> r16" for chord in chords.split())
    assert str(taken(score(f"time=4/4 {key} {lines}")).chart.key) == wanted


@each(
    ("first", "then", "wanted"),
    [
        ("Em Am B7 C", "F#m Bm C#7 F#m", ["E minor", "F# minor"]),
        ("G C D E7", "A D E7 A", ["G major", "A major"]),
        ("Em Am B7 Em", "E A B7 E", ["E minor", "E major"]),
    ],
)
def test_a_key_that_moves_keeps_its_mode(first: str, then: str, wanted: list[str]) -> None:
    """Music that goes on a tone higher is in the mode in which it ends, whatever its own last chord
    is; over the same tonic it may change its mode."""
    one, two = ("\n".join(f"<{c}> r16" for c in row.split()) for row in (first, then))
    new = {"F# minor": "key=3M", "A major": "key=3M", "E major": "key=4M"}[wanted[1]]
    chart = taken(score(f"time=4/4 key=1M {one}\n{new} {two}")).chart
    rows = [row for section in chart.sections for row in section.rows]
    later = [str(r.value) for r in rows if isinstance(r, SettingRow) and r.name == "key"]
    assert [str(chart.key), *later] == wanted


@each(
    ("key", "chords", "wanted"),
    [
        # a last chord of the sixth degree after cadences on the tonic
        ("key=0M", "C F G7 C F G7 C Am", "C major"),
        ("key=1", "G D7 G Em C D7 G D7 G Em", "G major"),
        ("key=-1M", "F C F Bb C F Bb C F Dm", "F major"),
        # a minor signature whose minor tonic is never struck
        ("key=1m", "G C D7 G", "G major"),
        # begins on the minor tonic and stops on its fifth degree
        ("key=1", "Em D C B7", "E minor"),
        ("key=1M", "Em D C B", "E minor"),
        ("key=1", "Em D C Bm", "G major"),
        # too few of them, one on the minor tonic, or another beginning
        ("key=0M", "C F G C Am Dm F Am", "A minor"),
        ("key=0M", "C F G7 C Am E7 Am G7 C Am", "A minor"),
        ("key=0M", "Am G7 C G7 C G7 C Am", "A minor"),
        # begins and ends on the fifth degree, whose seventh is low
        ("key=1M", "D C G D C D D C G C D", "D mixolydian"),
        ("key=-1", "C Bb C F Bb C", "C mixolydian"),
        # goes home from there by way of the fourth degree; or ends on the tonic
        ("key=1", "D C G D D C G D", "D mixolydian"),
        ("key=1", "D C G D C G", "G major"),
        ("key=0M", "Dm G Dm C Dm G Dm", "D dorian"),
        # leads back to the tonic; ends on a seventh
        ("key=1M", "D G C D G D G D", "G major"),
        ("key=1M", "D7 C G D7 C D7", "G major"),
    ],
)
def test_cadences_say_more_than_the_last_chord(key: str, chords: str, wanted: str) -> None:
    """Music that comes home to its tonic again and again keeps it; music that begins and ends
    on the fifth or the second degree, and goes home to that, has another mode."""
    lines = "\n".join(f"<{chord}> r16" for chord in chords.split())
    result = taken(score(f"time=4/4 {key} {lines}"))
    assert str(result.chart.key) == wanted
    told = codes(result) & {"mode-guessed", "mode-kept"}
    last_is_tonic = wanted.split()[0] + "m" * (wanted.split()[1] == "minor") == chords.split()[-1]
    assert bool(told) == ("major" not in wanted or not last_is_tonic) or wanted == "G major"


def test_a_minor_signature_is_meant_where_its_tonic_is_struck() -> None:
    """Music with a minor signature may begin and end on the relative major."""
    for chords in ("G Em C D7 G", "Em C D7 G"):
        lines = "\n".join(f"<{chord}> r16" for chord in chords.split())
        assert str(taken(score(f"time=4/4 key=1m {lines}")).chart.key) == "E minor"


def test_a_loop_that_begins_in_minor_is_told() -> None:
    """Music that begins on the minor tonic and ends on neither keeps its signature, with a word."""
    for chords, told in (("Am F C G", True), ("Am F C G C", False), ("C G Am F", False)):
        lines = "\n".join(f"<{chord}> r16" for chord in chords.split())
        read = taken(score(f"time=4/4 key=0M {lines}"))
        assert str(read.chart.key) == "C major"
        assert ("mode-doubtful" in codes(read)) == told
