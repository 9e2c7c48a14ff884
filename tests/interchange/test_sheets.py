"""Sheets of text: what is typed in mail becomes the chart that was meant."""

import re
from collections.abc import Callable
from contextlib import suppress
from functools import partial

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import ArrangedBar
from chartkit.arrange.view import View
from chartkit.chart.model import Chart, Meter
from chartkit.interchange.intake_result import Refused
from chartkit.interchange.text.write import sheet_text
from chartkit.syntax.write import chart_text
from tests.charts import chart_of
from tests.each import each
from tests.interchange.messy_sheets import MESSY
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.sheets import HEADS, SHEETS
from tests.interchange.test_musicxml_round_trip import EXAMPLES, struck, words
from tests.strategies import charts
from tests.work import steps

EVERY = SHEETS | MESSY


@each("name", sorted(EVERY))
def test_sheet(name: str) -> None:
    """The sheet becomes the bars and words that were meant."""
    sheet, expected = EVERY[name]
    result = taken(sheet)
    assert re.sub(r" +", " ", body(result.chart)) == re.sub(r" +", " ", expected)
    reads_back(result.chart)


_SAID_OTHERWISE = {
    "again",
    "akkorde",
    "back",
    "bars",
    "bund",
    "chord",
    "chords",
    "coda",
    "measures",
    "pause",
    "repeat",
    "rest",
    "sign",
    "tacet",
    "takte",
    "times",
    "capo",
    "fret",
    "words",
    "music",
    "over",
    "same",
    "twice",
}
"""Words of which a sheet's chart has the meaning: a repeat, a rest, a mark, a setting, a name."""
_CHORD = re.compile(r"(?:[A-Ha-h]|SOL|Sol|LA|La)(?:m|maj|dim|sus|add|aug|is|alt|bb)*")
_DIVIDERS = re.compile(r"(?:(?<=\w)- )?[/|] | [/|]$|[\s\\]", re.MULTILINE)


@each("name", sorted(EVERY))
def test_no_word_is_lost(name: str) -> None:
    """Every word of a sheet is in its chart, in whatever place, but for what is reported as left
    out and what became a repeat, a rest, a mark or a setting."""
    result = taken(EVERY[name][0])
    kept = _DIVIDERS.sub("", re.sub(r" +", " ", chart_text(result.chart))).casefold()
    gone = {
        word
        for word in re.findall(r"[^\W\d_]{4,}", EVERY[name][0].replace("-", ""))
        if word.casefold() not in kept.replace("-", "")
    }
    unheard = {word for word in gone if word.casefold() not in _SAID_OTHERWISE}
    said = " ".join(finding.message for finding in result.findings).casefold()
    assert {
        word for word in unheard if not _is_a_chord(word) and word.casefold() not in said
    } == set()


def _is_a_chord(word: str) -> bool:
    return (
        re.fullmatch(r"(?:[A-Ha-h]|SOL|Sol|LA|La)(?:m|maj|dim|sus|add|aug|is|alt|bb)*", word)
        is not None
    )


@each("name", sorted(HEADS))
def test_heading(name: str) -> None:
    """What stands above the song becomes settings."""
    sheet, expected = HEADS[name]
    chart = taken(sheet).chart
    assert {n: str(chart.setting(n)) for n in expected} == expected  # type: ignore[arg-type]
    reads_back(chart)


def test_what_a_key_beside_a_capo_means_is_a_guess() -> None:
    """Whether the key above a sheet with a capo sounds is reported as a guess, and so is whether
    its chords do; never both ways."""
    shapes = codes(taken(HEADS["a key that sounds, over shapes"][0]))
    assert {"key-sounds", "chords-are-shapes"} <= shapes
    sounding = codes(taken(HEADS["a key that sounds, over what sounds"][0]))
    assert "chords-are-sounding" in sounding
    assert not sounding & {"key-sounds", "chords-are-shapes"}


