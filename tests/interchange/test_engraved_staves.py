"""Pages as notation programs engrave them: staves with clefs, meters, numbers of measures and
stems, chords above, one or two verses below.

Where engravers put things is common practice, no source.
"""

from collections.abc import Sequence

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.staves import METER, Staff, staves_of, without_signs
from tests.each import each
from tests.interchange.pages import pages
from tests.interchange.reading import body, codes, reads_back, taken

_GAP, _LEFT, _RIGHT = 6.0, 60.0, 545.0
Bars = Sequence[tuple[str, str]]
"""The chords and the syllables of each bar."""
SYSTEMS: Sequence[Bars] = (
    (("C", "Low is the tide"), ("Am", "lan- terns are"), ("F G7", "home to- night my"), ("C", "x")),
    (("F", "no- bo- dy"), ("", "knows where we"), ("Dm7 G7", "sail to- night my"), ("C", "dear")),
)
BODY = (
    "| C | Am | F G7 | C |\n: | Low is the tide | lan- terns are | home to- / night my | x |\n"
    "| F | / / / / | Dm7 G7 | C |\n: | no- bo- dy | knows where we | sail to- / night my | dear |"
)


class Engraver:
    """Draws a page; ``boxes`` draws lines as thin boxes, ``repeat`` a second line behind the clef,
    ``piano`` a second staff, ``verses`` so many lines of words, ``meter`` its two numbers;
    ``endings`` are the numbers over bars, by system and bar."""

    def __init__(
        self,
        boxes: bool = False,
        repeat: bool = False,
        piano: bool = False,
        verses: int = 1,
        meter: str = "44",
        centred: bool = False,
        endings: dict[tuple[int, int], str] | None = None,
    ) -> None:
        self.endings = endings or {}
        self.boxes, self.repeat, self.piano = boxes, repeat, piano
        self.verses, self.meter, self.centred = verses, meter, centred

    def __call__(self, canvas: Canvas) -> None:
        """Draws everything."""
        canvas.setFont("Times-Bold", 22)
        canvas.drawCentredString(300, 800, "Harbour Lamp")
        for number, bars in enumerate(SYSTEMS):
            self._system(canvas, 690 - number * (150 + 60 * self.piano), number, bars)

    def _line(self, canvas: Canvas, x: float, y: float, to_x: float, to_y: float) -> None:
        if self.boxes:
            canvas.rect(x, y, max(0.6, to_x - x), max(0.6, to_y - y), stroke=0, fill=1)
        else:
            canvas.line(x, y, to_x, to_y)

    def _system(self, canvas: Canvas, y: float, number: int, bars: Bars) -> None:
        top, low = y + 4 * _GAP, y - 60 if self.piano else y
        for staff in (y, low) if self.piano else (y,):
            for line in range(5):
                self._line(canvas, _LEFT, staff + line * _GAP, _RIGHT, staff + line * _GAP)
        canvas.setFont("Times-Roman", 26)
        canvas.drawString(_LEFT + 4, y + 2, "&")
        canvas.setFont("Times-Bold", 14)
        for figure, at in zip(self.meter if not number else "", (2 * _GAP, 0), strict=False):
            canvas.drawString(_LEFT + 26, y + at, figure)
        canvas.setFont("Times-Italic", 7)
        canvas.drawString(_LEFT - 2, top + 4, str(4 * number + 1))
        self._line(canvas, _LEFT, low, _LEFT, top)
        start, wide = _LEFT + 45, (_RIGHT - _LEFT - 45) / len(bars)
        if self.repeat:
            self._line(canvas, start, low, start, top)
        for i, (chords, words) in enumerate(bars):
            self._bar(canvas, start + i * wide, y, wide, chords.split(), words.split())
            canvas.setFont("Times-Roman", 8)
            canvas.drawString(start + i * wide + 5, top + 28, self.endings.get((number, i), ""))
            self._line(canvas, start + (i + 1) * wide, low, start + (i + 1) * wide, top)

    def _bar(
        self, canvas: Canvas, x: float, y: float, wide: float, chords: list[str], words: list[str]
    ) -> None:
        canvas.setFont("Times-Roman", 12)
        for i, name in enumerate(chords):
            canvas.drawString(x + 8 + i * (wide - 8) / len(chords), y + 4 * _GAP + 14, name)
        canvas.setFont("Times-Roman", 9)
        for verse in range(self.verses):
            for i, word in enumerate(words):
                at = x + 8 + i * (wide - 8) / 4
                at -= stringWidth(word, "Times-Roman", 9) / 2 - 3 if self.centred else 0
                canvas.drawString(at, y - 16 - 12 * verse, word)
        for i in range(4):
            at, head = x + 11 + i * (wide - 8) / 4, y + (i * 5) % 9 * _GAP / 2
            canvas.ellipse(at - 3, head - 2, at + 3, head + 2, stroke=0, fill=1)
            self._line(canvas, at + 3, head, at + 3, head + 3.5 * _GAP)


