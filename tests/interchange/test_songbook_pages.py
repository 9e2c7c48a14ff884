"""What pages of songbooks have: numbers before titles and stanzas, the book at the foot, bar lines
among the words, answers of the crowd, a refrain whose heading says where it goes."""

from tests.each import each
from tests.interchange.reading import all_words, body, codes, taken
from tests.interchange.typed_sheets import parts_of

_PAGE = """{first}

Words and music: Ilse Farrow

   D                 G    D
1. Who left the salt gate swinging
   A               D
   all of a winter night

Refrain
   G        A7        D
   Shut it, love, and bar it

2. They say that old Tam Harker
   went walking past the weir

Refrain
{foot}"""


@each(
    "first",
    [
        "14.  The Salt Gate",
        "14)   The Salt Gate",
        "36   The Salt Gate",
        "214\tThe Salt Gate",
        "(7)   The Salt Gate",
        "No. 7    The Salt Gate",
        "Nr. 12     The Salt Gate",
        "12. The Salt Gate",
    ],
)
def test_a_number_before_a_title(first: str) -> None:
    """It is no title, the title no writer, and no stanza is counted from it."""
    result = taken(_PAGE.format(first=first, foot=""))
    assert result.chart.text("title") == "The Salt Gate"
    assert result.chart.text("writer") == "Ilse Farrow"
    assert [part.name for part in parts_of(result.chart)] == ["1.", "Refrain", "2.", "Refrain"]


@each(
    "foot",
    [
        "\nFallow Lane Songbook                 - 23 -\n",
        "\n23                    Fallow Lane Songbook\n",
        "\nFallow Lane Songbook        page 23\n",
    ],
)
def test_the_book_at_the_foot(foot: str) -> None:
    """The book with the number of its page below a song is not sung."""
    result = taken(_PAGE.format(first="14.  The Salt Gate", foot=foot))
    assert "Fallow" not in " ".join(all_words(result.chart))
    assert "page-number" in codes(result)


def test_a_title_below_the_book() -> None:
    """A number before the name of the book, over the title, is that of the page."""
    text = "36   SONGS FROM THE LOFT\n\nLamp Song\n\nVerse\nD   G\nOver the water\n"
    assert taken(text).chart.text("title") == "Lamp Song"


@each("number", ["1.   ", "1)   ", "1    "])
def test_bar_lines_among_stacked_words(number: str) -> None:
    """The number of a verse before the bar lines of its words opens no ending, and the words stand
    under the bars in which they are typed."""
    text = (
        "Lullaby\nKey F\n\n"
        "     | F              | Bb            |\n"
        f"{number}| Slow- ly the   | mill wheel    |\n"
        f"{number.replace('1', '2')}| Soft- ly the   | rain is       |\n"
    )
    result = taken(text)
    assert body(result.chart) == (
        "| F | Bb |\n1: | Slowly the | mill wheel |\n2: | Softly the | rain is |"
    )


def test_bar_lines_out_of_line() -> None:
    """Words with bar lines go by these where they stand under other bars."""
    text = "Lullaby\nKey F\n\n| F | Bb | C7 |\n| Slowly the | mill wheel | turns |\n"
    assert body(taken(text).chart) == "| F | Bb | C7 |\n: | Slowly the | mill wheel | turns |"


@each("behind", ["  (all)", "   [all]", "  (everybody)", "  (tutti)"])
def test_who_sings_behind_the_words(behind: str) -> None:
    """A label far behind the words it is for is a cue, also in a verse without chords."""
    text = (
        "The Ropewalk\nKey Dm\n\nVerse 1\nDm\nWho will turn the wheel?\nC           Dm\n"
        f"We will, we will!{behind}\n\nVerse 2\nWho will walk it back?\nWe will, we will!{behind}\n"
    )
    chart = taken(text).chart
    label = behind.strip(" ()[]")
    assert label not in " ".join(all_words(chart)).casefold()
    assert [part.cues for part in parts_of(chart)] == [[label], [label]]


