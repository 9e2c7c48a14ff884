"""Bars as people type them: first lines left off, pick-ups, meters that nobody says."""

import pytest

from chartkit.chart.model import Chart, Meter, MusicRow
from chartkit.interchange.text.write import sheet_text
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.typed_sheets import parts_of


def test_a_first_line_left_off_is_put_there() -> None:
    """A section that begins without a bar line begins with a whole bar, which is reported, and no
    word moves to another bar (the trade leaves that line off: common practice, no source)."""
    result = taken("Moth\n4/4\n\nG   D   |   Em   C   |\nMoth, moth, go home and sleep\n")
    assert body(result.chart) == "| G D | Em C |\n: | Moth, | moth, go / home and sleep |"
    assert "first-bar-line" in codes(result)
    reads_back(result.chart)


@each("typed", ["G . | C . . . |", "/ G | C / / / |", "D7 | G / / / | C / / / |"])
def test_counted_beats_before_the_first_line_are_a_pick_up(typed: str) -> None:
    """Fewer beats than a bar, counted by signs there or in all other bars, are a pick-up."""
    result = taken(f"Moth\n4/4\n\n{typed}\n")
    (music,) = _music(result.chart)
    assert music.bars[0].pickup and music.lines[0].kind == "none"
    assert "first-bar-line" not in codes(result)


def test_three_places_in_every_bar_are_a_waltz() -> None:
    """Where no meter is given and all bars have three places, 3/4 is guessed and no beat is
    added; one bar of four, or a meter said anywhere, and it is not."""
    typed = "Loam\n\nIntro\nG / / | C / / | G | D7 / / |\n"
    result = taken(typed)
    assert (result.chart.setting("meter"), body(result.chart)) == (
        Meter(3, 4),
        "== Intro\n| G / / | C / / | G | D7 / / |",
    )
    assert "meter" in codes(result)
    for other in (typed + "G / / / | C |\n", typed.replace("Loam\n", "Loam\n4/4\n")):
        assert taken(other).chart.setting("meter") in (None, Meter(4, 4))
        assert "meter" not in codes(taken(other))


@each("pick_up", ["G7", "G7 C", "/ G7", 'G7 "hey"'])
def test_a_pick_up_comes_back_from_our_own_text(pick_up: str) -> None:
    """What is written as a pick-up is read as one, whether its beats are counted or not."""
    chart = chart_of(f"== Verse\n{pick_up} | C | F |\n: now | low | tide |\n")
    back = taken(sheet_text(chart)).chart
    assert body(back) == body(chart)


def _music(chart: Chart) -> list[MusicRow]:
    return [row for one in chart.sections for row in one.rows if isinstance(row, MusicRow)]


@each("how", ["{}", "({})", "{}:", "[{}]"])
def test_rehearsal_letters_name_sections(how: str) -> None:
    """Letters that go on from A and stand alone above rows of music are names, reported as a
    guess, and no chords."""
    a, b, again = (how.format(letter) for letter in ("A", "B", "A2"))
    result = taken(f"Moth\n4/4\n\n{a}\n| G | D |\n{b}\n| C | D |\n{again}\n\n| G |\n")
    assert body(result.chart) == "== A\n| G | D |\n== B\n| C | D |\n== A2\n| G |"
    (finding,) = [f for f in result.findings if f.code == "rehearsal-letters"]
    assert (finding.certainty, finding.place) == ("guessed", "4:1") and finding.message.endswith(
        "A, B, A2"
    )


@each(
    "song", ["E\nlow\nA\ntide\n", "A\nlow tide\nB\nhome\n", "A\n| G | D |\nE\n| C |\n", "A\nG  D\n"]
)
def test_letters_that_do_not_go_on_or_stand_above_words_are_chords(song: str) -> None:
    """Any other letter alone is a chord."""
    result = taken(f"Moth\n\n{song}")
    assert "rehearsal-letters" not in codes(result)
    assert "==" not in body(result.chart)


def test_a_meter_in_parentheses_within_a_row_is_for_one_bar() -> None:
    """The meter before it is counted again in the next row, and a finding says so."""
    result = taken("Key: D\n4/4\n\nVerse:\n| D | G | (2/4) A |\n| D A | D |\n")
    assert body(result.chart) == "== Verse\n| D | G | 2/4 A |\n| 4/4 D A | D |"
    assert "meter-of-one-bar" in codes(result)


@each(
    ("row", "bars"),
    [
        ("C . . .   D . . .", "| C / / / | D / / / |"),
        ("C / / /  F / G7 /  C / / /", "| C / / / | F / G7 / | C / / / |"),
        ("C ///  F / G7 /  C ///", "| C / / / | F / G7 / | C / / / |"),
        ("C - - -  F - G7 -  C - - -", "| C / / / | F / G7 / | C / / / |"),
        ("C . .  G7 . .  C / G7  C . .", "| C / / | G7 / / | C / G7 | C / / |"),
        ("C . D . E .", "C D E"),
        ("C - D - G - D", "C D G D"),
        ("C . . G . . D", "C G D"),
    ],
)
def test_signs_count_whole_bars_where_a_chord_is_held_through_one(row: str, bars: str) -> None:
    """Dots, slashes and dashes behind chords count beats where they fill bars and one chord at
    least has a bar for itself; else they may part chords (common practice, no source)."""
    result = taken(f"Moth\n\nVerse\n{row}\n")
    assert " ".join(body(result.chart).splitlines()[1].split()) == bars
    assert ("bars-counted" in codes(result)) == bars.startswith("|")


