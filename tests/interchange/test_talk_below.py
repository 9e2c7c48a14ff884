"""What somebody says to the reader below a song, above a name: none of it is sung or played."""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import Part, parts_of

_SONG = """Verse
G              C
Lanterns on the water
G              D
Every boat is drawn in

Chorus
C          G
Row me over, row me home

Chorus x2
"""
_NAMED = f"Lantern Row\nkey G\n\n{_SONG}"


def below(last: str, said: str) -> list[Part]:
    """The sections of a sheet with a last line of the song and what is said below it."""
    return parts_of(taken(f"{_NAMED}{last}\n{said}\n").chart)


@each("last", ["", "End on G\n"])
@each(
    "said",
    [
        "Any problems ring me. Ta\nPhil",
        "Any questions just shout.\nCheers\nMo",
        "Ring me if it's not clear. Ta, Phil",
        "Call me if anything is unclear\n\nPhil",
        "Text me when you're there\nJo x",
        "Bei Fragen anrufen!\nUte",
        "Si hay dudas me llamas\nPaco",
        "Bel me als er iets is.\nGr. Wim",
        "Hope that's all clear!\nBig hugs\nNan",
        "Phil\n07700 900123",
        "Speak soon, Kim",
        "Love to all, Nan",
    ],
)
def test_what_is_said_above_a_name(last: str, said: str) -> None:
    """It is left out and reported, whether the song ends on a chord of its own or not."""
    result = taken(f"{_NAMED}{last}\n{said}\n")
    assert [(part.words, part.cues) for part in parts_of(result.chart)] == [
        (part.words, part.cues) for part in parts_of(taken(_NAMED + last).chart)
    ]
    assert {"sign-off", "letter"} & codes(result)


@each(
    ("said", "cues"),
    [
        (
            "Last chorus, no drums.\nAny problems ring me. Ta\nPhil",
            "Last chorus, no drums.",
        ),
        ("Watch Phil for the end!\nThanks\nMo", "Watch Phil for the end!"),
    ],
)
def test_what_is_said_to_the_band_above_a_name(said: str, cues: str) -> None:
    """What says how to play is a cue, whoever signs below it."""
    assert [cue for part in below("", said) for cue in part.cues] == [cues]


@each("said", ["P.S. Lee: your lead is in my bag", "(sorry for the typos, typed on the train)"])
def test_what_is_added_below(said: str) -> None:
    """What is added below a letter, or in parentheses, is no cue."""
    assert [cue for part in below("End on G\n", said) for cue in part.cues] == []


def test_a_last_verse_that_ends_with_a_name() -> None:
    """A name that ends a verse is sung, where nothing in it is said to the reader."""
    sung = "Call me when you're lonely\nMarie"
    assert below("", f"Verse\n{sung}")[-1].words.endswith("lonelymarie")
    plain = taken(f"Lantern Row\n\nG     C\nRow me over\nD     G\nRow me home\n\n{sung}\n")
    assert "".join(part.words for part in parts_of(plain.chart)).endswith("marie")
