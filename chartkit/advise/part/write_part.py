"""The part as a chart: the song's form and words, its own grips and rhythm."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from chartkit.advise.part.chord_occurrences import SungBar
from chartkit.advise.part.figures import Figure, FigureName, figure_in
from chartkit.advise.part.grips import upper_part
from chartkit.advise.part.in_bars import keeps_its_rhythm, with_figure
from chartkit.advise.part.rhythm import SectionRhythm, answered_bars, figure_words
from chartkit.chart.intake_comments import without_proposal
from chartkit.chart.meters import meter_after
from chartkit.chart.model import (
    TICKS_PER_BEAT,
    Bar,
    Chart,
    Cue,
    CueRow,
    GivenShape,
    Meter,
    MusicRow,
    Row,
    Section,
    Segment,
    SettingRow,
    TopRow,
    WordsRow,
)
from chartkit.chart.playing_order import playing_order
from chartkit.chart.systems import placed_systems
from chartkit.chart.walk import iter_chords
from chartkit.fretboard.partial_grips import PartialGrip
from chartkit.theory.chord import Chord

_OF_THE_FIRST = ("part", "capo", "chords", "shape")
"""Settings that concern only the first guitar."""


@dataclass(frozen=True, slots=True)
class _Home:
    """The bars of a row whose first chord enters after a rest, and whether words may stand before
    its first bar."""

    silent: frozenset[int]
    before_bars: bool


def part_chart(
    chart: Chart,
    grips: Mapping[Chord, PartialGrip],
    rhythms: Mapping[int, SectionRhythm],
    sung: frozenset[SungBar],
    named: str,
) -> Chart:
    """The second guitar's chart.

    ``chart`` holds sounding chords; ``grips`` are by chord without slash bass; ``sung`` are the
    bars with words as ``chord_occurrences.sung_bars`` gives them; ``named`` says whose
    part it is and what it plays.
    """
    chart = without_proposal(chart)
    meter, final = chart.meter, _final_bar(chart)
    sections: list[Section] = []
    moved: dict[tuple[int, int], _Home] = {}
    last, silent = "", True
    for index, section in enumerate(chart.sections):
        rhythm = rhythms.get(index)
        rows: list[Row] = []
        for place, row in enumerate(section.rows):
            if isinstance(row, SettingRow) and row.name in _OF_THE_FIRST:
                continue
            if isinstance(row, MusicRow):
                words_over = _sung_of(sung, index, place, row)
                after = _ends_silent(row.bars, silent)
                own = _own_figures(section, index, place, rhythm, final)
                silences, row = _rhythmic_row(row, meter, rhythm, words_over, silent, own)
                silent = after
                moved[index, place] = _Home(silences, not _bare(row))
            meter = meter_after(row, meter)
            rows.append(row)
        words = _figure_of(rhythm)
        if words and words != last and not section.same_as:
            rows.insert(_before_music(rows), CueRow(words))
        last = words or ("" if rhythm is None and _last_music(section) >= 0 else last)
        sections.append(replace(section, rows=tuple(rows)))
    top = _top(chart, grips, named)
    return Chart(top, _with_moved_words(chart, tuple(sections), moved))


def _last_music(section: Section) -> int:
    """The place of a section's last row of music; -1 if it has none."""
    return max((n for n, row in enumerate(section.rows) if isinstance(row, MusicRow)), default=-1)


def _before_music(rows: Sequence[Row]) -> int:
    """Where a cue of the part's own stands: under what the writer says first, over the first row
    that the part plays in."""
    music = {n: row for n, row in enumerate(rows) if isinstance(row, MusicRow)}
    played = [n for n, row in music.items() if any(bar.strikes for bar in row.bars)]
    return next(iter((*played, *music)), 0)


@dataclass(frozen=True, slots=True)
class _FinalBar:
    """Where the song's last bar as played is written: section, row and bar; ``once`` says that it
    is played only there."""

    section: int = -1
    row: int = -1
    bar: int = -1
    once: bool = False


def _final_bar(chart: Chart) -> _FinalBar:
    """The bar in which the song ends, wherever a D.C. or a repeated section puts it."""
    played = [(bar.written_in, bar.row, bar.bar) for bar in playing_order(chart).bars]
    return _FinalBar(*played[-1], once=played.count(played[-1]) == 1) if played else _FinalBar()


@dataclass(frozen=True, slots=True)
class _OwnFigures:
    """The bars of a row with a figure of their own: the section's last, which leads on, and the
    song's last, whose chord is struck on its first beat (common practice, no source)."""

    last: FigureName | None = None
    final_bar: int = -1
    final: FigureName | None = None

    def of(self, bar: int, bars: int) -> FigureName | None:
        """The figure of a bar of the row's ``bars``; None for the section's."""
        if bar == self.final_bar:
            return self.final
        return self.last if bar == bars - 1 else None


def _own_figures(
    section: Section, index: int, place: int, rhythm: SectionRhythm | None, final: _FinalBar
) -> _OwnFigures:
    last = rhythm.last_bar if rhythm is not None and place == _last_music(section) else None
    if (final.section, final.row) != (index, place):
        return _OwnFigures(last)
    return _OwnFigures(last, final.bar, "let ring" if final.once else None)


def _figure_of(rhythm: SectionRhythm | None) -> str:
    if rhythm is None or rhythm.figure is None:
        return ""
    return figure_words(rhythm.figure.name)


