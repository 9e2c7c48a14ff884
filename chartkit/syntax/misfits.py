"""Sections that come again in another key or meter, and messages where they cannot."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from chartkit.chart.model import Bar, Chart, Meter
from chartkit.chart.systems import is_moved
from chartkit.syntax.report import Report
from chartkit.syntax.write_bar import groups_of
from chartkit.theory.key import Key

if TYPE_CHECKING:
    from chartkit.chart.moved_sections import Misfit

_WRITE_OUT = "for other music, write its bars under this heading"


def with_moved_sections(chart: Chart, report: Report) -> Chart:
    """The chart with the music of sections that come again in another key or meter."""
    if not any(map(is_moved, chart.sections)):
        return chart
    # Loaded only for charts that need it.
    from chartkit.chart.moved_sections import moved_sections

    moved = moved_sections(chart)
    _report_misfits(moved.misfits, report)
    return moved.chart


def _report_misfits(misfits: Iterable["Misfit"], report: Report) -> None:
    """Reports sections whose music does not fit the key or the meter under their heading."""
    for misfit in misfits:
        old, new = misfit.old, misfit.new
        if isinstance(old, Key) and isinstance(new, Key):
            _report_key(misfit, old, new, report)
        elif misfit.obstacle == "meter" and isinstance(old, Meter) and misfit.bar is not None:
            report.add(
                "meter-does-not-fit",
                *misfit.span,
                f'the music of "{misfit.name}" is in {old}, and its bar "{_text(misfit.bar)}" '
                f"does not say how it is played in {new}",
                "write the bars of this section under its heading",
            )
        else:
            report.add(
                "too-much-moved",
                *misfit.span,
                "there is too much music in this chart that comes again in another key or meter",
                _WRITE_OUT,
            )


def _report_key(one: "Misfit", old: Key, new: Key, report: Report) -> None:
    if one.obstacle == "key-unknown":
        report.warn(
            "moved-from-a-guess",
            *one.span,
            f'"{one.name}" is moved to {new} from {old}, its likeliest key: the chart names none',
            f'write "key: {old}" at the top, or the key that it is in',
        )
        return
    report.add(
        "other-mode",
        *one.span,
        f'the music of "{one.name}" is in {old}, and cannot be moved to {new}',
        f'to move it, name a {old.mode} key: "key: {Key(new.tonic, old.mode)}"',
        _WRITE_OUT,
    )


def _text(bar: Bar) -> str:
    return " ".join(groups_of(bar, free=False))