def test_an_echo_behind_the_words() -> None:
    """What repeats the last word, or stands near behind single lines, is sung."""
    verse = "D          A\nWe give it all (all)\nD        A\nHere we go (all night long)\n"
    text = f"Tout\nKey: D\n\nVerse\n{verse}"
    words = " ".join(all_words(taken(text).chart))
    assert "(all)" in words
    assert "(all night long)" in words


@each(
    ("heading", "kind"),
    [
        ("Riff (after each chorus)", "Chorus"),
        ("Riff (and after every chorus): Am G", "Chorus"),
        ("Riff (nach jedem Refrain)", "Chorus"),
        ("Riff (después de cada coro)", "Chorus"),
        ("Riff (after each verse)", "Verse"),
    ],
)
def test_a_section_after_each_of_a_kind(heading: str, kind: str) -> None:
    """A heading may say that its section comes after each of another kind."""
    row = "" if heading.endswith("G") else "Am G\n"
    text = (
        f"Juniper Road\nKey: Am\n\n{heading}\n{row}\n"
        "Verse 1\nAm      G\nJuniper Road has a bend\n\n"
        "Chorus\nC   G\nOh, Juniper Road\n\nVerse 2\nJuniper Road has a smell\n\nChorus\n"
    )
    names = [part.name.partition(" ")[0] for part in parts_of(taken(text).chart)]
    verse = ["Verse", *["Riff"] * (kind == "Verse"), "Chorus", *["Riff"] * (kind == "Chorus")]
    assert names == ["Riff", *verse, *verse]


def test_a_refrain_first_and_after_stacked_verses() -> None:
    """Verses that are numbered below such a refrain stand apart, with the refrain after each."""
    text = (
        "Herring King\nKey: Em\n\nREFRAIN (start with it, and sing it after every verse)\n\n"
        "Em                D\nHaul away for the herring king\nC       D\nhaul him home\n\n"
        "VERSES\n\n"
        "   Em                    G\n1. His beard was made of bone\n   D                    Em\n"
        "   his belt was made of twine\n\n"
        "2. We gave him salt and bread\n   we gave him half a moon\n"
    )
    names = [part.name for part in parts_of(taken(text).chart)]
    assert names == ["REFRAIN", "Verse 1", "REFRAIN", "Verse 2", "REFRAIN"]


@each(
    "label",
    ["Words: ", "Lyrics:  ", "Text: ", "Paroles : ", "Letra: ", "Testo: ", "Words - "],
)
def test_a_label_before_words(label: str) -> None:
    """The word that calls words so is not sung."""
    text = (
        "Table\nKey: Bb\n\nVerse\n| Bb / / / | Dm / / / |\n| Eb / F / | Bb / / / |\n"
        f"{label}Lay the table anyway,\nlay it for a stranger\n\nVerse\n\n"
    )
    words = " ".join(all_words(taken(text).chart))
    assert words.startswith("Lay the table anyway,")


@each(
    "said",
    [
        "The same four chords for every line, verses and chorus:  Am  F  C  G",
        "Every line: Am F C G",
        "Each line goes Am F C G",
        "Immer die gleichen Akkorde für jede Zeile: Am F C G",
        "Toujours les mêmes accords, pour chaque ligne : Am F C G",
        "Los mismos acordes para cada línea: Am F C G",
    ],
)
def test_chords_of_each_line_said_before_them(said: str) -> None:
    """Chords that the head gives to each line stand over each, and what says so is not sung."""
    text = (
        f"WINDOW SEAT\nTempo: 90\n\n{said}\n\nVerse 1\nSomebody's asleep on my shoulder\n"
        "somebody's city is light\n\nChorus\nI've got the window\n"
    )
    music = [" ".join(part.music) for part in parts_of(taken(text).chart)]
    assert music == ["Am F C G Am F C G", "Am F C G"]


_MARGIN = """Bells
Key: G

{s}G        D        Em
{one}Ring in the morning, ring in
{s}G           D
{s}ring for the ones of the night

{s}C       G
{refrain}Ring, ring, ring
{s}C      D
{s}ring in the day

{two}Ring for the baker and bread
{s}ring for the children asleep

{again}
"""


