"""Reading and writing scores and texts takes work in step with what is in them."""

from collections.abc import Callable
from functools import partial
from itertools import islice, product
from time import process_time

import pytest

from chartkit.diagnostics import Source
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.musicxml.read import read_musicxml
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.interchange.text.read import read_sheet
from chartkit.syntax.reader import read_chart
from chartkit.syntax.symbol import chord_or_none
from tests.work import steps

_ROW = "| C | F | G | C |\n"
_WORDS = ": one | two | three | four |\n"


def _verses(count: int) -> str:
    return "key: C\n\n== Verse\n" + _ROW + _WORDS * count


def _rows(count: int) -> str:
    return "key: C\n\n== Verse\n" + (_ROW + _WORDS) * count


@pytest.mark.parametrize("song", [_verses, _rows])
def test_twice_the_words_are_twice_the_work_both_ways(song: Callable[[int], str]) -> None:
    """A score with twice the verses, or twice the rows, costs no more than twice as much to
    write and to read."""
    work = {}
    for count in (15, 30, 60):
        chart = read_chart(Source(song(count), "song.chart")).chart
        data = musicxml_bytes(chart)
        work[count] = (
            steps(partial(musicxml_bytes, chart)),
            steps(partial(read_musicxml, data, chord_or_none)),
        )
    for way in (0, 1):
        first, second = (work[2 * n][way] - work[n][way] for n in (15, 30))
        assert 0 < second < 2.1 * first


_HEAD = """Verse
C    G        Am    F
low tide, the lanterns home

Chorus
F        G    C
open the harbor gate

"""
_LINES = {
    "words": "oh the low tide pulls\n",
    "words apart": "oh the low tide pulls\n\n",
    "remarks": "play it slow, guitar only\n",
    "orders": "V C V C\n",
    "tablature": "e|--0--2--3--|\n",
}


@pytest.mark.parametrize("line", _LINES.values(), ids=_LINES)
def test_twice_the_lines_are_twice_the_work(line: str) -> None:
    """A text of two sections and many lines more of one kind costs no more than twice as much
    with twice the lines."""
    work = {}
    for count in (80, 160, 320):
        text = _HEAD + line * count
        work[count] = steps(partial(read_sheet, text, chord_or_none, Findings()))
    first, second = (work[2 * n] - work[n] for n in (80, 160))
    assert second < 2.2 * first


def _sections(count: int) -> str:
    """A sheet with names of its own in square brackets, one for each section."""
    names = ("".join(letters) for letters in product("bdfglmnprt", "aeiou", "bdfglmnprt", "aeiou"))
    return "".join(
        f"[{name}]\nC  G\nlow tide in the morning\nlights are out and gone\n\n"
        for name in islice((f"{one}lm" for one in names), count)
    )


def test_four_times_the_own_names_take_no_more_than_their_share() -> None:
    """Each line is not compared with every name that only its sheet has."""

    def seconds(count: int) -> float:
        before = process_time()
        read_sheet(_sections(count), chord_or_none, Findings())
        return process_time() - before

    seconds(10)
    assert seconds(1_600) < 6 * seconds(400)


def test_what_is_taken_back_is_not_sought_among_all_findings() -> None:
    """Twice the findings that are taken back, each by its place, are twice the work."""

    def work(count: int) -> int:
        findings = Findings()

        def note_and_take_back() -> None:
            for at in range(count):
                findings.guess("rows", "a row", f"{at}:1")
            for at in range(0, count, 2):
                findings.take_back("rows", f"{at}:1")
            assert len(findings.collected) == count // 2
            findings.take_back("rows")
            assert not findings.has("rows")

        return steps(note_and_take_back)

    assert work(400) < 2.1 * work(200)


def test_what_is_noted_after_it_was_taken_back_stays() -> None:
    """Only what was noted before is taken back, in its order."""
    findings = Findings()
    findings.guess("rows", "first", "1:1")
    findings.take_back("rows", "1:1")
    findings.guess("rows", "again", "1:1")
    findings.guess("words", "other", "2:1")
    findings.take_back("words", "3:1")
    assert [one.message for one in findings.collected] == ["again", "other"]
