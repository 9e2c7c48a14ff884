"""Who sounds where: voice and guitars over one scale of pitches."""

from collections.abc import Sequence
from dataclasses import dataclass

from chartkit.advise.beside import BesideOption, GuitarPositions
from chartkit.advise.ranking import Advice
from chartkit.advise.register import Moment, Register, part_of, register_of
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Dot, Item, Shape, Stroke
from chartkit.layout.place import SECOND_INK
from chartkit.layout.style import Style
from chartkit.theory.pitch import PitchRange

_LOWEST, _HIGHEST = 38, 84
"""D2 to C6: from below a guitar tuned down to above the usual sung range."""
_BLACK_KEYS = {1, 3, 6, 8, 10}
_C = 0


@dataclass(frozen=True, slots=True)
class RegisterRow:
    """A part by name: its lowest, middle and highest pitch, and how its sound is shared out.

    Pitches are MIDI numbers; ``shares`` is empty where only the range is known.
    """

    name: str
    lowest: int
    middle: float
    highest: int
    shares: tuple[tuple[int, float], ...] = ()


def register_row(name: str, register: Register | None) -> list[RegisterRow]:
    """The row of a part, or none for one that never sounds."""
    if register is None:
        return []
    return [RegisterRow(name, register.lowest, register.middle, register.highest, register.shares)]


def register_rows(
    advice: Advice,
    sung: PitchRange | None,
    first: Sequence[Moment] | None,
    second: tuple[BesideOption, ...],
    spread: tuple[GuitarPositions, ...],
) -> tuple[RegisterRow, ...]:
    """The parts to show: the voice, then one guitar, two, or as many as are spread."""
    rows: list[RegisterRow] = []
    if sung is not None:
        low, high = sung.lowest.midi, sung.highest.midi
        rows.append(RegisterRow(f"voice {sung.printed()}", low, (low + high) / 2, high))
    if second and first is not None:
        rows += register_row("first guitar", register_of(first))
        rows += register_row(f"second guitar, {second[0].played.option}", second[0].register)
    elif spread:
        best = spread[0]
        for option, register in zip(best.guitars, best.registers, strict=True):
            rows += register_row(f"guitar, {option.option.brief}", register)
    elif advice.best is not None:
        part = part_of(advice.song, advice.best, advice.instrument)
        rows += register_row(f"guitar, {advice.best.option.brief}", register_of(part))
    return tuple(rows)


def register_picture(
    rows: tuple[RegisterRow, ...], fitter: Fitter, style: Style
) -> tuple[list[Item], float]:
    """The parts over a keyboard, and how high the picture is, in points."""
    pt = style.pt
    left = pt(120)
    key_width = (style.line_width - left) / (_HIGHEST - _LOWEST)
    y = style.heading
    title = fitter.text("Who sounds where", 0, y, "strong", style.heading, role="heading")
    rule = style.heading * 0.66
    items: list[Item] = [
        title,
        Stroke(title.width + pt(8), rule, style.line_width, rule, pt(0.5), 0.45),
    ]
    for row in rows:
        y += pt(24)
        items += _bar(row, left, key_width, y, fitter, style)
    y += pt(12)
    items += _keyboard(left, key_width, y, fitter, style)
    return items, y + pt(34)


def _place(pitch: float, left: float, key_width: float) -> float:
    inside = min(max(pitch, _LOWEST), _HIGHEST)
    return left + (inside - _LOWEST + 0.5) * key_width


def _bar(
    row: RegisterRow, left: float, key_width: float, y: float, fitter: Fitter, style: Style
) -> list[Item]:
    """A part's range as a line, its sound as columns on it, its middle as a dot."""
    pt, size = style.pt, style.small
    start, end = _place(row.lowest, left, key_width), _place(row.highest, left, key_width)
    name = fitter.shortened(row.name, "plain", size, left - pt(8))
    items: list[Item] = [
        fitter.text(name, 0, y, "plain", size, role="register"),
        Stroke(start, y, end, y, pt(1.2), SECOND_INK),
    ]
    most = max((share for _, share in row.shares), default=1.0)
    for pitch, share in row.shares:
        x, height = _place(pitch, left, key_width), pt(15) * share / most
        half = key_width * 0.36
        items.append(
            Shape(
                ((x - half, y), (x + half, y), (x + half, y - height), (x - half, y - height)),
                0.0,
                0.55,
            )
        )
    items.append(Dot(_place(row.middle, left, key_width), y, pt(2.6)))
    return items


def _keyboard(left: float, key_width: float, y: float, fitter: Fitter, style: Style) -> list[Item]:
    pt, items, height = style.pt, list[Item](), style.pt(18)
    right = left + (_HIGHEST - _LOWEST) * key_width
    items.append(Shape(((left, y), (right, y), (right, y + height), (left, y + height)), pt(0.6)))
    for pitch in range(_LOWEST, _HIGHEST):
        x = left + (pitch - _LOWEST) * key_width
        if pitch % 12 in _BLACK_KEYS:
            items.append(
                Shape(
                    (
                        (x, y),
                        (x + key_width, y),
                        (x + key_width, y + height * 0.6),
                        (x, y + height * 0.6),
                    ),
                    0.0,
                    0.8,
                )
            )
        if pitch % 12 == _C:
            items.append(Stroke(x, y, x, y + height, pt(0.6)))
            name = f"C{pitch // 12 - 1}"
            items.append(
                fitter.text(name, x, y + height + pt(10), "plain", style.small, role="scale")
            )
    return items
