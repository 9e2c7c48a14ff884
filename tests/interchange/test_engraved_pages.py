"""Pages of our own without the chart inside: every chord and every word is read off the page.

What there is to read is counted apart from the reader: the example's own strikes and words, as
arranged for the page.
"""

import os
import re
from collections import Counter
from collections.abc import Sequence
from difflib import SequenceMatcher
from functools import lru_cache
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader, PdfWriter

from chartkit.arrange.arrange import arrange
from chartkit.arrange.page_look import PageLook, Sizes
from chartkit.arrange.view import View
from chartkit.chart.model import Chart, Segment
from chartkit.chart.systems import all_systems
from chartkit.compile import engraved_pdf, song_document
from chartkit.interchange.intake_result import IntakeResult, Refused
from chartkit.layout.choices import Choices
from chartkit.layout.frames import Document, Text
from chartkit.pdf.write import pdf_bytes
from chartkit.syntax.write import chart_text
from chartkit.theory.capo import NO_CAPO, Capo
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import codes, reads_back, taken
from tests.interchange.test_musicxml_round_trip import EXAMPLES
from tests.layout.geometry import lines_of

VIEWS = {
    "another capo": (View(capo=Capo(4)), PageLook(form="full")),
    "a second guitar": (View(capo=Capo(3), second_capo=Capo(5)), PageLook(form="full")),
    "a second guitar beside none with a capo": (
        View(capo=NO_CAPO, second_capo=Capo(4)),
        PageLook(form="full"),
    ),
    "diagrams": (View(capo=Capo(2)), PageLook(form="full", diagrams=True)),
    "dark on a tablet": (View(), PageLook(form="full", paper="tablet", dark=True)),
    "large": (View(capo=Capo(3)), PageLook(form="full", large=True)),
    "what sounds alone": (View(capo=Capo(3)), PageLook(form="full", show="sounding")),
    "shapes alone": (View(capo=Capo(3)), PageLook(form="full", show="shapes")),
    "shapes of two guitars": (
        View(capo=Capo(3), second_capo=Capo(5)),
        PageLook(form="full", show="shapes"),
    ),
}
"""Ways to engrave a song whose chords can be read off the page."""
REPORTED = {
    "a second guitar": "second-guitar",
    "shapes of two guitars": "second-guitar",
    "a second guitar beside none with a capo": "second-guitar",
    "diagrams": "diagrams",
}
"""What is left out of a page beside bars, and reported by its code."""
NOTE = {
    name: pitch
    for pitch, names in enumerate(
        (
            ("C", "B♯"),
            ("C♯", "D♭"),
            ("D",),
            ("D♯", "E♭"),
            ("E", "F♭"),
            ("F", "E♯"),
            ("F♯", "G♭"),
            ("G",),
            ("G♯", "A♭"),
            ("A",),
            ("A♯", "B♭"),
            ("B", "C♭"),
        )
    )
    for name in names
}
"""The pitch classes of notes by their names."""


@lru_cache
def example(path: Path) -> tuple[Chart, IntakeResult]:
    """An example, and what is read off its page in type so small that no row is cut."""
    chart = chart_of(path.read_text(encoding="utf-8"))
    _, page = engraved_pdf(chart, View(), PageLook(form="full", size=Sizes(0.85, 0.85)))
    return chart, taken(page)


def sounding(chart: Chart) -> list[str]:
    """What sounds, chord by chord, every section written out."""
    return [
        printed.plain()
        for section in arrange(chart, View(), PageLook(form="full", show="sounding")).sections
        for system in section.systems
        for bar in system.bars
        for strike in bar.strikes
        if (printed := strike.names[-1]) is not None
    ]


def sung_words(chart: Chart) -> list[str]:
    """The words, those parted by hyphens whole, every section written out verse by verse: a row
    that a page cuts in two has its verses in two places."""
    words = []
    for section in arrange(chart, View()).sections:
        verses = max((len(system.words) for system in section.systems), default=0)
        for verse in range(verses):
            segments = (
                segment
                for system in section.systems
                for line in system.words[verse : verse + 1]
                for cell in ((line.pickup,), *line.bars)
                for segment in cell
            )
            # A hyphen at the end of a printed row parts a word as one before a divider does.
            sung = (segment for segment in segments if segment.text)
            words.append("".join(s.text.removesuffix("-") + _gap(s) for s in sung))
    return " ".join(words).split()


