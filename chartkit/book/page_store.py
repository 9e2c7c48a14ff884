"""Songs' pages on disk between being made and being bound, so that memory holds a few songs of a
book however long it is."""

import pickle
import weakref
from dataclasses import dataclass
from tempfile import SpooledTemporaryFile, gettempdir
from typing import IO

from chartkit.book.make_song import SongPages
from chartkit.files import Unusable
from chartkit.pdf.draw import DrawnPage
from chartkit.theory.capo import Capo

_IN_MEMORY = 4_000_000
"""How many bytes of pages stay in memory: a night's books then need no disk."""


@dataclass(frozen=True, slots=True)
class StoredPages:
    """A song's pages for one player, put away.

    ``landscape`` says for each page whether it is wider than high; the rest is as in ``SongPages``.
    """

    store: "PageStore"
    at: int
    length: int
    landscape: tuple[bool, ...]
    language: str
    summary: str
    first: str
    capos: tuple[Capo, ...]
    missing: str

    def pages(self) -> tuple[DrawnPage, ...]:
        """The pages as they were made."""
        return self.store.pages(self.at, self.length)


class PageStore:
    """A file without a name that goes with this value, or with the process."""

    def __init__(self) -> None:
        self._file: IO[bytes] = SpooledTemporaryFile(_IN_MEMORY)  # noqa: SIM115
        weakref.finalize(self, self._file.close)

    def put(self, song: SongPages) -> StoredPages:
        """Puts a song's pages away.  Raises Unusable where there is no room for them."""
        # Nobody else can write into the file, so that what is read from it is what was put there.
        content = pickle.dumps(song.pages, pickle.HIGHEST_PROTOCOL)
        try:
            at = self._file.seek(0, 2)
            self._file.write(content)
        except OSError as reason:
            words = (reason.strerror or "unknown reason").lower()
            raise Unusable(
                f"{_folder()}: cannot be written: {words}",
                "pages are kept there until they are bound; TMPDIR names another folder",
            ) from None
        return StoredPages(
            store=self,
            at=at,
            length=len(content),
            landscape=tuple(page.is_landscape for page in song.pages),
            language=song.language,
            summary=song.summary,
            first=song.first,
            capos=song.capos,
            missing=song.missing,
        )

    def pages(self, at: int, length: int) -> tuple[DrawnPage, ...]:
        """The pages that stand there."""
        self._file.seek(at)
        pages: tuple[DrawnPage, ...] = pickle.loads(self._file.read(length))
        return pages


def _folder() -> str:
    """The folder of temporary files, as far as there is one."""
    try:
        return gettempdir()
    except OSError:
        return "the folder of temporary files"
