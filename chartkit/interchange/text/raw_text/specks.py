"""Lines on which a scanner read specks of the paper as dots and commas.

Source of the signs: common practice, no source.
"""

import re

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.wording import counted

_SPECKS = re.compile(r"\s*[.,'`´’‘·;~^°](?:\s+[.,'`´’‘·;~^°]){0,3}\s*")
"""Few single signs apart; "..." stands for words, and a hyphen for a bar or a beat."""
_LONGEST = 120


def without_specks(lines: Numbered, findings: Findings) -> Numbered:
    """The lines, those of specks alone empty; reported once."""
    specks = {number for number, line in lines if _is_specks(line)}
    if not specks:
        return lines
    findings.leave_out(
        "specks", f"{counted(len(specks), 'line')} of single dots and commas", f"{min(specks)}:1"
    )
    return [(number, "" if number in specks else line) for number, line in lines]


def _is_specks(line: str) -> bool:
    return 0 < len(line) <= _LONGEST and _SPECKS.fullmatch(line) is not None
