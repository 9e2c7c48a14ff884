"""Hands out a song: the same files, byte for byte, that the commands write."""

from pathlib import PurePosixPath
from urllib.parse import quote

from starlette.responses import Response

from chartkit.arrange.rewrite import rewritten_chart
from chartkit.compile import EmbeddedChart, engraved_pdf
from chartkit.desk.listen import midi_of
from chartkit.desk.pages import song_of_text, view_of
from chartkit.desk.requests import ExportRequest, page_look
from chartkit.diagnostics import has_errors
from chartkit.files import Unusable
from chartkit.interchange.musicxml.losses import losses_of
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.interchange.text.write import sheet_text
from chartkit.interchange.text.written_head import settings_lost_in_text
from chartkit.layout.metrics import is_picture
from chartkit.theory.key import Key
from chartkit.theory.naming import key_words

_TYPES = {
    "pdf": ("application/pdf", ".pdf"),
    "musicxml": ("application/vnd.recordare.musicxml+xml", ".musicxml"),
    "text": ("text/plain; charset=utf-8", ".txt"),
    "midi": ("audio/midi", ".mid"),
}


def exported_song(request: ExportRequest) -> Response:
    """The file, and in a header what the form cannot carry.  Raises Unusable for a chart with
    mistakes, ValueError for what is not a key."""
    song = song_of_text(request.text)
    if has_errors(song.reading.diagnostics):
        raise Unusable("the chart has mistakes", "correct them first")
    kind, suffix = _TYPES[request.form]
    content, lost = _content(request)
    moved = view_of(request, song.chart).key if request.key is not None else None
    name = quote(f"{PurePosixPath(request.name).stem}{_in_key(moved)}{suffix}")
    headers = {
        "Content-Disposition": f"attachment; filename*=UTF-8''{name}",
        "X-Not-Carried": quote("; ".join(lost)[:2000]),
        "Cache-Control": "no-store",
    }
    return Response(content, media_type=kind, headers=headers)


def _in_key(key: Key | None) -> str:
    """The part of a file name that distinguishes keys: ``-in-B-flat-minor``."""
    if key is None:
        return ""
    words = key_words(key).replace("♭", " flat").replace("♯", " sharp")
    return "-in-" + words.removesuffix(" major").replace(" ", "-")


def _content(request: ExportRequest) -> tuple[bytes, tuple[str, ...]]:
    chart = song_of_text(request.text).chart
    view = view_of(request, chart)
    if request.form == "pdf":
        inside = EmbeddedChart.named(request.text, PurePosixPath(request.name).stem)
        document, content = engraved_pdf(chart, view, page_look(request.look), inside)
        letters = sorted(c for c in document.missing if not is_picture(c))
        if letters:
            shown = " ".join(f"{c} (U+{ord(c):04X})" for c in letters[:8])
            raise Unusable(f"no font here has {shown}", "write it another way")
        return content, ()
    if request.form == "midi":
        return midi_of(chart, view)
    if request.form == "text":
        return sheet_text(chart, view).encode(), settings_lost_in_text(chart)
    return musicxml_bytes(rewritten_chart(chart, view, as_shapes=False)), losses_of(chart)
