"""What stands around a song: a chat with the writer before the time, questions and answers in it,
settings and remarks below the last line.

The ways to type it are common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import names_of_parts

_SONG = "C        G        Am      F\nEvery gate is open on the lane\n" * 2


@each("stamp", ["Lotte 21:14: ", "Lotte, 21:14 - ", "[Lotte 9:14 PM] ", "Lotte (21:14): "])
def test_a_chat_with_the_writer_before_the_time(stamp: str) -> None:
    """Names and times before messages are left out, whichever stands first."""
    other = stamp.replace("Lotte", "Milo")
    text = (
        f"{stamp}ok here it is don't laugh\n{other}i never laugh\n{stamp}\n"
        f'"Braces"\n\nVerse\n{_SONG}\n{other}ok what tempo?\n{stamp}like 90??\n{other}see you\n'
    )
    result = taken(text)
    assert "chat-stamps" in codes(result)
    assert (result.chart.text("title"), result.chart.text("tempo")) == ("Braces", "90")
    assert names_of_parts(text) == ["Verse"]


@each(
    ("below", "name", "value"),
    [
        ("about 80 to the minute, in C, nothing on the neck", "tempo", "80"),
        ("about 80 to the minute, in C, nothing on the neck", "key", "C major"),
        ("Tempo: 96", "tempo", "96"),
        ("Capo 2", "capo", "2"),
        ("Key: C", "key", "C major"),
        ("tempo about 96, thanks for learning it!", "tempo", "96"),
    ],
)
def test_settings_below_the_song(below: str, name: str, value: str) -> None:
    """A setting that stands only below the last line is that of the whole song."""
    chart = taken(f"Moth Song\n\nVerse\n{_SONG}\n{below}\n").chart
    assert str(chart.setting(name)) == value  # type: ignore[arg-type]
    assert len(chart.sections) == 1


def test_settings_above_hold() -> None:
    """A setting in the head is not changed by what is said below the song."""
    text = f"Moth Song\nTempo: 72\n\nVerse\n{_SONG}\n\ntempo about 96, thanks for learning it!\n"
    assert taken(text).chart.text("tempo") == "72"


@each(
    ("title", "paragraph"),
    [
        ("Bring the Boats In", "thank you for a lovely evening, here is the new one."),
        ("The Station Clock", "please find below the song for next week."),
    ],
)
def test_a_title_below_a_letter(title: str, paragraph: str) -> None:
    """A line spelled as titles are is the title, though it could be said to somebody."""
    text = f"Hello dear singers,\n\n{paragraph}\n\n{title}\n\nVerse\n{_SONG}\n"
    assert taken(text).chart.text("title") == title


@each(("line", "names"), [("(end) just C", ["Verse", "end"]), ("End: only G C", ["Verse", "End"])])
def test_an_ending_on_one_chord(line: str, names: list[str]) -> None:
    """ "Just C" behind the name of an ending is its chord."""
    assert names_of_parts(f"Moth Song\n\nVerse\n{_SONG}\n{line}\n") == names