@each(
    ("head", "chords", "key"),
    [
        ("I sing it in Bb, capo where you like.", "G    D    Em   C", "G major"),
        ("Key: Bb", "G    D    Em   C", "G major"),
        ("Key: D", "G    D    Em   C", "D major"),
        ("Key: A", "G    D    Em   C", "G major"),
        ("Key: C", "C7   F7   G7   C7", "C major"),
        ("Key: Bb", "G    Eb   F    C", "Bb major"),
        ("Key: A", "Am   F    G    C", "A major"),
    ],
)
def test_a_key_that_is_asked_for_is_not_that_of_the_chords(
    head: str, chords: str, key: str
) -> None:
    """A key of which the sheet has no chord is a wish: the chart's key is that of its chords, and
    the finding says how to sound in the other.  Otherwise the key holds as it is given."""
    sheet = f"Hi,\n\n{head}\n\nLast Ferry\n\nVerse 1\n{chords}\nCount the lights across the water\n"
    result = taken(sheet)
    assert str(result.chart.key) == key
    asked = [one.message for one in result.findings if one.code == "key-asked"]
    assert bool(asked) == (key not in ("D major", "C major", "Bb major", "A major"))
    if "Bb" in head and asked:
        assert "put a capo at fret 3" in asked[0]


def test_places_are_lines_and_columns() -> None:
    """A finding says where it stands: line and column, from 1."""
    result = taken("Song\n\nC\none\ntwo\n")
    (guess,) = [f for f in result.findings if f.code == "words-go-on"]
    assert guess.place == "5:1"


@pytest.mark.parametrize(
    ("sheet", "reason"),
    [
        ("Dear all,\n\nrehearsal is at seven.\nBring cables.\n\nNora\n", "holds no chords"),
        ("The Salt Road\n\nLow [C]tide pulls the lan[G]terns home\n", r"set them above .*: C, G"),
    ],
)
def test_a_text_without_music_makes_no_chart(sheet: str, reason: str) -> None:
    """What holds nothing that can be read as music is refused, with what to do where chords stand
    in square brackets."""
    with pytest.raises(Refused, match=reason):
        taken(sheet)


def test_left_out_lines_are_reported() -> None:
    """Lines of tablature are not in the chart, and that is reported once a block with its place."""
    result = taken(SHEETS["tablature in several manners"][0])
    left = [(f.message, f.place) for f in result.findings if f.code == "tablature"]
    assert left == [("6 lines of tablature", "3:1"), ("3 lines of tablature", "13:1")]


def test_lines_that_tell_of_chords_are_kept_as_notes() -> None:
    """What names chords and strings and is no music stays a note, a shape a setting; each is
    reported with its place."""
    result = taken(SHEETS["what tells of chords and is none"][0])
    assert [str(row.value) for row in result.chart.top if row.name in ("note", "shape")] == [
        "Am x02210",
        "Chords used: G C D",
        "Tuning: E A D G B E",
    ]
    notes = [(f.code, f.place) for f in result.findings if f.code in ("kept-as-note", "shapes")]
    assert notes == [("kept-as-note", "6:1"), ("kept-as-note", "7:1"), ("shapes", "8:1")]
    assert "shapes" not in codes(taken("Song\nQ 320003\nG 32000\n\nC\none\n"))


def test_a_rest_on_a_line_of_its_own_is_a_guess() -> None:
    """Bars of rest that were typed in words are reported, with their place."""
    result = taken(SHEETS["rests on lines of their own"][0])
    rests = [f.place for f in result.findings if (f.certainty, f.code) == ("guessed", "rest")]
    assert rests == ["7:1", "8:1", "9:1", "10:1"]


def test_what_is_no_name_and_no_beat_is_reported() -> None:
    """A tuning kept as a note is a guess; slashes without bar lines are left out once a row."""
    assert "kept-as-note" in codes(taken(HEADS["tuning is no name"][0]))
    result = taken(SHEETS["slashes without bar lines"][0])
    left = [(f.code, f.place) for f in result.findings if f.certainty == "left-out"]
    assert left == [("slashes-without-bars", "1:1")]


def test_naming_is_reported() -> None:
    """Notes named in another way are a guess."""
    assert "note-names" in codes(taken("Hm  G  A\nHm  E\n"))


