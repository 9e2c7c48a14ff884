"""The user's own private cache folder, in the usual place; everything works without it."""

import os
import tempfile
from pathlib import Path
from stat import S_ISDIR


def user_cache_folder(name: str) -> Path | None:
    """The folder of that name under XDG_CACHE_HOME, or ``~/.cache``; None without a home.

    Source: the XDG Base Directory Specification, which also says that a path there that is
    not absolute is to be ignored.
    """
    given = os.environ.get("XDG_CACHE_HOME", "")
    if given and Path(given).is_absolute():
        return Path(given) / name
    home = os.environ.get("HOME", "")
    if home and Path(home).is_absolute():
        return Path(home) / ".cache" / name
    return None


def make_private(folder: Path) -> bool:
    """Makes the folder and its parent for the user alone; returns whether they are the user's."""
    for made in (folder.parent, folder):
        made.parent.mkdir(parents=True, exist_ok=True)
        made.mkdir(mode=0o700, exist_ok=True)
    return is_ours(folder)


def is_ours(folder: Path) -> bool:
    """Whether the folder and its parent are the user's, and nobody else may write there.

    Somebody who may write in the parent could replace the folder.  Raises OSError if there is none.
    """
    if not hasattr(os, "getuid"):
        return True
    for status in (folder.parent.lstat(), folder.lstat()):
        if not S_ISDIR(status.st_mode) or status.st_uid != os.getuid() or status.st_mode & 0o022:
            return False
    return True


def write_private(path: Path, content: bytes) -> None:
    """Writes aside (mkstemp makes files 0600) and renames into place.  Raises OSError."""
    handle, aside = tempfile.mkstemp(dir=path.parent, suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        Path(aside).replace(path)
    except OSError:
        Path(aside).unlink(missing_ok=True)
        raise
