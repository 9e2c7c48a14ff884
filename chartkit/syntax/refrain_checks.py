"""Checks of the form: a refrain that comes once after several verses, and verses that are never
sung."""

from collections import Counter
from itertools import pairwise

from chartkit.chart.model import Chart
from chartkit.chart.playing_order import playing_order, section_times
from chartkit.chart.section_words import kind_of_section
from chartkit.chart.sung_lines import VersesSung
from chartkit.chart.verses import has_stacks
from chartkit.diagnostics import has_errors
from chartkit.phrases import counted
from chartkit.syntax.report import Report


def check_refrains(chart: Chart, report: Report) -> None:
    """Warns of a refrain right after verses that stand under one another: all of them are sung
    before it, and most songs sing it after each (common practice, no source)."""
    if has_errors(tuple(report.diagnostics)) or not has_stacks(chart):
        return
    times = zip(section_times(chart), chart.sections, strict=True)
    for (often, verses), (_, refrain) in pairwise(times):
        if often == verses.times or kind_of_section(refrain.name) != "chorus":
            continue
        again = f'"== {verses.name}", "== {refrain.name}"'
        report.warn(
            "refrain-once",
            *refrain.span,
            f'all {counted(often, "verse")} of "{verses.name}" are sung before "{refrain.name}"',
            f"if it comes after each of them, write the headings alone for each time: {again}",
        )


def check_verses_sung(chart: Chart, report: Report) -> None:
    """Warns of verses under one another that are more than the times through their music."""
    verses = VersesSung(chart)
    if has_errors(tuple(report.diagnostics)) or not verses.stacked:
        return
    order = playing_order(chart)
    if order.cut_short:
        return
    sung: dict[int, set[int]] = {}
    visits = Counter[tuple[int, int, int]]()
    written, often = Counter[int](), Counter[int]()
    for bar in order.bars:
        turn = verses.turns[bar.section]
        system, lines = verses.at(bar)
        if system is not None and system.words:
            sung.setdefault(turn, set()).update(lines)
            place = (turn, verses.rows[bar.row_place], bar.bar)
            visits[place] += 1
            often[turn] = max(often[turn], visits[place])
            written[turn] = max(written[turn], len(system.words))
    for turn in sorted(written):
        if len(sung[turn]) == written[turn]:
            continue
        section = chart.sections[turn]
        report.warn(
            "verse-not-sung",
            *section.span,
            f'"{section.name or "this section"}" has {counted(written[turn], "verse")}, but its '
            f"music is played {counted(often[turn], 'time')}",
            "let a repeat or a heading come back to it for each verse, or take verses out",
        )
