"""Settings for every test."""

import atexit
import gc
import os
import shutil
import sys
import tempfile
from functools import cache
from pathlib import Path

import pytest
from hypothesis import Phase, is_hypothesis_test, settings

from chartkit.cli.main import COLLECTOR

# Making a failing chart smaller takes minutes; it is readable as it is.  CHARTKIT_SHRINK=1
# asks for the smallest one.
PROMPT = (Phase.explicit, Phase.reuse, Phase.generate)
# Where changes are judged (CI=true) random charts are the same each time, so that the verdict is
# about the change; everywhere else every run tries new ones.
settings.register_profile("prompt", phases=PROMPT, derandomize=bool(os.environ.get("CI")))
if not os.environ.get("CHARTKIT_SHRINK"):
    settings.load_profile("prompt")

# What an answer depends on is set here, so that it is the same in every terminal, in none, and
# with no home: how wide tables are, where caches are kept, the language of messages.
os.environ["COLUMNS"] = "100"
os.environ["LC_ALL"] = "C.UTF-8"
os.environ.pop("NO_COLOR", None)
if not os.path.isdir(os.environ.get("HOME", "")):  # noqa: PTH112
    os.environ["HOME"] = tempfile.mkdtemp()

# What is worked out once (parse tables, voicings, pages) is kept for the whole run and shared by
# its processes: keys hold a digest of the program, so nothing stale is met.  A test about caches
# has one of its own.  Workers inherit the folder of the process that started them.
if "PYTEST_XDIST_WORKER" not in os.environ:
    os.environ["XDG_CACHE_HOME"] = tempfile.mkdtemp(prefix="chartkit-tests-")
    os.environ["CHARTKIT_TESTS_RUN"] = os.environ["XDG_CACHE_HOME"]
    atexit.register(shutil.rmtree, os.environ["XDG_CACHE_HOME"], ignore_errors=True)

# Compiled code is kept between the many processes that tests start, as it is for users, even where
# the surroundings ask for nothing to be kept: a start without it takes nearly twice as long.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# Garbage is looked for as seldom as the program looks, and never among the tests themselves.
gc.set_threshold(*COLLECTOR)


# Files that take the longest begin first, so that no worker is left with one of them at the end.
# The order changes nothing but how long the run takes; a file that is missing here only costs time.
LONGEST_FIRST = (
    "cli/test_book.py",
    "test_readme.py",
    "interchange/test_engraved_pages.py",
    "advise/part/test_part.py",
    "interchange/test_typed_ways.py",
    "robustness/test_odd_files.py",
    "syntax/test_any_text.py",
    "interchange/test_sheets.py",
    "robustness/test_streams.py",
    "robustness/test_bounded.py",
    "robustness/test_same_bytes.py",
    "layout/test_examples.py",
    "interchange/test_musicxml_round_trip.py",
    "syntax/test_print_and_parse.py",
    "interchange/test_untrusted.py",
    "interchange/test_fuzz.py",
    "interchange/test_typed_sheets.py",
    "test_incoming.py",
    "interchange/test_shared_sections.py",
    "book/test_books.py",
    "book/test_staging.py",
    "book/test_friday.py",
    "book/test_on_paper.py",
    "book/test_cluster.py",
    "robustness/test_odd_charts.py",
    "robustness/test_any_value.py",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Puts the files that take the longest, and those with a browser, before all others.

    ``CHARTKIT_THIRD`` keeps a third of the random tests alone: 0, 1 or 2 says which.
    """
    if third := os.environ.get("CHARTKIT_THIRD"):
        drawn = [item for item in items if is_hypothesis_test(getattr(item, "obj", None))]
        items[:] = drawn[int(third) :: 3]
    ranks = {Path(__file__).parent / name: at for at, name in enumerate(LONGEST_FIRST)}
    browser = Path(__file__).parent / "desk"

    @cache
    def rank(path: Path) -> int:
        return ranks.get(path, len(ranks) if browser in path.parents else len(ranks) + 1)

    items.sort(key=lambda one: rank(one.path))


def pytest_collection_finish() -> None:
    """Sets aside what stays until the end of the run."""
    gc.collect()
    gc.freeze()
