"""The words of a song in the order in which they are sung.

A singer does not count bars or follow jumps: repeats, endings, D.C., D.S.  and coda are written
out, each time with the words of that time.  Of several lines of words under one row the first is
sung the first time through it, the second the second time (``chart/verses.py``); a line that no
repeat comes round to (a third verse under a repeat of two) follows after the others, or at the end
of the song if the section comes again after others, so that nothing is lost.  Words in bars that
their own line never reaches, as those of verse 1 after the second ending, are sung by every time
through that reaches them with no words of its own; where there is none, they stay in their line.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from chartkit.arrange.arrangement import ArrangedSection, WordsLine
from chartkit.chart.model import Bar, BarLine, Chart, MusicRow, Section
from chartkit.chart.playing_order import PlayedBar, playing_order
from chartkit.chart.verses import TimesThrough, line_of_time

MOST_BARS = 3000
"""Charts that go on for longer (endless repeats) are sung as they are written."""


class Phrase(NamedTuple):
    """What is sung in one run through bars of a row: its system, which of its lines of words, and
    the numbers of the bars; ``borrowed`` are the bars, each with its line, whose words no time
    through the row would come to with the line that they are written in.  ``further`` are runs
    through later rows that go on with the same line."""

    system: int
    line: int
    bars: tuple[int, ...]
    borrowed: tuple[tuple[int, int], ...] = ()
    further: tuple["Phrase", ...] = ()

    @property
    def runs(self) -> tuple["Phrase", ...]:
        """The run itself and those that go on with its line."""
        return (self, *self.further)


@dataclass(slots=True)
class SungSection:
    """A section as the song comes to it: what is sung each time through, and how many bars are
    played.

    ``first`` says that the section has not been sung before; ``left`` that no time through comes to
    these words, which stand at the end.
    """

    section: int
    first: bool = True
    times: list[list[Phrase]] = field(default_factory=list)
    bars: int = 0
    left: bool = False


def sung_sections(sections: Sequence[ArrangedSection]) -> list[SungSection]:
    """The way through the song, section by section; one that has no bars comes where it stands."""
    sung: list[SungSection] = []
    through = TimesThrough()
    seen: set[int] = set()
    before: PlayedBar | None = None
    turns = turns_in(sections)
    stacked = [any(len(system.words) > 1 for system in one.systems) for one in sections]
    for run in _runs(_played(sections), sections):
        at, last, before = run[0], before, run[-1]
        if last is None or last.section != at.section or _jumps(last, at, sections):
            sung += [SungSection(i, times=[[]]) for i in _without_bars(sections, seen, at.section)]
            sung.append(SungSection(at.section, at.section not in seen, [[]]))
            seen.add(at.section)
        elif (at.row, at.bar) == (_first_row(sections[at.section]), 0):
            sung[-1].times.append([])
        system = sections[at.section].systems[at.row]
        words, lines = system.words, system.bar_lines or (BarLine(),) * (len(system.bars) + 1)
        bars = tuple(dict.fromkeys(bar.bar for bar in run))
        # A repeat that goes back into the row comes to its bars for the second time.
        turn = turns[at.section]
        times = [through.at(turn, at.row, bar, *lines[bar : bar + 2]) for bar in bars]
        numbers = [line.verse for line in words]
        line = line_of_time(numbers, times[0], stacked[at.section])
        if line is not None or not words:
            sung[-1].times[-1].append(Phrase(at.row, line or 0, bars))
        sung[-1].bars += sum(_counts(bar, sections) for bar in run)
    sung += [SungSection(i, times=[[]]) for i in _without_bars(sections, seen, len(sections))]
    for i in range(len(sections)):
        if i not in seen:  # after an end that is never passed
            after = [at + 1 for at, visit in enumerate(sung) if visit.section == i - 1]
            sung.insert(after[0] if after else 0, SungSection(i, times=[[]]))
    _share_unreached(sung, sections)
    _sing_the_rest(sung, sections)
    return sung


def sung_line(section: ArrangedSection, phrase: Phrase) -> tuple[WordsLine, tuple[int, ...]] | None:
    """The words of a phrase, with those it takes from other lines, and the bars they stand in;
    None where its row has no words."""
    words = section.systems[phrase.system].words
    if not words:
        return None
    own, borrowed = words[phrase.line], dict(phrase.borrowed)
    pickup = words[borrowed[0]].pickup if 0 in borrowed else own.pickup
    bars = (words[borrowed.get(at, phrase.line)].bars[at] for at in range(len(own.bars)))
    sung = tuple(sorted({*phrase.bars, *borrowed}))
    return replace(own, pickup=pickup, bars=tuple(bars)), sung


def turns_in(sections: Sequence[ArrangedSection]) -> list[int]:
    """For each section the one whose lines of words it sings on with: one that comes again, words
    and all, sings the next."""
    turns: list[int] = []
    last: dict[str, int] = {}
    for number, section in enumerate(sections):
        named = section.same_as or section.name
        source = last.get(named.casefold()) if section.whole else None
        turns.append(number if source is None else turns[source])
        last[section.name.casefold()] = number
    return turns


def _first_row(section: ArrangedSection) -> int:
    return next((i for i, system in enumerate(section.systems) if system.bars), 0)


def _jumps(at: PlayedBar, to: PlayedBar, sections: Sequence[ArrangedSection]) -> bool:
    """Whether a jump leads from one bar to another that is not the next."""
    marks = _bar_at(at, sections).marks
    led = any(mark.kind in ("D.C.", "D.S.") for mark in marks)
    return led and (to.row, to.bar) <= (at.row, at.bar)


def _without_bars(
    sections: Sequence[ArrangedSection], seen: set[int], before: int
) -> Iterator[int]:
    """Sections of words alone that come before another one, each once."""
    for i in range(before):
        if i not in seen and not any(system.bars for system in sections[i].systems):
            seen.add(i)
            yield i


def _played(sections: Sequence[ArrangedSection]) -> tuple[PlayedBar, ...]:
    order = playing_order(Chart((), tuple(map(_as_written, sections))), MOST_BARS)
    if order.cut_short:
        plain = tuple(replace(_without_repeats(_as_written(one)), times=1) for one in sections)
        order = playing_order(Chart((), plain), MOST_BARS * 10)
    return order.bars


def _as_written(section: ArrangedSection) -> Section:
    """The section as music rows alone, one for each system; a system without bars is an empty
    one."""
    rows = tuple(
        MusicRow(tuple(bar.bar for bar in system.bars), system.bar_lines)
        for system in section.systems
    )
    return Section(section.name, rows, section.times)


def _without_repeats(section: Section) -> Section:
    rows = (row for row in section.rows if isinstance(row, MusicRow))
    plain = (
        replace(row, bars=tuple(replace(bar, marks=()) for bar in row.bars), lines=())
        for row in rows
    )
    return replace(section, rows=tuple(plain))


def _runs(
    bars: Sequence[PlayedBar], sections: Sequence[ArrangedSection]
) -> Iterator[list[PlayedBar]]:
    """Bars of one row that are played on from left to right; what is printed as one bar and
    played as several (a long rest) stays in one run."""
    run: list[PlayedBar] = []
    for bar in bars:
        same = bool(run) and (bar.section, bar.row) == (run[-1].section, run[-1].row)
        lasting = same and bar.bar == run[-1].bar and _bar_at(bar, sections).lasts > 1
        if same and (bar.bar > run[-1].bar or lasting):
            run.append(bar)
            continue
        if run:
            yield run
        run = [bar]
    if run:
        yield run


def _bar_at(at: PlayedBar, sections: Sequence[ArrangedSection]) -> Bar:
    return sections[at.section].systems[at.row].bars[at.bar].bar


def _counts(at: PlayedBar, sections: Sequence[ArrangedSection]) -> int:
    """How many bars a played bar counts for; a long rest is played bar by bar."""
    bar = _bar_at(at, sections)
    return 1 if bar.rest or bar.simile else bar.lasts * (not bar.pickup)


def _share_unreached(sung: Sequence[SungSection], sections: Sequence[ArrangedSection]) -> None:
    """Assigns words that no repeat of their line reaches: to a phrase that reaches their bars and
    has no words there, else to the first phrase of their line."""
    turns = turns_in(sections)
    rows: dict[tuple[int, int], list[_PhraseAt]] = {}
    for visit in sung:
        for phrases in visit.times:
            for at, phrase in enumerate(phrases):
                row = turns[visit.section], phrase.system
                rows.setdefault(row, []).append(_PhraseAt(phrases, at))
    for (section, system), places in rows.items():
        words = sections[section].systems[system].words
        at_bar: dict[int, list[_PhraseAt]] = {}
        for place in places:
            for bar in place.phrase.bars:
                at_bar.setdefault(bar, []).append(place)
        first_of_line = {place.phrase.line: place for place in reversed(places)}
        for line, first in first_of_line.items():
            for bar in _written_bars(words, line):
                here = at_bar.get(bar, [])
                if any(place.phrase.line == line for place in here):
                    continue
                free = [place for place in here if not _has_words(words, place.phrase, bar)]
                for place in free or [first]:
                    place.lend(bar, line)


class _PhraseAt(NamedTuple):
    """A phrase by its place among those that are sung one after another."""

    phrases: list[Phrase]
    at: int

    @property
    def phrase(self) -> Phrase:
        return self.phrases[self.at]

    def lend(self, bar: int, line: int) -> None:
        """Has the phrase sing what another line has in a bar."""
        borrowed = (*self.phrase.borrowed, (bar, line))
        self.phrases[self.at] = self.phrase._replace(borrowed=borrowed)


def _written_bars(words: Sequence[WordsLine], line: int) -> list[int]:
    """The bars in which a line has words; a pick-up belongs to the first."""
    count = len(words[line].bars) if words else 0
    return [bar for bar in range(count) if _is_written(words[line], bar)]


def _has_words(words: Sequence[WordsLine], phrase: Phrase, bar: int) -> bool:
    borrowed = any(at == bar for at, _ in phrase.borrowed)
    return borrowed or _is_written(words[phrase.line], bar)


def _is_written(line: WordsLine, bar: int) -> bool:
    return any(one.text for one in line.bars[bar]) or (bar == 0 and bool(line.pickup.text))


def _sing_the_rest(sung: list[SungSection], sections: Sequence[ArrangedSection]) -> None:
    """Adds the lines of words that are not reached in any time through their section: after it, or
    at the end where it comes again after others, which those words would part."""
    turns = turns_in(sections)
    last = {turns[visit.section]: visit.section for visit in sung if visit.first}
    reached = {
        (turns[visit.section], phrase.system, phrase.line)
        for visit in sung
        for phrases in visit.times
        for phrase in phrases
    }
    for visit in tuple(sung):
        if not visit.first or visit.section != last[turns[visit.section]]:
            continue
        rest: dict[int, list[Phrase]] = {}
        for number, system in enumerate(sections[visit.section].systems):
            for line in range(len(system.words) if system.bars else 0):
                if (turns[visit.section], number, line) not in reached:
                    bars = tuple(range(len(system.bars)))
                    rest.setdefault(line, []).append(Phrase(number, line, bars))
        again = _sung_by_all(sections[visit.section])
        times = [sorted([*rest[line], *again]) for line in sorted(rest)]
        here = [one for one in sung if one.section == visit.section]
        if len(here) == 1 or not times:
            visit.times += times
        else:
            sung.append(SungSection(visit.section, first=False, times=times, left=True))


def _sung_by_all(section: ArrangedSection) -> list[Phrase]:
    """The rows with one line of words without a number, in a section where verses stand under
    others: the refrain of a hymn is printed once and sung with every verse (common practice, no
    source)."""
    return [
        Phrase(number, 0, tuple(range(len(system.bars))))
        for number, system in enumerate(section.systems)
        if system.bars and len(system.words) == 1 and system.words[0].verse is None
    ]
