"""The same answer every time: nothing that is printed or written follows the hash seed."""

import json
import os
import subprocess
import sys
from pathlib import Path


def _digests(seed: int, folder: Path) -> "subprocess.Popen[bytes]":
    folder.mkdir()
    environment = {"PYTHONHASHSEED": str(seed), "XDG_CACHE_HOME": str(folder / "cache")}
    return subprocess.Popen(
        [sys.executable, "-m", "tests.robustness.every_output", str(folder)],
        env={**os.environ, **environment},
        stdout=subprocess.PIPE,
    )


def test_no_output_follows_the_hash_seed(tmp_path: Path) -> None:
    """Charts in other keys, tidied, as text, MusicXML, JSON and pages, the advice, and a book
    made by two workers are the same bytes under two seeds of Python's hashes."""
    runs = [_digests(seed, tmp_path / str(seed)) for seed in (1, 2)]
    first, second = (json.loads(run.communicate()[0]) for run in runs)
    assert len(first) > 25
    assert [name for name in first if first[name] != second[name]] == []