def test_encodings() -> None:
    """UTF-16 with its mark is read; bytes that are no UTF-8 are read as Windows-1252, which is
    reported."""
    sheet = "C   G\nné  à\n"
    assert body(taken(sheet.encode("utf-16")).chart) == body(taken(sheet).chart)
    result = taken(sheet.encode("windows-1252"))
    assert body(result.chart) == body(taken(sheet).chart)
    assert "encoding" in codes(result)


def test_shapes_over_sounding_are_read_as_one_row() -> None:
    """Two rows of chords, one the other raised by the capo, are one row of sounding chords."""
    chart = chart_of("key: Db major\ncapo: 1\n\n== Verse\n| Db | Gb Ab |\n: | low | tide / is |\n")
    text = sheet_text(chart)
    assert "| C   | F    G  |" in text
    result = taken(text)
    assert "chords-are-shapes" not in codes(result)
    back = result.chart
    assert (body(back), back.capo.raised, back.written_as_shapes) == (body(chart), 1, False)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_through_text(path: object) -> None:
    """Each example comes back from a mail with every chord, bar and word."""
    chart = chart_of(path.read_text(encoding="utf-8"))  # type: ignore[attr-defined]
    back = taken(sheet_text(chart)).chart
    reads_back(back)
    if not chart.written_as_shapes and chart.capo.raised >= 0:
        assert struck(back) == struck(chart)
        assert _rhythm(back) == _rhythm(chart)
    assert words(back) == words(chart)


def test_sections_played_again_begin_in_their_meter() -> None:
    """A section with the music of another is read in that one's meter, whatever came before."""
    chart = chart_of(
        "== Verse 1\n| C | G |\n\n== Bridge\n| 3/4 F | G | 6/8 C / |\n\n"
        "== Verse 2 as Verse 1\n\n== Bridge 2 as Bridge\n"
    )
    back = taken(sheet_text(chart)).chart
    reads_back(back)
    assert _rhythm(back) == _rhythm(chart)


def _rhythm(chart: Chart) -> list[tuple[object, ...]]:
    """Every bar's meter, length, rest and simile, its holds and slashes, the onsets of its
    strikes, its marks; a meter may stand in its bar or on a row of its own before it."""
    return [
        (
            _meter_of(arranged),
            bar.length,
            bar.rest,
            bar.simile,
            bar.beats_written,
            bar.holds,
            bar.slashes,
            [strike.onset for strike in bar.strikes],
            bar.marks,
        )
        for section in arrange(chart, View()).sections
        for system in section.systems
        for arranged in system.bars
        for bar in [arranged.bar]
    ]


def _meter_of(arranged: ArrangedBar) -> Meter | None:
    return arranged.meter if arranged.bar.length else None


def _letters(chart: Chart) -> list[str]:
    """The letters and digits of every row of words; the other signs may be marks in a text."""
    return [letter for letter in words(chart) if letter.isalnum()]


_WORD_LIKE_A_CHORD = chart_of("== Verse 1\n/ | % |\n: _ | Ab |\n")
_WORDS_LIKE_CHORDS = chart_of("== Verse 1\n| C | D |\n: | A | Ab x2 |\n\n| % | % |\n: | A | - |\n")

_EMPTY_SECTION = chart_of("== Verse 1\n| C |\n: | low |\n\n== Verse 2\n# here\n")
_CUES_BETWEEN = chart_of('== A\nN.C.\n"half time"\nN.C.\n"half time"\nN.C.\n')
_WORD_LIKE_TIMES = chart_of("== Verse 1\n| C / / / | D |\n: low | low | x2 |\n")


_A_LINE_WITHOUT_WORDS = chart_of(
    "== Verse 1\n| C | D |\n: low | on |\n\n== Verse 2\n| F | G |\n1: | | |\n"
)


_WORDS_OF_SIGNS = chart_of("== Verse 1\n| C |\n: \\\\ | \\|- |\n")


_A_NUMBER_AMONG_WORDS = chart_of(
    "meter: 2/4\n\n== Bridge\n|:1. C @fine |\n9: low o'er | 1.\n9: don't | \\\\ (home) \\#1\n"
)


_A_SYLLABLE_HELD_BEHIND_A_STROKE = chart_of(
    "== Chorus\n|| N.C. | C / x,G _ :|\n9: Ab \\| “far” | _ | night né- |\n"
)


