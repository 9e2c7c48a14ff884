"""The pieces of text on the pages of a PDF, with their places, by pypdf.

pypdf reads files of strangers: whatever it stumbles over is told in one line, and pages and
pieces are counted so that no file takes long.
"""

import re
from dataclasses import dataclass

from pypdf import PdfReader

from chartkit.interchange.pdf_text.document import has_pictures, is_made_here, opened
from chartkit.interchange.pdf_text.gathered import Gathered
from chartkit.interchange.pdf_text.piece import Piece
from chartkit.interchange.taken import Findings, Refused

_MOST_PIECES = 40_000
_OURS = re.compile(
    r"(?:bold|bold, small|light): (?:shapes to finger|what sounds|shapes of the second guitar)$|"
    r".+ — (?:Key of |(?:.{1,40}, )?\S.{0,20} shapes, sounds in )"
)
"""What our pages say of their lines, and at their foot, whatever program saved them last."""
_FEWEST_LINES = 4
"""So many upright lines on a page are bar lines (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Pages:
    """What is on all pages: the pieces of text in the order of the file, whether the pages are
    ours, and whether bar lines are drawn."""

    pieces: tuple[Piece, ...]
    made_here: bool = False
    bars_drawn: bool = False


def pages_of(data: bytes, findings: Findings) -> Pages:
    """All pieces of text but watermarks, which are told.

    Raises Refused for a file that is damaged, locked, too long, or holds pictures only.
    """
    try:
        reader = opened(data)
        found = _extracted(reader, findings)
        pictures = any(map(has_pictures, reader.pages))
    except Refused:
        raise
    except Exception as reason:
        # A parser of untrusted files may fail in any way; none is a mistake of ours.
        what = " ".join(str(reason).split())[:60] or type(reason).__name__
        raise Refused(f"the PDF is damaged or not readable: {what.lower()}") from None
    if not any(piece.text.strip() for piece in found.pieces):
        raise Refused(
            f"this PDF holds pictures of its {len(reader.pages)} pages but no text (a scan?); "
            "it cannot be read"
            if pictures
            else "this PDF holds no text"
        )
    return found


def _extracted(reader: PdfReader, findings: Findings) -> Pages:
    pieces: list[Piece] = []
    upright = 0
    for number, page in enumerate(reader.pages, 1):
        room = _MOST_PIECES - len(pieces)
        gathered = Gathered.of(page, number, page.rotation % 360, room)
        if (turned := gathered.mostly_turned()) is not None:
            gathered = Gathered.of(page, number, turned, room)
        pieces += gathered.without_watermarks(findings)
        upright = max(upright, gathered.upright)
        if len(pieces) >= _MOST_PIECES:
            raise Refused("this PDF holds more text than a lead sheet can")
    ours = is_made_here(reader) or any(_OURS.match(piece.text) for piece in pieces)
    return Pages(tuple(pieces), ours, upright >= _FEWEST_LINES)
