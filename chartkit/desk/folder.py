"""The folder on the desk: its charts and sets, read and saved under a precondition.

A file's name is its path inside the folder, with ``/`` between the parts.  Nothing
outside the folder is read or written, nor what a link inside leads to out there.
"""

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from threading import Lock

from starlette.responses import FileResponse

from chartkit.assets import example_paths
from chartkit.files import LARGEST_CHART, Unusable, decoded_chart, read_bytes, write_whole

KINDS = {".chart": "chart", ".toml": "set"}
"""The files that are shown, by how their names end."""
_ENDINGS = tuple(KINDS)
_MADE = {".pdf": "application/pdf", ".html": "text/html"}
"""What books are made as."""
_MOST_FILES, _DEEPEST = 5_000, 3
"""How many files are listed, and how many folders deep."""
_HEAD_BYTES = 2_000
"""The part of a chart, from its start, in which its title and writer are looked for."""
_HEAD = re.compile(
    r"^[ \t]*(title|writer|part)[ \t]*:[ \t]*(.*?)[ \t]*(?:(?<!\\)#.*)?$", re.MULTILINE
)
_SET_NAME = re.compile(r'^[ \t]*name[ \t]*=[ \t]*"([^"\\\n]+)"', re.MULTILINE)
_TABLE_OF_A_SET = re.compile(r"^[ \t]*(?:\[\[[ \t]*)?(?:songs|players)\b", re.MULTILINE)
_FIRST_TABLE = re.compile(r"^[ \t]*\[", re.MULTILINE)
_LONGEST_NAME = 200


@dataclass(frozen=True, slots=True)
class FolderEntry:
    """A file of the folder; ``title``, ``writer`` and whose ``part`` it is as its first lines give
    them, a set's name."""

    name: str
    kind: str
    title: str
    writer: str
    part: str = ""


@dataclass(frozen=True, slots=True)
class StoredFile:
    """A file's text, and the version it has: a digest of its bytes, empty for no file."""

    text: str
    version: str


class FileChanged(Exception):
    """The file is not what the writer began from; ``stored`` is what it is now."""

    def __init__(self, stored: StoredFile) -> None:
        super().__init__("the file has changed meanwhile")
        self.stored = stored


