"""The MusicXML test suite that ships with music21, file by file: what must hold of each.

Source: the suite's own descriptions inside the files, read by hand; the expected bars were
written down from the notes and symbols of the files.
"""

import re
from xml.etree import ElementTree

import pytest

from chartkit.interchange.intake_result import Refused
from tests.each import each
from tests.interchange.reading import (
    SUITE,
    all_words,
    body,
    codes,
    reads_back,
    strikes,
    suite,
    taken,
)

MUSIC = {
    # Harmony
    "71a": "| C Cmaj7(#11) B7(#5,#9) Ebadd9 | Gm D#maj7 Adim7 Aaug ||",
    "71c": "| C Cmaj7(#11) B7(#5,#9) Ebadd9 | Gm D#maj7 Adim7 C ||",
    "71d": "| C D7 Ebm9 Cm7(11) ||",
    "71g": "| C F#m6 Dm7 G7 |",
    "46g": '"pick-up" C | C |',
    # Lyrics
    "61a": "| / / / / | / / / / | / / / / ||\n: | Tralali Ja! | Trara! | Bah! |",
    "61b": "| / / / / | / / / / ||\n"
    "1: | Tralala, ja! | Trara... |\n"
    "2: | tralala, ja! | Trara. |\n"
    "3: | TRALALA, JA! | TRARA... |",
    "61c": "| / / / / ||\n1: | tralali ja! |\n2: | TRALALI JA! |",
    "61d": "| / / / / | / / / / ||\n: | Me- | lisma. |",
    "61e": "| / / / / ||\n: | Lyrics on chords |",
    "61f": "| / / / / | / / / / ||\n: | Lyrics on | notes with graces |",
    "61h": "| / / / / | / / / / | / / / / | / / / / ||\n"
    ": | Melisma | Melisma | Melisma | Melisma |",
    "61i": "| / / / / |\n1: | Lyrics 1 |\n2: | Lyrics 2 |\n3: | Lyrics 3 |",
    "61j": "| / / / / ||\n: | a b c d e f g h |",
    "61k": "| / / / / | / / / / | / / / / ||\n: | A long- | er | Text |",
    "61l": "| / / / / ||\n: | abcde fgh |",
    # Repeats
    "45a": "| / / / / :| x5\n| / / / / ||",
    "45b": "| / / / / |1. / / / / :|2. / / / / |\n| / / / / ||",
    "45c": "| / / / / |\n"
    "|: / / / / | / / / / :| x5\n"
    "| / / / / | / / / / | / / / / | / / / / :| x3\n"
    "| / / / / ||",
    "45d": "| / / / / |1. / / / / :|2. / / / / | / / / / | / / / / |3. / / / / |\n"
    "| / / / / | / / / / | / / / / |1. / / / / |5. / / / / :|\n"
    "| / / / / ||",
    "45f": "| / / / / |1.2.3. / / / / |2. / / / / |\n| / / / / :| / / / / ||",
    "45g": "| / / / / |\n|: / / / / ||",
    # Bars and pick-ups
    "46a": "| / / / / | / / / / | / / / / | / / / / |\n"
    "| / / / / | / / / / || / / / / ||\n"
    "| / / / / || / / / / ||\n"
    "| / / / / | / / / / | / / / / | / / / / |",
    "46b": "| / / / / |",
    "46c": "| / / / / | / / / / | / / / / ||",
    "46d": "| / / / / | / / / / ||",
    "46e": "| / / / / |",
    "46f": "| / / / / | 2/4 / / | 4/4 / / / / |",
    # Meters
    "11b": "| / / / / |",
    "11c": "| / / / / / | 9/4 / / / / / / / / / ||",
    "11d": "| / / / / / / / / / / / | 21/8 / / / / / / / ||",
    "11e": "| / / / / / / / / / / / ||",
    "11g": "| / / / ||",
    "11h": "N.C.",
    # Keys
    "13b": "| / |\n"
    ": | major |\n"
    "key: B minor\n"
    "| / |\n"
    ": | minor |\n"
    "key: D major\n"
    "| / |\n"
    ": | ionian |\n"
    "key: E dorian\n"
    "| / |\n"
    ": | dorian |\n"
    "key: F# phrygian\n"
    "| / |\n"
    ": | phrygian |\n"
    "key: G lydian\n"
    "| / |\n"
    ": | lydian |\n"
    "key: A mixolydian\n"
    "| / |\n"
    ": | mixolydian |\n"
    "key: B minor\n"
    "| / |\n"
    ": | aeolian |\n"
    "key: C# locrian\n"
    "| / |\n"
    ": | locrian |",
    "13c": "| / / | / / ||",
}
"""The music and words that must come of a file, blanks aside."""

FOUND = {
    "11d": "meter-added-up", "13aa": "key-respelled", "13c": "odd-key",
    "13d": "odd-key", "13e": "key-after-end", "46f": "own-meter",
    "11b": "no-meter",
    "71f": "functional-kind", "71g": "chords-spread", "61a": "no-chords",
}  # fmt: skip
"""What must be reported of a file."""

