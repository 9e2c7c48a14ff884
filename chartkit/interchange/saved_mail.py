"""The text of a saved mail, by Python's own reader of mails (RFC 5322, RFC 2045)."""

import re
from dataclasses import dataclass
from email import message_from_bytes, policy
from email.message import EmailMessage, MIMEPart

from chartkit.interchange.html_text import text_of_html
from chartkit.interchange.intake_result import Refused
from chartkit.interchange.wording import one_line

_MOST_PARTS = 2_000
"""Far more than anybody attaches to a mail; Python's reader takes time for each."""
_LARGEST_HTML = 1_000_000
_LARGEST_MAIL_BYTES = 20_000_000
_LONGEST_HEADER = 4_000
"""Python's reader of headers takes quadratic time."""
_LONG_HEADER = re.compile(
    rb"^(?:[a-z]+-[a-z-]{1,40}|to|b?cc|from|subject|received|references|sender|date):"
    rb"[^\n]*(?:\n[ \t][^\n]*)*",
    re.MULTILINE | re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Mail:
    """The parts of an email that are read: its subject, its text, the names of files attached to
    it, and the text of each that is one (empty for any other)."""

    subject: str
    text: str
    attached: tuple[str, ...]
    texts: tuple[str, ...] = ()


def read_mail(data: bytes) -> Mail:
    """The mail in a file.  Raises Refused for one that cannot be read, has no text, or is more
    than is read."""
    if len(data) > _LARGEST_MAIL_BYTES:
        raise Refused(f"this email is too large: more than {_LARGEST_MAIL_BYTES:,} bytes")
    if data.count(b"\n--") > _MOST_PARTS:
        raise Refused(f"this email is too large: more than {_MOST_PARTS:,} parts")
    data = _LONG_HEADER.sub(lambda header: header[0][:_LONGEST_HEADER], data)
    try:
        message = message_from_bytes(data, policy=policy.default)
        assert isinstance(message, EmailMessage)
        body = message.get_body(preferencelist=("plain", "html"))
        text = "" if body is None else _content(body)
        parts = list(message.iter_attachments())
        attached = tuple(
            one_line(str(part.get_filename() or part.get_content_type())) for part in parts
        )
        texts = tuple(
            _content(part) if part.get_content_type() == "text/plain" else "" for part in parts
        )
        subject = one_line(str(message.get("Subject", "")))
    except Refused:
        raise
    except Exception:
        # A parser of strangers' files may fail in any way; none is a mistake of ours.
        raise Refused("this email is damaged: its text cannot be read") from None
    if not text.strip() and not any(map(str.strip, texts)):
        raise Refused("this email holds no text" + (f", only {attached[0]}" if attached else ""))
    return Mail(subject, _plain(text), attached, tuple(map(_plain, texts)))


def _plain(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _content(part: MIMEPart) -> str:
    """The text of a part; an unknown set of characters is read as UTF-8."""
    try:
        text = str(part.get_content())
    except LookupError:
        payload = part.get_payload(decode=True)
        text = payload.decode("utf-8", "replace") if isinstance(payload, bytes) else ""
    if part.get_content_subtype() != "html":
        return text
    if len(text) > _LARGEST_HTML:
        raise Refused(f"this email is too large: a page of more than {_LARGEST_HTML:,} letters")
    return text_of_html(text)
