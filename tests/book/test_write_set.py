"""Choices written into a set file: what is meant is there, and everything else stays."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chartkit.book.night import planned_night
from chartkit.book.set_file import read_set
from chartkit.book.set_list import SetList
from chartkit.book.write_set import NotWritable, planned_text, with_capos, with_keys, with_order
from chartkit.diagnostics import Source
from chartkit.theory.capo import Capo
from tests.book.sets import chart, night_of, set_text

TEXT = """\
# a night of four
name = "Night"   # its name

[[players]]
name = "Ada"
reads = "both"
instrument = "guitar"
sits_out = [2, "d"]  # not hers

# the opener
[[songs]]
chart = "a.chart"    # loud
note = "stand up"

[[songs]]
chart = "b.chart"
shift = -2
# b is slow

# after the interval
[[songs]]
chart = "c.chart"
capo = { Ada = 2 }

[[songs]]
chart = "d.chart"
# the end
"""


def read(text: str) -> SetList:
    """The set of a text."""
    reading = read_set(Source(text, "s.toml"), Path("/nights"))
    assert reading.set_list is not None, reading.diagnostics
    return reading.set_list


@given(st.permutations(range(4)))
def test_an_order_is_the_same_songs_in_it(order: list[int]) -> None:
    """Songs stand in the order asked for, whole; every comment is kept, numbers of songs that
    are sat out follow, and the way back restores the set."""
    moved = with_order(TEXT, order)
    songs, before = read(moved).songs, read(TEXT).songs
    assert [(s.name, s.note, s.shift, s.capos) for s in songs] == [
        (s.name, s.note, s.shift, s.capos) for s in (before[number] for number in order)
    ]
    for comment in ("# a night", "# its name", "# not hers", "# the opener", "# loud", "# b is"):
        assert moved.count(comment) == 1
    assert read(moved).players[0].sits_out == (str(order.index(1) + 1), "d")
    back = with_order(moved, [order.index(number) for number in range(4)])
    assert [song.name for song in read(back).songs] == [song.name for song in before]


@given(
    st.sets(st.integers(0, 3), min_size=1, max_size=4).flatmap(lambda n: st.permutations(sorted(n)))
)
def test_songs_that_are_left_out_are_sat_out_by_nobody(order: list[int]) -> None:
    """A number means the same song after others are gone, a name that song alone; what was said of
    a song that is gone goes with it."""
    row = (
        'name = "N"\nsongs = [{ chart = "a" }, { chart = "b" }, { chart = "c" }, { chart = "d" }]\n'
    )
    players = TEXT[TEXT.index("[[players]]") : TEXT.index("# the opener")]
    for text in (TEXT, row + players):
        made = tomllib.loads(with_order(text, order, lambda name: {"2": 1, "d": 3}.get(name)))
        assert [song["chart"][0] for song in made["songs"]] == ["abcd"[at] for at in order]
        numbers = [order.index(1) + 1] if 1 in order else []
        names = ["d"] if 3 in order else []
        assert made["players"][0]["sits_out"] == [*numbers, *names]


def test_a_comment_above_a_song_goes_with_it() -> None:
    """What stands right above a song's heading is said of that song."""
    lines = with_order(TEXT, [2, 0, 1, 3]).splitlines()
    assert lines[lines.index('chart = "c.chart"') - 2] == "# after the interval"
    assert lines[lines.index('chart = "a.chart"    # loud') - 2] == "# the opener"


def test_keys_and_capos_are_written_where_they_belong() -> None:
    """A key takes the place of a shift, a capo of the one there; the rest stays letter for
    letter."""
    text = with_capos(with_keys(TEXT, {1: "Bb"}), {0: {"Ada": Capo(3)}, 2: {"Ada": Capo(0, 1)}})
    songs = read(text).songs
    assert (songs[1].key, songs[1].shift) == ("Bb", 0)
    assert songs[0].capos == {"Ada": Capo(3)}
    assert songs[2].capos == {"Ada": Capo(0, 1)}
    assert 'note = "stand up"' in text
    assert with_order(TEXT, [0, 1, 2, 3]) == TEXT


@pytest.mark.parametrize(
    "text",
    [
        'songs = [\n  { chart = "a.chart" },  # opens\n  { chart = "b.chart" },\n]\n',
        '[[songs]]\nchart = "a.chart"\n[stage]\nhelper = true\n[[songs]]\nchart = "b.chart"\n',
    ],
)
def test_a_layout_that_cannot_be_edited_is_left_alone(text: str) -> None:
    """Songs in a row with comments, or with other tables between them, are not reordered."""
    with pytest.raises(NotWritable):
        with_order(text, [1, 0])


@pytest.mark.parametrize("guitars", ["", 'guitars = [{ name = "blue", tuned_down = 1 }]\n'])
def test_a_written_plan_is_the_plan(guitars: str) -> None:
    """Planned again, a set file with its plan in it has the same order and capos, and writing it
    again changes nothing; so too on a guitar that comes tuned down, with a capo on it."""
    texts = {
        f"{name}.chart": chart(name, key)
        for name, key in (("one", "Db"), ("two", "E"), ("three", "Bb"), ("four", "G"))
    }
    text = set_text([f'chart = "{name}"' for name in texts])
    text = text.replace('instrument = "guitar"\n', f'instrument = "guitar"\n{guitars}')
    source = Source(text, "night.toml")
    night = night_of(texts, source.text)
    plan = planned_night(night, free_order=True)
    folder = Path("/nowhere")
    written = planned_text(source, folder, night.set_list, night, plan)
    again = night_of(texts, written)
    second = planned_night(again)
    assert [again.facts[n].title for n in second.order] == [
        night.facts[n].title for n in plan.order
    ]
    downs = {s.offer.option.tuned_down for one in plan.players for s in one.steps if s is not None}
    assert downs == {int(bool(guitars))}
    for one, other in zip(plan.players, second.players, strict=True):
        assert [s and s.offer.option for s in one.steps] == [
            s and s.offer.option for s in other.steps
        ]
    once_more = planned_text(Source(written, "night.toml"), folder, again.set_list, again, second)
    assert once_more == written


def test_whoever_has_no_capo_gets_none_written() -> None:
    """A plan's capos are written for guitarists, not for a ukulele player, who has no capo."""
    players = "".join(
        f'[[players]]\nname = "{name}"\nreads = "shapes"\ninstrument = "{instrument}"\n'
        for name, instrument in (("Bo", "guitar"), ("Una", "ukulele"))
    )
    texts = {f"{key}.chart": chart(key, key) for key in ("Db", "G")}
    set_file = set_text([f'chart = "{name}"' for name in texts], players)
    night = night_of(texts, set_file)
    text = planned_text(
        Source(set_file, "night.toml"),
        Path("/nowhere"),
        read(set_file),
        night,
        planned_night(night),
    )
    assert [sorted(song.capos) for song in read(text).songs] == [["Bo"], ["Bo"]]
