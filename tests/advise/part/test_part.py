"""A second guitar's part: out of the way, playable, and a chart like any other."""

from collections.abc import Sequence
from statistics import median

import pytest
from hypothesis import given, settings

from chartkit.advise.part.chord_occurrences import chord_occurrences
from chartkit.advise.part.figures import figure_in
from chartkit.advise.part.first_rhythm import FirstHand
from chartkit.advise.part.in_bars import with_figure
from chartkit.advise.part.propose import PartProposal, PartRequest
from chartkit.advise.part.registers import REGISTERS, RegisterName, RegisterRule, string_sets
from chartkit.advise.part.rhythm import PartRhythm, figure_words
from chartkit.chart.model import Chart, Meter, MusicRow, Section
from chartkit.chart.playing_order import playing_order
from chartkit.diagnostics import Source
from chartkit.fretboard.fingering import Fingerer
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.low_intervals import mud
from chartkit.fretboard.partial_grips import GripLimits, PartialGrips
from chartkit.fretboard.player_shape import shape_problems
from chartkit.fretboard.weights import FINGERING_FEATURES, Weights
from chartkit.syntax.reader import read_chart
from chartkit.syntax.symbol import chord_or_none
from chartkit.syntax.write import chart_text
from tests.advise.part.songs import EXAMPLES, Sounding, examples, progressions, sounding
from tests.charts import chart_of
from tests.each import each
from tests.strategies import charts

HIGH = PartRequest(register="high")


def medians(parts: Sequence[PartProposal]) -> tuple[float, float, float]:
    """Median overlap, unisons and step of the top voice."""
    measures = [part.measures for part in parts]
    return (
        median(m.overlap for m in measures),
        median(m.unisons for m in measures),
        median(m.top_step for m in measures),
    )


@pytest.mark.parametrize("songs", [examples, progressions], ids=["examples", "progressions"])
def test_a_high_part_keeps_clear_of_the_first(songs: object) -> None:
    """High parts share a quarter of the first guitar's room at most, three notes in ten, and
    lead their top voice by steps; full chords at the best capo share about 0.6."""
    assert callable(songs)
    overlap, unisons, step = medians([song.parts(HIGH)[0] for song in songs()])
    assert overlap <= 0.25
    assert unisons <= 0.30
    assert step <= 1.5


@pytest.mark.parametrize("songs", [examples, progressions], ids=["examples", "progressions"])
def test_what_is_proposed_first_keeps_clear_within_easy_reach(songs: object) -> None:
    """By default a part stays below the eleventh fret, and still keeps clear."""
    assert callable(songs)
    parts = [song.parts()[0] for song in songs()]
    overlap, unisons, step = medians(parts)
    assert overlap <= 0.32
    assert unisons <= 0.35
    assert step <= 1.5
    assert max(grip.highest_fret for part in parts for grip in part.grips.values()) <= 10


def test_what_is_proposed_first_leaves_the_voice_alone() -> None:
    """In half of the examples at least, the part fills less than a third of the singer's range."""
    parts = [song.parts()[0] for song in examples() if song.chart.setting("range")]
    assert len(parts) >= 5
    assert median(part.measures.voice for part in parts) <= 0.33


@pytest.mark.parametrize("register", [rule.name for rule in REGISTERS])
def test_every_grip_can_be_played(register: RegisterName) -> None:
    """Each grip has a fingering in the hand model, keeps the low-interval limits, sounds only
    tones of its chord and all that tell it, and stays above the first guitar's bass unless the
    part is low."""
    weights = Weights()
    costs = [getattr(weights, name) for name in FINGERING_FEATURES]
    hand = Fingerer(GUITAR, 0, Hand(), costs)
    for song in examples():
        for part in song.parts(PartRequest(register=register)):
            for chord, grip in part.grips.items():
                assert hand.cheapest(grip.frets) is not None
                assert not mud(grip.pitches)
                assert not shape_problems(GUITAR, chord, grip.frets)
            if register != "low":
                for one in chord_occurrences(song.chart, song.first):
                    plain = next(
                        grip
                        for chord, grip in part.grips.items()
                        if (chord.root, chord.quality) == (one.chord.root, one.chord.quality)
                    )
                    assert not one.first or plain.pitches[0] >= one.first[0]