@each(
    ("one", "two", "refrain", "again"),
    [
        ("V.1", "V.2", "Ref.", "Ref."),
        ("V1", "V2", "Ch", "Ch"),
        ("Verse 1", "Verse 2", "Chorus", "Chorus"),
        ("Str. 1", "Str. 2", "Refr.", "Refr."),
        ("1.", "2.", "Ref.", "Ref."),
        ("I.", "II.", "Refrain", "Refrain"),
    ],
)
def test_names_at_the_margin(one: str, two: str, refrain: str, again: str) -> None:
    """Names at the margin before indented words begin sections, and the words keep their chords."""
    one, two, refrain = (name.ljust(10) for name in (one, two, refrain))
    text = _MARGIN.format(s=" " * 10, one=one, two=two, refrain=refrain, again=again)
    parts = parts_of(taken(text).chart)
    assert [part.words for part in parts] == [
        "ringinthemorningringinringfortheonesofthenight",
        "ringringringringintheday",
        "ringforthebakerandbreadringforthechildrenasleep",
        "ringringringringintheday",
    ]
    verse, chorus = ["G", "D", "Em", "G", "D"], ["C", "G", "C", "D"]
    assert [part.music for part in parts] == [verse, chorus, verse, chorus]
    assert ": Ring in / the mor-" in body(taken(text).chart)


def test_numbers_far_before_words() -> None:
    """Chords stand over the words behind the number of a verse, however wide the gap."""
    text = (
        "Bells\nKey: G\n\n     G        D\n1.   Ring in the morning\n\nRefrain\n"
        "     C       G\n     Ring, ring\n\n2.   Ring for the baker\n     and bread\n\nRefrain\n"
    )
    assert ": Ring in / the morning" in body(taken(text).chart)


_STANZAS = """Gate
Key: D

   D        G    D
{one}Who left the gate
   A               D
   all of a winter night

Refrain
   G        A7
   Shut it, love

{two}They say that Tam
   went walking past the weir

Refrain

{three}And when they came
   the gate was open wide
"""


@each("form", ["({})", "<{}>", "{}:", "[{}]", "*{}*", "{}/", "#{}", "{}.)", "{}°"])
def test_numbers_of_stanzas_in_signs(form: str) -> None:
    """A number in any signs before a stanza is its number, and none is sung; nor is a stanza put
    into the refrain above it."""
    one, two, three = (form.format(number) + " " for number in (1, 2, 3))
    parts = parts_of(taken(_STANZAS.format(one=one, two=two, three=three)).chart)
    assert [part.name for part in parts] == ["1.", "Refrain", "2.", "Refrain", "3."]
    assert [part.words for part in parts][0::2] == [
        "wholeftthegateallofawinternight",
        "theysaythattamwentwalkingpasttheweir",
        "andwhentheycamethegatewasopenwide",
    ]
    assert parts[0].music == parts[2].music == parts[4].music


@each("form", ["{}", "({})", "<{}>", "{}.", "{}:"])
def test_numbers_alone_from_two_on(form: str) -> None:
    """Where the first stanza has no number, those of the others alone on their lines count too."""
    text = (
        "Gate\nKey: D\n\nD        G    D\nWho left the gate\n\n"
        "Refrain\nG        A7\nShut it, love\n\n"
        f"{form.format(2)}\nThey say that Tam\n\nRefrain\n\n{form.format(3)}\nAnd when they came\n"
    )
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["1.", "Refrain", "2.", "Refrain", "3."]
    assert parts[4].words == "andwhentheycame"


