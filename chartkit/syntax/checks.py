"""Checks of a whole chart: verses with the same number, own shapes, forgotten key changes."""

from chartkit.chart.capos import moves_capo
from chartkit.chart.keys import key_of_row
from chartkit.chart.model import (
    TICKS_PER_BEAT,
    Bar,
    Chart,
    CueRow,
    GivenShape,
    MusicRow,
    SettingRow,
    WordsRow,
)
from chartkit.chart.systems import all_systems, is_bare
from chartkit.chart.walk import iter_bars, iter_music, iter_rows, row_chords
from chartkit.diagnostics import has_errors
from chartkit.phrases import nearest
from chartkit.syntax.navigation import check_navigation
from chartkit.syntax.refrain_checks import check_refrains, check_verses_sung
from chartkit.syntax.report import Report
from chartkit.syntax.section_checks import check_sections
from chartkit.theory.capo import NO_CAPO
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of


def check_whole(chart: Chart, length: int, report: Report) -> None:
    """Reports mistakes that no single row shows."""
    music = list(iter_music(chart.sections))
    if not music:
        if not has_errors(tuple(report.diagnostics)):
            _report_no_music(chart, length, report)
        if chart.sections:
            check_sections(chart, length, report)
        return
    check_navigation(chart, music, report)
    check_sections(chart, length, report)
    _check_verses(chart, report)
    _check_shapes(chart, report)
    _check_own_shapes(chart, report)
    _check_instrument(chart, report)
    _check_keys_left(chart, report)
    _check_capos(chart, report)
    _check_pushes(chart, report)
    _check_bars(chart, music, report)
    check_refrains(chart, report)
    check_verses_sung(chart, report)


_ROWS_WITHOUT_BARS = 4
"""So many rows in free time are a song whose bars were left out, not a free introduction (ours)."""


def _check_bars(chart: Chart, music: list[MusicRow], report: Report) -> None:
    """Warns once of a song with a meter and a tempo that has no bar at all."""
    rows = [row for row in chart.top if isinstance(row, SettingRow)]
    meter = next((row for row in rows if row.name == "meter"), None)
    timed = meter is not None and any(row.name == "tempo" for row in rows)
    if not timed or meter is None or len(music) < _ROWS_WITHOUT_BARS:
        return
    if all(row.free for row in music):
        report.warn(
            "no-bars",
            *meter.span,
            f"the song is in {meter.value}, but none of its rows has bar lines: counts, road maps "
            "and parts need bars",
            "write them in: | C | F G | C |; or take meter and tempo out if it is in free time",
        )


def _report_no_music(chart: Chart, length: int, report: Report) -> None:
    """Reports an error if there is nothing to print, and a warning for a chart of words alone."""
    end = max(0, length - 1)
    words = any(isinstance(row, WordsRow) for row in iter_rows(chart.sections))
    report.add(
        "no-music",
        end,
        min(end + 1, length),
        f"there is no music in this chart{', only words' * words}",
        "write bars between bar lines: | C | F | G7 | C |",
        severity="warning" if words else "error",
    )


def _check_verses(chart: Chart, report: Report) -> None:
    """Warns of two rows of words with one number under the same row of music."""
    for section, systems in zip(chart.sections, all_systems(chart), strict=True):
        if section.same_as or is_bare(section):
            continue
        for system in systems:
            numbers = set[int]()
            for row in system.words if system.music is not None else ():
                if row.verse in numbers:
                    start = row.span.start
                    report.warn(
                        "verse-number-twice",
                        start,
                        start + len(f"{row.verse}:"),
                        f"there is a verse {row.verse} under this row of music already",
                        f'number the verses under one row in order: "{max(numbers) + 1}:"',
                    )
                if row.verse is not None:
                    numbers.add(row.verse)


def _check_capos(chart: Chart, report: Report) -> None:
    if moves_capo(chart) or chart.capo.strings:
        # The playing order is loaded only for charts that need it.
        from chartkit.syntax.capo_checks import check_capos

        check_capos(chart, report)


_EARLY = TICKS_PER_BEAT // 2
"""How early a pushed chord is struck: half a beat (common practice, no source)."""


def _check_pushes(chart: Chart, report: Report) -> None:
    """Warns of a pushed chord where something else is struck in the half beat before its beat: it
    would be struck after the chord that comes later."""
    for section in chart.sections:
        before: Bar | None = None
        for bar in iter_bars((section,)):
            struck = _struck_onsets(bar)
            if before is not None:
                struck |= {onset - before.length for onset in _struck_onsets(before)}
            for strike in bar.strikes:
                if not bar.length or not strike.pushed or strike.chord is None:
                    continue
                if any(strike.onset - _EARLY <= onset < strike.onset for onset in struck):
                    report.warn(
                        "push-on-struck",
                        *strike.span,
                        f'"<{strike.chord}" is pushed half a beat early, but something else is '
                        "struck in that half beat",
                        'take out the "<", or what is struck in the half beat before it',
                    )
            before = bar


