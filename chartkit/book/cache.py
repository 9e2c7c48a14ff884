"""The cache of books' songs: its folder and keys.

A key covers the program's own source, fonts and grammar, the piece of work and its input.
"""

from functools import cache
from hashlib import sha256
from pathlib import Path

from chartkit.assets import font_path
from chartkit.disk_cache import DiskCache, digest_of
from chartkit.private_folder import user_cache_folder

MOST_BYTES = 1 << 30
"""The most bytes that are kept; a song's pages take some 100 kB (ours)."""

_PROGRAM = Path(__file__).parent.parent


def book_cache_folder() -> Path | None:
    """The folder for finished work; None without a home folder."""
    return user_cache_folder("chartkit/books")


@cache
def program_digest() -> str:
    """A digest of all program text, fonts and the page of screen books, so that a changed program
    starts afresh."""
    digest = sha256()
    fonts = font_path("OFL.txt").parent
    grammars = (_PROGRAM.parent / "grammar", _PROGRAM / "grammar")
    files = [*_PROGRAM.rglob("*.py"), *fonts.glob("*.ttf")]
    files += [path for folder in grammars for path in folder.glob("*.lark")]
    files += [path for path in (_PROGRAM / "book/screen").glob("book.*") if path.suffix != ".py"]
    for path in sorted(files):
        digest.update(path.read_bytes())
    return digest.hexdigest()


def work_key(*parts: object) -> str:
    """The key of a piece of work that depends on these values alone.

    Values are distinguished by their ``repr``: plain values and frozen dataclasses, no sets.
    """
    return digest_of(program_digest(), *parts)


def work_cache(folder: Path | None) -> DiskCache:
    """The cache of work in a folder; None keeps nothing."""
    return DiskCache(folder, MOST_BYTES)
