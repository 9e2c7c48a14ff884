"""From a chart's text to the desk's page: pages, mistakes, facts.

Places are offsets in characters of the text, as everywhere here.
"""

import re
from dataclasses import asdict, dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from chartkit.arrange.key_areas import sounding_key
from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View, target_key
from chartkit.chart.model import Chart, SettingRow
from chartkit.compile import best_capo, song_document
from chartkit.desk.requests import PageRequest, TransposeRequest, page_look
from chartkit.diagnostics import Diagnostic, Source, Span, has_errors, visible
from chartkit.files import Unusable, decoded_chart
from chartkit.layout.frames import Item, Page, Text
from chartkit.svg.write import page_elements
from chartkit.syntax.reader import Reading, read_chart
from chartkit.syntax.write import chart_text
from chartkit.theory.capo import Capo, parse_capo
from chartkit.theory.naming import key_words

if TYPE_CHECKING:
    from chartkit.layout.frames import Document

NO_CHORD = "N.C."
_QUOTED = re.compile(r'"([^"]+)"\??$')
"""The quotation at the end of a hint may replace the mistake."""
_APART = frozenset(" \t\n|")
_MOST_TRIED = 3
"""The most mistakes whose hints are tried out."""
_MOST_SHOWN = 200
"""How many mistakes are shown at once."""

Facts = dict[str, object]


@dataclass(frozen=True, slots=True)
class SongText:
    """A text as it was read."""

    text: str
    reading: Reading

    @property
    def chart(self) -> Chart:
        """The chart, as far as it could be read."""
        return self.reading.chart


@lru_cache(maxsize=4)
def song_of_text(text: str) -> SongText:
    """The song of a text.  Raises Unusable past the limits that charts have."""
    plain = decoded_chart(text.encode("utf-8", "replace"), "this text")
    return SongText(plain, read_chart(Source(plain)))


def view_of(request: PageRequest, chart: Chart) -> View:
    """The view asked for.  Raises ValueError for an unknown key."""
    key = None
    if request.key is not None:
        key = target_key(request.key, sounding_key(chart))
    capo = None if request.capo is None else parse_capo(str(request.capo))
    second = None if request.second is None else Capo.from_number(request.second)
    view = View(capo, key, second_capo=second)
    if capo is None and chart.wants_best_capo:
        return replace(view, capo=best_capo(chart, view))
    return view


def capo_id(capo: Capo) -> int | str:
    """The capo as the page of the desk names it: its number, a short one as a chart writes it."""
    return capo.written if capo.strings else capo.raised


def rendered_pages(request: PageRequest) -> Facts:
    """The pages as SVG, each in its elements so that the page of the desk draws anew only those
    that changed; every mistake, and what the desk says of the song.

    Raises Unusable for a text past the limits, ValueError for what is not a key.
    """
    song = song_of_text(request.text)
    view = view_of(request, song.chart)
    document, fonts = song_document(
        song.chart, view, page_look(request.look), choices=request.choices
    )
    title = song.chart.text("title") or "Untitled"
    return {
        "pages": [
            page_elements(_with_questions(page, song), fonts, f"{title}, page {number}")
            for number, page in enumerate(document.pages, 1)
        ],
        "mistakes": mistakes_of(song, settled=request.choices is None),
        **_facts(song.chart, view, document),
    }


def _with_questions(page: Page, song: SongText) -> Page:
    """The page with "?" for chords that cannot be read, which the reader leaves out."""
    wrong = [
        diagnostic.span for diagnostic in song.reading.diagnostics if diagnostic.severity == "error"
    ]
    if not wrong:
        return page
    return replace(page, items=tuple(_questioned(item, wrong) for item in page.items))


def _questioned(item: Item, wrong: list[Span]) -> Item:
    if not isinstance(item, Text) or item.source is None or item.plain != NO_CHORD:
        return item
    if not any(span.start < item.source.end and item.source.start < span.end for span in wrong):
        return item
    return item._replace(pieces=(item.pieces[0]._replace(text="?"),))


