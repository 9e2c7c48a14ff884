"""Where the time goes: the share of each room and library in some work."""

import cProfile
import pstats
import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import chartkit
from tests.benchmarks.measure import as_table

_HERE = str(Path(chartkit.__file__).parent)
_LIBRARY = re.compile(r"site-packages/(\w+)")


def _home(place: str) -> str | None:
    """The room or library of a file; None for what is built in."""
    if place.startswith(_HERE):
        return f"chartkit {Path(place).relative_to(_HERE).parts[0].removesuffix('.py')}"
    match = _LIBRARY.search(place)
    return match[1] if match else None


def shares(work: Callable[[], object], runs: int = 20) -> dict[str, float]:
    """The share of each in the work; built-in functions and Python's own library count to
    those that called them last."""
    work()
    profile = cProfile.Profile()
    for _ in range(runs):
        profile.runcall(work)
    seconds_by_home: Counter[str] = Counter()
    entries = pstats.Stats(profile).stats.items()  # type: ignore[attr-defined]
    for (place, *_), (_, _, own, _, callers) in entries:
        home = _home(place)
        if home is not None:
            seconds_by_home[home] += own
            continue
        for (caller, *_), (*_, seconds, _) in callers.items():
            seconds_by_home[_home(caller) or "Python"] += seconds
    total = sum(seconds_by_home.values())
    return {name: value / total for name, value in seconds_by_home.most_common()}


def profile_table(title: str, work: Callable[[], object]) -> str:
    """The shares as a table, the largest first, those under a fiftieth left out."""
    rows = [[name, f"{share:.0%}"] for name, share in shares(work).items() if share >= 0.02]
    return as_table([title, "share"], rows)
