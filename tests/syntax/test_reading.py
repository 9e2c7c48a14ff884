"""What each sign of the language means."""

import pytest

from chartkit.chart.model import (
    Bar,
    BlankRow,
    Chart,
    CommentRow,
    CueRow,
    Meter,
    MusicRow,
    SettingRow,
    Strike,
    WordsRow,
)
from chartkit.chart.systems import music_sections, section_systems
from chartkit.diagnostics import Source, diagnostic_text
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from tests.each import each

BEAT = 12


def chart(text: str, *codes: str) -> Chart:
    """The chart of a text with just the diagnostics named."""
    source = Source(text)
    reading = read_chart(source)
    report = "\n".join(diagnostic_text(d, source) for d in reading.diagnostics)
    assert [d.code for d in reading.diagnostics] == list(codes), report
    return reading.chart


def first_row(text: str, *codes: str) -> MusicRow:
    """The first row of music in a text."""
    for section in chart(text, *codes).sections:
        for row in section.rows:
            if isinstance(row, MusicRow):
                return row
    raise AssertionError(text)


def bar(text: str, *codes: str) -> Bar:
    """The last bar of the first row of music."""
    return first_row(text, *codes).bars[-1]


def beats(bar_read: Bar) -> list[tuple[str, float, float]]:
    """Each strike's chord, onset and length in beats."""
    return [(str(s.chord or "N.C."), s.onset / BEAT, s.length / BEAT) for s in bar_read.strikes]


@each(
    ("meter", "written", "expected"),
    [
        ("4/4", "C", [("C", 0, 4)]),
        ("4/4", "C F", [("C", 0, 2), ("F", 2, 2)]),
        ("4/4", "C F G C", [("C", 0, 1), ("F", 1, 1), ("G", 2, 1), ("C", 3, 1)]),
        ("3/4", "C F G", [("C", 0, 1), ("F", 1, 1), ("G", 2, 1)]),
        ("3/4", "C", [("C", 0, 3)]),
        ("6/8", "C F", [("C", 0, 1), ("F", 1, 1)]),
        ("12/8", "C F", [("C", 0, 2), ("F", 2, 2)]),
        ("5/4", "C / / F /", [("C", 0, 3), ("F", 3, 2)]),
        ("4/4", "C / / F", [("C", 0, 3), ("F", 3, 1)]),
        ("4/4", "C///", [("C", 0, 4)]),
        ("4/4", "C/_ F", [("C", 0, 3), ("F", 3, 1)]),
        ("4/4", "C/E / F/", [("C/E", 0, 2), ("F", 2, 2)]),
        ("4/4", "/ / F /", [("F", 2, 2)]),
        ("4/4", "C,F / G /", [("C", 0, 0.5), ("F", 0.5, 1.5), ("G", 2, 2)]),
        (
            "4/4",
            "C,F,G C / /",
            [("C", 0, 1 / 3), ("F", 1 / 3, 1 / 3), ("G", 2 / 3, 1 / 3), ("C", 1, 3)],
        ),
        ("4/4", "C /E F/A /", [("C", 0, 1), ("C/E", 1, 1), ("F/A", 2, 2)]),
        ("4/4", "C,/B Am / /", [("C", 0, 0.5), ("C/B", 0.5, 0.5), ("Am", 1, 3)]),
        ("4/4", "N.C. / C /", [("N.C.", 0, 2), ("C", 2, 2)]),
        ("4/4", "NC", [("N.C.", 0, 4)]),
        ("2/2", "C F", [("C", 0, 1), ("F", 1, 1)]),
        ("9/8", "C F G", [("C", 0, 1), ("F", 1, 1), ("G", 2, 1)]),
        ("3/8", "C / F", [("C", 0, 2), ("F", 2, 1)]),
    ],
)
def test_chords_stand_on_their_beats(
    meter: str, written: str, expected: list[tuple[str, float, float]]
) -> None:
    """Shares without slashes, beats with them, halves with commas, dotted beats in 6/8."""
    assert beats(bar(f"meter: {meter}\n| Bb | {written} |")) == expected


