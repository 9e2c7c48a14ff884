"""Songs from elsewhere: the chart that a file makes, beside what it was made from."""

from starlette.requests import Request
from starlette.responses import Response

from chartkit.desk.answers import slowly
from chartkit.desk.pages import Facts, mistakes_of, song_of_text
from chartkit.files import Unusable
from chartkit.incoming import Refused, incoming_chart, incoming_json

_MOST_LETTERS = 400_000
"""How much of a text is shown beside its chart."""


async def import_file(request: Request) -> Response:
    """The answer to a file's content: ``part`` names a part of a score."""
    return await slowly(
        imported_song, await request.body(), request.query_params.get("part") or None
    )


def imported_song(content: bytes, part: str | None) -> Facts:
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
        "original": incoming.source_text[:_MOST_LETTERS] or None,
        "mistakes": mistakes_of(song_of_text(incoming.text)),
    }
