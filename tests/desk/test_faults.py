"""The server ended while somebody types: what was typed is kept, nothing is torn."""

import asyncio
import json
import os
import random
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from chartkit.desk.serve import _listening, loopback_socket, usual_port
from tests.desk.conftest import SONG, VIEWPORT, Served
from tests.desk.conftest import opened as opened_beside

KILLS = int(os.environ.get("CHARTKIT_KILLS", "1"))
"""How often the server is killed."""
TYPED = "low tide in the harbour and a light that nobody lit, "


class Process:
    """A desk in a process of its own."""

    def __init__(self, folder: Path, cache: Path) -> None:
        code = "from chartkit.cli.start import run; run()"
        self.process = subprocess.Popen(
            [sys.executable, "-c", code, "desk", str(folder), "--no-browser"],
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "XDG_CACHE_HOME": str(cache)},
        )
        assert self.process.stderr is not None
        address = re.search(r"http://\S+", self.process.stderr.readline())
        assert address is not None
        self.address = address[0]

    def end(self, number: int = signal.SIGKILL) -> None:
        """Ends it at once, or as Ctrl-C does."""
        self.process.send_signal(number)
        self.process.wait(10)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with one song."""
    place = tmp_path / "songs"
    place.mkdir()
    (place / "song.chart").write_text(SONG)
    return place


@pytest.fixture
def context(desktop: Any) -> Iterator[Any]:
    """The browser's context, its window as if new, and emptied at the end."""
    for one in desktop.pages:
        one.emulate_media(media="screen", color_scheme="light")
        one.set_viewport_size(VIEWPORT)
    yield desktop
    for one in desktop.pages[1:]:
        one.close()
    desktop.pages[0].goto("about:blank")  # the next desk has another address


def opened(context: Any, address: str) -> Any:
    """The desk, ready, in the first window."""
    page = context.pages[0] if context.pages else context.new_page()
    page.goto(address)
    page.wait_for_selector("html[data-ready]")
    return page


@pytest.mark.parametrize("kill", range(KILLS))
def test_killed_while_typing(context: Any, folder: Path, tmp_path: Path, kill: int) -> None:
    """Killed at any moment, the file is whole, what is kept is a text as it was typed, and the next
    start has every letter, those that came too late for a draft from the browser."""
    cache = tmp_path / "cache"
    desk = Process(folder, cache)
    page = opened(context, desk.address)
    page.evaluate(
        """() => {
            window.typed = [];
            const area = document.getElementById("text");
            area.addEventListener("input", () => typed.push(area.value));
            area.focus(); area.setSelectionRange(7, 7);
        }"""
    )
    rest = random.Random(kill).uniform(0.7, 2.5)
    until = time.monotonic() + rest
    letters = 0
    while time.monotonic() < until:
        page.keyboard.type(TYPED[letters % len(TYPED)])
        letters += 1
    page.keyboard.press("Control+s") if kill % 2 == 0 else None
    desk.end()
    typed = [SONG, *page.evaluate("typed")]
    assert (folder / "song.chart").read_text() in typed
    for draft in (cache / "chartkit" / "drafts").glob("*.json"):
        assert json.loads(draft.read_bytes())["text"] in typed
    again = Process(folder, cache)
    try:
        after = opened(context, again.address)
        assert after.input_value("#text") == typed[-1]
    finally:
        again.end()


def test_a_draft_waits_for_no_timer(page: Any) -> None:
    """A busy machine's timers come late: the first key sends its draft itself.  While that is on
    its way no other is, so that an older text never comes last; the newest follows the answer."""
    sent: list[Any] = []
    page.route("**/api/draft", lambda route: sent.append(route))
    page.evaluate("window.setTimeout = () => 0")
    page.locator("#text").press("Control+Home")
    with page.expect_request("**/api/draft") as first:
        page.keyboard.type("#")
    page.keyboard.type(" low tide\n")
    page.wait_for_timeout(250)  # longer than drafts are apart
    assert len(sent) == 1
    with page.expect_request("**/api/draft") as second:
        sent[0].continue_()
    assert first.value.post_data_json["text"] == "#" + SONG
    assert second.value.post_data_json["text"] == "# low tide\n" + SONG


def test_what_the_desk_did_not_keep_is_in_the_browser(page: Any, served: Served) -> None:
    """Words typed as the desk ended stand in the next window, and are kept once it is there again;
    the window in which they were typed finds it again by itself."""
    page.route("**/api/draft", lambda route: route.abort())
    page.locator("#text").press("Control+Home")
    page.keyboard.type("# low tide\n")
    expect(page.locator("#state")).to_contain_text("the desk has ended")
    other = opened_beside(page.context, served)
    expect(other.locator("#text")).to_have_value("# low tide\n" + SONG)
    expect(other.locator("#state")).to_contain_text("a copy is kept")
    page.unroute_all()
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    other.keyboard.press("Control+s")
    expect(other.locator("#state")).to_contain_text("· saved")
    assert other.evaluate("localStorage.getItem('last-typed')") is None