@each("register", ["high", "middle", "low"])
@pytest.mark.parametrize("songs", [examples, progressions], ids=["examples", "progressions"])
def test_a_strummed_grip_has_no_dead_string_inside(songs: object, register: RegisterName) -> None:
    """Under a pick the strings of a grip lie side by side, and none rings open under a hand past
    the fifth fret: nobody strums x-x-x-0-x-10 (common practice, no source)."""
    assert callable(songs)
    for song in songs():
        for part in song.parts(PartRequest(register=register)):
            for grip in part.grips.values():
                pressed = [fret for fret in grip.frets if fret]
                assert grip.strings[-1] - grip.strings[0] == len(grip.strings) - 1
                assert not grip.open_strings or min(pressed, default=0) <= 5


@pytest.mark.parametrize("name", [path.stem for path in EXAMPLES])
def test_a_part_is_a_chart_like_any_other(name: str) -> None:
    """The part checks clean, is tidy, reads back as itself, and has the song's bars in the same
    order of playing."""
    (song,) = (song for song in examples() if song.name == name)
    for part in song.parts():
        text = chart_text(part.chart)
        reading = read_chart(Source(text))
        assert not [d for d in reading.diagnostics if d.severity == "error"]
        assert "shape-sounds-else" not in [d.code for d in reading.diagnostics]
        assert chart_text(reading.chart) == text
        assert bars_played(reading.chart) == bars_played(song.chart)


def bars_played(chart: Chart) -> list[tuple[int, int, list[object]]]:
    """The bars in playing order: section, length, chords."""
    return [
        (bar.section, bar.length, [strike.chord for strike in bar.strikes])
        for bar in playing_order(chart).bars
    ]


@settings(max_examples=5, deadline=None)
@given(charts(rhythm=True))
def test_random_songs_get_parts_or_none(chart: Chart) -> None:
    """Whatever the song, its part reads back with the same chords in the same order."""
    text = chart_text(chart)
    reading = read_chart(Source(text))
    if any(d.severity == "error" for d in reading.diagnostics):
        return
    if not chord_occurrences(reading.chart, ()):
        return
    for part in Sounding("random", reading.chart, ()).parts():
        again = read_chart(Source(chart_text(part.chart)))
        assert not [d for d in again.diagnostics if d.severity == "error"]
        assert bars_played(again.chart) == bars_played(reading.chart)


# ---- rhythm


SUNG = "key: C\n{head}\n== Verse\n| C | Am | F | G |\n: | low | tide | {third} | home |\n"


def section_rhythm(head: str = "", request: PartRequest | None = None, third: str = "pulls") -> str:
    """The text of the part of a small song."""
    song = sounding("small", chart_of(SUNG.format(head=head, third=third)))
    return chart_text(song.parts(request)[0].chart)


@each(
    ("symbol", "colours"),
    [("G7(#9)", (11, 5, 10)), ("Bb6/9", (2, 7, 0)), ("C9", (4, 10, 2)), ("Em7(b5)", (7, 10, 2))],
)
@each("register", REGISTERS, ids=lambda rule: rule.name)
def test_a_grip_keeps_the_colour_that_is_written(
    symbol: str, colours: tuple[int, ...], register: RegisterRule
) -> None:
    """Third, seventh and the colour of the name sound in every pattern of a register."""
    neck = PartialGrips(GUITAR, 3)
    asked = chord_or_none(symbol)
    assert asked is not None
    patterns = neck.patterns(asked, string_sets(register, 6), GripLimits(register.easy_fret))
    assert patterns
    for _, pitches in patterns:
        assert set(colours) <= {pitch % 12 for pitch in pitches}


def test_plain_beside_busy_and_busy_beside_plain() -> None:
    """Beside a strumming hand the part strikes less often than beside a sparse one."""
    counts = []
    for hand in ("strummed", "sparse"):
        song = sounding("small", chart_of(SUNG.format(head="", third="pulls")))
        part = song.parts(PartRequest(first_hand=hand))[0]
        rows = [row for row in part.chart.sections[0].rows if isinstance(row, MusicRow)]
        counts.append(sum(len(struck(bar)) for row in rows for bar in row.bars))
    assert counts[0] < counts[1]


def struck(bar: object) -> tuple[int, ...]:
    """Where a bar is struck."""
    from chartkit.advise.part.first_rhythm import struck_onsets
    from chartkit.chart.model import Bar

    assert isinstance(bar, Bar)
    return struck_onsets(bar)


