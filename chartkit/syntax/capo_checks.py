"""Checks of capo moves inside a song: can they be played as written?"""

from typing import NamedTuple

from chartkit.chart.capos import capo_of_row, capos_of_systems, moves_capo
from chartkit.chart.model import Bar, Chart, MusicRow, SettingRow
from chartkit.chart.playing_order import PlayedBar, playing_order
from chartkit.chart.restated import restated_systems
from chartkit.chart.systems import music_sections, shared_sections
from chartkit.chart.walk import iter_rows
from chartkit.diagnostics import Span, has_errors
from chartkit.syntax.report import Report
from chartkit.theory.capo import Capo


class _Stand(NamedTuple):
    """The capo of a row of music, and the row that moved it there just above, if one did."""

    capo: Capo
    moved_by: Span | None


def check_capos(chart: Chart, report: Report) -> None:
    """Reports short capos that the instrument has no strings for, and warns of a move to where the
    capo is already, of one without time for it, and of repeats and jumps that lead back to music
    under another capo."""
    _check_short_capos(chart, report)
    # A row that could not be read may be the move that seems to be missing.
    if not moves_capo(chart) or has_errors(tuple(report.diagnostics)):
        return
    _check_idle_moves(chart, report)
    _check_left_behind(chart, report)
    _check_played_moves(chart, report)


def _check_short_capos(chart: Chart, report: Report) -> None:
    rows = [row for row in (*chart.top, *iter_rows(chart.sections)) if isinstance(row, SettingRow)]
    short = [(row, row.value) for row in rows if isinstance(row.value, Capo)]
    if not short:
        return
    # Fretboards are loaded only for charts that need them.
    from chartkit.fretboard.instruments import chosen_instrument

    instrument = chosen_instrument(chart.text("instrument"))
    count = len(instrument.strings)
    for row, capo in short:
        if capo.strings[-1] > count:
            report.add(
                "capo-strings",
                *row.span,
                f"there is no string {capo.strings[-1]}: the {instrument.name} has {count}",
                "strings are counted from 1, the highest",
            )
        elif len(capo.strings) == count:
            report.warn(
                "capo-strings",
                *row.span,
                f"this capo lies over all {count} strings",
                f"write capo: {capo.fret}",
            )


def _check_idle_moves(chart: Chart, report: Report) -> None:
    """A row is idle where the capo is there already every time its music is played; under a heading
    that plays a section again it says that the capo stays."""
    repeated = {
        row.span
        for section, source in zip(chart.sections, shared_sections(chart), strict=True)
        for row in (section.rows if source is not None else ())
    }
    capo, idle, needed = chart.capo, dict[Span, Capo](), set[Span]()
    for systems in restated_systems(chart):
        for row in (row for system in systems for row in system.above):
            moved = capo_of_row(row)
            if moved is None:
                continue
            if moved == capo and row.span not in repeated:
                idle.setdefault(row.span, capo)
            else:
                needed.add(row.span)
            capo = moved
    for span, there in idle.items():
        if span not in needed and span.end:
            report.warn(
                "capo-not-moved",
                *span,
                f"the capo is already there: {there}",
                "leave this row out, or write the fret that it is moved to",
            )


def _check_left_behind(chart: Chart, report: Report) -> None:
    """Warns of a section that is played again under a capo that another section has moved."""
    capos = capos_of_systems(chart, restated_systems(chart))
    for number, source in enumerate(shared_sections(chart)):
        section = chart.sections[number]
        if source is None or not capos[source] or not capos[number]:
            continue
        then, now = capos[source][0], capos[number][0]
        if then != now and not any(capo_of_row(row) is not None for row in section.rows):
            name = chart.sections[source].name
            back, stays = (f"capo: {capo.written}" for capo in (then, now))
            report.warn(
                "capo-left-there",
                *section.span,
                f'the music of "{name}" is played with {now} here, with {then} before',
                f'to move it back, write "{back}" under the heading; if it should stay, "{stays}"',
            )


def _check_played_moves(chart: Chart, report: Report) -> None:
    """Follows the song as it is played: from bar to bar the capo may only change at a row that
    moves it, after a silence."""
    stands = _stands(chart)
    before: PlayedBar | None = None
    reported = set[Span]()
    for bar in playing_order(chart).bars:
        stand = stands[bar.section, bar.row]
        last = None if before is None else stands[before.section, before.row]
        if before is not None and last is not None and last.capo != stand.capo:
            first = bar.bar == 0
            span = stand.moved_by if first and stand.moved_by else _span_of(chart, before)
            if span not in reported:
                reported.add(span)
                if not (first and stand.moved_by):
                    _report_way_back(span, last.capo, stand.capo, report)
                elif not (_is_silent_at_end(chart, before) or _is_silent(_written(chart, bar))):
                    _report_no_time(span, report)
        before = bar


def _stands(chart: Chart) -> dict[tuple[int, int], _Stand]:
    """Where the capo is in every row of music, by section and the row's number in its home."""
    stands: dict[tuple[int, int], _Stand] = {}
    systems = restated_systems(chart)
    capos = capos_of_systems(chart, systems)
    for section, home in enumerate(music_sections(chart)):
        rows = () if home is None else chart.sections[home].rows
        numbers = (number for number, row in enumerate(rows) if isinstance(row, MusicRow))
        for system, capo in zip(systems[section], capos[section], strict=True):
            if system.music is not None:
                moves = [row for row in system.above if capo_of_row(row) is not None]
                stands[section, next(numbers)] = _Stand(capo, moves[-1].span if moves else None)
    return stands


def _written(chart: Chart, bar: PlayedBar) -> Bar | None:
    row = chart.sections[bar.written_in].rows[bar.row]
    return row.bars[bar.bar] if isinstance(row, MusicRow) else None


def _span_of(chart: Chart, bar: PlayedBar) -> Span:
    written = _written(chart, bar)
    return Span(0, 0) if written is None else written.span


def _is_silent(bar: Bar | None) -> bool:
    """Whether a bar begins with a beat at least in which nothing is struck anew."""
    if bar is None or bar.rest:
        return True
    if bar.silences and not bar.silences[0]:
        return True
    return bool(bar.strikes) and bar.strikes[0].chord is None and not bar.strikes[0].onset


def _is_silent_at_end(chart: Chart, bar: PlayedBar) -> bool:
    """Whether a bar ends in silence, or in a chord that may ring while the hand is away."""
    written = _written(chart, bar)
    if written is None or written.rest or any(mark.holds_time for mark in written.marks):
        return True
    if not written.strikes:
        return bool(written.silences)
    last = written.strikes[-1]
    after = [onset for onset in written.silences if onset > last.onset]
    return last.chord is None or last.stopped or bool(after)


def _report_way_back(span: Span, here: Capo, there: Capo, report: Report) -> None:
    report.warn(
        "capo-way-back",
        *span,
        f"from here the song goes to music played with {there}, but the capo is "
        f"{f'at {here.place}' if here.fret else 'off'}",
        "move the capo where nothing before it is repeated, or write that music out under the "
        "new capo",
    )


def _report_no_time(span: Span, report: Report) -> None:
    report.warn(
        "no-time-for-capo",
        *span,
        "there is no time to move the capo here",
        'leave a rest or N.C. before it: | rest | or | C / N.C. / |; a stop "C!" or a fermata '
        "also gives time",
    )
