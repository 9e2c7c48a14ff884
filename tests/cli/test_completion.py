"""The completions that a shell is offered."""

import os
import subprocess
import sys

import pytest

CODE = "import sys; sys.argv[0] = 'chartkit'\nfrom chartkit.cli.start import run\nrun()"


def offered(words: str) -> list[str]:
    """The completions that bash is offered for the last word of a call."""
    done = subprocess.run(
        [sys.executable, "-c", CODE],
        capture_output=True,
        text=True,
        check=True,
        env={
            **os.environ,
            "_CHARTKIT_COMPLETE": "bash_complete",
            "COMP_WORDS": words,
            "COMP_CWORD": str(len(words.split(" ")) - 1),
        },
    )
    assert done.stderr == ""
    return [line.partition(",")[2] for line in done.stdout.splitlines()]


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("chartkit en", ["engrave"]),
        ("chartkit engrave --sh", ["--show"]),
        ("chartkit engrave a.chart --paper t", ["tablet"]),
        ("chartkit engrave a.chart --capo nonsense --pa", ["--paper"]),
        ("chartkit plan night.toml --order ", ["set", "free"]),
    ],
)
def test_commands_options_and_choices_are_offered(words: str, wanted: list[str]) -> None:
    """Commands, options and the choices of options complete, also after a value that is wrong."""
    assert offered(words) == wanted
