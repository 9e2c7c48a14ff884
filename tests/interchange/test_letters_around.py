"""What a letter says around a song: where its title and settings stand in sentences, and how it
takes leave; and what the crowd does, which is no part of the words.

Source of these ways to write: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import body, codes, taken

_SONG = """
Verse
Dm        C
The rain is on the window
Bb        A
The rain is on the door
Dm        C
The cat is on the table
Bb        A
And wants a little more
"""


@each(
    ("said", "title", "settings"),
    [
        ('It\'s "Paper Rain". Dm. I sing first, you second.', "Paper Rain", "D minor, , "),
        ('Dit is hem, "Natte Krant". Toonsoort Dm, tempo 126.', "Natte Krant", "D minor, , 126"),
        (
            "pour ce soir on rajoute « La pluie », en Ré mineur, 3/4, à 168 environ.",
            "La pluie",
            "D minor, 3/4, 168",
        ),
        (
            'so the new one is "Wet Sundays", D minor, medium swing. you start.',
            "Wet Sundays",
            "D minor, , ",
        ),
        (
            "Hiya Fin, chords as asked, I call it Widow Tarrant's. Dm, 6/8.",
            "Widow Tarrant's",
            "D minor, 6/8, ",
        ),
        ("Fwd: for Nuala & Piet\n\nPaper Rain (Dm, 96)", "Paper Rain", "D minor, , 96"),
        ("WG: für Sonntag - Papierregen", "Papierregen", ", , "),
        ("Re: Paper Rain", "Paper Rain", ", , "),
    ],
)
def test_title_and_settings_in_a_letter(said: str, title: str, settings: str) -> None:
    """A title in quotes, or that is said to be one, and the settings right behind it."""
    chart = taken(f"{said}\n{_SONG}").chart
    assert chart.text("title") == title
    assert f"{chart.text('key')}, {chart.text('meter')}, {chart.text('tempo')}" == settings
    assert "The rain" in body(chart)


@each(
    ("greeting", "leave"),
    [
        ("Darling Otto, the new one.", "I'll wear the feathers.\nYour Valeska"),
        ("Fwd: tonight", "xx Lou"),
        ("Hi Benno,", "Red dress, so look surprised.\nKisses, Lucinda"),
        ("Liebe Jule,", "Bis nachher!\nDeine Wiebke"),
        ("", "xx Lou"),
        ("", "love, Auntie Bea"),
    ],
)
def test_a_letter_takes_leave(greeting: str, leave: str) -> None:
    """How a letter ends is no part of the song, and a finding has its words."""
    result = taken(f"{greeting}\n\nPaper Rain\n{_SONG}\n{leave}\n")
    name = leave.split()[-1]
    assert name not in body(result.chart)
    assert any(name in one.message for one in result.findings if one.certainty == "left-out")


def test_a_name_that_is_sung_stays() -> None:
    """A last line that could be a farewell is sung where nothing shows that this is a letter."""
    for line in ("Your Valeska", "And I remain your Lou"):
        assert line.split()[-1] in body(taken(f"Paper Rain\n{_SONG}{line}\n").chart)


@each(
    ("line", "sung"),
    [
        ("(crowd claps)", False),
        ("(crowd: HEY HEY HEY)", False),
        ("audience sings along", False),
        ("(Publikum klatscht mit)", False),
        ("(le public tape des mains)", False),
        ("The crowd is singing in the rain", True),
        ("And the crowd goes wild tonight", True),
        ("In the crowd", True),
    ],
)
def test_what_the_crowd_does(line: str, sung: bool) -> None:
    """What the crowd claps or shouts is a cue; words about a crowd are sung."""
    result = taken(f"Paper Rain\n{_SONG}\nChorus\nF      C\nLet it in\nG       A\n{line}\n")
    said = f'"{line.strip("()")}"' in body(result.chart)
    assert said != sung
    assert sung or "remark" in codes(result)
