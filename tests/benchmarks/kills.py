"""How much typing is lost when the desk is killed: ``python -m tests.benchmarks.kills [100]``.

The server is killed at random moments while somebody types, half of the times while a file is being
saved too.  The next start opens what was kept, on the disk or in the browser, and is the one to be
killed next.  What is lost is the time from the first letter that it does not show to the kill.
"""

import argparse
import json
import statistics
import sys
import tempfile
import time
from pathlib import Path
from random import Random
from typing import Any

from playwright.sync_api import sync_playwright

from tests.benchmarks.measure import as_table
from tests.desk.conftest import SONG, chromium
from tests.desk.test_faults import TYPED, Process, opened

MOST_LOST_SECONDS = 1.0

# Notes what stands in the text, and when.
_LOG = """() => {
  const area = document.getElementById("text");
  window.log = [[0, area.value]];
  area.addEventListener("input", () => log.push([Date.now(), area.value]));
  area.focus(); area.setSelectionRange(7, 7);
}"""


def killed(page: Any, desk: Process, random: Random) -> tuple[float, list[list[Any]]]:
    """Types for a while and kills the desk: the moment, and what was typed until then."""
    page.evaluate(_LOG)
    until = time.monotonic() + random.uniform(0.3, 2.0)
    letters = 0
    while time.monotonic() < until:
        page.keyboard.type(TYPED[letters % len(TYPED)])
        letters += 1
    if random.random() < 0.5:
        page.keyboard.press("Control+s")
    desk.end()
    moment = time.time() * 1000
    return moment, page.evaluate("log")


def kept(folder: Path, cache: Path) -> list[str]:
    """The texts that outlived the desk: the file's and those of drafts.  Each must be whole."""
    drafts = sorted((cache / "chartkit" / "drafts").glob("*.json"))
    texts = [json.loads(one.read_bytes())["text"] for one in drafts]
    return [(folder / "song.chart").read_text(), *texts]


def lost(moment: float, log: list[list[Any]], shown: str) -> float:
    """Seconds of typing that the next start does not show."""
    newest = [text for _, text in log].index(shown)
    return 0.0 if newest + 1 == len(log) else (moment - log[newest + 1][0]) / 1000


def main() -> None:
    """Prints the table."""
    options = argparse.ArgumentParser()
    options.add_argument("kills", type=int, nargs="?", default=100)
    options.add_argument("--seed", type=int, default=1)
    asked = options.parse_args()
    random, losses, torn, other, asks = Random(asked.seed), [], 0, 0, 0
    ever, moment = {SONG}, 0.0
    log: list[list[Any]] = [[0, SONG]]
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        folder, cache = Path(name, "songs"), Path(name, "cache")
        folder.mkdir()
        (folder / "song.chart").write_text(SONG)
        browser = playwright.chromium.launch(executable_path=chromium(), args=["--no-sandbox"])
        context = browser.new_context()
        for number in range(asked.kills + 1):
            desk = Process(folder, cache)
            page = opened(context, desk.address)
            shown = page.input_value("#text")
            if shown not in [text for _, text in log]:
                other += 1
            elif number:
                losses.append(lost(moment, log, shown))
                print(f"kill {number}: {losses[-1]:.2f} s lost", file=sys.stderr)
            if page.locator("#both").is_visible():
                asks += 1
                page.keyboard.press("Escape")
            moment, log = killed(page, desk, random)
            assert len(log) > 1, "nothing was typed"
            ever |= {text for _, text in log}
            torn += sum(text not in ever for text in kept(folder, cache))
        browser.close()
    print(
        as_table(
            ["figure", "measured", "wanted"],
            [
                ["times the desk was killed", str(asked.kills), "100"],
                ["files or drafts torn", str(torn), "0"],
                ["starts that opened something else", str(other), "0"],
                ["starts that asked which text is right", str(asks), "0"],
                ["typing lost, s: median", f"{statistics.median(losses):.2f}", ""],
                ["typing lost, s: the most", f"{max(losses):.2f}", f"≤ {MOST_LOST_SECONDS:g}"],
                [
                    "times that more was lost",
                    str(sum(one > MOST_LOST_SECONDS for one in losses)),
                    "0",
                ],
            ],
        )
    )


if __name__ == "__main__":
    main()
