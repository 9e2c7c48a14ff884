"""Figures of the desk: ``python -m tests.benchmarks.desk``; ``--renders 10000`` for the long run.

Times are taken in the browser itself, from the key pressed to the frame painted after the page
has changed, with a real server in another process.  What another machine may measure stands as a
ratio to the same work called directly in this process, taken in the same run.
"""

import argparse
import json
import os
import re
import shutil
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import httpx
from playwright.sync_api import sync_playwright

from chartkit.desk.pages import rendered_pages
from chartkit.desk.requests import PageRequest
from tests.benchmarks.measure import as_table
from tests.desk.conftest import ROOT, chromium

KEYS, SWEEPS = 30, 5
LONG = (
    "title: Long\nkey: C\n\n== A\n" + "| C | F | G | Am |\n: la la la | la da | hum | ho |\n" * 75
)
"""300 bars with words."""
MANY = 1000

# Presses one key's worth of text and resolves when the page that follows it has been painted.
_KEY = """(typed) => new Promise((done) => {
  const area = document.getElementById("text"), pane = document.getElementById("pages");
  const start = performance.now();
  const seen = new MutationObserver(() => {
    const titles = [...pane.querySelectorAll("[data-role=title]")];
    if (!titles.some((one) => one.textContent.includes(typed))) return;
    seen.disconnect();
    requestAnimationFrame(() => setTimeout(() => done(performance.now() - start)));
  });
  seen.observe(pane, { childList: true, subtree: true });
  area.setSelectionRange(7, area.value.indexOf("\\n"));
  document.execCommand("insertText", false, typed);
})"""

# Notes when a page has been painted while something is dragged.
_COUNT = """() => {
  window.painted = [];
  const paintedNow = () => painted.push(performance.now());
  const note = () => requestAnimationFrame(() => setTimeout(paintedNow));
  const all = { childList: true, subtree: true };
  new MutationObserver(note).observe(document.getElementById("pages"), all);
}"""


class Server:
    """A desk in a process of its own."""

    def __init__(self, folder: Path) -> None:
        code = "from chartkit.cli.start import run; run()"
        command = [sys.executable, "-c", code, "desk", str(folder), "--no-browser"]
        self.process = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)
        assert self.process.stderr is not None
        address = re.search(r"http://\S+", self.process.stderr.readline())
        assert address is not None
        self.address = address[0]
        httpx.get(self.address.split("?")[0], timeout=60)  # answered when the rooms are loaded

    @property
    def megabytes(self) -> float:
        """The resident size now."""
        status = Path(f"/proc/{self.process.pid}/status").read_text()
        return int(re.search(r"VmRSS:\s+(\d+)", status)[1]) / 1024  # type: ignore[index]

    def end(self) -> None:
        """Ends it as Ctrl-C does."""
        self.process.send_signal(signal.SIGINT)
        self.process.wait(10)


def opened(browser: Any, address: str, song: str = "") -> Any:
    """The desk with a song open."""
    page = browser.new_context(viewport={"width": 1440, "height": 900}).new_page()
    page.goto(address)
    page.wait_for_selector("html[data-ready]")
    if song:
        page.goto(address.split("?")[0] + f"#{song}")
        page.reload()
        page.wait_for_selector("#neck .place", timeout=30000)
    return page


def typing(page: Any, text: str) -> tuple[float, float]:
    """Median milliseconds from key to paint, and of the same work called directly."""
    painted, direct = [], []
    choices = rendered_pages(PageRequest(text=text))["choices"]
    for number in range(KEYS):
        title = f"Key {number} pressed"
        painted.append(page.evaluate(_KEY, title))
        page.wait_for_timeout(30)
        typed = re.sub(r"title: .*", f"title: {title}", text, count=1)
        request = PageRequest.model_validate_json(json.dumps({"text": typed, "choices": choices}))
        start = time.perf_counter()
        rendered_pages(request)
        direct.append((time.perf_counter() - start) * 1000)
    return statistics.median(painted), statistics.median(direct)


_FRETS = """() => [...document.querySelectorAll("#neck .place")]
  .filter(one => !one.textContent.includes("−")).map(one => one.getBoundingClientRect().toJSON())"""


def dragging(page: Any) -> tuple[float, bool]:
    """Pages painted a second while the capo is swept over ten frets and back, and whether the
    last one is of where it was let go.

    The hand moves from fret to fret faster than pages can follow: a slow one would be measured
    in place of the desk.
    """
    page.evaluate(_COUNT)
    knob = page.locator("#neck .capo").bounding_box()
    # All at once: the neck may be drawn anew between one question and the next.
    frets = page.evaluate(_FRETS)[1:11]
    y = knob["y"] + 30
    page.mouse.move(knob["x"] + knob["width"] / 2, y)
    page.mouse.down()
    start = page.evaluate("performance.now()")
    for _ in range(SWEEPS):
        for fret in (*frets, *reversed(frets)):
            page.mouse.move(fret["x"] + fret["width"] / 2, y)
    end = page.evaluate("performance.now()")
    page.mouse.move(frets[-1]["x"] + frets[-1]["width"] / 2, y)
    page.mouse.up()
    page.wait_for_timeout(800)
    painted = [when for when in page.evaluate("painted") if when <= end]
    capo = page.locator("#neck .capo").text_content()
    shown = page.locator("#pages [data-role=capo]").text_content()
    return len(painted) / ((end - start) / 1000), shown == f"Capo {capo}"


