"""The house in figures: ``python -m tests.benchmarks.house``.

Files and lines of every room, the longest functions, the functions with most parameters, and words
that say nothing about what they name.
"""

import ast
import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "chartkit"
RIDDLES = ("found", "told")
_MANY = 4


def _length(function: ast.FunctionDef) -> int:
    return (function.end_lineno or function.lineno) - function.lineno + 1


def _parameters(function: ast.FunctionDef) -> int:
    return len(function.args.args) + len(function.args.kwonlyargs)


def main() -> None:
    """Prints the figures."""
    files, lines, words = Counter[str](), Counter[str](), Counter[str]()
    functions: list[tuple[str, ast.FunctionDef]] = []
    for path in sorted(PACKAGE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        room = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
        files[room] += 1
        lines[room] += text.count("\n")
        words.update(word for word in re.findall(r"\w+", text) if word in RIDDLES)
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.FunctionDef):
                functions.append((f"{path.relative_to(ROOT)}: {node.name}", node))
    for room in sorted(files):
        print(f"{room:<16}{files[room]:>5} files {lines[room]:>7,} lines")
    lengths = sorted(_length(node) for _, node in functions)
    print(
        f"{sum(files.values())} files, {sum(lines.values()):,} lines, {len(functions):,} functions"
    )
    print(f"lines a function: {sum(lengths) / len(lengths):.1f} on average")
    print("longest:", *_most(functions, _length), sep="\n  ")
    print("most parameters:", *_most(functions, _parameters), sep="\n  ")
    print("words:", ", ".join(f"{word} {words[word]}" for word in RIDDLES))


def _most(
    functions: list[tuple[str, ast.FunctionDef]], measure: Callable[[ast.FunctionDef], int]
) -> list[str]:
    ordered = sorted(functions, key=lambda one: measure(one[1]), reverse=True)
    return [f"{measure(node):>4}  {name}" for name, node in ordered[:_MANY]]


if __name__ == "__main__":
    main()
