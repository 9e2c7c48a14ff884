"""Songs within mails and notes on a phone: names of people that could be chords, lists and letters
above the title, names and talk below the song.

Source of the ways to write them: common practice, no source.
"""

from chartkit.chart.model import Chart
from tests.each import each
from tests.interchange.reading import body, taken
from tests.interchange.typed_sheets import parts_of

_SONG = (
    "Verse 1\nC        G\nLamps along the river\n\nChorus\nF        C\nBurn until the day\n\n"
    "Verse 2\nC        G\nLamps above the sea\n"
)


def _names(chart: Chart) -> list[str]:
    return [part.name for part in parts_of(chart)]


@each(
    ("beside", "said"),
    [
        (" (Bo: out)", "Bo: out"),
        (" (Bo in, whole notes)", "Bo in, whole notes"),
        (" - Emma out", "Emma out"),
        (" (Em: brushes)", "Em: brushes"),
        (" (Em as before)", "Em as before"),
        (" (Bo spielt ganze Noten)", "Bo spielt ganze Noten"),
        (" (Bo & Ema)", "Bo & Ema"),
    ],
)
def test_people_are_no_chords(beside: str, said: str) -> None:
    """Somebody whose name could be a chord is told what to do; nothing is played for it."""
    sheet = _SONG.replace("Verse 2", f"Verse 2{beside}").replace("F  ", "Em ")
    parts = parts_of(taken(f"Lamps\n\n{sheet}").chart)
    assert [part.music for part in parts] == [["C", "G"], ["Em", "C"], ["C", "G"]]
    assert parts[2].cues == [said]


@each("label", ["[{}]", "{}:", "({})"])
def test_people_who_sing_are_no_chords(label: str) -> None:
    """Names alone above rows of chords, as those who sing stand there, are no chords."""
    sheet = "Lamps\n\nVerse\n"
    for who in ("Em", "Bo", "Em"):
        sheet += f"{label.format(who)}\nG        C\nLamps along the river\n"
    result = taken(sheet)
    played = [chord for part in parts_of(result.chart) for chord in part.music]
    assert played == ["G", "C"] * 3
    assert "em" not in "".join(part.words for part in parts_of(result.chart))


def test_people_greeted_are_no_chords() -> None:
    """A mail that begins with a name and a comma begins with no chord."""
    result = taken(f"Bo,\n\nnearly the same as last year.\n\nLamps\nin C, medium\n\n{_SONG}")
    assert result.chart.text("title") == "Lamps"
    assert parts_of(result.chart)[0].music == ["C", "G"]


def test_remarks_of_one_time_are_not_said_of_another() -> None:
    """What is said of a section where it is written is not printed where it comes again with
    another remark."""
    sheet = _SONG.replace("Chorus", "Chorus (Bo: out)")
    text = body(taken(f"Lamps\n\n{sheet}\nChorus (Bo in)\nChorus\n").chart)
    assert "== Chorus\nBo" not in text
    assert text.endswith('== Chorus\n"Bo in"\n== Chorus')


@each(
    ("rows", "chords"),
    [
        (("Em c g d", "C d em g"), (["Em", "C", "G", "D"], ["C", "D", "Em", "G"])),
        (("C am f g", "F g c"), (["C", "Am", "F", "G"], ["F", "G", "C"])),
        (("C a d G", "F G C"), (["C", "Am", "Dm", "G"], ["F", "G", "C"])),
    ],
)
def test_small_letters_among_capitals(
    rows: tuple[str, str], chords: tuple[list[str], list[str]]
) -> None:
    """Small letters are minor chords only where nobody types an m."""
    verse, chorus = rows
    sheet = f"Lamps\n\nVerse\n{verse}\n{verse}\n\nChorus\n{chorus}\n"
    parts = parts_of(taken(sheet).chart)
    assert [part.music for part in parts] == [[*chords[0], *chords[0]], chords[1]]


@each(
    ("above", "title", "key"),
    [
        (
            'oat milk\nstrings (10s)\ncall Jo!!\n\nSONG\n"nearly there"\nkey d\n',
            "nearly there",
            "C",
        ),
        ("Milch\nEier\nBrot\nKäse\nSalz\nTee\n\nLied:\nHafen\nTonart C\n", "Hafen", "C"),
        (
            "Company,\n\nrevised today.\n\nNo. 14, “THE HAT”     Tempo 144     Key of C\n",
            "THE HAT",
            "C",
        ),
        (
            "To all tenors and our new drums\n\n“The Hat” (by me), in C, not too fast\n",
            "The Hat",
            "C",
        ),
        ("An alle Sänger,\n\n»Der Hut«, D-Dur\n", "Der Hut", ""),
        ("Notes 14 Feb\n\n- rent\n- strings\n\nIdea\n“Long Way”\nin C\n", "Long Way", "C"),
        ("Hola,\n\n*The Hat* en Do\n", "The Hat", "C"),
        ("Salut,\n\nCHAPEAU (Do)\n", "CHAPEAU", "C"),
        ("ok final FINAL version\n\nhoney trap\nC, 120 bpm\n", "honey trap", "C"),
        ("Hi,\n\nwe'll call it Long Way Down for now, in C at 90.\n", "Long Way Down", "C"),
        ("All,\nvery short notice, so no jokes.\nJ\n\nOur Lamp\nKey C\n", "Our Lamp", "C"),
        ("Hi both,\nthis is the one with the hat.\n- B x\n\nThe Hat\nKey C\n", "The Hat", "C"),
        (
            "Evening Al,\n\nthat reel. I call it Al's Broom until I know better. C major.\n",
            "Al's Broom",
            "C",
        ),
        (
            "fyi. M.\n\n-- Forwarded message --\nFrom: Isa\nSubject: words\n\n*The Hat*\n",
            "The Hat",
            "",
        ),
    ],
)
def test_titles_below_what_is_no_title(above: str, title: str, key: str) -> None:
    """Lists, salutations and sentences above a song are not its title."""
    chart = taken(f"{above}\n{_SONG}").chart
    assert chart.text("title") == title
    assert _names(chart) == ["Verse 1", "Chorus", "Verse 2"]
    assert not key or chart.text("key").startswith(key)