def test_signs_count_bars_in_the_meter_that_a_sheet_gives() -> None:
    """Dots count whole bars of it even where each bar has two chords; dashes may part chords."""
    counted = taken("Time: 4/4\n\nVerse\nC . D . C . D .\nHold on, hold on\n")
    assert " ".join(body(counted.chart).splitlines()[1].split()) == "| C / D / | C / D / |"
    parted = taken("Time: 7/8\n\nRiff\nDm - Dm - F - G\n")
    assert body(parted.chart).splitlines()[1] == "Dm Dm F G"


@pytest.mark.parametrize("row", ["B: | F♯m7 | B♭ D°7| C |", "Chorus: | F♯m7 | B♭ D°7| C |"])
def test_signs_of_music_are_no_pictures(row: str) -> None:
    """The degree sign and the flat are symbols to Unicode as the pictures of phones are, and
    stay in chords behind a section's name."""
    result = taken(f"Low Bell\n\n{row}\n")
    assert body(result.chart).splitlines()[1] == "| F#m7 | Bb Ddim7 | C |"
    assert "no-chord-known" not in codes(result)


@each(("typed", "meant"), [("Gg", "G"), ("EB", "Eb"), ("BB", "Bb")])
def test_a_slip_in_a_chord_is_read_and_reported(typed: str, meant: str) -> None:
    """A letter struck twice, or a flat with a capital, is the chord that was meant."""
    result = taken(f"Verse\nC    {typed}\nlow tide\n")
    assert body(result.chart).splitlines()[1].split() == ["C", meant]
    assert "mistyped-chord" in codes(result)


def test_dots_for_words_to_come_are_reported() -> None:
    """A line of dots stands for words that are not in the sheet."""
    assert "words-to-come" in codes(taken("Verse\nD  A\nover the hill\n...\nG  D\ninto the sea\n"))


@each(
    "typed",
    [
        "|: C | D |\n1. | G :|\n2. | A |",
        "|: C | D |\n1) | G |\n2) | A |",
        "| C | D |\n1st time: | G |\n2nd time: | A |",
        "| C | D |\n[1.] | G |\n[2.] | A |",
        "| C | D |\n1. Mal | G |\n2. Mal | A |",
        "| C | D |\nprima volta | G :|\nseconda volta | A |",
        "| C | D |\nfirst ending | G |\nlast ending | A |",
    ],
)
def test_endings_on_lines_of_their_own(typed: str) -> None:
    """Bars behind "1." and "2." under a row of bars are its endings, however they are numbered."""
    chart = taken(f"Song\nkey: C\n\n[A]\n{typed}\n").chart
    assert body(chart) == "== A\n|: C | D |\n|1. G :|\n|2. A |"


def test_endings_for_several_times() -> None:
    """An ending for the first three times names them all."""
    chart = taken("Song\n\n[A]\n| C | D |\n1.-3. | G :|\n4. | A |\n").chart
    assert body(chart).endswith("|: C | D |\n|1.2.3. G :|\n|4. A |")


def test_a_percent_sign_among_chords_makes_bars() -> None:
    """A "%" says the bar before again (common practice, no source), so each chord is a bar."""
    result = taken("Moth\n\nIntro: D7 % G7 %\n\nVerse\nD7   %    G7   %\nlove me again my dear\n")
    assert body(result.chart).count("| D7 ") == 2
    assert body(result.chart).startswith("== Intro\n| D7 | % | G7 | % |")
    assert "bars-by-similes" in codes(result)


_BEHIND = ("Every gate is open on the lane{}G D", "Every ship is home again tonight{}Em C7")


@each(
    "lines",
    [
        [line.format("     ") for line in _BEHIND],
        [line.format(" - ") for line in _BEHIND],
        [line.format(", – ") for line in _BEHIND],
        [
            "Every gate is open on the lane      (G  D)",
            "Every ship is home again tonight    (Em  C7)",
        ],
    ],
)
def test_chords_behind_words(lines: list[str]) -> None:
    """Behind a gap or a dash, and in parentheses in a column of their own, chords go with the words
    before them."""
    (part,) = parts_of(taken("Verse 1\n" + "\n".join(lines * 2)).chart)
    assert part.music == ["G", "D", "Em", "C7"] * 2
    assert part.words == "everygateisopenonthelaneeveryshipishomeagaintonight" * 2


def test_a_german_chord_behind_a_dash() -> None:
    """Chords behind a dash say how notes are named."""
    (part,) = parts_of(taken("Vers 1\nAlle Tore stehen auf - Hm A7\nHeut am Abend - G H7").chart)
    assert part.music == ["Bm", "A7", "G", "B7"]


@each("words", ["we left at nine, at home - A", "the best - Ed", "so it is - a day"])
def test_words_behind_a_dash(words: str) -> None:
    """What is no chord, or could be a word, stays."""
    chart = taken(f"Verse 1\nC      G\n{words}\nC     G\n{words}\n").chart
    assert parts_of(chart)[0].words == "".join(c for c in words.casefold() if c.isalnum()) * 2


@each(
    "row",
    [
        "|: F | C |1. G :|2. Am |",
        "|: F | C | 1. G :| 2. Am |",
        "|: F | C | (1) G :| (2) Am |",
        "|: F | C | [1. G :| [2. Am |",
        "|: F | C | 1st: G :| 2nd: Am |",
        "||: F | C |1 G :||2 Am ||",
        "|: F | C | 1) G :|\n| 2) Am |",
        "|: F | C | 1st time G :|\n2nd time Am |",
    ],
)
def test_endings_within_rows(row: str) -> None:
    """The numbers of endings stand behind their bar lines in many signs."""
    text = f"Kite\n\nVerse\n{row}\n\nChorus\n| D |\n"
    assert parts_of(taken(text).chart)[0].played == ["F", "C", "G", "F", "C", "Am"]
