"""Keys alone in a head, settings behind a title without a sign, and who plays or wrote the song."""

from chartkit.chart.model import SettingRow
from tests.each import each
from tests.interchange.reading import taken

_ROWS = """\
G                C
Lanterns down along the water
G            D
Every blanket has been drawn in
"""
_WITHIN = "(G)Lanterns down (C)along the water\n(G)Every blanket (D)has been drawn in\n"


def settings(head: str, song: str = _ROWS) -> dict[str, str]:
    """The settings of a sheet with a head, by their names, but for how its chords are meant."""
    rows = [row for row in taken(f"{head}\n\n{song}").chart.top if isinstance(row, SettingRow)]
    found = {row.name: str(row.value).removesuffix(" major") for row in rows}
    return {name: value for name, value in found.items() if name != "chords"}


@each("song", [_ROWS, _WITHIN, f"Verse 1\n{_ROWS}"])
@each(
    ("head", "more"),
    [
        ("Mill Pond\nG", {}),
        ("G\nMill Pond", {}),
        ("Mill Pond\nG\nClick 136", {"tempo": "136"}),
        ("Mill Pond\nG (capo 3)", {"capo": "3"}),
        ("#12 MILL POND\nG major\n140", {"tempo": "140", "title": "MILL POND"}),
        ("Mill Pond\nby Dela Moss\nG", {"writer": "Dela Moss"}),
        ("Mill Pond\nG\nNo bass till the chorus!", {"note": "No bass till the chorus!"}),
        ("Mill Pond\nconcert G", {}),
        ("Chart attached.\ncheers,\nG\n\nMill Pond\nKey: G", {}),
    ],
)
def test_a_key_alone(head: str, more: dict[str, str], song: str) -> None:
    """One chord among the lines of a head is the key, and no row of the song."""
    found = settings(head, song)
    assert found == {"title": "Mill Pond", "key": "G"} | more
    assert len(taken(f"{head}\n\n{song}").chart.sections) == 1


def test_a_chord_over_words_is_no_key() -> None:
    """A chord over a line that is sung begins the song."""
    chart = taken(f"Mill Pond\n\nG\nOh, let me in\n\nVerse 1\n{_ROWS}").chart
    assert len(chart.sections) == 2 and not chart.text("key")


@each(
    "line",
    [
        "Mill Pond in G at 96",
        "mill pond, g, 96",
        "mill pond g 96",
        "Mill Pond  G  96",
        "mill pond - g, like 96 bpm",
        "MILL POND KEY G TEMPO 96",
        "Mill Pond ~ G ~ 96",
        "2.6 MILL POND   G   96",
        "so Mill Pond's in G, about 96",
        "Next up: Mill Pond (G, 96)",
        "here's Mill Pond, G, 96",
    ],
)
def test_settings_behind_a_title(line: str) -> None:
    """A key and a tempo are no part of the title, whatever parts them from it."""
    found = settings(line)
    assert found.pop("title").casefold() == "mill pond"
    assert found == {"key": "G", "tempo": "96"}


@each(
    "line", ["Mill Pond .... G", "G - Mill Pond", "[G] Mill Pond", "Mill Pond = G", "Mill Pond <G>"]
)
def test_a_key_beside_a_title(line: str) -> None:
    """A key behind or before a sign has the root of the first chord."""
    assert settings(line) == {"title": "Mill Pond", "key": "G"}


@each("line", ["Plan B", "Room 96", "Vitamin C", "Girl in A", "D: A Story", "9/11 Blues"])
def test_letters_and_numbers_of_titles(line: str) -> None:
    """A letter or a number alone is of the title."""
    assert settings(line) == {"title": line}


@each(
    ("head", "title", "writer"),
    [
        ("Mill Pond (Mud, Mud, Mud)", "Mill Pond (Mud, Mud, Mud)", ""),
        ("Mill Pond (Every Blanket)", "Mill Pond (Every Blanket)", ""),
        ("Every Blanket - Along the Water", "Every Blanket - Along the Water", ""),
        ("The Long Barn Five - Mill Pond", "Mill Pond", "The Long Barn Five"),
        ("Nell and the Geese - Mill Pond", "Mill Pond", "Nell and the Geese"),
        ("Orla Fenwick\nDown Along the Water", "Down Along the Water", "Orla Fenwick"),
        ("Mill Pond by The Long Barn Five", "Mill Pond", "The Long Barn Five"),
        ("Mill Pond\nTrad., arr. Orla Fenwick", "Mill Pond", "Trad., arr. Orla Fenwick"),
        ("Mill Pond\n(Volkslied, Satz: K. Ohm)", "Mill Pond", "Volkslied, Satz: K. Ohm"),
        ("Mill Pond (trad.)", "Mill Pond", "trad."),
        ("Mill Pond\nTrad.", "Mill Pond", "Trad."),
    ],
)
def test_who_wrote_or_plays_it(head: str, title: str, writer: str) -> None:
    """Words that are sung are of the title; a band may stand before it; nobody may have written
    it."""
    found = settings(head)
    assert (found["title"], found.get("writer", "")) == (title, writer)