@each(
    ("said", "capo"),
    [
        ("careful, both our guitars are tuned down a half step here.", "-1"),
        ("die Gitarren sind einen Halbton tiefer gestimmt.", "-1"),
        ("we tune down to Eb for this one.", "-1"),
        ("everything tuned a whole step lower.", "-2"),
        ("the bass is tuned down a half step, the guitars are not.", ""),
        ("the piano was tuned last week.", ""),
    ],
)
def test_guitars_tuned_down_in_a_sentence(said: str, capo: str) -> None:
    """A letter that says that the guitars are tuned down says so of the chords."""
    assert taken(f"Hi Jo,\n\n{said}\n\nLAMPS\n\n{_SONG}").chart.text("capo") == capo


@each(
    "below",
    [
        "Jo\n\n(sorry, the caps lock is stuck)",
        "> that's it for now\n> L",
        "form: verse 1, chorus, verse 2, chorus\n\nnext stop is mine. night",
        "Kind regards,\nMiss P. Dorn\nHon. Sec., Fernley Choral",
    ],
)
def test_nothing_below_the_song_is_sung(below: str) -> None:
    """A name, leave and talk below the song are left out with a finding."""
    quoted = below.startswith(">")
    song = "\n".join(f"> {line}" for line in _SONG.splitlines()) if quoted else _SONG
    above, between = ("Hey!\n\n> LAMPS\n>", ">") if quoted else ("LAMPS\n", "")
    result = taken(f"{above}\n{song}\n{between}\n{below}\n")
    names = [part.name for part in parts_of(result.chart)]
    assert names[:3] == ["Verse 1", "Chorus", "Verse 2"]
    assert parts_of(result.chart)[2].words == "lampsabovethesea"
    assert any(one.certainty == "left-out" for one in result.findings)


@each(
    "said",
    ["At the end the first line of the chorus again", "Am Ende die Stimmen aus dem Chorus allein"],
)
def test_the_end_is_no_earlier_section(said: str) -> None:
    """What is said of the end of the song stands at its last section, whatever it names."""
    parts = parts_of(taken(f"Lamps\n\n{_SONG}\nChorus\n\n{said}\n").chart)
    assert [part.cues for part in parts] == [[], [], [], [said]]


@each(
    "legend",
    [
        "v = verse, c = chorus. learn it by Sat",
        "(V = verse, C = chorus)",
        "v: verse  c: chorus",
    ],
)
def test_short_names_that_the_sheet_explains(legend: str) -> None:
    """Letters for sections that a line explains are these sections, also where they could be
    chords."""
    code = "V" if "V" in legend else "v"
    chorus = "C" if code == "V" else "c"
    sheet = (
        f"Lamps\n\n{legend}\n\n{code}\nG        D\nLamps along the river\n\n{chorus}\nA     G\n"
        f"Burn until the day\n\n{code} (2nd)\nLamps above the sea\n\n{chorus}\n{chorus}\n"
    )
    result = taken(sheet)
    assert _names(result.chart) == ["verse", "chorus", "verse 2", "chorus", "chorus"]
    assert any(" ".join(legend.split()) in one.message for one in result.findings)


def test_a_lone_c_among_verses() -> None:
    """A "c" over words with their chords among them is the chorus where others are "v1"."""
    sheet = (
        "lamps\n\nv1\n(am)lamps along the (f)river\n(c)lamps in (g)rows\n\n"
        "c\n(f)burn until the (g)day\n\n"
        "v2\n(am)lamps above the (f)sea\n(c)lamps in (g)bows\n\nrep c\n"
    )
    parts = parts_of(taken(sheet).chart)
    assert [part.name for part in parts] == ["v1", "c", "v2", "c"]
    assert parts[3].music == ["F", "G"]


