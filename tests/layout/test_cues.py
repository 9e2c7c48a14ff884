"""Texts and signs over the rows: cues of any length, signs over one another."""

import pytest

from chartkit.arrange.page_look import PageLook, PaperName
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Glyph, Page, Shape, Stroke, Text
from chartkit.layout.outlines import glyph_aspect
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged, sized
from tests.each import each
from tests.layout.geometry import box_of, off_page, overlapping

METRICS = Fonts()
LONG = (
    "the whole band waits for the singer to finish laughing before the next bar, "
    "every night, without exception, as long as it takes them"
)


def cues(document: Document) -> list[Text]:
    """The lines of cues, from the top."""
    return [cue for page in document.pages for cue in cues_of(page)]


def cues_of(page: Page) -> list[Text]:
    """The lines of cues on a page, from the top."""
    found = (i for i in page.items if isinstance(i, Text) and i.role == "cue")
    return sorted(found, key=lambda i: i.y)


def test_a_long_cue_stands_in_lines_of_readable_type() -> None:
    """It is as large as a short one, keeps off the bar number and touches nothing; only one that
    would take more than three lines is set smaller."""
    for row in (f'"{LONG}"\n| C | F |', f'| C "{LONG}" | F |'):
        text = f"key: C\n\n== Verse\n| G | G |\n{row}\n\n" + '"short"\n| C | F |\n'
        for paper in ("a4", "tablet"):
            document = laid_out(arranged(text), sized(1.2, paper), METRICS)  # type: ignore[arg-type]
            *lines, short = cues(document)
            assert 1 < len(lines) <= 3
            assert " ".join(line.plain for line in lines) == LONG
            assert {line.pieces[0].size for line in lines} == {short.pieces[0].size}
            assert {line.x for line in lines} == {lines[0].x}
            assert overlapping(document.pages[0]) == off_page(document.pages[0]) == []
    *lines, short = cues(laid_out(arranged(text.replace(LONG, LONG * 4)), sized(1.2), METRICS))
    assert len(lines) == 3
    assert lines[0].pieces[0].size < short.pieces[0].size


def test_a_cue_before_a_later_beat_stands_at_that_beat() -> None:
    """It begins over its chord and may run over the bar line (common practice, no source)."""
    text = 'key: C\n\n| C / / "one two three four, and in" F | G / "bass" Am / |\n'
    page = laid_out(arranged(text), sized(1.0), METRICS).pages[0]
    chords = {i.plain: i.x for i in page.items if isinstance(i, Text) and i.role == "sounding"}
    found = {cue.plain.split()[0]: cue for cue in cues_of(page)}
    assert found["one"].x == pytest.approx(chords["F"])
    assert found["one"].x + found["one"].width > chords["G"]
    assert found["bass"].x == pytest.approx(chords["Am"])
    assert overlapping(page) == off_page(page) == []


@pytest.mark.parametrize("paper", ["a4", "tablet", "phone", "phone-side"])
def test_a_cue_before_the_last_beat_of_a_row_is_near_it(paper: PaperName) -> None:
    """Where the row ends too soon for it, its lines are short; none stands before the beat in
    front of its own, and no word is cut."""
    said = "one two three four"
    text = f'key: C\n\n| C | F | C F G "{said}" Am |\n'
    page = next(filter(cues_of, laid_out(arranged(text), sized(1.0, paper), METRICS).pages))
    chords = [i for i in page.items if isinstance(i, Text) and i.role == "sounding"]
    lines = cues_of(page)
    assert " ".join(line.plain for line in lines) == said
    *_, before, _last = chords
    assert all(line.x > before.x for line in lines)
    assert overlapping(page) == off_page(page) == []


def test_a_cue_of_one_word_wider_than_the_line_is_on_the_page() -> None:
    """Before a later beat as well it is set as any long cue is."""
    text = f'key: C\n\n| C / "{"twice" * 60}" F / |\n'
    page = laid_out(arranged(text), sized(1.0), METRICS).pages[0]
    assert off_page(page) == overlapping(page) == []
    assert "".join(i.plain.rstrip("-") for i in cues_of(page)) == "twice" * 60


