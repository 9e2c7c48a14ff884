"""Sections, and their order, that somebody tells in sentences.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_PARTS = "Halfway\n\nVerse:\nA E F#m D\nChorus:\nD A E F#m\nBridge:\nBm F#m D E\n\n"
_ORDER = "Verse Chorus Verse Chorus Bridge Chorus Chorus"


@each(
    "said",
    [
        "It goes verse, chorus, verse, chorus, bridge, chorus, chorus.",
        "It goes verse, chorus, verse, chorus, bridge, chorus, chorus. Please be on time!",
        "So: verse, chorus, verse, chorus, bridge, chorus, chorus.",
        "We play verse then chorus then verse then chorus then bridge then chorus then chorus",
        "Wir spielen Verse, Chorus, Verse, Chorus, Bridge, Chorus, Chorus. Bitte leise anfangen.",
        "The form is verse, chorus, verse, chorus, the bridge, chorus and chorus",
        "Es geht so: Verse - Chorus - Verse - Chorus - Bridge - Chorus - Chorus",
    ],
)
def test_an_order_among_sentences(said: str) -> None:
    """A sentence of names alone is the order of the song, whatever leads to it and follows."""
    assert " ".join(names_of_parts(_PARTS + said + "\n")) == _ORDER


@each(
    "said",
    [
        "We wrote the verse, chorus, bridge and coda in a day",
        "She sings verse, chorus, and cries, then leaves",
        "verse, chorus",
    ],
)
def test_sentences_with_more_than_names_are_no_order(said: str) -> None:
    """Names among other words order nothing."""
    assert names_of_parts(_PARTS + said + "\n")[:3] == ["Verse", "Chorus", "Bridge"]
    assert len(names_of_parts(_PARTS + said + "\n")) < 6


@each(
    ("said", "music", "cue"),
    [
        (
            "After that there is a bridge: Am Em Am D. I sing it without drums.",
            "Am Em Am D",
            "I sing it without drums.",
        ),
        ("then theres a bridge which is Bb C Dm Dm, really quiet.", "Bb C Dm Dm", "really quiet"),
        ("the bridge goes like Am Em, four times, softly", "Am Em", "softly"),
        ("Dann kommt die Bridge: Am Em F G, ganz leise", "Am Em F G", "ganz leise"),
        ("et puis le pont c'est le calme. Le pont est Am Em F G (doux)", "Am Em F G", "doux"),
        ("luego el puente es Am F C G, suave", "Am F C G", "suave"),
    ],
)
def test_a_section_told_with_its_chords(said: str, music: str, cue: str) -> None:
    """Words that lead to a name and several chords make a section of them; the rest is a cue."""
    parts = parts_of(taken(f"Song\n\nVerse:\nC G Am F\nChorus:\nF G C C\n{said}\n").chart)
    assert " ".join(parts[-1].music) == music and cue in parts[-1].cues


@each(
    "words",
    ["the bridge is A long way home", "then the chorus: A song", "my verse is E for easy"],
)
def test_words_about_sections_are_sung(words: str) -> None:
    """One letter behind a name is no row of chords."""
    parts = parts_of(taken(f"Verse\nC       G\n{words}\nF     C\nand home again\n").chart)
    assert len(parts) == 1 and parts[0].words.endswith("andhomeagain")
