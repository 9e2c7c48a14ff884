"""A capo that is moved inside the song: where it holds, what it does to shapes and to what sounds.

That a player moves the capo at a rest, and reads the shapes of the new place from there on, is
common practice, no source.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.arrange.arrange import arrange
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View
from chartkit.chart.capos import capos_in_order
from chartkit.chart.model import TICKS_PER_BEAT, Chart, SettingRow
from chartkit.compile import song_document
from chartkit.diagnostics import Source, has_errors
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.interchange.text.write import sheet_text
from chartkit.layout.frames import Shape, Text
from chartkit.syntax.reader import read_chart
from chartkit.syntax.symbol import chord_or_none
from chartkit.syntax.write import chart_text
from chartkit.theory.capo import NO_CAPO, Capo
from tests.charts import arranged, chart_of
from tests.each import each
from tests.interchange.reading import taken
from tests.layout.geometry import box_of

SONG = """\
title: Two Places
key: C major
capo: 2

== Verse
| C | F | G | C! |

== Last Verse
key: Eb major
capo: 3
| Eb | Ab | Bb | Eb! |

== Verse

== Out
key: C major
capo: 0
| C |
"""


def lines(chart: Chart, view: View) -> list[tuple[tuple[str, ...], ...]]:
    """The names of every strike, section by section: the shape over what sounds."""
    return [
        tuple(
            tuple("N.C." if name is None else name.plain() for name in strike.names)
            for system in section.systems
            for bar in system.bars
            for strike in bar.strikes
        )
        for section in arrange(chart, view).sections
    ]


def test_shapes_follow_the_capo() -> None:
    """Below the row shapes are those of the new capo; music played again is, too, where the capo
    then sits; what sounds stays as written."""
    verse, last, again, out = lines(chart_of(SONG), View())
    assert verse == (("B♭", "C"), ("E♭", "F"), ("F", "G"), ("B♭", "C"))
    assert last == (("C", "E♭"), ("F", "A♭"), ("G", "B♭"), ("C", "E♭"))
    assert again == (("A", "C"), ("D", "F"), ("E", "G"), ("A", "C"))
    assert out == (("C", "C"),)


def test_where_the_capo_sits() -> None:
    """The moves stand in the order of the page, and the last is where the next song begins."""
    chart = chart_of(SONG)
    assert capos_in_order(chart) == (Capo(2), Capo(3), NO_CAPO)
    assert capos_in_order(chart_of("capo: 2\n== A\n| C |\n")) == (Capo(2),)
    arrangement = arrange(chart, View())
    assert (arrangement.capo, arrangement.capo_moves) == (Capo(2), (Capo(3), NO_CAPO))


def test_the_page_says_where_it_moves() -> None:
    """Each move stands above its row with the shapes that follow, unless a change of key beside it
    has them, and the head tells of all."""
    from tests.layout.test_pages import pages_of

    texts = [
        item.plain for page in pages_of(SONG).pages for item in page.items if isinstance(item, Text)
    ]
    assert "Capo 3" in texts and "Key: C major shapes, sounds E♭ major" in texts
    assert "Capo 2, then 3, then off" in texts


def test_a_move_is_as_loud_as_the_capo_of_the_head() -> None:
    """Light letters on a dark box, which holds them and keeps off the row and the key beside it."""
    from tests.layout.test_pages import pages_of

    (page,) = pages_of(SONG).pages
    words = [one for one in page.items if isinstance(one, Text) and one.role == "change"]
    moves = [one for one in words if one.plain.startswith("Capo")]
    boxes = [box_of(one) for one in page.items if isinstance(one, Shape) and not one.thickness]
    assert [one.plain for one in moves] == ["Capo 3", "Capo off"]
    for move in moves:
        assert move.ink == 0
        left, top, right, foot = next(
            box for box in boxes if box[0] < move.x < box[2] and box[1] < move.y < box[3]
        )
        assert right > move.x + move.width and top < move.y - move.pieces[0].size * 0.714
        others = [box_of(one) for one in page.items if isinstance(one, Text) and one != move]
        assert not any(a < right and left < c and b < foot and top < d for a, b, c, d in others)


@each("look", [PageLook(), PageLook(upper="sounding"), PageLook(strong="sounding")])
def test_chords_that_sound_as_they_are_fingered_stand_once(look: PageLook) -> None:
    """With the capo off a row has one line of chords, and is lower by one; the head names one key
    for a song that begins so."""
    song = (
        "key: G\ncapo: 0\n== A\n| G | D |\n: one | two |\n== B\ncapo: 3\n| G | D |\n: one | two |\n"
    )
    (page,) = song_document(chart_of(song), View(), look)[0].pages
    texts = [one for one in page.items if isinstance(one, Text)]
    names = [one for one in texts if one.role in ("shape", "sounding")]
    assert sorted(one.plain for one in names) == ["B", "D", "D", "E", "G", "G"]
    assert [one.plain for one in texts if one.role == "keys"] == ["Key of G major"]
    words = [one.y for one in texts if one.plain == "one"]
    first = [min(words[0] - one.y for one in names if one.y < words[0])]
    second = [max(words[1] - one.y for one in names if words[0] < one.y < words[1])]
    assert first[0] < second[0]


def test_a_key_that_is_written_once_more_is_not_announced_again() -> None:
    """The key and the capo are those of the row before; another key is announced, and the old one
    again after it."""
    song = "key: C\n== A\n| C |\nkey: D\n| D |\n== B\nkey: D\n| D |\nkey: C\n| C |\n"
    song += "== C\nkey: D\n| D |\n"
    said = [
        [one.text for system in section.systems for one in system.above]
        for section in arranged(song).sections
    ]
    assert said == [["D major"], ["C major"], ["D major"]]


@each(
    ("row", "cues"),
    [
        ("| G | C! |", [("capo to 3", 1, 1)]),
        ("| G | C r r r |", [("capo to 3", 1, 1)]),
        ("| G | C / r r |", [("capo to 3", 1, 2)]),
        ("| G | rest | rest 2 |", [("capo to 3", 1, 0)]),
        ("| G! | N.C. |", [("capo to 3", 0, 1)]),
        ('| G | "all" rest |', [("all", 1, 0), ("capo to 3", 1, 0)]),
        ("| rest | G |", []),
        ("| G | r / / / |", []),
        ("| G! | % |", []),
    ],
)
def test_the_silence_before_a_move_says_it(row: str, cues: list[tuple[str, int, int]]) -> None:
    """The player reads of a move where the hand is free, and not when the music goes on; nobody
    else reads of it."""
    chart = chart_of(f"key: G\ncapo: 0\n== A\n| D | D |\n{row}\n== B\ncapo: 3\n| G |\n")
    said = [
        (cue.text, number, cue.onset // TICKS_PER_BEAT)
        for system in arrange(chart, View()).sections[0].systems
        for number, bar in enumerate(system.bars)
        for cue in bar.bar.cues
    ]
    assert said == cues
    others = (arrange(chart, View(), PageLook(show="sounding")), arrange(chart, View(capo=Capo(2))))
    for one in others:
        texts = [c.text for s in one.sections[0].systems for bar in s.bars for c in bar.bar.cues]
        assert "capo to 3" not in texts


def test_a_section_played_twice_does_not_say_that_the_capo_moves() -> None:
    """Only after the last time it does, and its page cannot tell the times apart."""
    for played in ("== A x2\n| G | rest |\n", "== A\n| G | rest |\n== C\n| D |\n== A\n"):
        chart = chart_of(f"key: G\ncapo: 0\n{played}== B\ncapo: 3\n| G |\n")
        sections = arrange(chart, View()).sections
        assert not [bar for s in sections for row in s.systems for bar in row.bars if bar.bar.cues]


def test_one_capo_asked_for_is_one_for_the_whole_song() -> None:
    """A capo given on the command line or in a set is one place: the chart's moves are left out."""
    chart = chart_of(SONG)
    arrangement = arrange(chart, View(capo=Capo(1)))
    assert arrangement.capo_moves == ()
    kinds = [
        a.kind for section in arrangement.sections for one in section.systems for a in one.above
    ]
    assert "capo" not in kinds
    assert lines(chart, View(capo=Capo(1)))[3] == (("B", "C"),)


