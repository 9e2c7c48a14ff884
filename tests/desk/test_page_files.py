"""The files of the page: each is asked for once, under an address of its own."""

import re
from pathlib import Path

import httpx

import chartkit.desk
from tests.desk.conftest import Served

FOLDER = Path(chartkit.desk.__file__).parent / "page"


def test_every_file_is_named_at_the_head_and_kept(served: Served) -> None:
    """The page names each of its modules and styles, so that none waits for another; a browser
    keeps them without asking again (RFC 8246), and the page itself is asked for each time."""
    with httpx.Client(follow_redirects=True) as client:
        page = client.get(served.address)
        assert page.headers["cache-control"] == "no-cache"
        named = re.findall(r'(?:href|src)="(/page/[^"]+)"', page.text)
        wanted = {one.name for one in FOLDER.iterdir() if one.suffix in (".js", ".css")}
        assert sorted(Path(one).name for one in named) == sorted({*wanted, "sheet.css"})
        for address in named:
            answer = client.get(f"http://{served.host}{address}")
            assert answer.status_code == 200 and "immutable" in answer.headers["cache-control"]
