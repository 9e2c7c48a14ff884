"""Songs from elsewhere: the chart that a file makes, beside what it was made from."""

from starlette.requests import Request
from starlette.responses import Response

from chartkit.desk.answers import slowly
from chartkit.desk.pages import Facts, mistakes_of, song_of_text
from chartkit.files import Unusable
from chartkit.incoming import Incoming, Refused, incoming_chart
from chartkit.interchange.taken import Finding

_WITHOUT_LINES = (b"%PDF-", b"PK\3\4", b"<?xml", b"\xef\xbb\xbf<?xml", b"<score-")
"""How files begin whose lines say nothing to a reader."""
_MOST_LETTERS = 400_000
"""How much of a text is shown beside its chart."""


async def bring_in(request: Request) -> Response:
    """The answer to a file's content: ``part`` names a part of a score."""
    return await slowly(taken, await request.body(), request.query_params.get("part") or None)


def taken(content: bytes, part: str | None) -> Facts:
    """The chart of a file's content, every finding, and the original's lines where it has some.

    Raises Unusable for what cannot be taken in.
    """
    try:
        incoming = incoming_chart(content, part)
    except Refused as reason:
        raise Unusable(str(reason)) from None
    return {
        "text": incoming.text,
        "format": incoming.format,
        "original": _lines(content),
        "findings": [_finding(one) for one in _in_order(incoming)],
        "mistakes": mistakes_of(song_of_text(incoming.text)),
    }


def _in_order(incoming: Incoming) -> list[Finding]:
    """Guesses and what was left out by their places, then what is sure."""
    return sorted(
        dict.fromkeys(incoming.findings), key=lambda one: (one.certainty == "sure", _line(one) or 0)
    )


def _finding(finding: Finding) -> Facts:
    return {
        "certainty": finding.certainty.replace("-", " "),
        "message": finding.message,
        "place": finding.place,
        "line": _line(finding),
    }


def _line(finding: Finding) -> int | None:
    """The line of a text that a finding is about."""
    line = finding.place.partition(":")[0]
    return int(line) if line.isascii() and line.isdigit() else None


def _lines(content: bytes) -> str | None:
    """The lines of a text as they came; None for what is no text to read."""
    if content.lstrip()[:8].startswith(_WITHOUT_LINES):
        return None
    try:
        return content.decode("utf-8-sig")[:_MOST_LETTERS]
    except UnicodeDecodeError:
        return content.decode("latin-1")[:_MOST_LETTERS]
