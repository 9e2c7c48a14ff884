"""Learns what speaks for a line being the name of a section, from our own sheets.

    python -m tests.interchange.names_table           how well lines of unseen files are told apart
    python -m tests.interchange.names_table --write   the same, and writes the table

A line that could begin with a name is one if the chart that a musician would make of the sheet has
a section of that name.  The weights are learnt by ``log_odds.py``.
"""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from chartkit.interchange.text.lines import line_of
from chartkit.interchange.text.own_names import name_evidence
from chartkit.interchange.text.own_names.name_evidence import NameEvidence
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.vocabulary.note_names import naming_of
from chartkit.syntax.symbol import chord_or_none
from tests.interchange.log_odds import Case, table, weights_of
from tests.interchange.typed_sheets import FOLDER, TypedSheet, expected_parts, plain_letters
from tests.interchange.typed_sheets import read_sheets as sheets_of

_TABLE = Path(name_evidence.__file__).with_name("name_evidence.txt")
_FOLDS = 6
_HEAD = """\
# How much a piece of evidence speaks for a line being the name of a section: weights, and what has
# them. <> stands for every line; name_evidence.py says what the others mean. Source: learnt from
# our own invented sheets by tests/interchange/names_table.py.
"""


class Sample(NamedTuple):
    """A line that could be a name, and whether it is one."""

    text: str
    evidence: Sequence[str]
    is_name: bool


def samples_of(sheet: TypedSheet) -> list[Sample]:
    """The lines of a sheet that could begin with the name of a section."""
    if sheet.expected.strip() == "REFUSED":
        return []
    named = {plain_letters(part.name) for part in expected_parts(sheet.expected)[1]}
    lines = [line_of(at, text).text for at, text in enumerate(sheet.text.split("\n"), 1)]
    evidence = NameEvidence(lines, TokenReader(chord_or_none, naming_of(lines)).is_chords)
    return [
        Sample(lines[at], evidence.evidence(at), not {letters, f"verse{letters}"}.isdisjoint(named))
        for at, shape in enumerate(evidence.shapes)
        if shape is not None and (letters := plain_letters(shape.name))
    ]


def by_file(paths: Sequence[Path]) -> dict[str, list[Sample]]:
    """The lines of each file of sheets."""
    return {
        path.name: [one for sheet in sheets_of(path) for one in samples_of(sheet)] for path in paths
    }


def learnt(samples: Sequence[Sample]) -> dict[str, float]:
    """The weights, that of every line under ""."""
    cases: list[Case] = [(one.evidence, one.is_name) for one in samples]
    return weights_of(cases)


def odds_of(sample: Sample, weights: dict[str, float]) -> float:
    """The logarithm of the odds that a line is a name."""
    return weights[""] + sum(weights.get(one, 0.0) for one in sample.evidence)


def _told_apart(pairs: Sequence[tuple[float, bool]], bound: float) -> str:
    found = sum(odds > bound and named for odds, named in pairs)
    wrong = sum(odds > bound and not named for odds, named in pairs)
    names = sum(named for _, named in pairs)
    return f"{found} of {names} names found, {wrong} of {len(pairs) - names} others taken for names"


def _report(files: dict[str, list[Sample]]) -> None:
    names = list(files)
    pairs: list[tuple[float, bool]] = []
    for fold in range(_FOLDS):
        unseen = set(names[fold::_FOLDS])
        weights = learnt([one for name in names if name not in unseen for one in files[name]])
        pairs += [(odds_of(one, weights), one.is_name) for name in unseen for one in files[name]]
    for bound in (0.0, 1.0, 2.0):
        print(f"files never seen, odds above {bound}:", _told_apart(pairs, bound))


if __name__ == "__main__":
    every = by_file(sorted(FOLDER.glob("*.txt")))
    _report(every)
    if "--write" in sys.argv:
        taught = [one for found in every.values() for one in found]
        _TABLE.write_text(table(learnt(taught), _HEAD), encoding="utf-8")
        print(f"{_TABLE.name}: {_TABLE.stat().st_size / 1000:.0f} kB")
