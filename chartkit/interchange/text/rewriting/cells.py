"""Tables whose cells are parted by a sign, as spreadsheets and word processors copy them: tabs,
strokes, semicolons or commas, also with lines of signs drawn around them.

A row of heads says what stands in each column (``table_heads.py``).  Each row becomes a section's
name with its count, what is said of it, and its chords; a row without a name goes on with the one
above.  Rows of two cells above and below are settings with their labels.  Source of the forms:
common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.text.raw_text.set_apart import as_said, chords_in
from chartkit.interchange.text.rewriting.degree_rows import OTHER, degree_row
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.form_words import AS_BEFORE, section_meant
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.table_heads import kinds_of_heads
from chartkit.interchange.text.vocabulary.times_played import ONCE_MORE, count_among, times_of
from chartkit.interchange.wording import one_line

_SEPARATORS = "\t|;,"
_DRAWN = re.compile(r"[\s|+=:_─━│┃┼┌┐└┘├┤┬┴-]*")
"""A line of a table that is drawn with signs."""
_STROKES = str.maketrans("│┃", "||")
_LONGEST, _MOST_LINES = 400, 2_000
_FEWEST_ROWS = 2
_NOTHING = frozenset(["-", "–", "—", "/", '"', "''", "“", "”", "„", "〃", "=", "..."])
"""What stands in a cell for nothing of its own."""
_AGAIN = re.compile(rf"(?:{ONCE_MORE})[.!]?", re.IGNORECASE)
_FIGURE = re.compile(r"[x×]?\s*(\d{1,2})\s*[x×]?")
_MOST_TIMES, _MOST_WORDS_OF_A_LABEL, _MOST_WORDS_OF_A_NAME = 40, 3, 5


@dataclass(frozen=True, slots=True)
class _Heads:
    """The sign between the cells of a table, and what stands in each column by which head."""

    sign: str
    kinds: tuple[str, ...]
    names: tuple[str, ...]

    def row(self, text: str) -> list[str] | None:
        """The cells of a line, one for each head; None where it has more."""
        cells = _cells(text, self.sign)
        more = cells[len(self.kinds) :]
        cells = cells[: len(self.kinds)] + [""] * (len(self.kinds) - len(cells))
        if any(more) and self.kinds[-1] not in ("remark", "other", "words"):
            return None
        if any(more):
            cells[-1] = f"{self.sign} ".join([cells[-1], *more]).strip(f"{self.sign} ")
        return cells

    def of(self, kind: str, cells: Sequence[str]) -> list[str]:
        """The cells of all columns of a kind."""
        return [cell for one, cell in zip(self.kinds, cells, strict=True) if one == kind]


def with_cells_written_out(lines: Numbered, findings: Findings) -> Numbered:
    """The lines, those of a table as a section's name, what is said of it and its chords each; what
    is read as a table is reported."""
    if len(lines) > _MOST_LINES:
        return lines
    result: Numbered = []
    beside: list[int] = []
    signs = ""
    at = 0
    while at < len(lines):
        heads = _heads(lines[at][1])
        rows = list(_rows(lines, at + 1, heads)) if heads is not None else []
        if heads is None or not _are_sections(heads, [cells for _, cells in rows if any(cells)]):
            beside.append(len(result))
            result.append(lines[at])
            at += 1
            continue
        _report(heads, rows, lines[at][0], findings)
        signs += heads.sign
        if result and _is_drawn(result[-1][1]):
            result[-1] = (result[-1][0], "")
        result += [(lines[i][0], text) for i, cells in rows for text in _section(heads, cells)]
        at = rows[-1][0] + 1
    for place in beside if signs else ():
        result[place] = (result[place][0], _label_and_value(result[place][1], signs[0]))
    return result


def _are_sections(heads: _Heads, rows: Sequence[list[str]]) -> bool:
    """Whether the rows of a table are sections: short names, and chords for most of what stands in
    the columns of chords."""
    names = [len(heads.of("name", cells)[0].split()) for cells in rows]
    filled = [
        one for cells in rows for one in heads.of("chords", cells) + heads.of("bar", cells) if one
    ]
    music = sum(_is_music(one) for one in filled)
    short = max(names, default=0) <= _MOST_WORDS_OF_A_NAME
    return len(rows) >= _FEWEST_ROWS and short and music > 0 and 3 * music >= len(filled)


def _report(
    heads: _Heads, rows: Sequence[tuple[int, list[str]]], number: int, findings: Findings
) -> None:
    """Reports that a table is read as sections, and which of its columns is not in the chart."""
    said = " ".join(filter(None, heads.names))
    findings.guess(
        "table",
        f'"{one_line(said)}" names the columns of a table: each row is read as a section',
        f"{number}:1",
    )
    counts = [one for _, cells in rows if cells for one in heads.of("bars", cells) if one]
    if counts:
        findings.leave_out(
            "table-counts",
            f"the numbers of bars in the table ({one_line(', '.join(counts))}) are left out: "
            "its chords show them",
            f"{number}:1",
        )


def _is_drawn(text: str) -> bool:
    return bool(text.strip()) and len(text) <= _LONGEST and _DRAWN.fullmatch(text) is not None


def _cells(text: str, sign: str) -> list[str]:
    """What stands between the signs of a line, without quotation marks around it."""
    if sign == "|":
        text = text.translate(_STROKES).strip()
        text = text.removeprefix("|").removesuffix("|")
    cells = [cell.strip() for cell in text.split(sign)]
    if '"' in text and sign in ",;":
        cells = _unquoted(text, sign)
    return cells


def _unquoted(text: str, sign: str) -> list[str]:
    """The cells of a line of which some stand in quotation marks, the sign within them or not."""
    cells, inside = [""], False
    for letter in text:
        if letter == '"':
            inside = not inside
        elif letter == sign and not inside:
            cells.append("")
        else:
            cells[-1] += letter
    return [cell.strip() for cell in cells]


def _heads(text: str) -> _Heads | None:
    """The heads of a table, if a line is these; None for any other."""
    if not 0 < len(text) <= _LONGEST:
        return None
    text = text.translate(_STROKES)
    for sign in _SEPARATORS:
        if sign in text:
            names = _cells(text, sign)
            kinds = kinds_of_heads(names) if sign != "," or len(names) > _FEWEST_ROWS else ()
            return _Heads(sign, kinds, tuple(names)) if kinds else None
    return None


def _rows(lines: Numbered, start: int, heads: _Heads) -> Iterator[tuple[int, list[str]]]:
    """The places of the lines of a table below its heads, each with its cells; none of these for
    lines that are drawn."""
    begun, left = False, 0
    for at in range(start, len(lines)):
        text = lines[at][1]
        if len(text) > _LONGEST:
            return
        if _DRAWN.fullmatch(text) is not None:
            left += not text.strip()
            if left > 1 or (left and heads.sign == "|"):
                return
            yield at, []
            continue
        cells = (
            heads.row(text) if heads.sign in text.translate(_STROKES) else _name_alone(text, heads)
        )
        named = bool(cells) and any(heads.of("name", cells or []))
        if cells is None or not (named or begun):
            return
        begun, left = True, 0
        yield at, cells


def _name_alone(text: str, heads: _Heads) -> list[str] | None:
    """The cells of a row that has nothing behind its name; None for any other line."""
    if not is_known_name(text.strip()):
        return None
    return [text.strip() if kind == "name" else "" for kind in heads.kinds]


def _label_and_value(text: str, sign: str) -> str:
    """A row of two cells beside a table as a label and what it says; any other as it is, without
    the signs behind it."""
    if sign not in text or sign in "," or len(text) > _LONGEST:
        return text
    cells = _cells(text, sign)
    filled = [cell for cell in cells if cell]
    label = filled[0] if filled else ""
    short = len(label.split()) <= _MOST_WORDS_OF_A_LABEL and not chords_in(label)
    short = short and (":" not in label or label.endswith(":"))  # else it has its value already
    if len(filled) == 2 and cells[:2] == filled and short:
        return f"{filled[0].rstrip(':')}: {filled[1]}"
    return filled[0] if len(filled) == 1 and cells[0] and sign != "|" else text


def _section(heads: _Heads, cells: Sequence[str]) -> list[str]:
    """The lines of a section of a table; none for a line without cells."""
    return list(_Row(heads, cells).lines()) if any(cells) else []


class _Row:
    """What a row of a table says of a section."""

    def __init__(self, heads: _Heads, cells: Sequence[str]) -> None:
        self.name = heads.of("name", cells)[0].strip("[]: ")
        self.times, self.said, self.like = 1, list[str](), ""
        for cell in heads.of("times", cells):
            self._count(cell)
        self.music = [*self._music(heads.of("chords", cells)), *_bars(heads.of("bar", cells))]
        for kind, head, cell in zip(heads.kinds, heads.names, cells, strict=True):
            if cell and kind in ("remark", "other", ""):
                self._say(cell if kind != "other" else f"{head}: {cell}")
        self.words = [cell for cell in heads.of("words", cells) if cell]

    def _count(self, cell: str) -> None:
        figure = _FIGURE.fullmatch(cell)
        times = int(figure[1]) if figure is not None else times_of(cell)
        if times:
            self.times = max(1, min(times, _MOST_TIMES))
        elif cell and cell not in _NOTHING:
            self.said.append(cell)

    def _music(self, cells: Sequence[str]) -> Iterator[str]:
        """The rows of chords of a row; what else stands there is said of the section."""
        for cell in cells:
            bare = cell.strip(" .")
            if not bare or bare in _NOTHING or AS_BEFORE.fullmatch(bare) or _AGAIN.fullmatch(bare):
                continue
            if section_meant(bare) and not _is_music(bare):
                self.like = bare
            elif _is_music(bare):
                yield bare
            else:
                self._say(cell)

    def _say(self, cell: str) -> None:
        """Takes what is said of the section, and how often it is played."""
        if _AGAIN.fullmatch(cell) is not None or cell in _NOTHING:
            return
        times, said = times_of(cell), ""
        if not times:
            times, said = count_among(cell)
        self.times = max(self.times, times)
        self.said += [said] if said else []

    def lines(self) -> Iterator[str]:
        """The lines that say the same one below another."""
        if self.name:
            like = f" ({self.like})" if self.like else ""
            sign = ":" if is_direction(self.name) else ""  # "[build]" alone would be said
            count = f" x{self.times}" if self.times > 1 else sign
            yield f"[{self.name}]{count}{like}"
        yield from map(as_said, self.said)
        yield from (f"  {one}" for one in self.music)
        yield from self.words


def _is_music(text: str) -> bool:
    """Whether a cell holds chords, by letters or by numbers, with bar lines and counts."""
    chords = [one for one in text.split() if not (OTHER.fullmatch(one) or times_of(one))]
    plain = " ".join(one.strip("()|,") for one in chords)
    return bool(chords) and (chords_in(plain) > 0 or degree_row(text) is not None)


def _bars(cells: Sequence[str]) -> list[str]:
    """The cells of columns of a bar each as a row of bars; nothing where all are empty."""
    while cells and not cells[-1]:
        cells = cells[:-1]
    return [f"| {' | '.join(cell or '%' for cell in cells)} |"] if cells else []
