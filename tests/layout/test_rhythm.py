"""Stems, beams, ties, rests and time signatures, looked at through geometry."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product

import pytest
from music21 import duration

from chartkit.arrange.view import View
from chartkit.chart.marks import Mark
from chartkit.chart.model import Meter
from chartkit.chart.signs import SILENCE
from chartkit.layout.collect import Collector
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Dot, Glyph, Item, Shape, Stroke, Text
from chartkit.layout.labels import CAPITAL
from chartkit.layout.measure_bars import SHORTEST
from chartkit.layout.metrics import Typesetter
from chartkit.layout.rhythm import Group, signs_of
from chartkit.layout.style import style_for
from chartkit.pdf.fonts import Fonts
from chartkit.theory.capo import Capo
from tests.charts import arranged, bars, sized
from tests.each import each
from tests.layout.geometry import box_of, in_bar_lines, lines_of, overlapping

METRICS = Fonts()


def pages_of(text: str, view: View | None = None) -> Document:
    """The pages of a chart with real fonts."""
    return laid_out(arranged(text, view), sized(1.0), METRICS)


def items_of(text: str, view: View | None = None) -> tuple[Item, ...]:
    """Everything on the one page of a chart."""
    (page,) = pages_of(text, view).pages
    return page.items


def beams_of(items: tuple[Item, ...], thickness: float = 1.9) -> list[Stroke]:
    """The level strokes as thick as a beam, from the left."""
    flat = (i for i in items if isinstance(i, Stroke) and i.y0 == i.y1)
    return sorted(i for i in flat if i.thickness == pytest.approx(thickness))


def ties_of(items: tuple[Item, ...]) -> list[tuple[float, float]]:
    """From where to where each tie reaches, from the left."""
    shapes = [i for i in items if isinstance(i, Shape) and len(i.points) > 12]
    return sorted((min(x for x, _ in s.points), max(x for x, _ in s.points)) for s in shapes)


def groups(text: str) -> list[Group]:
    """The beats of a chart that several places share."""
    arrangement = arranged(text, None)
    style = style_for("a4")
    lines, strong = arrangement.chord_lines, arrangement.strong
    collector = Collector(Typesetter(METRICS), style, lines, strong)
    boxes = [
        b for s in collector.sections(arrangement.sections) for row in s.rows for b in row.bars
    ]
    return [group for box in boxes for group in box.groups]


def compositions(parts: int) -> list[str]:
    """Every way to strike or hold the parts of a beat whose first is struck."""
    return [",".join(("C", *rest)) for rest in product("/_", repeat=parts - 1)]


@each("meter", [Meter(4, 4), Meter(6, 8), Meter(3, 8), Meter(2, 2)], ids=str)
@each("parts", [2, 3, 4, 6])
def test_notes_are_those_of_their_lengths(meter: Meter, parts: int) -> None:
    """Flags, dots and tuplets of every split beat are those music21 gives its notes."""
    rest = " /" * (meter.beats - 1)
    for beat in compositions(parts):
        groups_drawn = groups(f"key: C\nmeter: {meter}\n\n| {beat}{rest} |\n")
        struck = [i for i, part in enumerate(beat.split(",")) if part != "_"]
        if len(struck) == 1:
            assert groups_drawn == []
            continue
        group, *others = groups_drawn
        assert all(len(other.slots) == 1 for other in others)
        ends = [*struck[1:], parts]
        lengths = [
            meter.beat * Fraction(end - at, parts) * 4 for at, end in zip(struck, ends, strict=True)
        ]
        in_tuplet = any(duration.Duration(length).tuplets for length in lengths)
        assert group.tuplet == 4 or bool(group.tuplet) == in_tuplet
        written = {0: Fraction(1), 4: Fraction(4, 3)}.get(group.tuplet, Fraction(3, 2))
        for value, length in zip(group.values, lengths, strict=True):
            known = duration.Duration(length * written)
            if known.type == "complex":
                continue  # No single note has that length.
            ordinal = duration.Duration(type=known.type).ordinal
            flags = max(0, ordinal - duration.Duration(type="quarter").ordinal)
            assert (value.flags, value.dotted) == (flags, bool(known.dots)), (beat, str(meter))


REST_NAMES = {
    "whole": "rest-1",
    "half": "rest-2",
    "quarter": "rest-4",
    "eighth": "rest-8",
    "16th": "rest-16",
    "32nd": "rest-32",
}


def rests_of(items: tuple[Item, ...]) -> list[Glyph]:
    """The rests of a page, from the left."""
    return sorted(i for i in items if isinstance(i, Glyph) and i.name.startswith("rest"))


@each("meter", ["2/2", "4/4", "3/4", "6/8", "5/8", "3/16"])
def test_a_rest_of_a_beat_has_the_name_of_its_length(meter: str) -> None:
    """A beat of rest is the rest that music21 names for the beat, its dot beside it; the chord
    before has a stem and the same dot."""
    count, unit = map(int, meter.split("/"))
    made = Meter(count, unit)
    items = items_of(f"key: C\nmeter: {meter}\n\n| C{' r' * (made.beats - 1)} |\n")
    known = duration.Duration(made.beat * 4)
    rests = rests_of(items)
    assert [rest.name for rest in rests] == [REST_NAMES[known.type]] * (made.beats - 1)
    dots = sorted(item for item in items if isinstance(item, Dot))
    assert len(dots) == known.dots * (1 + len(rests))
    for rest, dot in zip(rests, dots[known.dots :], strict=False):
        assert rest.x < dot.x < rest.x + 20


@pytest.mark.parametrize("parts", [2, 3, 4, 6])
def test_rests_inside_a_beat_are_those_of_their_lengths(parts: int) -> None:
    """Each rest among the parts of a beat is named as music21 names its length; two that fill half
    of a beat in four are one."""
    for others in product("/_r", repeat=parts - 1):
        beat = ["C", *others]
        if "r" not in beat:
            continue
        items = items_of(f"key: C\n\n| {','.join(beat)} / / / |\n")
        begins = [i for i, part in enumerate(beat) if part != "_"]
        if parts == 4 and beat[2:] == ["r", "r"]:
            begins.remove(3)
        named = []
        for at, end in zip(begins, [*begins[1:], parts], strict=True):
            length = duration.Duration(Fraction(end - at, parts))
            if beat[at] == "r":
                named.append(REST_NAMES.get(length.type))  # none where no single rest has it
        rest_names = [rest.name for rest in rests_of(items)]
        assert len(rest_names) == len(named)
        assert all(one in (None, name) for one, name in zip(named, rest_names, strict=True)), beat


@each(
    "beat, rests",
    [
        ("C,r,r,C", "16 16"),  # over the middle of the beat
        ("C,C,r,r", "8"),
        ("C,r,r,r", "16 8"),
        ("r,r,C,C", "8"),
        ("r,r,r,C", "8 16"),
        ("r,C,r,r", "16 8"),
        ("r,r,r,r", "4"),
        ("r,r", "4"),
        ("r,r,C", "8 8"),  # a triplet has no halves
        ("C,r,r", "8 8"),
        ("r,r,r", "4"),
        ("r,r,C,C,r,r", "16 16 16 16"),
    ],
)
def test_rests_are_joined_in_halves_of_a_beat(beat: str, rests: str) -> None:
    """A rest shows how the beat divides: none lasts over its middle, and what fills a half or all
    of it is one (E. Gould, *Behind Bars*, 2011; from memory)."""
    items = items_of(f"key: C\n\n| C / / {beat} | C,C / / / |\n")
    assert [rest.name for rest in rests_of(items)] == [f"rest-{one}" for one in rests.split()]


def test_a_rest_with_a_fermata_of_its_own_is_kept() -> None:
    """A second rest that carries a sign is not joined to the one before it."""
    arrangement = arranged("key: C\n\n| C,C,r,r C / / |\n")
    (section,) = arrangement.sections
    bar = section.systems[0].bars[0].bar
    assert [onset for onset, sign in signs_of(bar) if sign == SILENCE] == [6]
    held = replace(bar, marks=(Mark("fermata", onset=9),))
    assert [onset for onset, sign in signs_of(held) if sign == SILENCE] == [6, 9]


def test_beams_join_no_notes_over_a_rest() -> None:
    """A beam ends before a rest; a note alone between rests has a flag, the rest no stem."""
    items = items_of(bars("| C,r,G,G F / / | Am |", key="C"))
    (rest,) = rests_of(items)
    assert rest.name == "rest-16"
    for beam in beams_of(items):
        assert not beam.x0 < rest.x + 1 < beam.x1
    assert all(
        not rest.x - 1 < stem.x0 < rest.x + 4
        for stem in items
        if isinstance(stem, Stroke) and stem.x0 == stem.x1
    )


def test_a_muted_stroke_is_a_cross_under_its_stem() -> None:
    """``x`` is drawn as two strokes that cross, where a slash would stand, beamed like one."""
    items = items_of(bars("| C,x,/,x F / / | Am |", key="C"))
    slanting = [i for i in items if isinstance(i, Stroke) and i.x0 != i.x1 and i.y0 != i.y1]
    rising = {round(i.x0, 2) for i in slanting if i.y0 > i.y1}
    falling = {round(i.x0, 2) for i in slanting if i.y0 < i.y1}
    assert len(falling) == 2
    assert falling < rising  # every cross has both strokes, a slash one
    assert len({beam.y0 for beam in beams_of(items)}) == 2


def test_two_chords_in_a_beat_stand_under_one_beam() -> None:
    """A beam runs from the first to the last chord of a beat, over both."""
    items = items_of(bars("| C,F G / / | Am |", key="C"))
    chords = {i.plain: i for i in items if isinstance(i, Text) and i.role == "sounding"}
    (beam,) = beams_of(items)
    for at, chord in ((beam.x0, chords["C"]), (beam.x1, chords["F"])):
        assert 0.3 * chord.width < at - chord.x < 0.7 * chord.width
    assert beam.y0 < chords["C"].y - chords["C"].pieces[0].size * 0.9


def test_sixteenths_have_two_beams_and_a_dotted_eighth_a_stub() -> None:
    """Four in a beat stand under two beams; a lone sixteenth has a short second one."""
    four = beams_of(items_of(bars("| C,/,/,/ G / / | Am |", key="C")))
    assert len({beam.y0 for beam in four}) == 2
    long, stub = sorted(
        beams_of(items_of(bars("| C,_,_,/ G / / | Am |", key="C"))), key=lambda b: b.x0
    )
    assert stub.x1 == pytest.approx(long.x1)
    assert stub.x1 - stub.x0 < (long.x1 - long.x0) / 2


def test_a_triplet_is_numbered_in_plain_beats_only() -> None:
    """Three in a quarter have a 3 over them, three in the dotted quarter of 6/8 have none."""

    def numbers(text: str) -> list[str]:
        items = items_of(text)
        return [i.plain for i in items if isinstance(i, Text) and i.role == "tuplet"]

    assert numbers("key: C\n\n| C,F,G / / / |\n") == ["3"]
    assert numbers("key: C\nmeter: 6/8\n\n| C,F,G / |\n") == []


def test_a_hold_is_tied_to_what_was_struck() -> None:
    """A tie reaches from the chord before, over the bar line, to the slash that holds it."""
    items = items_of(bars("| C / / F | _ / G / |", key="C"))
    (tie,) = ties_of(items)
    chord = next(i for i in items if isinstance(i, Text) and i.plain == "F")
    uprights = sorted(i.x0 for i in items if isinstance(i, Stroke) and i.x0 == i.x1)
    assert chord.x < tie[0] < uprights[1] < tie[1]


def test_a_tie_stands_clear_of_the_words() -> None:
    """Between chords and words, and between the line of a small type and its words, no tie touches
    a letter."""
    music = "| C / / F | _ / G / | C / _ / | Dm _ / / |"
    row = f"{music}\n: | held the / bell | hold | half the | tide |\n"
    for size in (0.85, 1.0, 1.3):
        look = sized(size)
        page = laid_out(arranged(f"key: C\n\n{row}{row}", look=look), look, METRICS).pages[0]
        ties = [i for i in page.items if isinstance(i, Shape) and len(i.points) > 12]
        words = [box_of(i) for i in page.items if isinstance(i, Text) and i.role == "words"]
        assert len(ties) >= 6
        for left, top, right, low in map(box_of, ties):
            assert all(
                word_top > low + 0.13 * 11.5 * size or foot < top or end < left or right < start
                for start, word_top, end, foot in words
            )


def test_a_tie_over_a_line_end_is_begun_and_ended() -> None:
    """Where the line ends between a chord and its hold, half a tie stands on either side, within
    the bar lines."""
    items = items_of("key: C\n\n| C | C / / F |\n| _ / G / | C |\n")
    first, second = ties_of(items)
    uprights = sorted(i.x0 for i in items if isinstance(i, Stroke) and i.x0 == i.x1)
    assert uprights[0] < first[0] < first[1] < uprights[0] + 20
    assert uprights[-1] - 100 < second[0] < second[1] < uprights[-1]


def test_every_note_of_an_exact_bar_has_its_stem() -> None:
    """In a bar with a split beat each chord and slash has a stem, in any other none has."""
    items = items_of(bars("| C,/ / F / | Am / / / |", key="C"))
    (beam,) = beams_of(items)
    stems = [
        i for i in items if isinstance(i, Stroke) and i.x0 == i.x1 and abs(i.y0 - beam.y0) < 1.5
    ]
    assert len(stems) == 5
    assert stems[0].y1 < stems[1].y1  # the slash's reaches further down than the chord's
    chord = next(i for i in items if isinstance(i, Text) and i.plain == "Am")
    assert all(stem.x0 < chord.x for stem in stems)


def test_notes_are_spaced_by_their_durations() -> None:
    """Where nothing needs more, a quarter has about half as much room again as an eighth, and
    notes as long as one another have as much room."""
    items = items_of(bars("| x,x x x x,x |", key="C"))
    crosses = sorted(
        {round(i.x0, 2) for i in items if isinstance(i, Stroke) and i.y0 < i.y1 and i.x0 != i.x1}
    )
    eighth, second, quarter, other, last = (b - a for a, b in pairwise(crosses))
    assert [second, last] == pytest.approx([eighth, eighth], abs=0.02)
    assert quarter == pytest.approx(other, abs=0.02)
    assert quarter / eighth == pytest.approx(2**0.6, rel=0.01)


def test_a_rest_of_several_bars_shows_their_number() -> None:
    """Eight bars of rest take one place, with the number in it; one bar has a sign alone."""
    (page,) = pages_of(bars("| C | rest 8 | rest | F |", key="C")).pages
    assert [i.plain for i in page.items if isinstance(i, Text) and i.role == "rest"] == ["8"]
    uprights = {i.x0 for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1}
    assert len(uprights) >= 4 + 1 + 2
    assert overlapping(page) == []


@pytest.mark.parametrize("change", ["meter: 3/4\n| G |", "| 3/4 G |"])
def test_a_meter_change_stands_in_its_bar(change: str) -> None:
    """Whether on a row of its own or in the bar, the new meter is printed inside the bar,
    before its first chord and between its lines."""
    (page,) = pages_of(f"key: C\n\n| C | F |\n{change}\n", View(capo=Capo(2))).pages
    signs = [i for i in page.items if isinstance(i, Text) and i.role == "meter"]
    assert [i.plain for i in signs] == ["3", "4"]
    chord = next(i for i in page.items if isinstance(i, Text) and i.plain == "F" and i.y > 180)
    assert all(45 < sign.x < sign.x + sign.width < chord.x for sign in signs)
    assert in_bar_lines(page) == []


@each("capo", (0, 2))
def test_a_meter_stands_in_the_middle_of_its_bar_line(capo: int) -> None:
    """On pages with one line of chords and with two, both figures together (Gould; from memory)."""
    items = items_of("key: C\n\n== A\n| C |\n| 3/4 F |\n", View(capo=Capo(capo)))
    upper, lower = sorted(
        (i for i in items if isinstance(i, Text) and i.role == "meter"), key=lambda i: i.y
    )
    line = max((i for i in items if isinstance(i, Stroke) and i.x0 == i.x1), key=lambda i: i.y1)
    middle = (upper.y - upper.pieces[0].size * CAPITAL + lower.y) / 2
    assert middle == pytest.approx((line.y0 + line.y1) / 2, abs=0.1)


def test_what_shares_a_beat_raises_its_line_alone() -> None:
    """Room for beams is given to the systems that have some."""
    (page,) = pages_of("key: C\n\n| C | F |\n| C | F |\n| C,F / / / | F |\n| C | F |\n").pages
    rows = [line[0].y for line in lines_of(page, "sounding")]
    first, second, third = (b - a for a, b in pairwise(rows))
    assert second > first + 5
    assert third == pytest.approx(first)


def test_a_tie_does_not_run_through_a_time_signature() -> None:
    """Before a new meter the tie ends at the bar line, and begins again after the figures."""
    items = items_of("key: C\n\n| C / / F | 3/4 _ / G |\n")
    first, second = ties_of(items)
    figures = [i for i in items if isinstance(i, Text) and i.role == "meter"]
    assert first[1] < min(i.x for i in figures)
    assert second[0] > max(i.x + i.width for i in figures) - 0.01


def test_a_dot_stands_beside_its_chord() -> None:
    """The dot of a dotted eighth stands right of the chord's name, below its top."""
    items = items_of("key: C\n\n| C,_,_,/ G / / | Am |\n")
    chord = next(i for i in items if isinstance(i, Text) and i.plain == "C")
    (dot,) = (i for i in items if isinstance(i, Dot) and i.y < chord.y + 10 and i.y > chord.y - 15)
    assert dot.x > chord.x + chord.width
    assert chord.y - 8 < dot.y < chord.y


