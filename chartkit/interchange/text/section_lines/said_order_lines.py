"""What a sentence that gives the order of sections makes of a sheet: the sections that it adds,
counts of those that stand on the sheet, or an order of all of them."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.text.kinds.line_kinds import (
    Chords,
    KnownLine,
    Roadmap,
    SectionStart,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_form.roadmap import Stop, go_on, playing_order
from chartkit.interchange.text.song_form.steps import SaidOrder, SaidStep
from chartkit.interchange.text.tokens import Token
from chartkit.interchange.text.vocabulary.order_words import endings_from
from chartkit.interchange.text.vocabulary.section_names import section_key

RowReader = Callable[[Line], tuple[Token, ...] | None]
"""Reads a line as a row of chords; None where it is none."""


@dataclass(frozen=True, slots=True)
class OrderedLines:
    """What stands in place of the sentence, and how often sections above are played, by their
    places, each with what is said of it."""

    lines: tuple[KnownLine, ...]
    counts: dict[int, tuple[int, str]]


def ordered_lines(
    order: SaidOrder, written: Sequence[SectionStart], line: Line, row_of: RowReader
) -> OrderedLines | None:
    """What a sentence makes of the ``written`` sections above; None where it is no order of them.

    A sentence that begins with all sections as they stand counts these and adds what it names
    behind them; one that goes on adds all that it names; any other is the order of the whole song.
    """
    names = [one.name for one in written]
    keys = [section_key(one) for one in names]
    if order.goes_on:
        return OrderedLines(tuple(added_sections(order.steps, names, line, row_of)), {})
    first = order.steps[: len(keys)]
    if [keys[one.at] if one.at >= 0 else None for one in first] == keys:
        counts = {
            at: (one.times, one.remark)
            for at, one in enumerate(first)
            if one.times > 1 or one.remark
        }
        rest = order.steps[len(keys) :]
        return OrderedLines(tuple(added_sections(rest, names, line, row_of)), counts)
    more = order.steps[0].at > 0 and go_on([one.at for one in order.steps], len(keys))
    if not more and (whole := _whole_order(order.steps, names, line, row_of)) is not None:
        return OrderedLines(whole, {})
    if order.steps[0].at == 0:
        return None
    return OrderedLines(tuple(added_sections(order.steps, names, line, row_of)), {})


def added_sections(
    steps: Sequence[SaidStep], names: Sequence[str], line: Line, row_of: RowReader
) -> Iterator[KnownLine]:
    """The sections that a sentence adds behind those that stand above it, which have these
    ``names``."""
    for one in steps:
        row = row_of(Line(line.number, one.row, where=line.where)) if one.row else None
        yield KnownLine(
            line,
            SectionStart(
                name=names[one.at] if one.at >= 0 else one.name,
                times=one.times,
                like=one.like,
                remarks=(one.remark,) if one.remark else (),
                guessed=True,
                with_chords=row is not None,
            ),
        )
        if row is not None:
            yield KnownLine(line, Chords(row, behind_name=True))


def _whole_order(
    steps: Sequence[SaidStep], names: Sequence[str], line: Line, row_of: RowReader
) -> tuple[KnownLine, ...] | None:
    """The sections that stand nowhere else, and the order of all; None where the steps are no
    order of the whole song."""
    steps = [_as_written(one, names) for one in steps]
    new = list({(one.name, one.like, one.row): one for one in steps if one.at < 0}.values())
    keys = [section_key(name) for name in names]
    stops = [
        Stop(
            keys[one.at] if one.at >= 0 else section_key(one.name),
            one.times,
            one.remark if one.at >= 0 or one.like or one.row else "",
        )
        for one in steps
    ]
    song = endings_from(names)
    added = [section_key(one.name) for one in new]
    if playing_order(stops, [*keys[:song], *added, *keys[song:]]) is None:
        return None
    plain = [replace(one, times=1, remark="" if one.like or one.row else one.remark) for one in new]
    return (*added_sections(plain, names, line, row_of), KnownLine(line, Roadmap(tuple(stops))))


def _as_written(step: SaidStep, names: Sequence[str]) -> SaidStep:
    """A step; the last chord of the song as the section that stands on the sheet, where one
    does."""
    same = [at for at, name in enumerate(names) if section_key(name) == section_key(step.name)]
    return replace(step, at=same[-1], row="") if step.row and same else step
