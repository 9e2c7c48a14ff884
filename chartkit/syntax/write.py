"""Writes a chart as text, in canonical columns.

Reading the text again gives the same chart.  Bar lines of a music row and of the words
under it stand in one column, and within a bar each chord stands over its words.
"""

import re
from collections.abc import Iterator
from itertools import accumulate, groupby

from chartkit.chart.bar_lines import bar_line_text, endings_text
from chartkit.chart.model import (
    BarLine,
    BlankRow,
    Chart,
    CommentRow,
    CueRow,
    MusicRow,
    Row,
    Section,
    Segment,
    SettingRow,
    TopRow,
    WordsRow,
)
from chartkit.chart.systems import music_sections, words_stacks
from chartkit.syntax.write_bar import groups_of, places_of
from chartkit.theory.capo import Capo


def chart_text(chart: Chart) -> str:
    """The whole chart as text, ending in a line end."""
    chart = _as_typed(chart)
    lines = list(_rows_text(chart.top))
    for section, home in zip(chart.sections, music_sections(chart), strict=True):
        if section.name:
            lines.append(_heading(section))
        shared = chart.sections[home].rows if home is not None and section.same_as else ()
        music = tuple(row for row in shared if isinstance(row, MusicRow))
        lines += _rows_text(section.rows, _over_free_time(music, section.rows))
    return "\n".join(lines) + "\n"


def _as_typed(chart: Chart) -> Chart:
    """The chart with sections that are moved to another key as they were typed."""
    if all(section.as_typed is None for section in chart.sections):
        return chart
    # Loaded only for charts that need it.
    from chartkit.chart.moved_sections import compact_chart

    return compact_chart(chart)


def _over_free_time(music: tuple[MusicRow, ...], rows: tuple[Row, ...]) -> frozenset[int]:
    """The words rows, by identity, that stand over another section's music in free time."""
    if not any(row.free for row in music):
        return frozenset()
    free = (stack for row, stack in zip(music, words_stacks(rows), strict=False) if row.free)
    return frozenset(id(words) for stack in free for words in stack)


def _heading(section: Section) -> str:
    same_as = f" as {section.same_as}" if section.same_as else ""
    times = f" x{section.times}" if section.times > 1 else ""
    return _commented(f"== {section.name}{same_as}{times}", section.comment)


def _rows_text(
    rows: tuple[TopRow, ...] | tuple[Row, ...], over_free: frozenset[int] = frozenset()
) -> Iterator[str]:
    """The rows as lines; music and words that belong together are set as one block."""
    for _, block in groupby(_numbered_blocks(rows), key=lambda pair: pair[0]):
        yield from _block_lines([row for _, row in block], over_free)


def _numbered_blocks(rows: tuple[TopRow, ...] | tuple[Row, ...]) -> Iterator[tuple[int, Row]]:
    """Each row with the number of its block; a music row or a blank begins a new one."""
    number = 0
    for row in rows:
        if not isinstance(row, WordsRow | CommentRow):
            number += 1
        yield number, row


def _block_lines(rows: list[Row], over_free: frozenset[int]) -> list[str]:
    aligned = [row for row in rows if isinstance(row, MusicRow | WordsRow)]
    set_rows = iter(_aligned(aligned, over_free)) if aligned else iter(())
    return [
        next(set_rows) if isinstance(row, MusicRow | WordsRow) else _plain_line(row) for row in rows
    ]


def _plain_line(row: Row) -> str:
    match row:
        case SettingRow():
            value = row.value.written if isinstance(row.value, Capo) else str(row.value)
            return _commented(f"{row.name}: {_escaped_value(value)}", row.comment)
        case CueRow():
            return _commented(f'"{row.text}"', row.comment)
        case CommentRow():
            return f"# {row.comment}".rstrip()
        case BlankRow():
            return ""
    raise TypeError(row)


def _commented(text: str, comment: str) -> str:
    return f"{text}  # {comment}" if comment else text


def _escaped_value(text: str) -> str:
    return re.sub(r"(?:(?<=\s)|^)#", r"\\#", text.replace("\\", "\\\\"))


# ---- music and words in columns


def _aligned(rows: list[MusicRow | WordsRow], over_free: frozenset[int]) -> list[str]:
    """A music row and its words, or the words of a shared section, in columns."""
    words = [row for row in rows if isinstance(row, WordsRow)]
    if not isinstance(rows[0], MusicRow):
        barred = iter(_words_only([row for row in words if id(row) not in over_free]))
        return [_free_words(row) if id(row) in over_free else next(barred) for row in words]
    lines = _music_with_words(rows[0], words)
    return [_commented(line.rstrip(), row.comment) for line, row in zip(lines, rows, strict=True)]


