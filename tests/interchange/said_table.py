"""Learns which words are said to the players and which are sung, from our own sheets and lines.

    python -m tests.interchange.said_table            how well lines of unseen files are told apart
    python -m tests.interchange.said_table --write    the same, and writes the table

What is sung are the lines of the typed sheets that stand among the words of their charts, what is
said the cues of the charts; ``lines/`` has more of both in other languages.  Every second sheet of
``sheets_*`` is kept apart.  The weights are those of a logistic regression with a penalty on their
squares, found by steps that grow smaller (Duchi, Hazan and Singer 2011, from memory), always in the
same order.
"""

import math
import random
import re
import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from chartkit.interchange.text.vocabulary import sounds_said
from chartkit.interchange.text.vocabulary.sounds_said import features_of
from tests.interchange.log_odds import table
from tests.interchange.typed_sheets import FOLDER, TypedSheet, read_sheets

_LINES = Path(__file__).parent / "lines"
_TABLE = Path(sounds_said.__file__).with_name("said_words.txt")
_CUE = re.compile(r"^! (.+)$", re.MULTILINE)
_SUNG = re.compile(r"^: (.+)$", re.MULTILINE)
_TITLE = re.compile(r"^title: (.+)$", re.MULTILINE)
_WORD = re.compile(r"[^\W_]+")
_ANSWER = re.compile(r"(?<=\S )\(([^()]+)\)")
"""What a choir answers on the line of the words."""
_FEWEST_LETTERS = 3
_ROUNDS, _STEP, _PENALTY = 12, 0.3, 0.02
_FEWEST_SEEN = 2
_FOLDS = 6
_HEAD = """\
# How much words sound as if said to the players and not sung: weights, and what has them. ^ stands
# before the first word of a line, 0 for figures, <> for every line, <3> for three words, <.> for a
# sign. Source: learnt from our own invented sheets by tests/interchange/said_table.py.
"""


class Sample(NamedTuple):
    """A line, and whether it is said."""

    text: str
    said: bool


def _in_words(text: str) -> str:
    """The words of a text without case and signs, blanks around each."""
    return f" {' '.join(_WORD.findall(text.casefold()))} "


def samples_of(sheet: TypedSheet) -> list[Sample]:
    """The lines of a sheet that its chart has among the words, the answers on them, and the cues
    of the chart."""
    sung = _in_words(" ".join(_SUNG.findall(sheet.expected)))
    title = _in_words("".join(_TITLE.findall(sheet.expected)))
    lines = dict.fromkeys(line.strip() for line in sheet.text.splitlines())
    found = [
        Sample(line, said=False)
        for line in lines
        if len(plain := _in_words(line)) >= _FEWEST_LETTERS + 2 and plain in sung and plain != title
    ]
    answers = (answer for one in found for answer in _ANSWER.findall(one.text))
    found += [Sample(answer, said=False) for answer in dict.fromkeys(answers)]
    return [
        *found,
        *(Sample(cue, said=True) for cue in dict.fromkeys(_CUE.findall(sheet.expected))),
    ]


def own_lines() -> list[Sample]:
    """The lines that stand in no sheet."""
    return [
        Sample(line, said)
        for name, said in (("said", True), ("sung", False))
        for line in (_LINES / f"{name}.txt").read_text(encoding="utf-8").splitlines()
        if line and not line.startswith("#")
    ]


def by_file() -> dict[str, list[Sample]]:
    """The lines of each file of sheets, those kept apart under their own name."""
    found: dict[str, list[Sample]] = defaultdict(list)
    at = 0
    for path in sorted(FOLDER.glob("*.txt")):
        for sheet in read_sheets(path):
            apart = path.name.startswith("sheets_") and at % 2 == 1
            at += path.name.startswith("sheets_")
            found["kept apart" if apart else path.name] += samples_of(sheet)
    return found


def learnt(samples: Iterable[Sample]) -> dict[str, float]:
    """The weights, that of every line under ""."""
    known = [(sorted(features_of(text)), said) for text, said in samples]
    seen = Counter(name for names, _ in known for name in names)
    known = [(["", *(n for n in names if seen[n] >= _FEWEST_SEEN)], said) for names, said in known]
    weights: dict[str, float] = defaultdict(float)
    steps: dict[str, float] = defaultdict(lambda: 1.0)
    order, chance = list(range(len(known))), random.Random(1)
    for _ in range(_ROUNDS):
        chance.shuffle(order)
        for names, said in (known[at] for at in order):
            odds = sum(weights[name] for name in names)
            apart = 1 / (1 + math.exp(-odds)) - said
            for name in names:
                slope = apart + (_PENALTY * weights[name] if name else 0.0)
                steps[name] += slope * slope
                weights[name] -= _STEP * slope / math.sqrt(steps[name])
    return weights


def odds_of(text: str, weights: dict[str, float]) -> float:
    """The logarithm of the odds that a line is said."""
    return weights[""] + sum(weights.get(name, 0.0) for name in sorted(features_of(text)))


def _told_apart(pairs: Sequence[tuple[float, bool]]) -> str:
    """The share of errors at even odds, and how many said lines are found where one sung line
    in a hundred is taken for one."""
    wrong = sum((odds > 0) != said for odds, said in pairs) / len(pairs)
    sung = sorted((odds for odds, said in pairs if not said), reverse=True)
    bound = sung[len(sung) // 100]
    said = [odds for odds, said in pairs if said]
    found = sum(odds > bound for odds in said) / len(said)
    return f"{wrong:.1%} of {len(pairs)} lines wrong; {found:.0%} of those said, at 1 in 100 sung"


def _report(files: dict[str, list[Sample]]) -> None:
    names = [name for name in files if name != "kept apart"]
    pairs: list[tuple[float, bool]] = []
    for fold in range(_FOLDS):
        unseen = set(names[fold::_FOLDS])
        weights = learnt(
            [*own_lines(), *(one for name in names if name not in unseen for one in files[name])]
        )
        pairs += [(odds_of(one.text, weights), one.said) for name in unseen for one in files[name]]
    print("files never seen:", _told_apart(pairs))
    weights = learnt([*own_lines(), *(one for name in names for one in files[name])])
    apart = [(odds_of(one.text, weights), one.said) for one in files["kept apart"]]
    print("sheets kept apart:", _told_apart(apart))


if __name__ == "__main__":
    every = by_file()
    _report(every)
    if "--write" in sys.argv:
        taught = [one for name, found in every.items() if name != "kept apart" for one in found]
        _TABLE.write_text(table(learnt([*own_lines(), *taught]), _HEAD), encoding="utf-8")
        print(f"{_TABLE.name}: {_TABLE.stat().st_size / 1000:.0f} kB")
