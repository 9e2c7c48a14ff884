"""Who may speak to the desk, and what it may touch: each refusal by itself.

Sources: W3C Fetch Metadata Request Headers (Sec-Fetch-Site), RFC 6454 (Origin), RFC 6265bis
(SameSite), CSP Level 3; DNS rebinding is refused by the Host header.
"""

import http.client
import json
import os
import re
from pathlib import Path
from typing import Any

import httpx
import pytest

from chartkit.desk import guard
from chartkit.desk.folder import Folder
from chartkit.files import Unusable
from tests.desk.conftest import Served


@pytest.fixture
def client(served: Served) -> Any:
    """A client that has opened the first address, as the desk's page does."""
    with httpx.Client(base_url=f"http://{served.host}") as opened:
        answer = opened.get(f"/?key={served.key}")
        assert answer.status_code == 303 and answer.headers["location"] == "/"
        opened.headers["Origin"] = f"http://{served.host}"
        yield opened


def test_the_key_becomes_a_strict_cookie(served: Served) -> None:
    """The first address sets a cookie that no script reads and no other site sends along."""
    answer = httpx.get(served.address)
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie and "samesite=strict" in cookie and "domain" not in cookie


@pytest.mark.parametrize("path", ["/", "/api/files", "/page/x/main.js", "/fonts/words", "/?key=no"])
def test_nothing_without_the_key(served: Served, path: str) -> None:
    """Without the cookie every address refuses, also the page itself and a wrong key."""
    assert httpx.get(f"http://{served.host}{path}").status_code == 403


def test_a_cookie_of_another_value_is_refused(served: Served) -> None:
    """The cookie's value counts, not that there is one."""
    port = served.host.split(":")[1]
    headers = {"Cookie": f"desk-{port}=guess"}
    assert httpx.get(f"http://{served.host}/", headers=headers).status_code == 403


@pytest.mark.parametrize("host", ["evil.example", "evil.example:80", "127.0.0.1", "localhost:1"])
def test_a_foreign_host_is_refused(client: Any, host: str) -> None:
    """A name that was made to lead here (DNS rebinding) is not the desk's address."""
    assert client.get("/api/files", headers={"Host": host}).status_code == 403


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1"])
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_foreign_origin_is_refused(client: Any, origin: str, method: str) -> None:
    """Another page in the same browser may neither read nor write."""
    answer = client.request(method, "/api/examples", headers={"Origin": origin})
    assert answer.status_code == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_another_site_is_refused(client: Any, site: str) -> None:
    """``Sec-Fetch-Site`` of another site, or of another port of this machine, is refused."""
    assert client.get("/api/files", headers={"Sec-Fetch-Site": site}).status_code == 403


def test_a_write_must_say_where_it_comes_from(client: Any) -> None:
    """A request that changes anything needs Origin or Sec-Fetch-Site of the desk itself."""
    del client.headers["Origin"]
    assert client.post("/api/examples").status_code == 403
    same = {"Sec-Fetch-Site": "same-origin"}
    assert client.post("/api/examples", headers=same).status_code == 200


def test_the_policy_allows_no_inline_script_and_no_network(client: Any) -> None:
    """Every answer carries a strict policy; the page has no inline script, style or handler."""
    answer = client.get("/")
    policy = answer.headers["content-security-policy"]
    assert "default-src 'none'" in policy and "unsafe" not in policy and "*" not in policy
    assert "script-src 'self';" in policy and "frame-ancestors 'none'" in policy
    assert "style=" not in answer.text and "<style" not in answer.text
    assert not re.search(r"<[^>]* on\w+=", answer.text)
    assert client.get("/nowhere").headers["content-security-policy"] == policy


@pytest.mark.parametrize(
    "name",
    [
        "../secret.chart",
        "/etc/passwd",
        "a/../../secret.chart",
        ".hidden.chart",
        "notes.txt",
        "link.chart",
        "out/secret.chart",
        "a\\b.chart",
        "nul\0.chart",
        "",
        "x" * 300 + ".chart",
    ],
)
def test_paths_stay_inside_the_folder(client: Any, served: Served, name: str) -> None:
    """Nothing outside the folder is read or written, through dots, links or odd names."""
    outside = served.folder.parent / "secret.chart"
    outside.write_text("title: Secret\n")
    served.path("link.chart").symlink_to(outside)
    served.path("out").symlink_to(served.folder.parent)
    assert client.get("/api/file", params={"name": name}).status_code == 422
    request = {"name": name, "text": "title: X\n", "version": "", "window": "w"}
    assert client.post("/api/save", json=request).status_code in (400, 422)
    assert outside.read_text() == "title: Secret\n"
    listed = {one["name"] for one in client.get("/api/files").json()["files"]}
    assert listed == {"lantern-road.chart"}


@pytest.mark.parametrize(
    "path", ["/page/..%2f..%2fcompile.py", "/page/../routes.py", "/page/old/main.js", "/fonts/../x"]
)
def test_only_the_page_is_served(served: Served, path: str) -> None:
    """The program's own files are not served, however the path is written."""
    connection = http.client.HTTPConnection(served.host, timeout=5)
    port = served.host.split(":")[1]
    connection.request("GET", path, headers={"Cookie": f"desk-{port}={served.key}"})
    assert connection.getresponse().status == 404


def test_bodies_over_the_limit_are_refused(
    client: Any, served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A body that says it is too large is refused unread, one that does not say so when it is."""
    monkeypatch.setattr(guard, "LARGEST_BODY", 5000)
    large = json.dumps({"text": "x" * 6000}).encode()
    assert client.post("/api/tidy", content=large).status_code == 413
    in_parts = (large[i : i + 1000] for i in range(0, len(large), 1000))
    assert client.post("/api/tidy", content=in_parts).status_code == 413
    assert client.post("/api/tidy", json={"text": "title: X\n"}).status_code == 200


@pytest.mark.parametrize(
    "body",
    [b"", b"[]", b"{}", b'{"text": 3}', b'{"text": "", "more": 1}', b"\xff\xfe", b"[" * 9999],
)
def test_what_is_no_request_is_refused(client: Any, body: bytes) -> None:
    """Anything but the fields that an address takes is refused in a line, never a traceback."""
    answer = client.post("/api/pages", content=body)
    assert answer.status_code == 400 and answer.json()["reason"]


def test_a_desk_reads_through_no_device(tmp_path: Path) -> None:
    """A folder is listed without opening what is no file."""
    os.mkfifo(tmp_path / "pipe.chart")
    (tmp_path / "a.chart").write_text("title: A # comment\nwriter: B\n")
    folder = Folder(tmp_path)
    assert [(e.name, e.title, e.writer) for e in folder.entries()] == [("a.chart", "A", "B")]
    with pytest.raises(Unusable):
        folder.read("pipe.chart")


@pytest.mark.parametrize(
    ("text", "listed"),
    [
        ('name = "N"\n[[songs]]\nchart = "a.chart"\n', True),
        ('# no name yet\n[[players]]\nname = "A"\n', True),
        ('songs = [{ chart = "a.chart" }]\n', True),
        ("", True),
        ('[project]\nname = "a program"\n', False),
        ("[tool.x]\nplayers_of = 3\n", False),
    ],
)
def test_other_settings_are_no_night(tmp_path: Path, text: str, listed: bool) -> None:
    """A TOML file that does not begin as a set is a program's: it is not listed as a night."""
    (tmp_path / "x.toml").write_text(text)
    assert bool(Folder(tmp_path).entries()) == listed
