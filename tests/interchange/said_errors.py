"""How many lines of sheets are sung that are said, or said that are sung: by the rules alone, by
what the words tell alone, and by both.

    python -m tests.interchange.said_errors FILE...
"""

import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import NamedTuple
from unittest.mock import patch

from chartkit.interchange.intake_result import Refused
from chartkit.interchange.text.classifying import neighbours, sung_or_said
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import (
    TypedSheet,
    expected_parts,
    parts_of,
    plain_letters,
    read_sheets,
)

_FEWEST_LETTERS = 4
_ALONE = 2.0
"""The odds from which a line is said where nothing but its words is asked."""


class Count(NamedTuple):
    """Lines said and sung, and how many of each were taken for the other."""

    said: int
    said_wrongly: int
    sung: int
    sung_wrongly: int


def count_of(sheet: TypedSheet) -> Count:
    """The lines of a sheet, by its expected chart and by ours."""
    if sheet.expected.strip() == "REFUSED":
        return Count(0, 0, 0, 0)
    try:
        ours = parts_of(taken(sheet.text).chart)
    except Refused:
        return Count(0, 0, 0, 0)
    theirs = expected_parts(sheet.expected)[1]
    words, our_words = (" ".join(part.words for part in parts) for parts in (theirs, ours))
    cues, our_cues = (
        " ".join(plain_letters(cue) for part in parts for cue in part.cues)
        for parts in (theirs, ours)
    )
    lines = {
        plain
        for line in sheet.text.splitlines()
        if len(plain := plain_letters(line)) >= _FEWEST_LETTERS
    }
    sung = {line for line in lines if line in words}
    said = {line for line in lines - sung if line in cues}
    return Count(
        len(said),
        sum(line in our_words for line in lines - sung),
        len(sung),
        sum(line in our_cues and line not in our_words for line in sung),
    )


@contextmanager
def _rules_alone() -> Iterator[None]:
    with (
        patch.object(sung_or_said, "sounds_said", lambda _: 0.0),
        patch.object(sung_or_said.SungOrSaid, "is_said_apart", lambda *_: False),
    ):
        yield


@contextmanager
def _words_alone() -> Iterator[None]:
    def is_said(self: sung_or_said.SungOrSaid, at: int) -> bool:
        return sounds_said(self.known[at].line.text.strip()) >= _ALONE

    names = ("is_said", "is_said_apart")
    with ExitStack() as stack:
        for name in names:
            stack.enter_context(patch.object(sung_or_said.SungOrSaid, name, is_said))
        stack.enter_context(
            patch.object(neighbours._Neighbours, "_said", lambda _, at, one, *more: one.kind)
        )
        yield


@contextmanager
def _both() -> Iterator[None]:
    yield


if __name__ == "__main__":
    for path in sys.argv[1:]:
        print(path)
        for name, way in (("rules", _rules_alone), ("words", _words_alone), ("both", _both)):
            with way():
                counts = [count_of(sheet) for sheet in read_sheets(Path(path))]
            total = Count(*map(sum, zip(*counts, strict=True)))
            print(f"  {name:6}", *(f"{key} {value}" for key, value in total._asdict().items()))
