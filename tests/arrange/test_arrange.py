"""From written chords to shapes and sounding chords, key area by key area."""

import re
from dataclasses import replace

import pytest
from music21 import interval, pitch

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View, target_key
from chartkit.syntax.write import chart_text
from chartkit.theory.capo import Capo
from chartkit.theory.key import parse_key
from tests.charts import arranged, bars, chart_of
from tests.each import each


def names(arrangement: Arrangement, line: int) -> list[str]:
    """The chord names of one line, in order."""
    return [
        "N.C." if strike.names[line] is None else strike.names[line].plain()  # type: ignore[union-attr]
        for section in arrangement.sections
        for system in section.systems
        for bar in system.bars
        for strike in bar.strikes
    ]


def test_shapes_for_a_capo() -> None:
    """With a capo the shapes lie below what sounds, letter for letter."""
    song = arranged(bars("| Db | Ebm7 Ab7 | Gb/Db | N.C. |", key="Db"), View(capo=Capo(1)))
    assert names(song, 0) == ["C", "Dm7", "G7", "F/C", "N.C."]
    assert names(song, 1) == ["D♭", "E♭m7", "A♭7", "G♭/D♭", "N.C."]


def test_a_first_guitar_without_a_capo_reads_the_large_line() -> None:
    """Beside a second guitar with a capo the first one's chords stand above and are large, though
    they are what sounds."""
    view = View(capo=Capo(), second_capo=Capo(5))
    song = arranged(bars("| Am | D |", key="Am"), view)
    assert (song.chord_lines, song.strong) == (("sounding", "second"), "sounding")
    song = arranged(bars("| Am | D |", key="Am"), replace(view, capo=Capo(2)))
    assert (song.chord_lines, song.strong) == (("shape", "second", "sounding"), "shape")


def test_tuned_down_guitar_plays_higher_shapes() -> None:
    """On a guitar tuned down a half step a song in B lies under C shapes."""
    song = arranged(bars("| B | F#7/A# |", key="B"), View(capo=Capo(tuned_down=1)))
    assert names(song, 0) == ["C", "G7/B"]


def test_a_capo_that_brings_strings_back_to_pitch_needs_one_line() -> None:
    """Tuned down a half step with a capo on 1, shapes and sounding chords are the same: they stand
    once, as shapes, so that the page still says what to do to the guitar."""
    song = arranged(bars("| G | D |", key="G"), View(capo=Capo(1, 1)))
    assert (song.chord_lines, song.strong, names(song, 0)) == (("shape",), "shape", ["G", "D"])
    song = arranged(bars("| G | D |", key="G"), View(capo=Capo(3, 1)))
    assert song.chord_lines == ("shape", "sounding")
    sounding = PageLook(show="sounding")
    assert arranged(bars("| G |", key="G"), View(capo=Capo(1, 1)), sounding).chord_lines == (
        "sounding",
    )


def test_chart_written_as_shapes() -> None:
    """Shapes with a capo tell what sounds."""
    song = arranged(bars("| G | Em7 D/F# |", key="G", chords="shapes", capo="3"))
    assert names(song, 0) == ["G", "Em7", "D/F♯"]
    assert names(song, 1) == ["B♭", "Gm7", "F/A"]


def test_another_capo_keeps_what_a_shapes_chart_sounds() -> None:
    """Asking a shapes chart for another capo changes the shapes, not the song."""
    text = bars("| G | Em7 |", key="G", chords="shapes", capo="3")
    song = arranged(text, View(capo=Capo(1)))
    assert names(song, 0) == ["A", "F♯m7"]
    assert names(song, 1) == ["B♭", "Gm7"]


def test_intervals_follow_key_changes() -> None:
    """Each key area moves by its own interval, so no area is spelled oddly."""
    text = "key: D\n\n| D | A/C# |\nkey: E\n| E | G#m |\n"
    song = arranged(text, View(key=parse_key("Db")))
    assert names(song, 0) == ["D♭", "A♭/C", "E♭", "Gm"]


def test_shared_sections_keep_the_key_of_their_music() -> None:
    """A section that shares its music sounds in that music's key, whatever came between."""
    text = "key: C\n\n== A\n| C |\n\n== B\nkey: E\n| E |\n\n== C as A\n"
    assert names(arranged(text, View(capo=Capo(2))), 0) == ["B♭", "D", "B♭"]


