"""Rehearsal letters: letters alone above rows of music, which name sections and are no chords.

They go on from A through the song (common practice, no source).
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.sheet.tokens import Tokens
from chartkit.interchange.taken import Findings

_ALONE = re.compile(
    r"\s*(?:\[(?P<squared>[A-H]\d?)\]|\((?P<round>[A-H]\d?)\)|(?P<bare>[A-H]\d?))(?P<end>[:.]?)\s*"
)
_LETTERS = "ABCDEFGH"
_LONGEST = 40


def with_letters_told(
    lines: Sequence[Line], tokens: Tokens, findings: Findings
) -> tuple[list[Line], bool]:
    """The lines, each rehearsal letter among them in brackets as a section's name is, which is
    told; and whether there are any.

    Two letters are wanted, or one with a colon: a lone A may well be a chord.
    """
    found = dict(_letters(lines))
    names = list(dict.fromkeys(name[0] for name, _ in found.values()))
    sure = len(names) > 1 or any(end == ":" for _, end in found.values())
    on = _LETTERS.startswith("".join(names)) and all(
        _is_above_music(at, lines, tokens) for at in found
    )
    if not (found and sure and on):
        return list(lines), False
    findings.guess(
        "rehearsal-letters", f"letters alone above the music are taken as names of sections: "
        f"{', '.join(name for name, _ in found.values())}", lines[min(found)].place(),
    )  # fmt: skip
    return [
        replace(line, text=f"[{found[at][0]}]", columns=None) if at in found else line
        for at, line in enumerate(lines)
    ], True


def _letters(lines: Sequence[Line]) -> Iterator[tuple[int, tuple[str, str]]]:
    """Which lines are a letter alone: its name, and the sign behind it."""
    for at, line in enumerate(lines):
        found = _ALONE.fullmatch(line.text) if len(line.text) < _LONGEST else None
        if found is not None:
            yield at, (found["squared"] or found["round"] or found["bare"], found["end"])


def _is_above_music(at: int, lines: Sequence[Line], tokens: Tokens) -> bool:
    """Whether the next line that is not blank is a row of music, and no letter itself."""
    following = (lines[i] for i in range(at + 1, len(lines)))  # a slice would copy them all
    below = next((line for line in following if line.text.strip()), None)
    return (
        below is not None and _ALONE.fullmatch(below.text) is None
        and tokens.row(below) is not None
    )  # fmt: skip
