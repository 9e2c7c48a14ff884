"""What each player is shown: lines, the large one, headings, what is said above a row."""

import pytest
from music21 import instrument, pitch
from music21 import key as music21_key

from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import Announcement, ArrangedSystem
from chartkit.arrange.page_look import TRANSPOSING_INSTRUMENTS, Kind, PageLook, Show, reader_named
from chartkit.arrange.view import View
from chartkit.chart.keys import written_key
from chartkit.chart.model import Meter
from chartkit.theory.capo import Capo
from chartkit.theory.key import parse_key
from chartkit.theory.note import pitch_class_of
from tests.arrange.test_arrange import names
from tests.charts import arranged, bars, chart_of
from tests.each import each


def systems(text: str, view: View | None = None) -> list[ArrangedSystem]:
    """Every system of a song, in order."""
    return [system for part in arranged(text, view or View()).sections for system in part.systems]


@each(
    ("reads", "theirs"),
    [
        ("B flat", "Clarinet in B-flat"),
        ("B flat", "Trumpet"),
        ("E flat", "Alto Saxophone"),
        ("F", "Horn"),
        ("A", "Clarinet in A"),
    ],
)
def test_readers_read_as_far_above_as_music21_says(reads: str, theirs: str) -> None:
    """What a player reads lies as far above the sound as music21's instrument sounds below it."""
    transposition = instrument.fromString(theirs).transposition
    assert TRANSPOSING_INSTRUMENTS[reads] == -transposition.semitones % 12


@each(
    ("sounding", "reads", "theirs"),
    [
        (name, reads, theirs)
        for reads, theirs in (
            ("B flat", "Clarinet in B-flat"),
            ("E flat", "Alto Saxophone"),
            ("F", "Horn"),
            ("A", "Clarinet in A"),
        )
        for name in ("Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#")
    ],
)
def test_a_key_is_read_in_fewest_signs_and_at_the_interval_of_music21(
    sounding: str, reads: str, theirs: str
) -> None:
    """A player reads the key that music21's transposition of the instrument gives; where another
    spelling has fewer signs, that one.  Of six sharps and six flats it is the transposed one, with
    whatever chords: F sharp major for an alto in A."""
    up = instrument.fromString(theirs).transposition.reverse()
    tonic = pitch.Pitch(sounding.replace("b", "-")).transpose(up)
    signs = music21_key.Key(tonic).sharps
    song = arranged(bars("| Cb Fb | B E |", key=sounding), look=PageLook(reads=reads))
    read = song.keys.read
    assert pitch_class_of(read.tonic) == tonic.pitchClass
    assert read.signature == (signs if abs(signs) <= 6 else signs - 12 if signs > 0 else signs + 12)


@each(
    ("text", "reader"),
    [
        ("Bb", "B flat"),
        ("B flat", "B flat"),
        ("B♭", "B flat"),
        ("in Bb", "B flat"),
        ("bb", "B flat"),
        ("in B flat", "B flat"),
        ("E♭", "E flat"),
        ("eb", "E flat"),
        ("F", "F"),
        ("in F", "F"),
        ("a", "A"),
    ],
)
def test_a_transposing_instrument_is_named_by_its_pitch(text: str, reader: str) -> None:
    """The pitch of a horn or a reed may be spoken or signed, in any case."""
    assert reader_named(text) == reader


@each("text", ["", "C", "B", "Ab", "F flat", "flat", "trumpet"])
def test_no_other_pitch_is_a_readers(text: str) -> None:
    """Any other word is refused, with the pitches that there are."""
    with pytest.raises(ValueError, match="B flat, E flat, F, A"):
        reader_named(text)


