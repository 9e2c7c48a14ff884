"""A chart to plain text for a mail: chords above words in fixed columns.

With a capo each row of chords is two: the shapes to finger, and under them what sounds.
Every chord and every bar line has a column of its own; the words of a chord begin in its
column.
"""

import re
from collections.abc import Sequence

from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import (
    Announcement,
    ArrangedBar,
    ArrangedSection,
    ArrangedStrike,
    ArrangedSystem,
    WordsLine,
)
from chartkit.arrange.view import View
from chartkit.chart.model import OPENING_MARKS, BarLine, Chart, Mark, Segment
from chartkit.chart.signs import as_typed
from chartkit.interchange.sheet.facts import facts_of
from chartkit.interchange.sheet.headings import heading_of
from chartkit.interchange.sheet.lines import width_of
from chartkit.interchange.sheet.token import PICK_UP
from chartkit.interchange.sheet.under import VERSE
from chartkit.interchange.sheet.write_beats import beats_of
from chartkit.interchange.sheet.write_head import head_lines

_LINE_SIGNS = {
    "none": "", "single": "|", "double": "||",
    "repeat-start": "|:", "repeat-end": ":|", "repeat-both": ":|:",
}  # fmt: skip
_IN_A_REMARK = str.maketrans("|()", "/[]")
_LIKE_A_CHORD = re.compile(r"[(<]*(?:[A-H]|/[A-G]|[Nn]\.?[Cc]\b)")
_A_WORD = re.compile(r"(?![xX]\d)[^\W\d_]")
_UNTIL = {"": "", "fine": " al Fine", "coda": " al Coda"}
_MARKS = {"segno": "Segno", "coda": "Coda sign", "to-coda": "To Coda", "fine": "Fine"}


def sheet_text(chart: Chart, view: View | None = None) -> str:
    """The text, with every section written out, ending in a line end."""
    view = view or View()
    song = arrange(chart, view)
    lines = head_lines(song, chart, view)
    for section in song.sections:
        lines += _section(section, len(song.lines))
    return "\n".join(line.rstrip() for line in lines).rstrip() + "\n"


def _section(section: ArrangedSection, chord_lines: int) -> list[str]:
    times = f" (x{section.times})" if section.times > 1 else ""
    lines = ["", f"== {section.name}{times}" if section.name else ""]
    if section.name and not section.systems:
        lines.append("(no chords)")  # a name alone would be read as the section played again
    for system in section.systems:
        if system.above:
            lines += ["", *(_remark(_announced(one)) for one in system.above)]
        if system.bars:
            lines += _system(system, chord_lines)
        elif system.words:
            lines += ["" * (not system.above), *map(_line_alone, system.words)]
    return lines


def _line_alone(line: WordsLine) -> str:
    """A line of words without music, with a number where it could be taken for something else."""
    words = _words(line.pickup)
    number = line.verse if line.verse is not None or not _needs_number(words) else 1
    return words if number is None else f"{number}. {words}"


def _announced(one: Announcement) -> str:
    """A change in the words that are read back as one; a key is the sounding one."""
    if one.kind == "key":
        return f"Key: {one.text.rpartition('sounds ')[2]}"
    return f"Tempo {one.text}" if one.kind == "tempo" else one.text


class _Grid:
    """Rows of text that grow together, so that what belongs together shares a column."""

    def __init__(self, rows: int) -> None:
        self.rows = [""] * rows

    def add(self, texts: Sequence[str], gap: str = " ") -> None:
        """Adds one text to each row, all of them ending in one column."""
        width = max(map(width_of, texts))
        for i, text in enumerate(texts):
            self.rows[i] += text + " " * (width - width_of(text)) + gap


def _system(system: ArrangedSystem, chord_lines: int) -> list[str]:
    verses = system.words
    grid = _Grid(chord_lines + len(verses))
    blanks = [""] * chord_lines
    numbers = [f"{line.verse}." if line.verse is not None else "" for line in verses]
    if len(verses) > 1:
        numbers = [number or f"{i}." for i, number in enumerate(numbers, 1)]
    sung = [" ".join(_all_words(line)) for line in verses]
    if any(map(_needs_number, sung)) and not any(numbers):
        numbers = ["1."]
    if any(numbers):
        grid.add([*blanks, *numbers])
    if any(line.pickup != Segment() for line in verses):
        grid.add([*blanks, *(_words(line.pickup) for line in verses)])
    lines = system.lines or (BarLine("none"),) * (len(system.bars) + 1)
    for i, bar in enumerate(system.bars):
        _add_line(grid, lines[i], chord_lines, len(verses))
        cells = [line.bars[i] if i < len(line.bars) else () for line in verses]
        _add_bar(grid, bar, cells, chord_lines, free=not system.lines)
    if system.lines:
        _add_line(grid, lines[-1], chord_lines, len(verses))
    return [row for i, row in enumerate(grid.rows) if row.strip() or i < chord_lines]


