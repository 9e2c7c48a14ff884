"""Opens a PDF from elsewhere with pypdf, within limits; failures are reported in plain words.

Everything here runs in a separate process (``extract.py``) that can find no other program: pypdf
would call one to unpack JBIG2 data.
"""

import logging
from io import BytesIO
from typing import Any

from pypdf import PdfReader
from pypdf.errors import DependencyError

from chartkit.interchange.intake_result import Refused

MOST_PAGES = 40
_LOCKED = (
    "this PDF is locked: open it in a viewer of PDFs, with its password if it asks for one, and "
    "print it to a new PDF, which is not"
)
_MADE_HERE = "chartkit"
"""What our own pages give as the program that made them (ISO 32000-1, 14.3.3, Creator)."""
_MOST_NAMES = 100
"""How many attached files are looked at."""


def opened(data: bytes) -> PdfReader:
    """The document, unlocked where its password is empty.  Raises Refused for one that stays
    locked, or has too many pages; whatever pypdf raises for a damaged one."""
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        reader = PdfReader(BytesIO(data))
        locked = reader.is_encrypted and not reader.decrypt("")
        pages = 0 if locked else len(reader.pages)
    except DependencyError:
        # The newer cipher (AES) needs a library that is not among ours.
        raise Refused(_LOCKED) from None
    if locked:
        raise Refused(_LOCKED)
    if pages > MOST_PAGES:
        raise Refused(f"this PDF has {pages} pages; a lead sheet has at most {MOST_PAGES}")
    return reader


def attached_text(reader: PdfReader, suffix: str) -> tuple[str, str] | None:
    """The name and the text of the first attached file whose name ends so (ISO 32000-1, 7.11.4);
    None where there is none, or none that reads.

    Only a flat list of names is searched, as a page with one attachment has it.
    """
    try:
        return _attached(reader, suffix)
    except Exception:
        # A parser of untrusted files may fail in any way; the pages are then tried, and say why.
        return None


def _attached(reader: Any, suffix: str) -> tuple[str, str] | None:
    at = reader.trailer["/Root"]
    for key in ("/Names", "/EmbeddedFiles", "/Names"):
        if key not in at:
            return None
        at = at[key]
    for title, file in zip(at[:_MOST_NAMES:2], at[1:_MOST_NAMES:2], strict=False):
        if str(title).endswith(suffix):
            return str(title), bytes(file.get_object()["/EF"]["/F"].get_data()).decode()
    return None


def is_made_here(reader: PdfReader) -> bool:
    """Whether the document says that it is a page of ours."""
    metadata = reader.metadata
    return metadata is not None and metadata.creator == _MADE_HERE


def has_pictures(page: Any) -> bool:
    """Whether a page holds pictures, as a scan does."""
    resources = page.get("/Resources")
    resources = resources.get_object() if resources is not None else {}
    objects = resources.get("/XObject")
    return bool(objects and objects.get_object())
