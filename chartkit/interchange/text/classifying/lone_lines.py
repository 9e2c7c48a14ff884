"""Lines that stand alone in their sections under rows of bars, or under chords behind names.

Whoever sings from such a sheet has words under all rows of a section.  A single line under the last
of several rows, or a short one in small letters under one row, is rather said to the players, in
whatever words.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.kinds.line_kinds import (
    SUNG,
    Blank,
    Chords,
    KnownLine,
    LineKind,
    SectionStart,
    Words,
)
from chartkit.interchange.text.rows.beats import cells_of

_UNDER_OTHERS, _SHORT = 2.5, 1.5
"""What it weighs for being said that a line stands under rows without words, or is short (ours; of
the known sheets' lines of the first kind all are said)."""
_FEW_WORDS, _FEWER_WORDS = 1.25, 0.5
"""A line has few words for its bars, in small letters and in capitals, if it has no more than this
for each (ours; nine in ten lines of words under bars have more)."""


def lone_lines(known: Sequence[KnownLine]) -> dict[int, float]:
    """The places of lines that stand alone under rows of bars or behind names, each with the
    weight of that for being said."""
    found: dict[int, float] = {}
    for section in sections_of(known):
        sung = [at for at in section if isinstance(known[at].kind, SUNG)]
        rows = [at for at in section if isinstance(known[at].kind, Chords)]
        if len(sung) != 1 or not rows or not isinstance(known[sung[0]].kind, Words):
            continue
        (line,) = sung
        if rows[-1] != line - 1 or not _are_listed(known, rows):
            continue
        first = known[rows[0]].kind
        named = isinstance(first, Chords) and first.behind_name
        if _is_set_under(known, line, named):
            continue
        if len(rows) > 1:
            found[line] = _UNDER_OTHERS
        elif _is_short(known[line].line.text, known[rows[0]].kind):
            found[line] = _SHORT
    return found


def report_doubtful_words(known: Sequence[KnownLine], findings: Findings) -> None:
    """Reports the lines that are kept as sung and may be said, by all that speaks for it or because
    they have few words for the bars above them."""
    for above, one in pairwise(known):
        if isinstance(one.kind, Words) and (
            one.kind.may_be_said or _is_short(one.line.text, above.kind)
        ):
            findings.guess(
                "maybe-a-remark",
                f'"{one.line.text.strip()}" may be said to the players: it is kept as sung',
                one.line.place(),
            )


def sections_of(known: Sequence[KnownLine]) -> Iterator[list[int]]:
    """The places of the lines of each section, without blank ones."""
    section: list[int] = []
    for at, one in enumerate(known):
        if isinstance(one.kind, SectionStart):
            yield section
            section = []
        elif not isinstance(one.kind, Blank):
            section.append(at)
    yield section


def _are_listed(known: Sequence[KnownLine], rows: Sequence[int]) -> bool:
    """Whether all rows have bars, or the first stands behind a name and the others go on with
    it."""
    kinds = [kind for at in rows if isinstance(kind := known[at].kind, Chords)]
    return kinds[0].behind_name or all(map(_is_barred, kinds))


def _is_set_under(known: Sequence[KnownLine], at: int, named: bool) -> bool:
    """Whether the words of a line are set under the chords above, by blanks before or in it, or
    begin before them as those of a pick-up do; rows of a ``named`` list are indented anyway."""
    text, above = known[at].line.text, known[at - 1].kind
    if not isinstance(above, Chords) or "  " in text.strip():
        return True
    indent, first = len(text) - len(text.lstrip()), above.tokens[0].column
    return indent > first or (indent < first and not named)


def _is_barred(row: Chords) -> bool:
    return any(token.kind == "bar" for token in row.tokens)


def _is_short(text: str, row: LineKind) -> bool:
    """Whether a line has few words for the bars above it."""
    if not isinstance(row, Chords) or not _is_barred(row) or "|" in text:
        return False
    words = text.split()
    most = _FEW_WORDS if text.strip()[:1].islower() else _FEWER_WORDS
    return len(words) <= most * len(cells_of(row.tokens)[0])