WAYS = {
    "lines": Engraver(),
    "boxes": Engraver(boxes=True),
    "the start of a repeat behind the clef": Engraver(repeat=True),
    "a piano's staff below": Engraver(piano=True),
    "syllables in the middle of their notes": Engraver(centred=True),
}


@each("name", sorted(WAYS))
def test_staves_are_read_bar_by_bar(name: str) -> None:
    """Chords and words stand in their bars, however lines are drawn; clefs, meters and the numbers
    of measures are no words."""
    result = taken(pages(WAYS[name]))
    assert body(result.chart) == BODY
    assert "bars-drawn" in codes(result)
    reads_back(result.chart)


def test_two_verses_under_a_staff() -> None:
    """Two lines of words under a staff are verses, each word under its chord."""
    read = body(taken(pages(Engraver(verses=2))).chart)
    first = BODY.splitlines()[1]
    assert read.splitlines()[1:3] == [f"1{first}", f"2{first}"]


def test_numbers_of_endings_over_a_staff() -> None:
    """Numbers over bars are those of endings; a second one closes the repeat before it, in the
    same row or in the row above.  A number alone, without a first ending, is none."""
    read = body(taken(pages(Engraver(endings={(0, 2): "1.", (0, 3): "2."}))).chart)
    assert read.startswith("| C | Am |1. F G7 :|2. C |\n")
    read = body(taken(pages(Engraver(endings={(0, 3): "1.", (1, 0): "2., 3."}))).chart)
    assert [line for line in read.splitlines() if line[0] == "|"] == [
        "| C | Am | F G7 |1. C :|",
        "|2.3. F | / / / / | Dm7 G7 | C |",
    ]
    read = body(taken(pages(Engraver(endings={(1, 0): "2."}))).chart)
    assert ":|" not in read and "|2." not in read


@pytest.mark.parametrize(("figures", "meter"), [("34", "3/4"), ("68", "6/8"), ("44", "4/4")])
def test_the_meter_is_that_of_the_staff(figures: str, meter: str) -> None:
    """Two numbers one above the other at the left of a staff are the meter of the song."""
    assert str(taken(pages(Engraver(meter=figures))).chart.meter) == meter


def _sign(text: str, x: float, y: float) -> TextRun:
    return TextRun(page=1, x=x, y=y, size=20, text=text, advances=(5.0,) * len(text))


def test_signs_of_music_fonts() -> None:
    """Figures of a music font make a meter too (SMuFL 1.4, from memory); heads of notes go, and
    words between two staves stay."""
    staves = [Staff(100, 124, 60, 500), Staff(40, 64, 60, 500)]
    meter = [_sign("\ue083", 90, 118), _sign("\ue084", 90, 106)]
    rest = [_sign("\ue0a4", 200, 140), _sign("my", 200, 80), _sign("Voice", 20, 110)]
    kept = without_signs([*meter, *rest], staves, Findings())
    assert [(one.text, one.mark) for one in kept] == [("3/4", METER), ("my", ""), ("Voice", "")]


def test_notes_on_leger_lines() -> None:
    """What stands near a staff in the large type of its signs goes; chords and words stay."""
    staff = Staff(100, 124, 60, 500)
    notes = [_sign("œ", 200, 112), _sign("œ", 220, 88), _sign("b", 240, 134)]
    words = [
        TextRun(page=1, x=x, y=y, size=11, text=text, advances=(5.0,) * len(text))
        for x, y, text in ((200, 136, "C"), (200, 84, "oh"), (240, 84, "low"), (280, 84, "tide"))
    ]
    kept = without_signs([*notes, *words], [staff], Findings())
    assert [one.text for one in kept] == ["C", "oh", "low", "tide"]


def test_changes_of_the_meter_are_reported() -> None:
    """One meter is read; others that stand on the staves are named as left out."""
    findings = Findings()
    signs = [_sign("4", 90, 112), _sign("4", 90, 100), _sign("3", 300, 112), _sign("4", 300, 100)]
    (kept,) = without_signs(signs, [Staff(100, 124, 60, 500)], findings)
    assert kept.text == "4/4"
    assert [one.code for one in findings.collected] == ["drawn-meter"]


def test_what_five_lines_make_a_staff() -> None:
    """Five lines at one distance, though drawn measure by measure, or six of a tablature; neither
    a table's rows far apart nor four lines."""
    staff = [(100.0 + 6 * line, 60 + 120 * i, 170 + 120 * i) for line in range(5) for i in (0, 1)]
    assert staves_of(staff) == [Staff(100, 124, 60, 290)]
    assert staves_of([(100.0 + 8 * line, 60, 500) for line in range(6)]) == [
        Staff(100, 140, 60, 500)
    ]
    assert staves_of([(100.0 + 20 * line, 60, 500) for line in range(5)]) == []
    assert staves_of([(100.0 + 6 * line, 60, 500) for line in range(4)]) == []
