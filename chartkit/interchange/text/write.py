"""A chart to plain text for a mail: chords above words in fixed columns.

With a capo each row of chords is two: the shapes to finger, and under them what sounds.
Every chord and every bar line has a column of its own; the words of a chord begin in its
column.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

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
from chartkit.chart.bar_lines import bar_line_text, endings_text
from chartkit.chart.marks import printed_mark
from chartkit.chart.model import (
    TICKS_PER_BEAT,
    Bar,
    BarLine,
    Chart,
    Segment,
)
from chartkit.chart.signs import SLASH, as_typed, written_signs
from chartkit.chart.sung_lines import sung_lines
from chartkit.chart.whole_words import whole_words
from chartkit.interchange.text.building.chart_builder import NO_CHORDS
from chartkit.interchange.text.kinds.unnamed_lines import is_plainly_words
from chartkit.interchange.text.lines import width_of
from chartkit.interchange.text.rows.lyrics import VERSE
from chartkit.interchange.text.tokens import PICK_UP
from chartkit.interchange.text.written_head import head_lines


class WrittenBeat(NamedTuple):
    """A beat as it is typed: each chord with the signs that stand before and after it, None
    for signs alone."""

    onset: int
    parts: tuple[tuple[ArrangedStrike | None, str, str], ...]


def beats_of(arranged: ArrangedBar, free: bool) -> Iterator[WrittenBeat]:
    """The written places of a bar with what is struck in each.

    What shares a beat is parted by commas; a slash is the chord again, "_" a hold, "r" a rest,
    "x" a muted stroke.
    """
    bar: Bar = arranged.bar
    if free or not bar.beats_written:
        for i, strike in enumerate(arranged.strikes):
            yield WrittenBeat(i if free else strike.onset, ((strike, "", ""),))
        return
    signs: dict[int, ArrangedStrike | str] = {**written_signs(bar)}
    signs |= {strike.onset: strike for strike in arranged.strikes}
    for at in range(0, bar.length, TICKS_PER_BEAT):
        inside = [signs[tick] for tick in range(at, at + TICKS_PER_BEAT) if tick in signs]
        yield WrittenBeat(at, tuple(_typed(inside or [SLASH])))


def _typed(signs: list[ArrangedStrike | str]) -> Iterator[tuple[ArrangedStrike | None, str, str]]:
    """The signs of a beat gathered around its chords."""
    first = next((i for i, sign in enumerate(signs) if not isinstance(sign, str)), len(signs))
    before = ",".join(str(sign) for sign in signs[:first])
    if first == len(signs):
        yield None, before, ""
        return
    lead = before and before + ","
    starts = [i for i, sign in enumerate(signs) if not isinstance(sign, str)]
    for start, end in zip(starts, [*starts[1:], len(signs)], strict=True):
        strike = signs[start]
        assert not isinstance(strike, str)
        after = "".join(f",{sign}" for sign in signs[start + 1 : end])
        yield strike, lead, after + "," * (end < len(signs))
        lead = ""


_IN_A_REMARK = str.maketrans("|()", "/[]")
_LIKE_A_CHORD = re.compile(r"[(<]*(?:[A-H]|/[A-G]|[Nn]\.?[Cc]\b)")
_A_WORD = re.compile(r"(?![xX]\d)[^\W\d_]")


def sheet_text(chart: Chart, view: View | None = None) -> str:
    """The text, with every section written out, ending in a line end."""
    view = view or View()
    song = arrange(chart, view)
    lines = head_lines(song, chart, view)
    for section, typed, own in zip(song.sections, chart.sections, sung_lines(chart), strict=True):
        section = replace(_with_own_verses(section, own), name=typed.name)
        lines += _section(section, len(song.chord_lines))
    return "\n".join(line.rstrip() for line in lines).rstrip() + "\n"


def _with_own_verses(section: ArrangedSection, own: Sequence[tuple[int, ...]]) -> ArrangedSection:
    """The section with those of its words that it sings, system by system; settings alone behind
    its last music are no system here."""
    systems = tuple(
        replace(system, words=tuple(system.words[number] for number in numbers))
        for system, numbers in zip(section.systems, own, strict=False)
    )
    return replace(section, systems=systems)


def _section(section: ArrangedSection, chord_lines: int) -> list[str]:
    times = f" (x{section.times})" if section.times > 1 else ""
    lines = ["", f"== {section.name}{times}" if section.name else ""]
    if section.name and not section.systems:
        lines.append(f"({NO_CHORDS})")  # a name alone would be read as the section played again
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
    if one.kind == "capo":
        return one.text.partition(":")[0]
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
    # a number with nothing behind it would be read as a verse sung again
    verses = [line for line in system.words if any(map(str.strip, _all_words(line)))]
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
    lines = system.bar_lines or (BarLine("none"),) * (len(system.bars) + 1)
    if system.bars[0].bar.pickup:
        lines = (BarLine("none"), *lines[1:])  # a bar behind a bar line is read as a whole one
    for i, bar in enumerate(system.bars):
        _add_line(grid, lines[i], chord_lines, len(verses))
        cells = [line.bars[i] if i < len(line.bars) else () for line in verses]
        _add_bar(grid, bar, cells, chord_lines, free=not system.bar_lines)
    if system.bar_lines:
        _add_line(grid, lines[-1], chord_lines, len(verses))
    return [row for i, row in enumerate(grid.rows) if row.strip() or i < chord_lines]


def _all_words(line: WordsLine) -> list[str]:
    return [_words(segment) for cell in ((line.pickup,), *line.bars) for segment in cell]


def _needs_number(text: str) -> bool:
    """Whether a line of words alone could be taken for chords, for a row of signs, a heading, a
    fact or a verse with its number, so that it needs a number to be read as words."""
    words = text.split()
    like = sum(_LIKE_A_CHORD.match(word) is not None for word in words)
    plain = sum(_A_WORD.match(word) is not None for word in words) - like
    chordish = like > 0 and plain * 2 <= like
    return (
        chordish
        or ("|" in text and not any(map(str.isalnum, text)))
        or VERSE.match(text) is not None
        or not is_plainly_words(text)
    )


def _add_line(grid: _Grid, line: BarLine, chord_lines: int, verses: int) -> None:
    sign = bar_line_text(line)
    if line.times:
        endings = endings_text(line)
        following = "|:" if line.kind == "repeat-both" else "|" * bool(endings)
        sign = f":| (x{line.times}) {following}{endings}".rstrip()
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
    for sign in _signs_before(bar):
        grid.add([sign] * chord_lines + blanks)
    if bar.simile:
        grid.add(["%" * bar.simile] * chord_lines + _next_words(words))
    if bar.rest:
        written = "rest" if bar.rest == 1 else f"rest {bar.rest}"
        grid.add([written] * chord_lines + _next_words(words))
    cues = [(cue.onset, _remark(cue.text)) for cue in bar.cues]
    over_beats = [mark for mark in bar.marks if mark.place == "beat"]
    for number, beat in enumerate(beats_of(arranged, free)):
        while cues and cues[0][0] <= beat.onset:
            grid.add([cues.pop(0)[1]] * chord_lines + blanks)
        _add_beat(grid, beat, words, chord_lines, first=number == 0)
        over = [mark for mark in over_beats if mark.onset == beat.onset]
        for mark in over:
            over_beats.remove(mark)
            grid.add([f"({printed_mark(mark)})"] * chord_lines + blanks)
    ending = (mark for mark in bar.marks if mark.place == "end")
    signs = [f"({printed_mark(mark)})" for mark in (*over_beats, *ending)]
    for sign in (*(text for _, text in cues), *signs):
        grid.add([sign] * chord_lines + blanks)


def _signs_before(bar: Bar) -> Iterator[str]:
    """What is written before the first chord of a bar."""
    for mark in bar.marks:
        if mark.place == "start":
            yield f"({printed_mark(mark)})"
    if bar.pickup:
        yield PICK_UP
    if bar.meter is not None:
        yield f"{bar.meter}"


def _add_beat(
    grid: _Grid, beat: WrittenBeat, words: list[list[Segment]], chord_lines: int, first: bool
) -> None:
    """A beat's chords and signs, with the next words under each chord.  The words before a
    bar's first chord stand under what holds the chord before it."""
    for i, (strike, before, after) in enumerate(beat.parts):
        names = [before + _name(strike, line) + after for line in range(chord_lines)]
        held = first and i == 0 and (strike is None or before)
        sung = _next_words(words) if strike is not None or held else [""] * len(words)
        if held and strike is not None:
            following = _next_words(words)
            sung = [f"{one} {other}".strip() for one, other in zip(sung, following, strict=True)]
        grid.add([*names, *sung])


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
    return "_" if segment.held else whole_words(segment.text) + "-" * segment.split