def _gap(segment: Segment) -> str:
    return "" if segment.split or segment.text.endswith("-") else " "


def in_order(wanted: Sequence[str], read_words: Sequence[str]) -> int:
    """How many of the wanted are found in their order, at least."""
    matcher = SequenceMatcher(None, wanted, read_words, autojunk=False)
    return sum(block.size for block in matcher.get_matching_blocks())


@pytest.mark.parametrize("name", ["lantern-road", "kettle-on-the-hob"])
def test_two_columns_are_read_as_one(name: str) -> None:
    """A page of two columns gives the sections, chords and words of the same song in one."""
    text = next(path for path in EXAMPLES if path.stem == name).read_text(encoding="utf-8")
    chart, view = chart_of(text), View(capo=Capo(3))
    read = []
    two_columns = Choices(0.85, folded=True, landscape=True, columns=2)
    for choices in (two_columns, Choices(0.85, folded=True)):
        document, fonts = song_document(chart, view, PageLook(), choices=choices)
        read.append(taken(pdf_bytes(document, fonts)).chart)
    two, one = read
    assert [section.name for section in two.sections] == [section.name for section in one.sections]
    assert sounding(two) == sounding(one)
    assert Counter(sung_words(two)) == Counter(sung_words(one))
    assert len(sung_words(two)) > 20


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_chord_and_word_is_read_off_the_page(path: Path) -> None:
    """All chords come back as they sound, in order and no others, and so do all words."""
    chart, result = example(path)
    assert result.format == "PDF"
    assert not any(f.code == "chart-inside" for f in result.findings)
    reads_back(result.chart)
    assert sounding(result.chart) == sounding(chart)
    wanted, read = sung_words(chart), sung_words(result.chart)
    assert in_order(wanted, read) == len(wanted)
    assert len(read) == len(wanted)


