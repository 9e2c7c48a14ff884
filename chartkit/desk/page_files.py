"""The files of the desk's own page, answered from memory.

Starlette's ``StaticFiles`` opens each file in a worker thread.  At the start some thirty files are
asked for while the first song is engraved, and each would wait for its turn behind that work.
"""

import gzip
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from pathlib import Path

from starlette.requests import Request
from starlette.responses import Response

_FOLDER = Path(__file__).parent / "page"
_FIRST = "desk.html"
_TYPES = {".html": "text/html", ".css": "text/css", ".js": "text/javascript"}


@dataclass(frozen=True, slots=True)
class PageFile:
    """A file's bytes as they are and packed, its media type, its entity tag (RFC 9110 8.8.3)."""

    content: bytes
    packed: bytes
    media_type: str
    tag: str


@cache
def page_files() -> dict[str, PageFile]:
    """Every file of the page by its name."""
    files = (path for path in _FOLDER.iterdir() if path.suffix in _TYPES)
    return {path.name: _page_file(path) for path in files}


def _page_file(path: Path) -> PageFile:
    content = path.read_bytes()
    tag = f'"{sha256(content).hexdigest()[:16]}"'
    return PageFile(content, gzip.compress(content), _TYPES[path.suffix], tag)


async def page_file(request: Request) -> Response:
    """A file of the page, the page itself where none is named; 304 where the browser has it."""
    file = page_files().get(request.path_params.get("name", _FIRST))
    if file is None:
        return Response(status_code=404)
    headers = {"Cache-Control": "no-cache", "ETag": file.tag, "Vary": "Accept-Encoding"}
    if file.tag in request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    if not takes_gzip(request):
        return Response(file.content, media_type=file.media_type, headers=headers)
    packed = headers | {"Content-Encoding": "gzip"}
    return Response(file.packed, media_type=file.media_type, headers=packed)


def takes_gzip(request: Request) -> bool:
    """Whether the browser reads answers that are packed."""
    return "gzip" in request.headers.get("accept-encoding", "")
