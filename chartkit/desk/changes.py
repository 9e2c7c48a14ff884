"""Watches the folder for changes from outside and reports them to every open page."""

import asyncio
import json
from collections.abc import AsyncIterator

from watchfiles import Change, DefaultFilter, awatch

from chartkit.desk.folder import KINDS, Folder

_KEEP_ALIVE_SECONDS = 15
_GATHERED_MS = 200
"""How long changes are gathered before they are reported."""


class _Charts(DefaultFilter):
    """The files that are watched: .chart and .toml, not hidden ones."""

    def __call__(self, change: Change, path: str) -> bool:
        """Whether a change is of a file that the desk shows."""
        return path.endswith(tuple(KINDS)) and "/." not in path and super().__call__(change, path)


async def events(folder: Folder, ending: asyncio.Event) -> AsyncIterator[bytes]:
    """Server-sent events (HTML Living Standard, 9.2): the names of files that have changed."""
    yield b": the desk listens\n\n"
    watched = awatch(
        folder.root,
        watch_filter=_Charts(),
        step=_GATHERED_MS,
        stop_event=ending,
        rust_timeout=_KEEP_ALIVE_SECONDS * 1000,
        yield_on_timeout=True,
        ignore_permission_denied=True,
    )
    async for changes in watched:
        names = sorted({path[len(str(folder.root)) + 1 :] for _, path in changes})
        yield f"data: {json.dumps(names)}\n\n".encode() if names else b": still here\n\n"
