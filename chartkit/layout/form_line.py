"""The form line under the title: the sections in the order they come, each with its bars."""

from collections.abc import Sequence
from typing import NamedTuple

from chartkit.layout.fit import Fitter
from chartkit.layout.folds import FormEntry
from chartkit.layout.frames import Piece, Text
from chartkit.layout.style import Style

_BETWEEN, _GOES_ON = " · ", " ·"
"""Between two sections, and at the end of a line after which the order goes on."""
_LEAST = 2
"""A song of one section needs no form line."""


class _Part(NamedTuple):
    """An entry, set in type, and what is read aloud of it."""

    pieces: tuple[Piece, ...]
    width: float
    spoken: str


def form_lines(
    entries: Sequence[FormEntry], fitter: Fitter, style: Style, room: float
) -> list[Text]:
    """The form in lines no wider than the room, the first with its baseline at 0.

    Nothing where the song has a single section, or one without a name.
    """
    if len(entries) < _LEAST or not all(entry.name for entry in entries):
        return []
    size = style.cue
    setter = fitter.typesetter
    between = setter.pieces(_BETWEEN, "plain", size)
    goes_on = setter.pieces(_GOES_ON, "plain", size)
    gap, end = setter.width(between), setter.width(goes_on)
    lines: list[list[_Part]] = [[]]
    used = 0.0
    for entry in entries:
        more = end * (entry is not entries[-1])
        part = _entry(entry, fitter, size, room - more)
        if lines[-1] and used + gap + part.width + more > room:
            lines.append([])
            used = 0.0
        used += part.width + gap * bool(lines[-1])
        lines[-1].append(part)
    made = [
        _line(line, between, goes_on * (i < len(lines) - 1), i * size * 1.4, fitter)
        for i, line in enumerate(lines)
    ]
    return [made[0]._replace(spoken=f"Order: {made[0].spoken}"), *made[1:]]


def _line(
    parts: list[_Part],
    between: tuple[Piece, ...],
    end: tuple[Piece, ...],
    y: float,
    fitter: Fitter,
) -> Text:
    pieces = list(parts[0].pieces)
    for part in parts[1:]:
        pieces += [*between, *part.pieces]
    pieces += end
    width = fitter.typesetter.width(tuple(pieces))
    said = "; ".join(part.spoken for part in parts)
    return Text(0.0, y, width, tuple(pieces), "form", spoken=said)


def _entry(entry: FormEntry, fitter: Fitter, size: float, room: float) -> _Part:
    """``Verse 1`` in bold and how long it is; how often it is played and where it leads back.  The
    bars stand in parentheses, so that no figure is read as part of a name: ``A 1 (8)``."""
    setter = fitter.typesetter
    bars = f" ({entry.bars})" if entry.bars else ""
    times = f" × {entry.times}" if entry.times > 1 else ""
    jump = f", {entry.jump}" if entry.jump else ""
    said = bars + times + jump
    tail = setter.pieces(said, "plain", size) if said else ()
    name = fitter.shortened(entry.name, "strong", size, room - setter.width(tail))
    pieces = (*setter.pieces(name, "strong", size), *tail)
    return _Part(pieces, setter.width(pieces), _spoken(entry))


def _spoken(entry: FormEntry) -> str:
    """``Verse 1, 16 bars``: without its unit a number after a name reads as part of the name."""
    bars = f"{entry.bars} bar{'s' * (entry.bars != 1)}" if entry.bars else ""
    times = f"{entry.times} times" if entry.times > 1 else ""
    return ", ".join(filter(None, (entry.name, bars, times, entry.jump)))
