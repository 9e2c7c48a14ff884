"""Drafts: what is typed and not yet saved, kept in the user's private folder.

Each window keeps its own, so that two on one song do not take each other's words.
"""

import json
import time
from contextlib import suppress
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path

from chartkit.files import Unusable
from chartkit.private_folder import is_ours, make_private, user_cache_folder, write_private

_NAME = "chartkit/drafts"
_SUFFIX = ".json"
_MOST, _OLDEST = 200, 90 * 24 * 3600
"""How many drafts are kept, and for how many seconds."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A text as it was typed: of which file, from which version on, when (seconds)."""

    file: str
    text: str
    version: str
    window: str
    time: float


class Drafts:
    """The drafts of one folder's files."""

    def __init__(self, root: Path) -> None:
        self._root = root
        self._folder = user_cache_folder(_NAME)

    def keep(self, file: str, text: str, version: str, window: str) -> None:
        """Keeps a draft, whole or not at all.  Raises Unusable where it cannot be kept."""
        if self._folder is None:
            raise Unusable("what you type is not kept: there is no home folder")
        draft = Draft(file, text, version, window, time.time())
        try:
            if not make_private(self._folder):
                raise Unusable(f"what you type is not kept: {self._folder} is not yours alone")
            write_private(self._place(file, window), json.dumps(asdict(draft)).encode())
        except OSError as reason:
            words = (reason.strerror or "it cannot be written").lower()
            raise Unusable(f"what you type is not kept: {words}") from None

    def drop(self, file: str, window: str, kept_until: float | None = None) -> None:
        """Forgets a window's draft of a file; one that was kept after ``kept_until`` stays."""
        if self._folder is None:
            return
        place = self._place(file, window)
        if kept_until is not None:
            draft = _read(place)
            if draft is None or draft.time > kept_until:
                return
        with suppress(OSError):
            place.unlink(missing_ok=True)

    def drop_saved(self, file: str, saved: str) -> None:
        """Forgets every draft of a file that says what the file says."""
        for path in self._places(f"{self._digest(file)}-*"):
            draft = _read(path)
            if draft is not None and draft.file == file and draft.text == saved:
                with suppress(OSError):
                    path.unlink(missing_ok=True)

    def of(self, file: str) -> list[Draft]:
        """The drafts of a file, whichever windows they are from, the one typed last first."""
        drafts = map(_read, self._places(f"{self._digest(file)}-*"))
        return sorted(
            (draft for draft in drafts if draft and draft.file == file), key=_when, reverse=True
        )

    def of_each(self) -> dict[str, list[Draft]]:
        """The drafts of every file of the folder."""
        drafts: dict[str, list[Draft]] = {}
        for path in self._places():
            draft = _read(path)
            if draft is not None and path.name.startswith(self._digest(draft.file)):
                drafts.setdefault(draft.file, []).append(draft)
        return {file: sorted(of, key=_when, reverse=True) for file, of in drafts.items()}

    def tidy_up(self) -> None:
        """Throws away drafts that are old, and the oldest of too many."""
        if self._folder is None:
            return
        try:
            dated = sorted((p.stat().st_mtime, p) for p in self._folder.glob(f"*{_SUFFIX}"))
            limit = time.time() - _OLDEST
            for i, (when, path) in enumerate(dated):
                if when < limit or i < len(dated) - _MOST:
                    path.unlink(missing_ok=True)
        except OSError:
            return

    def _digest(self, file: str) -> str:
        return sha256(f"{self._root}\0{file}".encode("utf-8", "replace")).hexdigest()[:24]

    def _place(self, file: str, window: str) -> Path:
        assert self._folder is not None
        by = sha256(window.encode("utf-8", "replace")).hexdigest()[:12]
        return self._folder / f"{self._digest(file)}-{by}{_SUFFIX}"

    def _places(self, pattern: str = "*") -> list[Path]:
        try:
            if self._folder is None or not is_ours(self._folder):
                return []
            return list(self._folder.glob(f"{pattern}{_SUFFIX}"))
        except OSError:
            return []


def _when(draft: Draft) -> float:
    return draft.time


def _read(path: Path) -> Draft | None:
    try:
        return Draft(**json.loads(path.read_bytes()))
    except (OSError, ValueError, TypeError):
        return None
