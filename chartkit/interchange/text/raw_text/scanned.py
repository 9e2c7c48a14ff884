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
_WIDE = re.compile(rf"\s*{_WIDE_WORD}(?: {{2,8}}{_WIDE_WORD}| {{2,8}}[^\W_]{{1,2}})*\s*[.:!]?\s*")
_FEWEST_LETTERS = 5
_LONGEST = 160
_NO_CHORD = re.compile(r"[^\W\d_A-Ha-h]")
_UPRIGHT = r"(?:[lI!¦1|]:?|:[lI!¦1|])"
_BARS = re.compile(
    rf"(?P<name>[^|]{{0,40}}?)(?<!\S)(?P<bars>{_UPRIGHT}(?:\s+(?:[A-H]\S{{0,9}}|%)){{1,4}}"
    rf"(?:\s+{_UPRIGHT}(?:\s+(?:[A-H]\S{{0,9}}|%)){{1,4}}){{1,15}}\s+{_UPRIGHT})"
    r"(?P<said>\s*(?!\S).{0,60})"
)
"""Chords between upright signs, which begin and end them."""
_SIGN = re.compile(rf"(?<!\S){_UPRIGHT}(?!\S)")
_NO_BAR = re.compile(r"(?<!\S):?[lI!¦1]:?(?!\S)")
_IN_WORDS, _IN_CAPITALS = str.maketrans("01|5", "olls"), str.maketrans("01|5", "OIIS")
_LAST_FIGURE = re.compile(r"(?<=[^\W\d_]{3} )[lI|](?=\W*$)")
_MAY_BE_NAME = re.compile(
    r"[^\W\d_]{2}[01|5][^\W\d_]|[^\W\d_][01|5][^\W\d_]{2}|[^\W\d_]{3} [lI|]\W*$"
)
_BEHIND_NAME = re.compile(r"[\s\d]*[.:;]?\s*$")
_WIDE_BEGINS = re.compile(r"\s*[^\W\d_] [^\W\d_] ")
_BEHIND_WIDE = re.compile(r" {2,}(?:\(|[x×] ?\d|\d ?[x×])")
"""Before what is said of a section behind its name, which is not set wide."""
_LONGEST_NAME, _MOST_IN_NAME = 24, 3
_LONE_L = re.compile(r"(?<!\S)l(?=(?:\s+[a-z’']{2,})+)")
_MOST_WORDS_OF_L = 200


def as_printed(lines: Numbered, findings: Findings) -> Numbered:
    """The lines, words that are set wide closed up, and bar lines for the letters that stand in
    their place."""
    plain = {""}
    printed: Numbered = []
    for number, text in lines:
        if text not in plain:  # songs say their lines again
            meant = _as_printed(text, number, findings)
            if meant == text:
                plain.add(text)
            text = meant
        printed.append((number, text))
    return printed


def _as_printed(text: str, number: int, findings: Findings) -> str:
    if not 0 < len(text) <= _LONGEST:
        return text
    if text[:2].isalpha():
        return line_as_printed(text, number, findings)
    more = _BEHIND_WIDE.search(text) if _WIDE_BEGINS.match(text) is not None else None
    wide = text[: more.start()] if more is not None else text
    if " " in wide and _is_wide(wide):
        words = re.split(r" {2,}", wide.strip())
        closed = " ".join(word.replace(" ", "") for word in words)
        closed = f"{closed} {text[len(wide) :].strip()}".rstrip()
        findings.guess("wide-letters", f'letters set wide are read as "{closed}"', f"{number}:1")
        return closed
    return line_as_printed(text, number, findings)


def line_as_printed(text: str, number: int, findings: Findings, place: str = "") -> str:
    """A line with bar lines for the letters that stand in their place, the name of a section
    without figures for letters, and "I" for a lone "l" before words; as long as it was."""
    place = place or f"{number}:1"
    named = _name_as_printed(text)
    if named != text:
        findings.guess("scanned-name", f'"{text.strip()}" is read as "{named.strip()}"', place)
        return named
    bars = (
        _BARS.fullmatch(text) if text.count(" ") > len("lFlBl") and len(text) <= _LONGEST else None
    )
    if bars is None or _NO_BAR.search(bars["bars"]) is None:
        return _with_lone_letters(text, findings, place)
    signs = sorted({sign.strip(":") for sign in _NO_BAR.findall(bars["bars"])})
    said = ", ".join(f'"{sign}"' for sign in signs)
    findings.guess("scanned-bar-lines", f"{said} between chords is read as a bar line", place)
    plain = _SIGN.sub(lambda sign: re.sub(r"[^:]", "|", sign[0]), bars["bars"])
    return f"{bars['name']}{plain}{bars['said']}"


def _name_as_printed(text: str) -> str:
    """The name of a section that figures and letters alike were taken for; the text as it is where
    it is none, or needs no change."""
    plain = text.strip()
    short = 0 < len(plain) <= _LONGEST_NAME and len(plain.split()) <= _MOST_IN_NAME
    if not short or _MAY_BE_NAME.search(plain) is None:
        return text
    figured = _LAST_FIGURE.sub("1", text)
    words = [
        word.translate(_IN_CAPITALS if word.isupper() else _IN_WORDS)
        if any(map(str.isalpha, word))
        else word
        for word in re.split(r"(\s+)", figured)
    ]
    meant = "".join(words)
    known = is_known_name(_BEHIND_NAME.sub("", plain)) and figured == text
    if meant == text or known or not is_known_name(_BEHIND_NAME.sub("", meant.strip())):
        return text
    return meant


def _with_lone_letters(text: str, findings: Findings, place: str) -> str:
    if len(text) > _MOST_WORDS_OF_L or " l " not in f" {text}":
        return text
    meant = _LONE_L.sub("I", text)
    if meant != text:
        findings.guess("scanned-letter", 'a lone "l" before words is read as "I"', place)
    return meant


def letters_set_wide(text: str) -> list[int] | None:
    """The letters that stay when words set wide are closed up, with one blank between two words;
    None for any other line."""
    if not 0 < len(text) <= _LONGEST or " " not in text or not _is_wide(text):
        return None
    start, end = len(text) - len(text.lstrip()), len(text.rstrip())
    return [
        at
        for at in range(start, end)
        if text[at] != " " or (text[at + 1] == " " and text[at - 1] != " ")
    ]


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
