"""Folds: sections of a song that a folded page prints as one, with the words of all.

Verses over the same bars stand stacked under them, a chorus with the same words stands once.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from chartkit.arrange.arrangement import (
    Announcement,
    ArrangedBar,
    ArrangedSection,
    ArrangedSystem,
    WordsLine,
)
from chartkit.chart.marks import Mark, printed_mark
from chartkit.chart.model import NOWHERE, BarLine
from chartkit.chart.numbered_names import (
    has_number,
    listed_numbers,
    name_of_all,
    name_without_number,
    number_of,
)
from chartkit.layout.sung_again import said_of

_MOST_STACKED = 6
"""More verses than this under one another are hard to follow from row to row."""
Words = tuple[tuple[WordsLine, ...], ...]
"""The words of a section, without the numbers that verses were typed with."""


class SectionRelation(NamedTuple):
    """What relates sections of one ``music``, which has a number: their name without its number,
    the kind; or, where it ``plays_again``, the name of the section that the other one plays."""

    music: int
    plays_again: bool
    name: str


class _Numbers(NamedTuple):
    """The numbers of so many sections, and those before the words of each, by its identity."""

    counted: int
    own: dict[int, str]
    of_words: dict[int, str]


_NO_BREAK = "\N{NO-BREAK SPACE}"
"""Inside the numbers before a name, which stand in one line with it."""
_IN_RESTATED = ("key", "meter")


@dataclass(frozen=True, slots=True)
class FormEntry:
    """A section as it comes in the song: its name, the bars of one time through it as they are
    played, how often it is played.

    ``printed`` is the place of its music among the printed sections; ``number`` is the one before
    its words in the stack there, empty where there is but one.  ``jump`` is how it ends where it
    leads back, such as ``D.S. al Coda``.  ``key`` is the key that it goes back to, where its bars
    stand earlier on the page and cannot say so.
    """

    name: str
    bars: int
    times: int
    printed: int
    number: str = ""
    jump: str = ""
    key: str = ""


def ordinal(number: int) -> str:
    """``1st``, ``2nd`` …"""
    ending = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10)
    return f"{number}{ending or 'th'}"


def jump_of(section: ArrangedSection) -> str:
    """How the section says that it leads back; empty where it does not."""
    jumps = (mark for marks in _marks(section) for mark in marks if mark.kind in ("D.C.", "D.S."))
    return next(map(printed_mark, jumps), "")


# ---- what is the same
def music_of(section: ArrangedSection) -> tuple[object, ...]:
    """What must be equal for two sections to be printed as one; empty if nothing is played."""
    if not any(system.bars for system in section.systems):
        return ()
    return tuple(
        (tuple(map(_without_marks, system.bars)), _kinds(system.bar_lines))
        for system in section.systems
    )


def _kinds(lines: tuple[BarLine, ...]) -> tuple[object, ...]:
    """Bar lines for comparison: a final double line equals a single one."""
    kinds = [(line.kind, line.endings) for line in lines]
    return tuple(("single", e) if kind == "double" else (kind, e) for kind, e in kinds)


def _without_marks(arranged: ArrangedBar) -> tuple[object, ...]:
    bar = arranged.bar
    return (
        arranged.strikes,
        arranged.meter,
        bar.length,
        bar.beats_written,
        bar.simile,
        bar.pickup,
        bar.cues,
        bar.rest,
        bar.holds,
        bar.slashes,
        bar.silences,
        bar.mutes,
    )


def _marks(section: ArrangedSection) -> list[tuple[Mark, ...]]:
    return [bar.bar.marks for system in section.systems for bar in system.bars]


def kept_words(section: ArrangedSection, known: dict[int, Words]) -> Words:
    """The words of a section, put together once."""
    if id(section) not in known:
        known[id(section)] = tuple(
            tuple(replace(line, verse=None) for line in system.words) for system in section.systems
        )
    return known[id(section)]


def is_sung(section: ArrangedSection) -> bool:
    """Whether a section has words under its bars."""
    return any(system.words for system in section.systems)


def is_stacked(section: ArrangedSection) -> bool:
    """Whether several verses stand under one row of a section."""
    return any(len(system.words) > 1 for system in section.systems)


# ---- folding
@dataclass(slots=True)
class Fold:
    """Sections printed as one, at one place among all that are printed.

    ``in_a_row`` has those that come right after another of them, ``words`` the words of sections by
    identity, ``sung`` the numbers of its own; ``relations`` are what relates other sections to it.
    """

    place: int
    words: dict[int, Words]
    sections: list[ArrangedSection] = field(default_factory=list)
    voices: list[ArrangedSection] = field(default_factory=list)
    in_a_row: set[int] = field(default_factory=set)
    relations: set[SectionRelation] = field(default_factory=set)
    sung: list[int] = field(default_factory=list)
    numbers: "_Numbers" = field(default_factory=lambda: _Numbers(0, {}, {}))
    seen: int = 0
    stacked: bool = False

    def add(self, section: ArrangedSection) -> None:
        """Takes a section in."""
        self.sections.append(section)
        self.stacked = self.stacked or is_stacked(section)

    @property
    def takes_new_words(self) -> bool:
        """Whether words of another section may stand under these bars."""
        return not self.stacked and len(self._voices()) < _MOST_STACKED

    def words_of(self, section: ArrangedSection) -> Words:
        """The words of a section."""
        return kept_words(section, self.words)

    def has_no_new_marks(self, section: ArrangedSection) -> bool:
        """Whether a section has no marks that these have not."""
        marks = zip(_marks(self.sections[0]), _marks(section), strict=True)
        return all(set(own) <= set(first) for first, own in marks)

    @property
    def repeats_words(self) -> bool:
        """Whether a section with words is sung again word for word."""
        sung = [s for s in self.sections if is_sung(s)]
        return len(sung) > len(self._voices())

    def _voices(self) -> list[ArrangedSection]:
        """The first section with each set of words; only sections added since the last call are
        examined."""
        for section in self.sections[self.seen :]:
            known = [self.words_of(voice) for voice in self.voices]
            if is_sung(section) and self.words_of(section) not in known:
                self.voices.append(section)
        self.seen = len(self.sections)
        return self.voices

    # ---- names
    def _numbered(self) -> bool:
        """Whether the sections with words differ by their numbers alone."""
        sung = [section.name for section in self.sections if is_sung(section)]
        kinds = set(map(name_without_number, sung))
        return len(kinds) == 1 and len(set(map(number_of, sung))) == len(sung)

    def number(self, section: ArrangedSection) -> str:
        """The number by which a section with words is known: its own where the sections differ by
        it alone, else that of the time through the bars; empty where the words stand alone."""
        return self._all_numbers().own.get(id(section), "")

    def row_number(self, section: ArrangedSection) -> str:
        """The numbers of all sections with the words of this one, as they stand before a row:
        ``1, 2`` where the second time has the words of the first."""
        return self._all_numbers().of_words.get(id(section), "")

    def _all_numbers(self) -> "_Numbers":
        if self.numbers.counted != len(self.sections):
            self.numbers = self._counted_numbers()
        return self.numbers

    def _counted_numbers(self) -> "_Numbers":
        voices = self._voices()
        if len(voices) < 2:
            return _Numbers(len(self.sections), {}, {})
        numbered, own = self._numbered(), dict[int, str]()
        alike: dict[int, list[ArrangedSection]] = {}
        for time, section in enumerate(self.sections, 1):
            if is_sung(section):
                words = self.words_of(section)
                voice = next(i for i, one in enumerate(voices) if self.words_of(one) == words)
                alike.setdefault(voice, []).append(section)
                own[id(section)] = number_of(section.name) if numbered else str(time)
        of_words = {
            id(section): label
            for same in alike.values()
            for label in (listed_numbers([own[id(one)] for one in same]),)
            for section in same
        }
        return _Numbers(len(self.sections), own, of_words)

    def name(self) -> str:
        """The name printed beside the bars: it has every name that the form line has."""
        if len(self.sections) == 1:
            return self.sections[0].name
        voices = self._voices()
        if len({voice.name for voice in voices}) == 1 < len(voices):
            names = [voices[0].name]
        elif len(voices) > 1 and not self._numbered():
            names = [self._name_of_words(voice) for voice in voices]
        elif len(voices) > 1:
            names = [name_of_all([s.name for s in self.sections if is_sung(s)])]
        else:
            names = []
        shown = {name_without_number(voice.name) for voice in voices} if names else set()
        others: dict[str, list[str]] = {}
        for section in self.sections:
            kind, other = name_without_number(section.name), section.name
            if kind not in shown and other not in others.setdefault(kind, []):
                others[kind].append(other)
        for alike in others.values():
            joined = len(alike) > 1 and all(map(has_number, alike))
            names += [name_of_all(alike)] if joined else alike
        return ", ".join(names)

    def _name_of_words(self, voice: ArrangedSection) -> str:
        """The names of the sections with the same words, after their times through the bars where
        the numbers in the names are not those times."""
        label = self.row_number(voice)
        alike = [s for s in self.sections if self.row_number(s) == label]
        names = list(dict.fromkeys(section.name for section in alike))
        numbered = len(names) == len(alike) and all(map(has_number, names))
        kinds = set(map(name_without_number, names))
        if numbered and len(kinds) == 1:
            if all(number_of(section.name) == self.number(section) for section in alike):
                return name_of_all(names)
            names = [name_of_all(names)]
        return f"{label.replace(' ', _NO_BREAK)} {', '.join(names)}"

    def entry(self, section: ArrangedSection, printed: int, bars: int) -> FormEntry:
        """The section as it comes in the song; one time through it is so many bars."""
        return FormEntry(
            name=section.name,
            bars=bars,
            times=section.times,
            printed=printed,
            number=self.number(section),
            jump=jump_of(section),
            key="" if section is self.sections[0] else _key_at_start(section),
        )

    # ---- bars and words
    def printed(self) -> ArrangedSection:
        """One section with the words of all."""
        first = self.sections[0]
        if len(self.sections) == 1:
            return first
        times = {section.times for section in self.sections}
        systems = tuple(self._system(i) for i in range(len(first.systems)))
        return replace(
            first,
            name=self.name(),
            times=times.pop() if len(times) == 1 else 1,
            systems=systems,
            same_as="",
        )

    def _system(self, i: int) -> ArrangedSystem:
        first = self.sections[0].systems[i]
        above = list(first.above)
        for section in self.sections[1:]:
            above += self._said_anew(section, i, above)
        return replace(first, words=self._stack(i), above=tuple(above))

    def _said_anew(
        self, section: ArrangedSection, i: int, said: Sequence[Announcement]
    ) -> list[Announcement]:
        """What a later section alone says above a system, with its name, in one line.  The key and
        the meter are said where a section ends in others than it begins with and comes again at
        once; elsewhere the section before says them at its end."""
        known = {(one.kind, one.text) for one in said}
        system = section.systems[i]
        elsewhere = () if id(section) in self.in_a_row else _IN_RESTATED
        anew = [
            one
            for one in system.above
            if one.kind not in elsewhere and (one.kind, one.text) not in known
        ]
        if not anew:
            return []
        name = section.name
        names = [one.name for one in self.sections]
        if names.count(name) > 1:
            place = next(n for n, one in enumerate(self.sections) if one is section)
            name = f"{ordinal(place + 1)} time"
        text = " · ".join(said_of(one, system) for one in anew)
        written = (one.span for one in anew if one.span != NOWHERE)
        return [Announcement("cue", f"{name}: {text}", next(written, NOWHERE))]

    def _stack(self, i: int) -> tuple[WordsLine, ...]:
        """The words under a system: once where all sing the same, else each with its number."""
        voices = self._voices()
        if len(voices) < 2:
            return voices[0].systems[i].words if voices else ()
        sung = [(self.row_number(voice), voice.systems[i].words) for voice in voices]
        lines = {number: replace(w[0], verse=None, number="") for number, w in sung if w}
        if len(lines) == len(voices) and len(set(lines.values())) == 1:
            return (next(iter(lines.values())),)
        return tuple(replace(line, number=number) for number, line in lines.items())


def _key_at_start(section: ArrangedSection) -> str:
    """The key that is announced above a section's first row; empty where none is."""
    above = section.systems[0].above if section.systems else ()
    return next((one.text for one in reversed(above) if one.kind == "key"), "")
