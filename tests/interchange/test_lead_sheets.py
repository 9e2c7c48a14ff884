"""The two lead sheets of music21's corpus, end to end, counted independently.

The counts are music21's own: its parser gives every chord symbol and every syllable.
"""

import re
from io import BytesIO
from pathlib import Path

import pytest
from music21 import converter, harmony, stream
from pypdf import PdfReader

from chartkit.arrange.view import View
from chartkit.chart.model import Chart, SettingRow
from chartkit.compile import engraved_pdf
from chartkit.interchange.intake_result import IntakeResult
from chartkit.theory.key import parse_key
from tests.interchange.reading import LEAD_SHEETS, all_words, codes, reads_back, strikes, taken

NAMES = ("berlinAlexandersRagtime", "fosterBrownHair")


def score(name: str) -> stream.Score:
    """The sheet as music21 reads it."""
    parsed = converter.parse(Path(LEAD_SHEETS / f"{name}.mxl"))
    assert isinstance(parsed, stream.Score)
    return parsed


def sheet(name: str) -> IntakeResult:
    """The sheet as we do."""
    return taken((LEAD_SHEETS / f"{name}.mxl").read_bytes())


def in_f(chart: Chart) -> Chart:
    """The chart with the key that the music is in, as a user would correct it."""
    top = tuple(
        SettingRow("key", parse_key("F major"))
        if isinstance(row, SettingRow) and row.name == "key"
        else row
        for row in chart.top
    )
    return Chart((*top, SettingRow("capo", 1)), chart.sections)


@pytest.mark.parametrize("name", NAMES)
def test_every_chord_is_there_in_order(name: str) -> None:
    """Root and pitch classes of every chord symbol are those that music21 reads."""
    theirs = [
        (symbol.root().name.replace("-", "b"), frozenset(p.pitchClass for p in symbol.pitches))
        for symbol in score(name).recurse().getElementsByClass(harmony.ChordSymbol)
        if not isinstance(symbol, harmony.NoChord)
    ]
    ours = [
        (
            str(strike.chord)[: 1 + (str(strike.chord)[1:2] in ("b", "#"))],
            frozenset(strike.chord.pitch_classes),
        )
        for strike in strikes(sheet(name).chart)
        if strike.chord is not None
    ]
    assert ours == theirs


@pytest.mark.parametrize("name", NAMES)
def test_every_syllable_is_there(name: str) -> None:
    """Letter for letter, the words of all verses are those that music21 reads."""
    theirs = "".join(
        lyric.text or "" for note in score(name).recurse().notes for lyric in note.lyrics
    )
    ours = "".join(all_words(sheet(name).chart))
    assert sorted(ours.replace(" ", "")) == sorted(theirs.replace(" ", ""))


@pytest.mark.parametrize("name", NAMES)
def test_the_page_holds_all_of_it(name: str) -> None:
    """The two-line PDF shows each sounding chord over its shape as often as it is struck, and
    every word."""
    chart = in_f(sheet(name).chart)
    document, pdf = engraved_pdf(chart, View())
    text = "\n".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
    text = text.replace("’", "'")
    tokens = [token for line in text.splitlines() for token in line.split()]
    assert "E major shapes" in document.subject
    for word in {w for words in all_words(chart) for w in re.findall(r"[\w';]{4,}", words)}:
        assert word in text
    struck = [str(s.chord) for s in strikes(chart) if s.chord is not None]
    for chord in ("Bb", "F7", "G7"):
        shown = chord.replace("b", "♭")
        assert tokens.count(shown) == struck.count(chord)


@pytest.mark.parametrize("name", NAMES)
def test_the_wrong_signature_is_reported(name: str) -> None:
    """Both declare no signs and are in F.  F major is written where the last chord says so too,
    and suggested for the song whose last written chord leads back."""
    result = sheet(name)
    ends_on_f = name == "fosterBrownHair"
    assert str(result.chart.key) == ("F major" if ends_on_f else "C major")
    assert ("key-by-last-chord" if ends_on_f else "key-doubtful") in codes(result)
    assert any("F major" in finding.message for finding in result.findings)
    reads_back(result.chart)
