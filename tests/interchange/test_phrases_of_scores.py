"""Where rows of a score begin, by the phrases that are sung.

Common practice, no source: a row begins with a phrase, and phrases show by capitals, by signs and
by rests, of which two together leave no doubt.
"""

from chartkit.chart.model import MusicRow, WordsRow
from chartkit.syntax.write import chart_text
from tests.each import each
from tests.interchange.reading import reads_back, taken
from tests.interchange.scores import score


def _song(lines: list[str]) -> bytes:
    """A song of some lines; the words of each bar stand between strokes, "_" is a rest of a half
    note, and an upbeat stands behind "<"."""
    bars = []
    for bar in (bar for line in lines for bar in line.split("|")):
        notes = bar.split()
        length = 16 // len(notes)
        bars.append(
            " ".join(f"r{length}" if word == "_" else f"n{length}:{word}" for word in notes)
        )
    chords = ("C", "F", "G7", "Am")
    body = "\n".join(f"<{chords[i % 4]}> {bar}" for i, bar in enumerate(bars))
    return score(f"time=4/4 {body}")


def _rows(lines: list[str]) -> list[int]:
    chart = taken(_song(lines)).chart
    reads_back(chart)
    rows = (row for section in chart.sections for row in section.rows)
    return [len(row.bars) for row in rows if isinstance(row, MusicRow)]


_FOUR = "low tide|far out|and home"
_CASES: dict[str, tuple[list[str], list[int]]] = {
    "five bars each, capitals and full stops": (
        [f"When the|{_FOUR}|again.", f"Then the|{_FOUR}|again."],
        [5, 5],
    ),
    "five bars each, capitals alone": (
        [f"When the|{_FOUR}|again"] * 3,
        [5, 5, 5],
    ),
    "seven bars and four": (
        [f"When the|{_FOUR}|out there|all|night.", f"Then the|{_FOUR}"],
        [4, 3, 4],
    ),
    "three bars each, rests behind": (
        ["When the|low tide|goes _", "Then the|lamp goes|out _"] * 2,
        [3, 3, 3, 3],
    ),
    "two bars each": (["When the|tide.", "Then the|lamp."] * 4, [4, 4, 4, 4]),
    "commas and rests inside": (
        ["when the|low, _|far out|tide _", "then the|far, _|low lamp|out _"],
        [4, 4],
    ),
    "a name in a bar": (
        [f"When the|{_FOUR}", "and|for Ivo|the lamp|out", f"So the|{_FOUR}", "and|for Ivo|the|sea"],
        [4, 4, 4, 4],
    ),
    "a capital at the very end": (
        ["when the|tide is|low, my|lamp, Ann", "when the|moon is|far. my|lamp. Ann"],
        [4, 4],
    ),
    "sentences that end inside lines": (
        ["When the|low tide|calls! and|they go|home", "Then the|lamp|burns! and|all is|well"] * 2,
        [5, 5, 5, 5],
    ),
    "a day and a last cry": (
        ["Tin kettle|on the|hook of|Sunday,|come un-|done at|last.|Ah."],
        [4, 4],
    ),
    "a town and a last cry, no signs": (
        ["Slow ferry|down to|Calder|we go|by and|by and|home to|Rosa"],
        [4, 4],
    ),
    "a name in mid-phrase, then a line": (
        ["Slow ferry|for old|and poor|Marta, tide|comes in|and goes|away.|Oh.|low _|tide|and|far"],
        [4, 4, 4],
    ),
    "a breath in mid-phrase": (["la lee|lo loo|li. _|low lay|la lee|lo loo|li ly|lay low"], [4, 4]),
    "two names, each three bars later": (
        ["calle vieja|que va|hasta|Lima y|yo te|digo a|Rosa|hoy", "Calle|y|mar|y"],
        [4, 4, 4],
    ),
    "a last word after four bars": (["la lee|lo|li|lu.|Amen."], [5]),
    "a last word after eight bars": (["la lee|lo|li|lu|la|lo|li|lu.|Amen."], [4, 5]),
    "six bars with a comma behind two": (
        ["write it|out, then|write it|all|out|now"],
        [4, 2],
    ),
    "two lines of two bars and four": (
        ["Low tide|calls.", "When the|lamp is|lit we|go."],
        [2, 4],
    ),
    "a last cry after five bars": (["low tide|and far|lamp on|the far|side.|Ah."], [4, 2]),
    "a short phrase before a long one, again and again": (
        ["When the|low tide|goes.", "Then the|lamp|burns as|all is|well."] * 2,
        [3, 5, 3, 5],
    ),
    "quotes before capitals": (
        ["“When the|low tide|goes far|out and|home", "“Then the|lamp|burns as|all is|well"] * 2,
        [5, 5, 5, 5],
    ),
    "lines that begin with I or O-": (
        [
            "When the|low tide|goes far|out and|home.",
            "I saw|lamps|burn as|all was|well.",
            "O- ver|all the|sea the|night is|still.",
        ]
        * 2,
        [5, 5, 5, 5, 5, 5],
    ),
    "three bars each, full stops alone": (
        ["when the|low tide|calls.", "then the|lamp|burns.", "all is|well at|home."] * 2,
        [3, 3, 3, 3, 3, 3],
    ),
    "five bars each, rests alone": (
        ["when the|low tide|goes far|out and|home _", "then the|lamp|burns as|all is|well _"] * 2,
        [5, 5, 5, 5],
    ),
    "names inside three-bar lines that end with full stops": (
        ["when Ann|goes far|home.", "so our|Ivo calls|well.", "then the|lamp|burns."] * 2,
        [3, 3, 3, 3, 3, 3],
    ),
    "nouns with capitals": (
        ["Wenn die|Flut im|tiefen|Hafen", "und das|Licht am|alten|Turm"],
        [4, 4],
    ),
}


