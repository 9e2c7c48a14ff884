"""What can only be said of a whole chart: marks that lead nowhere, repeats left open."""

from collections.abc import Iterator

from chartkit.chart.model import Chart, GivenShape, Mark, MusicRow, SettingRow
from chartkit.diagnostics import Span
from chartkit.syntax.report import Report
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of


def check_whole(chart: Chart, length: int, report: Report) -> None:
    """Reports what the rows cannot tell one by one."""
    music = [row for section in chart.sections for row in section.rows if isinstance(row, MusicRow)]
    if not music:
        if not report.found:
            end = max(0, length - 1)
            report.add(
                "no-music", end, min(end + 1, length), "there is no music in this chart",
                "write bars between bar lines: | C | F | G7 | C |",
            )  # fmt: skip
        return
    _check_marks(list(_marks(music)), report)
    _check_repeats(music, report)
    _check_shapes(chart, report)
    _check_own_shapes(chart, report)
    _check_keys_left(chart, report)


def _marks(music: list[MusicRow]) -> Iterator[Mark]:
    for row in music:
        for bar in row.bars:
            yield from bar.marks


def _check_marks(marks: list[Mark], report: Report) -> None:
    kinds = {mark.kind for mark in marks}
    for mark in marks:
        if mark.kind == "D.S." and "segno" not in kinds:
            report.warn("no-segno", *mark.span, "D.S. leads to a segno, and there is none",
                        "write @segno in the bar to go back to")  # fmt: skip
        if mark.until == "coda" and not {"coda", "to-coda"} <= kinds:
            missing = "@coda" if "coda" not in kinds else "@to-coda"
            report.warn("no-coda", *mark.span, f'"al coda" needs {missing}, and there is none',
                        "@to-coda is where to leave, @coda where to go on")  # fmt: skip
        if mark.until == "fine" and "fine" not in kinds:
            report.warn("no-fine", *mark.span, '"al fine" needs a fine, and there is none',
                        "write @fine at the end of the last bar")  # fmt: skip


def _check_repeats(music: list[MusicRow], report: Report) -> None:
    open_at: Span | None = None
    for row in music:
        for line in row.lines:
            if line.kind in ("repeat-end", "repeat-both"):
                open_at = None
            if line.kind in ("repeat-start", "repeat-both"):
                if open_at is not None:
                    _warn_open(open_at, report)
                open_at = line.span
    if open_at is not None:
        _warn_open(open_at, report)


def _warn_open(span: Span, report: Report) -> None:
    report.warn("repeat-left-open", *span, "this repeat is never closed",
                'write ":|" after the last bar that is played again')  # fmt: skip


def _check_shapes(chart: Chart, report: Report) -> None:
    if chart.written_as_shapes and not chart.capo:
        row = next(r for r in chart.top if isinstance(r, SettingRow) and r.name == "chords")
        report.warn("shapes-without-capo", *row.span,
                    "the chords are shapes, but no capo is given",
                    "write capo: and the fret: then the sounding chords are known")  # fmt: skip


def _check_own_shapes(chart: Chart, report: Report) -> None:
    """Warns of a player's own shape that does not sound its chord."""
    if not chart.shapes():
        return
    # Fretboards are loaded only for charts that need them.
    from chartkit.fretboard.instruments import GUITAR, instrument_named
    from chartkit.fretboard.own_shape import shape_problems

    try:
        instrument = instrument_named(chart.text("instrument"))
    except ValueError:
        instrument = GUITAR
    for row in chart.shapes():
        if isinstance(row.value, GivenShape):
            for problem in shape_problems(instrument, row.value.chord, row.value.frets):
                report.warn("shape-sounds-else", *row.span, problem,
                            "frets are counted from the capo, from the bass side")  # fmt: skip


def _check_keys_left(chart: Chart, report: Report) -> None:
    """Warns of a section whose chords lie in an earlier key rather than in its own: most
    likely the way back was forgotten."""
    key, earlier = chart.key, list[Key]()
    for section in chart.sections:
        chords: list[Chord] = []
        for row in section.rows:
            if isinstance(row, SettingRow) and isinstance(row.value, Key):
                if key is not None and key not in earlier:
                    earlier.append(key)
                key, chords = row.value, []
            elif isinstance(row, MusicRow):
                chords += (s.chord for bar in row.bars for s in bar.strikes if s.chord)
        better = [old for old in earlier if key is not None and _fits_better(old, key, chords)]
        if better and section.name:
            report.warn(
                "key-left-behind", *section.span,
                f"these chords lie in {better[-1]} rather than in {key}, the key since the last "
                "change",
                f"to go back, write key: {better[-1]} under this row",
            )  # fmt: skip


_FEW, _MOST = 0.35, 0.8
"""Up to what share of chords in its own key, and from what share in the other, a section is
taken to be in the other (ours)."""


def _fits_better(old: Key, key: Key, chords: list[Chord]) -> bool:
    if len(set(chords)) < 3:
        return False
    scales = [{pitch_class_of(note) for note in k.scale} for k in (key, old)]
    here, there = (sum(c.pitch_classes <= scale for c in chords) / len(chords) for scale in scales)
    return here <= _FEW and there >= _MOST
