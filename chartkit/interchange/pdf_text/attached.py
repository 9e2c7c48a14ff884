"""A text file that travels inside a PDF (ISO 32000-1, 7.11.4), by pypdf."""

from typing import Any

from chartkit.interchange.pdf_text.document import opened

_MOST_NAMES = 100
"""How many attached files are looked at."""


def attached_text(data: bytes, suffix: str) -> tuple[str, str] | None:
    """The name and the text of the first attached file whose name ends so; None where there is
    none, or none that reads.

    Only a flat list of names is searched, as a page with one attachment has it.
    """
    try:
        found = _content(opened(data), suffix)
        return None if found is None else (found[0], found[1].decode())
    except Exception:
        # A parser of untrusted files may fail in any way; the pages are then tried, and say why.
        return None


def _content(reader: Any, suffix: str) -> tuple[str, bytes] | None:
    at = reader.trailer["/Root"]
    for key in ("/Names", "/EmbeddedFiles", "/Names"):
        if key not in at:
            return None
        at = at[key]
    for title, file in zip(at[:_MOST_NAMES:2], at[1:_MOST_NAMES:2], strict=False):
        if str(title).endswith(suffix):
            return str(title), bytes(file.get_object()["/EF"]["/F"].get_data())
    return None