def _bare(row: MusicRow) -> bool:
    return not row.free and row.lines[0].kind == "none"


def _sung_of(sung: frozenset[SungBar], section: int, row: int, music: MusicRow) -> list[bool]:
    """Which bars of a row have words in any section that plays it."""
    here = {bar for _, home, place, bar in sung if home == section and place == row}
    return [bar in here for bar in range(len(music.bars))]


def _ends_silent(bars: Sequence[Bar], before: bool) -> bool:
    """Whether nothing that could be held sounds after some bars: their last chord is stopped or
    missing; ``before`` is the answer for the bars before them."""
    struck = [strike for bar in bars for strike in bar.strikes]
    return struck[-1].stopped or struck[-1].chord is None if struck else before


def _rhythmic_row(
    row: MusicRow,
    meter: Meter,
    rhythm: SectionRhythm | None,
    sung: list[bool],
    silent: bool,
    own: _OwnFigures,
) -> tuple[frozenset[int], MusicRow]:
    """The row with its figure, and the bars whose first chord now enters after a rest.

    ``silent`` says that nothing sounds before the row that could be held: a bar that begins
    without a chord of its own then stays as it is.  ``own`` are figures of single bars.
    """
    if rhythm is None or rhythm.figure is None or row.free:
        return frozenset(), row
    answers = set(answered_bars(sung)) if any(sung) else set()
    answers.discard(own.final_bar)
    rung = {own.final_bar - 1} if own.final and own.final_bar else set[int]()
    row = replace(row, bars=_written_out(row.bars, answers | rung))
    bars, after_rest = [], set()
    for place, bar in enumerate(row.bars):
        meter = bar.meter or meter
        answer = place in answers and not _repeated_next(row, place)
        usual = own.of(place, len(row.bars)) or rhythm.figure.name
        figure = figure_in("answer" if answer else usual, meter)
        again = bool(bar.strikes) and bar.strikes[0].onset > 0
        unheld = again and _ends_silent(row.bars[:place], silent)
        if figure is None or unheld or bar.length != meter.beats * TICKS_PER_BEAT:
            bars.append(bar)
            continue
        done = with_figure(bar, figure)
        new = done.bar
        if answer and not keeps_its_rhythm(bar):
            new = _with_cue(new, figure)
        bars.append(new)
        if done.begins_silent and not bar.strikes[0].onset:
            after_rest.add(place)
    return frozenset(after_rest), replace(row, bars=tuple(bars))


def _written_out(bars: tuple[Bar, ...], before: set[int]) -> tuple[Bar, ...]:
    """The bars, with a simile sign written out that stands after one of those ``before``: it would
    repeat an answer, or the strokes before the last chord.

    A last chord that rings on is left alone.
    """
    made = list(bars)
    for place in sorted(before):
        after = made[place + 1 : place + 2]
        rings = any(strike.ringing for strike in made[place].strikes)
        if after and after[0].simile == 1 and not (rings or made[place].simile):
            kept = after[0]
            made[place + 1] = replace(
                made[place], cues=kept.cues, marks=kept.marks, meter=kept.meter, span=kept.span
            )
    return tuple(made)


def _repeated_next(row: MusicRow, place: int) -> bool:
    return place + 1 < len(row.bars) and bool(row.bars[place + 1].simile)


def _with_cue(bar: Bar, figure: Figure) -> Bar:
    cue = Cue("answer", figure.onsets[0])
    return replace(bar, cues=tuple(sorted((*bar.cues, cue), key=lambda placed: placed.onset)))


# ---- words that stand before a chord which now enters later


def _with_moved_words(
    chart: Chart, sections: tuple[Section, ...], moved: Mapping[tuple[int, int], _Home]
) -> tuple[Section, ...]:
    new_words: dict[int, WordsRow] = {}
    for systems in placed_systems(chart):
        for section, row, system in systems:
            home = moved.get((section, row))
            if home is not None and home.silent:
                for words in system.words:
                    new_words[id(words)] = _moved_words(words, home)
    return tuple(
        replace(
            section,
            rows=tuple(
                new_words.get(id(row), row) if isinstance(row, WordsRow) else row
                for row in section.rows
            ),
        )
        for section in sections
    )


def _moved_words(words: WordsRow, home: _Home) -> WordsRow:
    """The words with an empty place for the chord that enters after the bar's first word."""
    cells = list(words.cells)
    for bar in home.silent:
        cell = bar + 1 if home.before_bars else bar
        if cell < len(cells) and cells[cell]:
            first, *rest = cells[cell]
            cells[cell] = (first, Segment(), *rest)
    return replace(words, cells=tuple(cells))


# ---- settings


def _top(chart: Chart, grips: Mapping[Chord, PartialGrip], named: str) -> tuple[TopRow, ...]:
    rows: list[TopRow] = [
        row for row in chart.top if not (isinstance(row, SettingRow) and row.name in _OF_THE_FIRST)
    ]
    last = max((i for i, row in enumerate(rows) if isinstance(row, SettingRow)), default=-1)
    chords = dict.fromkeys(iter_chords(chart.sections))
    rows[last + 1 : last + 1] = [
        SettingRow("part", named),
        *(
            SettingRow("shape", GivenShape(chord, grips[upper_part(chord)].frets))
            for chord in chords
            if upper_part(chord) in grips
        ),
    ]
    return tuple(rows)
