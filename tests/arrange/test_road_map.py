"""The road map: every bar counted, what is special written out, no chords."""

from pathlib import Path

import pytest

from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import ArrangedSection, Arrangement
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.road_map import CountedBar
from chartkit.arrange.view import View
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Text
from chartkit.pdf.fonts import Fonts
from tests.charts import chart_of
from tests.each import each
from tests.layout.geometry import texts

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.chart"))
ROAD_MAP = PageLook(show="road-map")
METRICS = Fonts()


def mapped(text: str) -> Arrangement:
    """The road map of a chart."""
    return arrange(chart_of(text), View(), ROAD_MAP)


def bars_of(section: ArrangedSection) -> int:
    """How many bars in time a section has, pick-ups included."""
    timed = (system for system in section.systems if system.bar_lines)
    return sum(bar.bar.lasts for system in timed for bar in system.bars)


@each("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_bar_is_lost(path: Path) -> None:
    """Each section of a road map has as many bars as the song, the same marks, cues, repeats and
    endings, and names no chord."""
    chart = chart_of(path.read_text())
    song, road = arrange(chart, View()), arrange(chart, View(), ROAD_MAP)
    for one, other in zip(song.sections, road.sections, strict=True):
        assert bars_of(one) == bars_of(other)
        assert signs(one) == signs(other)
    names = {name.plain() for strike in road.strikes() for name in strike.names if name}
    assert all(name == "/" or name.isdecimal() for name in names)


def signs(section: ArrangedSection) -> dict[str, list[object]]:
    """What a section says besides chords and words, in order."""
    bars = [bar for system in section.systems for bar in system.bars]
    lines = [line for system in section.systems for line in system.bar_lines]
    return {
        "marks": [mark for bar in bars for mark in bar.bar.marks],
        "cues": [cue.text for bar in bars for cue in bar.bar.cues],
        "meters": [bar.bar.meter for bar in bars if bar.bar.meter],
        "endings": [line.endings for line in lines if line.endings],
        "ends": [line.kind for line in lines if line.kind in ("repeat-end", "repeat-both")],
        "above": [a.text for s in section.systems for a in s.above if a.kind != "key"],
    }


def rows(text: str) -> list[str]:
    """The rows of the only section: numbers for counted bars, strokes for those written out."""
    lines = []
    for system in mapped(text).sections[0].systems:
        cells = []
        for bar in system.bars:
            if isinstance(bar.bar, CountedBar):
                cells.append(str(bar.bar.counted))
                continue
            if bar.bar.simile:
                cells.append("%" * bar.bar.simile)
                continue
            if bar.strikes and all(None in strike.names for strike in bar.strikes):
                cells.append("N.C.")
                continue
            drawn = {s.onset: "/" + "!" * s.stopped + "<" * s.pushed for s in bar.strikes}
            drawn |= dict.fromkeys(bar.bar.silences, "r") | dict.fromkeys(bar.bar.slashes, ",/")
            cells.append("".join(drawn[at] for at in sorted(drawn)))
        lines.append(" ".join(cells))
    return lines


ROWS = [
    ("| C | F | G | C |", ["4"]),
    ("| C | F | G | C |\n| C | F |", ["4 2"]),
    ("| C | F | G | C | F | G | C | F | G |", ["4 4 1"]),
    ("| C | % | C / F / | C |", ["4"]),
    ("| C | C! r r r | F | G |", ["1 /!rrr 2"]),
    ("| C | <F | G |", ["1 /< 1"]),
    ("| C | N.C. | G |", ["1 N.C. 1"]),
    ('| C | F |\n"loud"\n| G | C |', ["2", "2"]),
    ("|: C | F :| G |", ["2 1"]),
    ("| C | 2/4 F | G |", ["1 2"]),
    ("| C | F @to-coda | G | C |", ["2 2"]),
    ("| C! r r r | % | F |", ["/!rrr % 1"]),
    ("| C! r r r | F r r r | %% | G |", ["/!rrr rrr %% 1"]),
    ("| C | F! r r r | %% | % | G |", ["1 /!rrr 1 /!rrr", "% 1"]),
    ("| C | F | C | F | %% @to-coda | G |", ["4 2 1"]),
    ("| C! r r r | F |\n| % | G |", ["/!rrr 3"]),
    ("|: C | F | 2/4 G | 4/4 C |1. C | F :|2. G | C @to-coda | F |", ["2 1 1 2", "2 1"]),
    ("|: C | F | 2/4 G |1. 4/4 C | 3/4 C | 4/4 F | F :|", ["2 1", "1 1 2"]),
    ("| C | F | 2/4 G |1. 4/4 C :|2. C | 3/4 F | 4/4 G |", ["2 1 1", "1 1 1"]),
    ("| C | F @fermata | G | C / F / @fermata |", ["1 / 1 "]),
]


@each(("bars", "expected"), ROWS)
def test_steady_bars_are_counted_in_fours(bars: str, expected: list[str]) -> None:
    """Steady bars are counted in fours as far as cue, meter, repeat or row allow; a bar with a
    rhythm of its own is written out, and so is the sign that repeats it: a count says to keep
    time."""
    assert rows(f"key: C\n\n== V\n{bars}\n") == expected


def test_the_first_words_of_a_section() -> None:
    """A section quotes its first words, no more than four, syllables joined."""
    text = "key: C\n\n== V\n  | C | F | G | C |\n: The | low | lan- | terns burn on |\n"
    (line,) = mapped(text).sections[0].systems[0].words
    assert line.bars[0][0].text == "The low lanterns burn …"


VERSES = (
    "key: C\n\n== Verse\n{0}| C | G |\n1: | one | and on |\n2: | two | and on |\n\n"
    "== Chorus\n| F | G{1} |\n: | la | la |\n"
)


@each(
    ("text", "quoted"),
    [
        # A heading that comes again sings on with the next verse.
        (
            VERSES.format("", "") + "\n== Verse\n",
            [[("1", "one and on")], [("", "la la")], [("2", "two and on")]],
        ),
        # A jump leads back to the section, which so has both.
        (
            VERSES.format("", " @D.C."),
            [[("1", "one and on"), ("2", "two and on")], [("", "la la")]],
        ),
    ],
)
def test_each_verse_is_quoted_by_its_own_words(
    text: str, quoted: list[list[tuple[str, str]]]
) -> None:
    """Whoever counts knows verse 2 by the words of verse 2."""
    found = [
        [(line.number, line.bars[0][0].text) for line in section.systems[0].words]
        for section in mapped(text).sections
    ]
    assert found == quoted


def test_a_folded_road_map_numbers_the_verses_of_one_heading() -> None:
    """Three headings "Verse" stand once, with the first words of each."""
    text = VERSES.format("", "") + "\n== Verse\n"
    page = laid_out(mapped(text), PageLook(show="road-map", form="folded"), METRICS)
    assert texts(page, "heading") == ["Verse", "Chorus"]
    assert texts(page, "verse") == ["1.", "2."]
    assert texts(page, "words") == ["one and on", "two and on", "la la"]


def test_a_run_begins_with_its_segno_and_ends_with_its_jump() -> None:
    """Eight bars from the segno to the coda sign are two fours: a mark at the edge of a run does
    not tear its first or last bar off."""
    arrangement = mapped("key: C\n\n== V\n| @segno C | F | G | C |\n| C | F | G | C @to-coda |\n")
    bars = [
        bar.bar for one in arrangement.sections for system in one.systems for bar in system.bars
    ]
    assert [[mark.kind for mark in bar.marks] for bar in bars] == [["segno"], ["to-coda"]]


def words_alone(section: ArrangedSection) -> list[str]:
    """The lines of a section that stand without music."""
    return [
        line.pickup.text for system in section.systems if not system.bars for line in system.words
    ]


def test_rows_in_free_time_stand_as_their_words() -> None:
    """Nobody can count a row without bars; it is followed by its words.  What is said beside its
    chords stays beside them."""
    text = '== A\n  D       G\n: Low and / slow\nD G\n  D "wait" G\n: Here / and there'
    (section,) = mapped(text).sections
    assert words_alone(section) == ["Low and slow"]
    (strokes, said) = (system for system in section.systems if system.bars)
    assert len(strokes.bars[0].strikes) == 2
    assert [cue.text for cue in said.bars[0].bar.cues] == ["wait"]
    assert said.words[0].bars[0][0].text == "Here and there"


@pytest.mark.parametrize("behind", ["", '\n"slow"\n'])
def test_words_without_music_are_quoted(behind: str) -> None:
    """A section of words alone has its first words, also with a cue behind them."""
    spoken = mapped(f"== A\n| D | G |\n\n== Spoken\n: words alone are spoken here\n{behind}")
    assert words_alone(spoken.sections[1]) == ["words alone are spoken …"]
    said = [one.text for system in spoken.sections[1].systems for one in system.above]
    assert said == (["slow"] if behind else [])


def test_a_last_ending_goes_on_in_the_next_row() -> None:
    """A last ending that fills more than its row says so in the next one, where the chart has it in
    one row; it ends with a row of the chart."""
    whole = mapped("key: C\n\n|: C | % :|: F | %  :|: C |1. F,G G / / :|2. C! | F | G | C! ||\n")
    marked = [system.goes_on for system in whole.sections[0].systems]
    assert len(marked) > 1 and marked == [False] + [True] * (len(marked) - 1)
    apart = mapped("key: C\n\n" + "| C! | F! |\n" * 4)
    assert [system.goes_on for system in apart.sections[0].systems] == [False, False]


@each(
    ("text", "notes"),
    [
        ("key: D\n\n== A\n| D | G | D | A | D |\n", ["4 means: play four bars"]),
        ("key: D\n\n== A\n| D | G |\n", ["2 means: play two bars"]),
        ("key: D\n\n== A\n| D | % | (A) |\n", ["3 means: play three bars"]),
        ("key: D\nnote: softly\n\n== A\n  D   G\n: Low and / slow\n", ["softly"]),
        ("key: D\n\n== A\n| D! | G! |\n", []),
    ],
)
def test_the_numbers_of_the_page_are_explained(text: str, notes: list[str]) -> None:
    """The head says what a number means by the largest on the page, and nothing where the page has
    none, as for a song in free time."""
    assert list(mapped(text).notes) == notes


@each(
    ("text", "band"),
    [
        (
            "key: Db\nmeter: 6/8\ntempo: 58\n\n== A\n  Db   Gb\n: Low and / slow\n",
            ["6/8 · ♩. = 58"],
        ),
        ("key: Db\n\n== A\n  Db   Gb\n: Low and / slow\n", []),
        ("key: Db\nmeter: 3/4\n\n== A\n| Db | Gb |\n", ["3/4"]),
    ],
)
def test_the_head_names_the_meter_and_no_key(text: str, band: list[str]) -> None:
    """Who counts bars is told the meter that the chart names, also of a song without bars, and no
    key, which a drummer has no use for (common practice, no source)."""
    document = laid_out(mapped(text), ROAD_MAP, METRICS)
    assert texts(document, "band") == band
    assert texts(document, "keys") == []
    assert texts(document, "foot")[0].endswith("— Road map")


def test_a_count_does_not_look_like_a_part_of_the_meter() -> None:
    """The meter stands in another face than the counts, in smaller type and further from the first
    one than counts are wide, also where the meter changes inside the song."""
    text = "key: C\nmeter: 4/4\n\n== V\n| C | F | G | C | 3/4 C | F | G |\n"
    page = laid_out(mapped(text), ROAD_MAP, METRICS).pages[0]
    items = [i for i in page.items if isinstance(i, Text)]
    counts = [i for i in items if i.role == "count"]
    meters = [i for i in items if i.role in ("opening-meter", "meter")]
    assert [i.plain for i in counts] == ["4", "3"]
    assert len(meters) == 3
    for meter in meters:
        count = min(i for i in counts if i.x > meter.x)
        assert {p.font for p in meter.pieces}.isdisjoint(p.font for p in count.pieces)
        assert meter.pieces[0].size < count.pieces[0].size
        assert count.x - meter.x - meter.width > count.width * 0.9
