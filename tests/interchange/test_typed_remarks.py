"""What people say beside chords and strings: none of it is sung, and none of it is lost."""

import pytest

from chartkit.interchange.text.lines import letters_of
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.typed_sheets import parts_of


@each(
    "typed",
    [
        "<- let ring",
        "<-- let ring",
        "// let ring",
        "!! let ring",
        "# let ring",
        "*let ring*",
        "(let ring)",
    ],
)
def test_a_remark_behind_chords_is_a_cue(typed: str) -> None:
    """However it is set apart, what is said behind chords is a cue, and the chords are music."""
    result = taken(f"Heron\n\nVerse\nF      C      {typed}\nHeron  one\n")
    assert body(result.chart) == '== Verse\nF C "let ring"\n: Heron / one'
    reads_back(result.chart)


def test_a_remark_on_a_chord_is_a_cue() -> None:
    """A remark in parentheses right behind a chord, without a blank."""
    assert body(taken("Moth\n\nG(hold)   D\nMoth, moth, go\n").chart) == (
        'G "hold" D\n: Moth, moth, / go'
    )


def test_arrows_between_chords_are_no_remark() -> None:
    """Chords joined by arrows are chords."""
    assert body(taken("Moth\n\nG -> D -> C\nMoth, moth\n").chart).startswith("G D C\n")


def test_rests_between_bar_lines_are_no_words() -> None:
    """A row of chords with many rests and muted strokes, as our own text has it, is music."""
    sheet = "Song\n4/4\n\n| Am7! r r r | F#m7! x x r |\n| C | G |\n"
    assert body(taken(sheet).chart) == "| Am7! r r r | F#m7! x x r |\n| C | G |"


def test_chords_that_stay_in_words_or_remarks_are_named() -> None:
    """Chords in square brackets among words and in a remark are named in findings; the others
    on the line of the remark are read."""
    result = taken("Salt\n\n[D]Walking the [A/C#]road\n(sing it [G]low) [A] [D]\n")
    assert body(result.chart).endswith('"sing it [G]low" A D')
    messages = {f.code: f.message for f in result.findings}
    assert messages["chords-in-brackets"].endswith(": D, A/C#")
    assert messages["chords-in-remarks"].endswith(": G")


def test_several_chords_in_parentheses_behind_words_are_a_group() -> None:
    """They are struck like any others, also with dashes between them; one alone may be left
    out."""
    sheet = "Moor\n\nThe moor is white (C  G/B  Am)\nand wide (F - C)\nand cold (G)\n"
    assert body(taken(sheet).chart) == (
        "C G/B Am\n: The moor is white / / /\nF C\n: and wide / /\n(G)\n: and cold /"
    )


def test_what_is_said_beside_tablature_is_reported() -> None:
    """A string with a remark behind it is tablature, and the remark is named."""
    result = taken("Fence\n\nC   D\nI mend\ne|--3--2--0--|\nB|--0--3--0--|  <- fill\n")
    assert body(result.chart) == "C D\n: I / mend"
    (message,) = [f.message for f in result.findings if f.code == "tablature"]
    assert message == '2 lines of tablature, beside them "fill"'
    assert "words-go-on" not in codes(result)


_VERSE = "Salt\n\nVerse\nG         D\nSalt on the water\n{}         C\n{}\n"


@pytest.mark.parametrize(
    ("typed", "remark", "sung"),
    [
        ("(softly) only the stone", "softly", "only the stone"),
        ("(band enters) Nobody goes", "band enters", "Nobody goes"),
        ("[Tom solo] waiting all day", "Tom solo", "waiting all day"),
        ("Oh my stone *stop*", "stop", "Oh my stone"),
        ("Oh my stone [drums in]", "drums in", "Oh my stone"),
    ],
)
def test_a_remark_in_signs_beside_words_is_a_cue(typed: str, remark: str, sung: str) -> None:
    """What is said to the players at the head or the end of a line of words is no part of them,
    and a finding at the line says so."""
    result = taken(_VERSE.format("G", typed))
    rows = body(result.chart)
    assert f'"{remark}"' in rows
    words = " ".join(rows.splitlines()[-1].replace("/", " ").replace("- ", "").split())
    assert words == f": {sung}"
    assert ("remark", "7:1") in {(one.code, one.place) for one in result.findings}


def test_an_echo_in_parentheses_is_sung() -> None:
    """It says again what is sung, or nothing of how to play; what may be either is reported."""
    plain = taken(_VERSE.format("G", "Nobody knows (on the water)"))
    assert "(on the water)" in body(plain.chart)
    assert codes(plain).isdisjoint({"remark", "maybe-a-remark"})
    doubtful = taken(_VERSE.format("G", "Roll along (rolling)"))
    assert "(rolling)" in body(doubtful.chart)
    assert "maybe-a-remark" in codes(doubtful)


@pytest.mark.parametrize("count", ["(x2)", "[2x]", "(2x wiederholen)", "(twice)"])
def test_a_count_in_signs_right_behind_words_is_no_part_of_them(count: str) -> None:
    """With one blank before it too: the line and its chords come so often."""
    rows = body(taken(_VERSE.format("G", f"Nobody goes {count}")).chart)
    assert rows.endswith("G C\n: Nobody / goes\nG C\n: Nobody / goes")