@each(
    ("text", "beats_in_bar", "compound"),
    [
        ("4/4", 4, False),
        ("3/4", 3, False),
        ("6/8", 2, True),
        ("9/8", 3, True),
        ("12/8", 4, True),
        ("3/8", 3, False),
        ("6/4", 6, False),
        ("7/8", 7, False),
        ("2/2", 2, False),
    ],
)
def test_compound_meters_count_dotted_beats(text: str, beats_in_bar: int, compound: bool) -> None:
    """6/8, 9/8 and 12/8 count dotted beats, other meters their upper number.

    Common practice, no source.
    """
    meter = chart(f"meter: {text}\n| C |").meter
    assert (meter.beats, meter.compound) == (beats_in_bar, compound)


@each(
    ("written", "signs"),
    [
        ("<C", "p"),
        ("C!", "s"),
        ("C~", "r"),
        ("(C)", "o"),
        ("<C!~", "psr"),
        ("(<C)", "po"),
        ("<(C7)", "po"),
        ("(C)!", "so"),
        ("(C!)", "so"),
        ("C~!", "sr"),
        ("<N.C.", "p"),
    ],
)
def test_manners_of_playing_are_read(written: str, signs: str) -> None:
    """Pushed, stopped, ringing, optional, in any combination."""
    (strike,) = bar(f"| {written} |").strikes
    signs_set = zip(
        "psro", (strike.pushed, strike.stopped, strike.ringing, strike.optional), strict=True
    )
    assert "".join(sign for sign, on in signs_set if on) == signs


@each(
    ("text", "kinds", "endings"),
    [
        ("| C | F |", "single single single", "|"),
        ("| C || F ||", "single double double", ""),
        ("|: C :|", "repeat-start repeat-end", ""),
        ("|: C :|: F :|", "repeat-start repeat-both repeat-end", ""),
        ("|: C :| |: F :|", "repeat-start repeat-both repeat-end", ""),
        ("|: C | F", "repeat-start single single", ""),
        ("| C | F", "single single single", ""),
    ],
)
def test_bar_lines_are_read(text: str, kinds: str, endings: str) -> None:
    """Single, double and repeat lines; a line forgotten at the end is a single one."""
    codes = ["repeat-left-open"] if text.count("|:") > text.count(":|") else []
    assert " ".join(line.kind for line in first_row(text, *codes).lines) == kinds


@pytest.mark.parametrize("text", ["|: C |1. F :|2. G ||", "|: C |1.F :|2.G ||"])
def test_endings_follow_their_bar_line(text: str) -> None:
    """The number may touch the chord after it."""
    assert [line.endings for line in first_row(text).lines] == [(), (1,), (2,), ()]


def test_an_ending_may_have_several_numbers() -> None:
    """First and third time are one ending."""
    row = first_row("|: C |1.3. F :|2. G :|4. C ||")
    assert [line.endings for line in row.lines] == [(), (1, 3), (2,), (4,), ()]


def test_a_mark_alone_makes_no_bar_and_keeps_the_line() -> None:
    """Marks between bar lines go to a bar beside them; repeat and double lines stay."""
    row = first_row("|: C :| @fine || @coda | F |")
    assert [[m.kind for m in one.marks] for one in row.bars] == [["fine"], ["coda"]]
    assert [line.kind for line in row.lines] == ["repeat-start", "repeat-end", "single"]


def test_a_repeat_end_before_a_mark_is_kept() -> None:
    """The repeat sign is not lost to the mark written after it."""
    assert [line.kind for line in first_row("|: C :| @fine |").lines] == [
        "repeat-start",
        "repeat-end",
    ]


@each("typed", ["@D.S. al Coda", "@D.S. al coda", "@d.s. AL CODA", "@DS al coda"])
def test_marks_are_read_in_any_case(typed: str) -> None:
    """Players write D.S. al Coda in several ways."""
    marks = bar(f"| @segno C @to-coda | @coda F {typed} |").marks
    assert [(mark.kind, mark.until) for mark in marks] == [("coda", ""), ("D.S.", "coda")]


def test_similes_last_one_bar_or_two() -> None:
    """% is the bar before, %% one written place that lasts two bars."""
    row = first_row("| C | F | % | %% |")
    assert [one.simile for one in row.bars] == [0, 0, 1, 2]
    assert [one.length / BEAT for one in row.bars] == [4, 4, 4, 8]


def test_a_pickup_is_what_stands_before_the_first_bar_line() -> None:
    """One beat for each chord and slash, only in the first row of music of a section."""
    row = first_row("== A\nC / | F |")
    assert [one.pickup for one in row.bars] == [True, False]
    assert beats(row.bars[0]) == [("C", 0, 2)]
    second = chart("== A\n| C |\nF | G |").sections[0].rows[1]
    assert isinstance(second, MusicRow)
    assert [one.pickup for one in second.bars] == [False, False]