@settings(max_examples=30, deadline=None)
@given(charts(rhythm=True))
@example(_A_NUMBER_AMONG_WORDS)
@example(_A_SYLLABLE_HELD_BEHIND_A_STROKE)
@example(_A_LINE_WITHOUT_WORDS)
@example(_WORDS_OF_SIGNS)
@example(_WORD_LIKE_TIMES)
@example(_EMPTY_SECTION)
@example(_CUES_BETWEEN)
@example(_WORD_LIKE_A_CHORD)
@example(_WORDS_LIKE_CHORDS)
def test_random_charts_through_text(chart: Chart) -> None:
    """Chart, text, chart: every chord comes back in order and in its place of the bar, with the
    holds, slashes, rests and meters; no letter of the words is lost."""
    assume(not chart.written_as_shapes)
    plain = Chart(
        tuple(row for row in chart.top if getattr(row, "name", "") != "capo"), chart.sections
    )
    back = taken(sheet_text(plain)).chart
    reads_back(back)
    assert [one[0] for one in struck(back)] == [one[0] for one in struck(plain)]
    assert _rhythm(back) == _rhythm(plain)
    assert _letters(back) == _letters(plain)


def test_words_and_cues_like_signs_come_back() -> None:
    """ "(x2)" as a word under bars is a word again; a cue with parentheses and a bar line stays a
    cue, with other signs for them."""
    chart = chart_of('== Verse\n| C | G |\n: | Be- | (x2) |\n"cue (soft) and | bar"\n| F |\n')
    back = taken(sheet_text(chart)).chart
    assert words(back) == words(chart)
    assert body(back).endswith('"cue [soft] and / bar"\n| F |')


_TYPED = (
    "|",
    "|",
    "|",
    "|",
    "||",
    "|:",
    ":|",
    "|1.",
    "C",
    "F,",
    "_",
    "/",
    "_,F",
    "C,/",
    "_,/",
    "/,",
    "C,/,/,/,/,/",
    "A,B,C,D,E",
    "/E,/",
    "(C7),_",
    "_,(A7(#9)),/",
    "N.C.,_",
    "<G!",
    "2/4",
    "(3/4)",
    "33/4",
    "rest",
    "rest 4",
    "(4 bars rest)",
    "tacet 8",
    "tacet",
    "%",
    "%%",
    "///",
    "/E",
    "word",
    "(D.S. al Coda)",
    "(Coda sign)",
    "(hey)",
    "x2",
    "-",
    "\n",
    "\n\n",
    "\n== B\n",
    "la la\n",
    "1. la\n",
)


@settings(max_examples=120, deadline=None)
@given(st.lists(st.sampled_from(_TYPED), max_size=30))
def test_signs_in_any_order_give_a_chart(typed: list[str]) -> None:
    """Whatever signs are typed after one another, the chart that comes of them reads back."""
    reads_back(taken("| C | G |\n" + " ".join(typed) + "\n").chart)


