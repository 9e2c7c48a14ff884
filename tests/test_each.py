"""A test over many cases reports every case that fails."""

import pytest

from tests.each import ONLY, each


def test_every_case_runs_and_every_failure_is_named() -> None:
    """The cases behind a failure run too; the report has each failed case's name and reason."""
    tried: list[tuple[int, str]] = []

    @each("number", range(4), ids="no {}".format)
    @each("sign, meaning", [("b", "flat"), ("#", "sharp")])
    def claim(number: int, sign: str, meaning: str) -> None:
        tried.append((number, sign))
        assert (number, meaning) not in ((1, "sharp"), (3, "flat")), "out of tune"
        assert number != 2 or [][number]

    with pytest.raises(AssertionError, match=r"^3 of 4 cases fail\n") as report:
        claim()
    assert tried == [(number, sign) for number in range(4) for sign in "b#"]
    lines = str(report.value)
    for words in ("[no 1]", "['#', 'sharp']", "[no 2]", "IndexError", "[no 3]", "out of tune"):
        assert words in lines, words
    assert "[no 0]" not in lines
    assert lines.count("line ") == 4, lines  # one of them in both turns


def test_fixtures_are_asked_for_and_no_cases_are_refused() -> None:
    """What is no case's value stays a fixture for pytest; a test over nothing is a mistake."""

    @each("number", [1, 2])
    def claim(number: int, given: list[int]) -> None:
        given.append(number)

    given: list[int] = []
    claim(given=given)
    assert given == [1, 2]
    with pytest.raises(AssertionError, match="claims nothing"):
        each("number", [])


def test_a_few_cases_can_be_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """With ``CHARTKIT_CASE`` only cases whose name has its words run."""
    monkeypatch.setenv(ONLY, "low tide")
    tried: list[str] = []

    @each("words", ["high tide", "the low tide", "low"])
    def claim(words: str) -> None:
        tried.append(words)

    claim()
    assert tried == ["the low tide"]
