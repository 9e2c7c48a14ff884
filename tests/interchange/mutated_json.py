"""Charts as JSON with one or two things changed, as a program with a mistake would write them."""

import copy
import json
from collections.abc import Iterator
from random import Random
from typing import Any

from chartkit.interchange.chart_json import chart_json
from tests.charts import DENSE, chart_of

_ODD: tuple[Any, ...] = (
    None,
    True,
    False,
    0,
    1,
    -1,
    2,
    3,
    7,
    12,
    999,
    10**6,
    10**30,
    1.5,
    1e308,
    "",
    "x",
    "Verse x2",
    "== A",
    "|",
    "%",
    "C",
    "\n",
    "a\nb",
    "\u202e",
    "\x85",
    "\ud800",
    "b5",
    "m7",
    "major",
    "coda",
    [],
    {},
    [[]],
    [0],
    "A as B",
    "#",
    '"',
    "\\",
    "_",
    "-",
    " a",
    "a ",
    "x2",
    "D.C.",
    "key: C",
    "\x00",
    "100",
    "٣",
    "100 ",
)
_ENDS = (" x2", " as A", "#", "|", "\n", "b", "'", '"', "  ", "/", "~", "!")


def seeds() -> list[Any]:
    """The first sections of a dense chart, each as a chart of its own."""
    whole = chart_json(chart_of(DENSE))
    return [{"top": whole["top"], "sections": [section]} for section in whole["sections"]]


def _paths(tree: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    names = tree if isinstance(tree, dict) else range(len(tree)) if isinstance(tree, list) else ()
    for name in names:
        if name != "span":
            yield (*path, name)
            yield from _paths(tree[name], (*path, name))


def _at(tree: Any, path: tuple[Any, ...]) -> Any:
    for name in path:
        tree = tree[name]
    return tree


def mutated(tree: Any, random: Random) -> bytes:
    """The JSON of a tree after one or two changes: a value replaced, dropped, doubled, moved, or
    a little larger or longer."""
    tree = copy.deepcopy(tree)
    for _ in range(random.choice((1, 1, 2))):
        paths = list(_paths(tree))
        if paths:
            _change(tree, paths, random)
    return json.dumps(tree).encode()


def _change(tree: Any, paths: list[tuple[Any, ...]], random: Random) -> None:
    *above, name = random.choice(paths)
    holder = _at(tree, tuple(above))
    value, way = holder[name], random.randrange(6)
    if way == 0:
        holder.pop(name)
    elif way == 1 and isinstance(holder, list):
        holder.insert(name, copy.deepcopy(value))
    elif way == 2:
        holder[name] = copy.deepcopy(_at(tree, random.choice(paths)))
    elif way == 3 and isinstance(value, int):
        holder[name] = value + random.choice((-1, 1, 12, -12, 100))
    elif way == 4 and isinstance(value, str):
        holder[name] = value + random.choice(_ENDS)
    else:
        holder[name] = random.choice(_ODD)
