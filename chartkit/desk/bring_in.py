"""Songs from elsewhere: the chart that a file makes, beside what it was made from."""

from starlette.requests import Request
from starlette.responses import Response

from chartkit.desk.answers import slowly
from chartkit.desk.pages import Facts, mistakes_of, song_of_text
from chartkit.files import Unusable
from chartkit.incoming import Refused, incoming_chart, incoming_json

_WITHOUT_LINES = (b"%PDF-", b"PK\3\4", b"<?xml", b"\xef\xbb\xbf<?xml", b"<score-")
"""How files begin whose lines say nothing to a reader."""
_MOST_LETTERS = 400_000
"""How much of a text is shown beside its chart."""


async def bring_in(request: Request) -> Response:
    """The answer to a file's content: ``part`` names a part of a score."""
    return await slowly(taken, await request.body(), request.query_params.get("part") or None)


def taken(content: bytes, part: str | None) -> Facts:
    """What ``chartkit intake --json`` says of a file's content, the original's lines where it has
    some, and the chart's mistakes.

    Raises Unusable for what cannot be taken in.
    """
    try:
        incoming = incoming_chart(content, part)
    except Refused as reason:
        raise Unusable(str(reason)) from None
    return {
        **incoming_json(incoming),
        "original": _lines(content),
        "mistakes": mistakes_of(song_of_text(incoming.text)),
    }


def _lines(content: bytes) -> str | None:
    """The lines of a text as they came; None for what is no text to read."""
    if content.lstrip()[:8].startswith(_WITHOUT_LINES):
        return None
    try:
        return content.decode("utf-8-sig")[:_MOST_LETTERS]
    except UnicodeDecodeError:
        return content.decode("latin-1")[:_MOST_LETTERS]
