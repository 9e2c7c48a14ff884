"""What stands before a title, over it and right below: groups, pages, numbers, writers."""

from chartkit.interchange.text.head_words.head_labels import writer_of
from tests.each import each
from tests.interchange.reading import codes, taken

_SONG = "\n\nVerse\nC   G\nMoth, moth\n"


@each(
    ("head", "title"),
    [
        ("Uke Club - Tuesday lunch\nBISCUIT THIEF\nKey of C", "BISCUIT THIEF"),
        ("Gitarrenkreis Moosach, Donnerstag\nKalter Kaffee", "Kalter Kaffee"),
        ("Chorale de Brest\nLES PHARES\nen Sol", "LES PHARES"),
        ("Coro parroquial, 12 de mayo\nCALLE SIN NOMBRE", "CALLE SIN NOMBRE"),
        ("Year 4 music (Ms Tunney)\n\nMud Season", "Mud Season"),
        ("The Motor Club\nNed Oakley", "The Motor Club"),
        ("School Days\nby Ned Oakley", "School Days"),
        ("                    14\n\nTHE MILLER OF WETHERBECK", "THE MILLER OF WETHERBECK"),
        ("- 47 -\nDas Wirtshaus im Moos", "Das Wirtshaus im Moos"),
        ("Seite 12\nKalter Kaffee", "Kalter Kaffee"),
        ("ACT 2, No. 15 - My Name In Lights\n4/4 then 3/4 at the waltz", "My Name In Lights"),
        ("Lesson 7: Salt Road", "Salt Road"),
        ("#7 - Salt Road (capo 2)", "Salt Road"),
        ("14.03. Bandprobe\nKalter Kaffee\nG-Dur / 120 bpm", "Kalter Kaffee"),
        ("Notiz: Kalter Kaffee\nText+Musik: Jonte Petersen", "Kalter Kaffee"),
        ("SALT ROAD (Oakley/Marsh)", "SALT ROAD"),
        ('new tune!! working title "Rust"\nA minor - 140 - drop D tuning', "Rust"),
        ("#3 Tea For The Inspector\nC minor, 6/8", "Tea For The Inspector"),
        ("Vals: JAZMÍN DE LA BAJADA", "JAZMÍN DE LA BAJADA"),
        ("Slow waltz: Salt Road", "Salt Road"),
        ("Part of the Plan", "Part of the Plan"),
        ("Act Naturally, Jo", "Act Naturally, Jo"),
        ("Salt Road: a lament", "Salt Road: a lament"),
    ],
)
def test_the_title_without_what_stands_before_it(head: str, title: str) -> None:
    """A group with its day, the number of a page, a place in a show and a dance are no title."""
    assert taken(f"{head}{_SONG}").chart.text("title") == title


def test_a_page_number_is_reported() -> None:
    """The number of a page is left out with a finding, and a dance says how the song goes."""
    assert "page-number" in codes(taken(f"14\nMud Season{_SONG}"))
    assert taken(f"Vals: La Bajada{_SONG}").chart.text("feel") == "Vals"


@each(
    ("text", "writer"),
    [
        ("(t/m Joop Veldkamp)", "Joop Veldkamp"),
        ("le Séamas Mac Giolla Dubháin", "Séamas Mac Giolla Dubháin"),
        ("words and tune Isla McCorquodale", "Isla McCorquodale"),
        ("wr: Jolene Babcock", "Jolene Babcock"),
        ("di G. Sartorelli", "G. Sartorelli"),
        ("tune and words Ned Oakley", "Ned Oakley"),
        ("Words - Jo Marsh, music - Al Reed", "Jo Marsh, Al Reed"),
        ("Music & lyrics © Jo Marsh", "Jo Marsh"),
        ("Woord & muziek: Jan de Wit", "Jan de Wit"),
        ("Autorzy: Jan Holt i Eva Lind", "Jan Holt i Eva Lind"),
        ("couplet 1 t/m 3", ""),
        ("le grand bal", ""),
        ("Le Grand Bal", ""),
        ("Du bist Musik", ""),
        ("Music Hall Nights", ""),
    ],
)
def test_words_that_lead_to_a_writer(text: str, writer: str) -> None:
    """Who wrote a song stands behind words of many languages and forms."""
    assert writer_of(text) == writer


@each(
    ("line", "writer"),
    [
        ("Year 6 carol - music by Hal Whitcombe", "Hal Whitcombe"),
        ("Arr. the Lindqvist Cousins; written by Orpha Lindqvist", "Orpha Lindqvist"),
        ("a song by Ida Marsh", "Ida Marsh"),
        ("Ida Marsh wrote it", "Ida Marsh"),
        ("written & sung by Ida Marsh", "Ida Marsh"),
        ("written for the wedding by Ida Marsh", "Ida Marsh"),
        ("by Mrs Ida Marsh", "Mrs Ida Marsh"),
    ],
)
def test_a_writer_below_the_title(line: str, writer: str) -> None:
    """A writer is taken out of a line that says more, as the sheet spells the name."""
    assert taken(f"Mud Season\n{line}{_SONG}").chart.text("writer") == writer


@each(
    ("head", "title", "notes"),
    [
        ('Nr. 14    "Rosen aus Blech"     128 bpm     Tonart F', "Rosen aus Blech", ["Nr. 14"]),
        ("Nr. 14   Rosen aus Blech   128 bpm", "Rosen aus Blech", []),
        ("Lied 7: De kok van boord", "De kok van boord", []),
        ("Número 5: El cocinero", "El cocinero", []),
        (
            "Shantykoor De Tros\nLied 7: De kok van boord",
            "De kok van boord",
            ["Shantykoor De Tros"],
        ),
        ("Chorale des Quais\nChant no 4 : Le cuistot", "Le cuistot", ["Chorale des Quais"]),
        ("The Loose Ropes\nSong 7: The Cook", "The Cook", ["The Loose Ropes"]),
    ],
)
def test_the_number_of_a_song_before_its_title(head: str, title: str, notes: list[str]) -> None:
    """A song is counted by any word for one, and who plays it may stand above."""
    chart = taken(f"{head}\n\nVerse\n| F | C |\nHolla mento\n").chart
    assert chart.text("title") == title
    assert [str(one.value) for one in chart.top if one.name == "note"] == notes