def test_shapes_sound_from_the_new_capo() -> None:
    """Where the chords are written as shapes, they stay, and sound as much higher; the page says
    what they then sound."""
    song = "key: G\nchords: shapes\ncapo: 2\n== A\n| G | C! |\n\n== B as A\ncapo: 4\n"
    first, second = lines(chart_of(song), View())
    assert first == (("G", "A"), ("C", "D")) and second == (("G", "B"), ("C", "E"))
    announced = [
        one.text for section in arranged(song).sections for one in section.systems[0].above
    ]
    assert announced == ["Capo 4: G major shapes, sounds B major"]


@pytest.mark.parametrize("as_shapes", [False, True])
def test_written_anew_it_sounds_the_same(as_shapes: bool) -> None:
    """As shapes or as what sounds, moved or not, the text that comes out has the same two lines;
    music that is shared under another capo is written out."""
    chart = chart_of(SONG)
    anew = chart_of(chart_text(rewritten_chart(chart, View(), as_shapes)))
    assert lines(anew, View()) == lines(chart, View())
    back = rewritten_chart(anew, View(), as_shapes=False)
    assert lines(back, View()) == lines(chart, View())


@given(st.lists(st.integers(0, 7), min_size=1, max_size=4), st.booleans(), st.integers(0, 11))
@settings(max_examples=60, deadline=None)
def test_shape_and_capo_make_what_sounds(frets: list[int], shapes: bool, by: int) -> None:
    """For any moves, in any key, each shape raised by the capo above it sounds the chord below."""
    text = f"key: A\ncapo: {frets[0]}\n" + "chords: shapes\n" * shapes
    for number, fret in enumerate(frets):
        music = "| A E/G# | F#m7 D! |" if not number else ""
        like = " as S 0" if number else ""
        text += f"\n== S {number}{like}\n" + f"capo: {fret}\n" * bool(number) + music + "\n"
    chart = chart_of(text)
    lines_of_sections = lines(chart, View(by=by))
    for fret, section in zip(frets, lines_of_sections, strict=True):
        for names in section:
            if len(names) == 2:
                shape, sounding = (
                    chord_or_none(name.replace("♭", "b").replace("♯", "#")) for name in names
                )
                assert shape is not None and sounding is not None
                raised = {(one + fret) % 12 for one in shape.pitch_classes}
                assert raised == sounding.pitch_classes


