"""The values of an arrangement: the song as one player reads it, not yet laid out."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from chartkit.arrange.key_areas import KeyArea
from chartkit.arrange.view import LineName
from chartkit.chart.model import NOWHERE, Bar, BarLine, Meter, Segment
from chartkit.diagnostics import Span
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.chord_parts import PrintedChord
from chartkit.theory.naming import Naming


def _span() -> Span:
    """The place in the source text; it takes no part in comparison."""
    return field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class ArrangedStrike:
    """A struck chord: its name on each line shown, None for N.C., and how it is played."""

    names: tuple[PrintedChord | None, ...]
    onset: int
    length: int
    pushed: bool
    stopped: bool
    ringing: bool
    optional: bool
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class ArrangedBar:
    """A bar with its strikes named; ``bar`` holds its cues, marks, simile and rest.

    ``meter`` is the one it stands in; a time signature is printed where ``bar`` has one.
    ``tied`` says that what sounds at its end is held into the next bar, ``opens`` that its
    time signature is the one the song begins with, ``repeats_hits`` that its sign repeats bars
    with a rhythm of their own on a road map.
    """

    bar: Bar
    strikes: tuple[ArrangedStrike, ...]
    meter: Meter = Meter(4, 4)
    tied: bool = False
    opens: bool = False
    repeats_hits: bool = False


@dataclass(frozen=True, slots=True)
class WordsLine:
    """One verse under a system.

    ``pickup`` is sung before the first bar; ``bars`` has a tuple of segments a bar.  ``number``
    is what it is known by among others, where that is not the number it was typed with.
    """

    verse: int | None
    pickup: Segment
    bars: tuple[tuple[Segment, ...], ...]
    number: str = ""


@dataclass(frozen=True, slots=True)
class Announcement:
    """A line above a system: a cue, or a change of key, meter, tempo, feel or capo."""

    kind: Literal["cue", "key", "meter", "tempo", "feel", "capo"]
    text: str
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class ArrangedSystem:
    """A row of bars with its words; ``bar_lines`` is empty in free time.

    ``bars`` is empty for words alone, each of the ``words`` a line with all of its text in
    ``pickup``, and where only announcements are left at the end of a section.  ``goes_on`` says
    that it is cut from the same row of the chart as the one before it.
    """

    bars: tuple[ArrangedBar, ...]
    bar_lines: tuple[BarLine, ...]
    words: tuple[WordsLine, ...]
    above: tuple[Announcement, ...]
    goes_on: bool = False


@dataclass(frozen=True, slots=True)
class ArrangedSection:
    """A section: its heading, how often it is played, its systems.

    ``same_as`` names the earlier section whose music it has, empty for music of its own;
    ``whole`` says that it is an earlier section again, words and all; one that is moved to another
    key or meter has music of its own.
    """

    name: str
    times: int
    systems: tuple[ArrangedSystem, ...]
    same_as: str = ""
    whole: bool = False
    span: Span = _span()


@dataclass(frozen=True, slots=True)
class Arrangement:
    """A whole song for one player.

    ``capo_moves`` are the capos that it is moved to inside the song, in order of the page.
    ``chord_lines`` names the lines of chord names from the top.  Where the chart names no key,
    ``key_given`` is false and the keys are a guess, fit for spelling but not for print;
    ``meter_given`` says that the chart names its meter.  ``says_no_capo`` is set for a guitarist
    who has a capo in other songs of the night, so that a page without one says so.
    """

    title: str
    writer: str
    language: str
    instrument: str
    notes: tuple[str, ...]
    capo: Capo
    capo_moves: tuple[Capo, ...]
    second_capo: Capo | None
    keys: KeyArea
    key_given: bool
    reads: str | None
    naming: Naming
    meter: Meter
    meter_given: bool
    tempo: int | None
    feel: str
    chord_lines: tuple[LineName, ...]
    strong: LineName
    sections: tuple[ArrangedSection, ...]
    says_no_capo: bool = False

    @property
    def every_capo(self) -> tuple[Capo, ...]:
        """The capo at the start and after each move inside the song."""
        return (self.capo, *self.capo_moves)

    @property
    def uses_capo(self) -> bool:
        """Whether the guitar is anywhere other than as it is."""
        return any(capo != NO_CAPO for capo in self.every_capo)

    @property
    def counts_bars(self) -> bool:
        """Whether it is a road map, with bars counted and no chords."""
        return self.chord_lines == ("count",)

    def strikes(self) -> Iterator[ArrangedStrike]:
        """Every strike, in the order in which they are printed."""
        for section in self.sections:
            for system in section.systems:
                for bar in system.bars:
                    yield from bar.strikes
