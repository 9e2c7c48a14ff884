"""Learns what speaks for a line being the name of a section, from our own sheets.

    python -m tests.interchange.names_table           how well lines of unseen files are told apart
    python -m tests.interchange.names_table --write   the same, and writes the tables

A line that could begin with a name is one if the chart that a musician would make of the sheet has
a section of that name.  The weights are learnt by ``log_odds.py``.
"""

import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from chartkit.interchange.text.lines import line_of
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.own_names import name_evidence
from chartkit.interchange.text.own_names.name_evidence import NameEvidence
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.vocabulary.note_names import naming_of
from chartkit.syntax.symbol import chord_or_none
from tests.interchange.log_odds import Case, table, weights_of
from tests.interchange.typed_sheets import FOLDER, TypedSheet, expected_parts, plain_letters
from tests.interchange.typed_sheets import read_sheets as sheets_of
from tests.interchange.unseen_words import one_name

_FOLDER = Path(name_evidence.__file__).parent
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
    within: Sequence[str] | None
    """The evidence for a line within a block where a name or a remark is due; None for others."""
    typed: bool = True
    """Whether the sheet stands as its author typed it."""


def samples_of(sheet: TypedSheet) -> list[Sample]:
    """The lines of a sheet that could begin with the name of a section."""
    if sheet.expected.strip() == "REFUSED":
        return []
    named = {plain_letters(part.name) for part in expected_parts(sheet.expected)[1]}
    lines = [line_of(at, text).text for at, text in enumerate(sheet.text.split("\n"), 1)]
    evidence = NameEvidence(lines, TokenReader(chord_or_none, naming_of(lines)).is_chords)
    return [
        Sample(
            lines[at],
            evidence.evidence(at),
            not {letters, f"verse{letters}"}.isdisjoint(named),
            evidence.evidence_within(at) if evidence.is_within(at) else None,
        )
        for at, shape in enumerate(evidence.shapes)
        if shape is not None and (letters := plain_letters(shape.name))
    ]


def by_file(paths: Sequence[Path]) -> dict[str, list[Sample]]:
    """The lines of each file of sheets; those within blocks also of these sheets closed up with one
    invented name."""
    return {
        path.name: [
            one._replace(typed=other is sheet)
            for sheet in sheets_of(path)
            for other in (sheet, _closed_up(sheet))
            if other is not None
            for one in samples_of(other)
            if one.within is not None or other is sheet
        ]
        for path in paths
    }


def _closed_up(sheet: TypedSheet) -> TypedSheet | None:
    """A sheet with an invented name for one of its sections and without the empty lines between
    them, as many are typed on telephones; None where it has few sections."""
    other = one_name(sheet) if sheet.expected.strip() != "REFUSED" else None
    if other is None:
        return None
    lines = other.text.split("\n")
    begun = next((at for at, line in enumerate(lines) if heading_of(line.strip())), len(lines))
    kept = [line for at, line in enumerate(lines) if at < begun or line.strip()]
    return replace(other, text="\n".join(kept) + "\n") if len(kept) < len(lines) - 1 else None


def learnt(samples: Sequence[Sample]) -> tuple[dict[str, float], dict[str, float]]:
    """The weights for lines anywhere, and for those within blocks, that of every line under ""."""
    anywhere: list[Case] = [(one.evidence, one.is_name) for one in samples if one.typed]
    within: list[Case] = [(one.within, one.is_name) for one in samples if one.within is not None]
    return weights_of(anywhere), weights_of(within)


def odds_of(sample: Sample, weights: tuple[dict[str, float], dict[str, float]]) -> float:
    """The logarithm of the odds that a line is a name."""
    own = weights[sample.within is not None]
    return own[""] + sum(own.get(one, 0.0) for one in sample.within or sample.evidence)


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
        for name, weights in zip(name_evidence.TABLES, learnt(taught), strict=True):
            (_FOLDER / name).write_text(table(weights, _HEAD), encoding="utf-8")