@each(
    ("first", "second", "cues"),
    [
        ("(Arme langsam heben)", "(auf der Stelle laufen)", 2),
        ("(on tourne les bras)", "(on cherche la chaise)", 2),
        ("(hop on the spot)", "(arms up high)", 2),
        ("(up the hill)", "(up the hill)", 0),
        ("(Up On The Roof)", "(Shout It Out)", 0),
    ],
)
def test_moves_far_behind_words(first: str, second: str, cues: int) -> None:
    """Several remarks behind a gap, no two alike and not all with capitals, are no echoes."""
    sheet = f"Kite\n\nVerse\nC        G\nOver the river     {first}\nF        C\n"
    (part,) = parts_of(taken(f"{sheet}Over the sea     {second}\n").chart)
    assert len(part.cues) == cues
    assert (part.words == "overtheriveroverthesea") == bool(cues)


_TWO_LINES = "Haul\n\nVerse\nF             C\n{}\nG               Am\nMind the rope and haul\n"


@each(
    ("typed", "remark"),
    [
        ("All the things we only loaned.          (oboe answers)", "oboe answers"),
        ("Haul it over the harbour wall.              (all)", "all"),
        ("All over, over town________.          (hold, then cut)", "hold, then cut"),
        ("Wer trägt das Wasser hinunter       (Geige antwortet)", "Geige antwortet"),
        ("Qui portera l'eau de la mare        [la flûte répond]", "la flûte répond"),
        ("Vem bär vattnet över bron           (kort paus)", "kort paus"),
        ("Haul it over the harbour wall.      {banjo tacet}", "banjo tacet"),
        ("Haul it over the harbour wall       -- tremolo strings", "tremolo strings"),
        ("Haul it over the harbour wall       * let ring", "let ring"),
    ],
)
def test_a_remark_at_the_margin_is_a_cue(typed: str, remark: str) -> None:
    """Far behind the words and their chords stands a remark, where its words are sung nowhere;
    a finding at the line says so."""
    result = taken(_TWO_LINES.format(typed))
    assert f'"{remark}"' in body(result.chart)
    (part,) = parts_of(result.chart)
    assert part.words == letters_of(typed.partition("   ")[0] + "Mind the rope and haul")
    assert ("remark", "5:1") in {(one.code, one.place) for one in result.findings}


@each(
    "typed",
    [
        "Mind, bus shelter choir  (mind, bus shelter choir)",
        "Mind, bus shelter choir        (shelter choir)",
        "Who will carry the water          (oh yeah)",
        "Who will carry the water          (ooh la la)",
        "Who will carry the water          (never come back)",
        "Who will haul it all, all        (all)",
        "Who will haul it over            (I will, I will)",
        "Who will haul it over            (never, never)",
    ],
)
def test_an_echo_at_the_margin_is_sung(typed: str) -> None:
    """Words that come again, syllables that are only sung, and what sounds sung stay words."""
    (part,) = parts_of(taken(_TWO_LINES.format(typed)).chart)
    assert letters_of(typed) in part.words
    assert part.cues == []


def test_words_under_a_chord_at_the_margin_are_sung() -> None:
    """Where a chord stands over what is in parentheses, somebody sings it."""
    words = "Mind the rope          (strings answer)"
    row = "F        C                   G"
    (part,) = parts_of(taken(f"Haul\n\nVerse\n{row}\n{words}\n").chart)
    assert letters_of("strings answer") in part.words


def test_remarks_in_one_column_at_the_margin() -> None:
    """What stands under a remark at the margin is one as well, unless it sounds sung; and no
    column of its own."""
    row, sheet = "F             C\n", "Haul\n\nVerse\n"
    sheet += f"{row}Mind the rope and haul          [guitare seule]\n"
    sheet += f"{row}Mind the rope and the barrel    [contrebasse]\n"
    sheet += f"{row}Mind the rope and the barrel    [ohé, ohé]\n"
    (part,) = parts_of(taken(sheet).chart)
    assert part.cues == ["guitare seule", "contrebasse"]
    assert part.words.endswith("thebarrelohéohé")


def test_a_dash_under_the_bars_of_a_row_is_sung() -> None:
    """Where the row above goes on over what stands behind a dash, it is words."""
    row, words = "| F           | C           | G  |", "Mind the rope       — all hands on deck"
    (part,) = parts_of(taken(f"Haul\n4/4\n\nVerse\n{row}\n{words}\n{row}\nMind it\n").chart)
    assert letters_of("all hands on deck") in part.words


def test_the_last_verse_with_a_remark_at_its_margin_is_sung() -> None:
    """A verse without chords under its own name is no letter, though its first line has a
    remark."""
    row, words = "Am             E7\n", "The baker had a son who danced\nHe danced with a loaf\n"
    first = f"{row}{words.splitlines()[0]}\n{row}{words.splitlines()[1]}\n"
    second = "The baker had a wife who sang,        (no drums)\nShe buttered his hat\n"
    result = taken(f"Baker\n\nVERSE 1\n\n{first}\nVERSE 2\n\n{second}")
    assert "letter" not in codes(result)
    assert parts_of(result.chart)[1].words == letters_of(second.replace("(no drums)", ""))
