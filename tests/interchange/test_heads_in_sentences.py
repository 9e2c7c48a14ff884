"""Title, key, capo, meter and tempo where a sentence, a chat or a letter says them."""

from tests.each import each
from tests.interchange.reading import taken

_SONG = """Verse
G              C
Lanterns on the water
G              D
Every blanket's drawn in

Chorus
C          G
Row me over, row me home
"""


def given(head: str, *names: str) -> list[str]:
    """Some settings of a sheet with a head."""
    chart = taken(f"{head}\n\n{_SONG}").chart
    return [chart.text(name).removesuffix(" major") for name in names]  # type: ignore[arg-type]


@each(
    ("head", "title"),
    [
        (
            "heres LANTERN ROW again because Lee lost his. key is G, capo 0 this time!",
            "LANTERN ROW",
        ),
        ("so excited for tonight :)\n\nheres LANTERN ROW, key is G", "LANTERN ROW"),
        ("right then, LANTERN ROW. G, about 96.", "LANTERN ROW"),
        ("and here comes LANTERN ROW for Lee (key of G)", "LANTERN ROW"),
        ("ok here's Rosie for tonight, I always forget it myself (in G):", "Rosie"),
        ("hier kommt Laternenweg für heute abend, in G:", "Laternenweg"),
        ('ska thing ("Lantern Row")\nkey G', "Lantern Row"),
        ("Hello Blanket\nkey G", "Hello Blanket"),
        ("Good Morning Harbour\nin G", "Good Morning Harbour"),
        ("Hi all\n\nHello Blanket\nkey G", "Hello Blanket"),
        ("Thanks for the Lantern\nkey: G", "Thanks for the Lantern"),
        ("It's\n\nLantern Row\nin G", "Lantern Row"),
        ("this ones in G, capo 3\n\nLantern Row", "Lantern Row"),
        ("LANTERN ROW      Ukes Upstairs songbook p. 31\nin G", "LANTERN ROW"),
        ("LANTERN ROW      Set 2, No. 4\nin G", "LANTERN ROW"),
        ("Lantern Row      (G)", "Lantern Row"),
    ],
)
def test_titles(head: str, title: str) -> None:
    """A title in capitals or before a day, one that greets or thanks, one with more far behind."""
    assert given(head, "title", "key", "writer") == [title, "G", ""]


@each(
    ("line", "key", "tempo"),
    [
        ("Key = G, drop the tempo to 84", "G", "84"),
        ("G, push it up to 132", "G", "132"),
        ("Tempo runter auf 84, Tonart G", "G", "84"),
        ("bajamos el tempo a 84, en Sol", "G", "84"),
        ("we slow this down to 84 now. Key: G", "G", "84"),
        ("G instead of A tonight", "G", ""),
        ("in G (not A!)", "G", ""),
        ("(her key: G)", "G", ""),
        ("key for Kim: G", "G", ""),
    ],
)
def test_settings_that_are_moved(line: str, key: str, tempo: str) -> None:
    """The setting is what the song has now, and whose key it is says nothing else."""
    assert given(f"Lantern Row\n{line}", "key", "tempo", "title") == [key, tempo, "Lantern Row"]


@each(
    ("said", "key", "meter"),
    [
        ("so its me on vox. Thats why its in G now and not in A!!", "G", ""),
        ("not in A but in G please!", "G", ""),
        ("it was in A, we take it down to G now.", "G", ""),
        ("wir machen das in G statt in A heute.", "G", ""),
        ("va en Sol y no en La!", "G", ""),
        ("on le fait en Sol et pas en La ce soir.", "G", ""),
        (
            "the bride's father called: first dance is at 8 sharp, he wants NO smoke machine. "
            "Suits please. We play this one after the speeches, in G, 3/4, nice and easy.",
            "G",
            "3/4",
        ),
    ],
)
def test_settings_in_a_letter(said: str, key: str, meter: str) -> None:
    """A key that is not played tonight is none, and a long letter is read by its sentences."""
    head = f"Hi all,\n\n{said}\n\nLantern Row"
    assert given(head, "key", "meter", "title") == [key, meter, "Lantern Row"]


