"""Files of the folder that are renamed, deleted and taken back.

A deleted file is kept in a hidden folder beside the others, so that it can be taken back.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from chartkit.book.night import chart_names
from chartkit.book.write_set import songs_away
from chartkit.desk.folder import Folder
from chartkit.desk.pages import Facts
from chartkit.desk.requests import FileRequest, RenameRequest
from chartkit.files import Unusable

DELETED = ".deleted"
"""The folder inside the folder that keeps what was deleted."""


def sets_naming(folder: Folder, name: str) -> list[str]:
    """The sets that have a chart among their songs."""
    return [set_naming.set_name for set_naming in _naming(folder, name)]


def renamed_file(folder: Folder, request: RenameRequest) -> Facts:
    """Gives a file another name, also in the sets that name it; the sets that were changed.

    Raises FileChanged where the file is no longer of the version, and Unusable where there is
    a file of that name already or one cannot be written.
    """
    if folder.path(request.name).suffix != folder.path(request.to).suffix:
        raise Unusable(
            f"{request.to}: the ending of the name must stay",
            f"write .{request.name.split('.')[-1]}",
        )
    sets = list(_naming(folder, request.name))
    texts = [set_naming.renamed(request.to) for set_naming in sets]
    folder.move(request.name, folder.path(request.to), request.version)
    for set_naming, text in zip(sets, texts, strict=True):
        folder.save(set_naming.set_name, text, set_naming.version)
    return {"sets": sorted(set_naming.set_name for set_naming in sets)}


def deleted_file(folder: Folder, request: FileRequest) -> Facts:
    """Moves a file to those that are kept as deleted; the sets that name it still.

    Raises FileChanged where the file is no longer of the version, and Unusable.
    """
    stem, dot, suffix = request.name.rpartition(".")
    place = folder.root / DELETED / request.name
    number = 2
    while place.exists():
        place = folder.root / DELETED / f"{stem} ({number}){dot}{suffix}"
        number += 1
    folder.move(request.name, place, request.version)
    return {"sets": sets_naming(folder, request.name)}


def deleted_names(folder: Folder) -> list[str]:
    """The files that were deleted and are kept, the newest first."""
    root = folder.root / DELETED
    try:
        dated = [(path.stat().st_mtime, path) for path in root.rglob("*") if path.is_file()]
    except OSError:
        return []
    newest = sorted(dated, key=lambda dated_path: dated_path[0], reverse=True)
    return [path.relative_to(root).as_posix() for _, path in newest]


def taken_back(folder: Folder, request: FileRequest) -> Facts:
    """Puts a deleted file back; its name.  Raises Unusable where another has its name."""
    if request.name not in deleted_names(folder):
        raise Unusable(f"{request.name}: this is not among the deleted files")
    folder.put_back(folder.root / DELETED / request.name, request.name)
    return {"name": request.name}


@dataclass(frozen=True, slots=True)
class _NamingSet:
    """A set file that names a chart: the songs that do, and the version that was read.  A set
    names charts from its own folder."""

    set_name: str
    version: str
    document: tomlkit.TOMLDocument
    songs: list[Any]

    def renamed(self, name: str) -> str:
        """The text with another name for the chart.  Raises Unusable where the set would not
        find it."""
        start = _folder_of(self.set_name)
        if not name.startswith(start):
            inside = start.rstrip("/")
            raise Unusable(
                f"{self.set_name} would not find it there", f"keep it in the folder {inside}"
            )
        before, after = str(self.songs[0]["chart"]), name.removeprefix(start)
        for song in self.songs:
            song["chart"] = after
        for away in songs_away(self.document):
            for i, song_name in enumerate(away):
                if str(song_name).strip().casefold() in chart_names(before):
                    away[i] = after
        return tomlkit.dumps(self.document)


def _folder_of(set_name: str) -> str:
    """How the names of files in a set's folder begin."""
    return "".join(set_name.rpartition("/")[:2])


def _naming(folder: Folder, chart: str) -> Iterator[_NamingSet]:
    """The sets that have a chart among their songs; one that cannot be read names none."""
    for entry in folder.entries():
        start = _folder_of(entry.name)
        if entry.kind != "set" or not chart.startswith(start):
            continue
        try:
            stored = folder.read(entry.name)
            document = tomlkit.parse(stored.text)
            songs = document.get("songs", [])
            named = [song for song in songs if song.get("chart") == chart.removeprefix(start)]
        except (TOMLKitError, Unusable, AttributeError, TypeError):
            continue
        if named:
            yield _NamingSet(entry.name, stored.version, document, named)
