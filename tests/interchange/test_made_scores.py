"""Made-up lead sheets, compared with the songs that they were made from.

The songs are made first, the XML after them, and neither knows the product; what a song asks of its
chart is common practice, no source.
"""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.interchange.made_scores.__main__ import SHARES, faults_of, made
from tests.interchange.made_scores.truth import faults
from tests.interchange.reading import taken

KEPT = 100
"""Scores that every run reads."""
MOST_ROWS = 4
"""The most of these whose rows may begin elsewhere than their phrases."""
_OF_ROWS = ("row", "row begins in a phrase", "upbeat")


def _kinds(seed: str) -> dict[str, str]:
    """The first fault of each class."""
    return {one.partition(":")[0]: one for one in reversed(faults_of(seed))}


def test_made_scores_are_read_as_they_were_made() -> None:
    """Chords, words, form, key and head of all are right, and the rows of nearly all."""
    found = {f"kept:{number}": _kinds(f"kept:{number}") for number in range(KEPT)}
    rows = {seed for seed, kinds in found.items() if kinds.keys() & set(_OF_ROWS)}
    other = {
        seed: [fault for kind, fault in kinds.items() if kind not in _OF_ROWS]
        for seed, kinds in found.items()
    }
    assert {seed: wrong for seed, wrong in other.items() if wrong} == {}
    assert len(rows) <= MOST_ROWS, sorted(rows)


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_no_made_score_loses_anything(seed: int) -> None:
    """Any made-up score is read into a chart that reads back, and no chord, syllable or remark of
    it is lost."""
    asked = (*SHARES["every chord right and at its place"], "words", "verses", "lost", "check")
    assert [fault for kind, fault in _kinds(str(seed)).items() if kind in asked] == []


def test_a_seed_makes_one_score() -> None:
    """The same seed makes the same file, another one another."""
    assert made("kept:3")[2] == made("kept:3")[2] != made("kept:4")[2]


@pytest.mark.parametrize(
    ("pattern", "instead", "kind"),
    [
        (r"<harmony>.*?</harmony>", "", "chords"),
        (r"<root-step>.</root-step>", "<root-step>X</root-step>", "chord"),
        (r"<text>\w+", "<text>other", "words"),
        (r'<repeat direction="backward"[^>]*/>', "", "repeat"),
        (r"<per-minute>\d+", "<per-minute>30", "tempo"),
        (r"<rehearsal>.*?</rehearsal>", "<rehearsal>Elsewhere</rehearsal>", "sections"),
    ],
)
def test_the_judge_sees_what_is_wrong(pattern: str, instead: str, kind: str) -> None:
    """A score in which one thing is changed is no longer right, and the fault has its class."""
    for number in range(KEPT):
        song, style, data = made(f"kept:{number}")
        plain = not style.packed and style.encoding == "utf-8" and not style.namespace
        if plain and style.mode == "right" and not faults_of(f"kept:{number}"):
            text = re.sub(pattern, instead, data.decode(), count=1)
            if text != data.decode():
                result = taken(text)
                assert kind in {one.partition(":")[0] for one in faults(song, style, result)}
                return
    raise AssertionError(f"no score has {pattern}")
