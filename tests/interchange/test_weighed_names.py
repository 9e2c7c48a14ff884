"""Names of sections that no reader knows are found by weighing all evidence.

How names are cut short, and what stands behind them: common practice, no source.
"""

import pytest

from chartkit.chart.model import CueRow
from chartkit.interchange.text.names.name_shapes import likeness_of, shape_of
from chartkit.interchange.text.write import sheet_text
from tests.charts import chart_of
from tests.each import each
from tests.interchange.names_table import learnt, odds_of, samples_of
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import STANZA, WORDS, names_of_parts, parts_of, sheets


@each(
    ("name", "likeness"),
    [
        ("Verse 2", "full"),
        ("Vs 2", "short"),
        ("C", "letter"),
        ("Instrum", "begin"),
        ("Vrse 1", "skeleton"),
        ("Chrous", "full"),
        ("Bridje", "slip"),
        ("fiddle chorus bit", "holds"),
        ("Lantern", "other"),
    ],
)
def test_likeness(name: str, likeness: str) -> None:
    """How much a word looks like the name of a section is told by its letters."""
    assert likeness_of(name) == likeness


@each(
    ("text", "name", "sign", "rest"),
    [
        ("Inst (kazoo, over V)", "Inst", "paren", "(kazoo, over V)"),
        ("br - half time, no hats", "br", "-", "half time, no hats"),
        ("Vs      | Bb | Gm |", "Vs", "bar", "| Bb | Gm |"),
        ("Cho x2", "Cho", "count", "x2"),
        ("Vs as before", "Vs", "word", "as before"),
        ("*Cho*", "Cho", "end", ""),
    ],
)
def test_what_a_line_could_be(text: str, name: str, sign: str, rest: str) -> None:
    """A line is cut into the name with which it could begin, a sign, and the rest."""
    shape = shape_of(text)
    assert shape is not None
    assert (shape.name, shape.sign, shape.rest) == (name, sign, rest)


def test_a_remark_in_parentheses_is_no_name() -> None:
    """Brackets around more than a name are around a remark."""
    assert shape_of("(solo: Marcia)") is None


@each(
    "cue",
    ["Bea takes it", "band back in", "fiddle lead", "stop time", "Nils and Bea", "big"],
)
def test_cues_of_our_own_text_stay_cues(cue: str) -> None:
    """Where headings stand behind our own sign, what stands in parentheses is said to the players:
    a chart written as text comes back with its cues, under a heading and between two rows."""
    rows = "| C | Am | F | G |\n: | low | tide | pulls | home |\n"
    solo = "| F | G | C | C |\n"
    chart = chart_of(
        f'title: Low Tide\nkey: C major\n\n== Verse\n{rows}\n== Solo\n"{cue}"\n{solo}\n'
        f'== Bridge\n{rows}\n"{cue}"\n{rows}\n== Verse 2\n{rows}'
    )
    back = taken(sheet_text(chart)).chart
    for read, written in zip(back.sections, chart.sections, strict=True):
        assert read.name == written.name
        cues = [
            [row.text for row in one.rows if isinstance(row, CueRow)] for one in (read, written)
        ]
        assert cues[0] == cues[1]


@each("said", ["(me)", "- me and the bass, soft", "(2nd x no drums)"])
@each("name", ["Vs 2", "Brdg", "Cho 2", "instr"])
def test_a_name_with_more_behind_it(name: str, said: str) -> None:
    """A name cut short, or a letter, with what is said of it, names a section over its chords; and
    what is guessed so has a finding at its line."""
    text = f"Rope Walk\n\nV1\n{STANZA}\n{name} {said}\n{STANZA}\nV3\n{WORDS * 2}"
    result = taken(text)
    second = parts_of(result.chart)[1]
    assert second.name.casefold() == name.casefold()
    assert any("me" in cue or "drums" in cue for cue in second.cues)


@pytest.mark.parametrize("said", ["(me)", "(2nd x no drums)"])
def test_a_letter_with_a_remark(said: str) -> None:
    """A letter alone with a remark in parentheses over chords is a section where letters name
    others, though it could be a chord."""
    text = f"Rope Walk\n\nA\n{STANZA}\nB {said}\n{STANZA}\nA\n\nB\n"
    assert names_of_parts(text) == ["A", "B", "A", "B"]