def _all_words(line: WordsLine) -> list[str]:
    return [_words(segment) for cell in ((line.pickup,), *line.bars) for segment in cell]


def _needs_number(text: str) -> bool:
    """Whether a line of words alone could be taken for chords, for a row of signs, a heading, a
    fact or a verse with its number, so that it needs a number to be told as words."""
    words = text.split()
    like = sum(_LIKE_A_CHORD.match(word) is not None for word in words)
    plain = sum(_A_WORD.match(word) is not None for word in words) - like
    chordish = like > 0 and plain * 2 <= like
    return (
        chordish
        or ("|" in text and not any(map(str.isalnum, text)))
        or VERSE.match(text) is not None
        or heading_of(text) is not None
        or bool(facts_of(text))
    )


def _add_line(grid: _Grid, line: BarLine, chord_lines: int, verses: int) -> None:
    sign = _LINE_SIGNS[line.kind] + "".join(f"{number}." for number in line.endings)
    if sign:
        grid.add([sign] * chord_lines + [""] * verses)


def _add_bar(
    grid: _Grid,
    arranged: ArrangedBar,
    cells: Sequence[tuple[Segment, ...]],
    chord_lines: int,
    free: bool,
) -> None:
    """A bar slot by slot: its chords, slashes and remarks, with the words of each chord."""
    bar = arranged.bar
    words = [list(cell) for cell in cells]
    blanks = [""] * len(words)
    cues = [(cue.onset, _remark(cue.text)) for cue in bar.cues]
    for mark in bar.marks:
        if mark.kind in OPENING_MARKS:
            grid.add([f"({_mark(mark)})"] * chord_lines + blanks)
    if bar.pickup:
        grid.add([PICK_UP] * chord_lines + blanks)
    if bar.meter is not None:
        grid.add([f"{bar.meter}"] * chord_lines + blanks)
    if bar.simile:
        grid.add(["%" * bar.simile] * chord_lines + _next_words(words))
    if bar.rest:
        told = "rest" if bar.rest == 1 else f"rest {bar.rest}"
        grid.add([told] * chord_lines + _next_words(words))
    for number, beat in enumerate(beats_of(arranged, free)):
        while cues and cues[0][0] <= beat.onset:
            grid.add([cues.pop(0)[1]] * chord_lines + blanks)
        for i, (strike, before, after) in enumerate(beat.parts):
            names = [before + _name(strike, line) + after for line in range(chord_lines)]
            held = number == i == 0 and (strike is None or before)
            sung = _next_words(words) if strike is not None or held else blanks
            if held and strike is not None:
                sung = [
                    f"{one} {other}".strip()
                    for one, other in zip(sung, _next_words(words), strict=True)
                ]
            grid.add([*names, *sung])
    remarks = [text for _, text in cues]
    remarks += [f"({_mark(mark)})" for mark in bar.marks if mark.kind not in OPENING_MARKS]
    for text in remarks:
        grid.add([text] * chord_lines + blanks)


def _remark(text: str) -> str:
    """A cue in parentheses, with no sign in it that would be read as something else."""
    return f"({text.translate(_IN_A_REMARK)})"


def _next_words(words: list[list[Segment]]) -> list[str]:
    return [_words(cell.pop(0)) if cell else "" for cell in words]


def _name(strike: ArrangedStrike | None, line: int) -> str:
    if strike is None:
        return ""
    printed = strike.names[line]
    name = "N.C." if printed is None else printed.plain()
    name = name.replace("♭", "b").replace("♯", "#")
    return as_typed(name, strike)


def _words(segment: Segment) -> str:
    return "_" if segment.held else segment.text + "-" * segment.split


def _mark(mark: Mark) -> str:
    return _MARKS.get(mark.kind, mark.kind) + _UNTIL[mark.until]