@each(
    ("line", "names", "cues"),
    [
        ("Chorus again, then the intro once more, dying away", ["Chorus", "intro"], ["dying away"]),
        ("Refrain encore, puis l'intro encore une fois", ["Refrain", "intro"], []),
        ("Fiddle over the verse, then the chorus twice", ["Fiddle", "Chorus"], []),
        ("And it ends on F, don't resolve it", ["End"], ["don't resolve it"]),
        ("Es endet auf F, nicht auflösen", ["End"], ["nicht auflösen"]),
    ],
)
def test_steps_said_in_a_sentence(line: str, names: list[str], cues: list[str]) -> None:
    """What comes next in a sentence is played, with all that is said of it and nothing else."""
    chorus = "Refrain" if "Refrain" in line else "Chorus"
    sheet = f"Lamps\n\nIntro: C F\n\n{_SONG.replace('Chorus', chorus)}\n{line}\n"
    parts = parts_of(taken(sheet).chart)[4:]
    assert [part.name for part in parts] == names
    assert parts[-1].cues == cues


@each(
    "said",
    [
        "so the order is v1, ch, v2, ch, ch. words below. no capo",
        "Here it is. Order: v1, ch, v2, ch, ch. Thanks!",
        "Reihenfolge ist V1, Ch, V2, Ch, Ch. Bis Freitag!",
    ],
)
def test_the_order_within_a_letter(said: str) -> None:
    """A letter above the song that gives its order among other sentences gives it."""
    chart = taken(f"Hi Sam,\n\n{said}\n\nCOPPER TEETH\n\n{_SONG}").chart
    assert chart.text("title") == "COPPER TEETH"
    assert _names(chart) == ["Verse 1", "Chorus", "Verse 2", "Chorus", "Chorus"]


def test_a_solo_over_one_part_and_the_parts_behind_it() -> None:
    """Parts behind a solo over one of them are played too."""
    sheet = "Lamps\n\nA1\n| C | F |\n\nB\n| G | F |\n\nA2\n| C | C |\n\n"
    chart = taken(f"{sheet}Horn solo over A1, then B and A2 sung again.\n\nTag\n| F | C |\n").chart
    assert _names(chart) == ["A1", "B", "A2", "Horn solo", "B", "A2", "Tag"]


@each(
    "said",
    [
        "yo the loop one, Am F C G throughout, one chord a line, 126 bpm",
        "same chords all through: Am F C G, one chord per line, tempo 126",
    ],
)
def test_chords_of_the_whole_song_in_a_sentence(said: str) -> None:
    """A sentence above the song gives the chords of all its sections, and the title stands below
    it."""
    words = "Grew in the dark\nCame up glowing\nEveryone said\nNobody asked\n"
    result = taken(f"{said}\n\nNEON HAT\n\nVerse 1\n{words}\nChorus\n{words}")
    assert (result.chart.text("title"), result.chart.text("tempo")) == ("NEON HAT", "126")
    assert [part.music for part in parts_of(result.chart)] == [["Am", "F", "C", "G"]] * 2


def test_a_title_below_the_chords() -> None:
    """The title between chords given once and the words under their names is not sung."""
    sheet = (
        "moin,\n\nchords first:\n\nVERSE: C F C G\nCHORUS: Am F C G\n\nThe Ladder\n\nVERSE 1\n"
        "I borrowed a ladder\n\nCHORUS\nUp, up, a rung\n\nVERSE 2\nIn June came a letter\n"
    )
    chart = taken(sheet).chart
    assert chart.text("title") == "The Ladder"
    assert _names(chart) == ["VERSE 1", "CHORUS", "VERSE 2"]


def test_a_count_of_the_whole_tune_is_none_of_its_last_part() -> None:
    """Nobody knows whether "three times through" below a tune is said of its last part: it is a
    cue."""
    parts = parts_of(taken("Reel\n\nA\n| G | C |\n\nB\n| D | G |\n\nThree times through.\n").chart)
    assert [part.times for part in parts] == [1, 1]
    assert parts[1].cues == ["Three times through."]


def test_chats_with_names_and_times_on_lines_of_their_own() -> None:
    """Names and times above each message are left out, with what others say, and a chord that
    answers a question."""
    chat = (
        "Mara\n7:02 PM\nok here it is\nMara\n7:03 PM\nLOW BRIDGE\nkey D\nverse\nD          G\n"
        "Mind your head on the way below\nJon P.\n7:05 PM\nis it A or A7?\nMara\n7:05 PM\nA7\n"
        "Mara\n7:06 PM\nchorus\nG         D\nLow bridge, everybody down\nJon P.\n7:09 PM\n"
        "love it\n"
    )
    result = taken(chat)
    assert result.chart.text("title") == "LOW BRIDGE"
    assert [str(part) for part in parts_of(result.chart)] == [
        "[verse] D G : mindyourheadonthewaybelow ! []",
        "[chorus] G D : lowbridgeeverybodydown ! []",
    ]


def test_a_letter_in_square_brackets_behind_words() -> None:
    """Where chords stand in square brackets behind words, a single letter there is one too, and not
    sung."""
    sheet = (
        "Dock\n\nVerse\nThey hauled me out in rain [Am, F]\nAnd hung me on a chain [C, G]\n"
        "I saw my keel again [Am, F]\nAll the paint and the tears [E]\n\nEnd: Am\n"
    )
    words = parts_of(taken(sheet).chart)[0].words
    assert words.endswith("allthepaintandthetears")