@each(
    ("song", "wanted"),
    [
        # as long as the song's own upbeat
        ("imp no=0 n4:oh\n{0}\n{0}\n{0}\n<G> n12:sea n4:my\n{0}\n{0}", "my"),
        # after a sign, and after a rest
        ("{0}\n{0}\n{0}\n<G> n8:sea, n8:my\n{0}\n{0}", "my"),
        ("{0}\n{0}\n{0}\n<G> n8:sea r4 n4:my\n{0}\n{0}", "my"),
        # one that is tied to the first note of the row
        ("{0}\n{0}\n{0}\n<G> n8:sea, n8:my\n<C> n8 n8:lo\n{0}", "my"),
        # one whose word goes on in the second bar of the row
        ("{0}\n{0}\n{0}\n<G> n8:sea, n8:my-\n<C> n16\n<F> n16:self\n{0}", "my"),
        # nothing shows one; a chord is struck with it; a word goes on
        ("{0}\n{0}\n{0}\n<G> n8:sea n8:my\n{0}\n{0}", ""),
        ("{0}\n{0}\n{0}\n<G> n8:sea, <F> n8:my\n{0}\n{0}", ""),
        ("{0}\n{0}\n{0}\n<G> n8:so- n8:my\n{0}\n{0}", ""),
        # one that a rest shows is not parted by the length of the song's own upbeat
        ("imp no=0 n4:oh\n{0}\n{0}\n{0}\n<G> n4:sea r4 n4:oh n4:my\n{0}\n{0}", "oh my"),
        ("imp no=0 n4:oh\n{0}\n{0}\n{0}\n<G> n4:sea r4 <F> n4:oh n4:my\n{0}\n{0}", ""),
    ],
)
def test_upbeats_stand_before_their_rows(song: str, wanted: str) -> None:
    """What is sung before a phrase stands before the first bar of its row."""
    chart = taken(score(f"time=4/4 {song.format('<C> n8:la n8:li')}")).chart
    reads_back(chart)
    rows = [row for s in chart.sections for row in s.rows if isinstance(row, WordsRow)]
    bars = [row for s in chart.sections for row in s.rows if isinstance(row, MusicRow)]
    before = rows[1].cells[0] if len(rows[1].cells) > len(bars[1].bars) else ()
    assert "".join(segment.text for segment in before) == wanted


@each("name", sorted(_CASES))
def test_rows_begin_with_phrases(name: str) -> None:
    """Each row has the bars that a musician would write in it."""
    lines, wanted = _CASES[name]
    assert _rows(lines) == wanted