def test_words_taken_back_after_a_save_are_kept_again(page: Any) -> None:
    """A text that had a draft, and comes back after another was saved, gets its draft anew."""
    page.locator("#text").press("Control+Home")
    page.keyboard.type("#")
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    page.keyboard.type(" ")
    page.keyboard.press("Control+s")
    expect(page.locator("#state")).to_contain_text("· saved")
    with page.expect_request("**/api/draft") as kept:
        page.keyboard.press("Backspace")
    assert kept.value.post_data_json["text"] == "#" + SONG


def test_a_save_that_fails_behind_another_song_is_told(page: Any, served: Served) -> None:
    """A song that is left while it is being saved, and is not saved, is named; its words are kept
    and stand there when it is opened again."""
    served.path("other.chart").write_text("title: Other\nkey: E\n\n== A\n| E | A |\n")
    held: list[Any] = []
    page.route("**/api/save", lambda route: held.append(route))
    page.locator("#text").press("Control+Home")
    page.keyboard.type("# low tide\n")
    with page.expect_request("**/api/save"):
        page.keyboard.press("Control+s")
    page.click("#title")
    page.locator("#songs").get_by_text("other.chart").click()
    expect(page.locator("#title")).to_have_text("Other")
    held[0].fulfill(status=422, json={"reason": "no room is left", "hint": ""})
    expect(page.locator("#mistakes")).to_have_text(
        "lantern-road.chart is not saved: no room is left"
    )
    page.click("#title")
    page.locator("#songs").get_by_text("lantern-road.chart").click()
    expect(page.locator("#text")).to_have_value("# low tide\n" + SONG)


def test_words_that_are_taken_back_are_no_draft(page: Any, served: Served) -> None:
    """Where the text is again what the file says, no draft of other words comes back later."""
    drafts = served.folder.parent / "cache" / "chartkit" / "drafts"
    page.locator("#text").press("Control+Home")
    page.keyboard.type("#")
    expect(page.locator("#state")).to_contain_text("a copy is kept")
    assert list(drafts.iterdir())
    with page.expect_response("**/api/undraft"):
        page.keyboard.press("Backspace")
    expect(page.locator("#state")).to_have_text("lantern-road.chart · saved")
    assert not list(drafts.iterdir())
    other = opened_beside(page.context, served)
    expect(other.locator("#text")).to_have_value(SONG)


def test_a_folder_has_its_address(tmp_path: Path) -> None:
    """A folder's desk has the same port at every start, so that the browser finds again what it
    keeps for it; where it is taken, as by a second desk, any free one (RFC 6335, section 6: the
    dynamic ports)."""
    with _listening(tmp_path, 0) as first, _listening(tmp_path, 0) as second:
        ports = [one.getsockname()[1] for one in (first, second)]
    with _listening(tmp_path, 0) as again:
        assert again.getsockname()[1] == ports[0] == usual_port(tmp_path) >= 49152
    assert ports[1] != ports[0]


def test_an_answer_is_not_held_back() -> None:
    """Connections send what is written at once (TCP_NODELAY, RFC 9293 3.7.4): with head and body in
    two writes, each answer would else wait for a delayed acknowledgement."""

    async def accepted() -> int:
        seen = asyncio.get_running_loop().create_future()

        def take(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            connection = writer.get_extra_info("socket")
            seen.set_result(connection.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        with loopback_socket() as listening:
            listening.bind(("127.0.0.1", 0))
            server = await asyncio.start_server(take, sock=listening)
            async with server:
                _, writer = await asyncio.open_connection(*listening.getsockname())
                value = await seen
                writer.close()
                return int(value)

    with ThreadPoolExecutor(1) as apart:  # the browser's loop runs in this thread
        assert apart.submit(asyncio.run, accepted()).result() != 0


def listening_at(port: int) -> list[str]:
    """The addresses at which somebody listens on a port, as Linux writes them in hexadecimal."""
    tables = [Path(f"/proc/net/{name}") for name in ("tcp", "tcp6")]
    rows = [row.split() for one in tables if one.exists() for row in one.read_text().splitlines()]
    return [row[1] for row in rows if row[3] == "0A" and row[1].endswith(f":{port:04X}")]


def test_a_page_without_its_server_says_so(context: Any, folder: Path, tmp_path: Path) -> None:
    """The socket is bound to 127.0.0.1 on a free port, whatever other addresses there are.  With
    the server gone the page says so and keeps the text; Ctrl-C ends it cleanly."""
    desk = Process(folder, tmp_path / "cache")
    port = int(re.search(r":(\d+)/", desk.address)[1])  # type: ignore[index]
    if Path("/proc/net/tcp").exists():  # where Linux can be asked who listens
        assert listening_at(port) == [f"0100007F:{port:04X}"]
    page = opened(context, desk.address)
    desk.end(signal.SIGINT)
    assert desk.process.returncode in (0, 130)
    page.locator("#text").focus()
    page.keyboard.type("More ")
    expect(page.locator("#state")).to_contain_text(
        "the desk has ended; start it again as you did before"
    )
    assert page.input_value("#text").startswith("More title:")