def test_a_pickup_without_slashes_is_warned_of() -> None:
    """It also looks like a forgotten bar line, and it is read all the same."""
    assert bar("C | F |", "read-as-pickup").strikes


def test_free_time_has_no_beats() -> None:
    """A row without a bar line is chords in order."""
    row = first_row("Em Am7~ B7")
    assert row.free and len(row.bars[0].strikes) == 3
    assert row.bars[0].length == 0


def test_the_meter_changes_inside_the_song() -> None:
    """Bars after a meter row are counted in the new meter."""
    rows = chart("== A\n| C |\nmeter: 3/4\n| C F G |").sections[0].rows
    assert isinstance(rows[1], SettingRow) and rows[1].value == Meter(3, 4)
    assert isinstance(rows[2], MusicRow)
    assert [strike.onset / BEAT for strike in rows[2].bars[0].strikes] == [0, 1, 2]


def test_cues_stand_at_their_place() -> None:
    """Alone on a row, or inside a bar before a beat."""
    rows = chart('"half time"\n| C "in" F | "all" G |').sections[0].rows
    assert isinstance(rows[0], CueRow) and rows[0].text == "half time"
    assert isinstance(rows[1], MusicRow)
    cues = [(cue.text, cue.onset / BEAT) for one in rows[1].bars for cue in one.cues]
    assert cues == [("in", 2), ("all", 0)]


def words(row: str, music: str = "| C F | G |", *codes: str) -> list[list[str]]:
    """The texts of a row of words, cell by cell."""
    rows = chart(f"{music}\n{row}", *codes).sections[0].rows
    last = rows[-1]
    assert isinstance(last, WordsRow)
    return [["_" if s.held else s.text + "-" * s.split for s in cell] for cell in last.cells]


@each(
    ("row", "cells"),
    [
        (": one | two / three | four", [["one"], ["two", "three"], ["four"]]),
        (": one | two / three | four |", [["one"], ["two", "three"], ["four"]]),
        (": | two | four |", [[""], ["two"], ["four"]]),
        (": | lan- / terns | _ |", [[""], ["lan-", "terns"], ["_"]]),
        (": | / three | |", [[""], ["", "three"], [""]]),
        (r": | a\/b / c\|d | \#1 \\ |", [[""], ["a/b", "c|d"], ["#1 \\"]]),
        (r": | la \_ / a_b | |", [[""], ["la _", "a_b"], [""]]),
        (r": | x\- | \_ |", [[""], ["x-"], ["_"]]),
        (": | no-body | half - way |  # softly", [[""], ["no-body"], ["half - way"]]),
        (": one | two / three ||", [["one"], ["two", "three"], [""]]),
        (":| tight/ly | packed|", [[""], ["tight", "ly"], ["packed"]]),
    ],
)
def test_words_stand_at_their_strikes(row: str, cells: list[list[str]]) -> None:
    """| is the bar line, / the next strike, - splits a word, _ holds, a backslash makes literal."""
    assert words(row) == cells


@each(
    ("row", "music", "cells"),
    [
        (": one | two |", "| C | G |", [[""], ["one"], ["two"]]),
        (": one / x- | two |", "| C F | G |", [[""], ["one", "x-"], ["two"]]),
        (": _ | two |", "|: C | % :|", [[""], ["_"], ["two"]]),
        (": one | two | three |", "| C | F | G @fine |", [[""], ["one"], ["two"], ["three"]]),
    ],
)
def test_words_without_their_first_bar_line_begin_at_bar_1(
    row: str, music: str, cells: list[list[str]]
) -> None:
    """A closed row with just as many cells as bars has no pick-up, which is warned of once;
    tidied, it begins with its bar line and is warned of no more."""
    assert words(row, music, "read-without-pickup") == cells
    tidied = chart_text(chart(f"{music}\n{row}", "read-without-pickup"))
    assert tidied.splitlines()[1].startswith(": |") and chart(tidied)