def _struck_onsets(bar: Bar) -> set[int]:
    """The onsets of what is struck in a bar, without slashes on whole beats, which give way to a
    push."""
    return {*(strike.onset for strike in bar.strikes), *bar.slashes, *bar.mutes}


def _check_shapes(chart: Chart, report: Report) -> None:
    if chart.written_as_shapes and chart.capo == NO_CAPO and not moves_capo(chart):
        row = next(r for r in chart.top if isinstance(r, SettingRow) and r.name == "chords")
        report.warn(
            "shapes-without-capo",
            *row.span,
            "the chords are shapes, but no capo is given",
            "add a row capo: with the fret, so that the sounding chords are known",
        )


def _check_own_shapes(chart: Chart, report: Report) -> None:
    """Warns of a player's own shape that does not sound its chord."""
    if not chart.shapes():
        return
    # Fretboards are loaded only for charts that need them.
    from chartkit.fretboard.instrument import under_capo
    from chartkit.fretboard.instruments import chosen_instrument
    from chartkit.fretboard.player_shape import shape_problems

    instrument = under_capo(chosen_instrument(chart.text("instrument")), chart.capo)
    for row in chart.shapes():
        if isinstance(row.value, GivenShape):
            problems = shape_problems(instrument, row.value.chord, row.value.frets)
            if problems:
                report.warn(
                    "shape-sounds-else",
                    *row.span,
                    "; ".join(problems),
                    "frets are counted from the capo, from the bass side",
                )


_AS_SPELT = 0.75
"""How like a known instrument a name is that was probably meant to be it (ours; ``nearest``)."""


def _check_instrument(chart: Chart, report: Report) -> None:
    """Warns of an instrument whose name is nearly a known one: any other text is taken for a
    guitar."""
    row = next((r for r in chart.top if isinstance(r, SettingRow) and r.name == "instrument"), None)
    if row is None:
        _check_said_tuning(chart, report)
        return
    from chartkit.fretboard.instruments import GUITAR, KNOWN, is_known

    text = str(row.value)
    meant = nearest(text, (instrument.name for instrument in KNOWN), _AS_SPELT)
    if meant and meant != GUITAR.name and not is_known(text):
        report.warn(
            "unlike-instrument",
            *row.span,
            f'"{text}" is not an instrument that chartkit knows, so a guitar is assumed',
            f'did you mean "{meant}"?',
        )


def _check_said_tuning(chart: Chart, report: Report) -> None:
    """Warns of a note or cue that asks for a tuning in a chart for the usual one: grips, plan and
    book would be those of a guitar in its usual tuning."""
    rows = [
        row
        for row in (*chart.top, *iter_rows(chart.sections))
        if isinstance(row, CueRow) or (isinstance(row, SettingRow) and row.name in _REMARKS)
    ]
    if not rows:
        return
    from chartkit.fretboard.instruments import said_tuning

    for row in rows:
        text = row.text if isinstance(row, CueRow) else str(row.value)
        if tuning := said_tuning(text):
            report.warn(
                "tuning-only-said",
                *row.span,
                f'"{text}" asks for {tuning}, but the chart is for a guitar in its usual tuning',
                f'write "instrument: {tuning}" at the top, and its grips and plans are for that',
            )
            return


_REMARKS = ("note", "feel")


def _check_keys_left(chart: Chart, report: Report) -> None:
    """Warns of a section whose chords lie in an earlier key rather than in its own: most
    likely the way back was forgotten."""
    key, earlier = chart.key, list[Key]()
    for section in chart.sections:
        chords: list[Chord] = []
        for row in section.rows:
            if (new_key := key_of_row(row)) is not None:
                if key is not None and key not in earlier:
                    earlier.append(key)
                key, chords = new_key, []
            elif isinstance(row, MusicRow):
                chords += row_chords(row)
        better = [old for old in earlier if key is not None and _fits_better(old, key, chords)]
        if better and section.name:
            report.warn(
                "key-left-behind",
                *section.span,
                f"these chords lie in {better[-1]} rather than in {key}, the key since the last "
                "change",
                f"to go back, write key: {better[-1]} under this row",
            )


_FEW = 0.35
"""A section may be in another key if at most this share of its chords lies in its own (ours)."""
_MOST = 0.8
"""It is taken to be in that key if at least this share lies in it (ours)."""


def _fits_better(old: Key, key: Key, chords: list[Chord]) -> bool:
    if len(set(chords)) < 3:
        return False
    scales = [{pitch_class_of(note) for note in k.scale} for k in (key, old)]
    here, there = (sum(c.pitch_classes <= scale for c in chords) / len(chords) for scale in scales)
    return here <= _FEW and there >= _MOST