def test_nothing_stands_between_the_lines_of_a_cue() -> None:
    """A short cue beside a long one takes a level over it or under it."""
    text = f'key: C\n\n== Verse\n| G | G |\n| "in" C | "{LONG}" F | "out" G | C |\n'
    page = laid_out(arranged(text), sized(1.2), METRICS).pages[0]
    lines = [i for i in cues_of(page) if i.plain not in ("in", "out")]
    others = [i for i in cues_of(page) if i.plain in ("in", "out")]
    assert all(not lines[0].y < other.y < lines[-1].y for other in others)
    assert overlapping(page) == []


def test_a_fermata_stands_over_the_sign_of_its_chord() -> None:
    """Both are in the middle over the root, however long the name is."""
    document = laid_out(
        arranged("key: C\n\n== Verse\n| C | F#m7b5~ @fermata |\n"), PageLook(), METRICS
    )
    items = document.pages[0].items
    (fermata,) = [i for i in items if isinstance(i, Glyph) and i.name == "fermata"]
    ring = max(
        (i for i in items if isinstance(i, Shape) and len(i.points) == 4),
        key=lambda i: box_of(i)[1],
    )
    middle = fermata.x + fermata.height * glyph_aspect("fermata") / 2
    assert abs(middle - (box_of(ring)[0] + box_of(ring)[2]) / 2) < 0.1


def over_last(row: str) -> tuple[float, float]:
    """How far the sign over the last chord of a row, and the mark over it, stand over the chord."""
    document = laid_out(arranged(f"key: C\n\n== A\n{row}\n"), sized(1.0), METRICS)
    items = document.pages[0].items
    (chord,) = (i for i in items if isinstance(i, Text) and i.plain == "G")
    holds = [chord.y - i.y for i in items if isinstance(i, Glyph)]
    marks = [
        chord.y - max(y for _, y in i.points)
        for i in items
        if isinstance(i, Shape) and len(i.points) == 3
    ]
    return min(holds, default=0.0), min(marks, default=0.0)


def test_a_hold_stands_over_its_chord_beside_beams() -> None:
    """Beams and numbers of other bars push no sign away from the chord it belongs to."""
    plain, _ = over_last("| C | F | G @fermata |")
    beside, _ = over_last("| C,F C,F,C / / | F | G @fermata |")
    assert abs(beside - plain) < 0.01 < plain


@each("other", ("G~", "<G", "G!"))
def test_a_hold_stands_over_its_chord_beside_signs(other: str) -> None:
    """Nor do the signs over other chords: a player sees one sign over the chord that is held."""
    text = f"key: C\n\n== A\n| C | F @fermata | {other} |\n"
    heights = []
    for row in (text, text.replace(other, "G")):
        items = laid_out(arranged(row), sized(1.0), METRICS).pages[0].items
        (chord,) = (i for i in items if isinstance(i, Text) and i.plain == "F")
        (hold,) = (i for i in items if isinstance(i, Glyph) and i.name == "fermata")
        heights.append(chord.y - hold.y)
    beside, plain = heights
    assert abs(beside - plain) < 0.01


def test_a_mark_stands_on_its_stem_beside_a_tuplet() -> None:
    """The number of a tuplet takes its room from the marks under it alone."""
    _, without = over_last("| C,F C / <G |")
    _, beside = over_last("| C,F,C C / <G |")
    assert abs(beside - without) < 0.01


def test_no_hyphen_stands_under_a_time_signature() -> None:
    """The hyphen of a split pick-up stands before the bar line: under the meter it looks like a
    sign of it."""
    text = "key: C\n\n== A\n| C | F |\n: Hip- | pos and | cats |\n"
    (page,) = laid_out(arranged(text), sized(1.0), METRICS).pages
    assert overlapping(page) == []
    (hyphen,) = (i for i in page.items if isinstance(i, Text) and i.role == "hyphen")
    (meter,) = (i for i in page.items if isinstance(i, Text) and i.role == "opening-meter")
    assert hyphen.x + hyphen.width <= meter.x


def test_a_cue_of_a_late_bar_begins_at_its_bar() -> None:
    """However long, a cue before a bar's first beat stands over that bar, never over the one
    before it: in lines where the row ends too soon (common practice, no source)."""
    said = "organ swells from nothing to full over this bar"
    text = f'key: C\n\n| C | F | "{said}" G7sus4 | C |\n'
    page = laid_out(arranged(text), sized(1.0), METRICS).pages[0]
    (chord,) = (i.x for i in page.items if isinstance(i, Text) and i.plain.startswith("G"))
    lines = cues_of(page)
    assert " ".join(line.plain for line in lines) == said
    assert [line.x for line in lines] == [pytest.approx(chord)] * len(lines)


