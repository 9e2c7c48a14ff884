"""A desk that is served for a test, and a browser that opens it."""

import os
import secrets
import shutil
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import uvicorn

from chartkit.desk.routes import desk_app
from chartkit.desk.serve import loopback_socket

ROOT = Path(__file__).parents[2]
SONG = (ROOT / "examples" / "lantern-road.chart").read_text(encoding="utf-8")
VIEWPORT = {"width": 1440, "height": 900}
DEFAULT_TIMEOUT = 20_000
"""Milliseconds; long, for a busy machine is slow, and no test waits for what does not come."""
REQUIRED = "CHARTKIT_BROWSER"
"""Set to ``required`` where tests with a browser must not be skipped."""


@dataclass(frozen=True)
class Served:
    """A desk that is being served: its folder, its address, the key."""

    folder: Path
    host: str
    key: str

    @property
    def address(self) -> str:
        """The first address, with the key."""
        return f"http://{self.host}/?key={self.key}"

    def path(self, name: str) -> Path:
        """The file of that name."""
        return self.folder / name


class _Changing:
    """A server's application that is another one for each test, since a server's start and end
    take longer than most tests."""

    app: Any = None

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        await self.app(scope, receive, send)


@pytest.fixture(scope="session")
def server() -> Iterator[tuple[_Changing, int]]:
    """A server on a free port, in a thread of this process."""
    with loopback_socket() as listening:
        listening.bind(("127.0.0.1", 0))
        changing = _Changing()
        config = uvicorn.Config(
            changing, log_level="critical", ws="none", lifespan="off", timeout_graceful_shutdown=1
        )
        running = uvicorn.Server(config)
        thread = threading.Thread(target=running.run, args=([listening],))
        thread.start()
        while not running.started:
            time.sleep(0.005)
        yield changing, listening.getsockname()[1]
        running.should_exit = True
        thread.join(10)


@pytest.fixture
def served(
    server: tuple[_Changing, int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Served:
    """A desk over a folder with one song."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    folder = tmp_path / "songs"
    folder.mkdir()
    (folder / "lantern-road.chart").write_text(SONG, encoding="utf-8")
    changing, port = server
    key = secrets.token_urlsafe(8)
    changing.app = desk_app(folder, key, port)
    return Served(folder, f"127.0.0.1:{port}", key)


def chromium() -> str | None:
    """The browser of this machine, if it has one: first the one without windows of its own, which
    shows the same pages for two thirds of the processor time."""
    names = ("chromium-headless-shell", "chromium", "chromium-browser")
    return next(filter(None, map(shutil.which, names)), None)


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """One Chromium for all tests; without one they are skipped, unless they are required."""
    path = chromium()
    if path is None:
        reason = "no Chromium is installed (Debian: apt-get install chromium-headless-shell)"
        if os.environ.get(REQUIRED) == "required":
            pytest.fail(reason)
        pytest.skip(reason)
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=DEFAULT_TIMEOUT)
    with sync_playwright() as playwright:
        asked = ["--no-sandbox", "--disable-back-forward-cache"]  # no page left is kept alive
        opened = playwright.chromium.launch(executable_path=path, args=asked)
        yield opened
        opened.close()


@pytest.fixture(scope="session")
def desktop(browser: Any) -> Iterator[Any]:
    """A context of windows that keeps what it has loaded from test to test."""
    context = browser.new_context(viewport=VIEWPORT)
    yield context
    context.close()


@pytest.fixture
def page(desktop: Any, served: Served) -> Iterator[Any]:
    """The desk, open in a window; what the page cannot do fails the test."""
    yield from fresh_window(desktop, served)


@pytest.fixture
def bare(desktop: Any, served: Served) -> Iterator[Any]:
    """The desk over a folder without songs."""
    served.path("lantern-road.chart").unlink()
    yield from fresh_window(desktop, served)


def fresh_window(context: Any, served: Served) -> Iterator[Any]:
    """A window that remembers nothing; what the page cannot do fails the test.

    The first window of the context is used again and again: a new one begins a process of its own,
    which takes longer than most tests.
    """
    errors: list[str] = []
    context.clear_cookies()
    window = context.pages[0] if context.pages else context.new_page()
    window.set_viewport_size(VIEWPORT)
    window.emulate_media(color_scheme="light", media="screen")
    window.set_default_timeout(DEFAULT_TIMEOUT)
    client = context.new_cdp_session(window)
    forgets = {"origin": f"http://{served.host}", "storageTypes": "local_storage"}
    client.send("Storage.clearDataForOrigin", forgets)
    client.detach()
    listeners = {
        "pageerror": lambda error: errors.append(str(error)),
        "console": lambda message: errors.append(message.text) if _is_fault(message) else None,
    }
    for event, listener in listeners.items():
        window.on(event, listener)
    yield opened(context, served, window)
    for one in context.pages[1:]:
        one.close()
    if not window.is_closed():
        for event, listener in listeners.items():
            window.remove_listener(event, listener)
        window.unroute_all()
        leave(context, window, served.host)
    assert not errors


def leave(context: Any, window: Any, host: str) -> None:
    """Ends the desk in a window.  What stands there instead comes from the same server, which
    refuses it without the cookie: for an address of another kind, such as about:blank, the browser
    would begin a new process each time."""
    context.clear_cookies()
    window.goto(f"http://{host}/")


def opened(context: Any, served: Served, window: Any = None) -> Any:
    """A window with the desk, ready."""
    window = window or context.new_page()
    window.goto(served.address)
    window.wait_for_selector("html[data-ready]")
    return window


def _is_fault(message: Any) -> bool:
    """Whether a message of the console is of our making: refused requests are logged there too."""
    return message.type == "error" and "Failed to load resource" not in message.text


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A test that drives the browser may be run once more: on a busy machine a key can come
    between two paints, which says nothing of the desk.  A real fault fails twice.
    ``CHARTKIT_RERUNS=0`` shows what fails the first time."""
    again = int(os.environ.get("CHARTKIT_RERUNS", "1"))
    for item in items:
        if {"page", "window", "browser"} & set(getattr(item, "fixturenames", ())):
            item.add_marker(pytest.mark.flaky(reruns=again))