@each(
    ("row", "music"),
    [
        (": one | two", "| C | G |"),
        (": | two |", "| C | G |"),
        (": one |", "| C | F | G |"),
        (": one | two |", "C / | F | G |"),
    ],
)
def test_a_missing_bar_of_words_stays_a_mistake(row: str, music: str) -> None:
    """Without a closing bar line, with the first one there, with fewer cells, under a row that
    begins with its pick-up: a bar is missing, and nothing is guessed."""
    assert words(row, music, "too-few-bars")


def test_shared_words_without_their_first_bar_line_begin_at_bar_1() -> None:
    """So do the words of a section with another's music."""
    text = "== A\n| C | F |\n\n== B as A\n: one | two |\n"
    one = chart(text, "read-without-pickup")
    assert chart_text(one).endswith("== B as A\n: | one | two |\n")


def test_verses_are_numbered() -> None:
    """A number before the colon is the verse's."""
    rows = chart("| C |\n1: | a |\n2: | b |\n: | c |").sections[0].rows
    assert [row.verse for row in rows if isinstance(row, WordsRow)] == [1, 2, None]


def test_words_of_free_time_may_have_a_pickup() -> None:
    """One stretch more than chords makes the first a pick-up."""
    assert words(": a / b / c", "Em Am") == [["a"], ["b", "c"]]
    assert words(": b / c", "Em Am") == [[""], ["b", "c"]]


def test_shared_sections_lay_their_words_under_the_other_music() -> None:
    """ "as" gives the other's music; words rows go under its rows in order, numbers stack."""
    song = chart(
        "== A\n| C |\n: | a |\n| F |\n: | b |\n"
        "== B as A\n1: | c |\n2: | d |\n\n1: | e |\n"
        "== D as b\n"
    )
    systems = section_systems(song, 1)
    assert [str(s.music.bars[0].strikes[0].chord) for s in systems if s.music] == ["C", "F"]
    assert [[w.cells[1][0].text for w in s.words] for s in systems] == [["c", "d"], ["e"]]
    assert [len(s.words) for s in section_systems(song, 2)] == [0, 0]
    assert music_sections(song) == (0, 0, 0)


def test_a_section_shares_with_one_that_was_played_again() -> None:
    """ "as" reaches past an earlier section of its name that has only a cue under it."""
    song = chart('== A\n| C |\n: | a |\n== A\n"softly"\n== A as A\n: | b |\n== B as A\n')
    assert music_sections(song) == (0, 0, 0, 0)


def test_sections_have_names_and_times() -> None:
    """Any words may name a section; x3 plays it three times."""
    section = chart("== Last chorus, loud x3  # really\n| C |").sections[0]
    assert (section.name, section.times, section.comment) == ("Last chorus, loud", 3, "really")


def test_comments_and_blank_rows_are_kept() -> None:
    """What the formatter must not lose stays in the chart."""
    song = chart("# first\ntitle: A#1  # second\n\n== B\n# third\n\n\n| C |  # fourth\n")
    top = song.top
    assert isinstance(top[0], CommentRow) and top[0].comment == "first"
    assert isinstance(top[1], SettingRow) and (top[1].value, top[1].comment) == ("A#1", "second")
    assert isinstance(top[2], BlankRow)
    comment, blank, row = song.sections[0].rows
    assert isinstance(comment, CommentRow) and comment.comment == "third"
    assert isinstance(blank, BlankRow)
    assert isinstance(row, MusicRow) and row.comment == "fourth"


def test_spans_are_the_places_in_the_text() -> None:
    """A strike's span cuts its own text out of the source, signs included."""
    text = "key: Db\n\n== A\n| Db | <Gb/Db! (Ab7)~ |"
    rows = chart(text).sections[0].rows
    assert isinstance(rows[0], MusicRow)
    strikes: list[Strike] = [s for one in rows[0].bars for s in one.strikes]
    assert [text[s.span.start : s.span.end].strip("()") for s in strikes] == [
        "Db",
        "<Gb/Db!",
        "Ab7)~",
    ]


def test_spans_take_no_part_in_equality() -> None:
    """Two charts are equal when they say the same, wherever it stands."""
    assert chart("| C | F |") == chart("   |  C   |   F   |")


def test_settings_have_their_defaults() -> None:
    """Without settings: 4/4, no key, no capo, sounding chords."""
    song = chart("| C |")
    assert song.meter == Meter(4, 4) and song.key is None
    assert song.capo.raised == 0 and not song.written_as_shapes
    assert song.text("title") == "" and song.notes() == ()