@each(
    ("show", "capo", "second", "lines"),
    [
        ("both", 0, None, ("sounding",)),
        ("both", 2, None, ("shape", "sounding")),
        ("both", 0, 5, ("sounding", "second")),
        ("both", 2, 5, ("shape", "second", "sounding")),
        ("shapes", 0, None, ("shape",)),
        ("shapes", 2, None, ("shape",)),
        ("shapes", 2, 5, ("shape", "second")),
        ("sounding", 2, 5, ("sounding",)),
        ("numbers", 2, 5, ("number",)),
        ("words", 2, 5, ()),
    ],
)
def test_the_lines_that_a_view_shows(
    show: Show, capo: int, second: int | None, lines: tuple[str, ...]
) -> None:
    """Shapes stand over what sounds; without a capo they are what sounds, and one line is enough;
    above a second guitar's shapes it is the first guitar's.

    Asked for by themselves, shapes are shown without a capo too.
    """
    text = bars("| C | F |", key="C")
    view = View(Capo(capo), second_capo=Capo(second or 0))
    assert arranged(text, view, PageLook(show=show)).chord_lines == lines
    turned = PageLook(show=show, upper="sounding")
    assert arranged(text, view, turned).chord_lines == tuple(
        sorted(lines, key=lambda line: line != "sounding")
    )


@each(
    ("capo", "second", "show", "strong", "large"),
    [
        (2, None, "both", "shapes", "shape"),
        (2, None, "both", "sounding", "sounding"),
        (0, None, "both", "shapes", "sounding"),
        (0, 5, "both", "shapes", "sounding"),
        (2, None, "shapes", "sounding", "shape"),
        (2, None, "numbers", "shapes", "number"),
        (2, 5, "both", "shapes", "shape"),
    ],
)
def test_the_line_that_is_large(
    capo: int, second: int | None, show: Show, strong: Kind, large: str
) -> None:
    """The kind asked for is large where it is shown, and else the line on top."""
    view = View(Capo(capo), second_capo=Capo(second or 0))
    look = PageLook(show=show, strong=strong)
    assert arranged(bars("| C | F |", key="C"), view, look).strong == large


def test_degree_numbers_of_a_new_bass_stand_alone() -> None:
    """A bass under the chord before is a number alone too, after its slash."""
    song = arranged(bars("| C /B Am /G |", key="C"), look=PageLook(show="numbers"))
    assert names(song, 0) == ["1", "/7", "6m", "/5"]


def test_headings_are_the_charts_own() -> None:
    """Title, writer, language and instrument are shown as written, and usual ones where not."""
    settings = (
        "title: Low Tide\nwriter: The Quay Four\nlanguage: de\ninstrument: DADGAD\ntempo: 96\n"
    )
    song = arranged(f"{settings}feel: swing\nnote: softly\nkey: D\n\n| D |\n")
    assert (song.title, song.writer, song.language) == ("Low Tide", "The Quay Four", "de")
    assert (song.instrument, song.tempo, song.feel) == ("DADGAD", 96, "swing")
    assert song.notes == ("softly",)
    bare = arranged("| D |\n")
    assert (bare.title, bare.writer, bare.language, bare.tempo) == ("Untitled", "", "en", None)


def test_a_key_is_given_by_the_chart_or_the_player() -> None:
    """Without either it is a guess, which is not printed."""
    assert not arranged("| D | A7 |\n").key_given
    assert arranged("| D | A7 |\n", View(key=parse_key("E"))).key_given
    assert arranged("key: D\n\n| D | A7 |\n").key_given


def test_a_song_ends_with_its_last_heading() -> None:
    """A heading that repeats a chorus ends the song on the chorus's last chord, by which its key
    is guessed."""
    verse, chorus = "== Verse\n| E5 | B5 |\n", "== Chorus\n| B5 | E5 |\n"
    song = arranged(f"{verse}{chorus}== Verse 2\n| E5 | B5 |\n== Chorus\n")
    assert str(song.keys.sounding) == "E major"


def test_the_likeliest_key_follows_from_chords_alone() -> None:
    """Words, cues and settings between the rows have no part in it."""
    text = '"softly"\n| Eb | Bb7 |\n: | a | b |\n\nmeter: 3/4\n| Ab | Eb |\n'
    assert written_key(chart_of(text)) == parse_key("Eb")


def test_what_is_said_above_a_row() -> None:
    """Cues, tempo and feel stand above the row they are written over, and change no key.

    A meter is printed as the sign of the first bar after it instead.
    """
    text = 'key: D\n\n| D |\n"half time"\nmeter: 3/4\ntempo: 80\nfeel: swing\n| Em |\n'
    _, second = systems(text)
    assert second.above == (
        Announcement("cue", "half time"),
        Announcement("tempo", "80"),
        Announcement("feel", "swing"),
    )
    assert second.bars[0].bar.meter == Meter(3, 4)
    assert [str(bar.meter) for system in systems(text) for bar in system.bars] == ["4/4", "3/4"]
    assert names(arranged(text, View(by=2), PageLook(show="sounding")), 0) == ["E", "F♯m"]