def test_a_wide_bar_is_broken_between_beats() -> None:
    """A bar wider than the line goes on with a whole beat, so that no beam is torn."""
    long = "extraordinarily incomprehensible thoroughfares and straightforwardness"
    words = f"{long} / {long} / and / so / {long} / end"
    text = f"key: C\n\n| C,_,_,F G,/,Am,_ F,/ C |\n: | {words} |\n"
    counts = [len(group.slots) for group in groups(text)]
    pages = laid_out(arranged(text, None), sized(1.0), METRICS).pages
    assert (
        len(
            {
                round(i.y)
                for p in pages
                for i in p.items
                if isinstance(i, Text) and i.role == "sounding"
            }
        )
        > 1
    )
    beams = [b for page in pages for b in beams_of(page.items)]
    assert len(counts) == 4 and len({round(b.y0) for b in beams}) >= 2


def test_a_lone_note_has_a_stem_that_is_seen() -> None:
    """In 6/8 a quarter beside an eighth has a plain stem of half the type's size or more that
    ends just over its chord; an eighth has a flag a third of the size wide."""
    items = items_of("key: D\nmeter: 6/8\n\n| D,_,/ A,/,/ |\n")
    chord = next(i for i in items if isinstance(i, Text) and i.plain == "D" and i.role != "foot")
    size = chord.pieces[0].size
    stem = next(
        i
        for i in items
        if isinstance(i, Stroke)
        and i.x0 == i.x1
        and i.y1 < chord.y
        and chord.x < i.x0 < chord.x + chord.width
    )
    assert stem.y1 - stem.y0 >= size / 2
    assert size * 0.72 <= chord.y - stem.y1 <= size * 0.86
    flags = [i for i in items if isinstance(i, Shape) and i.points[0][1] == stem.y0]
    assert flags
    for flag in flags:
        xs, ys = ([place[n] for place in flag.points] for n in (0, 1))
        assert max(xs) - min(xs) > size / 4 and max(ys) < chord.y - size * 0.3