_VERSE = "Verse\nC       G/B     Am      F\nOh, the low tide pulls the lanterns home\n\n"
_GROWING: dict[str, Callable[[int], str]] = {
    "verses": lambda size: _VERSE * (size // len(_VERSE)),
    "one line of chords, and one word": lambda size: "C " * (size // 4) + "\n" + "a" * (size // 2),
    "one line of dashes": lambda size: "-" * size,
    "a name with blanks behind it": lambda size: "Verse" + " " * size + "x",
    "a title with blanks in it": lambda size: "Title" + " " * size + "x\nC  G\nlow tide\n",
    "blanks before a parenthesis": lambda size: "Song\n\nVerse\nC" + " " * size + "(low\ntide\n",
    "parentheses that open": lambda size: "C\n" + "C " + "(" * size,
    "rows in brackets": lambda size: "[C] [: G :] (Am)x2\n" * (size // 19),
    "codes of mails and pages": lambda size: "C=20\n&amp;&amp;amp; =3D <br>\n" * (size // 28),
    "quoted lines and heads of mails": lambda size: "> To: b\n> From: a\nC\nhome\n" * (size // 26),
    "shapes one after another": lambda size: "G 320003\nC x32010  \n" * (size // 20) + "C\nhome",
}
_SMALL = 1500


@pytest.mark.parametrize("name", sorted(_GROWING))
def test_work_grows_with_length(name: str) -> None:
    """Four times the text takes at most five times the steps; what a search costs within one of
    them is a figure of the benchmarks."""
    small, large = (steps(partial(_try, _GROWING[name](size))) for size in (_SMALL, 4 * _SMALL))
    assert large <= 5 * small, (small, large)


def _try(text: str) -> None:
    with suppress(Refused):
        taken(text)


def test_blank_lines_before_a_text_are_stepped_over() -> None:
    """However many blank lines a text begins with, and whatever follows, it is read at once."""
    blank = "\n" * 2_000
    rows = body(taken(f"{blank}ooo\n\n| C | F |\nlow | tide |\n").chart)
    assert rows == "| C | F |\n: | low | tide |"
    assert "already-a-chart" in {
        finding.code for finding in taken(f"{blank} \t\n# mine\n\n== A\n| C |\n").findings
    }


def test_chords_in_square_brackets_among_words_are_reported_at_each_line() -> None:
    """They are left out of the words; names of sections and rows of chords in brackets are none of
    it."""
    result = taken("Song\n\n[Verse]\n[C] [G]\nlow tide\nlow [C]tide\n[F]home we [G]go\n\n[A]\nC\n")
    found = [one for one in result.findings if one.code == "chords-in-brackets"]
    assert [(one.place, one.message[:9], one.message[-4:]) for one in found] == [
        ("6:1", "1 chord i", "): C"),
        ("7:1", "2 chords ", "F, G"),
    ]
    assert [section.name for section in result.chart.sections] == ["Verse", "A"]
    rows = body(result.chart)
    assert "low tide" in rows and "home we go" in rows and "[" not in rows


@pytest.mark.parametrize(
    "typed",
    [
        "[C]Walking down the [G/B]long way [Am]home (2x)\n[C]Nothing [G]left to [F]say\n",
        "Home\n\nVerse\n[C]Low tide\n[C]Nothing [G]left\n\nChorus\n[F]Oh my [C]my (2x)\n",
        "[C] Walking down [G] the long way home\n",
    ],
)
def test_a_sheet_of_chords_in_square_brackets_is_refused(typed: str) -> None:
    """Where no other chords stand, wherever the brackets stand in their lines, no name of a
    section is made of them."""
    with pytest.raises(
        Refused, match=r"in square brackets .* set them above the words, or in \( \)"
    ):
        taken(typed)


def test_a_chart_with_mistakes_is_told_from_a_typed_sheet() -> None:
    """It is read as a sheet, and a finding names the command that lists its mistakes; a sheet with
    our own headings is none."""
    broken = "titel: Low\ncapo: 99\n\n== Verse\n| C | F |\n: low | tide\n"
    assert "looks-like-a-chart" in codes(taken(broken))
    assert "looks-like-a-chart" not in codes(taken("Low\n\n== Verse\nC  F\nlow tide\n"))


def test_a_repeat_of_a_section_that_the_sheet_has_not_is_a_cue() -> None:
    """No empty section is made of it, and a finding says so; one that stands above is played."""
    alone = taken("Low\n\nG   D\nlow tide\n\nrepeat chorus and fade\n")
    assert body(alone.chart).endswith('"repeat chorus and fade"')
    assert [section.name for section in alone.chart.sections] == [""]
    assert ("form", "6:1") in {(one.code, one.place) for one in alone.findings}
    sung = taken("Low\n\nChorus\nG   D\nlow tide\n\nrepeat chorus and fade\n")
    assert [section.name.casefold() for section in sung.chart.sections] == ["chorus", "chorus"]


def test_letters_of_notes_in_a_greeting_are_no_chords_among_words() -> None:
    """What is left out as a greeting is not said to be kept as words."""
    letter = "Hi Ada,\n\nhere's the slow one, it's in E flat but I play it in D with capo 1.\n\n"
    sheet = "Low\n\n[Verse]\nEb  Bb7\nlow tide\n"
    assert "letter" in codes(taken(letter + sheet))
    assert codes(taken(letter + sheet)).isdisjoint({"chords-among-words"})
