"""A sheet whose chords stand in a list of their own above its words ("CHORDS ... WORDS ...").

Source of the names: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.taken import Findings
from chartkit.interchange.text.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.lines import Line

_LONGEST = 30
_AROUND = r"[\s=*#_\[(<~•–—-]*"
_BEHIND = r"\s*:?[\s=*#_\])>~–—-]*"
_CHORDS = re.compile(
    rf"{_AROUND}(?:the )?(?:{WORDS_FOR_CHORDS}|chord list|akordy){_BEHIND}", re.IGNORECASE
)
_WORDS = re.compile(
    rf"{_AROUND}(?:the )?(?:words|lyrics|text|liedtext|letra|paroles|testo|tekst|texte|songtekst|"
    rf"sångtext){_BEHIND}",
    re.IGNORECASE,
)


def without_list_names(lines: Sequence[Line], findings: Findings) -> tuple[list[Line], int]:
    """The lines without the two that name the list of chords and the words below it, and the
    number of the second; 0 where there are no such lists."""
    chords = _first(lines, _CHORDS, 0)
    words = _first(lines, _WORDS, chords + 1) if chords >= 0 else -1
    if words < 0 or not any(line.text.strip() for line in lines[chords + 1 : words]):
        return list(lines), 0
    result = list(lines)
    for at in (chords, words):
        text = lines[at].text.strip()
        findings.leave_out("list-name", f'"{text}" names the list below it', lines[at].place())
        result[at] = replace(lines[at], text="", columns=None)
    return result, lines[words].number


def _first(lines: Sequence[Line], name: re.Pattern[str], start: int) -> int:
    """The first line from one on that is such a name alone; -1 for none."""
    return next(
        (
            at
            for at in range(start, len(lines))
            if len(lines[at].text) <= _LONGEST and name.fullmatch(lines[at].text)
        ),
        -1,
    )
