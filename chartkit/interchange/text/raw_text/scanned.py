"""What a scan of printed pages makes of letters and signs: words set wide, letter by letter, and
bar lines read as letters.

Source of the forms: common practice of programs that read scanned pages, no source.
"""

import re

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.wording import counted

_WIDE_WORD = r"[^\W\d_](?: [^\W\d_’'])+"
_WIDE = re.compile(rf"\s*{_WIDE_WORD}(?: {{2,8}}{_WIDE_WORD}| {{2,8}}[^\W\d_])*\s*[.:!]?\s*")
_FEWEST_LETTERS = 5
_LONGEST = 160
_NO_CHORD = re.compile(r"[^\W\d_A-Ha-h]")
_UPRIGHT = r"[lI!¦1]"
_BARS = re.compile(
    rf"(?P<name>[^|]{{0,40}}?)(?<!\S)(?P<bars>(?P<sign>{_UPRIGHT})(?:\s+(?:[A-H]\S{{0,9}}|%)){{1,4}}"
    r"(?:\s+(?P=sign)(?:\s+(?:[A-H]\S{0,9}|%)){1,4}){1,15}\s+(?P=sign))(?P<said>\s*(?!\S).{0,60})"
)
"""Chords between signs that all look alike, which begins and ends them."""


def as_printed(lines: Numbered, findings: Findings) -> Numbered:
    """The lines, words that are set wide closed up, and bar lines for the letters that stand in
    their place."""
    return [(number, _as_printed(text, number, findings)) for number, text in lines]


def _as_printed(text: str, number: int, findings: Findings) -> str:
    if not 0 < len(text) <= _LONGEST or " " not in text:
        return text
    if _is_wide(text):
        words = re.split(r" {2,}", text.strip())
        closed = " ".join(word.replace(" ", "") for word in words)
        findings.guess("wide-letters", f'letters set wide are read as "{closed}"', f"{number}:1")
        return closed
    bars = _BARS.fullmatch(text) if text.count(" ") > len("lFlBl") else None
    if bars is None:
        return text
    sign = re.compile(rf"(?<!\S){re.escape(bars['sign'])}(?!\S)")
    findings.guess(
        "scanned-bar-lines", f'"{bars["sign"]}" between chords is read as a bar line', f"{number}:1"
    )
    return f"{bars['name']}{sign.sub('|', bars['bars'])}{bars['said']}"


def _is_wide(text: str) -> bool:
    """Whether a line is nothing but letters one blank apart, and no row of chords."""
    if _WIDE.fullmatch(text) is None or not _NO_CHORD.search(text):
        return False
    if "  " not in text.strip():
        return is_known_name(text.replace(" ", "").strip(".:!"))  # others may be a line of form
    return sum(map(str.isalpha, text)) >= _FEWEST_LETTERS


_SPECKS = re.compile(r"\s*[.,'`´’‘·;~^°](?:\s+[.,'`´’‘·;~^°]){0,3}\s*")
"""Few single signs apart; "..." stands for words, and a hyphen for a bar or a beat."""
_LONGEST_OF_SPECKS = 120


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
    return 0 < len(line) <= _LONGEST_OF_SPECKS and _SPECKS.fullmatch(line) is not None