TOP = {
    "11a": ("meter", "2/2"), "11b": ("meter", "4/4"), "11c": ("meter", "5/8"),
    "11d": ("meter", "11/8"), "11e": ("meter", "11/8"), "11g": ("meter", "3/8"),
    "13a": ("key", "Cb major"), "13aa": ("key", "G major"), "13c": ("key", "None"),
    "13e": ("key", "D major"), "72a": ("key", "C major"), "72c": ("key", "Bb major"),
    "51b": ("title", '"Quotes" in header fields'),
    "51d": ("title", "Empty work-title, non-empty movement-title"),
    "31c": ("tempo", "150"),
}  # fmt: skip
"""A setting at the top and its value; the concert keys of 72a and 72c are in the suite's text."""

CHORD_FILES = sorted(
    path.name.partition("-")[0] for path in SUITE.glob("*.xml") if b"<harmony" in path.read_bytes()
)
ALL_FILES = sorted(path.name for path in SUITE.glob("*.*") if path.suffix in (".xml", ".mxl"))


@each("name", sorted(MUSIC))
def test_music_and_words(name: str) -> None:
    """The bars and words of the file are those that stand in it."""
    assert body(suite(name).chart) == MUSIC[name]


@each("name", sorted(FOUND))
def test_what_is_reported(name: str) -> None:
    """What the chart cannot say as the file does is reported."""
    assert FOUND[name] in codes(suite(name))


@each("name", sorted(TOP))
def test_top(name: str) -> None:
    """The setting at the top has the file's value, at sounding pitch."""
    setting, value = TOP[name]
    assert str(suite(name).chart.setting(setting)) == value  # type: ignore[arg-type]


@each("name", ALL_FILES)
def test_every_file_becomes_a_chart_that_reads_back(name: str) -> None:
    """Every file of the suite becomes a chart whose text is read as the same chart."""
    reads_back(taken((SUITE / name).read_bytes()).chart)


@each("name", CHORD_FILES)
def test_every_chord_symbol_is_struck(name: str) -> None:
    """As many chords are struck as the file has printed harmonies in its first such part."""
    (path,) = SUITE.glob(f"{name}-*")
    part = next(p for p in path.read_text().split("<part ") if "<harmony" in p)
    symbols = re.findall(r"<harmony(?! [^>]*print-object=.no)", part)
    assert len(strikes(suite(name).chart)) == len(symbols)


@each("name", [n for n in ALL_FILES if n[:2] in ("61", "31", "32", "42", "99")])
def test_no_syllable_is_lost(name: str) -> None:
    """Letter for letter, what is sung in the taken part stands in the chart; what two voices sing
    alike stands there once."""
    if not name.endswith(".xml"):
        return
    root = ElementTree.parse(SUITE / name).getroot()
    part = next((p for p in root.iter("part") if p.find(".//lyric") is not None), None)
    if part is None:
        return
    sung: dict[tuple[str, str], str] = {}
    for note in part.iter("note"):
        for lyric in note.iterfind("lyric"):
            verse = note.findtext("voice", ""), lyric.get("number", "")
            texts = (text.text or "" for text in lyric.iterfind("text"))
            plain = "".join(re.sub(r"^\d\.", "", text) for text in texts)
            sung[verse] = sung.get(verse, "") + plain
    there = "".join({(number, words): words for (_, number), words in sung.items()}.values())
    ours = "".join(all_words(taken((SUITE / name).read_bytes()).chart))
    assert sorted(ours.replace(" ", "")) == sorted(there.replace(" ", ""))


def test_the_compressed_file_is_the_plain_one() -> None:
    """The archive of the suite holds a score, found through its container."""
    assert suite("90a").chart.sections


def test_a_part_is_chosen_by_name() -> None:
    """Any case of the name will do; a wrong name is answered with the right ones."""
    horn = suite("72a", part="horn in eb").chart
    assert str(horn.key) == "C major"
    with pytest.raises(Refused, match='the parts are "Trumpet in Bb", "Horn in Eb", "Piano"'):
        suite("72a", part="Kazoo")


def test_all_kinds_of_the_suite() -> None:
    """Each of the suite's chord types is the chord that its lyric names."""
    assert [str(strike.chord) for strike in strikes(suite("71f").chart)][:33] == [
        "C", "Cm", "Caug", "Cdim", "C7", "Cmaj7", "Cm7", "Cdim7", "C7(#5)", "Cm7(b5)", "Cm(maj7)",
        "C6", "Cm6", "C9", "Cmaj9", "Cm9", "C11", "Cmaj11", "Cm11", "C13", "Cmaj13", "Cm13",
        "Csus2", "Csus4", "Db/F", "Ab7(no5)", "Ab7(b5)", "Ab7", "C5", "C5", "Cm7(b5)", "C", "F#/C#",
    ]  # fmt: skip
