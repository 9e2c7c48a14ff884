"""Pages put away on disk until a book is bound."""

import os
import tracemalloc
from tempfile import SpooledTemporaryFile

import pytest

from chartkit.book.make_song import SongPages
from chartkit.book.page_store import PageStore
from chartkit.files import Unusable
from chartkit.layout.frames import Bookmark
from chartkit.pdf.commands import ReadLine
from chartkit.pdf.draw import DrawnPage
from chartkit.theory.capo import Capo


def song(size: int, width: float = 300) -> SongPages:
    """A song of one page, whose commands take so many bytes."""
    page = DrawnPage(
        width, 400, os.urandom(size), (("plain", "ab"),), (Bookmark("A", 9),), (ReadLine("P"),)
    )
    return SongPages("Low Tide", "Nell", "de", "capo 2", "G", (Capo(2),), (page,), "☃")


def test_pages_come_back_as_they_were_put() -> None:
    """In any order, however often, on disk and before, with what a book says of the song."""
    store, songs = PageStore(), [song(3_000_000, 300 + 50 * n) for n in range(8)]
    stored = [store.put(one) for one in songs]
    for one, kept in sorted(zip(songs, stored, strict=True), key=lambda pair: -pair[1].at):
        assert kept.pages() == one.pages == kept.pages()
        told = (kept.language, kept.summary, kept.first, kept.capos, kept.missing)
        assert told == (one.language, one.summary, one.first, one.capos, one.missing)
        assert kept.landscape == (one.pages[0].width > 400,)


def test_memory_stays_the_same_however_many_are_put() -> None:
    """Past what a night needs, pages are on disk alone."""
    store = PageStore()
    stored = [store.put(song(2_000_000)) for _ in range(9)]
    tracemalloc.start()
    stored += [store.put(song(2_000_000)) for _ in range(20)]
    held = tracemalloc.get_traced_memory()[0]
    tracemalloc.stop()
    assert held < 200_000


def test_a_full_disk_is_reported(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there is no room for pages, the folder and the reason are named."""

    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(SpooledTemporaryFile, "write", full)
    with pytest.raises(Unusable, match="cannot be written: no space left on device"):
        PageStore().put(song(10))