def test_what_the_player_says_of_the_first_hand_is_no_guess() -> None:
    """Without --first the reason says that the rhythm is a guess; with it no longer."""
    song = examples()[0]
    said = song.parts(PartRequest(first_hand="picked"))[0].section_reasons
    assert not any("a guess" in why for _, why in said)


def test_a_hole_is_answered() -> None:
    """A bar without words after a sung one gets an answer in its second half, with a cue; a
    song that is sung throughout gets none."""
    assert '"answer" F /,/' in section_rhythm(third="")
    assert "answer" not in section_rhythm()


def test_a_hole_before_a_simile_sign_is_answered_once() -> None:
    """Of a bar without words and its repetition only the first is an answer, so the sign gives way
    to the bar; a chord that is left to ring rings."""
    text = "key: C\n\n== Verse\n| C | F | {} | % |\n: | low | tide | | |\n"
    song = sounding("small", chart_of(text.format("G")))
    rows = chart_text(song.parts(PartRequest(first_hand="strummed"))[0].chart)
    assert rows.count('"answer"') == 1 and "%" not in rows and rows.count("G ") >= 2
    rings = sounding("small", chart_of(text.format("G~")))
    assert "%" in chart_text(rings.parts(PartRequest(first_hand="strummed"))[0].chart)


FORM = (
    "key: C\n\n== Verse\n| C | Am | F | G |\n: | low | tide | pulls | home |\n\n"
    "== {name}\n| F | C | G | C |\n: | come | in | come | in |\n\n"
    "== Bridge\n| Am | F | C | G |\n: | what | if | it | turns |\n"
)


@pytest.mark.parametrize("hand", ["strummed", "picked", "sparse"])
@pytest.mark.parametrize("rhythm", [None, "plain", "busy"])
@pytest.mark.parametrize("verse_first", [True, False])
def test_a_chorus_is_fuller_than_the_verse(
    hand: FirstHand, rhythm: PartRhythm | None, verse_first: bool
) -> None:
    """Whatever the first guitar plays, and whichever comes first: more strokes in its first bar."""
    text = FORM.format(name="Chorus")
    if not verse_first:
        text = text.replace("Verse", "X").replace("Chorus", "Verse").replace("X", "Chorus")
    song = sounding("form", chart_of(text))
    part = song.parts(PartRequest(first_hand=hand, rhythm=rhythm))[0]
    first = {section.name: strokes_by_bar(section)[0] for section in part.chart.sections}
    assert first["Chorus"] > first["Verse"]


def test_a_last_bar_leads_on() -> None:
    """A verse's last bar lifts into the chorus, a chorus's rings out before a sparser bridge, and
    the last one of the song is struck once."""
    song = sounding("form", chart_of(FORM.format(name="Chorus")))
    part = song.parts(PartRequest(first_hand="strummed"))[0]
    verse, chorus, bridge = map(strokes_by_bar, part.chart.sections)
    assert verse[-1] > verse[0] == verse[1]
    assert chorus[-1] < chorus[0] == chorus[1]
    assert bridge[-1] == 1
    reasons = dict(part.section_reasons)
    assert reasons["Verse"].endswith("the last bar lifts into the next section")
    assert reasons["Chorus"].endswith("the last bar rings out")


@each("name", ["Final Chorus", "Refrain final", "Chorus 2", "Last Chorus"])
@each("hand", ["strummed", "picked", "sparse"])
def test_the_last_chorus_is_the_fullest(name: str, hand: FirstHand) -> None:
    """A last chorus with music of its own has more strokes than the first, whatever it is called,
    or strums what the first picks; one that is to be soft does not."""
    for remark, fuller in (("", True), (" (softly)", False)):
        form = FORM.format(name="Chorus")
        last = f"\n== {name}{remark}\n| F | C | Am G | C |\n: | come | in | come | in |\n"
        song = sounding("form", chart_of(form + last))
        part = song.parts(PartRequest(first_hand=hand))[0]
        strokes = {section.name: strokes_by_bar(section)[0] for section in part.chart.sections}
        strummed = figure_words("eighths") in chart_text(part.chart)
        grows = strokes[name + remark] > strokes["Chorus"]
        assert (grows or (strummed and strokes["Chorus"] == 8)) == fuller


