"""Compressed MusicXML: the score inside an ``.mxl`` archive, read in memory and within limits.

Source of the form: the MusicXML 4.0 specification, "Compressed .mxl files": a zip archive
whose ``META-INF/container.xml`` names the score as its first rootfile.  The limits are ours:
a lead sheet is well below a tenth of each.
"""

import zipfile
import zlib
from io import BytesIO

from chartkit.interchange.musicxml.xml import LARGEST_SCORE_BYTES, parsed_tree
from chartkit.interchange.taken import Refused

_LARGEST_CONTAINER_BYTES = 100_000
_MOST_ENTRIES = 2000
_CONTAINER = "META-INF/container.xml"
_SCORE_TYPES = ("", "application/vnd.recordare.musicxml+xml", "application/vnd.recordare.musicxml")


def score_in_archive(data: bytes) -> bytes:
    """The bytes of the score that the archive's container names.

    Nothing is written to disk.  Raises Refused for what is no such archive, for paths that
    lead out of it, and for archives too large to be a score.
    """
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            return _score(archive)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError,
            ValueError, OSError, OverflowError) as reason:  # fmt: skip
        raise Refused(f"the archive is damaged or not readable: {_plain(reason)}") from None


def _plain(reason: Exception) -> str:
    return " ".join(str(reason).split())[:80].rstrip(".").lower() or "unknown reason"


def _score(archive: zipfile.ZipFile) -> bytes:
    if len(archive.infolist()) > _MOST_ENTRIES:
        raise Refused(f"the archive has more than {_MOST_ENTRIES} entries; a score has a few")
    names = set(archive.namelist())
    if _CONTAINER not in names:
        raise Refused("this is a zip archive, but not of a score: it has no container.xml")
    path = _score_path(_read(archive, _CONTAINER, _LARGEST_CONTAINER_BYTES))
    if path not in names:
        raise Refused(f'container.xml names "{_short(path)}", which is not in the archive')
    return _read(archive, path, LARGEST_SCORE_BYTES)


def _short(path: str) -> str:
    return "".join(c if c.isprintable() else "?" for c in path[:60])


def _score_path(container: bytes) -> str:
    """The path of the first rootfile that is a score."""
    for element in parsed_tree(container).iter("rootfile"):
        if element.get("media-type", "") in _SCORE_TYPES:
            return _safe_path(element.get("full-path", ""))
    raise Refused("container.xml names no score")


def _safe_path(path: str) -> str:
    parts = path.split("/")
    if not path or path.startswith("/") or ".." in parts or "\\" in path or ":" in parts[0]:
        raise Refused(f'container.xml names "{_short(path)}", which is not a path in the archive')
    return path


def _read(archive: zipfile.ZipFile, name: str, most_bytes: int) -> bytes:
    """One entry; both its declared and its real size stay under the limit."""
    declared = archive.getinfo(name).file_size
    if declared > most_bytes:
        raise Refused(f"the score in the archive is too large: more than {most_bytes:,} bytes")
    with archive.open(name) as entry:
        content = entry.read(most_bytes + 1)
    if len(content) > most_bytes:
        raise Refused(f"the score in the archive is too large: more than {most_bytes:,} bytes")
    return content