def first_load(browser: Any, address: str) -> tuple[float, float]:
    """Megabytes sent, and seconds until the first page of music stands there."""
    page = browser.new_context().new_page()
    client = page.context.new_cdp_session(page)
    client.send("Network.enable")
    sizes: list[float] = []
    client.on("Network.loadingFinished", lambda event: sizes.append(event["encodedDataLength"]))
    start = time.perf_counter()
    page.goto(address)
    page.wait_for_selector("#pages svg")
    seconds = time.perf_counter() - start
    page.wait_for_timeout(500)
    return sum(sizes) / 1e6, seconds


def folder_of_many(browser: Any, folder: Path) -> tuple[float, float]:
    """Seconds until a folder of 1,000 charts is open, and milliseconds to find one in it."""
    text = (ROOT / "examples" / "lantern-road.chart").read_text()
    for number in range(MANY):
        made = text.replace("Lantern Road", f"Lantern Road {number}")
        (folder / f"{number}.chart").write_text(made)
    server = Server(folder)
    try:
        start = time.perf_counter()
        page = opened(browser, server.address)
        page.wait_for_selector("#pages svg")
        seconds = time.perf_counter() - start
        page.keyboard.press("Control+o")
        start = time.perf_counter()
        page.fill("#songs input", "road 777")
        page.wait_for_function("document.querySelectorAll('#songs .what').length === 1")
        return seconds, (time.perf_counter() - start) * 1000
    finally:
        server.end()


def soak(server: Server, renders: int, text: str) -> list[tuple[int, float]]:
    """Resident megabytes after a tenth, half and all of so many pages, as somebody types."""
    sizes = []
    choices = None
    with httpx.Client(base_url=server.address.split("?")[0], timeout=60) as client:
        client.get(server.address)
        client.headers["Origin"] = server.address.split("/?")[0]
        for number in range(1, renders + 1):
            typed = text.replace("title: ", f"title: {number} ", 1)
            request = {"text": typed, "capo": number % 8, "choices": choices}
            choices = client.post("/api/pages", json=request).raise_for_status().json()["choices"]
            if number in (renders // 10, renders // 2, renders):
                sizes.append((number, server.megabytes))
    return sizes


def main() -> None:
    """Prints the table."""
    options = argparse.ArgumentParser()
    options.add_argument("--renders", type=int, default=500)
    renders = options.parse_args().renders
    examples = sorted((ROOT / "examples").glob("*.chart"), key=lambda path: -path.stat().st_size)
    longest = examples[0]
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        os.environ["XDG_CACHE_HOME"] = f"{name}/cache"
        folder, many = Path(name, "songs"), Path(name, "many")
        folder.mkdir()
        many.mkdir()
        shutil.copy(longest, folder)
        (folder / "long.chart").write_text(LONG)
        browser = playwright.chromium.launch(executable_path=chromium(), args=["--no-sandbox"])
        server = Server(folder)
        try:
            sent, first = first_load(browser, server.address)
            page = opened(browser, server.address, longest.name)
            painted, direct = typing(page, longest.read_text())
            rate, fresh = dragging(page)
            slow, _ = typing(opened(browser, server.address, "long.chart"), LONG)
            size = server.megabytes
        finally:
            server.end()
        server = Server(folder)
        try:
            sizes = soak(server, renders, longest.read_text())
        finally:
            server.end()
        opens, finds = folder_of_many(browser, many)
        browser.close()
    rows = [
        [f"key pressed → page painted, {longest.stem}, ms", f"{painted:.0f}", "≤ 60"],
        ["the same / the work called directly", f"{painted / direct:.2f}", "≤ 3"],
        ["capo dragged, pages painted a second", f"{rate:.0f}", "≥ 15"],
        ["the last page is of where it was let go", "yes" if fresh else "no", "yes"],
        ["key pressed → page painted, 300 bars, ms", f"{slow:.0f}", "≤ 250"],
        ["first load, MB", f"{sent:.2f}", "≤ 1.5"],
        ["first page of music, s", f"{first:.2f}", "≤ 1"],
        ["a folder of 1,000 charts open, s", f"{opens:.2f}", "≤ 1"],
        ["one of them found, ms", f"{finds:.0f}", "as you type"],
        *([f"memory of the server after {n:,} pages, MB", f"{mb:.0f}", "flat"] for n, mb in sizes),
        ["memory of the server, MB", f"{size:.0f}", ""],
    ]
    print(as_table(["figure", "measured", "wanted"], rows))


if __name__ == "__main__":
    main()