@each(
    ("bars", "feel"),
    [
        ("| C | Am | F | C ||\n: | low | tide | pulls | |", ""),
        ("| C | Am | F | C ||\n: | low | tide | pulls | home |", "feel: slow reggae"),
        ("|: C | Am | F | C :|\n: | low | tide | pulls | |", ""),
        ("| C | Am | C | % ||\n: | low | tide | pulls | |", "feel: slow reggae"),
    ],
)
def test_the_last_chord_is_struck_on_one(bars: str, feel: str) -> None:
    """The song's last bar is no gap to answer in: its chord is struck on the first beat, and
    rings."""
    song = sounding("end", chart_of(f"key: C\n{feel}\n== Verse\n{bars}\n"))
    part = song.parts(PartRequest(first_hand="strummed"))[0]
    row = next(row for row in part.chart.sections[0].rows if isinstance(row, MusicRow))
    assert row.bars[-1].strikes[0].onset == 0
    assert row.bars[-1].strikes[0].ringing
    assert "answer" not in chart_text(part.chart)


def strokes_by_bar(section: Section) -> list[int]:
    """How often each bar of a section is struck; once where only its chord is written."""
    rows = [row for row in section.rows if isinstance(row, MusicRow)]
    return [len(struck(bar)) for row in rows for bar in row.bars]


def test_the_feel_names_the_figure() -> None:
    """A feel of two and four gets chops there, reggae the off-beats."""
    assert figure_words("two and four") in section_rhythm("feel: leaning on two and four")
    assert figure_words("off-beats") in section_rhythm("feel: slow reggae")
    assert figure_words("off-beats") not in section_rhythm("feel: like an Alaskan morning")


def test_as_written_leaves_the_rhythm_alone() -> None:
    """With the chart's own rhythm each bar of the part is the song's."""
    written = section_rhythm(request=PartRequest(rhythm="as-written"))
    assert "  | C   | Am   | F     | G    |" in written


FIGURES_IN_METERS = [
    # From memory of common practice, no source: the strokes of each figure, in ticks of a
    # twelfth of a beat.
    ("halves", (4, 4), (0, 24)),
    ("halves", (3, 4), None),
    ("quarters", (3, 4), (0, 12, 24)),
    ("two and four", (4, 4), (12, 36)),
    ("two and four", (3, 4), (12, 24)),
    ("two and four", (6, 8), (12,)),
    ("off-beats", (4, 4), (6, 18, 30, 42)),
    ("off-beats", (6, 8), (8, 20)),
    ("picked eighths", (2, 4), (0, 6, 12, 18)),
    ("picked eighths", (6, 8), (0, 4, 8, 12, 16, 20)),
    ("answer", (4, 4), (24, 36, 42)),
    ("let ring", (5, 4), (0,)),
]


@each(("name", "meter", "onsets"), FIGURES_IN_METERS)
def test_figures(name: str, meter: tuple[int, int], onsets: tuple[int, ...] | None) -> None:
    """Figures strike where players strike them, counted by the pulse in compound meters."""
    figure = figure_in(name, Meter(*meter))  # type: ignore[arg-type]
    assert (None if figure is None else figure.onsets) == onsets


def test_every_change_is_heard() -> None:
    """A chord that the figure does not strike in its own time is struck where it begins."""
    bar = chart_of("key: C\n\n== V\n| C F / G |").sections[0].rows[0]
    assert isinstance(bar, MusicRow)
    figure = figure_in("let ring", Meter(4, 4))
    assert figure is not None
    assert [s.onset for s in with_figure(bar.bars[0], figure).bar.strikes] == [0, 12, 36]


@each(
    "bars",
    [
        "| C | G! |\n| / / / / | / F / / |\n| Am | F |",
        "| / / / G | / F / / |",
        "| N.C. | / / G / |",
    ],
)
def test_where_nothing_sounds_nothing_is_held(bars: str) -> None:
    """A bar that begins without a chord of its own keeps its strokes after a stop, after N.C. and
    at the start of the song: there is nothing to hold."""
    text = f"key: C\nfeel: slow\n\n== Verse\n{bars}\n"
    for part in sounding("silent", chart_of(text)).parts():
        again = read_chart(Source(chart_text(part.chart)))
        assert not [d for d in again.diagnostics if d.severity == "error"]