def test_a_remark_among_the_words_of_a_further_verse() -> None:
    """A remark between the words of a verse without chords is a cue, and the verse has the music
    of the one before."""
    words = "Every boat is waiting on the tide   <-- bass in\n"
    first, second = parts_of(taken(f"Verse 1\n{STANZA}\nVerse 2\n{WORDS}{words}").chart)
    assert (second.music, second.cues) == (first.music, ["bass in"])


def test_words_stay_words() -> None:
    """Words that begin with the name of a section and stand among words are sung."""
    song = "Verse\nC  G\nbridge of sighs and bridge of stone\nAm  F\nintro to a life alone\n"
    (part,) = parts_of(taken(song).chart)
    assert part.words == "bridgeofsighsandbridgeofstoneintrotoalifealone"


def test_unseen_files() -> None:
    """Of the lines of files that the weights were not learnt from, 95 in 100 names are found, and
    of the other lines no more than 3 in 100 are taken for names."""
    every = [(one, samples_of(one)) for one in sheets("fresh_1*")]
    weights = learnt([line for _, lines in every for line in lines])
    unseen = [line for one in sheets("more_*") for line in samples_of(one)]
    found = [odds_of(line, weights) > 0 for line in unseen if line.is_name]
    wrong = [odds_of(line, weights) > 0 for line in unseen if not line.is_name]
    assert sum(found) >= 0.95 * len(found)
    assert sum(wrong) <= 0.03 * len(wrong)


@pytest.mark.parametrize("order", ["A B A B C", "A - B - A - B - C"])
def test_an_order_of_letters_needs_no_label(order: str) -> None:
    """Letters alone on the last line that all name sections are their order, though each could be
    a chord, and some could be cut short for other names."""
    bars = "| G | C | D | G |\n"
    text = f"Goose\n\nA\n{bars}\nB\n{bars}\nC (soft)\n{bars}\n{order}\n"
    assert [part.name for part in parts_of(taken(text).chart)] == ["A", "B", "A", "B", "C"]


def test_a_name_with_a_slip() -> None:
    """An earlier name with two letters that changed places, alone with a count, is that section
    again."""
    text = f"Verse 1\n{STANZA}\nChorus\n{STANZA}\nVerse 2\n{WORDS * 2}\nChorsu x2\n"
    assert names_of_parts(text) == ["Verse 1", "Chorus", "Verse 2", "Chorus x2"]


def test_a_chord_in_a_small_letter() -> None:
    """A chord far from the others in its row is one though it was typed in a small letter."""
    (part,) = parts_of(taken(f"Verse\nC              g\n{WORDS}").chart)
    assert part.music == ["C", "G"]


def test_words_behind_the_last_bar_line() -> None:
    """What stands behind the bars of a row and a gap is said to the players."""
    text = "Verse\n| C | G | Am | F |     drums from here\n"
    (part,) = parts_of(taken(text).chart)
    assert part.cues == ["drums from here"]


def test_what_could_be_a_name_is_reported() -> None:
    """A line that could as well name a section, and is not taken for a name, has a finding."""
    text = f"Foot\n\nVerse 1\n{STANZA}\nChorus\n{STANZA}\nLast chorus: slow down on the last line\n"
    (finding,) = (one for one in taken(text).findings if one.code == "perhaps-a-section")
    assert finding.line == text[: text.index("Last")].count("\n") + 1


def test_a_count_before_what_is_said() -> None:
    """A count at the start of what is said behind a name is how often the section is played."""
    text = (
        f"chorus -- all in, loud\n{STANZA}\nverse -- just me\n{STANZA}\nchorus -- twice, slower\n"
    )
    assert names_of_parts(text) == ["chorus", "verse", "chorus x2"]


def test_degrees_behind_a_numbered_name() -> None:
    """Degrees of the scale with strokes between them are chords behind "Verse 1:" too."""
    text = "Kettle\nin D, 96bpm\n\nVerse 1: 1 / 4 / 1 / 5\nChorus: 4 / 5 / 1 / 1\n"
    first, _ = parts_of(taken(text).chart)
    assert first.music == ["D", "G", "D", "A"]


@pytest.mark.parametrize("said", ["big finish", "FINAL HIT on C"])
def test_what_is_said_alone_under_a_name(said: str) -> None:
    """A line in parentheses alone under a name is said of that section, where what it names is no
    section of the sheet."""
    text = f"verse\n{STANZA}\nchorus\n{STANZA}\nverse\n{STANZA}\nchorus\n({said})\n"
    parts = parts_of(taken(text).chart)
    assert [(part.name, part.cues) for part in parts[2:]] == [("verse", []), ("chorus", [said])]
