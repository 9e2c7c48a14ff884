"""Extracts the contents of a PDF in a separate process: a chart inside it, or the pieces of text
and the upright lines on its pages. pypdf reads files from elsewhere and cannot be limited from
inside, so the system does it (``chartkit/bounded.py``).

The process answers with JSON of plain values.
"""

import json
import re
from collections.abc import Callable
from dataclasses import astuple, dataclass
from typing import TYPE_CHECKING, Any

from chartkit.bounded import LimitReached, ProcessCrashed, run_in_process
from chartkit.interchange.embedded_chart import ATTACHED_SUFFIX
from chartkit.interchange.intake_result import Finding, Findings, Refused
from chartkit.interchange.pdf_text.page_text import DrawnShape, RepeatDot, TextRun, Upright

if TYPE_CHECKING:
    from pypdf import PdfReader

_MOST_PIECES = 40_000
_MOST_LETTERS = 400_000
"""A hundred pages full of small type; ours."""
_OURS = re.compile(
    r"(?:bold|bold, small|light): (?:shapes to finger|what sounds|shapes of the second guitar)$|"
    r".+ — (?:Key of |(?:.{1,40}, )?\S.{0,20} shapes, sounds in )"
)
"""Marks of our own pages, in their structure and at their foot, whatever program saved them
last."""
_KEY = re.compile(r"(?:Key of |.{1,24} shapes, sounds in )\S.{0,24}$")
_FEWEST_DOTS = 2
"""The head of a page without a foot: its key, and the dots between the sections of its form."""

Answerer = Callable[[Callable[[bytes], bytes], bytes], bytes]
"""Computes a function of the data in a separate process, as ``run_in_process`` does."""


@dataclass(frozen=True, slots=True)
class Pages:
    """The contents of all pages: the pieces of text in the order of the file, whether the pages are
    ours, and the upright lines and the dots that are drawn; on our pages all shapes, too."""

    pieces: tuple[TextRun, ...]
    made_here: bool = False
    uprights: tuple[Upright, ...] = ()
    dots: tuple[RepeatDot, ...] = ()
    shapes: tuple[DrawnShape, ...] = ()


def attached_chart_text(data: bytes, apart: Answerer = run_in_process) -> tuple[str, str] | None:
    """The name and the text of a chart that travels inside; None where there is none.

    Raises Refused for a file that takes too much time or memory.
    """
    attached = _answer(attached_json, data, apart)["attached"]
    return (attached[0], attached[1]) if attached else None


def pages_of(data: bytes, findings: Findings, apart: Answerer = run_in_process) -> Pages:
    """All pieces of text but watermarks, which become findings.

    Raises Refused for a file that is damaged, locked, too long, takes too much time or memory,
    or holds pictures only.
    """
    answer = _answer(pages_json, data, apart)
    for one in answer["findings"]:
        findings.collected.append(Finding(*one))
    pieces = tuple(
        TextRun(
            page=page,
            x=x,
            y=y,
            size=size,
            text=text,
            advances=tuple(advances),
            leans=leans,
            bold=bold,
            pale=pale,
            mark=mark,
            font=font,
        )
        for page, x, y, size, text, advances, leans, bold, pale, mark, font in answer["pieces"]
    )
    uprights = tuple(Upright(*one) for one in answer["uprights"])
    dots = tuple(RepeatDot(*one) for one in answer["dots"])
    shapes = tuple(DrawnShape(*one) for one in answer["shapes"])
    return Pages(pieces, answer["ours"], uprights, dots, shapes)


def _answer(work: Callable[[bytes], bytes], data: bytes, apart: Answerer) -> dict[str, Any]:
    try:
        answer: dict[str, Any] = json.loads(apart(work, data))
    except LimitReached:
        raise Refused("reading this PDF takes more time or memory than a lead sheet may") from None
    except (ProcessCrashed, ValueError):
        raise Refused("the PDF is damaged or not readable") from None
    if "refused" in answer:
        raise Refused(answer["refused"])
    return answer