def test_what_is_said_at_the_end_of_a_section() -> None:
    """A cue after the last row stands by itself; a meter stands in the bar that it is for."""
    last = systems('key: D\n\n== A\n| D |\n"wait"\nmeter: 3/4\n\n== B\n| G |\n')
    assert (last[1].bars, last[1].bar_lines, last[1].words) == ((), (), ())
    assert last[1].above == (Announcement("cue", "wait"),)
    assert last[2].bars[0].bar.meter == last[2].bars[0].meter == Meter(3, 4)


def test_changes_at_the_end_of_a_section_stand_over_the_music_they_are_for() -> None:
    """What is set behind the last row of a section is for the next music of its own: it stands
    there, not before the heading, nor over music that comes again in its own key and tempo."""
    changes = "key: A\ntempo: 120\nfeel: swing\n"
    song = f"key: G\ntempo: 90\n\n== A\n| G |\n{changes}\n== A\n\n== B\n| A |\n"
    first, again, own = systems(song)
    assert (first.above, again.above) == ((), ())
    tempo, feel = Announcement("tempo", "120"), Announcement("feel", "swing")
    assert own.above == (Announcement("key", "A major"), tempo, feel)
    (_, other) = systems(song.replace("== A\n\n== B", "== B"))
    assert set(other.above) == set(own.above)
    assert systems("key: G\n\n== A\n| G |\nkey: A\n")[1].above == (own.above[0],)


def test_a_capo_moved_at_the_end_of_a_section_stands_over_the_next_music() -> None:
    """Whichever music that is: a capo stays where it is put."""
    first, again = systems("key: G\n\n== A\n| G |\ncapo: 2\n\n== A\n", View())
    assert first.above == ()
    assert [one.text for one in again.above] == ["Capo 2: F major shapes"]


def test_the_meter_written_in_a_bar_holds_on() -> None:
    """A meter inside a row counts for its bar, the bars after it and the rows below."""
    song_systems = systems("meter: 4/4\n\n| C | 3/4 F | G |\n| C |\n")
    meters = [str(bar.meter) for system in song_systems for bar in system.bars]
    assert meters == ["4/4", "3/4", "3/4", "3/4"]


@each(
    ("sign", "manner"),
    [("<C", "pushed"), ("C!", "stopped"), ("C~", "ringing"), ("(C)", "optional"), ("C", "")],
)
def test_each_manner_of_playing_stays_what_it_is(sign: str, manner: str) -> None:
    """A chord pushed, stopped, left to ring or left to choice is that on the page, and no other."""
    strike = systems(f"key: C\n\n| F | {sign} |\n")[0].bars[1].strikes[0]
    manners = ("pushed", "stopped", "ringing", "optional")
    assert [name for name in manners if getattr(strike, name)] == ([manner] if manner else [])


def test_words_stand_under_their_bars() -> None:
    """What is sung before the first bar is apart; in a row with a pick-up bar it is its bar's."""
    (plain,) = systems("key: C\n\n| C | F |\n: Oh | low | tide |\n")
    (line,) = plain.words
    assert line.pickup.text == "Oh"
    assert [cell[0].text for cell in line.bars] == ["low", "tide"]
    (early,) = systems("key: C\n\nG / | C | F |\n2: Oh | low | tide |\n")
    (line,) = early.words
    assert (line.verse, line.pickup.text) == (2, "")
    assert [cell[0].text for cell in line.bars] == ["Oh", "low", "tide"]


def test_a_shared_section_names_the_one_it_repeats() -> None:
    """A section with another's music says whose, and how often it is played."""
    song = arranged("key: C\n\n== A\n| C |\n\n== B x3 as A\n")
    assert [(part.name, part.same_as, part.times) for part in song.sections] == [
        ("A", "", 1),
        ("B", "A", 3),
    ]


