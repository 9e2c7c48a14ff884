"""The files of the desk's own page, answered from memory.

Starlette's ``StaticFiles`` opens each file in a worker thread.  At the start some thirty files are
asked for while the first song is engraved, and each would wait for its turn after that work.

The page names its files under a digest of them all, so that a browser that has one never asks for
it again, and names every module at the head, so that none waits until the one that imports it has
come.
"""

import gzip
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from pathlib import Path

from starlette.requests import Request
from starlette.responses import Response

from chartkit.svg.style import page_style

_FOLDER = Path(__file__).parent / "page"
_FIRST, _FIRST_MODULE, _SHEET = "desk.html", "main.js", "sheet.css"
_TYPES = {".html": "text/html", ".css": "text/css", ".js": "text/javascript"}
_KEPT = "max-age=31536000, immutable"
"""For a year, and never asked about (RFC 8246): other bytes have another address."""


@dataclass(frozen=True, slots=True)
class PageFile:
    """A file's bytes as they are and packed, and its media type."""

    content: bytes
    packed: bytes
    media_type: str


@cache
def page_files() -> tuple[str, dict[str, PageFile]]:
    """The digest of all files of the page, and each by its name; the style of sheets among them."""
    contents = {path.name: path.read_bytes() for path in sorted(_FOLDER.iterdir())}
    contents = {name: content for name, content in contents.items() if Path(name).suffix in _TYPES}
    contents[_SHEET] = page_style(lambda font: f"/fonts/{font}").encode()
    digest = sha256(b"\0".join(contents.values())).hexdigest()[:16]
    contents[_FIRST] = _addressed(contents[_FIRST].decode(), digest, contents).encode()
    return digest, {name: _page_file(name, content) for name, content in contents.items()}


def _addressed(page: str, digest: str, names: dict[str, bytes]) -> str:
    """The page with its files under the digest, every module named at its head."""
    modules = (name for name in names if name.endswith(".js") and name != _FIRST_MODULE)
    ahead = "".join(f'<link rel="modulepreload" href="/page/{name}">\n' for name in modules)
    return page.replace("<script ", f"{ahead}<script ", 1).replace('"/page/', f'"/page/{digest}/')


def _page_file(name: str, content: bytes) -> PageFile:
    return PageFile(content, gzip.compress(content), _TYPES[Path(name).suffix])


async def page_file(request: Request) -> Response:
    """A file of the page, the page itself where none is named; 404 for files of another digest."""
    digest, files = page_files()
    file = files.get(request.path_params.get("name", _FIRST))
    if file is None or request.path_params.get("digest", digest) != digest:
        return Response(status_code=404)
    kept = _KEPT if "digest" in request.path_params else "no-cache"
    headers = {"Cache-Control": kept, "Vary": "Accept-Encoding"}
    if not takes_gzip(request):
        return Response(file.content, media_type=file.media_type, headers=headers)
    packed = headers | {"Content-Encoding": "gzip"}
    return Response(file.packed, media_type=file.media_type, headers=packed)


def takes_gzip(request: Request) -> bool:
    """Whether the browser reads answers that are packed."""
    return "gzip" in request.headers.get("accept-encoding", "")
