"""The result of reading a lead sheet: the chart, and findings that say how it was read.

A finding says how certain a thing is and where it stands in the source, in the source's own
terms: ``measure 12`` of a score, ``3:5`` (line and column) of a text, ``page 2, line 4`` of
a PDF.  Nothing that was sung or struck in the source is missing from the chart without a
finding that it was left out.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from chartkit.chart.model import Chart
from chartkit.theory.chord import Chord

Certainty = Literal["sure", "guessed", "left-out"]
SourceKind = Literal["text", "mail", "JSON", "PDF", "MusicXML", "a chart"]
"""What a source turned out to be, as it is named to the user."""
SymbolReader = Callable[[str], Chord | None]
"""Reads one chord symbol; None for any other text. The reader of our language is passed in,
since this room does not know it."""
ChartReader = Callable[[str], Chart | None]
"""Reads a whole text in our language; None for one with mistakes.  Passed in as well."""


class Refused(Exception):
    """Raised for a file that cannot be read as a lead sheet, with the reason in one line."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was read: how certainly, a stable code, plain words, and its place.

    An empty place means the whole source.  ``line`` is the line of a text, 0 where there is none,
    and ``source`` that line as it came.
    """

    certainty: Certainty
    code: str
    message: str
    place: str = ""
    line: int = field(default=0, compare=False)
    source: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class IntakeResult:
    """A chart made from another format, and the findings.

    ``own_text`` is the chart as its writer wrote it, where the source holds one.  ``source_text``
    is the text whose lines the findings count: of a mail the text that was read, its own or an
    attached one; empty where the source is no text.  ``rows`` are the numbers that rows of music
    have in their spans, by the places of findings in a source that has no lines.
    """

    chart: Chart
    findings: tuple[Finding, ...]
    format: SourceKind
    own_text: str = ""
    source_text: str = ""
    rows: Mapping[str, int] = field(default_factory=dict)


@dataclass(slots=True)
class Findings:
    """Where findings gather while a source is read.

    What is taken back is only noted at first, and left out when the findings are next looked at:
    a book takes back thousands, each of which would otherwise go through all of them.
    """

    _noted: list[Finding] = field(default_factory=list)
    _taken_back: set[tuple[str, str]] = field(default_factory=set)
    """Codes and places of what was taken back and is still among the noted; an empty place means
    anywhere."""
    numbers: dict[str, int] = field(default_factory=dict)
    """The number of the line that a place means, where it is not its first figure."""
    wheres: dict[int, str] = field(default_factory=dict)
    """The place of each line of a source that has no columns, by its number."""
    rows: dict[str, int] = field(default_factory=dict)
    """The number of the row of music that a place of a score came to, in its span."""

    @property
    def collected(self) -> list[Finding]:
        """The findings so far, in the order in which they were noted."""
        if self._taken_back:
            gone, self._taken_back = self._taken_back, set()
            self._noted = [
                one
                for one in self._noted
                if gone.isdisjoint(((one.code, one.place), (one.code, "")))
            ]
        return self._noted

    @collected.setter
    def collected(self, findings: list[Finding]) -> None:
        self._noted = findings
        self._taken_back.clear()

    def know_places(self, wheres: dict[int, str]) -> None:
        """Takes the places of the lines of a source that has no columns, by their numbers."""
        self.wheres = wheres
        self.numbers = {where: number for number, where in wheres.items()}

    def sure(self, code: str, message: str, place: str = "") -> None:
        """Notes what the source says plainly."""
        self._add("sure", code, message, place)

    def guess(self, code: str, message: str, place: str = "") -> None:
        """Notes what the source does not say in so many words."""
        self._add("guessed", code, message, place)

    def leave_out(self, code: str, message: str, place: str = "") -> None:
        """Notes what the chart does not hold."""
        self._add("left-out", code, message, place)

    def _add(self, certainty: Certainty, code: str, message: str, place: str) -> None:
        place = self._in_source(place)
        figure = place.partition(":")[0]
        line = int(figure) if figure.isdecimal() else self.numbers.get(place, 0)
        again = not self._taken_back.isdisjoint(((code, place), (code, "")))
        noted = self.collected if again else self._noted
        noted.append(
            Finding(certainty=certainty, code=code, message=message, place=place, line=line)
        )

    def _in_source(self, place: str) -> str:
        """A place by line and column as the source names it."""
        figure = place.partition(":")[0]
        return self.wheres.get(int(figure), place) if figure.isdecimal() else place

    def with_sources(self, sources: Mapping[int, str]) -> tuple[Finding, ...]:
        """All findings, each with the line of its source."""
        return tuple(
            replace(one, source=sources[one.line]) if one.line in sources else one
            for one in self.collected
        )

    def has(self, code: str) -> bool:
        """Whether something was noted under a code."""
        return any(finding.code == code for finding in self.collected)

    def take_back(self, code: str, place: str = "") -> None:
        """Drops what was noted under a code, at a place or anywhere, where more of the source
        says otherwise."""
        self._taken_back.add((code, self._in_source(place)))


_FIGURES = re.compile(r"\d+")


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """Findings in the order of their places, each once; those of the whole source come first."""
    return sorted(
        dict.fromkeys(findings),
        key=lambda one: [int(figure) for figure in _FIGURES.findall(one.place)],
    )