def test_a_tie_does_not_run_between_two_names() -> None:
    """With shapes over sounding chords a tie begins after both names, with one line under it."""
    song = "key: D\n\n| A7sus4 / D,_ / | G _ / D7 | _ / / / |\n"
    two = items_of(song, View(capo=Capo(2)))
    names = {"shape": "F", "sounding": "G"}
    ends = [i.x + i.width for i in two if isinstance(i, Text) and names.get(i.role) == i.plain]
    assert len(ends) == 2
    first = ties_of(two)[0]
    assert first[0] >= max(ends) - 0.1
    one = items_of(song)
    chord = next(i for i in one if isinstance(i, Text) and i.plain == "G")
    assert ties_of(one)[0][0] < chord.x + chord.width


def test_a_quarter_beside_sixteenths_with_words_is_as_long_as_it_is_due() -> None:
    """Where words push sixteenths apart and fill the line, each quarter keeps its room: four times
    as long as the shortest note of the bar, 2.3 times its least room."""
    words = "mind the broken / gaps in everything / and others"
    text = (
        f"key: C\nmeter: 4/4\n\n== A\n| C,F,C,r x x x | C |\n"
        f": | {words} | and all of this stands here |\n"
    )
    items = items_of(text)
    crosses = sorted(
        {round(i.x0, 2) for i in items if isinstance(i, Stroke) and i.y0 < i.y1 and i.x0 != i.x1}
    )
    assert len(crosses) == 3
    first, second, third = crosses
    due = SHORTEST * 4**0.6 - 0.01
    assert second - first >= due and third - second >= due


