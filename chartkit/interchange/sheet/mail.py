"""What mail programs do to a sheet: signs of quoting before its lines, empty lines among them."""

import re
from collections import Counter
from collections.abc import Sequence

from chartkit.interchange.sheet.facts import facts_of
from chartkit.interchange.sheet.headings import heading_of
from chartkit.interchange.sheet.leftovers import Numbered
from chartkit.interchange.sheet.letter import is_of_a_head, is_of_a_song
from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.sheet.token import Token
from chartkit.interchange.taken import Findings
from chartkit.interchange.wording import one_line

_QUOTE = re.compile(r"(?:> ?)+")
_FEWEST_QUOTED = 3
_FEWEST_APART = 2

Kinds = list[tuple[Token, ...] | None]


def unquoted(lines: Numbered, findings: Findings) -> Numbered:
    """The lines of a quoted mail without its signs, everything in its column; others as they
    are.  What is said around a song that is quoted itself is left out, and told."""
    filled = sum(bool(line.strip()) for _, line in lines)
    quoted = sum(line.startswith(">") for _, line in lines)
    if not quoted or quoted < min(filled, _FEWEST_QUOTED):
        return lines
    levels = [_level(line) for _, line in lines]
    bare = [
        (number, _QUOTE.sub(lambda signs: " " * len(signs[0]), line, count=1)
         if line.startswith(">") else line)
        for number, line in lines
    ]  # fmt: skip
    return _without_answers(bare, levels, findings)


def _level(line: str) -> int:
    found = _QUOTE.match(line)
    return found[0].count(">") if found is not None else 0


def _without_answers(lines: Numbered, levels: Sequence[int], findings: Findings) -> Numbered:
    """The lines without those at a lower level of quoting than the song's."""
    music = Counter(
        level for (_, line), level in zip(lines, levels, strict=True) if is_of_a_song(line)
    )
    song = max(music, key=lambda level: (music[level], level), default=0)
    kept: Numbered = []
    gone: Numbered = []
    for (number, line), level in zip(lines, levels, strict=True):
        lower = level < song and line.strip() and not is_of_a_head(line)
        if not lower and line.strip():
            _tell_answers(gone, findings)
        if lower:
            gone.append((number, line))
        kept.append((number, "" if lower else line))
    _tell_answers(gone, findings)
    return kept


def _tell_answers(gone: Numbered, findings: Findings) -> None:
    if gone:
        said = " / ".join(one_line(line) for _, line in gone)
        findings.leave_out(
            "around-the-quote", f'what is said around the quoted song: "{said}"', f"{gone[0][0]}:1"
        )
        gone.clear()


def closed_up(lines: list[Line], kinds: Kinds) -> tuple[list[Line], Kinds]:
    """The lines, and what rows of chords they are, without the empty ones between chords and
    words, where every row of chords stands apart from its words; others as they are."""
    under = [i for i, kind in enumerate(kinds[:-2], 1) if kind is not None]
    apart = [i for i in under if not lines[i].text and _is_sung(lines[i + 1].text, kinds[i + 1])]
    if len(apart) < _FEWEST_APART or len(apart) < len(under):
        return lines, kinds
    gone = frozenset(apart)
    kept = [i for i in range(len(lines)) if i not in gone]
    return [lines[i] for i in kept], [kinds[i] for i in kept]


def _is_sung(text: str, kind: tuple[Token, ...] | None) -> bool:
    """Whether a line can only be words: no chords, heading, setting, or remark."""
    plain = text.strip()
    others = kind is not None or plain.startswith("(") or heading_of(plain) or facts_of(plain)
    return bool(plain) and not others