def _music_with_words(music: MusicRow, words: list[WordsRow]) -> list[str]:
    """A music row and the rows of words under it, in columns, without comments."""
    pickup = music.free or music.lines[0].kind != "none"
    heads = [_words_head(row, pickup) for row in words]
    indent = max(map(len, heads), default=0)
    sung = [row.cells[1:] if pickup else row.cells for row in words]
    columns = [
        _column(
            groups_of(bar, music.free), [cells[i] for cells in sung], places_of(bar, music.free)
        )
        for i, bar in enumerate(music.bars)
    ]
    last = len(music.lines) - 1
    signs = [_line_sign(line, i == last) for i, line in enumerate(music.lines)] or ["", ""]
    lines = [_joined(" " * indent, signs, [column[0] for column in columns])]
    begun = music.free and any(row.cells[0][0] != Segment() for row in words)
    for i, (head, row) in enumerate(zip(heads, words, strict=True), 1):
        dividers = _words_dividers(signs, music.free)
        if begun:  # without a pick-up of its own, a row has no divider after it either
            dividers = ["/" if row.cells[0][0] != Segment() else " ", ""]
        lines.append(_joined(head.ljust(indent), dividers, [column[i] for column in columns]))
    return lines


def _words_head(row: WordsRow, pickup: bool) -> str:
    """What a row of words has before its first bar: its number and, if asked for, its pick-up."""
    prefix = _prefix(row)
    return f"{prefix} {_segment(row.cells[0][0])}".rstrip() if pickup else prefix


def _words_dividers(lines: list[str], free: bool) -> list[str]:
    return ["" if free or not sign else "|".ljust(len(sign)) for sign in lines]


def _joined(head: str, lines: list[str], cells: list[str]) -> str:
    parts = [head] if head else []
    if lines[0]:
        parts.append(lines[0])
    for cell, line in zip(cells, lines[1:], strict=True):
        parts += [cell, line]
    return " ".join(parts)


def _free_words(row: WordsRow) -> str:
    """A words row over another section's music in free time: no bar lines, only chords."""
    (pickup,), *cells = row.cells
    sung = [segment for cell in cells for segment in cell]
    begins = [] if pickup == Segment() else [pickup]
    text = f"{_prefix(row)} {' / '.join(map(_segment, (*begins, *sung)))}"
    return _commented(text.rstrip(), row.comment)


def _words_only(rows: list[WordsRow]) -> list[str]:
    """Words rows without music of their own: bar lines and chords in columns among them."""
    width = max((len(row.cells) for row in rows), default=0)
    heads = [f"{_prefix(row)} {' / '.join(map(_segment, row.cells[0]))}".rstrip() for row in rows]
    indent = max(map(len, heads), default=0)
    columns: list[list[str]] = []
    for i in range(1, width):
        cells = [row.cells[i] if i < len(row.cells) else (Segment(),) for row in rows]
        columns.append(_column([], cells, [1] * max(map(len, cells)))[1:])
    return [
        _commented(
            _joined(
                head.ljust(indent),
                ["|" if len(row.cells) > 1 else ""] * len(row.cells),
                [columns[j][i] for j in range(len(row.cells) - 1)],
            ).rstrip(),
            row.comment,
        )
        for i, (head, row) in enumerate(zip(heads, rows, strict=True))
    ]


def _column(groups: list[str], cells: list[tuple[Segment, ...]], places: list[int]) -> list[str]:
    """One bar in every row, music first, padded to one width."""
    if all(len(cell) < 2 for cell in cells):
        texts = [" ".join(groups), *(" / ".join(map(_segment, cell)) for cell in cells)]
    else:
        sung = [_by_group(cell, places) for cell in cells]
        widths = [
            max(len(groups[i]) if i < len(groups) else 0, *(len(s[i]) for s in sung))
            for i in range(len(places))
        ]
        music = "   ".join(group.ljust(w) for group, w in zip(groups, widths, strict=False))
        texts = [
            music,
            *(_under(cell, s, places, widths) for cell, s in zip(cells, sung, strict=True)),
        ]
    width = max(map(len, texts))
    return [text.ljust(width) for text in texts]


def _by_group(cell: tuple[Segment, ...], places: list[int]) -> list[str]:
    """The words of a bar, one text for each group of chords."""
    texts, start = [], 0
    for count in places:
        texts.append(" / ".join(map(_segment, cell[start : start + count])))
        start += count
    return texts


def _under(
    cell: tuple[Segment, ...], texts: list[str], places: list[int], widths: list[int]
) -> str:
    starts = accumulate(places, initial=0)
    used = [text for text, start in zip(texts, starts, strict=False) if start < len(cell)]
    if len(cell) == 1:
        return texts[0]
    return " / ".join(text.ljust(width) for text, width in zip(used, widths, strict=False))


def _prefix(row: WordsRow) -> str:
    return ":" if row.verse is None else f"{row.verse}:"


def _segment(segment: Segment) -> str:
    if segment.held:
        return "_"
    text = re.sub(r"[\\|/#]", r"\\\g<0>", segment.text)
    if text == "_" or (text.endswith("-") and not segment.split):
        text = f"{text[:-1]}\\{text[-1]}"
    return text + "-" * segment.split


def _line_sign(line: BarLine, last: bool) -> str:
    """A bar line as it is typed; ``last`` closes its row."""
    if not line.times:
        return bar_line_text(line)
    endings = endings_text(line)
    following = "|:" if line.kind == "repeat-both" else "" if last and not endings else "|"
    return f":| x{line.times} {following}{endings}".rstrip()