_STEM = 0.9
"""The thickness of a stem in type of the middle size; bar lines have 0.8 or 2.4."""


def test_a_bar_with_one_exact_beat_has_a_stem_on_every_note() -> None:
    """Where a beat of a bar is tied, muted, a rest or split, each note of it has a stem, and bars
    of plain slashes have none (G. Read, *Music Notation*; E. Gould, *Behind Bars*; from memory)."""
    for row, stems in (
        ("| C / F / |", 0),
        ("| C / _ / |", 4),
        ("| C / x / |", 4),
        ("| C / r / |", 3),
        ("| C,/ / F / |", 5),
        ("| C r r r | F / / / |", 1),
        ("| C | _ / / / |", 4),
        ("| C | r r r r |", 0),
    ):
        items = items_of(f"key: C\nmeter: 4/4\n\n{row}\n")
        drawn = [one for one in items if isinstance(one, Stroke)]
        drawn = [one for one in drawn if one.x0 == one.x1 and one.thickness == _STEM]
        assert len(drawn) == stems, row


def test_no_tie_comes_out_of_a_sign_for_a_whole_bar() -> None:
    """A slash held over from a repeated bar has half a tie from the bar line on: the sign shows no
    note from which one could come (common practice, no source)."""
    items = items_of("key: C\nmeter: 4/4\n\n| C | % | _ / / / |\n")
    edges = sorted(one.x0 for one in items if isinstance(one, Stroke) and one.thickness == 0.8)
    (tie,) = (one for one in items if isinstance(one, Shape))
    assert edges[2] <= min(x for x, _ in tie.points)


SETTER = Typesetter(METRICS)


def test_a_stem_stands_over_the_middle_of_its_root_as_signs_do() -> None:
    """The stem of a chord and the sign over it are in one line."""
    items = items_of("key: C\nmeter: 4/4\n\n| Gm7! r r r |\n")
    strokes = [i for i in items if isinstance(i, Stroke) and i.x0 == i.x1]
    (stem,) = (i for i in strokes if i.thickness == _STEM)
    shapes = [i for i in items if isinstance(i, Shape) and i.points[0][1] > stem.y0 - 10]
    (sign,) = (i for i in shapes if max(y for _, y in i.points) <= stem.y0)
    middle = sum(x for x, _ in sign.points) / len(sign.points)
    assert stem.x0 == pytest.approx(middle, abs=0.5)
    (chord,) = (i for i in items if isinstance(i, Text) and i.plain == "Gm7")
    root = SETTER.width(SETTER.pieces("G", "strong", chord.pieces[0].size))
    assert chord.x + 0.3 * root < stem.x0 < chord.x + 0.7 * root
