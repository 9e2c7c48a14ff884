"""Tables of learnt weights: a line for each weight, with the names of all evidence that has it.

The weights are logarithms of odds.  Source: learnt from our own invented sheets by the modules in
``tests/interchange`` that each table names.

No library: the program only adds up weights, and learning them is counting.
"""

from functools import cache
from pathlib import Path

ALWAYS = "<>"
"""Stands for what every line has."""


@cache
def weights_in(table: Path) -> dict[str, float]:
    """The weights of a table by the names of their evidence, that of every line under ""."""
    text = table.read_text(encoding="utf-8")
    weights: dict[str, float] = {}
    for line in text.splitlines():
        if not line.startswith("#"):
            weight, *names = line.split(" ")
            weights.update(dict.fromkeys(names, float(weight)))
    weights[""] = weights.pop(ALWAYS, 0.0)
    return weights
