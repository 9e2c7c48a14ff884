"""Learns what speaks for words in parentheses beside a line of words being said to the players.

    python -m tests.interchange.tails_in_sheets           how well unseen files are told apart
    python -m tests.interchange.tails_in_sheets --write   the same, and writes the table

What stands beside a line is sung if the chart that a musician would make of the sheet has it among
its words, and said if the chart has the line without it.  What its words alone tell comes from
tables that were learnt without the file in which it stands.  The weights are learnt by
``log_odds.py``.
"""

import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations
from pathlib import Path
from typing import ClassVar, NamedTuple
from unittest.mock import patch

from chartkit.interchange.intake_result import Refused
from chartkit.interchange.text.classifying import beside_words, neighbours, tail_evidence
from chartkit.interchange.text.classifying.signed_remarks import Beside, remarks_beside
from chartkit.interchange.text.classifying.tail_evidence import Tail, TailEvidence
from tests.interchange.log_odds import table, weights_of
from tests.interchange.reading import taken
from tests.interchange.said_in_sheets import odds_unseen
from tests.interchange.typed_sheets import (
    FOLDER,
    TypedSheet,
    expected_parts,
    plain_letters,
    read_sheets,
)

_FOLDS = 6
_HEAD = """\
# How much a piece of evidence speaks for words in parentheses beside a line of words being said to
# the players: weights, and what has them. <> stands for all of them; tail_evidence.py says what the
# others mean. Source: learnt from our own invented sheets by tests/interchange/tails_in_sheets.py.
"""


class Sample(NamedTuple):
    """What stands beside a line of words, and whether it is said."""

    text: str
    evidence: Sequence[str]
    said: bool


class _Recorder(TailEvidence):
    """Keeps what was asked of the sheet that was looked at last."""

    asked: ClassVar[list[tuple[TailEvidence, Tail]]] = []

    def odds(self, tail: Tail) -> float:
        _Recorder.asked.append((self, tail))
        return super().odds(tail)


def samples_of(sheet: TypedSheet) -> Iterator[Sample]:
    """What stands in parentheses beside the words of a sheet."""
    if sheet.expected.strip() == "REFUSED":
        return
    _Recorder.asked.clear()
    try:
        with (
            patch.object(beside_words, "TailEvidence", _Recorder),
            patch.object(neighbours, "TailEvidence", _Recorder),
        ):
            taken(sheet.text)
    except Refused:
        return
    sung = "|".join(part.words for part in expected_parts(sheet.expected)[1])
    for evidence, tail in dict.fromkeys(_Recorder.asked):
        line = evidence.known[tail.at].words.text
        said = _said_below(line, tail, sung) if tail.below else _said_beside(line, tail, sung)
        if said is not None:
            text = f"{line.strip()} ({tail.beside.text})" if tail.below else line
            yield Sample(text, [*evidence.evidence(tail)], said)


def _said_below(line: str, tail: Tail, sung: str) -> bool | None:
    """Whether a line below another is said; None where the chart does not show it."""
    text = plain_letters(tail.beside.text)
    above = [plain_letters(one) for one in _without_some(line)]
    if any(one + text in sung for one in above):
        return False
    return True if any(one in sung for one in above) else None


def _said_beside(line: str, tail: Tail, sung: str) -> bool | None:
    """Whether what stands beside a line is said; None where the chart does not show it."""
    found = remarks_beside(line)
    for left in range(len(found) + 1):
        for out in combinations(found, left):
            if plain_letters(_without(line, out)) in sung:
                return tail.beside in out
    return None


def _without_some(line: str) -> Iterator[str]:
    """A line as it stands, without one of the things beside it, without two, and so on."""
    found = remarks_beside(line)
    return (_without(line, out) for n in range(len(found) + 1) for out in combinations(found, n))


def _without(line: str, out: Sequence[Beside]) -> str:
    for one in reversed(out):
        line = f"{line[: one.start]} {line[one.end :]}"
    return line


def by_file(paths: Sequence[Path]) -> dict[str, list[Sample]]:
    """What stands beside the words of each file of sheets."""
    found: dict[str, list[Sample]] = {}
    for unseen, weights in odds_unseen(paths):
        with patch.object(tail_evidence, "sounds_said", weights):
            for path in unseen:
                found[path.name] = [one for sheet in read_sheets(path) for one in samples_of(sheet)]
    return found


def learnt(samples: Sequence[Sample]) -> dict[str, float]:
    """The weights, that of every case under ""."""
    return weights_of([(one.evidence, one.said) for one in samples], penalty=1.0)


def _report(files: dict[str, list[Sample]]) -> None:
    wrong: dict[float, list[int]] = defaultdict(lambda: [0, 0])
    names = list(files)
    for fold in range(_FOLDS):
        unseen = names[fold::_FOLDS]
        weights = learnt([one for name in names if name not in unseen for one in files[name]])
        for one in (one for name in unseen for one in files[name]):
            odds = weights[""] + sum(weights.get(name, 0.0) for name in one.evidence)
            for bound in (-1.0, -0.5, 0.0, 0.5, 1.0):
                wrong[bound][one.said] += (odds > bound) != one.said
            if "-v" in sys.argv and (odds > 0) != one.said:
                print(f"{odds:5.1f} {'said' if one.said else 'sung'} {one.text}")
    every = [one for found in files.values() for one in found]
    print(f"{sum(one.said for one in every)} of {len(every)} are said")
    for bound, (falsely, missed) in wrong.items():
        print(f"odds above {bound}: {missed} said missed, {falsely} sung taken for said")


if __name__ == "__main__":
    every = by_file(sorted(FOLDER.glob("*.txt")))
    _report(every)
    if "--write" in sys.argv:
        text = table(learnt([one for found in every.values() for one in found]), _HEAD, 2)
        tail_evidence.TABLE.write_text(text, encoding="utf-8")
        print(f"{tail_evidence.TABLE.name}: {tail_evidence.TABLE.stat().st_size / 1000:.0f} kB")
