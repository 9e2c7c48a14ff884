"""How a song goes, in words: one setting of the head, wherever and however a sheet says it."""

from tests.each import each
from tests.interchange.reading import body, taken

_SONG = "Verse\nC   G\nMoth, moth\nF   C\nCome to the lamp\n"


@each(
    ("line", "feel"),
    [
        ("tempo: slow", "slow"),
        ("Tempo: medium swing", "medium swing"),
        ("tempo slow", "slow"),
        ("tempo = slow", "slow"),
        ("Tempo - slow", "slow"),
        ("(slow)", "slow"),
        ("Slow, please", "Slow"),
        ("Style: campfire, not too fast", "campfire, not too fast"),
        ("Speed: not too fast", "not too fast"),
        ("Tempo: langsam", "langsam"),
        ("ruhig, nicht hetzen", "ruhig, nicht hetzen"),
        ("Key: C   Tempo: slow", "slow"),
        ("capo 2, groove: lazy", "lazy"),
        ("tempo rubato", "rubato"),
    ],
)
def test_words_for_how_it_goes(line: str, feel: str) -> None:
    """The word that leads to them is no part of them."""
    chart = taken(f"The Moth\n{line}\n\n{_SONG}").chart
    assert (chart.text("title"), chart.text("feel"), chart.text("note")) == ("The Moth", feel, "")


def test_settings_under_chords_for_the_whole_song() -> None:
    """Settings below the one row of chords, above all sections, are the song's."""
    song = "Verse\nA paper boat\n\nChorus\nGo, little boat\n"
    chart = taken(f"Boat\nAm F C G throughout\ncapo 2\nkey: Am\ntempo: slow\n\n{song}").chart
    settings = [chart.text(name) for name in ("capo", "key", "feel")]
    assert settings == ["2", "A minor", "slow"]
    assert "slow" not in body(chart) and "capo" not in body(chart)


def test_how_a_section_goes() -> None:
    """In a section it is a cue of that section."""
    chart = taken(f"The Moth\n\n{_SONG}\nBridge\nfeel: half time\nAm   F\nDown\n").chart
    assert '"feel: half time"' in body(chart)
    assert chart.text("note") == ""
