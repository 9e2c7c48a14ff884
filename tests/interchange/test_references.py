"""What is said of a section by the name of another, and names cut short in a sheet's own way."""

import pytest

from chartkit.interchange.text.vocabulary.references import section_named_in
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.typed_sheets import parts_of

_NAMES = ("Head", "Parte A", "Strofa 2", "Strofa 1", "Jodel", "Chorus", "Vers")


@each(
    ("said", "name"),
    [
        ("harmonia da Parte A", "Parte A"),
        ("over the head - piano, bass, then trade fours", "Head"),
        ("accordi della strofa 1", "Strofa 1"),
        ("sui giri della strofa", "Strofa 2"),
        ("fiddle takes the chorus tune", "Chorus"),
        ("wie der Jodel, nur leiser", "Jodel"),
        ("after the chorus, no drums", ""),
        ("straight into the last chorus", ""),
        ("fiolen spelar versen", "Vers"),
        ("nods his head", ""),
        ("heads up, chord change", ""),
    ],
)
def test_the_section_that_words_name(said: str, name: str) -> None:
    """Whatever the other words are; not where they only say when, and not where a name is a word
    of its own."""
    assert section_named_in(said, _NAMES) == name


@each(
    ("heading", "said"),
    [
        ("Fiddle break - over the verse", "over the verse"),
        ("Solo (chords of the verse)", "chords of the verse"),
        ("SOLO DE GUITARRA (acordes de verse)", "acordes de verse"),
        ("Solo (harp spielt verse)", "harp spielt verse"),
    ],
)
def test_what_a_soloist_plays_over_stays_a_cue(heading: str, said: str) -> None:
    """A soloist sees the music and what the sheet says of it (common practice, no source)."""
    part = parts_of(taken(f"{_SONG}{heading}\n\nRitornello\n").chart)[2]
    assert (part.music, part.cues) == (["C", "G"], [said])


_SONG = "Moth\n\nVerse\nC   G\nMoth, moth\n\nRitornello\nF   C\nLamp, lamp\n\n"


@each(
    ("typed", "section"),
    [
        ("Solo de flauta (harmonia da verse)", "== Solo de flauta (harmonia da verse) as Verse"),
        ("STEEL BREAK - SAME AS VERSE", "== STEEL BREAK as Verse"),
        ("Jam - uses the verse", "== Jam as Verse"),
        ("Outro\n(like the verse but softly)", "== Outro as Verse"),
        ("Sanfona em cima da verse", "== Sanfona as Verse"),
        ("Kazoo (verse, then out)", "== Kazoo (verse, then out) as Verse"),
        ("Slut: som verse men långsamt", "== Slut as Verse"),
        ("Mandolin break - verse", "== Mandolin break as Verse"),
        ("Bridge\n(verse chords)\nMoth in the dark", "== Bridge as Verse"),
        ("Solo (2x verse)", "== Solo as Verse x2"),
        ("Fiddle tune: verse chords x2", "== Fiddle tune as Verse x2"),
        ("Fin : reprise de verse en ralentissant", "== Fin as Verse"),
        ("Final como el principio", "== Final as Verse"),
        ("Rit.", "== Ritornello"),
        ("Rit. x2 (piano)", "== Ritornello x2"),
        ("RTRN", "== Ritornello"),
    ],
)
def test_a_section_without_music_has_that_of_the_one_it_names(typed: str, section: str) -> None:
    """Its words are not known; the guess is reported."""
    result = taken(f"{_SONG}{typed}\n")
    written = body(result.chart)
    assert section in written, written
    assert {"section-again", "name-cut-short", "verse-without-chords"} & codes(result)
    reads_back(result.chart)


@each(
    ("typed", "section"),
    [
        ("Verse (2x, second time quiet)", '== Verse x2\n"second time quiet"'),
        ("Verse (all in, 3x)", '== Verse x3\n"all in"'),
        ("Verse (x2, 2nd time up a step)", '== Verse x2\n"2nd time up a step"'),
    ],
)
def test_a_count_among_remarks(typed: str, section: str) -> None:
    """The first or the last clause of a remark may say how often."""
    assert section in body(taken(f"{_SONG}{typed}\n").chart)


def test_a_name_that_another_line_speaks_of() -> None:
    """A line over chords is a name where a line alone says that its music is played."""
    result = taken(f"{_SONG}Hoolie\nC   G\nLamp, lamp\n\nWashboard thing - over Hoolie\n")
    assert "== Hoolie\n" in body(result.chart)
    assert "== Washboard thing as Hoolie" in body(result.chart)


@pytest.mark.parametrize(
    ("typed", "section"),
    [
        ("Verse x3, sidste gang meget langsomt", '== Verse x3\n"sidste gang meget langsomt"'),
        ("Verse till Dave falls over", '== Verse\n"till Dave falls over"'),
    ],
)
def test_an_earlier_name_alone_with_more_behind_it(typed: str, section: str) -> None:
    """A count and words in any language, or up to when it is played."""
    assert body(taken(f"{_SONG}{typed}\n").chart).endswith(section)