def test_cues_of_one_row_stand_side_by_side() -> None:
    """A cue that is too long for the room to the next one has lines within that room, so that each
    begins over its own bar and its last line is close over the chords (common practice, no
    source)."""
    first, second = (
        "everybody out except the voice and a soft kick",
        "organ swells from nothing to full",
    )
    text = f'key: C\n\n| G |\n| "{first}" C | F | "{second}" G7sus4 | C "fill" |\n'
    for paper in ("letter", "tablet"):
        page = laid_out(arranged(text), sized(1.6, paper), METRICS).pages[0]  # type: ignore[arg-type]
        chords = [i.x for i in page.items if isinstance(i, Text) and i.role == "sounding"]
        lines = cues_of(page)
        over = [[one for one in lines if one.x == pytest.approx(chords[i])] for i in (1, 3)]
        assert [" ".join(one.plain for one in part) for part in over] == [first, second]
        assert len(over[0]) > 1
        assert len({part[-1].y for part in over} | {lines[-1].y}) == 1
        assert overlapping(page) == off_page(page) == []


def test_notes_that_are_sentences_have_lines_of_their_own() -> None:
    """Short notes share a line, parted by a dot in the middle, but none follows a full stop."""
    text = "key: C\nnote: swing it\nnote: no drums\nnote: Wait for her.\nnote: loud\n\n| C |\n"
    page = laid_out(arranged(text), sized(1.0), METRICS).pages[0]
    notes = [i.plain for i in page.items if isinstance(i, Text) and i.role == "note"]
    assert notes == ["swing it · no drums · Wait for her.", "loud"]


@each("large", [False, True])
def test_jumps_are_read_from_as_far_as_chords(large: bool) -> None:
    """Where a mark or the end of a section leads is read from the distance of the chords: words of
    jumps are at least 0.8 of their size, and notes as large as sung words."""
    text = (
        "key: C\n\n== Verse\n| C | G |\n: oh | la |\n\n== Bridge\n| F | F |\n\n== Verse\n\n"
        "== Solo\n@segno | C | F @to-coda | G @D.S. al coda |\n\n== Coda\n@coda | C |\n"
    )
    page = laid_out(arranged(text), PageLook(large=large, form="folded"), METRICS).pages[0]
    texts = [i for i in page.items if isinstance(i, Text)]
    sizes = {role: {i.pieces[0].size for i in texts if i.role == role} for role in ROLES}
    assert {i.plain for i in texts if i.role == "direction"} == {"To Coda", "D.S. al Coda"}
    assert min(sizes["direction"]) >= 0.8 * max(sizes["sounding"])
    assert sizes["follows"] == sizes["words"]
    assert overlapping(page) == off_page(page) == []


ROLES = ("direction", "sounding", "follows", "words")


@each("bars", ["C / / / | F,G Am / /", "C / / / | F! r r <G", "C / / / | F,G,F Am! r r"])
def test_a_cue_stands_nearer_to_its_own_bar_than_to_the_row_before(bars: str) -> None:
    """Beams and signs of another bar do not lift it away from the chords it is said of."""
    text = f'key: C\nmeter: 4/4\n\n| C | F | G | C |\n: la | la | la | la |\n"quiet"\n| {bars} |\n'
    page = laid_out(arranged(text), sized(1.0), METRICS).pages[0]
    (cue,) = cues_of(page)
    texts = [i for i in page.items if isinstance(i, Text)]
    before = max(i.y for i in texts if i.role == "words")
    chord = min(i.y - i.pieces[0].size for i in texts if i.role == "sounding" and i.y > cue.y)
    assert chord - cue.y < 8
    assert cue.y - cue.pieces[0].size - before > chord - cue.y
    assert overlapping(page) == off_page(page) == []


def test_a_cue_stays_over_the_stems_of_its_bar() -> None:
    """It sinks only where nothing stands under it."""
    text = 'key: C\nmeter: 4/4\n\n| C | F |\n"quiet"\n| F,G Am / / | C / / / |\n'
    page = laid_out(arranged(text), sized(1.0), METRICS).pages[0]
    (cue,) = cues_of(page)
    upright = [i for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1]
    stems = [i for i in upright if i.thickness == 0.9]
    assert stems and cue.y < min(min(i.y0, i.y1) for i in stems)