@each("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_head_and_the_names_of_sections_are_read(path: Path) -> None:
    """Title, writer, capo, meter and tempo are the song's, sections have their names, and the
    line at the foot of a page is dropped and reported."""
    chart, result = example(path)
    read = result.chart
    for name in ("title", "writer", "capo", "meter", "tempo"):
        assert read.setting(name) == chart.setting(name), name  # type: ignore[arg-type]
    assert [section.name for section in read.sections] == [
        section.name for section in arrange(chart, View()).sections
    ]
    assert any(f.code == "running-heads" for f in result.findings)
    assert not any(" — " in word for word in sung_words(read))


@pytest.mark.parametrize("capo", [-2, 2, 5])
def test_other_capos_and_shapes_alone(capo: int) -> None:
    """Two lines of chords are read as shapes over what sounds at whatever fret; shapes alone
    are read as shapes."""
    path = next(path for path in EXAMPLES if path.stem == "wren-in-the-rafters")
    chart = chart_of(path.read_text(encoding="utf-8"))
    for look in (PageLook(form="full"), PageLook(form="full", show="shapes")):
        result = taken(engraved_pdf(chart, View(capo=Capo.from_number(capo)), look)[1]).chart
        assert result.capo.raised == capo
        assert result.written_as_shapes == (look.show == "shapes")
        assert sounding(result) == sounding(chart)


def pitched(chords: Sequence[str]) -> list[str]:
    """Chord names with the pitch class of each note for its name."""
    return [re.sub(r"[A-G][♭♯]?", lambda m: f"<{NOTE[m[0]]}>", name) for name in chords]


def letters(words: Sequence[str]) -> Counter[str]:
    """How often each letter is there."""
    return Counter(filter(str.isalpha, "".join(words)))


def has_cut_rows(document: Document, chart: Chart) -> bool:
    """Whether there are more rows on the pages than the chart has: long ones had to be cut."""
    printed = sum(len(lines_of(page, "shape", "sounding")) for page in document.pages)
    systems = sum(
        system.music is not None and any(bar.strikes for bar in system.music.bars)
        for systems in all_systems(chart)
        for system in systems
    )
    lines = len(
        {
            i.role
            for p in document.pages
            for i in p.items
            if isinstance(i, Text) and i.role in ("shape", "sounding")
        }
    )
    return printed > systems * lines


WAYS = [
    pytest.param(path, view, id=f"{path.stem}-{view}")
    for number, path in enumerate(EXAMPLES)
    for turn, view in enumerate(VIEWS)
    if (number + turn) % 7 == 0 or os.environ.get("CHARTKIT_EVERY_WAY")
]
"""Each song in every seventh way and each way with every seventh song, since reading all of them
takes half a minute; ``CHARTKIT_EVERY_WAY=1`` takes them all."""


@pytest.mark.parametrize(("path", "view"), WAYS)
def test_every_way_to_engrave_a_song_is_read(path: Path, view: str) -> None:
    """All chords come back as they sound, and no others; all words do, but that rows cut in
    two may part a word or put a second verse behind the first; the head and the sections' names are
    the song's; what is drawn and what else is left out is reported."""
    chart = chart_of(path.read_text(encoding="utf-8"))
    document, pdf = engraved_pdf(chart, *VIEWS[view])
    result = taken(pdf)
    read = result.chart
    reads_back(read)
    assert pitched(sounding(read)) == pitched(sounding(chart))
    wanted, words = sung_words(chart), sung_words(read)
    assert letters(words) == letters(wanted)
    assert words == wanted or has_cut_rows(document, chart)
    for name in ("title", "writer", "meter", "tempo"):
        assert read.setting(name) == chart.setting(name), name  # type: ignore[arg-type]
    played = [value for name in ("feel", "instrument") if (value := chart.text(name))]  # type: ignore[arg-type]
    assert read.text("feel") == ", ".join(played)
    assert [section.name for section in read.sections] == [
        section.name for section in arrange(chart, View()).sections
    ]
    result_codes = codes(result)
    assert "drawn" in result_codes
    assert view not in REPORTED or REPORTED[view] in result_codes


@pytest.mark.parametrize("path", EXAMPLES[::4], ids=lambda path: path.stem)
def test_a_page_of_scale_degrees_is_called_one(path: Path) -> None:
    """A page of scale degrees has no chords that could be read, which is what the line says; its
    cues and words cannot be told apart without them."""
    chart = chart_of(path.read_text(encoding="utf-8"))
    page = engraved_pdf(chart, View(), PageLook(form="full", show="numbers"))[1]
    with pytest.raises(Refused, match="scale degrees, which are not read"):
        taken(page)


@pytest.mark.parametrize("view", ["a second guitar", "dark on a tablet"])
def test_a_page_of_ours_that_another_program_saved(view: str) -> None:
    """A page of ours is known by what it says where it no longer says who made it."""
    path = next(path for path in EXAMPLES if path.stem == "wren-in-the-rafters")
    chart = chart_of(path.read_text(encoding="utf-8"))
    writer = PdfWriter(clone_from=PdfReader(BytesIO(engraved_pdf(chart, *VIEWS[view])[1])))
    writer.add_metadata({"/Creator": "another"})
    out = BytesIO()
    writer.write(out)
    result = taken(out.getvalue())
    assert sounding(result.chart) == sounding(chart)
    assert "drawn" in codes(result)


def test_the_head_of_a_page_gives_title_and_writer() -> None:
    """A writer who stands on the title's line is none of the title, and what the head says of
    signs over chords is no writer: it is reported."""
    text = "title: The Long Umbrella\nwriter: Trad. arr. Pell\nkey: D\n\n== A\nD! | G! A | D |\n"
    result = taken(engraved_pdf(chart_of(text), View(), PageLook(form="full"))[1])
    assert result.chart.setting("title") == "The Long Umbrella"
    assert result.chart.setting("writer") == "Trad. arr. Pell"
    assert any("stopped short" in one.message for one in result.findings)


ONE_VERSE_AN_ENDING = """\
title: Seven Umbrellas
key: Bb major

== Intro
| Bb / Gm7 / | Bb / F7 / |

== A
|: Bb6 | G7 | C7 | F7 | Bb6 | G7 |1. Bb/F G7 | C7 F7 :|2. Bb/F F7 | Bb6 ||
1: | Seven | took the | long way | around by the | harbour | wall | fish and the | bees / oh | | |
2: | Eight | never | came to the | end of the | harbour | wall | | | shin- / ing in | Spain |
"""


def test_a_verse_without_words_in_an_ending_is_no_remark() -> None:
    """The number of a verse alone over another verse's words is no ending's number."""
    result = taken(engraved_pdf(chart_of(ONE_VERSE_AN_ENDING), View(), PageLook(form="full"))[1])
    text = chart_text(result.chart)
    assert "shin- / ing in / Spain" in text
    assert text.count('"1. 2."') == 1 and text.count("1.") == 1