def test_through_musicxml() -> None:
    """Moves come back, also where the song begins without a capo.

    Source: ``capo`` in ``staff-details``, W3C MusicXML 4.0.
    """
    for song in (SONG, SONG.replace("capo: 2\n", "")):
        back = taken(musicxml_bytes(chart_of(song))).chart
        assert capos_in_order(back) == capos_in_order(chart_of(song))
        assert lines(back, View()) == lines(chart_of(song), View())


def test_in_a_text() -> None:
    """A text for a mail says each move above the row it is for, and is read again."""
    text = sheet_text(chart_of(SONG))
    assert text.index("(Capo 3)") < text.index("Ab") < text.index("(Capo off)")
    for song in (SONG, SONG.replace("capo: 2\n", "")):
        back = taken(sheet_text(chart_of(song))).chart
        assert capos_in_order(back) == capos_in_order(chart_of(song))
        assert lines(back, View()) == lines(chart_of(song), View())


def test_a_capo_that_somebody_moves() -> None:
    """A line about the capo between sections moves it: the shapes typed below sound from there."""
    typed = "Late Tide\n\nVerse\nG  C\nlow tide\n\nLast Chorus\nCapo 2\nG  C\nhome again\n"
    chart = taken(typed).chart
    assert chart.written_as_shapes and capos_in_order(chart) == (NO_CAPO, Capo(2))


def test_print_and_parse() -> None:
    """A move is a row of its own and stays one."""
    reading = read_chart(Source(SONG))
    assert not has_errors(reading.diagnostics)
    assert read_chart(Source(chart_text(reading.chart))).chart == reading.chart
    rows = [r for s in reading.chart.sections for r in s.rows if isinstance(r, SettingRow)]
    assert [row.value for row in rows if row.name == "capo"] == [3, 0]


def codes(text: str) -> list[str]:
    """The codes of what is reported of a chart."""
    return [one.code for one in read_chart(Source(text)).diagnostics]


def test_a_move_that_is_needed_once_is_not_idle() -> None:
    """A chorus that moves the capo comes again with the capo there already: the row is needed the
    first time, and nothing is said of the second."""
    chorus = "key: C\n\n== Verse\n| C! |\n\n== Chorus\ncapo: 2\n| F! |\n\n== Chorus\n"
    assert codes(chorus) == []
    assert codes(chorus.replace("key: C", "key: C\ncapo: 2")) == ["capo-not-moved"]


@pytest.mark.parametrize("heading", ["== Verse", "== Verse 2 as Verse"])
def test_a_section_left_under_another_capo_is_reported(heading: str) -> None:
    """Music that comes again under the capo of the section before is pointed out, unless the chart
    moves the capo back or says that it stays."""
    text = f"key: C\n\n== Verse\n| C! |\n\n== Chorus\ncapo: 2\n| F! |\n\n{heading}\n"
    assert codes(text) == ["capo-left-there"]
    assert codes(f"{text}capo: 0\n") == []
    assert codes(f"{text}capo: 2\n") == []
