"""What stands before the lines of a sheet, and is no part of them."""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_SHEET = """MANGO TREE

Intro
{label}Am Dm
drum roll then everybody

Verse 1
{label}Am Dm Am Dm
Five in the morning the gate is open
Handcart squeaking down the lane

Chorus
{label}F G Am
Mango, mango, what do you bring me

Verse 2
{label}same as verse 1
She has a son on a boat in the harbour
He sends a card when it starts to rain

Dub section
{label}Am Dm x4
bass and drum alone, keys come back third time

Chorus
"""


@each(
    "label",
    [
        "Chords: ",
        "CHORDS: ",
        "Akkorde: ",
        "Acordes: ",
        "Accords : ",
        "Chd: ",
        "Harmony: ",
        "changes = ",
    ],
)
def test_a_label_before_the_chords_of_each_section(label: str) -> None:
    """The word "chords" before a row below a section's name is neither a name nor words; what
    says whose chords a section has is read; a line above such a row is a name."""
    parts = parts_of(taken(_SHEET.format(label=label)).chart)
    names = [part.name for part in parts]
    assert names == ["Intro", "Verse 1", "Chorus", "Verse 2", "Dub section", "Chorus"]
    played = [" ".join(part.music) for part in parts[:4]]
    assert played == ["Am Dm", "Am Dm Am Dm", "F G Am", "Am Dm Am Dm"]
    assert parts[4].times == 4 and not parts[4].words
    assert "drum roll then everybody" in parts[0].cues


def test_one_list_of_chords_is_none() -> None:
    """A list of the song's chords below its title is no section."""
    text = "The Moth\n\nChords: C G F\n\nVerse\nC    G\nMoth, moth\nF    C\nCome to the lamp\n"
    assert [part.name for part in parts_of(taken(text).chart)] == ["Verse"]


@each("sign", ["  ", ". ", ") ", ": "])
def test_numbers_before_words_and_chords(sign: str) -> None:
    """Numbers that count all lines but the head and the names of sections are left out; a number
    in a name stays."""
    song = [("Verse 1", ["C              G", "The crane at the harbour is thin"]),
            ("Chorus", ["F       C", "Lift me up over the town"]),
            ("Verse 2", ["C              G", "At night he is sleeping like birds"])]  # fmt: skip
    lines, count = ["The Crane", "by Ada Pell", ""], 0
    for name, under in song:
        lines.append(name)
        for text in under:
            count += 1
            lines.append(f"{count}{sign}{text}".ljust(4))
        lines.append("")
    parts = parts_of(taken("\n".join([*lines, "Chorus"])).chart)
    assert [part.name for part in parts] == ["Verse 1", "Chorus", "Verse 2", "Chorus"]
    assert parts[0].words == "thecraneattheharbouristhin"
    assert not any(part.cues for part in parts)


@each(
    ("said", "meter"),
    [
        ("Here's the new one. It's a slow waltz in D, don't let Finn rush it.", "3/4"),
        ("Das ist ein Walzer, bitte nicht zu schnell.", "3/4"),
        ("It is not a waltz, whatever Finn says.", ""),
    ],
)
def test_a_waltz_in_a_letter(said: str, meter: str) -> None:
    """A letter above the song may say that it is a waltz."""
    text = f"Hi all,\n\n{said}\n\nThe Moth\n\nVerse\nC    G\nMoth, moth\nF    C\nCome to the lamp\n"
    assert taken(text).chart.text("meter") == meter