@each(
    ("rows", "meter"),
    [
        ("meter: 3/4\nmeter: 5/4\n| C |", Meter(5, 4)),
        ("meter: 3/4\n| 5/4 C |", Meter(5, 4)),
        ("meter: 3/4\n| C |", Meter(3, 4)),
        ("tempo: 90\n| C |", None),
    ],
)
def test_a_meter_is_signed_where_it_begins(rows: str, meter: Meter | None) -> None:
    """The last meter said before a bar is its sign, unless the bar has one of its own."""
    system = systems(f"key: C\n\n| F |\n{rows}\n")[1]
    assert system.bars[0].bar.meter == meter
    assert all(said.kind != "meter" for said in system.above)


def test_a_meter_before_free_time_is_said() -> None:
    """A row in free time has no bar to sign, so the meter is said above it."""
    system = systems("key: C\n\n| F |\nmeter: 3/4\nC G\n| C |\n")[1]
    assert system.above == (Announcement("meter", "3/4"),)


def lines_of(text: str) -> list[list[str]]:
    """The kinds of the bar lines, system by system."""
    return [[line.kind for line in system.bar_lines] for system in systems(f"key: C\n\n{text}\n")]


@each(
    ("rows", "printed"),
    [
        ("| C | F |:\n| G | C :|", ["single single single", "repeat-start single repeat-end"]),
        ("|: C | F :|:\n| G :|", ["repeat-start single repeat-end", "repeat-start repeat-end"]),
        ("| C |:\nG :|", ["single single", "repeat-start repeat-end"]),
        (
            "| C |:\n| D :|:\n| E :|",
            ["single single", "repeat-start repeat-end", "repeat-start repeat-end"],
        ),
        ("| C |:\n|: G :|", ["single single", "repeat-start repeat-end"]),
        ("| C ||\n| G |", ["single double", "single single"]),
        (
            "F C\n| C |:\n| G :|\nC F\n| C |:\n| D :|",
            [
                "",
                "single single",
                "repeat-start repeat-end",
                "",
                "single single",
                "repeat-start repeat-end",
            ],
        ),
    ],
)
def test_a_repeat_is_printed_where_it_is_played(rows: str, printed: list[str]) -> None:
    """One that begins at a row's end is printed at the start of the next, and once where both
    say so."""
    assert [" ".join(kinds) for kinds in lines_of(rows)] == printed


@each(
    ("view", "look", "words"),
    [
        (View(), PageLook(), "B major"),
        (View(Capo(1)), PageLook(), "B♭ major shapes, sounds B major"),
        (View(second_capo=Capo(4)), PageLook(), "G major shapes, sounds B major"),
        (View(Capo(1)), PageLook(show="shapes"), "B♭ major shapes"),
        (View(Capo(1)), PageLook(show="numbers"), "B major"),
        (View(), PageLook(notes="german"), "H-Dur"),
        (View(Capo(1)), PageLook(notes="german"), "B-Dur shapes, sounds H-Dur"),
        (
            View(Capo(1)),
            PageLook(notes="german", reads="B flat"),
            "B-Dur shapes, sounds H-Dur, written in Des-Dur",
        ),
        (
            View(Capo(4)),
            PageLook(notes="syllables", reads="A"),
            "Sol major shapes, sounds Si major, written in Re major",
        ),
    ],
)
def test_a_change_of_key_is_named_for_the_lines_shown(
    view: View, look: PageLook, words: str
) -> None:
    """Each line's key where it is not what sounds, in the reader's own names."""
    text = "key: Db\n\n| Db |\nkey: B\n| B |\n"
    system = arranged(text, view, look).sections[0].systems[1]
    assert [(one.kind, one.text) for one in system.above] == [("key", words)]


def test_a_chord_held_over_the_bar_line_is_tied() -> None:
    """A bar is tied to the next where that begins with a hold, over a row's end too."""
    text = "key: C\n\n| C / / / | _ / F / | G |\n| _ / C / |\n"
    tied = [bar.tied for system in systems(text) for bar in system.bars]
    assert tied == [True, False, True, False]


def test_a_key_in_which_nothing_is_played_is_announced() -> None:
    """A section that has a key and no music yet is arranged, under every capo."""
    chart = chart_of('key: C\n\n== A\n| C | F |\n\n== Bridge\nkey: E major\n"half time"\n')
    for capo in (None, Capo(2)):
        assert len(arrange(chart, View(capo=capo)).sections) == 2
