"""Signs in a row of music that only look like those of the language, reported and read as meant."""

import re

from chartkit.syntax.report import Report
from chartkit.syntax.symbol import chord_or_none

_BARS = re.compile("[¦│┃∣ǀ❘｜]")
"""The broken bar and other upright strokes that are no ``|``."""
_CURLY = re.compile('[“”„‟«»]([^“”„‟«»"|]*)[“”„‟«»]')
_APART = re.compile(r"(?<![^\s|(,<])([A-G][^\s|(),\"]*)(\s+)(\([^()|\"]*\))")
_CHANGES = re.compile(r"\((?:(?:[-+]?[b#♭♯]?\d|add\d|no\d|sus)\d?(?!\d)|[ ,])+\)")
_COMMENT = re.compile(r"(?:^|\s)#.*")


def usual_signs(text: str, report: Report) -> str:
    """The row with such signs as they were meant, each kind reported once in its place.

    Nothing else moves, so that what is found later has its place in the row as typed.
    """
    comment = _COMMENT.search(text)
    end = len(text) if comment is None else comment.start()
    music, rest = text[:end], text[end:]
    if _BARS.search(music):
        music = _with_bar_lines(music, report)
    if _CURLY.search(music):
        music = _with_straight_quotes(music, report)
    if " (" in music:
        music = _APART.sub(lambda match: _joined(match, report), music)
    return music + rest


def _with_bar_lines(music: str, report: Report) -> str:
    match = next(_BARS.finditer(music))
    meant = _BARS.sub("|", music)
    report.add(
        "odd-bar-line", *match.span(), f'"{match[0]}" is not a bar line', f'write "{meant.strip()}"'
    )
    return meant


def _with_straight_quotes(music: str, report: Report) -> str:
    for match in _CURLY.finditer(music):
        report.add(
            "curly-quotes",
            *match.span(),
            "these are curly quotes",
            f'a cue stands between straight ones: "{match[1]}"',
        )
    return _CURLY.sub(r'"\1"', music)


def _joined(match: re.Match[str], report: Report) -> str:
    """A chord with its changes behind a blank, joined; anything else as it is."""
    chord, blanks, changes = match.groups()
    joined = chord + changes
    if _CHANGES.fullmatch(changes) is None or chord_or_none(joined) is None:
        return match[0]
    report.add(
        "chord-typed-apart",
        *match.span(3),
        f'"{changes}" looks like the end of a chord',
        f'a chord has no blank before its parenthesis: "{joined}"',
    )
    return joined + blanks
