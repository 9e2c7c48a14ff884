"""Files of the folder that are renamed, deleted and taken back.

A deleted file is kept in a hidden folder beside the others, so that it can be taken back.
"""

import tomlkit
from tomlkit.exceptions import TOMLKitError

from chartkit.desk.folder import Folder
from chartkit.desk.pages import Facts
from chartkit.desk.wishes import FileWish, RenameWish
from chartkit.files import Unusable

DELETED = ".deleted"
"""The folder inside the folder that keeps what was deleted."""


def sets_naming(folder: Folder, name: str) -> list[str]:
    """The sets that have a chart among their songs."""
    sets = [one.name for one in folder.entries() if one.kind == "set"]
    return [one for one in sets if _renamed_in(folder, one, name, name) is not None]


def renamed_file(folder: Folder, wish: RenameWish) -> Facts:
    """Gives a file another name, also in the sets that name it; the sets that were changed.

    Raises FileChanged where the file is no longer of the version, and Unusable where there is
    a file of that name already or one cannot be written.
    """
    if folder.path(wish.name).suffix != folder.path(wish.to).suffix:
        raise Unusable(f"{wish.to}: it must end as before", f"write .{wish.name.split('.')[-1]}")
    texts = {}
    for one in sets_naming(folder, wish.name):
        stored = folder.read(one)
        texts[one] = _renamed_in(folder, one, wish.name, wish.to) or stored.text, stored.version
    folder.move(wish.name, folder.path(wish.to), wish.version)
    for one, (text, version) in texts.items():
        folder.save(one, text, version)
    return {"sets": sorted(texts)}


def deleted_file(folder: Folder, wish: FileWish) -> Facts:
    """Moves a file to those that are kept as deleted; the sets that name it still.

    Raises FileChanged where the file is no longer of the version, and Unusable.
    """
    stem, dot, suffix = wish.name.rpartition(".")
    place = folder.root / DELETED / wish.name
    number = 2
    while place.exists():
        place = folder.root / DELETED / f"{stem} ({number}){dot}{suffix}"
        number += 1
    folder.move(wish.name, place, wish.version)
    return {"sets": sets_naming(folder, wish.name)}


def deleted_names(folder: Folder) -> list[str]:
    """The files that were deleted and are kept, the newest first."""
    root = folder.root / DELETED
    try:
        found = [(one.stat().st_mtime, one) for one in root.rglob("*") if one.is_file()]
    except OSError:
        return []
    newest = sorted(found, key=lambda one: one[0], reverse=True)
    return [one.relative_to(root).as_posix() for _, one in newest]


def taken_back(folder: Folder, wish: FileWish) -> Facts:
    """Puts a deleted file back; its name.  Raises Unusable where another has its name."""
    if wish.name not in deleted_names(folder):
        raise Unusable(f"{wish.name}: this is not among the deleted files")
    folder.put_back(folder.root / DELETED / wish.name, wish.name)
    return {"name": wish.name}


def _renamed_in(folder: Folder, set_name: str, before: str, after: str) -> str | None:
    """A set file's text with another name for a chart; None where it does not name the chart or
    cannot be read.  A set names charts from its own folder."""
    inside = set_name.rpartition("/")[0]
    start = f"{inside}/" if inside else ""
    if not before.startswith(start):
        return None
    try:
        document = tomlkit.parse(folder.read(set_name).text)
        songs = document.get("songs", [])
        named = [one for one in songs if one.get("chart") == before.removeprefix(start)]
    except (TOMLKitError, Unusable, AttributeError, TypeError):
        return None
    if not named:
        return None
    if not after.startswith(start):
        raise Unusable(f"{set_name} would not find it there", f"keep it in the folder {inside}")
    for one in named:
        one["chart"] = after.removeprefix(start)
    return tomlkit.dumps(document)
