"""The house keeps its measure: files and functions that can be read at one sitting."""

import ast
import builtins
import re
from collections import Counter
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


def assigned(tree: ast.Module) -> Iterator[str]:
    """The names that a module gives to constants, functions and classes."""
    for node in tree.body:
        if isinstance(node, ast.Assign):
            yield from (target.id for target in node.targets if isinstance(target, ast.Name))
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            yield node.target.id
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            yield node.name


def unused(text: str) -> list[str]:
    """The private names of a module that only the line that makes them mentions."""
    return [
        name
        for name in assigned(ast.parse(text))
        if re.match("_(?!_)", name) and len(re.findall(rf"\b{name}\b", text)) == 1
    ]


def test_private_names_are_used() -> None:
    """No module keeps a constant, a function or a class of its own that nothing uses."""
    assert unused("_A = 1\n_B = _A\n") == ["_B"]
    kept = {path.name: unused(path.read_text(encoding="utf-8")) for path in PACKAGE.rglob("*.py")}
    assert {name: names for name, names in kept.items() if names} == {}


def said_to_be_raised(docstring: str) -> list[str]:
    """The errors that a docstring names after "Raises"."""
    sentences = re.findall(r"\bRaises ([^.]*)", docstring)
    return [
        name
        for sentence in sentences
        for name in re.findall(r"(?:^|\b(?:and|or) )([A-Z][A-Za-z]{2,})", sentence)
    ]


def test_errors_in_docstrings_exist() -> None:
    """What a docstring says is raised is an error of Python's or a class of the package."""
    said = "Raises FileChanged where it is\nanother, and Unusable."
    assert said_to_be_raised(said) == ["FileChanged", "Unusable"]
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in PACKAGE.rglob("*.py")]
    nodes = [node for tree in trees for node in ast.walk(tree)]
    known = {node.name for node in nodes if isinstance(node, ast.ClassDef)} | set(dir(builtins))
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
    texts = (ast.get_docstring(node) or "" for node in nodes if isinstance(node, documented))
    named = [name for text in texts for name in said_to_be_raised(" ".join(text.split()))]
    assert len(named) > 100
    assert sorted(set(named) - known) == []


def test_no_module_gives_a_name_twice() -> None:
    """No pattern or table at the top of a module is hidden by a later one of its name."""
    twice = {
        path.relative_to(PACKAGE).as_posix(): [name for name, count in names.items() if count > 1]
        for path in PACKAGE.rglob("*.py")
        if (names := Counter(assigned(ast.parse(path.read_text(encoding="utf-8")))))
    }
    assert {path: names for path, names in twice.items() if names} == {}