# ---- in the process of its own


def attached_json(data: bytes) -> bytes:
    """The name and the text of a chart inside, as JSON."""
    from chartkit.interchange.pdf_text.document import attached_text, opened

    try:
        attached = attached_text(opened(data), ATTACHED_SUFFIX)
    except (MemoryError, RecursionError):
        raise
    except Exception:
        # A parser of untrusted files may fail in any way; the pages are then tried, and say why.
        attached = None
    return json.dumps({"attached": attached}).encode()


def pages_json(data: bytes) -> bytes:
    """The contents of the pages, or why they cannot be read, as JSON."""
    try:
        return json.dumps(_pages(data)).encode()
    except Refused as reason:
        return json.dumps({"refused": str(reason)}).encode()
    except (MemoryError, RecursionError):
        raise
    except Exception as reason:
        # A parser of untrusted files may fail in any way; none is a mistake of ours.
        if type(reason).__name__ == "DependencyError":
            said = "this PDF holds data packed in a way that is not read here"
            return json.dumps({"refused": said}).encode()
        what = " ".join(str(reason).split())[:60] or type(reason).__name__
        said = f"the PDF is damaged or not readable: {what.lower()}"
        return json.dumps({"refused": said}).encode()


def _pages(data: bytes) -> dict[str, object]:
    from chartkit.interchange.pdf_text.document import has_pictures, is_made_here, opened

    reader, findings = opened(data), Findings()
    pieces, uprights, dots, shapes = _extracted(reader, findings)
    if not any(piece.text.strip() for piece in pieces):
        raise Refused(
            f"this PDF holds pictures of its {len(reader.pages)} pages but no text (a scan?); "
            "it cannot be read"
            if any(map(has_pictures, reader.pages))
            else "this PDF holds no text"
        )
    ours = is_made_here(reader) or _is_ours([piece.text.strip() for piece in pieces])
    return {
        "findings": [astuple(one) for one in findings.collected],
        "pieces": [astuple(piece) for piece in pieces],
        "ours": ours,
        "uprights": [astuple(one) for one in uprights],
        "dots": [astuple(one) for one in dots],
        "shapes": [astuple(one) for one in shapes] if ours else [],
    }


def _is_ours(texts: list[str]) -> bool:
    """Whether the pieces of text are those of a page of ours."""
    head = any(map(_KEY.match, texts)) and texts.count("·") >= _FEWEST_DOTS
    return head or any(map(_OURS.match, texts))


def _extracted(
    reader: "PdfReader", findings: Findings
) -> tuple[list[TextRun], list[Upright], list[RepeatDot], list[DrawnShape]]:
    from chartkit.interchange.pdf_text.font_widths import FontWidths
    from chartkit.interchange.pdf_text.page_text import Gathered, TextAllowance
    from chartkit.interchange.pdf_text.staff_strokes import slashes_on, with_rests
    from chartkit.interchange.pdf_text.staves import staves_of, without_signs

    pieces: list[TextRun] = []
    uprights: list[Upright] = []
    dots: list[RepeatDot] = []
    shapes: list[DrawnShape] = []
    room = TextAllowance(_MOST_PIECES, _MOST_LETTERS)
    widths = FontWidths()
    for number, page in enumerate(reader.pages, 1):
        gathered = Gathered.of(page, number, page.rotation % 360, room, widths)
        if (turned := gathered.mostly_turned()) is not None:
            gathered = Gathered.of(page, number, turned, room, widths)
        staves = staves_of(gathered.levels)
        shown, strokes = gathered.without_watermarks(findings), gathered.strokes
        shown = with_rests(shown, staves, strokes) if staves else shown
        pieces += slashes_on(shown, staves, strokes, number)
        pieces += without_signs(shown, staves, findings)
        uprights += gathered.uprights
        dots += gathered.dots
        shapes += gathered.shapes
    return pieces, uprights, dots, shapes
