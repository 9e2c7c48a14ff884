"""The order in which bars are played, each case written as the roots that are heard.

The expected orders follow the common practice of lead sheets; music21 checks those that it knows.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.chart.model import Chart
from chartkit.chart.playing_order import playing_order, section_times
from chartkit.diagnostics import Source, has_errors
from chartkit.syntax.reader import read_chart
from chartkit.theory.note import note_name
from tests.chart.by_music21 import heard_by_music21
from tests.each import each


def chart_of(text: str) -> Chart:
    """The chart of a text that has no mistakes."""
    reading = read_chart(Source(text))
    assert not has_errors(reading.diagnostics), reading.diagnostics
    return reading.chart


def heard(text: str) -> str:
    """The chords of a chart as played: bars apart by spaces, chords in a bar together."""
    bars = playing_order(chart_of(text)).bars
    return " ".join(
        "".join(note_name(strike.chord.root) if strike.chord else "N" for strike in bar.strikes)
        or "-"
        for bar in bars
    )


REPEATS = [
    ("| C | D | E |", "C D E"),
    ("|: C | D :|", "C D C D"),
    ("| C |: D | E :| F |", "C D E D E F"),
    ("| C | D :| E |", "C D C D E"),
    ("|: C :|: D :|", "C C D D"),
    ("|: C :|\n|: D :|", "C C D D"),
    ("|: C |\n| D :|", "C D C D"),
    ("|: C |1. D :|2. E |", "C D C E"),
    ("|: C |1. D | E :|2. F | G || A |", "C D E C F G A"),
    ("|: C |1.2. D :|3. E |", "C D C D C E"),
    ("|: C |1. D :|2. E :|3. F |", "C D C E C F"),
    ("|: C |1.3. D :|2. E :|4. F |", "C D C E C D C F"),
    ("| C |1. D :|2. E |", "C D C E"),
    ("|: C |1. D :|2. E ||: F |1. G :|2. A |", "C D C E F G F A"),
    ("|: C |1. D :|2. E |\n|: F :| G |", "C D C E F F G"),
    ("|: C |1. D :| E |", "C D C E"),
    ("|: C |1.2. D :| E |", "C D C D E"),
    ("| C :| D :|", "C C D D"),
    ("|: C |1. D :|2. E || F | G :|", "C D C E F G F G"),
    ("|: C |1. D :|2. E :|3. F :|4. G |", "C D C E C F C G"),
    ("|: C | D :| x3 | E |", "C D C D C D E"),
    ("| C :| x4", "C C C C"),
    ("|: C :| x3 |: D :| x2 E", "C C C D D E"),
    ("|: C |1. D :| x4 |2. E |", "C D C D C D C E"),
    ("|: C |1.2. D :| x4 |3. E |", "C D C D C D C E"),
    ("|: C |1. D :|2. E :| x5 |3. F | G ||", "C D C E C E C E C F G"),
    ("|: C |1. D :| x3 E |", "C D C D C E"),
    ("|: C |1.2.3. D :| x2 |4. E |", "C D C D C D C E"),
]
"""After ``x``: how often the repeat is played in all, common practice, no source."""


SECTIONS = [
    ("== A\n| C |\n== B\n| D |\n== A again as A", "C D C"),
    ("== A x3\n| C | D |", "C D C D C D"),
    ("== A x2\n|: C :| D |", "C C D C C D"),
    ("== A x2\n| C |1. D |2. E |\n== B\n| F |", "C D C E F"),
    ("== A x3\n| C |1.2. D |3. E |\n== B\n| F |", "C D C D C E F"),
    ("== A x2\n|: C |1. D :|2. E ||", "C D C E C D C E"),
    ("== A\n|: C |\n== B\n| D :|\n== C\n| E |", "C D C D E"),
    ("== A\n|: C |\n== B x2\n| D |\n== C\n| E :|", "C D D E C D D E"),
    ("== A\n| C |\n== B\n| D | E :|", "C D E D E"),
    ("== A\n|: C |1. D :|2. E |\n== B x2 as A\n== C\n| F |", "C D C E C D C E C D C E F"),
    ("== A x2\n|: C |\n== B\n| D :|\n== C\n| E |", "C C D C C D E"),
    ("== A x2\n| C |: D :|", "C D D C D D"),
    ("== A\n| C :| D |\n== B\n| E :|", "C C D E E"),
    ("== A\n|: C |1. D :|2. E |\n== B\n| F |1. G :|2. A |", "C D C E F G F A"),
    ("== A\n|: C |1. D :|\n== B\n|2. E :|\n== C\n|3. F |", "C D C E C F"),
]


VERSES = [
    ("== A\n| C | D |\n1: a | b |\n2: c | d |\n== B\n| E |", "C D C D E"),
    ("== A\n| C |\n: | a |\n: | b |\n: | c |", "C C C"),
    ("== A\n| C |\n: | a |\n| D |\n1: | b |\n2: | c |", "C D C D"),
    ("== A x3\n| C |\n1: | a |\n2: | b |", "C C C"),
    ("== A\n|: C :| D |\n1: | a | b |\n2: | c | d |", "C C D"),
    ("== A\n| C |1. D |2. E |\n1: | a | b | |\n2: | c | | d |", "C D C E"),
    ("== A\n| C |\n1: | a |\n2: | b |\n== B\n| D @dc al fine |", "C D C D"),
    ("== A\n| C |\n1: | a |\n2: | b |\n== B\n| D |\n== A", "C D C"),
    ("== A\n| C |\n== B as A\n1: | a |\n2: | b |", "C C C"),
]


@pytest.mark.parametrize(("text", "expected"), VERSES)
def test_verses_are_played_in_turn(text: str, expected: str) -> None:
    """A section is played once for each of the verses under one another, unless a repeat, a jump
    or a heading that comes again leads back to them (common practice, no source)."""
    assert heard(text) == expected
    assert sum(section_times(chart_of(text))) >= len(chart_of(text).sections)


SIMILES = [
    ("| C | % | D |", "C C D"),
    ("| C D | % | % |", "CD CD CD"),
    ("| C | D | %% | E |", "C D C D E"),
    ("| C | D | %% | % |", "C D C D D"),
    ("|: C | % :|", "C C C C"),
    ("| C |\n| % |", "C C"),
    ("== A\n| C | % |\n== B\n| D |\n== A2 as A", "C C D C C"),
]


JUMPS = [
    ("| C | D @fine | E @D.C. al fine |", "C D E C D"),
    ("| C | @segno D | E @D.S. |", "C D E D E"),
    ("| C | @segno D @fine | E @D.S. al fine |", "C D E D"),
    ("| C | @segno D @to-coda | E @D.S. al coda | @coda F |", "C D E D F"),
    ("| C @to-coda | D @D.C. al coda | @coda E | F |", "C D C E F"),
    ("|: C :| D @fine | E @D.C. al fine |", "C C D E C D"),
    ("|: C |1. D :|2. E @fine | F @D.C. al fine |", "C D C E F C E"),
    ("|: C | D @D.C. al fine :| @fine E |", "C D C D C D E"),
    ("@segno | C @to-coda | D @D.S. al coda | @coda |: E :|", "C D C E E"),
    ("== A x2\n| C |\n== B\n| D @fine | E @D.C. al fine |", "C C D E C D"),
    ("== A x2\n| C | D @D.C. al fine |\n== B\n| E @fine |", "C D C D C D E"),
    ("| C | D @D.C. | E |", "C D C D E"),
    ("| C | D @D.C. |: E :|", "C D C D E E"),
    ("| @segno C | D | @segno E | F @D.S. |", "C D E F E F"),
    ("| C | @segno D | E @D.S. | @segno F | G @D.S. |", "C D E D E F G F G"),
    ("| C | @segno D @D.S. | E |", "C D D E"),
    ("| @segno C | @segno D @D.S. | E |", "C D D E"),
    ("== A x2\n| C | D @D.C. | E |", "C D E C D C D E"),
    ("== A\n| C | D @D.C. |\n== B x2\n| E |", "C D C D E E"),
    ("| C | D @fine | E @D.C. |", "C D E C D E"),
    ("| C @to-coda | D @D.C. | @coda E |", "C D C D E"),
    ("| C | D @to-coda | E @D.C. al coda | @coda F |", "C D E C D F"),
    ("== A\n| C @to-coda | D @D.C. al coda |\n== Coda x2\n| @coda E |", "C D C E E"),
    ("| C @to-coda |: @coda D :| E @D.C. al coda |", "C D D E C D D E"),
]


MUSIC21_HEARS_OTHERWISE = {
    # it refuses these
    "|: C |1.3. D :|2. E :|4. F |",
    "| @segno C | D | @segno E | F @D.S. |",
    "| C @to-coda | D @D.C. | @coda E |",
    # an ending with nothing to close it, or alone
    "|: C |1. D :|2. E |\n|: F :| G |",
    "|: C |1. D :| E |",
    # how often a repeat with endings is played
    "|: C |1. D :| x4 |2. E |",
    "|: C |1.2. D :| x4 |3. E |",
    "|: C |1. D :| x3 E |",
    "|: C |1. D :|2. E :| x5 |3. F | G ||",
    # where a repeat goes back to that follows another, with no sign to open it
    "| C :| D :|",
    "|: C |1. D :|2. E || F | G :|",
    # it repeats again after a jump, but not what comes after the jump's own bar
    "|: C |1. D :|2. E @fine | F @D.C. al fine |",
    "| C | D @D.C. |: E :|",
    # the second of two signs
    "| @segno C | @segno D @D.S. | E |",
    "| C | @segno D | E @D.S. | @segno F | G @D.S. |",
}
"""Cases that music21 reads differently or not at all; our reading is common practice, no source."""


@each(
    "text", [t for t, _ in (*REPEATS, *JUMPS) if "==" not in t and t not in MUSIC21_HEARS_OTHERWISE]
)
def test_music21_plays_the_same(text: str) -> None:
    """Repeats, endings and jumps are unrolled as music21 unrolls them.

    Source: music21 ``Stream.expandRepeats``.
    """
    assert heard_by_music21(chart_of(text)) == heard(text)


MISTAKES = [
    ("| C | D @D.S. | E |", "C D C D E"),
    ("| C | D @D.C. al coda | E |", "C D C D E"),
    ("| C | D @D.C. al fine | E |", "C D C D E"),
    ("|: C | D |", "C D"),
    ("| C @D.C. | D @D.C. |", "C C D C D"),
    ("| C @D.S. | @segno D | @segno E |", "C D E"),
    ("|: C |1. D :|2. E | F |1. G :|2. A |", "C D C E F G A"),
]


CASES = {
    "repeats": REPEATS,
    "sections": SECTIONS,
    "similes": SIMILES,
    "jumps": JUMPS,
    "mistakes": MISTAKES,
}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(*case, id=f"{kind} {number}")
        for kind, cases in CASES.items()
        for number, case in enumerate(cases)
    ],
)
def test_what_is_heard(text: str, expected: str) -> None:
    """Repeats go back once, or as often as their endings are numbered, each ending in turn.

    Sections are played their number of times, shared ones with the music they share.  A simile
    plays the bars before it on the page.  Jumps are taken once, the last time through, and no
    repeat is taken after them; one with nowhere to go leads to the start, and the music always
    comes to an end.
    """
    assert heard(text) == expected


def test_simile_of_nothing_is_an_empty_bar() -> None:
    """A simile sign with no bar before it, an error to the reader, plays an empty bar."""
    chart = read_chart(Source("| % | C |")).chart
    assert [len(bar.strikes) for bar in playing_order(chart).bars] == [0, 1]


def test_length_is_bounded() -> None:
    """Charts that unroll without measure are cut at the bound, and the order says so."""
    text = "".join(f"== S{i} x99\n|: C :|\n" for i in range(99))
    order = playing_order(chart_of(text), longest=500)
    assert len(order.bars) == 500
    assert order.cut_short
    assert not playing_order(chart_of("| C |")).cut_short


@each("row", ["| C | D | E |", "| rest 3 |", "| C | rest 2 |", "| C | D | % |"])
@each("longest", [1, 2, 3, 4])
def test_a_song_as_long_as_the_bound_is_whole(row: str, longest: int) -> None:
    """Three bars, silent or not, are cut where fewer are asked for, and only then."""
    order = playing_order(chart_of(row), longest)
    assert len(order.bars) == min(3, longest)
    assert order.cut_short == (longest < 3)


def test_key_follows_the_page() -> None:
    """Each bar played carries the key it stands under, shared music that of its home."""
    text = "key: C\n== A\n| C |\n== B\nkey: E\n| E |\n| B |\n== A2 as A\n== D\n| F# |"
    keys = [str(bar.key) for bar in playing_order(chart_of(text)).bars]
    assert keys == ["C major", "E major", "E major", "C major", "E major"]


def test_places_lead_back_to_the_page() -> None:
    """Every bar played names its section, the home of its music, its row and its bar."""
    text = "== A\n| C | D |\n: la | la | la |\n| E |\n== B as A"
    chart = chart_of(text)
    for played in playing_order(chart).bars:
        row = chart.sections[played.written_in].rows[played.row]
        assert row.bars[played.bar].strikes == played.strikes
    places = [(p.section, p.written_in, p.row, p.bar) for p in playing_order(chart).bars]
    assert places[:3] == [(0, 0, 0, 0), (0, 0, 0, 1), (0, 0, 2, 0)]
    assert places[3:] == [(1, 0, 0, 0), (1, 0, 0, 1), (1, 0, 2, 0)]


def test_double_simile_keeps_bar_lengths() -> None:
    """Both bars under a double simile sign last one bar each."""
    bars = playing_order(chart_of("meter: 3/4\n| C | D | %% |")).bars
    assert {bar.length for bar in bars} == {36}


_LINES = st.sampled_from(["|", "|:", ":|", "||", "|1.", "|2.", ":|2.", ":|:"])
_MARKS = st.sampled_from(
    ["", "", "@segno", "@coda", "@to-coda", "@fine", "@D.C.", "@D.S.", "@D.S. al coda"]
)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(_LINES, st.sampled_from("CDEFG"), _MARKS), min_size=1, max_size=14))
def test_any_chart_ends(parts: list[tuple[str, str, str]]) -> None:
    """However its lines and marks are strewn, a chart of n bars comes to an end."""
    text = " ".join(f"{line} {root} {mark}" for line, root, mark in parts) + " |"
    order = playing_order(read_chart(Source(text)).chart, longest=2000)
    assert not order.cut_short


@settings(max_examples=80, deadline=None)
@given(
    st.lists(
        st.lists(st.tuples(_LINES, st.sampled_from("CDEFG"), _MARKS), min_size=1, max_size=5),
        min_size=2,
        max_size=4,
    ),
    st.lists(st.integers(1, 3), min_size=4, max_size=4),
)
def test_any_chart_of_sections_ends(
    sections: list[list[tuple[str, str, str]]], times: list[int]
) -> None:
    """So does one of sections played several times, with repeats that reach from one to another."""
    text = "\n".join(
        f"== S{i} x{often}\n"
        + " ".join(f"{line} {root} {mark}" for line, root, mark in parts)
        + " |"
        for i, (parts, often) in enumerate(zip(sections, times, strict=False))
    )
    order = playing_order(read_chart(Source(text)).chart, longest=2000)
    assert not order.cut_short


def test_rests_are_silent_bars() -> None:
    """A rest of three bars is three bars of no chord, also when it is played again."""
    assert heard("| C | rest 3 | F |") == "C N N N F"
    assert heard("|: C | rest 2 :|") == "C N N C N N"
    assert heard("| C | rest 2 | % |") == "C N N N"


def test_a_bar_knows_the_meter_inside_its_row() -> None:
    """A meter written in a bar holds for it and for what follows on the page."""
    bars = playing_order(chart_of("| C | 3/4 F | G |\n\n== B\n| C |\nmeter: 4/4\n| F |")).bars
    assert [str(bar.meter) for bar in bars] == ["4/4", "3/4", "3/4", "3/4", "4/4"]


@given(
    st.integers(1, 3),
    st.lists(st.integers(1, 2), min_size=1, max_size=3),
    st.integers(0, 7),
)
@settings(max_examples=120, deadline=None)
def test_times_and_endings_by_brute_force(body: int, shares: list[int], more: int) -> None:
    """Any repeat with endings and a number of times is played as the rule says, time by time: the
    last ending the last time, the one before it as long as others are missing."""
    numbers, count = [], 0
    if len(shares) > 1:
        shares = [*shares[:-1], 1]  # nothing leads back from the last ending
    for share in shares:
        numbers.append(tuple(range(count + 1, count + share + 1)))
        count += share
    last = max(count, 2)
    times = last + more
    row = "|: " + " | ".join(["C"] * body)
    for i, group in enumerate(numbers):
        closing = "" if i < len(numbers) - 1 else f" :| x{times} " if len(numbers) == 1 else " || "
        sign = "|" if not i else f":| x{times} |" if i == len(numbers) - 1 else ":|"
        row += f" {sign}{''.join(f'{n}.' for n in group)} {'DEF'[i]}{closing}"
    expected = []
    for time in range(1, times + 1):
        number = last if time == times else min(time, last - 1)
        own = [name for name, group in zip("DEF", numbers, strict=False) if number in group]
        expected += ["C"] * body + own
    assert heard(row) == " ".join(expected)
