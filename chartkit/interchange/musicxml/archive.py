"""Compressed MusicXML: the score inside an ``.mxl`` archive, read in memory and within limits.

Source of the form: the MusicXML 4.0 specification, "Compressed .mxl files": a zip archive
whose ``META-INF/container.xml`` names the score as its first rootfile.  The limits are ours:
a lead sheet is well below a tenth of each.
"""

import re
import zipfile
import zlib
from io import BytesIO

from chartkit.interchange.intake_result import Findings, Refused
from chartkit.interchange.musicxml.xml import LARGEST_SCORE_BYTES, parsed_tree

_LARGEST_CONTAINER_BYTES = 100_000
_MOST_ENTRIES = 2000
_CONTAINER = "META-INF/container.xml"
_SCORE_NAMES = (".xml", ".musicxml")
_NO_SCORES = ("META-INF/", "__MACOSX/")
_ROOT = re.compile(rb"<(?:[\w.-]+:)?score-(?:partwise|timewise)")
_LONGEST_PROLOGUE = 8192
"""Bytes within which the root element of a score begins; ours."""
_SCORE_TYPES = ("", "application/vnd.recordare.musicxml+xml", "application/vnd.recordare.musicxml")


def score_in_archive(data: bytes, findings: Findings) -> tuple[str, bytes]:
    """The name and the bytes of the score that the archive's container names; where the
    container cannot be used, those of the one score in the archive, with a finding.

    Nothing is written to disk.  Raises Refused for other files, for paths that lead out of the
    archive, and for archives too large to be a score.
    """
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            return _score(archive, findings)
    except (
        zipfile.BadZipFile,
        zlib.error,
        EOFError,
        NotImplementedError,
        RuntimeError,
        ValueError,
        OSError,
        OverflowError,
    ) as reason:
        raise Refused(f"the archive is damaged or not readable: {_plain(reason)}") from None


def _plain(reason: Exception) -> str:
    return " ".join(str(reason).split())[:80].rstrip(".").lower() or "unknown reason"


def _score(archive: zipfile.ZipFile, findings: Findings) -> tuple[str, bytes]:
    if len(archive.infolist()) > _MOST_ENTRIES:
        raise Refused(f"the archive has more than {_MOST_ENTRIES} entries; a score has a few")
    path = _named_path(archive, findings)
    return path, _read(archive, path, LARGEST_SCORE_BYTES)


_OF_DOCUMENTS = {"word/document.xml", "content.xml"}
"""Files inside the archives of word processors: Office Open XML (ECMA-376), OpenDocument."""


def _named_path(archive: zipfile.ZipFile, findings: Findings) -> str:
    """The path of the score: the one that the container names, else the only one there is."""
    names = set(archive.namelist())
    try:
        if names & _OF_DOCUMENTS:
            raise Refused("this is an office document: save it as plain text first")
        if _CONTAINER not in names:
            raise Refused("this is a zip archive, but not of a score: it has no container.xml")
        path = _score_path(_read(archive, _CONTAINER, _LARGEST_CONTAINER_BYTES))
        if path not in names:
            raise Refused(f'container.xml names "{_short(path)}", which is not in the archive')
    except Refused as reason:
        scores = [name for name in archive.namelist() if _is_score(archive, name)]
        if len(scores) != 1:
            raise
        findings.guess(
            "container",
            f"{_CONTAINER} cannot be used ({reason}): the only score there is read, "
            f'"{_short(scores[0])}"',
        )
        return scores[0]
    return path


def _is_score(archive: zipfile.ZipFile, name: str) -> bool:
    """Whether an entry is a score by its name and by how it begins."""
    if not name.lower().endswith(_SCORE_NAMES) or name.startswith(_NO_SCORES):
        return False
    with archive.open(name) as entry:
        start = entry.read(_LONGEST_PROLOGUE).replace(b"\x00", b"")
    return _ROOT.search(start) is not None


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
