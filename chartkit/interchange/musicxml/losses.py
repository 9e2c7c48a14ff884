"""The losses of a chart on its way through MusicXML and back."""

from collections.abc import Callable, Iterator
from itertools import pairwise, zip_longest
from typing import NamedTuple

from chartkit.chart.capos import capos_in_order
from chartkit.chart.model import (
    TICKS_PER_BEAT,
    Bar,
    Chart,
    CommentRow,
    CueRow,
    MusicRow,
    Row,
    SettingRow,
    TopRow,
)
from chartkit.chart.systems import all_systems, music_rows, plays_again
from chartkit.chart.walk import iter_music, iter_rows
from chartkit.interchange.intake_result import Refused
from chartkit.interchange.musicxml.read import read_musicxml
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.interchange.score.outgoing import cannot_be_repeated

_MOST_BARS = 8


class Loss(NamedTuple):
    """One loss in plain words, and the test whether a chart has it."""

    words: str
    concerns: Callable[[Chart], bool]


def losses_of(chart: Chart) -> tuple[str, ...]:
    """The parts of this chart that MusicXML cannot carry, one line for each loss; the last names
    the bars that come back differently, or says why the way back could not be tried."""
    words = [loss.words for loss in LOSSES if loss.concerns(chart)]
    try:
        back = read_musicxml(musicxml_bytes(chart), _no_symbol).chart
    except Refused as reason:
        return (*words, f"a way back into a chart ({reason})")
    changed = changed_bars(chart, back)
    if changed:
        more = f" and {len(changed) - _MOST_BARS} more" if len(changed) > _MOST_BARS else ""
        words.append(f"rhythms that come back differently: {', '.join(changed[:_MOST_BARS])}{more}")
    return tuple(words)


def _no_symbol(text: str) -> None:
    """Reads no chord symbol: our own scores need none."""


def changed_bars(chart: Chart, back: Chart) -> tuple[str, ...]:
    """The bars that are played differently in a chart that came back, each by its section and its
    number there."""
    ours, theirs = list(_played_bars(chart)), list(_played_bars(back))
    names = [name for name, _ in ours]
    pairs = zip_longest((bar for _, bar in ours), (bar for _, bar in theirs))
    return tuple(
        names[i] if i < len(names) else "bars after the last"
        for i, (one, two) in enumerate(pairs)
        if one is None or two is None or _rhythm(one) != _rhythm(two)
    )


def _played_bars(chart: Chart) -> Iterator[tuple[str, Bar]]:
    """Every bar with its name, sections that share music written out."""
    for section, systems in zip(chart.sections, all_systems(chart), strict=True):
        bars = [bar for s in systems if s.music is not None for bar in s.music.bars]
        for number, bar in enumerate(bars, 1):
            yield f"{section.name} bar {number}".strip(), bar


def _rhythm(bar: Bar) -> tuple[object, ...]:
    """When and how something is struck in a bar."""
    struck = tuple(
        (s.onset, s.chord is None, s.pushed, s.stopped, s.ringing, s.optional) for s in bar.strikes
    )
    return struck, bar.slashes, bar.silences, bar.mutes, bar.rest


def _rows(chart: Chart) -> Iterator[Row | TopRow]:
    yield from chart.top
    yield from iter_rows(chart.sections)


def _has_comments(chart: Chart) -> bool:
    rows = any(isinstance(row, CommentRow) or getattr(row, "comment", "") for row in _rows(chart))
    return rows or any(section.comment for section in chart.sections)


def _shares_sections(chart: Chart) -> bool:
    return any(plays_again(chart))


def _is_played_again(chart: Chart) -> bool:
    return any(section.times > 1 for section in chart.sections)


def _says_times_in_words(chart: Chart) -> bool:
    """Whether a section played several times cannot have repeat signs around it."""
    return any(
        cannot_be_repeated(row.bars, row.lines, row.free)
        for i, section in enumerate(chart.sections)
        if section.times > 1
        for row in music_rows(chart, i)
        if isinstance(row, MusicRow)
    )


def _says_between_rows(chart: Chart) -> bool:
    return any(isinstance(row, CueRow | SettingRow) for row in iter_rows(chart.sections))


def _has_odd_lines(chart: Chart) -> bool:
    return any(
        row.lines and (row.lines[0].kind == "double" or any(line.endings for line in row.lines))
        for row in iter_music(chart.sections)
    )


def _pushes_far(chart: Chart) -> bool:
    for row in iter_music(chart.sections):
        before = ("repeat", *(line.kind for line in row.lines[1:])) if row.lines else ()
        for i, bar in enumerate(row.bars):
            for strike in bar.strikes:
                early = strike.onset == 0 and (not before or before[i].startswith("repeat"))
                if strike.pushed and (row.free or early or strike.length < TICKS_PER_BEAT):
                    return True
    return False


def _holds_early_chords(chart: Chart) -> bool:
    """Whether a chord in the second half of a beat is held over the next one."""
    for row in iter_music(chart.sections):
        for bar, following in pairwise((*row.bars, None)):
            assert bar is not None
            over = {
                *bar.holds,
                *(bar.length for at in (following.holds if following else ()) if not at),
            }
            for strike in bar.strikes:
                beat, inside = divmod(strike.onset, TICKS_PER_BEAT)
                if 2 * inside >= TICKS_PER_BEAT and (beat + 1) * TICKS_PER_BEAT in over:
                    return True
    return False


def _has_lone_feel(chart: Chart) -> bool:
    rows = [row for row in _rows(chart) if isinstance(row, SettingRow)]
    return any(r.name == "feel" for r in rows) and not any(r.name == "tempo" for r in rows)


def _stacks_bare_verses(chart: Chart) -> bool:
    return any(
        row.verse is None
        for systems in all_systems(chart)
        for system in systems
        if system.music is not None
        for row in system.words[1:]
    )


def _has_words_beside_music(chart: Chart) -> bool:
    """Whether words stand alone in a section that has music as well."""
    return any(
        any(system.music is None and system.words for system in systems)
        and any(system.music is not None for system in systems)
        for systems in all_systems(chart)
    )


LOSSES = (
    Loss("comments", _has_comments),
    Loss("every section is written out in full, also one that shares its music", _shares_sections),
    Loss("a section played several times has repeat signs around it", _is_played_again),
    Loss(
        "a section with repeats, a pick-up or free time of its own that is played several times "
        "says so in words, and other programs play it once",
        _says_times_in_words,
    ),
    Loss(
        "chords written as shapes become sounding ones; the capo stays",
        lambda chart: chart.written_as_shapes,
    ),
    Loss(
        "a cue or a change on a row of its own stands at the start of the next bar",
        _says_between_rows,
    ),
    Loss(
        "a capo over some strings is said in words, since a score's capo lies over all",
        lambda chart: any(capo.strings for capo in capos_in_order(chart)),
    ),
    Loss("double bar lines that open a row; where endings end", _has_odd_lines),
    Loss(
        "chords pushed across a repeat or into a row, in free time, or that share their beat, "
        "are struck on it",
        _pushes_far,
    ),
    Loss(
        "chords struck off the beat and held over the next one come back as pushed",
        _holds_early_chords,
    ),
    Loss("a feel without a tempo becomes a cue", _has_lone_feel),
    Loss("words without music above them in a section that has music", _has_words_beside_music),
    Loss("verses without numbers under one row are numbered", _stacks_bare_verses),
)
"""Every possible loss except blank rows; tests check that nothing else is lost."""
