"""What people say around the settings of a song, and between its lines in a chat."""

from tests.each import each
from tests.interchange.reading import body, taken
from tests.interchange.typed_sheets import parts_of

_SONG = "Verse\nC   G\nMoth, moth\nF   C\nCome to the lamp\n"


@each(
    "head",
    [
        "THE MOTH   (drop D!!  126 bpm, key Dm)",
        "THE MOTH\ndrop D, 126 bpm, key Dm",
        "THE MOTH\nKey: Dm - dropped D tuning - 126 bpm",
        "THE MOTH\n(drop-D, key of D minor, 126)",
    ],
)
def test_a_tuning_among_settings(head: str) -> None:
    """A tuning between key and tempo is the guitar's, whatever signs stand behind it."""
    chart = taken(f"{head}\n\n{_SONG}").chart
    assert chart.text("instrument") == "drop D"
    assert chart.text("title") == "THE MOTH"


@each("said", ["rev. 3", "v2", "version 4", "draft 2", "12/11", "copy 3", "page 2"])
def test_which_copy_this_is(said: str) -> None:
    """Which copy of a sheet this is tells nothing of how the song goes."""
    chart = taken(f"The Moth\nKey of A - 6/8, quarter = 58          {said}\n\n{_SONG}").chart
    assert chart.text("feel") == ""


def test_words_around_a_setting_stay_together() -> None:
    """A note has the rest of the sentence in one piece."""
    chart = taken(f"The Moth\nkey is E minor i think?? capo wherever\n\n{_SONG}").chart
    notes = [str(row.value) for row in chart.top if getattr(row, "name", "") == "note"]
    assert str(chart.setting("key")) == "E minor"
    assert notes == ["i think?? capo wherever"]


@each(
    "said",
    ["ok in G, swung, about 132", "so it's in G, 132 bpm, swung", "okay: key of G, swung, 132"],
)
def test_settings_behind_a_word_of_talk(said: str) -> None:
    """A word that only begins a message is no title, and the song is called what was asked for."""
    stamps = [
        ("21:03", "Ruben", "dan u got the chords for Tin Moth?"),
        ("21:04", "Dan", "nope, send pls"),
        ("21:05", "Ruben", said),
        ("21:06", "Ruben", _SONG.strip()),
        ("21:07", "Ruben", "haha *to the damp"),
        ("21:08", "Ruben", "Chorus\nF   C\nAway, away\n"),
        ("21:09", "Dan", "thx"),
    ]
    text = "\n".join(f"[26/11/2026, {time}:00] {who}: {line}" for time, who, line in stamps)
    result = taken(text)
    assert result.chart.text("title") == "Tin Moth"
    assert str(result.chart.setting("key")) == "G major"
    assert [part.words for part in parts_of(result.chart)] == ["mothmothcometothelamp", "awayaway"]
    assert not any(part.cues for part in parts_of(result.chart))


def test_a_long_remark_is_no_part_of_a_name() -> None:
    """A short remark stays with the name of a section; a long one is a cue below it, as one behind
    a dash is."""
    remark = "half time feel, just Dan and piano first 4 bars"
    for heading in (f"Bridge ({remark})", f"Bridge - {remark}"):
        chart = taken(f"The Moth\n\n{_SONG}\n{heading}\nF   C\nAway\n").chart
        assert chart.sections[1].name == "Bridge"
        assert f'"{remark}"' in body(chart)


def test_many_chords_in_square_brackets_are_reported_once() -> None:
    """On many lines they are one finding, with each chord's name and the lines."""
    lines = "\n".join(f"[C]Moth number {n} in the [G]lamp" for n in range(1, 9))
    result = taken(f"The Moth\n\nIntro\nC G\n\nVerse\n{lines}\n")
    (finding,) = [one for one in result.findings if one.code == "chords-in-brackets"]
    assert finding.message.startswith("on 8 lines, up to line 14: 16 chords")
    assert finding.message.endswith("C, G")
    assert [one.line for one in result.findings if one.code == "words-without-chords"] == [7]


def test_two_chords_at_one_short_word() -> None:
    """A chord in the gap before a word has that word; one over its last letter has the next."""
    chords = "F           C   C/E"
    chart = taken(f"The Moth\n\nVerse\n{chords}\nironmonger, sell me a coat\n").chart
    assert body(chart).endswith(": ironmonger, / sell / me a coat")


def test_one_line_of_words_under_two_endings_is_a_guess() -> None:
    """Which words belong to which ending is not said, unless the words have bar lines."""
    bars = "|: Cm | F |1. Bb | F :|2. Bb | Bb ||"
    result = taken(f"The Moth\n\nRefrain\n{bars}\nthe sea has your name, can have mine\n")
    assert [one.line for one in result.findings if one.code == "words-over-endings"] == [5]
    plain = taken("The Moth\n\nRefrain\n| Cm | F |\nthe sea has your name, love\n")
    assert not any(one.code == "words-over-endings" for one in plain.findings)