class Folder:
    """The charts and sets of one folder."""

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()
        self._writing = Lock()

    def entries(self) -> list[FolderEntry]:
        """The charts and sets, in order of their names."""
        every = (self._entry(name) for name in sorted(self._files("", 0)))
        return [entry for entry in every if entry is not None][:_MOST_FILES]

    def first_chart(self) -> str | None:
        """The name of the first chart in their order; None where there is none."""
        return min((file for file in self._files("", 0) if file.endswith(".chart")), default=None)

    def _files(self, inside: str, depth: int) -> Iterator[str]:
        """The names of the charts and TOML files in a folder of the folder and below it."""
        try:
            with os.scandir(self.root / inside) as entries:
                there = list(entries)
        except OSError:
            return
        for path in there:
            if path.name.startswith(".") or path.is_symlink():
                continue
            if path.name.endswith(_ENDINGS):
                if path.is_file():
                    yield inside + path.name
            elif depth < _DEEPEST and path.is_dir():
                yield from self._files(f"{inside}{path.name}/", depth + 1)

    def _entry(self, name: str) -> FolderEntry | None:
        try:
            with open(f"{self.root}/{name}", "rb", buffering=0) as file:  # noqa: PTH123
                head = file.read(_HEAD_BYTES)
        except OSError:
            head = b""
        text = head.decode("utf-8", "replace").removeprefix("\ufeff").replace("\r", "\n")
        entry = entry_of(name, text)
        return None if entry.kind == "set" and text and not _may_be_a_set(entry, text) else entry

    def path(self, name: str) -> Path:
        """Where a chart or set of that name is or would be.

        Raises Unusable for a place outside and for any other kind of file.
        """
        path = self._inside(name)
        if path.suffix not in KINDS:
            raise Unusable(f"{name}: charts end in .chart, sets in .toml")
        return path

    def _inside(self, name: str) -> Path:
        parts = name.split("/")
        odd = any(part.startswith(".") or not part.strip() for part in parts)
        if odd or "\\" in name or len(name) > _LONGEST_NAME or not name.isprintable():
            raise Unusable(f"{name[:_LONGEST_NAME]}: this is not a name for a file of the folder")
        path = self.root.joinpath(*parts)
        if not path.resolve().is_relative_to(self.root):
            raise Unusable(f"{name}: this leads out of the folder")
        return path

    def made(self, name: str) -> FileResponse:
        """A book that was made in the folder.  Raises Unusable for anything else."""
        path = self._inside(name)
        if path.suffix not in _MADE or not path.is_file():
            raise Unusable(f"{name}: there is no such book")
        shown = "inline" if path.suffix == ".pdf" else "attachment"
        return FileResponse(
            path,
            media_type=_MADE[path.suffix],
            filename=path.name,
            content_disposition_type=shown,
            headers={"Cache-Control": "no-store"},
        )

    def read(self, name: str) -> StoredFile:
        """A file's text and version.  Raises Unusable."""
        path = self.path(name)
        if path.exists() and not path.is_file():
            raise Unusable(f"{name}: this is not a file")
        try:
            raw = read_bytes(str(path), LARGEST_CHART)
            return StoredFile(decoded_chart(raw, name), _version(raw))
        except Unusable as reason:
            raise Unusable(self._plain(reason), reason.hint) from None

    def save(self, name: str, text: str, version: str) -> str:
        """Writes a file aside and moves it into place; the version it then has.

        Raises FileChanged where the file is no longer of that version, and Unusable.
        """
        path, content = self.path(name), text.encode()
        decoded_chart(content, name)
        with self._writing:
            stored = self.read(name) if path.exists() else StoredFile("", "")
            if stored.version not in (version, _version(content)):
                raise FileChanged(stored)
            try:
                write_whole(path, content)
            except Unusable as reason:
                raise Unusable(self._plain(reason), reason.hint) from None
        return _version(content)

    def move(self, name: str, place: Path, version: str) -> None:
        """Moves a file to a place where none is.

        Raises FileChanged where it is no longer of that version, and Unusable.
        """
        path = self.path(name)
        with self._writing:
            stored = self.read(name) if path.exists() else StoredFile("", "")
            if stored.version != version:
                raise FileChanged(stored)
            self._moved(path, place, name)

    def put_back(self, place: Path, name: str) -> None:
        """Moves a file from a place inside the folder to its name.  Raises Unusable."""
        with self._writing:
            self._moved(place, self.path(name), name)

    def _moved(self, path: Path, place: Path, name: str) -> None:
        if place.exists():
            raise Unusable(f"there is a file {place.name} already", "choose another name")
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
            path.rename(place)
        except OSError as reason:
            words = (reason.strerror or "unknown reason").lower()
            raise Unusable(f"{name}: it cannot be moved: {words}") from None

    def copy_examples(self) -> list[str]:
        """Copies the example songs into the folder; the names of those that are new there."""
        copied = []
        for source in example_paths():
            if not self.path(source.name).exists():
                self.save(source.name, source.read_text(encoding="utf-8"), "")
                copied.append(source.name)
        return copied

    def _plain(self, reason: Unusable) -> str:
        """What is wrong, with the file's name in the folder instead of its path."""
        return str(reason).replace(f"{self.root}/", "")


def _may_be_a_set(entry: FolderEntry, head: str) -> bool:
    """Whether a TOML file begins like a set file; others, such as a program's settings, do not."""
    return bool(entry.title) or _TABLE_OF_A_SET.search(head) is not None


def entry_of(name: str, text: str) -> FolderEntry:
    """The entry of a file that begins with a text."""
    kind, text = KINDS[name[name.rindex(".") :]], text[:_HEAD_BYTES]
    if kind == "set":
        named = _SET_NAME.search(_FIRST_TABLE.split(text, maxsplit=1)[0])
        return FolderEntry(name, kind, named[1] if named else "", "")
    head: dict[str, str] = {}
    for match in _HEAD.finditer(text):
        head.setdefault(match[1], match[2])
    return FolderEntry(
        name, kind, *(head.get(setting, "") for setting in ("title", "writer", "part"))
    )


def _version(raw: bytes) -> str:
    return sha256(raw).hexdigest()
