"""The pages of a song as a document, with what its file says of it."""

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.frames import Document, Page
from chartkit.layout.metrics import Typesetter
from chartkit.layout.top import capo_and_keys


def document_of(
    arrangement: Arrangement, pages: tuple[Page, ...], typesetter: Typesetter
) -> Document:
    """The document of a song's pages, which ``typesetter`` has measured."""
    return Document(
        title=arrangement.title,
        author=arrangement.writer,
        language=arrangement.language,
        subject=capo_and_keys(arrangement),
        pages=pages,
        missing=frozenset(typesetter.missing),
    )