@each("form", ["({})", "{}.", "*", "<{}>"])
def test_who_enters_in_a_round(form: str) -> None:
    """The marks of those who enter in a round are not sung, and their lines are."""
    marks = [form.format(number).ljust(5) for number in (1, 2, 3)]
    lines = [
        "Bless the turnip, bless the leek",
        "bless the mouths that cannot speak",
        "pass the salt",
    ]
    rows = ["F       C7      F", "F       C7        F", "F     C7     F"]
    round_ = "\n".join(
        f"     {row}\n{mark}{line}" for row, mark, line in zip(rows, marks, lines, strict=True)
    )
    parts = parts_of(taken(f"Grace\nKey: F\n\n{round_}\n").chart)
    words = "".join(part.words for part in parts).translate({ord(sign): None for sign in "123"})
    assert words == "blesstheturnipblesstheleekblessthemouthsthatcannotspeakpassthesalt"


def test_stanzas_beside_a_refrain_that_is_set_in() -> None:
    """Stanzas of two lines without names beside a refrain that is set in are verses."""
    text = (
        "Brick\nKey: C\n\nC           F\nBrick by brick the wall\nC           G7\n in our town\n\n"
        "     CHORUS\n     F          C\n     Oh the dust\n     G7            C\n     on us\n\n"
        "Stone by stone they came\n past the station\n\n     CHORUS\n\n"
        "Nail by nail they went\n to the river\n\n     CHORUS x 2\n"
    )
    parts = parts_of(taken(text).chart)
    names = [part.name for part in parts]
    assert names == ["Verse 1", "CHORUS", "Verse 2", "CHORUS", "Verse 3", "CHORUS"]
    assert parts[2].words == "stonebystonetheycamepastthestation"


@each(
    ("head", "title"),
    [
        (
            'Fiddle Tunes for Beginners -- Lesson 6\n"Grandmother\'s Clock" (in A)',
            "Grandmother's Clock",
        ),
        (
            "The Drover's Bargain                   No. 58\nTraditional, set by K. Lamb",
            "The Drover's Bargain",
        ),
        (
            "MARCH OF THE PEWTER BAND    (Concert pitch)\nKey of Bb     2/4",
            "MARCH OF THE PEWTER BAND",
        ),
        ("Wheel of the Year   -   for the Thursday singers\nKey: Em", "Wheel of the Year"),
        ('TUNE: "Rattlebag"     TIME: 6/8     KEY: Em', "Rattlebag"),
    ],
)
def test_titles_of_songbooks(head: str, title: str) -> None:
    """Whom a copy is for, who set it and from which course it comes are no titles."""
    assert taken(f"{head}\n\nVerse\nEm  D  Em\n").chart.text("title").strip('"') == title


def test_a_key_far_behind_a_tune() -> None:
    """A key by its word without a colon is read at the margin of a line."""
    head = "THE LANTERN KEEPERS\nWords: M. Lowe     Tune: COLD HARBOUR (8.6.8.6.)     Key G\n"
    chart = taken(f"{head}\nG          C       G\nThe keepers of the lantern go\n").chart
    assert chart.text("key") == "G major"


@each("number", ["(1)", "1.)", "1)", "1."])
def test_a_number_before_the_chords_of_a_stanza(number: str) -> None:
    """A stanza's number may stand before its first row of chords."""
    gap = " " * (len(number) + 1)
    two = number.replace("1", "2")
    text = (
        f"Tram\nKey: C\n\n{number} C           G\n{gap}Die letzte Bahn\n{gap}Am          F\n"
        f"{gap}die Lampen zählen\n\nRefrain\nC          G\nKling, kling\n\n"
        f"{two} Der Schaffner hat\n{gap}mich wohl gekannt\n\nRefrain\n"
    )
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["1.", "Refrain", "2.", "Refrain"]
    assert parts[0].music == parts[2].music == ["C", "G", "Am", "F"]


@each(
    "line",
    [
        "T: Lene Marck / M: Jo Held",
        "T.: Lene Marck   M.: Jo Held",
        "T: Lene Marck\nM: Jo Held",
    ],
)
def test_letters_before_writers(line: str) -> None:
    """Letters for words and music before names are no sections."""
    chart = taken(f"Lied\n{line}\n\nStrophe 1\nC     G\nHallo\n").chart
    assert chart.text("writer") == "Lene Marck, Jo Held"
    assert [part.name for part in parts_of(chart)] == ["Strophe 1"]
