"""Remarks typed between a row of chords and its words, set above the row, so that the words stand
under their chords."""

from collections.abc import Sequence

from chartkit.interchange.text.kinds.line_kinds import Chords, KnownLine, Remark, Words

_MOST = 2
"""So many remarks may stand between a row and its words (ours)."""


def with_remarks_over_rows(known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines, those said to the players between a row and a line of words above the row."""
    result: list[KnownLine] = []
    row = -1
    for one in known:
        if isinstance(one.kind, Words) and 0 <= row < len(result) - 1:
            result.append(result.pop(row))
        result.append(one)
        if isinstance(one.kind, Chords) and not one.kind.behind_name:
            row = len(result) - 1
        elif not _is_said(one) or len(result) - row > 1 + _MOST:
            row = -1
    return result


def _is_said(one: KnownLine) -> bool:
    """Whether a line is a remark that nobody sings."""
    return isinstance(one.kind, Remark) and not one.kind.in_parentheses
