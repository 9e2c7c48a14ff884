"""Draws the README's picture of the desk anew: ``python -m tests.desk.picture``."""

import secrets
import shutil
import tempfile
import threading
import time
from pathlib import Path

import uvicorn
from playwright.sync_api import sync_playwright

from chartkit.desk.routes import desk_app
from chartkit.desk.serve import loopback_socket
from tests.desk.conftest import ROOT, chromium

WIDTH, HEIGHT = 1280, 800
"""The window in the picture, in pixels."""


def main() -> None:
    """Serves the examples and takes the picture of the longest of them."""
    with tempfile.TemporaryDirectory() as name, loopback_socket() as listening:
        folder = Path(name)
        for chart in (ROOT / "examples").glob("*.chart"):
            shutil.copy(chart, folder)
        listening.bind(("127.0.0.1", 0))
        port, key = listening.getsockname()[1], secrets.token_urlsafe(8)
        server = uvicorn.Server(uvicorn.Config(desk_app(folder, key, port), log_level="critical"))
        thread = threading.Thread(target=server.run, args=([listening],))
        thread.start()
        while not server.started:
            time.sleep(0.01)
        try:
            _take(f"http://127.0.0.1:{port}/?key={key}")
        finally:
            server.should_exit = True
            thread.join(5)


def _take(address: str) -> None:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": WIDTH, "height": HEIGHT})
        page.goto(address)
        page.wait_for_selector("html[data-ready]")
        page.goto(address.split("?")[0] + "#lantern-road.chart")
        page.reload()
        page.wait_for_selector("#neck .place")
        page.evaluate(
            """() => {
                const area = document.getElementById("text"), at = area.value.indexOf("| Bbm7") + 4;
                area.focus(); area.setSelectionRange(at, at);
            }"""
        )
        page.keyboard.type("m")
        page.wait_for_selector("#shown .error")
        page.keyboard.press("Escape")
        page.wait_for_timeout(800)
        page.screenshot(path=str(ROOT / "examples" / "desk.png"))
        browser.close()


if __name__ == "__main__":
    main()
