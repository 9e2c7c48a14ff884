"""Lookalikes of the language's signs in a row of music: reported, and read as they were meant."""

import re
from collections.abc import Callable, Sequence
from functools import partial

from chartkit.syntax.other_hands import read_as_meant
from chartkit.syntax.report import Report
from chartkit.syntax.symbol import chord_or_none

_BARS = re.compile("[¦│┃∣ǀ❘｜]")
"""The broken bar and other upright strokes that are not ``|``."""
_CURLY = re.compile('[“”„‟«»]([^“”„‟«»"|]*)[“”„‟«»]')
_SINGLE = re.compile("['‘‚‛](?<![^\\s|].)([^'‘’\"|]+)['’](?![^\\s|])")
"""A cue in single quotes, apart from an apostrophe inside a word."""
_CUE = re.compile('"[^"]*"')
_APART = re.compile(r"(?<![^\s|(,<])([A-G][^\s|(),\"]*)(\s+)(\([^()|\"]*\))")
_CHANGES = re.compile(
    r"(?!\(\d+/\d+\))\((?:(?:[-+]?[b#♭♯]?\d|add\d|no\d|sus)\d?+(?!\d)[-+]?+|[ ,/])++\)"
)
"""Changes in parentheses; two figures with a slash between them are a time signature."""
_CUE_OR_COMMENT = re.compile(r'"[^"]*"|(?:^|\s)#.*')


def usual_signs(text: str, report: Report) -> str:
    """The row with such signs as they were meant, each kind reported once in its place.

    Nothing else moves, so later mistakes keep their places in the row as typed.
    """
    cues_and_comment = _CUE_OR_COMMENT.finditer(text)
    end = next((one.start() for one in cues_and_comment if one[0][0] != '"'), len(text))
    music, rest = text[:end], text[end:]
    music = _outside_cues(_BARS, music, lambda _: "|", partial(_report_bar_line, report, music))
    music = _outside_cues(_CURLY, music, _straight, partial(_report_quotes, report, "curly"))
    if "|" in music or _SINGLE.fullmatch(music.strip()):
        music = _outside_cues(_SINGLE, music, _straight, partial(_report_quotes, report, "single"))
    if " (" in music:
        music = _APART.sub(lambda match: _joined(match, report), music)
    return read_as_meant(music, report) + rest


def _outside_cues(
    signs: re.Pattern[str],
    music: str,
    meant: Callable[[re.Match[str]], str],
    report: Callable[[Sequence[re.Match[str]]], None],
) -> str:
    """The row with lookalikes replaced, except between straight quotes, which are remarks to the
    players; ``report`` is given those that were changed."""
    if signs.search(music) is None:
        return music
    cues = [match.span() for match in _CUE.finditer(music)]
    odd = [
        match
        for match in signs.finditer(music)
        if not any(start <= match.start() < end for start, end in cues)
    ]
    if odd:
        report(odd)
    for match in reversed(odd):
        music = music[: match.start()] + meant(match) + music[match.end() :]
    return music


def _report_bar_line(report: Report, music: str, odd: Sequence[re.Match[str]]) -> None:
    match = odd[0]
    meant = _BARS.sub("|", music).strip()
    report.add("odd-bar-line", *match.span(), f'"{match[0]}" is not a bar line', f'write "{meant}"')


def _report_quotes(report: Report, form: str, odd: Sequence[re.Match[str]]) -> None:
    for match in odd:
        report.add(
            "other-quotes",
            *match.span(),
            f"a cue does not stand between {form} quotes",
            f"write straight double ones: {_straight(match)}",
        )


def _straight(match: re.Match[str]) -> str:
    return f'"{match[1]}"'


def _joined(match: re.Match[str], report: Report) -> str:
    """A chord with its changes after a blank, joined; anything else as it is."""
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
