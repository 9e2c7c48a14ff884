"""The house keeps its measure: files and functions that can be read at one sitting."""

import ast
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent / "chartkit"
FILE_LINES = 400
FUNCTION_LINES = 40
LONGER: dict[str, str] = {}
"""What is longer, and why: nothing today.  Take a part out instead."""


def longer() -> Iterator[str]:
    """Every file and function of the package that is longer than it may be, with its lines."""
    for path in sorted(PACKAGE.rglob("*.py")):
        name, text = path.relative_to(PACKAGE).as_posix(), path.read_text(encoding="utf-8")
        if text.count("\n") > FILE_LINES and name not in LONGER:
            yield f"{name}: {text.count(chr(10))} lines"
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                lines = (node.end_lineno or node.lineno) - node.lineno + 1
                if lines > FUNCTION_LINES and f"{name}: {node.name}" not in LONGER:
                    yield f"{name}: {node.name}: {lines} lines"


def test_files_and_functions_keep_their_measure() -> None:
    """No file is longer than 400 lines and no function than 40, but those with a reason."""
    assert list(longer()) == []