@each("who", ["Kim's", "Moni's", "her", "our"])
def test_whose_key_it_is(who: str) -> None:
    """The key of who sings is the song's."""
    assert given(f"lantern row   ({who} key = G)", "title", "key") == ["lantern row", "G"]


@each(
    "line",
    [
        "Wir spielen das in G-Dur, Kapo im 2. Bund",
        "On la joue en sol, capo 2",
        "We spelen hem in G, capo 2",
        "Vi spelar den i G, capo 2",
    ],
)
def test_words_that_lead_to_a_key(line: str) -> None:
    """They do not say how the song goes."""
    assert given(f"Lantern Row\n{line}", "key", "capo", "feel") == ["G", "2", ""]


@each("line", ["Version for two guitars", "Sing it with the children"])
def test_sentences_below_a_title_are_no_writer(line: str) -> None:
    """A line with small words of a sentence names nobody."""
    assert given(f"Lantern Row\n{line}", "writer") == [""]
    assert given("Lantern Row\nNed Farlow", "writer") == ["Ned Farlow"]


def test_a_letter_signed_above_the_song() -> None:
    """A farewell and a name above the song are no title and no writer."""
    letter = "Dear Kim\nPlease find below the chords of Lantern Row.\nRegards\nTom"
    assert given(letter, "title", "writer") == ["Lantern Row", ""]
    below = "Lantern Row\n\nHi Kim, as promised. It's in G. See you Sunday!\nTom"
    assert given(below, "title", "writer", "key") == ["Lantern Row", "", "G"]


def test_the_capo_of_one_guitar() -> None:
    """The number of a guitar is no fret."""
    assert given("Lantern Row\nGuitar 1 capo 2", "capo") != ["1"]


@each(
    "above",
    [
        "NEW SONG!",
        "Jen: have u got that one?\nTom: yep, in G\nTom: here",
        "Band copy",
        "(chords by ear, so don't shout)",
        "Kim: can you send it\nTom: sure, in G",
        "me: whats the next one\nkim: this one, key of G\nme: tempo?\nkim: 96",
        "Hi all,\n\nhere's the new one.\n\nKim",
        "Hi all,\n\nhere's the new one.\n\nBest,\nKim Ode\nOde Entertainment\n07700 900 123",
        "Hallo zusammen,\n\nanbei das neue Stück. Bitte bis Freitag lernen!\n\nLiebe Grüße\nUte",
    ],
)
def test_what_stands_above_a_title(above: str) -> None:
    """A title stands below talk, a signature, and what says which copy this is; none of these is
    the title or the writer."""
    assert given(f"{above}\n\nLantern Row\nkey: G", "title", "writer", "key") == [
        "Lantern Row",
        "",
        "G",
    ]


@each(
    ("line", "feel"),
    [("Lantern Row, slow", "slow"), ("Lantern Row (slow)", "slow"), ("Lantern Row - slow", "slow")],
)
def test_how_it_goes_behind_a_title(line: str, feel: str) -> None:
    """It is no part of the title, whatever sign stands between."""
    assert given(line, "title", "feel") == ["Lantern Row", feel]


@each(
    ("line", "name", "value"),
    [
        ("key is E, feel is slow soul", "key", "E major"),
        ("key is E, feel is slow soul", "feel", "slow soul"),
        ("the key is Bb minor", "key", "Bb minor"),
        ("Tonart ist G-Dur", "key", "G major"),
        ("tempo is 90, capo is 2", "capo", "2"),
    ],
)
def test_settings_with_a_verb(line: str, name: str, value: str) -> None:
    """A verb may stand between the name of a setting and its value."""
    assert taken(f"Box Kite\n{line}\n\nVerse\nE A\n").chart.text(name) == value  # type: ignore[arg-type]