def _facts(chart: Chart, view: View, document: "Document") -> Facts:
    sounding = sounding_key(chart, view)
    settings = {
        row.name: [row.span.start, row.span.end]
        for row in reversed(chart.top)
        if isinstance(row, SettingRow)
    }
    return {
        "title": chart.text("title") or "Untitled",
        "key": key_words(sounding),
        "key_given": chart.key is not None or view.key is not None,
        "part": bool(chart.text("part")),
        "capo_written": capo_id(_written_capo(chart, view)),
        "capo": (chart.capo if view.capo is None else view.capo).raised,
        "choices": None if document.choices is None else asdict(document.choices),
        "subject": document.subject,
        "missing": sorted(document.missing),
        "settings": settings,
    }


def _written_capo(chart: Chart, view: View) -> Capo:
    """The capo that the chart asks for, the adviser's first where it leaves the choice."""
    return best_capo(chart, View(None, view.key)) if chart.wants_best_capo else chart.capo


def mistakes_of(song: SongText, settled: bool = True) -> list[Facts]:
    """Every mistake in order, in the words of ``chartkit check``.

    Whether a hint mends one is tried where the text is ``settled``: trying reads it anew.
    """
    source, tried = Source(song.text), 0
    mistakes = []
    for diagnostic in song.reading.diagnostics[:_MOST_SHOWN]:
        instead = None
        if settled and tried < _MOST_TRIED and (quoted := _quoted(diagnostic)) is not None:
            tried += 1
            instead = _instead(diagnostic.span, quoted, song)
        mistakes.append(mistake_facts(diagnostic, source, instead))
    return mistakes


def mistake_facts(diagnostic: Diagnostic, source: Source, instead: Facts | None = None) -> Facts:
    """A mistake as plain values; ``instead`` is what its hint says to write, and where."""
    start, end = diagnostic.span
    line, column = source.place(start)
    return {
        "start": start,
        "end": end,
        "line": line,
        "column": column,
        "severity": diagnostic.severity,
        "code": diagnostic.code,
        "message": visible(diagnostic.message),
        "hints": [visible(hint) for hint in diagnostic.hints],
        "instead": instead,
    }


def _quoted(diagnostic: Diagnostic) -> str | None:
    matches = (_QUOTED.search(hint) for hint in diagnostic.hints)
    return next((match[1] for match in matches if match is not None), None)


def _instead(span: Span, quoted: str, song: SongText) -> Facts | None:
    """What a hint says to write: in place of the mistake or of the word that holds it,
    whichever leaves fewer mistakes; None where neither does."""
    text, count = song.text, len(song.reading.diagnostics)
    for start, end in dict.fromkeys((span, _word_around(span, text))):
        mended = text[:start] + quoted + text[end:]
        if len(read_chart(Source(mended)).diagnostics) < count:
            return {"start": start, "end": end, "text": quoted}
    return None


def _word_around(span: Span, text: str) -> Span:
    start, end = span
    while start and text[start - 1] not in _APART:
        start -= 1
    while end < len(text) and text[end] not in _APART:
        end += 1
    return Span(start, end)


def tidied_text(text: str) -> str | None:
    """The text in canonical columns, as ``chartkit tidy`` writes it; None with errors in it.

    Raises Unusable past the limits.
    """
    song = song_of_text(text)
    return None if has_errors(song.reading.diagnostics) else chart_text(song.chart)


def transposed_text(request: TransposeRequest) -> str:
    """The chart written in another key, as ``chartkit transpose`` writes it.

    Raises ValueError for what is not a key, Unusable for a chart with mistakes.
    """
    song = song_of_text(request.text)
    if has_errors(song.reading.diagnostics):
        raise Unusable("the chart has mistakes", "correct them first")
    view = view_of(PageRequest(text=request.text, key=request.key), song.chart)
    return chart_text(rewritten_chart(song.chart, View(None, view.key), as_shapes=False))