def test_settings_are_read() -> None:
    """Every setting has its value."""
    song = chart(
        "title: A\nwriter: B\nkey: Bbm\nmeter: 6/8\ntempo: 92\nfeel: slow\nrange: Ab3-F5\n"
        "capo: -1\nchords: Shapes\ninstrument: guitar\nlanguage: en\nnote: one\nnote: two\n| C |"
    )
    assert str(song.key) == "Bb minor" and song.capo.raised == -1 and song.written_as_shapes
    assert song.setting("tempo") == 92 and str(song.setting("range")) == "Ab3-F5"
    assert song.notes() == ("one", "two")


def test_holds_and_slashes_inside_a_beat() -> None:
    """What a beat is split into: chords, the chord struck again, holds; each chord lasts to
    the next one."""
    (bar, held) = first_row("| C,/ / F _,/ | _ / G,_,_,A / |").bars
    assert [(s.onset, s.length) for s in bar.strikes] == [(0, 24), (24, 24)]
    assert (bar.slashes, bar.holds) == ((6, 42), (36,))
    assert [(s.onset, s.length) for s in held.strikes] == [(24, 9), (33, 15)]
    assert (held.slashes, held.holds) == ((), (0, 27, 30))


def test_a_beat_may_have_six_parts() -> None:
    """Sixteenths in 6/8: every part is two ticks of the dotted beat's twelve."""
    bar_read = bar("meter: 6/8\n| C,/,/,F,_,/ / |")
    assert [(s.onset, s.length) for s in bar_read.strikes] == [(0, 6), (6, 18)]
    assert (bar_read.slashes, bar_read.holds) == ((2, 4, 10), (8,))


@each(
    "text",
    [
        "| C | % | _ / / / |",
        "| C~ _ / / |",
        "| C!~ _ / / |",
        "| C!,/ _ / / |",
        "| C!,_,_,F / N.C.,_,F / |",
        "| C | rest 2 | / / / / | _ F / / |",
        "| N.C. / G / | _ F / / |",
        "== A\n| C | rest |\n== B\n| _ / F / |",
        "| C |\n|: _ F / / |1. C! :|2. _ / F / | N.C. @to-coda |\n| @coda _ C / / |",
    ],
)
def test_what_sounds_can_be_held(text: str) -> None:
    """A chord, one that rings after its stop, one struck again; inside a beat a stop or N.C. whose
    part is longer; and wherever a bar may be played
    after another than the one written before it, at a section, a repeat, an ending, a coda."""
    assert chart(text)


def test_a_bar_that_cannot_be_read_is_no_silence() -> None:
    """A hold after a mistake is not a second one."""
    assert chart("| N.C. | hello / / / | _ F / / |", "not-a-chord")


def test_a_rest_lasts_its_bars() -> None:
    """A rest is one place on the page and as many bars as it says."""
    (chord, rest, one) = first_row("| C | rest 8 | rest |").bars
    assert (chord.rest, rest.rest, one.rest) == (0, 8, 1)
    assert rest.length == 8 * 4 * BEAT and rest.lasts == 8 and not rest.strikes


def test_a_meter_inside_a_row_holds_from_its_bar_on() -> None:
    """The bars after it, also those of later rows, have the new meter's beats."""
    song = chart("| C | 3/4 C / F | G |\n| C / / |\n: | la |")
    rows = [row for row in song.sections[0].rows if isinstance(row, MusicRow)]
    assert [bar.length // BEAT for row in rows for bar in row.bars] == [4, 3, 3, 3]
    assert [bar.meter for bar in rows[0].bars] == [None, Meter(3, 4), None]


def test_a_numbered_row_of_words_may_end_with_its_ending() -> None:
    """The bars of later endings may be left out; one that this time plays may not."""
    music = "key: C\n\n|: C | F |1. G | C :|2. Am | F :|3. G | C ||\n"
    short = read_chart(Source(f"{music}2: | la | la | | | lo | lo |\n"))
    whole = read_chart(Source(f"{music}2: | la | la | | | lo | lo | | |\n"))
    assert not short.diagnostics and short.chart == whole.chart
    for row in ("2: | la | la |", "1: | la | la | lo |", ": | la | la | lo | lo |"):
        (mistake,) = read_chart(Source(f"{music}{row}\n")).diagnostics
        assert mistake.code == "too-few-bars", row
