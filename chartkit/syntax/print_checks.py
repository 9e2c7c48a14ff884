"""Warns of what a page cannot show as it is typed: signs, pictures and letters that no font has."""

from collections.abc import Iterator

from chartkit.chart.model import Chart, CueRow, MusicRow, Row, SettingRow, TopRow, WordsRow
from chartkit.chart.plain_signs import is_drawn, plain_spelling
from chartkit.diagnostics import Span
from chartkit.syntax.report import Report

_MOST = 5
"""The most signs of a chart that are reported one by one."""


def check_print(chart: Chart, text: str, report: Report) -> None:
    """Warns of characters that our fonts cannot draw, each once where it stands first."""
    seen = dict[str, int]()
    for span in _printed(chart):
        for offset in range(span.start, span.end):
            if not is_drawn(text[offset]):
                seen.setdefault(text[offset], offset)
    letters = [sign for sign in seen if sign.isalpha() and not plain_spelling(sign)]
    if letters:
        offset, shown = seen[letters[0]], " ".join(letters[:8])
        report.warn(
            "letter-not-in-fonts",
            offset,
            offset + 1,
            f"chartkit's fonts have no {shown}: no page can be made with them",
            "give engrave a font that has it: --font FILE.ttf",
        )
    for sign in [sign for sign in seen if sign not in letters][:_MOST]:
        offset, plain = seen[sign], plain_spelling(sign)
        printed = f'is printed as "{plain}"' if plain else "is left out in print"
        report.warn(
            "sign-not-in-fonts",
            offset,
            offset + 1,
            f"no font here has {sign} (U+{ord(sign):04X}): it {printed}",
            f'type "{plain}" instead' if plain else "say it in words, or take it out",
        )


def _printed(chart: Chart) -> Iterator[Span]:
    """The places of texts that are printed, comments left out."""
    for top in chart.top:
        yield from _in_row(top)
    for section in chart.sections:
        yield _without(section.span, section.comment)
        for row in section.rows:
            yield from _in_row(row)


def _in_row(row: Row | TopRow) -> Iterator[Span]:
    if isinstance(row, MusicRow):
        yield from (cue.span for bar in row.bars for cue in bar.cues)
    elif isinstance(row, SettingRow | CueRow | WordsRow):
        yield _without(row.span, row.comment)


def _without(span: Span, comment: str) -> Span:
    """A place without the comment at its end."""
    return Span(span.start, max(span.start, span.end - len(comment)))
