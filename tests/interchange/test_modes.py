"""Major or minor where the key signatures of a score name no mode."""

import pytest

from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.interchange.taken import Taken
from tests.charts import chart_of
from tests.interchange.reading import body, codes, reads_back, taken

MINOR = "| Am | Dm | E7 | Am |"
MAJOR = "| C | F | G7 | C |"


def without_modes(text: str) -> Taken:
    """What is taken of a chart sent through MusicXML, once its modes are rubbed out."""
    lines = musicxml_bytes(chart_of(text)).decode().splitlines()
    return taken("\n".join(line for line in lines if "<mode>" not in line))


@pytest.mark.parametrize(("row", "key"), [(MINOR, "A minor"), (MAJOR, "C major")])
def test_a_signature_without_a_mode_is_heard(row: str, key: str) -> None:
    """Minor music is called minor, told as a guess with both fits; major music stays as it is,
    and nothing is guessed of it."""
    found = without_modes(f"key: C\n\n{row}\n")
    reads_back(found.chart)
    assert str(found.chart.key) == key
    told = [f.message for f in found.findings if f.code == "mode-guessed"]
    assert len(told) == (key == "A minor")
    assert all("A minor better than C major" in message for message in told)


def test_each_key_of_a_song_is_heard_by_itself() -> None:
    """A verse in minor and a chorus in major each get their own mode."""
    found = without_modes(
        f"key: C\n\n== Verse\n{MINOR}\n\n== Chorus\nkey: G\n| G | C | D7 | G |\n\n"
        "== Bridge\nkey: D\n| Bm | Em | F#7 | Bm |\n"
    )
    assert str(found.chart.key) == "A minor"
    assert [row for row in body(found.chart).splitlines() if row.startswith("key")] == [
        "key: G major", "key: B minor",
    ]  # fmt: skip


def test_a_named_mode_is_kept_and_few_notes_tell_nothing() -> None:
    """What the score says is never guessed over, nor is a mode told from one chord."""
    assert str(taken(musicxml_bytes(chart_of(f"key: C\n\n{MINOR}\n"))).chart.key) == "C major"
    found = without_modes("key: C\n\n| Am |\n")
    assert str(found.chart.key) == "C major"
    assert "mode-guessed" not in codes(found)
