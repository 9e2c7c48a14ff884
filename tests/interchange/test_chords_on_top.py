"""Chords that stand once on a sheet, for all the words below them."""

import pytest

from tests.each import each
from tests.interchange.reading import body, codes, taken
from tests.interchange.typed_sheets import parts_of

_VERSES = "Verse 1\nMoth, moth\nCome to the lamp\n\n{between}Verse 2\nStay, stay\nOut of the damp\n"


@each(
    "name",
    [
        *("All verses and solos", "Verses + solo", "Verses", "All verses", "Every verse"),
        *("Whole song", "Throughout", "12 bar blues", "All", "Alle Strophen", "Coplas"),
        "Toutes les strophes",
    ],
)
@pytest.mark.parametrize("mark", [":", ""])
def test_one_list_for_all_verses(name: str, mark: str) -> None:
    """Each verse, and a solo between them, has the chords of the list; the list itself is no
    section."""
    between = "Solo (harmonica)\n\n"
    words = _VERSES.format(between=between)
    parts = parts_of(taken(f"The Moth\n\n{name}{mark}\n| G | C |\n| D | G |\n\n{words}").chart)
    assert [part.name for part in parts] == ["Verse 1", "Solo", "Verse 2"]
    assert all(part.music == parts[0].music and "C" in part.music for part in parts)


@each("label", ["Words", "LYRICS:", "Letra", "", "-----"])
def test_bars_first_and_then_the_words(label: str) -> None:
    """Bars under the names of sections, then all the words under the same names."""
    chords = "Intro:\n| G |\n\nVerse:\n| G | C |\n| D | G |\n\nChorus:\n| C | G |"
    words = _VERSES.format(between="Chorus\nAway, away\nTill day\n\n")
    result = taken(f"The Moth\n\n{chords}\n\n{label}\n\n{words}\nChorus\n")
    parts = parts_of(result.chart)
    names = [part.name for part in parts]
    assert names == ["Intro", "Verse 1", "Chorus", "Verse 2", "Chorus"]
    assert [part.music.count("C") for part in parts] == [0, 1, 1, 1, 1]
    assert parts[3].words == "staystayoutofthedamp"
    assert "chords-given-before" in codes(result)


def test_a_solo_of_another_player() -> None:
    """A second solo with another player has the music of the first, and not its player."""
    head = "The Moth\n\nVerse\nG  C\nMoth, moth\n\n"
    text = f"{head}Solo (harmonica)\nD  G\n\nVerse\n\nSolo (guitar)\n"
    chart = taken(text).chart
    assert parts_of(chart)[3].cues == ["guitar"]
    assert parts_of(chart)[3].music == ["D", "G"]


def test_sections_of_chords_alone_stay() -> None:
    """Chords under names of which no words come again are sections of their own."""
    text = "The Moth\n\nIntro\nG  C\n\nRiff\nD  G\n\nVerse\nMoth, moth\nCome to the lamp\n"
    assert body(taken(text).chart).startswith("== Intro\nG C\n== Riff\nD G")


@each(
    "order",
    [
        "ORDER: intro, verse 1, chorus, intro, verse 2, chorus, chorus",
        "Form: Intro V1 Ch Intro V2 Ch Ch",
        "form: intro v1 ch intro v2 ch ch",
        "Order: Intro - Verse 1 - Chorus - Intro - Verse 2 - Chorus x2",
    ],
)
@each("top", [True, False])
def test_bars_first_words_below_and_an_order(order: str, top: bool) -> None:
    """Bars that stand first for the words below are no sections of the order that the sheet gives,
    above all or below all."""
    chords = "Intro\n| G |\n\nVerse\n| G | C |\n\nChorus\n| C | G |\n\n"
    words = (
        "Verse 1 words:\nMoth, moth\nCome to the lamp\n\nVerse 2 words:\nStay, stay\n"
        "Out of the damp\n\nChorus words:\nAway, away\nTill day\n\n"
    )
    lines = (f"{order}\n\n", chords + words) if top else (chords + words, f"{order}\n")
    parts = parts_of(taken("The Moth\n\n" + "".join(lines)).chart)
    played = [part.name.casefold() for part in parts for _ in range(part.times)]
    assert played == ["intro", "verse 1", "chorus", "intro", "verse 2", "chorus", "chorus"]
    assert [part.music.count("C") for part in parts][:5] == [0, 1, 1, 0, 1]
    assert parts[4].words == "staystayoutofthedamp"