def test_what_a_letter_says_to_the_players() -> None:
    """It stays on the chart, and what is said to the reader does not."""
    letter = "Hi Gus, play this one with rods, and keep it quiet. See you on Friday!"
    found = settings(f"{letter}\n\nMill Pond\nG")
    assert found == {
        "title": "Mill Pond",
        "key": "G",
        "note": "play this one with rods, and keep it quiet.",
    }


def test_words_as_under_a_mail_are_sung_under_chords() -> None:
    """A line that mails end with is sung where chords stand right above it."""
    song = "Verse 1\nGmaj7     C\nLanterns\n\nChorus\nCmaj7        Bm7\nSent from my phone\n"
    rows = [str(row) for row in taken(f"Mill Pond\n\n{song}").chart.sections[1].rows]
    assert any("phone" in row for row in rows)


@each(
    ("head", "wanted"),
    [
        ("02 Mill Pond.docx", {"title": "Mill Pond"}),
        ("Set 1\n4. Mill Pond (G)", {"title": "Mill Pond", "key": "G"}),
        ("Uke Club Book  p. 14\nMILL POND", {"title": "MILL POND"}),
        ("Thank You, Lanterns\nKey: G", {"title": "Thank You, Lanterns", "key": "G"}),
        ("Fwd: for Sat\nMill Pond in G please, bit quicker!", {"title": "Mill Pond", "key": "G"}),
        ('"Mill Pond" (G) Orla Fenwick 2022', {"writer": "Orla Fenwick", "key": "G"}),
        ("MILL POND          Fenwick\nG", {"title": "MILL POND", "writer": "Fenwick"}),
        ("Lee's song for the kids - Every Blanket", {"title": "Every Blanket"}),
        ("Mill Pond\nmade up on the ferry by Ned Farlow", {"writer": "Ned Farlow"}),
        ("mill pond\n(g, 3/4, slowish)", {"key": "G", "meter": "3/4", "feel": "slowish"}),
        ("em, 4/4\nmill pond", {"title": "mill pond", "key": "E minor", "meter": "4/4"}),
        ("Mill Pond\nKey: E minor (relative of G, one sharp)", {"key": "E minor"}),
        ("Mill Pond\nG but pitch it where you like", {"key": "G"}),
        ("Mill Pond\nG, 132. Start on the D if you get lost.", {"key": "G", "tempo": "132"}),
        ("Mill Pond\nCapo on three please!", {"capo": "3"}),
        ("Mill Pond (original in A, now G)", {"title": "Mill Pond", "key": "G"}),
        ("Mill Pond, orig. A, we're in G", {"title": "Mill Pond", "key": "G"}),
        ("Ned Farlow: Every Blanket", {"title": "Every Blanket", "writer": "Ned Farlow"}),
        ("Mill Pond\tD. Moss\tG\t92", {"title": "Mill Pond", "writer": "D. Moss", "key": "G"}),
        ("Mill Pond\nlyrics & music (c) 2023 Dela Moss", {"writer": "Dela Moss"}),
        ("Title - Mill Pond\nBy - Orla Fenwick", {"writer": "Orla Fenwick"}),
        ("mill pond — g — fastttt", {"title": "mill pond", "key": "G"}),
        ("Mill Pond\nG. Drone on G. Slow!", {"key": "G", "note": "Drone on G. Slow!"}),
        ("Mill Pond\nSol, cejilla 2, 132 ppm", {"capo": "2", "tempo": "132"}),
    ],
)
def test_heads_as_people_type_them(head: str, wanted: dict[str, str]) -> None:
    """Files, books, sets, sentences and small letters around the title and its settings."""
    found = settings(head)
    assert {name: found.get(name) for name in wanted} == wanted
    assert "writer" in wanted or "writer" not in found


@each(
    "remark",
    ["fiddle break after 2nd chorus", "no bass till the chorus", "starts with drums: 4 clicks"],
)
def test_remarks_below_a_title(remark: str) -> None:
    """What is said of the whole song stays above it, and is neither a section nor its feel."""
    chart = taken(f"Mill Pond / G / 132 / polka\n{remark}\n\n{_ROWS}").chart
    assert chart.notes() == (remark,)
    assert [section.name for section in chart.sections] == [""]


def test_a_key_over_its_title_with_a_free_line_between() -> None:
    """A chord alone above a title is the key, also with a free line between."""
    assert settings("G\n\nMill Pond", f"Verse 1\n{_ROWS}") == {"title": "Mill Pond", "key": "G"}


def test_no_title() -> None:
    """Settings and a direction alone give no title."""
    assert "title" not in settings("G\n6/8\nunison throughout")