@each(
    ("row", "key", "capo", "shapes"),
    [
        ("| G | B/D# | Cm |", "G", 1, ["G♭", "B♭/D", "C♭m"]),
        ("| Abm Cb |", "Abm", 5, ["E♭m", "G♭"]),
        ("| Eb Fb |", "Eb", 2, ["D♭", "D"]),
    ],
)
def test_doubles_are_folded(row: str, key: str, capo: int, shapes: list[str]) -> None:
    """Double accidentals never reach the page."""
    chord_names = names(arranged(bars(row, key=key), View(capo=Capo.from_number(capo))), 0)
    assert not any("♭♭" in name or "♯♯" in name for name in chord_names)
    assert chord_names == shapes


def test_author_choice_outside_the_key_survives() -> None:
    """A sharp four stays a sharp four, a flat six a flat six."""
    song = arranged(bars("| C | F#dim7 | Ab |", key="C"), View(key=parse_key("E")))
    assert names(song, 0) == ["E", "A♯dim7", "C"]


def test_new_bass_alone_is_moved_too() -> None:
    """A bass under the chord before is printed alone, transposed."""
    song = arranged(bars("| C /B Am /G |", key="C"), View(capo=Capo(2)))
    assert names(song, 0) == ["B♭", "/A", "Gm", "/F"]


def test_target_key_keeps_the_mode() -> None:
    """A bare tonic keeps minor minor; asking for another mode is refused."""
    assert target_key("F#", parse_key("Em")) == parse_key("F#m")
    assert target_key("Bbm", parse_key("Em")) == parse_key("Bbm")
    with pytest.raises(ValueError, match="cannot make it minor"):
        target_key("Em", parse_key("C"))
    with pytest.raises(ValueError, match="write Eb major"):
        target_key("D#", parse_key("C"))


def test_rewritten_as_shapes_sounds_the_same() -> None:
    """A chart printed as shapes, read again, sounds what the first one did."""
    chart = chart_of(bars("| Db | Gb Ab7 | Bbm7/Ab |", key="Db", range="Ab3-F5"))
    shapes = chart_of(chart_text(rewritten_chart(chart, View(capo=Capo(1)), as_shapes=True)))
    assert shapes.written_as_shapes
    assert str(shapes.setting("range")) == "Ab3-F5"
    assert names(arranged(chart_text(shapes)), 1) == ["D♭", "G♭", "A♭7", "B♭m7/A♭"]


@each(
    ("view", "sung"),
    [
        (View(by=-1), "G3-E5"),
        (View(by=-12), "Ab2-F4"),
        (View(by=14), "Bb4-G6"),
        (View(key=parse_key("C")), "G3-E5"),
        (View(key=parse_key("G")), "D4-B5"),
    ],
)
def test_range_moves_with_the_song(view: View, sung: str) -> None:
    """The sung range moves by the interval asked for, or the shorter way to a key."""
    chart = chart_of(bars("| Db |", key="Db", range="Ab3-F5"))
    assert str(rewritten_chart(chart, view, as_shapes=False).setting("range")) == sung


@each(
    ("key", "written", "capo", "shapes"),
    [
        ("Db", "A Ab7 Db B", 1, ["A♭", "G7", "C", "B♭"]),
        ("Db", "F#m7 B7 E Gb", 1, ["Fm7", "B♭7", "E♭", "F"]),
        ("Db", "Adim7 Edim7 G Gm7b5", 1, ["G♯dim7", "D♯dim7", "F♯", "F♯m7(♭5)"]),
        ("Eb", "B E", 1, ["B♭", "E♭"]),
        ("Ab", "Bbm7 A7 Abmaj7 E", 1, ["Am7", "A♭7", "Gmaj7", "E♭"]),
        ("B", "Fm7b5 Fdim7 F7 Abm", 2, ["D♯m7(♭5)", "D♯dim7", "E♭7", "F♯m"]),
        ("C", "G# C#7 F#", 2, ["F♯", "B7", "E"]),
    ],
)
def test_simply_written_roots_move_as_they_are_meant(
    key: str, written: str, capo: int, shapes: list[str]
) -> None:
    """A flat six written as A in D flat is a flat six; a raised step that leads up stays
    raised; what a writer chose freely stays as chosen."""
    row = "| " + " | ".join(written.split()) + " |"
    assert names(arranged(bars(row, key=key), View(capo=Capo.from_number(capo))), 0) == shapes


