"""Start-up: whole processes against processes that only import, or hold a bare Typer command."""

import sys
from pathlib import Path

from tests.benchmarks.measure import Row, as_installed, process_cpu_seconds

SONG = Path(__file__).resolve().parents[2] / "examples" / "lantern-road.chart"
_BARE_COMMAND = """
import typer
from typing import Annotated
app = typer.Typer(rich_markup_mode=None, pretty_exceptions_enable=False)
@app.callback()
def whole(version: Annotated[bool, typer.Option("--version")] = False): pass
@app.command()
def check(files: Annotated[list[str], typer.Argument()],
          as_json: Annotated[bool, typer.Option("--json")] = False): pass
app(["check", "song"])
"""


def _ours(*arguments: str) -> list[str]:
    return [sys.executable, "-c", "from chartkit.cli.start import run; run()", *arguments]


def start_rows() -> list[Row]:
    """The version against importing Typer; check against a bare command, and without its cache."""
    check = _ours("check", str(SONG))
    version = process_cpu_seconds(_ours("--version"))
    typer = process_cpu_seconds([sys.executable, "-c", "import typer"])
    command = process_cpu_seconds([sys.executable, "-c", _BARE_COMMAND])
    warm = process_cpu_seconds(check)
    homeless = {k: v for k, v in as_installed().items() if k not in ("HOME", "XDG_CACHE_HOME")}
    cold = process_cpu_seconds(["env", "-i", *(f"{k}={v}" for k, v in homeless.items()), *check])
    return [
        ("start: chartkit --version / a process that imports typer", version / typer, "≤ 1.6"),
        ("start: check of one song / a bare command of Typer's", warm / command, "≤ 1.6"),
        ("start: check with kept parse tables / without", warm / cold, "< 1"),
    ]
