"""Learns what speaks for a line of words being said to the players, from our own sheets.

    python -m tests.interchange.said_in_sheets           how well unseen files are told apart
    python -m tests.interchange.said_in_sheets --write   the same, and writes the table

A line is sung if the chart that a musician would make of the sheet has it among its words.  What
its words alone tell comes from tables that were learnt without the file in which it stands.  The
weights are learnt by ``log_odds.py``.
"""

import re
import sys
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import NamedTuple
from unittest.mock import patch

from chartkit.interchange.intake_result import Refused
from chartkit.interchange.text.classifying import neighbours, said_evidence
from chartkit.interchange.text.classifying.said_evidence import SaidEvidence, outside
from chartkit.interchange.text.kinds.line_kinds import KnownLine
from chartkit.interchange.text.vocabulary.sounds_said import FEWEST_TO_TELL, SHORT, SUREST
from tests.interchange import said_table
from tests.interchange.log_odds import table, weights_of
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import (
    FOLDER,
    TypedSheet,
    expected_parts,
    plain_letters,
    read_sheets,
)

_FOLDS = 6
_BEFORE_WORDS = re.compile(r"\s*(?:\(?\d{1,2}[.):]\s+|[^\W\d_]{2,12}:\s+)")
"""The number of a verse, or who sings."""
_MUSIC = ("row", "bars", "named-row", "named-bars", "chords-among", "name", "name-with-chords")
_HEAD = """\
# How much a piece of evidence speaks for a line of words being said to the players: weights, and
# what has them. <> stands for every line; said_evidence.py says what the others mean. Source:
# learnt from our own invented sheets by tests/interchange/said_in_sheets.py.
"""


class Sample(NamedTuple):
    """A line of words, and whether it is said."""

    text: str
    evidence: Sequence[str]
    said: bool


class _Recorder(SaidEvidence):
    """Keeps the sheet that was looked at last."""

    last: SaidEvidence | None = None

    def __init__(self, known: Sequence[KnownLine]) -> None:
        super().__init__(known)
        _Recorder.last = self


def samples_of(sheet: TypedSheet) -> Iterator[Sample]:
    """The lines of a sheet that could be words, below the first line of its music."""
    if sheet.expected.strip() == "REFUSED":
        return
    _Recorder.last = None
    try:
        with patch.object(neighbours, "SaidEvidence", _Recorder):
            taken(sheet.text)
    except Refused:
        return
    parts = expected_parts(sheet.expected)[1]
    sung = "|".join(part.words for part in parts)
    names = {plain_letters(part.name) for part in parts}
    if (evidence := _Recorder.last) is None:
        return
    music = next((at for at, shape in enumerate(evidence.shapes) if shape in _MUSIC), len(sung))
    for at, shape in enumerate(evidence.shapes):
        text = outside(evidence.texts[at])
        if plain_letters(text) in names:
            continue  # which is decided elsewhere
        if at > music and shape in ("words", "aside") and len(plain_letters(text)) > 1:
            bare = _BEFORE_WORDS.sub("", text)
            is_sung = plain_letters(text) in sung or plain_letters(bare) in sung
            yield Sample(text, evidence.evidence(at), not is_sung)


def odds_unseen(paths: Sequence[Path]) -> Iterator[tuple[Sequence[Path], Callable[[str], float]]]:
    """A part of the files after the other, each with what words tell by tables that were learnt
    without it."""
    words = said_table.by_file()
    for fold in range(_FOLDS):
        unseen = paths[fold::_FOLDS]
        names = {path.name for path in unseen}
        others = (one for name, lines in words.items() if name not in names for one in lines)
        yield unseen, partial(_odds, weights=said_table.learnt([*said_table.own_lines(), *others]))


def by_file(paths: Sequence[Path]) -> dict[str, list[Sample]]:
    """The lines of each file of sheets."""
    found: dict[str, list[Sample]] = {}
    for unseen, odds in odds_unseen(paths):
        with patch.object(said_evidence, "sounds_said", odds):
            for path in unseen:
                found[path.name] = [one for sheet in read_sheets(path) for one in samples_of(sheet)]
    return found


def _odds(text: str, weights: dict[str, float]) -> float:
    odds = said_table.odds_of(text, weights) - SHORT * (len(text.split()) < FEWEST_TO_TELL)
    return max(-SUREST, min(SUREST, odds))


def learnt(samples: Sequence[Sample]) -> dict[str, float]:
    """The weights, that of every line under ""."""
    return weights_of([(one.evidence, one.said) for one in samples], penalty=2.0)


def _report(files: dict[str, list[Sample]]) -> None:
    wrong: dict[float, list[int]] = defaultdict(lambda: [0, 0])
    names = list(files)
    for fold in range(_FOLDS):
        unseen = names[fold::_FOLDS]
        weights = learnt([one for name in names if name not in unseen for one in files[name]])
        for one in (one for name in unseen for one in files[name]):
            odds = weights[""] + sum(weights.get(name, 0.0) for name in one.evidence)
            for bound in (-1.0, -0.5, 0.0, 0.5):
                wrong[bound][one.said] += (odds > bound) != one.said
    lines = [one for found in files.values() for one in found]
    print(f"{sum(one.said for one in lines)} of {len(lines)} lines are said")
    for bound, (falsely, missed) in wrong.items():
        print(f"odds above {bound}: {missed} said lines missed, {falsely} sung ones taken for said")


if __name__ == "__main__":
    every = by_file(sorted(FOLDER.glob("*.txt")))
    _report(every)
    if "--write" in sys.argv:
        text = table(learnt([one for found in every.values() for one in found]), _HEAD, 2)
        said_evidence.TABLE.write_text(text, encoding="utf-8")
        print(f"{said_evidence.TABLE.name}: {said_evidence.TABLE.stat().st_size / 1000:.0f} kB")
