"""Songs from elsewhere: the chart that a file makes, beside what it was made from."""

from starlette.requests import Request
from starlette.responses import Response

from chartkit.desk.answers import slowly
from chartkit.desk.pages import Facts, mistakes_of, song_of_text
from chartkit.files import Unusable
from chartkit.incoming import Incoming, Refused, incoming_chart, incoming_json
from chartkit.interchange.recognise import text_and_encoding
from chartkit.interchange.saved_mail import Mail, read_mail

_WITHOUT_LINES = (b"%PDF-", b"PK\3\4", b"<?xml", b"\xef\xbb\xbf<?xml", b"<score-")
"""The first bytes of files that are not shown line by line."""
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
        "original": _lines(content, incoming),
        "mistakes": mistakes_of(song_of_text(incoming.text)),
    }


def _lines(content: bytes, incoming: Incoming) -> str | None:
    """The lines of the text that was read, by which findings are numbered; None if it is not a
    text."""
    if content.lstrip()[:8].startswith(_WITHOUT_LINES):
        return None
    if incoming.format != "mail":
        return text_and_encoding(content)[0][:_MOST_LETTERS]
    mail, codes = read_mail(content), {one.code for one in incoming.findings}
    own = mail.text.strip() and "mail-text" not in codes
    text = mail.text if own else _attached_text(mail, incoming)
    return text[:_MOST_LETTERS]


def _attached_text(mail: Mail, incoming: Incoming) -> str:
    """The attached text that was read: the one that is not reported as left out."""
    left_out = [one.message for one in incoming.findings if one.code == "attached"]
    for name, text in zip(mail.attached, mail.texts, strict=True):
        if text.strip() and not any(message.endswith(name) for message in left_out):
            return text
    return mail.text
