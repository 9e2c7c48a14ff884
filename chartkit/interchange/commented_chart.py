"""A chart as a proposal: what was guessed or left out stands as a comment beside its row, with the
line it was made from, so that it can be judged where it is.

Rows of a chart that was read from a sheet carry the number of their line in it as their span.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.chart.intake_comments import GUESS, LEFT_OUT, SOURCE_LINE
from chartkit.chart.model import Chart, CommentRow, MusicRow, Row, Section, WordsRow
from chartkit.interchange.intake_result import Finding
from chartkit.interchange.wording import one_line

_LONGEST_SOURCE = 160
_WORDS_FOR = {"guessed": GUESS, "left-out": LEFT_OUT}


def with_comments(chart: Chart, findings: Sequence[Finding]) -> Chart:
    """The chart with a comment beside each row about whose line in the source something was guessed
    or left out; what concerns the whole sheet stands at the top.  Where the same is said of two
    lines that follow each other and came to one row, it stands once."""
    said = _by_line(findings)
    sections = [_Commented(section) for section in chart.sections]
    places = [
        (row.span.start, at, number)
        for at, section in enumerate(chart.sections)
        for number, row in enumerate(section.rows)
        if row.span.start
    ]
    first = min((line for line, _, _ in places), default=0)
    top: list[CommentRow] = []
    above: tuple[int, tuple[int, int], list[str]] | None = None
    for line, (comments, source) in sorted(said.items()):
        if line < first or not places:
            top += [CommentRow(text) for text in (*comments, *source)]
            continue
        place = _place_of(line, places, chart.sections)
        if above != (line - 1, place, comments):
            sections[place[0]].add(place[1], [CommentRow(text) for text in (*comments, *source)])
        above = line, place, comments
    return Chart((*top, *chart.top), tuple(one.section() for one in sections))


class _Commented:
    """A section, and the comments that go before some of its rows."""

    def __init__(self, section: Section) -> None:
        self._section = section
        self._before: dict[int, list[CommentRow]] = {}

    def add(self, number: int, comments: Sequence[CommentRow]) -> None:
        """Puts comments before a row, or after all rows."""
        self._before.setdefault(number, []).extend(comments)

    def section(self) -> Section:
        """The section with its comments."""
        if not self._before:
            return self._section
        return replace(self._section, rows=tuple(self._rows()))

    def _rows(self) -> Iterator[Row]:
        for number, row in enumerate(self._section.rows):
            yield from self._before.get(number, ())
            yield row
        yield from self._before.get(len(self._section.rows), ())


def _by_line(findings: Sequence[Finding]) -> dict[int, tuple[list[str], list[str]]]:
    """The comments for each line, and the line itself; what concerns no line under 0."""
    messages: dict[int, list[str]] = {}
    shown: dict[int, list[str]] = {}
    for one in findings:
        if one.certainty == "sure":
            continue
        messages.setdefault(one.line, []).append(f"{_WORDS_FOR[one.certainty]}: {one.message}")
        source = one_line(one.source)[:_LONGEST_SOURCE]
        where = one.place if one.place.startswith("page ") else f"{SOURCE_LINE} {one.line}"
        shown[one.line] = [f"{where}: {source}"] if one.line and source else []
    return {
        line: ([one_line(text) for text in dict.fromkeys(said)], shown[line])
        for line, said in messages.items()
    }


def _place_of(
    line: int, places: Sequence[tuple[int, int, int]], sections: Sequence[Section]
) -> tuple[int, int]:
    """The section and the row before which something that stands on a line of the source goes."""
    same = [(at, number) for where, at, number in places if where == line]
    if same:
        return _above_its_music(same[0], sections)
    heading = next((at for at, one in enumerate(sections) if one.span.start == line), None)
    if heading is not None:
        return heading, 0
    earlier = [at for at, one in enumerate(sections) if 0 < one.span.start < line]
    before = [at for where, at, _ in places if where < line]
    at = max([*earlier, *before], default=0)
    following = [number for where, other, number in places if other == at and where > line]
    number = following[0] if following else len(sections[at].rows)
    return _above_its_music((at, number), sections)


def _above_its_music(place: tuple[int, int], sections: Sequence[Section]) -> tuple[int, int]:
    """A place moved up over the music that words stand under."""
    at, number = place
    rows = sections[at].rows
    while 0 < number < len(rows) and (
        _goes_by_music(rows[number]) and isinstance(rows[number - 1], WordsRow | MusicRow)
    ):
        number -= 1
    return at, number


def _goes_by_music(row: Row) -> bool:
    """Whether a row holds words under music, not words that stand alone."""
    return isinstance(row, WordsRow) and len(row.cells) > 1