def test_tunes_that_count_on_are_those_of_a_medley() -> None:
    """Behind any word: the line is a remark on the first section below, and not sung."""
    tune = "{0} {1}: Der Hut\n\nStrophe\nG   C\nHut, Hut\n\n"
    text = "Medley\n\n" + tune.format("Lied", 1) + tune.format("Lied", 2)
    written = body(taken(text).chart)
    assert written.count("== Strophe (Lied") + written.count('"Lied') == 2
    assert ": Lied" not in written


def test_a_row_of_numbers_with_a_remark() -> None:
    """What is said in parentheses behind a row of numbers stays a remark."""
    result = taken("Moth\nKey: G\n\nVerse\n1  4  5  1\n\nOut\n1  4  (hold it)\n")
    assert "G C" in body(result.chart).partition("== Out")[2]
    assert "hold it" in body(result.chart)


@each(
    ("typed", "music"),
    [
        ("Tag: last line of verse x3", "D A"),
        ("Fin (dernière ligne du verse)", "D A"),
        ("Outro (last 4 bars of verse)", ""),
        ("Guitar solo (2 choruses)", ""),
        ("All over again from the verse", ""),
    ],
)
def test_a_part_of_a_section(typed: str, music: str) -> None:
    """Its last line is written out with its words; a few bars, rounds of the song and a sentence
    name no section's whole music."""
    song = "Moth\n\nVerse\nC   G\nMoth, moth\nD    A\nLamp, lamp\n\nBridge\nE   B\nOh, oh\n\n"
    written = body(taken(f"{song}{typed}\n").chart).partition("Oh, / oh")[2]
    assert (music in written) if music else "as Bridge" not in written and "D A" not in written
    assert "All as" not in written and "Outro as" not in written and "Tag as" not in written


@each(
    ("typed", "music"),
    [
        ("Intro: last line of chorus", "G F"),
        ("Intro (dernière ligne du refrain)", "G F"),
        ("Vorspiel: letzte Zeile vom Refrain", "G F"),
        ("Intro = last two lines of the chorus, whistled", "C F\nG F"),
        ("Intro - play the last line of the verse", "A E"),
    ],
)
def test_the_last_line_of_a_section_below(typed: str, music: str) -> None:
    """What is played before the section that lends its last line has that line's music, without
    words, and the remark."""
    verse = "Verse\nD   A\nMoth, moth\nA    E\nLamp, lamp\n\n"
    chorus = "Chorus\nE   B\nOh, oh\nC   F\nFly, fly\nG   F\nLow, low\n"
    result = taken(f"Moth\n\n{typed}\n\n{verse}{chorus}")
    first = body(result.chart).partition("\n== Verse")[0]
    assert first.endswith(f'"\n{music}')
    assert "last-lines" in codes(result) and "section-empty" not in codes(result)


def test_the_last_line_of_words_that_have_no_places_under_their_chords() -> None:
    """Where chords are given first for all words of a section, its last line is written apart from
    them, as the section itself is."""
    words = "Turn around, turn again\nDown to the bridge by ten\n"
    given = f"Moth\n\nChorus: F C G C\n\nChorus\n{words}\nTag: last line of the chorus x2\n"
    written = body(taken(given).chart).partition("== Tag")[2]
    assert written.endswith("F C G C\n\n: Down to the bridge by ten")
    assert "Turn around" not in written


def test_a_sentence_of_a_song_is_no_reference() -> None:
    """Words that only begin with such a word stay words."""
    result = taken(f"{_SONG}Verse 2\nSame old verse I sang to you\nMoth, moth, moth\n")
    assert ": Same old verse I sang to you" in body(result.chart)


def test_rit_under_words_slows_down() -> None:
    """Where no name stands it is the ritardando."""
    result = taken(_SONG.rstrip() + "\nrit.\n")
    assert body(result.chart).count("== Ritornello") == 1


def test_the_first_of_several_keys_is_the_song_s() -> None:
    """Keys in turn are those of its singers; the others stay in a note."""
    result = taken("Moth\nKey: Bb for Dana, then G for Rob\n\nVerse\n| Bb | Eb |\n")
    assert result.chart.text("key") == "Bb major"
    assert any("G for Rob" in str(row) for row in result.chart.top)


def test_a_bar_of_one_number_beside_other_rows_of_numbers() -> None:
    """The last bar of a chart in numbers is a chord too."""
    result = taken("Moth\nKey: G\n\nVerse\n| 1 | 4 |\n| 5 | 1 |\n\nEnd\n| 1 |\n")
    assert body(result.chart).endswith("== End\n| G |")
