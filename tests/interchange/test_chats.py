"""What people say to each other in a chat around a song."""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_CHAT = """[19:02] Daz: new one, its called Kebab Regret
[19:02] Daz: key of E
[19:03] Daz: verse: E5 G5 A5 E5
[19:03] Shaz: lol ok
[19:04] Daz: chorus: C5 D5 E5 B5
[19:05] Shaz: is there a middle bit
[19:05] Daz: yeah
[19:05] Daz: breakdown: E5 F5 E5 F5
[19:05] Daz: half time on that
[19:06] Daz: order: verse chorus verse breakdown chorus
[19:06] Shaz: nice. got work till 7 tho
[19:07] Daz: np
[19:09] Daz: <media omitted>
"""


def test_answers_in_a_chat_are_no_words() -> None:
    """A word of answer to what others say, and what the program says of a picture, is left out with
    a finding; what is said of the chords is a remark."""
    result = taken(_CHAT)
    assert result.chart.text("title") == "Kebab Regret"
    assert [str(part) for part in parts_of(result.chart)] == [
        "[verse] E5 G5 A5 E5 :  ! []",
        "[chorus] C5 D5 E5 B5 :  ! []",
        "[verse] E5 G5 A5 E5 :  ! []",
        "[breakdown] E5 F5 E5 F5 :  ! ['half time on that']",
        "[chorus] C5 D5 E5 B5 :  ! []",
    ]
    left = [one.message for one in result.findings if one.certainty == "left-out"]
    for talk in ("lol ok", "yeah", "np", "<media omitted>"):
        assert any(f'"{talk}"' in message for message in left)


def test_words_typed_in_a_chat_are_sung() -> None:
    """Several short lines of the one who sends the song are words, also below an answer."""
    chat = (
        "[19:02] Daz: Mud Season\n[19:03] Shaz: lol ok\n[19:03] Daz: verse\n[19:03] Daz: G   C\n"
        "[19:03] Daz: mud on boots\n[19:04] Shaz: nice\n[19:04] Daz: D   G\n[19:05] Shaz: go on\n"
        "[19:05] Daz: rain on roofs\n[19:06] Daz: C   G\n[19:06] Daz: sun on stones\n"
    )
    words = " ".join(part.words for part in parts_of(taken(chat).chart))
    assert "mudonboots" in words
    assert "sunonstones" in words


@each(
    ("last", "cues"),
    [
        ("see you at 5, load in is round the back", ""),
        ("bring your own mic pls", ""),
        ("Treffpunkt 17 Uhr am Bühneneingang", ""),
        ("please stop dead on the last G", "please stop dead on the last G"),
        ("finish on G, let it ring", "finish on G, let it ring"),
    ],
)
def test_the_last_line_of_a_song_without_words(last: str, cues: str) -> None:
    """Talk below rows of chords is left out with a finding; what is said of the music is a cue."""
    result = taken(f"Mud Season\nverse G C D\nchorus C D G\n{last}\n")
    parts = parts_of(result.chart)
    assert [part.words for part in parts] == ["", ""]
    assert ", ".join(parts[-1].cues) == cues
    assert cues or any(one.certainty == "left-out" for one in result.findings)


@each(
    "row",
    ["verse G C D G", "verse: G C D G", "verse is G C D G", "verse - G C D G"],
)
def test_who_sends_the_song_is_known_by_names_with_chords(row: str) -> None:
    """Chords behind a section's name are the song's, whatever stands between, and what others say
    is left out."""
    chat = (
        f"[19:02] Daz: Mud Season\n[19:02] Daz: in G, so 90\n[19:03] Daz: {row}\n"
        "[19:03] Shaz: nice one mate\n[19:04] Daz: chorus C D G G\n[19:05] Shaz: fast?\n"
        "[19:05] Daz: verse chorus verse chorus\n"
    )
    chart = taken(chat).chart
    assert [chart.text(name) for name in ("title", "key", "tempo")] == [  # type: ignore[arg-type]
        "Mud Season",
        "G major",
        "90",
    ]
    assert [str(part) for part in parts_of(chart)] == 2 * [
        "[verse] G C D G :  ! []",
        "[chorus] C D G G :  ! []",
    ]