@each(
    ("key", "row", "reads", "printed"),
    [
        ("Ab", "| A13 | Eb7 |", "B flat", ["B13", "F7"]),
        ("Ab", "| Bbb13 | Eb7 |", "B flat", ["C♭13", "F7"]),
        ("Gb", "| D/F# | Gb |", "B flat", ["E/G♯", "A♭"]),
        ("Abm", "| Cb | Gb |", "B flat", ["D♭", "A♭"]),
        ("Db", "| A7 | Ab7 |", "E flat", ["G♭7", "F7"]),
        ("G", "| Bbdim7 | Am7 |", "E flat", ["Gdim7", "F♯m7"]),
        ("Gb", "| Adim7 | Bbm7 |", "B flat", ["Bdim7", "Cm7"]),
        ("C", "| Ab | C |", "E flat", ["F", "A"]),
        ("Gb", "| D | Gb |", "B flat", ["E", "A♭"]),
        ("Abm", "| Fb | Abm |", "B flat", ["G♭", "B♭m"]),
        ("Gm", "| Ab9(#11) | Gm |", "E flat", ["F9(♯11)", "Em"]),
    ],
)
def test_a_plain_name_moves_to_a_plain_name(
    key: str, row: str, reads: str, printed: list[str]
) -> None:
    """If the writer used the plainer name of a root, no reader gets C flat, F flat, E sharp or B
    sharp for it; a harder name written on purpose is kept.  Moved back, the written chord comes
    again."""
    look = PageLook(show="sounding", reads=reads)
    assert names(arranged(bars(row, key=key), look=look), 0) == printed
    written = chart_of(bars(row.replace("Bbb", "A"), key=key))
    there = rewritten_chart(written, View(by=2), as_shapes=False)
    back = rewritten_chart(there, View(key=written.key), as_shapes=False)
    assert chart_text(back) == chart_text(written)


@pytest.mark.parametrize(
    ("key", "to", "written", "printed"),
    [
        # The leading note of a key and of its other steps: music21 spells these roots alike.
        ("Am", "F#m", "G#dim7", "E♯dim7"),
        ("C", "A", "G#dim", "E♯dim"),
        ("C", "B", "C#dim7", "B♯dim7"),
        ("C", "B", "F#m7(b5)", "E♯m7(♭5)"),
        ("Eb", "D", "F#dim", "E♯dim"),
        # Others have their plain names.
        ("C", "Db", "Bb", "B"),
        ("C", "Gb", "Bb", "E"),
        ("C", "Db", "Eb", "E"),
    ],
)
def test_a_leading_diminished_chord_keeps_its_degree(
    key: str, to: str, written: str, printed: str
) -> None:
    """E sharp and B sharp are printed where they lead up to a step of the key, and no C flat or
    F flat, E sharp or B sharp for a borrowed chord."""
    song = arranged(bars(f"| {written} |", key=key), View(key=parse_key(to)))
    assert names(song, 0) == [printed]
    tonics = [pitch.Pitch(one.rstrip("m").replace("b", "-")) for one in (key, to)]
    root = pitch.Pitch(re.match("[A-G][b#]?", written)[0].replace("b", "-"))  # type: ignore[index]
    exact = root.transpose(interval.Interval(*tonics)).name.replace("-", "b")
    assert (exact[0] == printed[0]) == ("dim" in written or "m7(b5)" in written)


def test_key_areas_of_a_song_stay_together() -> None:
    """Between F sharp and G flat a song decides once, its relative minor with it."""
    text = "key: C\n\n| C | F | G | Bb |\nkey: Am\n| Am | Dm | E7 | Am |\n"
    song = names(arranged(text, View(key=parse_key("Gb"))), 0)
    assert song[0] == "G♭"
    assert song[4] == "E♭m"
    song = names(arranged(text, View(key=parse_key("F#"))), 0)
    assert (song[0], song[4]) == ("F♯", "D♯m")


def test_a_key_change_for_a_transposed_reader_tells_both() -> None:
    """If the reader's key is not the sounding one, a change of key names both."""
    text = "key: Db\ncapo: 1\n\n| Db |\nkey: A\n| A |\n"
    announcement = (
        arranged(text, View(Capo(1)), PageLook(reads="F")).sections[0].systems[1].above[0].text
    )
    assert announcement == "A♭ major shapes, sounds A major, written in E major"


def test_double_sharps_are_simple_in_a_new_key_and_as_typed_in_their_own() -> None:
    """If nothing moves, a double sharp or flat stays as typed; in a new key it becomes simple."""
    text = bars("| F##m7 | Ebb |", key="C")
    assert names(arranged(text, View()), 0) == ["F♯♯m7", "E♭♭"]
    assert names(arranged(text, View(key=parse_key("D"))), 0) == ["Am7", "F♭"]
