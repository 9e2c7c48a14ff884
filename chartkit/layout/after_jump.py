"""What is played after D.C. or D.S. where the page alone leaves it open.

No repeat is taken after a jump, and of numbered endings the last one is played (common practice, no
source); of verses stacked over the sign the one that the sign was written in is sung.
"""

from collections.abc import Iterator

from chartkit.arrange.arrangement import ArrangedBar
from chartkit.chart.model import BarLine
from chartkit.layout.folds import ordinal
from chartkit.layout.song_form import SongForm

_ENDS = {"D.S. al Coda": "to-coda", "D.C. al Coda": "to-coda"}
_ENDS |= {"D.S. al Fine": "fine", "D.C. al Fine": "fine"}
_REPEATS = ("repeat-end", "repeat-both")
_BarWithLines = tuple[ArrangedBar, BarLine, BarLine]


def after_jump(form: SongForm, printed: int) -> str:
    """The words for a printed section that ends in a jump: ``after D.S.: Verse 1, no repeat, 2nd
    ending``; empty where the page leaves nothing open or the jump's end is missing."""
    jump = next((one.jump for one in form.entries if one.printed == printed and one.jump), "")
    kind = jump[:4]
    first = 0 if kind == "D.C." else _section_with(form, "segno")
    end = _ENDS.get(jump)
    if first is None or end is None or first > printed:
        return ""
    way = list(_until(_bars(form, first, printed, from_sign=kind == "D.S."), end))
    names = [entry.name for entry in form.entries if entry.printed == first]
    parts = [names[0]] if len(names) > 1 and len(set(names)) == len(names) else []
    numbers = {number for _, opening, _ in way for number in opening.endings}
    if numbers or any(after.kind in _REPEATS for _, _, after in way):
        parts.append("no repeat")
    if numbers:
        parts.append(f"{ordinal(max(numbers))} ending")
    return f"after {kind}: {', '.join(parts)}" if parts else ""


def _section_with(form: SongForm, kind: str) -> int | None:
    for number, section in enumerate(form.sections):
        if any(mark.kind == kind for s in section.systems for b in s.bars for mark in b.bar.marks):
            return number
    return None


def _bars(form: SongForm, first: int, last: int, from_sign: bool) -> Iterator[_BarWithLines]:
    """The bars with the lines around them of printed sections, from the segno on if asked for."""
    begun = not from_sign
    for section in form.sections[first : last + 1]:
        for system in section.systems:
            lines = system.bar_lines
            for bar, before, after in zip(system.bars, lines, lines[1:], strict=False):
                begun = begun or any(mark.kind == "segno" for mark in bar.bar.marks)
                if begun:
                    yield bar, before, after


def _until(bars: Iterator[_BarWithLines], kind: str) -> Iterator[_BarWithLines]:
    """The bars up to the one with a mark of the kind."""
    for one in bars:
        yield one
        if any(mark.kind == kind for mark in one[0].bar.marks):
            return
