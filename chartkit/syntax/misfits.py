"""What to say of a stretch of a music row that does not belong there."""

import re

from chartkit.syntax.elements import Element
from chartkit.syntax.grammar import Misfit
from chartkit.syntax.report import Report
from chartkit.syntax.symbol import looks_like


def report_strays(elements: list[Element], report: Report) -> None:
    """Reports the words of a music row that are nothing the language knows."""
    for element in elements:
        if element.kind == "unknown":
            _report_unknown(element.value, element.start, element.end, report)
        elif element.kind == "unclosed_cue":
            report.add(
                "unclosed-cue", element.start, element.end, "this cue has no closing quote",
                'a cue stands between quotes: "half time"',
            )  # fmt: skip


_WAITING = {
    "<": ("stray-articulation", '"<" (pushed) has no chord after it', 'a pushed chord: "<C"'),
    ",": ("missing-chord", 'the comma has no chord after it',
          'two chords in one beat: "C,D", without a blank'),
    "(": ("missing-chord", "there is no chord in this parenthesis", 'an optional chord: "(C7)"'),
}  # fmt: skip
_STRAY = {
    "!": ("stray-articulation", '"!" (stop) has no chord before it', 'a chord stopped short: "C!"'),
    "~": ("stray-articulation", '"~" (let ring) has no chord before it', 'let it ring: "C~"'),
    "<": ("stray-articulation", '"<" (pushed) has no chord after it', 'a pushed chord: "<C"'),
    "(": ("stray-parenthesis", "parentheses do not go around parentheses",
          'an optional chord: "(C7)"'),
    ")": ("stray-parenthesis", "no parenthesis was opened before this one closes",
          'an optional chord: "(C7)"'),
    ",": ("missing-chord", "a comma stands between two chords of one beat",
          'two chords in one beat: "C,D", without a blank'),
    ">": ("stray-articulation", '">" is not a mark', 'a chord struck early, before its beat: "<C"'),
    ":": ("stray-colon", "a colon belongs to a bar line or to the start of a row of words",
          'a repeat: "|: C | F :|"'),
}  # fmt: skip
_MEANT = (
    (re.compile(r"al|al\.?(fine|coda)", re.IGNORECASE),
     'after @D.C. or @D.S.: "al fine" or "al coda"'),
    (re.compile(r"[x×]\d+|\d+[x×]", re.IGNORECASE),
     'how often a section is played stands after its name: "== Chorus x2"; '
     'bars are repeated between "|:" and ":|"'),
    (re.compile(r"\d+\.?"), 'the number of an ending follows its bar line: "|1."'),
    (re.compile(r"-+|\.+|_+|\*|=+"), 'a beat on which the chord goes on is a slash: "C / / /"'),
)  # fmt: skip
"""What some words in a row of music were most likely meant to be."""


def _report_unknown(word: str, start: int, end: int, report: Report) -> None:
    if word in _STRAY:
        code, message, hint = _STRAY[word]
        report.add(code, start, end, message, hint)
        return
    found = looks_like(word)
    hints = found.hints or tuple(hint for pattern, hint in _MEANT if pattern.fullmatch(word))
    report.add(found.code, start, end, found.message, *hints)


def report_misfit(misfit: Misfit, text: str, report: Report) -> None:
    """Reports a stretch of a row that the grammar has no place for."""
    start, end = misfit.start, misfit.end
    written = text[start:end]
    if misfit.kind == "unclosed":
        report.add(
            "unclosed-parenthesis", start, end, "this parenthesis is not closed after the chord",
            "parentheses go around one chord, (C7) (F), or around changes to it, C7(b9)",
        )  # fmt: skip
        return
    signs = _WAITING if misfit.kind == "no-chord" else _STRAY
    if written[:1] in signs:
        code, message, hint = signs[written[0]]
        report.add(code, start, end, message, hint)
        return
    _report_unknown(written, start, end, report)