@each(
    ("song", "wanted"),
    [
        # the bar after the last ending, alone
        ("|: {C}\n{C}\n{C}\n1[ {F} :| ]1\n2[ {F} ]2\n{G}", [4, 2]),
        ("|: {C}\n{C}\n{C}\n1[ {F} :| ]1\n2[ {F} || ]2\n{G}", [4, 2]),
        ("|: {C}\n{C}\n{C}\n{C}\n1[ {F}\n{G} :| ]1\n2[ {F}\n{G} ]2\n{C}\n[B] {F}", [4, 2, 3, 1]),
        # a phrase after it; nothing after it
        ("|: {C}\n{C}\n{C}\n1[ {F} :| ]1\n2[ {F} ]2\n{G}\n{C}\n{F}\n{C}", [5, 4]),
        ("|: {C}\n{C}\n{C}\n1[ {F} :| ]1\n2[ {F} ]2", [5]),
    ],
)
def test_the_bar_after_a_last_ending(song: str, wanted: list[int]) -> None:
    """One bar that is left after the last ending stands beside that, in the second row."""
    chords = {name: f"<{name}> n16:la" for name in "CFG"}
    chart = taken(score(f"time=4/4 {song.format(**chords)}")).chart
    reads_back(chart)
    rows = [row for s in chart.sections for row in s.rows if isinstance(row, MusicRow)]
    assert [len(row.bars) for row in rows] == wanted


_SAYS = (
    '<identification><encoding><supports element="print" attribute="new-system" type="yes" '
    'value="yes"/></encoding></identification>'
)


@each(
    ("sung", "systems", "wanted"),
    [
        # as many bars as there is room for
        (True, [5, 5, 2], [4, 4, 4]),
        (True, [3, 4, 4, 1], [4, 4, 4]),
        (False, [5, 5, 2], [4, 4, 4]),
        # a phrase or two, or half of one
        (True, [4, 8], [4, 8]),
        (True, [4, 4, 4], [4, 4, 4]),
        (False, [6, 6], [6, 6]),
        (False, [2, 2, 2, 2, 2, 2], [2, 2, 2, 2, 2, 2]),
    ],
)
def test_systems_are_rows_where_phrases_begin(
    sung: bool, systems: list[int], wanted: list[int]
) -> None:
    """Rows are the systems of a score that says so, unless these begin within phrases."""
    starts = {sum(systems[:i]) for i in range(1, len(systems))}
    words = [":Down", ":low", ":tide", ":out"] if sung else [""]
    bars = (
        "newrow " * (i in starts) + f"<{'CFG'[i % 3]}> n8{words[i % len(words)]} n8"
        for i in range(12)
    )
    chart = taken(score("time=4/4 " + "\n".join(bars), head=_SAYS)).chart
    reads_back(chart)
    rows = [row for s in chart.sections for row in s.rows if isinstance(row, MusicRow)]
    assert [len(row.bars) for row in rows] == wanted


def test_systems_that_end_with_a_fermata_are_rows() -> None:
    """Where no phrase is known by its words, a fermata at the end of each system shows them."""
    bars = [f"<{'CFG'[i % 3]}> n8:low n8:tide" for i in range(12)]
    for end in (5, 9):
        bars[end - 1] += "*fermata"
        bars[end] = f"newrow {bars[end]}"
    bars = [bar.replace(":tide*fermata", "*fermata:tide") for bar in bars]
    chart = taken(score("time=4/4 " + "\n".join(bars), head=_SAYS)).chart
    rows = [row for s in chart.sections for row in s.rows if isinstance(row, MusicRow)]
    assert [len(row.bars) for row in rows] == [5, 4, 3]


_LINE = "<C> n16:la\n<F> n16:lo\n<G7> n16:li\n<C> n16:lu"
_PICK_UP = '"pick-up" G7 | C | F | G7 | C |'


@each(
    ("song", "wanted"),
    [
        ("imp no=0 <G7> n4:oh\n[A] {0}", ["== A", _PICK_UP]),
        ("imp no=0 <G7> n4:oh\n[Verse] {0}\n[Chorus] {0}", ["== Verse", _PICK_UP, "== Chorus"]),
        ('imp no=0 <G7> n4:oh\n[A] "♩_=_96" {0}', ["tempo: 96", "== A", _PICK_UP]),
        ("imp no=0 [Intro] <G7> n4:oh\n[A] {0}", ["== Intro", '"pick-up" G7 |', "== A"]),
        ("[A] {0} ||\nimp no=X1 <G7> n4:oh\n[B] {0}", ["== A", "== B", _PICK_UP]),
    ],
)
def test_a_pick_up_with_a_chord_belongs_to_its_section(song: str, wanted: list[str]) -> None:
    """The name of a section over the first full bar is that of the pick-up too."""
    chart = taken(score(f"time=4/4 {song.format(_LINE)}")).chart
    reads_back(chart)
    lines = [" ".join(line.split()) for line in chart_text(chart).splitlines()]
    found = iter(lines)
    assert all(one in found for one in wanted), lines
    assert lines.count('"pick-up" G7 |') == wanted.count('"pick-up" G7 |')
